package find

import (
	"fmt"
	"reflect"
	"slices"
	"testing"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// switchRows are games at a time control on days of a month each: first 20 of the
// old line, then 8 of the new one.
func switchRows(month int, clock, old, anew string) []string {
	var rows []string
	for i := range 28 {
		line := old
		if i >= 20 {
			line = anew
		}
		rows = append(rows, fmt.Sprintf("2026.%02d.%02d 1-0 %s 2000: %s", month, i+1, clock, line))
	}
	return rows
}

// A change at several speeds is one; what the book never meets is not told.
func TestChanges(t *testing.T) {
	sicilian := fact.Change{
		Line: []string{"e4"}, Move: "c5", Up: true, N: 8, Of: 8, PastN: 0, PastOf: 20,
		Now: "c5", NowN: 8, Former: "e5", FormerN: 20, Habit: true, AllN: 20, AllOf: 20, Since: pgn.ParseDate("2026.09.21"), Speed: "blitz", Reach: 1,
	}
	atThree, october := sicilian, sicilian
	atThree.SameIn = []string{"rapid", "slow"}
	october.Since = pgn.ParseDate("2026.10.21")
	for name, c := range map[string]struct {
		rows []string
		want []fact.Change
	}{
		"at one speed": {switchRows(9, "300", "e4 e5 Nf3 Nc6", "e4 c5 Nf3 d6"), []fact.Change{sicilian}},
		"at three": {
			slices.Concat(
				switchRows(8, "900+10", "e4 e5 Nf3 Nc6", "e4 c5 Nf3 d6"),
				switchRows(9, "300", "e4 e5 Nf3 Nc6", "e4 c5 Nf3 d6"),
				switchRows(10, "5400", "e4 e5 Nf3 Nc6", "e4 c5 Nf3 d6"),
			),
			[]fact.Change{atThree},
		},
		"two that you cannot meet": {
			slices.Concat(
				switchRows(8, "300", "d4 d5 c4 e6", "d4 Nf6 c4 e6"),
				switchRows(9, "300", "c4 e5 g3 Nf6", "c4 c5 g3 Nc6"),
				switchRows(10, "300", "e4 e5 Nf3 Nc6", "e4 c5 Nf3 d6"),
			),
			[]fact.Change{october},
		},
		"none": {repeated(28, "1-0 300 2000: e4 e5 Nf3 Nc6"), nil},
	} {
		t.Run(name, func(t *testing.T) {
			found := compare(t, gamesOf(t, c.rows...), "1. e4 e5 (1... c5 2. c3) 2. Nf3 *")
			got := Changes(found.w, found.p.Changes(board.Black, today))
			for i := range got {
				if got[i].Chance <= 0 || got[i].Chance > 0.05 {
					t.Errorf("the chance of a false alarm is %v", got[i].Chance)
				}
				if s := got[i].Share; s == nil || s.P < 0.3 || s.Of == 0 || s.Seen != 8*s.Of/28 {
					t.Errorf("to expect: %+v", s)
				}
				got[i].Chance, got[i].Share = 0, nil
			}
			if !reflect.DeepEqual(got, c.want) {
				t.Errorf("got\n  %+v\nwant\n  %+v", got, c.want)
			}
		})
	}
}

// A trap is marked at the branch with its move, where both stand at one position; others'
// mistakes at none. A change has the share that stands at the branch of its move.
func TestMarkAndAgree(t *testing.T) {
	share := fact.NewShare(fact.Chance{P: 0.4, Lo: 0.3, Hi: 0.6}, 4, 10)
	partings := func() []fact.Parting {
		return []fact.Parting{{Stem: fields("e4"), Branches: []fact.Branch{{Move: "e5"}, {Move: "c5", Share: share}}}, {Stem: fields("Nf3 d5 g3"), Branches: []fact.Branch{{Move: "Nf6"}, {Move: "f6"}, {Move: "h6"}}}}
	}
	marked := partings()
	traps := []fact.Trap{{Kind: fact.OthersSlip, Line: fields("e4 e5")}, {Kind: fact.TheirSlip, Line: fields("g3 d5 Nf3 f6")}, {Kind: fact.TheirSlip, Line: fields("e4 c5")}}
	Mark(marked, traps)
	want := partings()
	want[0].Branches[1].Trap, want[1].Branches[1].Trap = &traps[2], &traps[1]
	if !reflect.DeepEqual(marked, want) {
		t.Errorf("%+v", marked)
	}
	changes := []fact.Change{{Line: fields("e4"), Move: "c5"}, {Line: fields("e4"), Move: "c5", Now: "d5", Habit: true}, {Line: fields("e4"), Move: "e6", Now: "c5", Habit: true}, {Line: fields("d4"), Move: "c5"}}
	Agree(changes, partings())
	for i, told := range []bool{true, false, true, false} {
		if c := &changes[i]; (c.Share != nil) != told || told && *c.Share != share {
			t.Errorf("%d: %+v", i, c.Share)
		}
	}
}
