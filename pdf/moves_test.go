package pdf

import (
	"strings"
	"testing"
	"unicode"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
	"foreply/pdf/sheet"
)

func testFaces(t testing.TB) *sheet.Faces {
	t.Helper()
	f, err := sheet.LoadFaces()
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
	k := ink(move, false, sheet.Black)
	words := moveWords(f, san("e4 c5 Nf3 d6 d4 cxd4 Nxd4 Nf6 Nc3 a6 Be3 e5"), 0, k)
	for w := 60.0; w < 300; w += 7 {
		lines, whole := f.Break(words, w, 0)
		if !whole {
			t.Fatalf("width %g: not all set", w)
		}
		for _, l := range lines {
			s := l.Items[0].S
			if !strings.ContainsRune("123456", rune(s[0])) {
				t.Errorf("width %g: a line begins without a number: %q", w, s)
			}
			if l.W > w {
				t.Errorf("width %g: a line of %g: %q", w, l.W, s)
			}
			for _, tok := range strings.Fields(s) {
				if strings.HasSuffix(tok, ".") {
					t.Errorf("width %g: a move broken off its number: %q", w, s)
				}
			}
		}
	}
}

func TestDay(t *testing.T) {
	for in, want := range map[string]string{
		"2026.11.02": "2 Nov 2026", "2026-11-02": "2 Nov 2026", "2026.11.??": "Nov 2026", "2026": "2026",
		"????.??.??": "", "": "", "soon": "",
	} {
		if got := day(pgn.ParseDate(in)); got != want {
			t.Errorf("%q gives %q, want %q", in, got, want)
		}
	}
}

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

// Whatever stands in a name or a note, what is left prints, keeps its order
// when reduced again, and makes a valid page.
func FuzzReduce(f *testing.F) {
	for _, w := range oddWords {
		f.Add(w)
	}
	faces := testFaces(f)
	f.Fuzz(func(t *testing.T, s string) {
		got := faces.Regular.Reduce(s)
		for _, r := range got {
			if r > 0xFFFF || !faces.Regular.Has(r) || unicode.IsControl(r) {
				t.Fatalf("%q leaves %q", s, r)
			}
		}
		if again := faces.Regular.Reduce(got); again != got {
			t.Fatalf("%q reduced twice: %q, %q", s, got, again)
		}
		rep := emptyReport()
		rep.Opponent.Name = s
		rep.Sides[0].Surprise = fact.Surprise{Note: s}
		p := mustLayout(t, rep, Options{})
		checkPage(t, p)
		if _, err := sheet.Render([]*sheet.Page{p}, made(pgn.Date{}), "en"); err != nil {
			t.Fatal(err)
		}
	})
}
