package pdf

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// In the table of the field the first change stands, the first slip where nothing changed, the
// first fact of a player: those that weigh most.
func TestFirstOfAField(t *testing.T) {
	s := fact.Side{
		MyColor: "white", Changes: []fact.Change{
			{Line: san("e4"), Move: "c6", N: 8, Of: 8, PastOf: 5, Up: true}, {Line: san("d4"), Move: "f5", N: 6, Of: 8, PastOf: 5, Up: true}, {Line: san("c4"), Move: "g6", N: 5, Of: 8, PastOf: 5, Up: true},
		},
		Traps: []fact.Trap{{Kind: fact.TheirSlip, Line: san("e4 e5 Nf3 f6"), Games: 2, Of: 3}, {Kind: fact.TheirSlip, Line: san("e4 g5"), Games: 1, Of: 3}},
	}
	fp := fieldPage(t)
	fp.w = 3000
	said := func() string {
		return strings.Join(runsOf(fp.cell(&s).Items, func(sheet.Run) bool { return true }), " ")
	}
	if got := said(); !strings.Contains(got, "1...c6 in the last 8") || strings.Contains(got, "f5") || strings.Contains(got, "g6") || strings.Contains(got, "wrong in") {
		t.Errorf("changed: %q", got)
	}
	s.Changes = nil
	if got := said(); !strings.Contains(got, "f6 wrong in 2 of 3 games") || strings.Contains(got, "g5") {
		t.Errorf("slips: %q", got)
	}
}

// Boards beside each other stand at one height, under the longest caption, whichever it is; of
// a caption three lines stand.
func TestBoardsUnderTheLongestCaption(t *testing.T) {
	_, c := layoutOf(t, richReport())
	one, two, five := []sheet.Piece{{S: "short"}}, []sheet.Piece{{S: strings.TrimSpace(strings.Repeat("short ", 6))}}, []sheet.Piece{{S: strings.TrimSpace(strings.Repeat("short ", 30))}}
	for _, k := range []struct {
		captions [][]sheet.Piece
		lines    float64
	}{
		{[][]sheet.Piece{one, one}, 1}, {[][]sheet.Piece{two, one}, 2}, {[][]sheet.Piece{one, two}, 2}, {[][]sheet.Piece{five, two, one}, 3}, {[][]sheet.Piece{one, five, two}, 3},
	} {
		var list []pictured
		for _, caption := range k.captions {
			list = append(list, pictured{caption, "8/8/8/8/8/8/8/QB2k3 w - -", "white"})
		}
		b := c.diagrams(list, 90, 80)
		var at []float64
		for _, it := range b.Items {
			if d, ok := it.(Board); ok {
				at = append(at, d.X)
				if want := 1 + k.lines*c.Leading + 1*sheet.MM; !about(d.Y, want) || !about(b.H, want+80) {
					t.Errorf("%d captions of %g lines at most: a board at %g, want %g; %g high", len(list), k.lines, d.Y, want, b.H)
				}
			}
		}
		if want := []float64{0, 90 + boardGap, 2 * (90 + boardGap)}[:len(list)]; !slices.Equal(at, want) {
			t.Errorf("boards at %v, want %v", at, want)
		}
	}
}

// Of two forms the one that leaves less out stands, the usual one where both leave out as much.
func TestFormThatLosesLeast(t *testing.T) {
	rep := richReport()
	s := &rep.Sides[0]
	l, _ := layoutOf(t, rep)
	usual, other, stood := *l, *l, map[string]bool{}
	usual.form.or, other.form.or, other.form.under = 0, 0, l.form.or
	for _, h := range []float64{380, 520} { // the other form is better; both leave out as much
		best, on := l.side(s, h)
		one, oneOn := usual.side(s, h)
		two, twoOn := other.side(s, h)
		kept, keptOn, form := one, oneOn, "usual"
		if sheet.Lost(two.Lost) < sheet.Lost(one.Lost) {
			kept, keptOn, form = two, twoOn, "other"
			if reflect.DeepEqual(oneOn, twoOn) {
				t.Errorf("both forms show %+v: this case shows nothing", on)
			}
		}
		stood[form] = true
		if !reflect.DeepEqual(on, keptOn) {
			t.Errorf("%g high: told %+v, want %+v", h, on, keptOn)
		}
		if !slices.Equal(asDrawn(best.Items), asDrawn(kept.Items)) || !slices.Equal(best.Lost, kept.Lost) {
			t.Errorf("%g high: the %s form is wanted", h, form)
		}
	}
	if !stood["usual"] || !stood["other"] {
		t.Errorf("stood: %v", stood)
	}
}

// Where their section finds no room fewer notes have a number: none refers to what isn't there.
func TestNumbersHaveTheirNotes(t *testing.T) {
	rep := richReport()
	l, _ := layoutOf(t, rep)
	read := func(b sheet.Block) (numbers int, lost bool) {
		text := strings.Join(runsOf(b.Items, func(sheet.Run) bool { return true }), " ")
		return len(noteNumber.FindAllString(text, -1)), slices.ContainsFunc(b.Lost, func(o sheet.Loss) bool { return o.Title == words.YourPlans && o.Clauses == 0 })
	}
	four, _ := l.sideWith(&rep.Sides[0], 280, mostNotes)
	if numbers, lost := read(four); numbers == 0 || !lost {
		t.Fatalf("%d numbers, their section left out: %v; this case shows nothing", numbers, lost)
	}
	b, _ := l.sideIn(&rep.Sides[0], 280)
	if numbers, lost := read(b); lost && numbers > 0 {
		t.Errorf("%d numbers refer to a section that is left out", numbers)
	}
}

// Of few games those that find no room over the lines are told among what is missing.
func TestFewGamesThatAreMissing(t *testing.T) {
	rep := fewReport()
	l, _ := layoutOf(t, rep)
	for h, want := range map[float64]int{100: 4, 240: 2} {
		b, _ := l.sideWith(&rep.Sides[0], h, 0)
		if got := b.Lost[0]; got.Title != words.AllGames(&rep.Sides[0]) || got.Count != want {
			t.Errorf("%g high: %+v is missing, want %d games", h, got, want)
		}
	}
}
