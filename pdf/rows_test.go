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

// rowsCase is a tree with all that a row may say.
func rowsCase() *fact.Side {
	return &fact.Side{
		MyColor: "white",
		Unanswered: []fact.Unanswered{
			{Line: san("e4 c5 Nf3 d6 d4 g6")}, {Line: san("e4 e6 d4 b6")}, {Line: san("e4 d5")},
		},
		Partings: []fact.Parting{
			{Stem: san("e4"), From: -1, Name: "King's Pawn", Branches: []fact.Branch{
				{Move: "c5", Share: share(5, 4, 6, 50, 100), Reach: 0.5, State: fact.Answered, Answer: "Nf3", Then: san("d6 d4"), Next: 1, Note: "the main fight"},
				{Move: "e6", Share: share(2, 1, 3, 20, 100), Reach: 0.2, State: fact.Answered, Answer: "d4", Then: san("b6"), Next: -1, EndsWith: fact.TheyLeave},
				{Move: "d5", Share: share(1, 0, 2, 10, 100), Reach: 0.1, State: fact.NoAnswer, Next: -1, EndsWith: fact.TheyLeave},
				{Move: "g5", Share: share(1, 0, 2, 5, 100), Reach: 0.05, State: fact.NoAnswer, Next: -1, EndsWith: fact.TheyLeave, Note: "the main fight"},
				{Move: "Nf6", Share: share(1, 0, 2, 5, 100), Reach: 0.04, State: fact.ByWayBack, Answer: "d3", Back: &fact.Back{Chance: fact.Chance{P: 0.8}, File: "book/w.pgn", FileLine: 12}, Next: 2},
			}},
			{Stem: san("e4 c5 Nf3 d6 d4"), From: 0, Name: "Sicilian", Branches: []fact.Branch{
				{Move: "cxd4", Share: share(8, 7, 9, 40, 50), Reach: 0.4, State: fact.Answered, Answer: "Nxd4", Then: san("Nf6"), Next: -1, EndsWith: fact.BookEnds, Best: &fact.Evaluated{Centipawns: 40}},
				{Move: "g6", Share: share(1, 0, 2, 5, 50), Reach: 0.05, State: fact.NoAnswer, Next: -1, EndsWith: fact.TheyLeave},
			}},
			{Stem: san("e4 d6 d4 Nf6 Nc3"), From: -1, Name: "Pirc", Branches: []fact.Branch{{Move: "Nbd7", Share: share(4, 3, 5, 4, 10), Reach: 0.02, State: fact.Returns, Answer: "f4", Next: -1}}},
		},
	}
}

// Rows hang on the row whose line they continue, with the figures of their branch; a tree
// that begins otherwise hangs on a row of its own. Those that end with a lettered gap, tonight's
// work, count twice where rows must go.
func TestRowsOfATree(t *testing.T) {
	rows := newTreeRows(rowsCase(), false)
	var got []string
	for _, r := range rows.rows {
		r.Text, r.Aside = nil, nil
		got = append(got, strings.Join([]string{r.Label, r.Box}, "|"))
	}
	if want := strings.Fields("you_begin|1.e4 1...c5|2.♞f3 3...cxd4|4.♞xd4 3...g6| 1...e6|2.d4 1...d5| 1...g5| 1...♞f6|2.d3 1.e4| 3...♞bd7|4.f4"); !slices.Equal(strings.Fields(strings.ReplaceAll(strings.Join(got, " "), "you begin", "you_begin")), want) {
		t.Errorf("%q", got)
	}
	for i, want := range []sheet.TreeRow{
		{Parent: -1}, {Parent: -1, Weight: 0.5, Share: 0.5}, {Parent: 1, Weight: 0.4, Share: 0.8, Worth: 0.4}, {Parent: 1, Weight: 0.05, Share: 0.1, Worth: 0.05, Empty: true, Twice: true},
		{Parent: -1, Weight: 0.2, Share: 0.2, Worth: 0.2, Twice: true}, {Parent: -1, Weight: 0.1, Share: 0.1, Worth: 0.1, Empty: true, Twice: true}, {Parent: -1, Weight: 0.05, Share: 0.1, Worth: 0.05, Empty: true},
		{Parent: -1, Weight: 0.04, Share: 0.1}, {Parent: -1, Bare: true}, {Parent: 8, Weight: 0.02, Share: 0.4, Worth: 0.02},
	} {
		r := rows.rows[i]
		r.Text, r.Aside, r.Label, r.Box = nil, nil, "", ""
		if !reflect.DeepEqual(r, want) {
			t.Errorf("row %d: %+v, want %+v", i, r, want)
		}
	}
	for n, want := range map[int]string{1: "e4 c5 Nf3", 2: "e4 c5 Nf3 d6 d4 cxd4 Nxd4", 5: "e4 d5", 7: "e4 Nf6 d3"} {
		if got := strings.Join(rows.endOf(n), " "); got != want {
			t.Errorf("the note of row %d stands at %s, want %s", n, got, want)
		}
	}
	if got := strings.Join(rows.toEnd(rows.at[1]), " "); got != "e4 c5 Nf3 d6 d4" {
		t.Errorf("row 1 ends at %s", got)
	}
	all := make([]bool, len(rows.rows))
	for i := range all {
		all[i] = true
	}
	rows.all(3)
	if want := map[int]int{1: mostNotes, 6: mostNotes}; !reflect.DeepEqual(rows.notes, want) {
		t.Errorf("rows with notes: %v", rows.notes)
	}
	clear(rows.notes)
	if rows.all(0); len(rows.notes) > 0 {
		t.Errorf("no notes are printed: %v", rows.notes)
	}
	if got := rows.number(all, 4); !slices.Equal(got, []int{1}) || rows.notes[1] != 1 || len(rows.notes) != 1 {
		t.Errorf("the same note twice: %v, %v", got, rows.notes)
	}
	all[1] = false
	if got := rows.number(all, 4); !slices.Equal(got, []int{6}) {
		t.Errorf("where the first row doesn't stand: %v", got)
	}
	d := ofTree(rows, []bool{true, true, true, false, true, true, false, true, true, true})
	if d.Rows != 6 || !about(d.Shown, (0.4+0.2+0.1+0.02)/(0.4+0.05+0.2+0.1+0.05+0.02)) || !slices.Equal(d.Sections, []string{"lines to expect"}) {
		t.Errorf("%+v", d)
	}
	if d := ofTree(&treeRows{}, nil); d.Shown != 0 || d.Rows != 0 {
		t.Errorf("no rows: %+v", d)
	}
}

// Lines that never part have a row each with what its exit knows; one without a move of
// theirs has none.
func TestRowsOfExits(t *testing.T) {
	best := &fact.Evaluated{Centipawns: 3}
	s := &fact.Side{MyColor: "white", Partings: []fact.Parting{{Stem: san("a3")}}, Exits: []fact.Exit{
		{Line: san("e4 c5"), Kind: fact.TheyLeave, Reach: 0.4, Lo: 0.2, Hi: 0.6, Note: "a note", Best: best},
		{Line: san("e4"), Reach: 0.3}, {Line: san("e4 e5 Nf3 Nc6"), Kind: fact.BookEnds, Reach: 0.1}, {Line: san("e4 d6"), Kind: fact.BookEnds, Reach: 0.05},
	}}
	got := lineTree(s)
	want := []fact.Parting{
		{Stem: san("e4"), Reach: 0.4, From: -1, Branches: []fact.Branch{{Move: "c5", Share: fact.Share{P: 0.4, Lo: 0.2, Hi: 0.6}, Reach: 0.4, Next: -1, EndsWith: fact.TheyLeave, State: fact.NoAnswer, Note: "a note", Best: best}}},
		{Stem: san("e4"), Reach: 0.1, From: -1, Branches: []fact.Branch{{Move: "e5", Share: fact.Share{P: 0.1}, Reach: 0.1, Next: -1, EndsWith: fact.BookEnds, State: fact.Answered, Answer: "Nf3", Then: san("Nc6")}}},
		{Stem: san("e4"), Reach: 0.05, From: -1, Branches: []fact.Branch{{Move: "d6", Share: fact.Share{P: 0.05}, Reach: 0.05, Next: -1, EndsWith: fact.BookEnds}}},
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%+v\nwant %+v", got, want)
	}
	s.Partings = append(s.Partings, whitePartings()[0])
	if got := lineTree(s); !reflect.DeepEqual(got, s.Partings) {
		t.Errorf("with partings: %+v", got)
	}
}

// A parting hangs on the branch that leads to it, if that stands in the one it continues.
func TestForest(t *testing.T) {
	f := grown([]fact.Parting{
		{From: -1, Branches: []fact.Branch{{Next: 1}, {Next: 2}, {Next: 1}}}, {Stem: san("e4"), From: 0, Branches: []fact.Branch{{Next: 3}, {Next: -1}}}, {From: 1}, {From: 1, Branches: []fact.Branch{{Next: 0}, {Next: 9}}}, {From: 4}, {From: 7}, {From: 6, Branches: []fact.Branch{{Next: 6}}},
	})
	if want := []at{{-1, -1}, {0, 0}, {-1, -1}, {1, 0}, {-1, -1}, {-1, -1}, {-1, -1}}; !slices.Equal(f.parent, want) || !slices.Equal(f.roots, []int{0, 2, 4, 5, 6}) {
		t.Errorf("parents %v, roots %v", f.parent, f.roots)
	}
	for a, want := range map[at]bool{{0, 0}: true, {0, 1}: false, {0, 2}: false, {1, 0}: true, {1, 1}: false, {3, 0}: false, {3, 1}: false} {
		if f.continues(a) != want {
			t.Errorf("%v continues: %v", a, !want)
		}
	}
	if f.ply(at{1, 0}) != 1 || f.ply(at{0, 0}) != 0 {
		t.Error("plies before a move")
	}
}

// Pieces have the look of what they say: moves strong with their number at the start of a
// line, notes as noted, counts and days whole; of a user's sentence only their own moves are
// strong.
func TestLooksOfPieces(t *testing.T) {
	for got, want := range map[string]string{
		seen([][]sheet.Piece{lineOf(san("e4 c5 Nf3"), 0, func(ply int) bool { return ply == 1 })}):     "1.e4 *c5* 2.♞f3",
		seen([][]sheet.Piece{lineOf(san("c5 Nf3 O-O"), 3, never)}):                                     "2...c5 3.♞f3 O-O",
		seen([][]sheet.Piece{wayTo(san("e4 c5 Nf3 d6"), 3)}):                                           "1...c5 2.♞f3 *d6*",
		seen([][]sheet.Piece{wayTo(san("e4 c5"), 3)}):                                                  "1.e4 *c5*",
		seen([][]sheet.Piece{shortWay(san("e4 c5 Nf3 d6 d4"))}):                                        "1.e4 c5 2.♞f3 d6 *3.d4*",
		seen([][]sheet.Piece{shortWay(san("e4 c5 Nf3 d6 d4 cxd4"))}):                                   "2...d6 3.d4 *cxd4*",
		seen([][]sheet.Piece{knownWay(san("e4 c5 Nf3 d6 d4 cxd4 Nxd4 Nf6"))}):                          "1.e4 c5 2.♞f3 d6 3.d4 cxd4 4.♞xd4 *♞f6*",
		seen([][]sheet.Piece{knownWay(san("e4 c5 Nf3 d6 d4 cxd4 Nxd4 Nf6 Nc3"))}):                      "3...cxd4 4.♞xd4 ♞f6 *5.♞c3*",
		seen([][]sheet.Piece{plainly(wayTo(san("e4 c5"), 2))}):                                         "1.e4 c5",
		seen([][]sheet.Piece{wayOf(san("e4 c5 Nf3"), true, []sheet.Piece{{S: "end"}})}):                "end",
		seen([][]sheet.Piece{wayOf(san("e4 c5 Nf3 d6 d4 cxd4 Nxd4"), false, []sheet.Piece{{S: "x"}})}): "1.e4 c5 2.♞f3 d6 3.d4 cxd4 *4.♞xd4*",
		seen([][]sheet.Piece{tickPieces(), letterPieces(27)}):                                          "[☐] <AB> ",
		figurine("Kxe8=Q+"): "♚xe8=♛+", figurine("O-O-O"): "O-O-O", figurine("Rad1 Bb5"): "♜ad1 ♝b5",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	firsts := func(list []sheet.Piece) (out []string) {
		for _, p := range list {
			if strings.TrimSpace(p.S) != "" {
				out = append(out, p.First)
			}
		}
		return out
	}
	said := words.Expect(&fact.Task{Moves: san("e4 Nf6")}, nil)
	if got := firsts(clausePieces(said[0])); !slices.Equal(got, []string{"1.e4", "1...♞f6"}) {
		t.Errorf("at the start of a line a sentence has %q", got)
	}
	if got := seen([][]sheet.Piece{plainly([]sheet.Piece{{Look: sheet.Strong, S: "a"}, {Look: sheet.Noted, S: "b"}})}); got != "a_b_" {
		t.Errorf("plainly %q", got)
	}
	if got := firsts(lineOf(san("e4 c5 Nf3 Nc6"), 0, never)); !slices.Equal(got, []string{"", "1...c5", "", "2...♞c6"}) {
		t.Errorf("at the start of a line %q", got)
	}
}

// Of the notes those are printed through whose rows most games come, where a line ends first,
// and they are numbered as they stand.
func TestNotesThatAreNumbered(t *testing.T) {
	s := &fact.Side{MyColor: "white", Partings: []fact.Parting{{Stem: san("e4"), From: -1, Branches: []fact.Branch{
		{Move: "e5", Reach: 0.2, State: fact.Answered, Answer: "Nf3", Next: -1, Note: "seldom"},
		{Move: "e6", Reach: 0.3, State: fact.Answered, Answer: "d4", Next: -1, Note: "often"},
		{Move: "c5", Reach: 0.5, State: fact.Answered, Answer: "Nf3", Next: -1, Note: "most"},
	}}}}
	rows := newTreeRows(s, false)
	stands := make([]bool, len(rows.rows))
	for i := range stands {
		stands[i] = true
	}
	var got []string
	for i, n := range rows.number(stands, 2) {
		got = append(got, rows.branch(rows.at[n]).Note)
		if rows.notes[n] != i+1 {
			t.Errorf("%q has number %d", got[i], rows.notes[n])
		}
	}
	if !slices.Equal(got, []string{"often", "most"}) {
		t.Errorf("%q", got)
	}
}

// Lines that never part begin with the first move of theirs and have the user's answer in
// the box, for either colour.
func TestLinesThatNeverPart(t *testing.T) {
	for mine, want := range map[string]fact.Parting{
		"white": {Stem: san("e4"), Branches: []fact.Branch{{Move: "c5", Answer: "Nf3", Then: san("d6 d4")}}},
		"black": {Branches: []fact.Branch{{Move: "e4", Answer: "c5", Then: san("Nf3 d6 d4")}}},
	} {
		got := lineTree(&fact.Side{MyColor: mine, Exits: []fact.Exit{{Line: san("e4 c5 Nf3 d6 d4"), Reach: 0.4}}})
		if len(got) != 1 || len(got[0].Branches) != 1 || !slices.Equal(got[0].Stem, want.Stem) {
			t.Fatalf("%s: %+v", mine, got)
		}
		if br, w := got[0].Branches[0], want.Branches[0]; br.Move != w.Move || br.Answer != w.Answer || !slices.Equal(br.Then, w.Then) {
			t.Errorf("%s: %s in the row, %s in the box, then %v", mine, br.Move, br.Answer, br.Then)
		}
	}
}

// The 27th letter is AA.
func TestLetters(t *testing.T) {
	for i, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 27: "AB", 51: "AZ", 52: "BA", 701: "ZZ", 702: "AAA"} {
		if got := letter(i); got != want {
			t.Errorf("%d: %s, want %s", i, got, want)
		}
	}
}

// How the game begins has the numbers of the game: with White the user's first move in the
// box, with Black theirs before it.
func TestFirstRowOfTheLines(t *testing.T) {
	for mine, want := range map[string][2]string{"white": {words.YouBegin, "1.d4"}, "black": {"1.d4", "1...♞f6"}} {
		rows := newTreeRows(&fact.Side{MyColor: mine, Partings: []fact.Parting{{Stem: san("d4 Nf6 c4"), From: -1, Branches: []fact.Branch{{Move: "e6", Reach: 0.4, Next: -1}}}}}, false)
		if got := [2]string{rows.rows[0].Label, rows.rows[0].Box}; got != want {
			t.Errorf("%s: %q, want %q", mine, got, want)
		}
	}
}

// Each kind of span has its look: a move stands out, with its number at the start of a line
// wherever it has a place in a game; what another wrote is oblique; a count, a day and a short
// frequency stay on one line.
func TestPiecesOfSpans(t *testing.T) {
	clause := words.Clause{
		{Text: "by "}, {Kind: words.Move, Text: "Nf6", SAN: "Nf6", Ply: 1}, {Kind: words.Move, Text: "1.e4", SAN: "e4", Ply: 0}, {Kind: words.Move, Text: "Bb5", SAN: "Bb5", Ply: -1}, {Kind: words.Own, Text: "King's note"},
		{Kind: words.Number, Text: "1 234"}, {Kind: words.Day, Text: "2 Nov 2026"}, {Kind: words.Frequency, Text: "4 in 10 games (2-6"}, {Kind: words.Frequency, Text: "4 in 10 games (2-6)"},
	}
	theirs := []sheet.Piece{
		{S: "by "}, {Look: sheet.Strong, S: "♞f6", First: "1...♞f6"}, {Look: sheet.Strong, S: "1.e4", First: "1.e4"}, {Look: sheet.Strong, S: "♝b5"}, {Look: sheet.Noted, S: "King's note"},
		{S: "1 234", Whole: true}, {S: "2 Nov 2026", Whole: true}, {S: "4 in 10 games (2-6", Whole: true}, {S: "4 in 10 games (2-6)"},
	}
	if got := clausePieces(clause); !slices.Equal(got, theirs) {
		t.Errorf("%+v\nwant %+v", got, theirs)
	}
	for color, plain := range map[string]int{"white": 1, "black": 2} { // the piece that is no move of yours
		want := slices.Clone(theirs)
		want[plain].Look = sheet.Usual
		if got := columnFor(t, fact.Side{MyColor: color}).yoursStrong(clause); !slices.Equal(got, want) {
			t.Errorf("%s: %+v\nwant %+v", color, got, want)
		}
	}
}
