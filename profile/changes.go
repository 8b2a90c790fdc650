package profile

import (
	"cmp"
	"math"
	"slices"

	"foreply/profile/board"
	"foreply/profile/stat"
)

// Change is a place where the opponent took up or dropped a move, told only
// where chance hardly explains it.
type Change struct {
	Position board.Position
	Line     []board.Move // that leads there, as in the newest game
	Group    string       // of the games compared, as Class.Group has it
	// Speed of the games compared: 'slow', 'rapid', 'blitz', 'bullet'; 'unknown' where some
	// are not known to be fast or slow, and empty where all games here are of such.
	Speed     string
	Move      board.Move // taken up, or dropped
	Up        bool
	N, Of     int        // how often Move came in the last Of visits
	PastN     int        // how often it came in the PastOf visits before
	PastOf    int        //
	Now, Past board.Move // the commonest move since, and before
	NowN      int        // how often Now came in the last Of visits
	FormerN   int        // how often Past came in the PastOf visits before
	AllN      int        // how often Past, if the habit changed, else Move, came in the AllOf visits before, however old
	AllOf     int
	Since     *Game // the first game since
	Last      *Game // the newest game with Move if it was dropped, else nil
	// Chance bounds how often so clear a change at any of the places looked at
	// would come up if the same games had come in random order.
	Chance float64
}

const (
	changeAlarm   = 0.05 // bound on false alarms among all places of a colour
	changeLeast   = 3    // visits since
	changeBefore  = 8    // visits before
	changeSeen    = 3    // times a move must have been played to be looked at
	changeHabit   = 0.6  // share from which a move is the habit
	changeDeepest = 16   // plies
	changeNews    = 3 * 365
)

// changeWindows are how many visits since are held against how many before: a
// near look, and a far one for what changed slowly. What was played before that
// is another matter, and more visits since are an older change.
var changeWindows = [...]struct{ since, before int }{{40, 80}, {100, 200}}

// Changes lists what the opponent took up or dropped with a colour before a
// game within when, in the last years, at the most visited places first.
//
// At each position and speed, by the clock or the words of the event, the last visits, 3 to 40 of them, are held against
// the 80 before, and 3 to 100 against the 200 before, move by move, by Fisher's
// exact test in either direction: under chance the games might as well have come
// in any other order. The best split is told if its p-value, times the number of
// splits, moves and directions looked at there, stays under the position's part
// of 5 in 100, which is shared out by visits: the correction of Bonferroni,
// weighted (Holm 1979, Scandinavian Journal of Statistics 6, 65-70, section 4).
// It holds for any dependence between the looks, so a colour's games in random
// order raise a false alarm at one place or more in at most 5 of 100 cases; in
// truth in far fewer, since neighbouring splits say nearly the same. Games of
// different speeds are kept apart: who keeps one opening for blitz has changed
// nothing.
func (p *Profile) Changes(theirs board.Color, when Span) []Change {
	return p.Watch(theirs).Changes(when)
}

// Watch is where changes are looked for. To list that goes through the whole tree, so
// who asks for several days does it once.
type Watch struct {
	profile *Profile
	places  []watched
}

type watched struct {
	position board.Position
	node     *TreeNode
}

// Watch lists where changes with a colour are looked for.
func (p *Profile) Watch(theirs board.Color) *Watch {
	w := &Watch{profile: p}
	for pos, n := range p.trees[theirs].All() {
		if pos.Turn() == theirs && len(n.Visits) >= changeLeast+changeBefore {
			w.places = append(w.places, watched{pos, n})
		}
	}
	return w
}

// Changes lists the changes before a game within when.
func (w *Watch) Changes(when Span) []Change {
	p := w.profile
	if !when.Known() {
		when = p.NextDay()
	}
	places, visits := w.changePlaces(when)
	var out []Change
	for i := range places {
		at := &places[i]
		c, ok := p.changeAt(at, changeAlarm*float64(len(at.visits))/float64(visits))
		if ok && c.Since.Span.Middle() >= when.Middle()-changeNews {
			out = append(out, c)
		}
	}
	return out
}

// changePlace is a position with the visits of one speed, oldest first.
type changePlace struct {
	position board.Position
	speed    string
	visits   []Visit
	whole    []Visit // with those too old to be compared
	all      bool    // there are none of another speed
}

// changePlaces lists where there is enough to compare, most visited first, and
// counts all their visits.
func (w *Watch) changePlaces(when Span) (places []changePlace, visits int) {
	p := w.profile
	for i := range w.places {
		pos, n := w.places[i].position, w.places[i].node
		bySpeed := map[string][]Visit{}
		for _, v := range n.Visits {
			if g := &p.Games[v.Game]; g.Span.Before(when) && v.Ply < changeDeepest {
				bySpeed[g.Speed.Group()] = append(bySpeed[g.Speed.Group()], v)
			}
		}
		far := changeWindows[len(changeWindows)-1]
		farthest := far.since + far.before
		for speed, list := range bySpeed {
			if len(list) >= changeLeast+changeBefore {
				near := list[max(0, len(list)-farthest):]
				places = append(places, changePlace{pos, speed, near, list, len(bySpeed) == 1})
				visits += len(near)
			}
		}
	}
	slices.SortStableFunc(places, func(a, b changePlace) int {
		return cmp.Or(
			cmp.Compare(len(b.visits), len(a.visits)), cmp.Compare(a.position.Key(), b.position.Key()),
			cmp.Compare(a.speed, b.speed),
		)
	})
	return places, visits
}

// changeAt finds the clearest change at a place that is no older one, and
// whether its chance stays under alarm.
func (p *Profile) changeAt(at *changePlace, alarm float64) (Change, bool) {
	looks := 0
	best := Change{Chance: 2}
	for _, window := range changeWindows {
		visits := at.visits[max(0, len(at.visits)-window.since-window.before):]
		c, n := clearest(visits, min(window.since, len(visits)-changeBefore))
		looks += n
		// The clearest split at the edge of the look is a change before it.
		if c.Of < window.since && c.Chance < best.Chance {
			best = c
		}
	}
	best.Chance *= float64(looks)
	if best.Chance > alarm {
		return Change{}, false
	}
	p.describe(&best, at)
	return best, true
}

// clearest tries the splits up to most visits from the end.
func clearest(visits []Visit, most int) (best Change, looks int) {
	best.Chance = 2
	n := len(visits)
	for _, m := range movesOf(visits) {
		k := count(visits[n-changeLeast+1:], m.Move)
		for of := changeLeast; of <= most; of++ {
			if visits[n-of].Move == m.Move {
				k++
			}
			looks += 2
			up, down := tails(k, of, m.n, n)
			c := Change{Move: m.Move, Up: up < down, N: k, Of: of, PastN: m.n - k, PastOf: n - of, Chance: min(up, down)}
			if c.clearer(&best) {
				best = c
			}
		}
	}
	return best, looks
}

// clearer prefers the smaller chance; of two moves of which one gave way to the
// other it is the new one that is told.
func (c *Change) clearer(o *Change) bool {
	const same = 1e-9
	if math.Abs(c.Chance-o.Chance) <= same*o.Chance {
		return c.Up && !o.Up
	}
	return c.Chance < o.Chance
}

// tails are the chances of at least, and of at most, k of a move's games among
// the last of.
func tails(k, of, all, n int) (up, down float64) {
	return stat.HypergeometricTail(k, of, all, n), stat.HypergeometricTail(of-k, of, n-all, n)
}

func (p *Profile) describe(c *Change, at *changePlace) {
	since := len(at.visits) - c.Of
	c.Position, c.Group, c.Speed = at.position, at.speed, p.speedOf(at)
	c.Now, c.NowN = mainMove(at.visits[since:])
	c.Past, c.FormerN = mainMove(at.visits[since-c.PastOf : since])
	before := at.whole[:len(at.whole)-c.Of]
	if c.AllN, c.AllOf = count(before, c.Move), len(before); c.HabitChanged() {
		c.AllN = count(before, c.Past)
	}
	c.Since = &p.Games[at.visits[since].Game]
	newest := at.visits[len(at.visits)-1]
	c.Line = p.Games[newest.Game].Moves[:newest.Ply]
	for _, v := range at.visits {
		if !c.Up && v.Move == c.Move {
			c.Last = &p.Games[v.Game]
		}
	}
}

// speedOf is what can be said of the speed of the games at a place.
func (p *Profile) speedOf(at *changePlace) string {
	for _, v := range at.visits {
		switch {
		case p.Games[v.Game].Speed != UnknownClass:
		case at.all:
			return ""
		default:
			return UnknownClass.String()
		}
	}
	return at.speed
}

type moveCount struct {
	board.Move
	n int
}

// movesOf lists the moves that were played often enough to be looked at.
func movesOf(visits []Visit) []moveCount {
	var out []moveCount
	for _, v := range visits {
		if !slices.ContainsFunc(out, func(m moveCount) bool { return m.Move == v.Move }) {
			out = append(out, moveCount{v.Move, count(visits, v.Move)})
		}
	}
	return slices.DeleteFunc(out, func(m moveCount) bool { return m.n < changeSeen })
}

func count(visits []Visit, m board.Move) int {
	n := 0
	for _, v := range visits {
		if v.Move == m {
			n++
		}
	}
	return n
}

// HabitChanged tells whether one habit gave way to another: a move that was played
// mostly, and another that is now. Else it is one move's part that changed.
func (c *Change) HabitChanged() bool {
	return c.Now != c.Past && float64(c.NowN) >= changeHabit*float64(c.Of) && float64(c.FormerN) >= changeHabit*float64(c.PastOf)
}

func mainMove(visits []Visit) (board.Move, int) {
	n := map[board.Move]int{}
	var best board.Move
	for _, v := range visits {
		n[v.Move]++
		if n[v.Move] > n[best] || n[v.Move] == n[best] && v.Move < best {
			best = v.Move
		}
	}
	return best, n[best]
}
