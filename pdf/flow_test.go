package pdf

import (
	"strings"
	"testing"
	"unicode"

	"foreply/compare/fact"
)

func testFaces(t testing.TB) *faces {
	t.Helper()
	f, err := loadFaces()
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestFigurines(t *testing.T) {
	for in, want := range map[string]string{
		"5...Qb6":                        "5...♛b6",
		"after 6.Bxc3+ Kf8":              "after 6.♝xc3+ ♚f8",
		"R1xe4 and Nbd7":                 "♜1xe4 and ♞bd7",
		"bxa8=Q#":                        "bxa8=♛#",
		"O-O":                            "O-O",
		"Bb, King's Nest, B90, Nf9, Q4":  "Bb, King's Nest, B90, Nf9, Q4",
		"Kb1 is Kb1, not Kb10 or NKb1xy": "♚b1 is ♚b1, not Kb10 or NKb1xy",
	} {
		if got := figurines(in); got != want {
			t.Errorf("%q gives %q, want %q", in, got, want)
		}
	}
}

func TestNumbered(t *testing.T) {
	for _, c := range []struct {
		san  string
		ply  int
		want string
	}{{"e4", 0, "1.e4"}, {"Nf6", 1, "1...♞f6"}, {"O-O-O", 20, "11.O-O-O"}, {"bxa8=N+", 99, "50...bxa8=♞+"}} {
		if got := numbered(c.san, c.ply); got != c.want {
			t.Errorf("%s at ply %d gives %q, want %q", c.san, c.ply, got, c.want)
		}
	}
}

// Lines of moves break between moves only, and a black move that begins a line
// has its number again.
func TestMovesBreak(t *testing.T) {
	f := testFaces(t)
	k := ink{move, false, black}
	words := f.moves(san("e4 c5 Nf3 d6 d4 cxd4 Nxd4 Nf6 Nc3 a6 Be3 e5"), 0, k)
	for w := 60.0; w < 300; w += 7 {
		lines, whole := f.breakLines(words, w, 0)
		if !whole {
			t.Fatalf("width %g: not all set", w)
		}
		for _, l := range lines {
			s := l.items[0].S
			if !strings.ContainsRune("123456", rune(s[0])) {
				t.Errorf("width %g: a line begins without a number: %q", w, s)
			}
			if l.w > w {
				t.Errorf("width %g: a line of %g: %q", w, l.w, s)
			}
			for _, tok := range strings.Fields(s) {
				if strings.HasSuffix(tok, ".") {
					t.Errorf("width %g: a move broken off its number: %q", w, s)
				}
			}
		}
	}
}

func TestEllipsis(t *testing.T) {
	f := testFaces(t)
	k := ink{note, false, black}
	lines, whole := f.breakLines(f.own("the quick move wins a pawn and more besides", k), 90, 2)
	if whole || len(lines) != 2 || !strings.HasSuffix(lines[1].items[0].S, "…") || lines[1].w > 90 {
		t.Errorf("%v %+v", whole, lines)
	}
	lines, _ = f.breakLines(f.own(strings.Repeat("x", 400), k), 90, 0)
	if len(lines) != 1 || lines[0].w > 90 {
		t.Errorf("a word longer than the line: %+v", lines)
	}
}

func TestReduce(t *testing.T) {
	f := testFaces(t)
	for in, want := range map[string]string{
		"Dvořák Łukasz Ağaoğlu Þórsson": "Dvořák Łukasz Ağaoğlu Þórsson",
		"Dvor\u030ca\u0301k":            "Dvořák", // NFC
		"a\u202eb\u200bc\x07d":          "abcd",   // direction, zero width, bell
		"tab\tand\nline\u00a0end":       "tab and line end",
		"\U0001F642 x \U0001D50A":       "? x G", // above U+FFFF: nothing under it; a letter under it
		"日本":                            "??",
		"q\u0308\u0331":                 "q", // marks that compose with nothing
	} {
		if got := f.regular.reduce(in); got != want {
			t.Errorf("%q gives %q, want %q", in, got, want)
		}
	}
}

func TestDay(t *testing.T) {
	for in, want := range map[string]string{
		"2026.11.02": "2 Nov 2026", "2026-11-02": "2 Nov 2026", "2026.11.??": "Nov 2026", "2026": "2026",
		"????.??.??": "", "": "", "soon": "",
	} {
		if got := day(in); got != want {
			t.Errorf("%q gives %q, want %q", in, got, want)
		}
	}
}

// Measured widths are the library's, so that what layout fits also prints in
// its place.
func TestWidths(t *testing.T) {
	f := testFaces(t)
	if w := f.regular.width("mmmm", 10); w < 30 || w > 40 {
		t.Errorf("four m at 10 points measure %g", w)
	}
	if f.regular.width("ř", 10) != f.regular.width("r", 10) {
		t.Error("a letter with an accent has another width")
	}
	for r := range solidFor {
		if !f.regular.has(r) || !f.bold.has(r) {
			t.Errorf("no glyph for %c", r)
		}
	}
}

var solidFor = map[rune]bool{'♔': true, '♕': true, '♖': true, '♗': true, '♘': true, '♙': true, '♚': true, '♛': true, '♜': true, '♝': true, '♞': true, '♟': true, '½': true, '…': true, '→': true}

func TestBoardView(t *testing.T) {
	b := Board{Side: 80, View: "white"}
	if x, y, _ := b.centre("a1"); x != 5 || y != 75 {
		t.Errorf("a1 from White: %g %g", x, y)
	}
	b.View = "black"
	if x, y, _ := b.centre("a1"); x != 75 || y != 5 {
		t.Errorf("a1 from Black: %g %g", x, y)
	}
	for _, bad := range []string{"", "e", "i1", "a0", "a9", "e44"} {
		if _, _, ok := b.centre(bad); ok {
			t.Errorf("%q is a square", bad)
		}
	}
}

func TestBrokenFont(t *testing.T) {
	for _, bad := range [][]byte{nil, []byte("not a font"), make([]byte, 200)} {
		if _, err := parseFace(bad); err == nil {
			t.Errorf("%d bytes were read as a font", len(bad))
		}
	}
	cut := testFaces(t).regular.ttf[:1000]
	if _, err := parseFace(cut); err == nil {
		t.Error("a font cut short was read")
	}
}

// Whatever stands in a name or a note, what is left prints, keeps its order
// when reduced again, and makes a valid page.
func FuzzReduce(f *testing.F) {
	for _, w := range oddWords {
		f.Add(w)
	}
	faces := testFaces(f)
	f.Fuzz(func(t *testing.T, s string) {
		got := faces.regular.reduce(s)
		for _, r := range got {
			if r > 0xFFFF || !faces.regular.has(r) || unicode.IsControl(r) {
				t.Fatalf("%q leaves %q", s, r)
			}
		}
		if again := faces.regular.reduce(got); again != got {
			t.Fatalf("%q reduced twice: %q, %q", s, got, again)
		}
		rep := emptyReport()
		rep.Opponent.Name = s
		rep.Sides[0].Surprise = fact.Surprise{Note: s, NoteAt: s}
		p := mustLayout(t, rep, Options{})
		checkPage(t, p)
		if _, err := render([]*Page{p}, made("")); err != nil {
			t.Fatal(err)
		}
	})
}

// What must be cut ends behind a clause, unless that leaves much of the line empty; the
// period of a move's number ends none.
func TestClauseIsNotCut(t *testing.T) {
	f := testFaces(t)
	k := ink{note, false, black}
	for text, want := range map[string]string{
		"We play the slow Italian here. Nothing is forced before move ten": "We play the slow Italian here. …",
		"opened like this in 1 of 12; last on 27 December of 2024":         "opened like this in 1 of 12; …",
		"Yes. Nothing is forced before move ten, so learn where men go":    "Yes. Nothing is forced before …",
		"now think of a knight 12. only then of all that follows":          "now think of a knight 12. only …",
		"Short, and whole": "Short, and whole",
	} {
		w := f.of(false).width("Yes. Nothing is forced before move", note)
		lines := f.breakClause(f.say(text, k), w, 1)
		if got := lines[0].items[0].S; got != want {
			t.Errorf("%q is cut to %q, want %q", text, got, want)
		}
	}
}
