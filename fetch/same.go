package fetch

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"foreply/fetch/pgn"
)

// The same game twice. Two collections spell names, events and dates in their
// own ways, and one may lack the end of a game; so moves decide, and tags say how
// many of them it takes. The danger is on the other side: a draw agreed after
// ten moves, or a trap that works twice against the same player, are different
// games with the same moves. One collection has both of them, but seldom one game
// twice; so it takes more in one file than between two, and a game of one file
// that has its partner in another is not taken for another's as well. How many
// half-moves the common part must have:
//
//	                                                        one file  two files
//	tags prove the occasion (start time, link, or day with round)   1          1
//	the same day with a round in one of them, or dates that agree
//	or are near with one round                                     12          4
//	the same day, or dates that agree as far as given              20         12
//	a date is missing, or they are within three weeks              30         20
//	tags exclude the occasion (times, links, rounds or years)      50         50
//
//	and the first two in addition only from the third line on
//	a draw or an unknown result                           40 at least 30 at least
//	the other player is spelled nearly alike, or not named         +5         +2
//	the other player has quite another name (a handle, say)       +40        +40
//	one game is the beginning of the other (it lacks its end)     +20        +20
//	it lacks no more than ten half-moves and a fifth              +20         +4
//
// One game is the beginning of the other only if their results agree or the
// shorter has none; with different results it takes a proven occasion or 70
// half-moves. Games whose moves part ways are one game, entered by two hands, only
// if the occasion is proven, the results agree and what they have in common from
// the start and to the end is at least 40 half-moves and half of the shorter game; or
// if it is nine tenths of the longer one, the other player is the same, the results are
// equal, and so is the day (or the next), or the year with event or round; from 70
// half-moves on the year is enough. With fewer half-moves, with a surname alone, with two
// moves of each side left out, or where besides one game lacks its end, that is only
// reported.
// What is equal but too short is counted twice and reported, from as many half-moves
// on as make one game on the same day, or if it is the same to the letter.
//
// Calibrated on two careers of 1,645 and 1,465 games over the board: no two
// different games of them have the same moves beyond the first; two games of one
// match have the first 43 half-moves in common. Command pairs measures it.
const (
	pliesProven   = 1
	pliesExcluded = 50

	pliesOtherName  = 40
	pliesBeginning  = 20
	pliesTwoHands   = 40
	proofBeginnings = 20 // of a beginning with another result
	sureBeginnings  = 70 // the same without proof

	fewMissing = 10 // half-moves that a beginning with nearly all of a game lacks
)

// demand is what differs between one file and two.
type demand struct{ close, agreeing, undated, draw, nearName, nearlyAll int }

var (
	inOneFile  = demand{12, 20, 30, 40, 5, pliesBeginning}
	inTwoFiles = demand{4, 12, 20, 30, 2, 4}
)

// gameCopy is a game as one file has it, with what the comparison needs of it.
type gameCopy struct {
	game  *pgn.Game
	order int    // of arrival
	group string // only games of one group are compared: the player's side
	white bool   // the player's side
	moves string // the squares moved to, a space behind each; see folded
	kinds string // the pieces moved, a letter each
	when  evidence
	score string // the result; empty if unknown
	rival spelled
	id    string // FIDE number of the rival
	// season is the year and the start of the rival's surname; empty when not known.
	season string
	files  []string // that have it
	looked int      // by which search it was compared last
}

func newCopy(game *pgn.Game, white bool) *gameCopy {
	f := foldMoves(game.Moves)
	e := &gameCopy{game: game, white: white, group: "black", moves: f.squares, kinds: f.pieces, files: []string{game.File}}
	if white {
		e.group = "white"
	}
	e.readTags()
	return e
}

func (e *gameCopy) readTags() {
	e.when = readEvidence(e.game.Header())
	e.score = e.game.Result()
	e.rival, e.id = spell(e.you().Name), e.you().ID
	e.season = ""
	if year := e.when.date.Year; year > 0 && !nameless(e.rival.folded) {
		last := e.rival.last()
		e.season = fmt.Sprintf("season %d %s", year, last[:min(len(last), 3)])
	}
}

// folded is the moves of a game in a form that is the same for all ways to write
// them: Nbd7, Nb8-d7, Nd7+ and b8d7.
type folded struct {
	squares string // where to, with what a pawn becomes; a space behind each
	pieces  string // which piece, a letter each; anyPiece where the text doesn't say
}

const anyPiece = '?'

// foldMoves folds moves of the usual game, White's first. What it can't fold stays
// as it is.
func foldMoves(moves []pgn.Move) folded {
	var squares, pieces strings.Builder
	squares.Grow(len(moves) * 3)
	pieces.Grow(len(moves))
	for i := range moves {
		pieces.WriteByte(foldMove(&squares, moves[i].SAN, i%2 == 1))
		squares.WriteByte(' ')
	}
	return folded{squares.String(), pieces.String()}
}

// foldMove writes where to and returns the piece.
func foldMove(out *strings.Builder, san []byte, black bool) (piece byte) {
	if len(san) > 0 && (san[0] == 'O' || san[0] == '0' || san[0] == 'o') && !bytes.Equal(san, []byte("0000")) {
		out.WriteString(castledTo(san, black))
		return 'K'
	}
	square := lastSquare(san)
	if square < 0 {
		out.Write(san)
		return anyPiece
	}
	out.Write(san[square : square+2])
	for _, c := range san[square+2:] {
		if strings.IndexByte("QRBNqrbn", c) >= 0 {
			out.WriteByte(c &^ 0x20)
		}
	}
	return pieceOf(san, square)
}

// castledTo is where the king goes.
func castledTo(san []byte, black bool) string {
	long := bytes.Count(san, []byte("-")) > 1
	switch {
	case long && black:
		return "c8"
	case long:
		return "c1"
	case black:
		return "g8"
	}
	return "g1"
}

// pieceOf reads the piece of a move whose last square stands at a place. Two
// squares alone, as in e2e4, may be of any piece.
func pieceOf(san []byte, square int) byte {
	switch c := san[0]; {
	case c == 'P':
		return c
	case c >= 'A' && c <= 'Z', strings.IndexByte("nrqk", c) >= 0:
		return c &^ 0x20
	case square >= 2 && san[1] >= '1' && san[1] <= '8':
		return anyPiece
	}
	return 'P'
}

// lastSquare is where the last square's name begins, or -1.
func lastSquare(san []byte) int {
	for i := len(san) - 2; i >= 0; i-- {
		if san[i] >= 'a' && san[i] <= 'h' && san[i+1] >= '1' && san[i+1] <= '8' {
			return i
		}
	}
	return -1
}

// overlap is how the moves of two games compare.
type overlap struct {
	common    int  // half-moves from the start
	shorter   int  // half-moves of the shorter game
	longer    int  // of the other
	identical bool // neither goes on
	beginning bool // one goes on where the other ends
}

// nearlyAll reports whether the shorter game, the beginning of the other, lacks
// little of it.
func (o overlap) nearlyAll() bool {
	missing := o.longer - o.shorter
	return missing <= fewMissing && 5*missing <= o.longer
}

func compareMoves(a, b folded) overlap {
	if len(a.squares) > len(b.squares) {
		a, b = b, a
	}
	o := overlap{common: commonPlies(a.squares, b.squares), shorter: len(a.pieces), longer: len(b.pieces)}
	for i := range o.common {
		if a.pieces[i] != b.pieces[i] && a.pieces[i] != anyPiece && b.pieces[i] != anyPiece {
			o.common = i
			return o
		}
	}
	whole := strings.HasPrefix(b.squares, a.squares)
	o.identical, o.beginning = whole && len(a.squares) == len(b.squares), whole && len(a.squares) < len(b.squares)
	return o
}

// commonPlies counts the half-moves that two games have in common from the start.
func commonPlies(a, b string) (n int) {
	for i := 0; i < min(len(a), len(b)) && a[i] == b[i]; i++ {
		if a[i] == ' ' {
			n++
		}
	}
	return n
}

// commonTail counts the half-moves that two games have in common to the end, so
// many at most.
func commonTail(a, b folded, most int) (n int) {
	x, y := a.squares, b.squares
	for n < most {
		i, j := strings.LastIndexByte(x[:len(x)-1], ' ')+1, strings.LastIndexByte(y[:len(y)-1], ' ')+1
		if x[i:] != y[j:] {
			break
		}
		x, y, n = x[:i], y[:j], n+1
	}
	return n
}

func (e *gameCopy) folded() folded { return folded{e.moves, e.kinds} }

// verdict of a comparison.
type verdict int

const (
	different verdict = iota
	undecided         // the same moves, and nothing speaks against it, but too few of them
	same
)

// compare says whether two copies are one game, and how strong the evidence
// is, for choosing among several.
func (e *gameCopy) compare(o *gameCopy) (verdict, int) {
	moves := compareMoves(e.folded(), o.folded())
	tags := compareOccasions(&e.when, &o.when)
	need := &inOneFile
	strength := 1000*int(tags.when) + 100*int(tags.dates) + min(99, moves.common)
	if !slices.ContainsFunc(o.files, func(file string) bool { return slices.Contains(e.files, file) }) {
		need = &inTwoFiles
		strength += 10_000
	}
	if !moves.identical && !e.mayDiffer(o, moves, tags) {
		return e.slipped(o, moves, tags), strength
	}
	like := e.rivalLike(o) // names take longest, and most pairs differ in their moves
	switch {
	case moves.common >= need.plies(e, o, tags)+need.extra(moves, tags, like):
		return same, strength
	case (moves.identical || moves.beginning && moves.nearlyAll()) && tags.when != differs && like != unlike && moves.common >= need.close,
		moves.identical && bytes.Equal(e.game.Text, o.game.Text): // to the letter
		return undecided, strength
	}
	return different, 0
}

// mayDiffer reports whether two games can be one although their moves are not
// the same: one lacks its end, or two hands wrote them down.
func (e *gameCopy) mayDiffer(o *gameCopy, moves overlap, tags occasion) bool {
	results := resultsAgree(e, o)
	switch {
	case moves.beginning && (results != differs || moves.common >= sureBeginnings):
		return true
	case tags.when != coincides:
		return false
	case moves.beginning:
		return moves.common >= proofBeginnings
	}
	alike := moves.common + commonTail(e.folded(), o.folded(), moves.shorter-moves.common)
	return results != differs && alike >= pliesTwoHands && 2*alike >= moves.shorter
}

// slipped reports whether two games that may be of one occasion have the same moves
// but for a slip.
func (e *gameCopy) slipped(o *gameCopy, moves overlap, tags occasion) verdict {
	if !tags.year || resultsAgree(e, o) != coincides {
		return different
	}
	alike := alikePlies(e.folded(), o.folded(), moves)
	whole := 10*alike >= 9*moves.longer
	nearly := (whole || moves.longer-alike <= fewAmiss) && alike >= inOneFile.close
	if lacksEnd := 10*alike >= 9*moves.shorter && alike >= pliesTwoHands; !nearly && !lacksEnd {
		return different
	}
	switch like := e.rivalLike(o); {
	case like == unlike:
		return different
	case whole && alike >= sureBeginnings && like >= nearName,
		whole && alike >= pliesTwoHands && tags.place && (like > nearName || like == nearName && tags.when >= agrees):
		return same
	}
	return undecided
}

// fewAmiss is how many half-moves a repetition of moves has, which some leave out.
const fewAmiss = 4

// alikePlies counts the half-moves that two games have in common from the start and
// to the end, or at the same place.
func alikePlies(a, b folded, moves overlap) int {
	bent := moves.common + commonTail(a, b, moves.shorter-moves.common)
	straight, x, y := 0, a.squares, b.squares
	for range moves.shorter {
		i, j := strings.IndexByte(x, ' '), strings.IndexByte(y, ' ')
		if x[:i] == y[:j] {
			straight++
		}
		x, y = x[i+1:], y[j+1:]
	}
	return max(bent, straight)
}

func (d *demand) plies(e, o *gameCopy, tags occasion) int {
	plies := d.undated
	switch {
	case tags.when == coincides:
		return pliesProven
	case tags.when == differs:
		return pliesExcluded
	case tags.close:
		return d.close
	case tags.dates >= agrees:
		plies = d.agreeing
	}
	if !decided(e.score) || !decided(o.score) {
		plies = max(plies, d.draw)
	}
	return plies
}

func (d *demand) extra(moves overlap, tags occasion, like likeness) int {
	extra := 0
	switch {
	case !moves.beginning || tags.when == coincides:
	case moves.nearlyAll():
		extra += d.nearlyAll
	default:
		extra += pliesBeginning
	}
	switch like {
	case sameName, otherOrder, initials:
	case nearName, sameSurname, partSurname:
		if !tags.close {
			extra += d.nearName
		}
	default:
		extra += pliesOtherName
	}
	return extra
}

// rivalLike compares the other players; a player not named may be anybody.
func (e *gameCopy) rivalLike(o *gameCopy) likeness {
	switch {
	case e.id != "" && e.id == o.id:
		return sameName
	case e.id != "" && o.id != "":
		return unlike
	case nameless(e.rival.folded) || nameless(o.rival.folded):
		return nearName
	}
	return e.rival.like(o.rival)
}
