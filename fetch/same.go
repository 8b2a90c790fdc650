package fetch

import (
	"slices"
	"strings"

	"foreply/fetch/pgn"
)

// The same game twice. Two collections spell names, events and dates in their
// own ways, and one may lack the end of a game; so moves decide, and tags say how
// many of them it takes. The danger is on the other side: a draw agreed after
// ten moves, or a trap that works twice against the same player, are different
// games with the same moves. How long the common part must be:
//
//	tags prove the occasion (start time, link, or day with round)          1
//	the same full day                                                     12
//	dates agree as far as given                                           24
//	a date is missing, or they are within three weeks                     30
//	tags exclude the occasion (times, links, rounds or years differ)      50
//
//	and in addition
//	a draw or an unknown result, unless the day is the same              +16
//	the other player is spelled nearly alike, or not named               +10
//	the other player has quite another name (a handle, say)              +40
//	one game is the beginning of the other (it lacks its end)            +20
//
// One game is the beginning of the other only if their results agree or the
// shorter has none; with different results it takes a proven occasion. Games
// whose moves part ways are one game, entered by two hands, only if the
// occasion is proven, the results agree and the common part is at least 40
// half-moves and half of the shorter game. Calibrated on two careers of 1,645
// and 1,465 games over the board, in which no two different games between the
// same players have the same moves, and in which two games of one match have the
// first 43 half-moves in common.
const (
	pliesProven   = 1
	pliesSameDay  = 12
	pliesAgreeing = 24
	pliesUndated  = 30
	pliesExcluded = 50

	pliesDraw       = 16
	pliesNearName   = 10
	pliesOtherName  = 40
	pliesBeginning  = 20
	pliesTwoHands   = 40
	pliesBucket     = pliesSameDay // games with fewer in common meet only if equal, or by their link
	proofBeginnings = 20           // of a beginning with another result
)

// entry is a game with what the comparison needs of it.
type entry struct {
	game  *pgn.Game
	group string // only games of one group are compared: the player's side
	white bool   // the player's side
	moves string // folded, a space behind each
	rival spelled
	id    string // FIDE number of the rival
}

func newEntry(game *pgn.Game, white bool) *entry {
	e := &entry{game: game, white: white, group: "black", moves: foldMoves(game.Moves)}
	if white {
		e.group = "white"
	}
	e.readTags()
	return e
}

func (e *entry) readTags() {
	rival := "White"
	if e.white {
		rival = "Black"
	}
	e.rival = spell(e.game.Tags.Get(rival))
	e.id = foldID(e.game.Tags.Get(rival + "FideId"))
}

// result takes the tag unless it says nothing; then the termination marker.
func (e *entry) result() string {
	if tag := e.game.Tags.Get("Result"); !unknownTag(tag) {
		return strings.TrimSpace(tag)
	}
	return strings.Trim(e.game.Termination, "*")
}

// foldMoves reduces each move to piece, target square and promotion, so that
// Nbd7, Nb8-d7 and Nd7+ agree. What it can't reduce stays as it is.
func foldMoves(moves []pgn.Move) string {
	var out strings.Builder
	out.Grow(len(moves) * 4)
	for i := range moves {
		foldMove(&out, moves[i].SAN)
		out.WriteByte(' ')
	}
	return out.String()
}

func foldMove(out *strings.Builder, san []byte) {
	if len(san) > 0 && (san[0] == 'O' || san[0] == '0' || san[0] == 'o') {
		foldCastling(out, san)
		return
	}
	square := lastSquare(san)
	if square < 0 {
		out.Write(san)
		return
	}
	if san[0] >= 'A' && san[0] <= 'Z' && san[0] != 'P' {
		out.WriteByte(san[0])
	}
	out.Write(san[square : square+2])
	for _, c := range san[square+2:] {
		if strings.IndexByte("QRBNqrbn", c) >= 0 {
			out.WriteByte(c &^ 0x20)
		}
	}
}

func foldCastling(out *strings.Builder, san []byte) {
	for _, c := range san {
		switch c {
		case 'O', '0', 'o':
			out.WriteByte('O')
		}
	}
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

func plies(moves string) int { return strings.Count(moves, " ") }

// overlap is how the moves of two games compare.
type overlap struct {
	common    int  // half-moves from the start
	shorter   int  // half-moves of the shorter game
	identical bool // neither goes on
	beginning bool // one goes on where the other ends
}

func compareMoves(a, b string) overlap {
	if len(a) > len(b) {
		a, b = b, a
	}
	if strings.HasPrefix(b, a) {
		n := plies(a)
		return overlap{n, n, len(a) == len(b), len(a) < len(b)}
	}
	end := 0
	for i := 0; a[i] == b[i]; i++ {
		if a[i] == ' ' {
			end = i + 1
		}
	}
	return overlap{common: plies(a[:end]), shorter: plies(a)}
}

// sameGame reports whether two entries are one game, and how strong the
// evidence is, for choosing among several.
func (e *entry) sameGame(o *entry) (strength int, same bool) {
	moves := compareMoves(e.moves, o.moves)
	when, dates := occasion(e.game.Tags, o.game.Tags)
	results := resultsAgree(e, o)
	switch {
	case moves.identical:
	case moves.beginning && results != differs:
	case when != coincides:
		return 0, false
	case moves.beginning:
		if moves.common < proofBeginnings {
			return 0, false
		}
	case results == differs || moves.common < pliesTwoHands || 2*moves.common < moves.shorter:
		return 0, false
	}
	need := pliesFor(when, dates) + e.extraPlies(o, moves, when, dates)
	return 1000*int(when) + 100*int(dates) + min(99, moves.common), moves.common >= need
}

func pliesFor(when, dates agreement) int {
	switch {
	case when == coincides:
		return pliesProven
	case when == differs:
		return pliesExcluded
	case dates == coincides:
		return pliesSameDay
	case dates == agrees:
		return pliesAgreeing
	}
	return pliesUndated
}

func (e *entry) extraPlies(o *entry, moves overlap, when, dates agreement) int {
	extra := 0
	if when != coincides && dates != coincides && !(decided(e.result()) && decided(o.result())) {
		extra += pliesDraw
	}
	if moves.beginning && when != coincides {
		extra += pliesBeginning
	}
	switch e.rivalLike(o) {
	case sameName, otherOrder, initials:
	case nearName, sameSurname:
		extra += pliesNearName
	default:
		extra += pliesOtherName
	}
	return extra
}

// rivalLike compares the other players; a player not named may be anybody.
func (e *entry) rivalLike(o *entry) likeness {
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

func resultsAgree(e, o *entry) agreement {
	a, b := e.result(), o.result()
	switch {
	case a == "" || b == "":
		return unsaid
	case a == b:
		return coincides
	}
	return differs
}

// finder collects the player's games and finds those that are there already.
type finder struct {
	entries []*entry
	buckets map[string][]*entry // by group and first moves
	links   map[string][]*entry // by the game's own address
}

func newFinder() *finder {
	return &finder{buckets: map[string][]*entry{}, links: map[string][]*entry{}}
}

// bucket is the group and the first moves, all of them in a very short game.
func (e *entry) bucket() string {
	moves := e.moves
	end := 0
	for range pliesBucket {
		next := strings.IndexByte(moves[end:], ' ')
		if next < 0 {
			break
		}
		end += next + 1
	}
	return e.group + " " + moves[:end]
}

// find returns the entry that is the same game on the best evidence, the earlier
// one if two are equal, or nil.
func (f *finder) find(e *entry) *entry {
	var best *entry
	bestStrength := -1
	for _, old := range slices.Concat(f.buckets[e.bucket()], f.links[e.link()]) {
		if old.group != e.group {
			continue
		}
		if strength, same := old.sameGame(e); same && strength > bestStrength {
			best, bestStrength = old, strength
		}
	}
	return best
}

// link is the address of the game, or a key that nothing is filed under.
func (e *entry) link() string { return ownLink(e.game.Tags) }

func (f *finder) add(e *entry) {
	f.entries = append(f.entries, e)
	key := e.bucket()
	f.buckets[key] = append(f.buckets[key], e)
	if link := e.link(); link != "" {
		f.links[link] = append(f.links[link], e)
	}
}
