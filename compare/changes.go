package compare

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/compare/words"
	"foreply/profile"
)

const (
	changesShown = 3
	changesOff   = 1   // of these, changes that you cannot meet
	changeReach  = 0.1 // reach from which a change is told among what to do tonight
)

// changes tells what they took up or dropped, what you can meet first.
func (c *comparison) changes(w *walk.Walk) []fact.Change {
	reach, _ := w.ByPosition()
	var out []fact.Change
	for _, found := range c.in.Profile.Changes(c.tree.Theirs, c.opt.When) {
		line := walk.NewTrack(found.Line)
		if same := sameChange(out, line.SANs, found.Position.SAN(found.Move), found.Up); same != nil {
			addSpeed(same, found.Speed)
			continue
		}
		out = append(out, fact.Change{
			Text: ChangeText(&found), Line: line.SANs, Move: found.Position.SAN(found.Move), Up: found.Up,
			N: found.N, Of: found.Of, PastN: found.PastN, PastOf: found.PastOf,
			Since: found.Since.Date, Speed: found.Speed, Reach: reach[found.Position.Key()], Chance: min(found.Chance, 1),
		})
	}
	slices.SortStableFunc(out, func(a, b fact.Change) int { return cmp.Compare(b.Reach, a.Reach) })
	if met := slices.IndexFunc(out, func(ch fact.Change) bool { return ch.Reach == 0 }); met >= 0 {
		out = out[:min(len(out), met+changesOff)]
	}
	return out[:min(len(out), changesShown)]
}

// ChangeText tells a change with its place, its speed and the day it began.
func ChangeText(found *profile.Change) string {
	place, line := "", walk.NewTrack(found.Line).SANs
	switch {
	case len(line) == 1:
		place = "against " + words.Movetext(line, 0) + ", "
	case len(line) > 1:
		place = "after " + words.Movetext(line, 0) + ", "
	}
	return fmt.Sprintf("%sin %s since %s: %s", place, words.Speed(found.Speed), words.Date(found.Since.Date), found)
}

// addSpeed tells that the change came at another speed, too.
func addSpeed(ch *fact.Change, speed string) {
	const also = "; the same in "
	if strings.Contains(ch.Text, also) {
		ch.Text += " and " + words.Speed(speed)
		return
	}
	ch.Text += also + words.Speed(speed)
}

// sameChange finds the same move taken up, or dropped, at another speed.
func sameChange(told []fact.Change, line []string, move string, up bool) *fact.Change {
	for i := range told {
		if ch := &told[i]; slices.Equal(ch.Line, line) && ch.Move == move && ch.Up == up {
			return ch
		}
	}
	return nil
}

// changeTasks are the changes that you are likely to meet.
func changeTasks(changes []fact.Change) []fact.Task {
	for i := range changes {
		if ch := &changes[i]; ch.Reach >= changeReach {
			return []fact.Task{{Kind: "expect", Lead: "changed", Moves: ch.Line, Text: ch.Text, Need: ch.Reach}}
		}
	}
	return nil
}
