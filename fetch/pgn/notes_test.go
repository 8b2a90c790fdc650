package pgn

import (
	"slices"
	"strings"
	"testing"
)

// The notes of the main line, read without variations: those next to each other as they
// stand in the file, those apart put together; each game has its own.
func TestNotes(t *testing.T) {
	for text, want := range map[string][]string{
		"1. e4 {a}  {b} e5 *":             {"{a}  {b}", ""},
		"1. e4 {a} $1 {b} e5 {c} *":       {"{a}\n{b}", "{c}"},
		"1. e4 {a} x {b} e5 *":            {"{a}\n{b}", ""},
		"1. e4 {a} (1. d4 {no}) {b} *":    {"{a}\n{b}"},
		"1. e4 { } {a} {} e5 ;\n ; b\n *": {"{a}", "; b"},
		"1. e4 (1. d4 * {a}":              {"{a}"}, // behind the result
		"1. e4 {a} e5 {b}":                {"{a}", "{b}"},
		"1. e4 ; a\n\n ; b\n e5 *":        {"; a\n\n ; b", ""},
	} {
		for _, text := range []string{text, "1. c4 {x} c5 {y} 2. c3 {z} *\n\n[White \"B\"]\n\n" + text} {
			games, _ := readAll(t, text, Options{})
			var got []string
			for _, m := range games[len(games)-1].Moves {
				got = append(got, string(m.Note))
			}
			if !slices.Equal(got, want) {
				t.Errorf("%q: notes %q, want %q", text, got, want)
			}
		}
	}
}

// What a move number tells of the move behind it, and where the move stands.
func TestToldInTheTree(t *testing.T) {
	games, _ := readAll(t, "1. e4 e5 (1... c5 Nf3\n d6 3. d4) (12... ♘f6) 2. Nf3 *", Options{Variations: true})
	var got []Node
	games[0].Tree.each(func(n *Node) { got = append(got, Node{SAN: n.SAN, Told: n.Told, Line: n.Line, Column: n.Column}) })
	for i, want := range []Node{
		{SAN: "e4", Told: 1, Line: 1, Column: 4}, {SAN: "e5", Line: 1, Column: 7}, {SAN: "c5", Told: 2, Line: 1, Column: 16}, {SAN: "Nf3", Line: 1, Column: 19},
		{SAN: "d6", Line: 2, Column: 2}, {SAN: "d4", Told: 5, Line: 2, Column: 8}, {SAN: "Nf6", Told: 24, Line: 2, Column: 19}, {SAN: "Nf3", Told: 3, Line: 2, Column: 27},
	} {
		if i >= len(got) || got[i].SAN != want.SAN || got[i].Told != want.Told || got[i].Line != want.Line || got[i].Column != want.Column {
			t.Fatalf("%+v\nmove %d is to be %+v", got, i, want)
		}
	}
}

// A problem has all that is known of it: on a long line what is around its place.
func TestWholeProblem(t *testing.T) {
	before, behind := strings.Repeat("é", 80), strings.Repeat("ü", 80)
	games, _ := readAll(t, "\r\n1. e4 e5 (1... c5 {"+before+"} wörd {"+behind+"})\r\n2. Nf3 *", Options{Variations: true, Source: "home", File: "a.pgn"})
	want := Problem{
		Kind: StrayText, Severity: Warning, Source: "home", File: "a.pgn", Line: 2, Column: 102, Game: 1, Ply: 2, Token: "wörd",
		Message: stray + "wörd", Hint: "put text between { and }",
		// 120 bytes on either side of it: "} " and 59 letters, "wörd {" and 57 letters, a letter cut in two being whole
		Excerpt: before[:59*2] + "} wörd {" + behind[:57*2], ExcerptFrom: 41,
	}
	if got := games[0].Problems[0]; got != want {
		t.Errorf("got  %+v\nwant %+v", got, want)
	}
	games, _ = readAll(t, "1. e4 x\r\ne5 *", Options{})
	if got := games[0].Problems[0]; got.Excerpt != "1. e4 x" || got.ExcerptFrom != 0 {
		t.Errorf("%+v", got)
	}
	games, _ = readAll(t, "1. e4 e5 2. Nf3 x *", Options{})
	if got := games[0].Problems[0]; got.Ply != 3 {
		t.Errorf("%+v", got)
	}
}

// A result that is missing is told right behind the game.
func TestPlaceOfTheMissingResult(t *testing.T) {
	games, _ := readAll(t, "1. e4 e5\n2. Nf3  \n\n• 1. d4 d5\n", Options{})
	for i, want := range []Problem{
		{Kind: NoTermination, Severity: Note, Line: 2, Column: 7, Game: 1, Ply: 3, Message: "no result at the end; the move number 1 below starts the next game", Excerpt: "2. Nf3  "},
		{Kind: NoTermination, Severity: Note, Line: 4, Column: 11, Game: 2, Ply: 2, Message: "no result at the end", Excerpt: "1. d4 d5", ExcerptFrom: 3},
	} {
		if got := games[i].Problems[0]; len(games[i].Problems) != 1 || got != want {
			t.Errorf("%+v", games[i].Problems)
		}
	}
}

// Behind so many half-moves nothing is read, though the result has its place; a tree is
// whole.
func TestPliesAndPlaces(t *testing.T) {
	const text = "[Result \"1-0\"]\n\n1. e4 e5\n2. Nf3\n0-1"
	games, _ := readAll(t, text, Options{Plies: 1})
	if p := games[0].Problems[0]; len(games[0].Moves) != 1 || p.Kind != ResultClash || p.Line != 5 || p.Column != 1 {
		t.Errorf("%d moves, %v", len(games[0].Moves), p)
	}
	games, _ = readAll(t, text, Options{Plies: 1, Variations: true})
	if len(games[0].Moves) != 3 || len(games[0].Tree.Moves) != 3 {
		t.Errorf("%d moves, %d in the tree", len(games[0].Moves), len(games[0].Tree.Moves))
	}
}

// A game that is cut off ends with a whole move.
func TestTooLongCutsNoMove(t *testing.T) {
	const text = "1. e4 e5 2. Nf3 Nc6 3. Bb5 a6 4. Ba4 Nf6 5. O-O Be7 6. Re1 b5 7. Bb3 d6 8. c3 O-O *"
	whole := strings.Fields(text)
	for most := 30; most < 80; most++ {
		games, _ := readAll(t, text, Options{MaxGame: most})
		for _, m := range games[0].Moves {
			if !slices.Contains(whole, string(m.SAN)) {
				t.Errorf("%d bytes: %s", most, m.SAN)
			}
		}
	}
}

// The place of a game among all is known once those before it are counted.
func TestPlace(t *testing.T) {
	for _, told := range []bool{false, true} {
		g := &Game{Index: 2, Problems: []Problem{{Kind: BadEncoding, Game: 2}, {Kind: StrayText, Game: 2}}}
		Passed{Games: 3, told: told}.Place(g)
		want := []Problem{{Kind: BadEncoding, Game: 5}, {Kind: StrayText, Game: 5}}
		if told {
			want = want[1:]
		}
		if g.Index != 5 || !slices.Equal(g.Problems, want) {
			t.Errorf("told %v: game %d, %v", told, g.Index, g.Problems)
		}
	}
}

// A closing parenthesis in a comment behind a semicolon closes nothing, and the hint says so.
func TestParenthesisBehindASemicolon(t *testing.T) {
	const before = "1. e4 (1. d4 ; )\n *\n\n[White \"B\"]\n" // four lines of another game
	for text, want := range map[string]string{
		"1. e4 (1. d4\n; so) e5\n*":           "close it with ); the one in line 6 stands behind a semicolon, in a comment",
		"1. e4 (1. d4 ; so)\n; and)\ne5\n*":   "close it with ); the one in line 5 stands behind a semicolon, in a comment",
		"1. e4 ; so)\n(1. d4 {a)} ; b\n*":     "close it with )",
		"1. e4 (1. d4 ; so)\n) e5 (1... c5 *": "close it with )",
	} {
		games, _ := readAll(t, before+text, Options{Variations: true})
		if p := games[1].Problems[0]; p.Kind != OpenVariation || p.Hint != want {
			t.Errorf("%q: %+v", text, p)
		}
	}
}

// What to do about a problem, and which kind was found too often to be told one by one.
func TestHints(t *testing.T) {
	for text, want := range map[string]string{
		"1. e4 {a": "close it with }", "[White A]\n\n1. e4 *": `a tag is written [Name "value"]`, "1. e4\nso 1... e5 *": "put text between { and }",
		"[Result \"won\"]\n\n1. e4 *": "the standard knows 1-0, 0-1, 1/2-1/2 and *",
	} {
		games, _ := readAll(t, text, Options{Variations: true})
		if got := games[0].Problems[0].Hint; got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
	games, _ := readAll(t, "1. e4 x e5 "+strings.Repeat(") ", 9)+"*", Options{})
	if p := games[0].Problems; len(p) != 7 || p[6].Message != "closing parenthesis too many, and 3 more times in this game" {
		t.Errorf("%v", p)
	}
}
