package past

import (
	"foreply/profile"
	"foreply/profile/board"
)

// change is what a sheet tells as changed; one told again isn't judged again.
type change struct {
	place uint64
	speed string
	move  board.Move
	up    bool
}

const (
	changeLeast  = 3 // later games at the place that judge a change
	changesEvery = 3 // sheets: they last, and to look for them takes longer than all else
)

// changes judges what the sheet of a day tells as changed by the next games at the
// place: the change went on if the share of its move in them lies nearer to that since
// the change than to that before.
func (t *test) changes(w *profile.Watch, day profile.Span, from int) {
	for _, c := range w.Changes(day) {
		key := change{c.Position.Key(), c.Group, c.Move, c.Up}
		if t.told[key] {
			continue
		}
		t.told[key] = true
		t.result.changes.told++
		n, came := t.after(&c, from)
		if n < changeLeast {
			continue
		}
		t.result.changes.n++
		before, since, later := float64(c.PastN)/float64(c.PastOf), float64(c.N)/float64(c.Of), float64(came)/float64(n)
		if (later > (before+since)/2) == c.Up {
			t.result.changes.held++
		}
	}
}

// after counts the next games, ten at most, at the place and speed of a change, and
// those with its move.
func (t *test) after(c *profile.Change, from int) (n, came int) {
	for _, v := range t.profile.Tree(t.theirs).At(c.Position.Key()).Visits {
		if int(v.Game) < from || t.profile.Games[v.Game].Speed.Group() != c.Group || n == ahead {
			continue
		}
		n++
		if v.Move == c.Move {
			came++
		}
	}
	return n, came
}
