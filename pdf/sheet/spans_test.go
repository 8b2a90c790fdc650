package sheet

import (
	"fmt"
	"strings"
	"testing"
)

var style = Style{Usual: Ink{Size: 9}, Strong: Ink{Size: 10, Bold: true}, Noted: Ink{Size: 9, Slant: true}, Faint: Ink{Size: 9, Gray: Middle}}

// lineText is what a line reads, blanks where the pen leaves them.
func lineText(f *Faces, l TextLine) string {
	var b strings.Builder
	end := 0.0
	for i, r := range l.Items {
		if i > 0 && r.X > end+0.5 {
			b.WriteByte(' ')
		}
		b.WriteString(r.S)
		end = r.X + r.W
	}
	return b.String()
}

func usual(s string) Piece { return Piece{S: s} }

// Pieces make words where blanks stand, and only there, whatever their looks.
func TestSpansGlue(t *testing.T) {
	f := testFaces(t)
	strong := func(s string) Piece { return Piece{Look: Strong, S: s} }
	for want, pieces := range map[string][]Piece{
		"(12|by|4...c5)":    {usual("("), strong("12"), usual(" by "), strong("4...c5"), usual(")")},
		"in|3|of|7;|then":   {usual("in "), usual("3 of 7"), usual("; then")},
		"in|3 of 7;|then":   {usual("in "), {S: "3 of 7", Whole: true}, usual("; then")},
		"a|b":               {usual("a"), usual(" "), usual("b")},
		"ab":                {usual("a"), usual(""), usual("b")},
		"a|b|c":             {usual("  a "), usual(" b"), usual("\tc  ")},
		"xyz":               {strong("x"), usual("y"), strong("z")},
		"":                  {usual(" "), usual("")},
		"a|b c":             {usual("a "), {S: " ", Tied: true}, {S: "b", Tied: true}, usual("c")},
		"x":                 {{S: " ", Tied: true}, usual("x")},
		"A 1.e4|e5":         {{Look: OnDisc, S: "A", Tied: true}, strong("1.e4 e5")},
		"☐ A x":             {{Look: ToTick, S: "☐", Tied: true}, {Look: OnDisc, S: "A", Tied: true}, usual("x")},
		"“stay|flexible”|.": {usual("“"), {Look: Noted, S: "stay flexible"}, usual("” .")},
	} {
		var got []string
		for _, w := range f.Spans(pieces, style) {
			s := w.S
			for _, g := range w.Glued {
				s += g.S
			}
			got = append(got, s)
		}
		if s := strings.Join(got, "|"); s != want {
			t.Errorf("%v: %q, want %q", pieces, s, want)
		}
	}
}

// A piece has its own look wherever it is glued.
func TestSpansLook(t *testing.T) {
	f := testFaces(t)
	words := f.Spans([]Piece{usual("(see "), {Look: Strong, S: "5...c5"}, usual("; "), {Look: Noted, S: "mine"}, usual(")")}, style)
	lines, _ := f.Break(words, 500, 0)
	for _, r := range lines[0].Items {
		bold, slant := r.S == "5...c5", r.S == "mine"
		if r.Bold != bold || r.Slant != slant {
			t.Errorf("%q is bold %v, oblique %v", r.S, r.Bold, r.Slant)
		}
	}
	if got := lineText(f, lines[0]); got != "(see 5...c5; mine)" {
		t.Errorf("reads %q", got)
	}
}

// At every width, no line breaks inside a glued word, every line keeps to the width, a piece
// that opens a line has its other reading there and nowhere else, and the lines together
// read as the pieces do.
func TestSpansAtEveryWidth(t *testing.T) {
	f := testFaces(t)
	var pieces []Piece
	for i := range 12 {
		pieces = append(pieces, usual(" ("), Piece{Look: Strong, S: fmt.Sprintf("c%d", i), First: fmt.Sprintf("%d...c%d", i, i)}, usual(")"), usual(" goes in"))
	}
	words := f.Spans(pieces, style)
	for w := 60.0; w < 400; w += 3 {
		lines, whole := f.Break(words, w, 0)
		if !whole {
			t.Fatalf("width %g: not all is set", w)
		}
		var all []string
		for _, l := range lines {
			s := lineText(f, l)
			if l.W > w+0.001 {
				t.Fatalf("width %g: a line of %g", w, l.W)
			}
			for i, word := range strings.Fields(s) {
				numbered := strings.Contains(word, "...")
				if opens := i == 0 && strings.HasPrefix(word, "("); numbered != opens {
					t.Fatalf("width %g: %q in %q", w, word, s)
				}
				if _, bare, ok := strings.Cut(word, "..."); ok {
					word = "(" + bare
				}
				all = append(all, word)
			}
		}
		want := ""
		for i := range 12 {
			want += fmt.Sprintf(" (c%d) goes in", i)
		}
		if got := " " + strings.Join(all, " "); got != want {
			t.Fatalf("width %g: %q", w, got)
		}
	}
}

// At every width and number of lines a clause stands whole or not at all, the first ones
// before the last, none twice, and those that went are counted.
func TestClausesYieldWhole(t *testing.T) {
	f := testFaces(t)
	clauses := [][]Piece{
		{usual("met in "), {Look: Strong, S: "7 of 31"}, usual(" games")}, {usual("; last on 3 October")},
		{usual("; two answers (both "), {Look: Strong, S: "even"}, usual(")")}, {usual("; yours to choose")},
	}
	full := "met in 7 of 31 games; last on 3 October; two answers (both even); yours to choose"
	ends := []int{len("met in 7 of 31 games"), len("met in 7 of 31 games; last on 3 October"), len("met in 7 of 31 games; last on 3 October; two answers (both even)"), len(full)}
	seen := map[int]bool{}
	for w := 95.0; w < 420; w += 4 {
		for most := 1; most <= 4; most++ {
			words, lost := f.Clauses(clauses, style, w, most)
			lines, whole := f.Break(words, w, most)
			var parts []string
			for _, l := range lines {
				parts = append(parts, lineText(f, l))
			}
			got := strings.Join(parts, " ")
			n := len(clauses) - lost
			if !whole || len(lines) > most || got != full[:ends[n-1]] {
				t.Fatalf("width %g, %d lines: %q with %d lost", w, most, got, lost)
			}
			if n < len(clauses) { // one more would not have fitted
				var more []Piece
				for _, c := range clauses[:n+1] {
					more = append(more, c...)
				}
				if _, fits := f.Break(f.Spans(more, style), w, most); fits {
					t.Fatalf("width %g, %d lines: %d lost for nothing", w, most, lost)
				}
			}
			seen[n] = true
		}
	}
	if len(seen) != len(clauses) {
		t.Errorf("only %v were tried", seen)
	}
}

// A single clause that is too long is cut, not left away; no clause is no word.
func TestFirstClauseStays(t *testing.T) {
	f := testFaces(t)
	words, lost := f.Clauses([][]Piece{{usual("a clause of several words")}, {usual("; more")}}, style, 50, 1)
	lines, _ := f.Break(words, 50, 1)
	if got := lineText(f, lines[0]); lost != 1 || !strings.HasPrefix(got, "a ") || !strings.HasSuffix(got, "…") {
		t.Errorf("%q with %d lost", got, lost)
	}
	if words, lost := f.Clauses(nil, style, 50, 1); words != nil || lost != 0 {
		t.Errorf("nothing is said in %v, %d lost", words, lost)
	}
}
