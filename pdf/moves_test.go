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
	pieces := lineOf(san("e4 c5 Nf3 d6 d4 cxd4 Nxd4 Nf6 Nc3 a6 Be3 e5"), 0, func(ply int) bool { return ply%2 == 0 })
	set := f.Spans(pieces, bodyStyle())
	for w := 60.0; w < 300; w += 7 {
		lines, whole := f.Break(set, w, 0)
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
		}
	}
}

// A board stands as its side sees it: the square a1 is dark, at the left below for White, at
// the right above for Black; a man stands on his square.
func TestBoardView(t *testing.T) {
	for _, c := range []struct {
		view   string
		x, y   float64 // corner of a1
		kx, ky float64 // of e1, where the king is
	}{{"white", 0, 70, 40, 70}, {"black", 70, 0, 30, 0}} {
		b := Board{Side: 80, View: c.view, EPD: "8/8/8/8/8/8/8/4K3 w", f: testFaces(t)}
		if x, y := b.corner(0, 0); x != c.x || y != c.y {
			t.Errorf("%s: a1 at %g %g", c.view, x, y)
		}
		dark, king := 0, sheet.Run{}
		for _, it := range b.Parts() {
			if r, ok := it.(sheet.Rect); ok && r.Filled {
				dark++
				if r.X == c.x && r.Y == c.y {
					dark += 100
				}
			}
			if r, ok := it.(sheet.Run); ok && r.S == "♔" {
				king = r
			}
		}
		if dark != 132 {
			t.Errorf("%s: dark squares %d, a1 among them counts 100", c.view, dark)
		}
		if king.X < c.kx || king.X > c.kx+10 || king.Y < c.ky || king.Y > c.ky+10.5 {
			t.Errorf("%s: the king stands at %g %g", c.view, king.X, king.Y)
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
