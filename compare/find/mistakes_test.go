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

// A mistake at the ninth half-move is near from the position after the sixth on, one at the
// eighth is told only if they came there: everybody shares the first moves. Those made come
// first, then those whose place they reached most often, then the near ones.
func TestMistakesInOrder(t *testing.T) {
	const book = `1. e4 e5 2. Nf3 Nc6 3. Bb5 a6 4. Ba4 Nf6 5. Nc3? *

1. d4 d5 2. c4 e6 3. Nc3 Nf6 4. Bg5 h6? *

1. c4 e5 2. Nc3 Nf6 3. Nf3 Nc6 4. e3 Bb4 5. Qc2 O-O 6. Nd5 Re8 7. Qf5? *

1. Nf3 d5 2. g3 c5? *

1. b3 e5 2. Bb2 Nc6 3. e3 d6? *`
	c := compare(t, gamesOf(t, slices.Concat(
		repeated(2, "1-0 300 2000: e4 e5 Nf3 Nc6 Bb5 a6 Bxc6 dxc6"),           // near the ninth
		repeated(3, "1-0 300 2000: d4 d5 c4 e6 Nc3 c6"),                       // up to the fifth
		repeated(1, "1-0 300 2000: Nf3 d5 g3 c5"),                             // made
		repeated(4, "1-0 300 2000: b3 e5 Bb2 Nc6 e3 d5"),                      // reached
		repeated(1, "1-0 300 2000: c4 e5 Nc3 Nf6 Nf3 Nc6 e3 Bb4 Qc2 O-O Nd5"), // near
	)...), book)
	var got []string
	for _, m := range Mistakes(c.w, c.games) {
		got = append(got, fmt.Sprintf("%s: made %d, reached %d, near %d", m.Line[len(m.Line)-1], m.Games, m.Reached, m.Near))
	}
	slices.Sort(got[3:])
	want := []string{
		"c5: made 1, reached 1, near 1", "d6: made 0, reached 4, near 4",
		"Nc3: made 0, reached 0, near 2", "Qf5: made 0, reached 0, near 1",
	}
	if !slices.Equal(got, want) {
		t.Errorf("%q\nwant %q", got, want)
	}
}

// A move taken up at two speeds is one change; one taken up here and dropped there is two.
func TestSameChange(t *testing.T) {
	told := []fact.Change{{Line: []string{"e4"}, Move: "c5", Up: true}}
	for _, c := range []struct {
		change fact.Change
		same   bool
	}{
		{fact.Change{Line: []string{"e4"}, Move: "c5", Up: true, Speed: "rapid"}, true}, {fact.Change{Line: []string{"e4"}, Move: "c5"}, false},
		{fact.Change{Line: []string{"e4"}, Move: "e5", Up: true}, false}, {fact.Change{Line: []string{"d4"}, Move: "c5", Up: true}, false},
	} {
		if same := sameChange(told, &c.change); (same != nil) != c.same {
			t.Errorf("%+v: %v", c.change, same)
		}
	}
}

// Of a mistake of theirs what the book answers is told; one of the user's has none.
func TestMistakeAnswered(t *testing.T) {
	c := compare(t, gamesOf(t, repeated(2, "1-0 300 2000: e4 e5 Nf3 f6 Bc4 Nc6")...), "1. e4 e5 2. Nf3 f6? 3. Nxe5 *", "1. e4 e5 2. Nf3 Nc6 3. Bb5 (3. a3?) *")
	got := map[string]string{}
	for _, m := range Mistakes(c.w, c.games) {
		got[m.Line[len(m.Line)-1]] = m.Answer
	}
	if got["f6"] != "Nxe5" || got["a3"] != "" {
		t.Errorf("%q", got)
	}
}

// A chapter that begins elsewhere is told by the way of the walk, or of their newest game.
func TestMistakeOfASetUp(t *testing.T) {
	const chapter = "\n\n[FEN \"rnbqkb1r/pppp1ppp/5n2/4p3/4P3/5N2/PPPP1PPP/RNBQKB1R w KQkq - 2 3\"]\n\n3. Bc4? { Rather not. } *"
	p := gamesOf(t, "2026.01.05 1-0 300: e4 e5 Nf3 Nf6 Bc4", "2026.01.06 1-0 300: Nf3 Nf6 e4 e5 d4", "2026.01.07 1-0 300: e4 e5 Nf3 d6")
	games := Games{All: p.Games, Tree: p.Tree(board.Black)}
	want := fact.Mistake{Yours: true, Note: "Rather not.", Games: 1, Reached: 2, Near: 2, Last: pgn.ParseDate("2026.01.05"), File: "book.pgn", FileLine: 5}
	for name, c := range map[string]struct{ book, way string }{"the walk": {"1. e4 e5 2. Nf3 Nf6 3. Nxe5 *", "e4 e5 Nf3 Nf6 Bc4"}, "their game": {"1. d4 d5 2. c4 *", "Nf3 Nf6 e4 e5 Bc4"}} {
		w := walked(bookOf(t, c.book+chapter), chances{"e4": "e5 100 3", "e4 e5 Nf3": "Nf6 40 2 d6 60 1", "d4": "d5 100 1"})
		got := Mistakes(w, games)
		if len(got) != 1 {
			t.Fatalf("%s: %+v", name, got)
		}
		if o := got[0].Often; (o != nil) != (name == "the walk") || o != nil && (!near(o.P, 0.4) || !near(got[0].Reach, 0.4) || o.Games != 2 || o.Of != 2) {
			t.Errorf("%s: %+v, %v", name, o, got[0].Reach)
		}
		m := want
		m.Line, m.Often, m.Reach = fields(c.way), got[0].Often, got[0].Reach
		if !reflect.DeepEqual(got[0], m) {
			t.Errorf("%s: got\n  %+v\nwant\n  %+v", name, got[0], m)
		}
	}
	if got := Mistakes(walked(bookOf(t, "1. d4 d5 2. c4 *"+chapter), chances{}), Games{Tree: gamesOf(t, "2026.01.07 1-0 300: d4").Tree(board.Black)}); len(got) != 0 {
		t.Errorf("nobody came there: %+v", got)
	}
}
