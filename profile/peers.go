package profile

import (
	"cmp"
	"math"
	"slices"
	"sort"
	"sync"

	"foreply/fetch/pgn"
	"foreply/profile/board"
	"foreply/profile/peerbook"
)

// shortestGame is in plies; a shorter game tells nothing.
const shortestGame = 6

// Peers is what players like the opponent played, with either colour, by
// position, and from which day it is known: a book without the opponent's own
// games, seen through a choice of players. A move weighs the sum over its
// players of the square root of how often each played it: what one player repeats
// is one player's habit. With powers of 0.6 and 0.8 each of four careers was
// forecast better than by the plain count, with 0.2 and 0.4 three of them
// (cmd/measure/forecast/FIT.md).
type Peers struct {
	Games    int   // counted
	Own      int   // left out: the opponent's own games
	Undated  int   // left out: without a date none is certainly earlier
	Twice    int   // left out: the same moves stand in another of the games
	Unfit    int   // left out: another starting position, a null move or under 6 plies
	Filtered int   // left out when the book was made: other ratings, classes or days
	Span     Span  // of the counted games, from the earliest to the latest possible day
	Habits   Tally // of the players of the counted games, as far as the first 20 moves tell
	Like     Like  // which players
	Plies    int   // how deep the moves are known

	book   *peerbook.Book
	less   *peerbook.Less
	rows   []peerbook.Row // without the opponent's own games
	lasts  []peerbook.DayGames
	lock   sync.Mutex
	reader *peerbook.Reader
	seen   map[uint64][]peerMove
	whole  map[uint64][]peerMove // all days together
	err    error
}

// peerMove is how much a move weighs from the day after each of the days on, all
// earlier ones included.
type peerMove struct {
	move board.Move
	days []int32
	sums []uint64
}

// Like says which players count as peers: of ratings from Lo to Hi (0 and 0: all,
// unrated ones too), in games of a speed. The zero value is everybody.
type Like struct {
	Lo, Hi int
	Speed  string // as Class.Group has it; "" for all
}

func (l Like) band(b uint8) bool {
	if l == (Like{}) || l.Lo == 0 && l.Hi == 0 {
		return true
	}
	lo, _ := peerbook.BandRange(b)
	return b > 0 && lo <= l.Hi && b >= peerbook.BandOf(l.Lo)
}

func (l Like) class(c uint8) bool { return l.Speed == "" || Class(c).Group() == l.Speed }

// Own says by which names the opponent's own games are known in a book.
type Own struct {
	Names   []string                 // as the user has them
	Fold    func(name string) string // as in PeerOptions; nil if there are no Names
	Players []peerbook.Player        // as PeerIntake.Own found them
}

// OpenPeers opens a book for an opponent with this profile. Taken out are games of
// theirs, and games with the same moves as one of p's, whatever the names in them,
// unless the dates contradict each other. A book has only the last day that a date
// may mean, of which the year is sure.
func OpenPeers(book *peerbook.Book, p *Profile, theirs Own) (*Peers, error) {
	own := peerbook.Own{Players: theirs.Players}
	for _, name := range theirs.Names {
		own.Players = append(own.Players, playersOf(name, theirs.Fold)...)
	}
	var dates []pgn.Date
	for i := range p.Games {
		moves := p.Games[i].Moves
		if len(moves) >= shortestGame {
			own.Lines = append(own.Lines, moves[:min(len(moves), peerbook.Depth)])
			dates = append(dates, p.Games[i].Date)
		}
	}
	own.Fits = func(line int, day int32) bool {
		return !dates[line].Contradicts(pgn.Date{Year: pgn.Day(day).Date().Year})
	}
	less, err := book.Less(own)
	if err != nil {
		return nil, err
	}
	rows, err := book.Rows()
	if err != nil {
		return nil, err
	}
	about := book.About()
	out := &Peers{
		Own: len(less.Games), Undated: about.Undated, Twice: about.Twice, Unfit: about.Unfit, Filtered: about.Filtered,
		Span: Span{First: pgn.Day(about.First), Last: pgn.Day(about.Last)}, Plies: about.Plies,
		book: book, less: less, rows: withoutOwn(rows, less.Games),
	}
	out.look(Like{})
	return out, nil
}

// withoutOwn takes the opponent's games off the rows.
func withoutOwn(rows []peerbook.Row, own []peerbook.Game) []peerbook.Row {
	rows = slices.Clone(rows)
	for i := range rows {
		row := &rows[i]
		copied := false
		for k := range own {
			g := &own[k]
			if g.Class != row.Class || g.Bands() != row.Bands {
				continue
			}
			if !copied {
				row.Days, copied = slices.Clone(row.Days), true
			}
			at, found := slices.BinarySearchFunc(row.Days, g.Last, func(d peerbook.DayGames, day int32) int { return cmp.Compare(d.Day, day) })
			if found {
				row.Days[at].Games--
				row.Marks[g.Marks]--
			}
		}
	}
	return rows
}

// look chooses the players of fresh peers and counts their games.
func (p *Peers) look(like Like) {
	p.Like = like
	p.reader, p.seen, p.whole = p.book.Reader(), map[uint64][]peerMove{}, map[uint64][]peerMove{}
	sums := map[int32]int{}
	for i := range p.rows {
		row := &p.rows[i]
		sides := [2]bool{like.band(row.Bands[0]), like.band(row.Bands[1])}
		if !like.class(row.Class) || !sides[0] && !sides[1] {
			continue
		}
		for _, d := range row.Days {
			sums[d.Day] += d.Games
			p.Games += d.Games
		}
		for marks, n := range row.Marks {
			traits := traitsFrom(uint8(marks))
			for c, counts := range sides {
				if counts {
					p.Habits.enterEarly(&traits, board.Color(c), int(n))
				}
			}
		}
	}
	for day, games := range sums {
		if games > 0 {
			p.lasts = append(p.lasts, peerbook.DayGames{Day: day, Games: games})
		}
	}
	slices.SortFunc(p.lasts, func(a, b peerbook.DayGames) int { return cmp.Compare(a.Day, b.Day) })
	if len(p.lasts) > 0 {
		p.Span.Last = pgn.Day(p.lasts[len(p.lasts)-1].Day)
	}
}

// Before counts the peers' games that are certainly over before a game within
// when: those that its forecast rests on. If the day is not known, all are.
func (p *Peers) Before(when Span) int {
	n := 0
	for _, d := range p.lasts {
		if pgn.Day(d.Day) < firstDay(when) {
			n += d.Games
		}
	}
	return n
}

// EnoughPeers is how many games of players like the opponent are enough to leave
// the others aside.
const EnoughPeers = 10000

// nearness are how far a peer's rating may lie from the opponent's, in points.
var nearness = [...]int{100, 200, 400}

// Near returns the peers most like a player of a rating (0 unknown) in a game of
// a class (unknown for any): within 100 points and of the class's speed if enough
// games of them are over before when, else within 200 and 400, then of any speed,
// then everybody.
func (p *Peers) Near(rating int, class Class, when Span) *Peers {
	speeds := []string{""}
	if class != UnknownClass {
		speeds = []string{class.Group(), ""}
	}
	for _, speed := range speeds {
		ranges := []Like{{Speed: speed}}
		if rating > 0 {
			ranges = nil
			for _, by := range nearness {
				lo, _ := peerbook.BandRange(peerbook.BandOf(max(rating-by, 1)))
				_, hi := peerbook.BandRange(peerbook.BandOf(rating + by))
				ranges = append(ranges, Like{Lo: lo, Hi: hi - 1, Speed: speed})
			}
		}
		for _, like := range ranges {
			if like == (Like{}) {
				continue
			}
			if chosen := p.Of(like); chosen.Before(when) >= EnoughPeers {
				return chosen
			}
		}
	}
	return p.Of(Like{})
}

// Of returns the peers of a choice of players.
func (p *Peers) Of(like Like) *Peers {
	out := &Peers{
		Own: p.Own, Undated: p.Undated, Twice: p.Twice, Unfit: p.Unfit, Filtered: p.Filtered, Span: p.Span, Plies: p.Plies,
		book: p.book, less: p.less, rows: p.rows,
	}
	out.look(like)
	return out
}

// Err is the first error met in looking positions up; the forecast of a position
// that couldn't be read rests on no peers.
func (p *Peers) Err() error {
	if p == nil {
		return nil
	}
	p.lock.Lock()
	defer p.lock.Unlock()
	return p.err
}

// seenMost is how many positions are kept in memory.
const seenMost = 1 << 15

// firstDay is the earliest day of a game, later than all others if it is not known.
func firstDay(when Span) pgn.Day {
	if !when.Known() {
		return math.MaxInt32
	}
	return when.First
}

// count tells how much each move weighs at the position in games certainly over
// before the day.
func (p *Peers) count(key uint64, day pgn.Day, hand func(board.Move, float64)) {
	p.lock.Lock()
	defer p.lock.Unlock()
	seen := &p.seen
	if day > p.Span.Last { // all days are known
		seen = &p.whole
	}
	moves, known := (*seen)[key]
	if !known {
		moves = p.read(key, seen == &p.whole)
		if len(*seen) >= seenMost {
			clear(*seen)
		}
		(*seen)[key] = moves
	}
	for i := range moves {
		m := &moves[i]
		at := len(m.days)
		if seen == &p.seen {
			at = sort.Search(at, func(k int) bool { return pgn.Day(m.days[k]) >= day })
		}
		if at > 0 && m.sums[at-1] > 0 {
			hand(m.move, float64(m.sums[at-1])/peerbook.Unit)
		}
	}
}

// read looks a position up.
func (p *Peers) read(key uint64, whole bool) []peerMove {
	var out []peerMove
	for _, m := range p.moves(key, whole) {
		move := peerMove{move: m.Move}
		sum := uint64(0)
		for _, c := range m.Cells {
			if !p.Like.band(c.Band) || !p.Like.class(c.Class) {
				continue
			}
			sum += c.Weight
			if k := len(move.days); k > 0 && move.days[k-1] == c.Day {
				move.sums[k-1] = sum
			} else {
				move.days, move.sums = append(move.days, c.Day), append(move.sums, sum)
			}
		}
		if len(move.days) > 0 {
			out = append(out, move)
		}
	}
	return out
}

// moves are those of the book at a position without the opponent's own games; whole, all days
// together.
func (p *Peers) moves(key uint64, whole bool) []peerbook.Move {
	ask, less := p.reader.At, p.less.From
	if whole {
		ask, less = p.reader.Total, p.less.FromTotal
	}
	found, err := ask(key)
	if err != nil {
		p.fail(err)
		return nil
	}
	return less(key, found)
}

func (p *Peers) fail(err error) {
	if p.err == nil {
		p.err = err
	}
}

// Played is a move and what came of it.
type Played struct {
	Move board.Move
	Count
}

// Record counts the peers' games certainly over before when that went on from a
// position, by the move, most games first; results are of the side that moved.
func (p *Peers) Record(key uint64, mover board.Color, when Span) []Played {
	if p == nil {
		return nil
	}
	p.lock.Lock()
	defer p.lock.Unlock()
	var out []Played
	for _, m := range p.moves(key, firstDay(when) > p.Span.Last) { // then all days are known
		of := Played{Move: m.Move}
		for i := range m.Cells {
			if c := &m.Cells[i]; p.Like.band(c.Band) && p.Like.class(c.Class) && pgn.Day(c.Day) < firstDay(when) {
				of.addCell(c, mover)
			}
		}
		if of.Games > 0 {
			out = append(out, of)
		}
	}
	slices.SortStableFunc(out, func(a, b Played) int { return cmp.Compare(b.Games, a.Games) })
	return out
}

func (c *Count) addCell(cell *peerbook.Cell, mover board.Color) {
	wins, losses := cell.White, cell.Black
	if mover == board.Black {
		wins, losses = losses, wins
	}
	c.Games += int32(cell.Passes)
	c.Wins += int32(wins)
	c.Draws += int32(cell.Drawn)
	c.Losses += int32(losses)
	c.Unknown += int32(cell.Passes - cell.White - cell.Drawn - cell.Black)
}
