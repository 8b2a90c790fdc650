package find

import (
	"cmp"
	"slices"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/board"
)

const changesShown = 3

// Changes tells what they took up or dropped where your main choices can come, what is
// likeliest to be met first; the same at several speeds is one.
func Changes(w *walk.Walk, found []profile.Change) []fact.Change {
	reach, _ := w.ByPosition()
	var out []fact.Change
	for i := range found {
		if reach[found[i].Position.Key()] == 0 {
			continue
		}
		ch := ChangeOf(&found[i])
		if same := sameChange(out, &ch); same != nil {
			same.SameIn = append(same.SameIn, ch.Speed)
			continue
		}
		ch.Reach = reach[found[i].Position.Key()]
		ch.Share = Forecast(w.Look, &found[i])
		out = append(out, ch)
	}
	slices.SortStableFunc(out, func(a, b fact.Change) int { return cmp.Compare(b.Reach, a.Reach) })
	return out[:min(len(out), changesShown)]
}

// Forecast is how likely the move that a change is told of is in the game to come.
func Forecast(look walk.Forecaster, c *profile.Change) *fact.Share {
	move := c.Move
	if c.HabitChanged() {
		move = c.Now
	}
	e := look.At(&c.Position)
	l, _ := e.Of(move)
	s := fact.NewShare(fact.Chance(l.Range), l.N, e.Visits)
	return &s
}

// Agree gives changes the shares with which their moves stand among the lines to
// expect.
func Agree(changes []fact.Change, partings []fact.Parting) {
	for i := range changes {
		c := &changes[i]
		line := walk.Resolved(c.Line)
		for j := range partings {
			stem := walk.Resolved(partings[j].Stem)
			if stem.End.Key() != line.End.Key() {
				continue
			}
			for _, b := range partings[j].Branches {
				if b.Move == c.Told() {
					share := b.Share
					c.Share = &share
				}
			}
		}
	}
}

// ChangeOf is a change as a fact, where no book is at hand.
func ChangeOf(c *profile.Change) fact.Change {
	san := func(m board.Move) string { return c.Position.SAN(m) }
	return fact.Change{
		Line: walk.NewTrack(c.Line).SANs, Move: san(c.Move), Up: c.Up, N: c.N, Of: c.Of, PastN: c.PastN, PastOf: c.PastOf,
		Now: san(c.Now), NowN: c.NowN, Former: san(c.Past), FormerN: c.FormerN, Habit: c.HabitChanged(), AllN: c.AllN, AllOf: c.AllOf,
		Since: c.Since.Date, Speed: c.Speed, Chance: min(c.Chance, 1),
	}
}

// sameChange finds the same move taken up, or dropped, at another speed.
func sameChange(told []fact.Change, ch *fact.Change) *fact.Change {
	for i := range told {
		if o := &told[i]; slices.Equal(o.Line, ch.Line) && o.Move == ch.Move && o.Up == ch.Up {
			return o
		}
	}
	return nil
}
