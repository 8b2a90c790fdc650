package pgn

import (
	"strings"
	"testing"
)

// places takes the marks ¤ out of a text and returns where they stood.
func places(marked string) (text string, at [][2]int) {
	line, column := 1, 1
	var b strings.Builder
	for _, r := range marked {
		if r == '¤' {
			at = append(at, [2]int{line, column})
			continue
		}
		b.WriteRune(r)
		column++
		if r == '\n' {
			line, column = line+1, 1
		}
	}
	return b.String(), at
}

// In each text a mark stands before the place of each problem.
func TestPlacesOfProblems(t *testing.T) {
	tests := []struct {
		name, text string
		kinds      []Kind
	}{
		{"nothing wrong", "[Result \"1-0\"]\n\n1. e4 1-0\n", nil},
		{"no result", "[White \"A\"]\n\n1. e4 {c}¤\n\n", []Kind{NoTermination}},
		{"stray text", "1. e4\n\t¤hello, world 2 *", []Kind{StrayText}},
		{"stray text behind wide letters", "1. e4 {äöü♞😀} ¤wörd e5 *", []Kind{StrayText}},
		{"stray text behind a comment of several lines", "1. e4 {a\nb\n\nc} ¤x *", []Kind{StrayText}},
		{"two pieces of stray text", "1. ¤x e4 ¤y e5 *", []Kind{StrayText, StrayText}},
		{"stray close", "1. e4 ¤) e5\n(1... c5) ¤) *", []Kind{StrayClose, StrayClose}},
		{"stray open", "¤( 1. e4 ) e5 *", []Kind{StrayOpen}},
		{"stray open in a variation", "1. e4 (¤(1. d4)) e5 *", []Kind{StrayOpen}},
		{"open variation, outermost", "1. e4 ¤(1. d4 (1. c4 *", []Kind{OpenVariation}},
		{"open comment", "1. e4 ¤{x *¤", []Kind{OpenComment, NoTermination}},
		{"open comment behind the result", "1. e4 * ¤{x", []Kind{OpenComment}},
		{"open comment among tags", "[White \"A\"]\n  ¤{x¤", []Kind{OpenComment, NoTermination}},
		{"results differ", "[Result \"1-0\"]\n\n1. e4\n ¤0-1", []Kind{ResultClash}},
		{"result tag of no known value", "[White \"A\"]\n¤[Result \"won\"]\n\n1. e4 1-0", []Kind{BadTag}},
		{"tag twice", "[White \"A\"]\n¤[White \"B\"]\n\n*", []Kind{RepeatedTag}},
		{"broken tag", "[White \"A\"]\n ¤[Black \"B]\n\n*", []Kind{BadTag}},
		{"broken tag on a line with others", "[White \"A\"] ¤[Black B] [Round \"1\"]\n\n*", []Kind{BadTag}},
		{"set-up without position", "¤[SetUp \"1\"]\n\n*", []Kind{BadSetUp}},
		{"null move", "1. ¤-- e5 2. -- *", []Kind{NullInMain}},
		{"null move in a variation", "1. e4 (1. --) *", nil},
		{"second game on the line of the first", "1. e4 1-0 1. d4 ¤x 0-1", []Kind{StrayText}},
		{"glyph before any move", "¤$1 1. e4 (¤$14 1. d4) *", []Kind{StrayText, StrayText}},
		{"escape lines count", "% one\n1. e4\n% two\n% three\n¤x *", []Kind{StrayText}},
		{"tag over two lines", "[White\n\"A\"]\n\n1. ¤x e4 *", []Kind{StrayText}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			text, at := places(tt.text)
			for name, text := range map[string]string{
				"LF": text, "CRLF": strings.ReplaceAll(text, "\n", "\r\n"), "CR": strings.ReplaceAll(text, "\n", "\r"),
			} {
				checkKinds(t, name, text, tt.kinds, at)
			}
		})
	}
}

func checkKinds(t *testing.T, name, text string, kinds []Kind, at [][2]int) {
	t.Helper()
	games, _ := readAll(t, text, Options{Variations: true})
	var problems []Problem
	for _, g := range games {
		problems = append(problems, g.Problems...)
	}
	if len(problems) != len(kinds) || len(kinds) != len(at) {
		t.Fatalf("%s: problems %v, want %v", name, problems, kinds)
	}
	for i, p := range problems {
		if p.Kind != kinds[i] || p.Line != at[i][0] || p.Column != at[i][1] {
			t.Errorf("%s: %s at %d:%d, want %s at %v", name, p.Kind, p.Line, p.Column, kinds[i], at[i])
		}
	}
}

func TestPlacesOfMoves(t *testing.T) {
	text, at := places("\n[White \"Ä\"] 1. ¤e4 ¤e5\n2.¤Nf3 {ä♞\n😀} ¤Nc6 (2... d6)\r\n\t3. ¤♗b5 {é} ¤a6 1-0")
	games, _ := readAll(t, text, Options{Variations: true})
	if len(games) != 1 || len(games[0].Moves) != len(at) {
		t.Fatalf("%d moves, want %d", len(games[0].Moves), len(at))
	}
	for i, m := range games[0].Moves {
		n := games[0].Tree.Moves[i]
		if int(m.Line) != at[i][0] || int(m.Column) != at[i][1] || n.Line != at[i][0] || n.Column != at[i][1] {
			t.Errorf("%s at %d:%d, in the tree %d:%d, want %v", m.SAN, m.Line, m.Column, n.Line, n.Column, at[i])
		}
	}
}

func TestCaret(t *testing.T) {
	long := strings.Repeat("x", 500)
	tests := []struct {
		name string
		p    Problem
		want string
	}{
		{"plain", Problem{Excerpt: "1. e4 e9", Column: 7}, "1. e4 e9\n      ^"},
		{"tab", Problem{Excerpt: "\te4 e9", Column: 5}, " e4 e9\n    ^"},
		{"control characters", Problem{Excerpt: "e4\x1b[31m\u202ee9", Column: 9}, "e4 [31m e9\n        ^"},
		{"double width", Problem{Excerpt: "{棋} x", Column: 5}, "{棋} x\n     ^"},
		{"combining", Problem{Excerpt: "{e\u0301} x", Column: 6}, "{e\u0301} x\n    ^"},
		{"long line, middle", Problem{Excerpt: long[:300] + "e9" + long, Column: 301},
			strings.Repeat("x", 38) + "e9" + strings.Repeat("x", 36) + "\n" + strings.Repeat(" ", 38) + "^"},
		{"long line, end", Problem{Excerpt: long, Column: 501}, strings.Repeat("x", 76) + "\n" + strings.Repeat(" ", 76) + "^"},
		{"part of a line", Problem{Excerpt: "abc e9 def", Column: 105, ExcerptFrom: 101}, "abc e9 def\n    ^"},
		{"column beyond the line", Problem{Excerpt: "ab", Column: 9}, "ab\n  ^"},
		{"no column", Problem{Excerpt: "ab"}, "ab"},
		{"no excerpt", Problem{Column: 3}, ""},
	}
	for _, tt := range tests {
		if got := tt.p.Caret(); got != tt.want {
			t.Errorf("%s: got\n%s\nwant\n%s", tt.name, got, tt.want)
		}
	}
}

func TestProblemString(t *testing.T) {
	tests := []struct {
		p    Problem
		want string
	}{
		{Problem{File: "a.pgn", Line: 3, Column: 9, Message: "illegal move Qa1"}, "a.pgn:3:9: illegal move Qa1"},
		{Problem{File: "a.pgn", Line: 3, Message: "m"}, "a.pgn:3: m"},
		{Problem{File: "a.pgn", Column: 9, Message: "m"}, "a.pgn: m"}, {Problem{Line: 3, Column: 9, Message: "m"}, "3:9: m"},
		{Problem{File: "-", Message: "m"}, "-: m"},
		{Problem{Message: "m"}, "m"},
	}
	for _, tt := range tests {
		if got := tt.p.String(); got != tt.want {
			t.Errorf("got %q, want %q", got, tt.want)
		}
	}
}

// A caller that finds a problem of its own gets the same excerpt as ours.
func TestLocate(t *testing.T) {
	text := strings.Repeat("[%clk 0:01:00] ", 60)
	games, _ := readAll(t, "1. e4 {"+text+"} e5 2. Ke9 {"+text+"} x *", Options{File: "a.pgn", Source: "home"})
	m := games[0].Moves[2]
	p := games[0].Locate(Problem{Kind: IllegalMove, Line: int(m.Line), Column: int(m.Column), Message: "illegal move Ke9"})
	if p.File != "a.pgn" || p.Source != "home" || p.Game != 1 {
		t.Errorf("located in %q, %q, game %d", p.Source, p.File, p.Game)
	}
	line, caret, _ := strings.Cut(p.Caret(), "\n")
	if k := strings.Index(caret, "^"); !strings.HasPrefix(line[k:], "Ke9") {
		t.Errorf("the caret shows another place:\n%s\n%s", line, caret)
	}
	q := games[0].Problems[0]
	if line, caret, _ = strings.Cut(q.Caret(), "\n"); !strings.HasPrefix(line[strings.Index(caret, "^"):], "x *") {
		t.Errorf("the caret shows another place:\n%s\n%s", line, caret)
	}
}

func TestExcerpt(t *testing.T) {
	games, _ := readAll(t, "1. e4 *\n\n[White \"A\"]\r\n\r\n1. e4\x07 {x}\r\n*", Options{})
	for line, want := range map[int]string{1: "", 3: "[White \"A\"]", 4: "", 5: "1. e4  {x}", 6: "*", 7: ""} {
		if got := games[1].Excerpt(line); got != want {
			t.Errorf("line %d: %q, want %q", line, got, want)
		}
	}
}

// In a game that starts within a line columns are those of the line, in characters.
func TestLocateWithinALine(t *testing.T) {
	games, _ := readAll(t, "{äöü} 1. e4 * 1. d4 {é} Ke9 *", Options{File: "a.pgn"})
	got := games[1].Locate(Problem{Line: 1, Column: 25})
	want := Problem{File: "a.pgn", Game: 2, Line: 1, Column: 25, Excerpt: "1. d4 {é} Ke9 *", ExcerptFrom: 15}
	if got != want || !strings.HasSuffix(got.Caret(), "\n          ^") {
		t.Errorf("%+v\n%s", got, got.Caret())
	}
	if got := games[0].Locate(Problem{Line: 1, Column: 10}); got.Excerpt != "{äöü} 1. e4 *" || got.ExcerptFrom != 0 {
		t.Errorf("%+v", got)
	}
	long := strings.Repeat("é", 100)
	games, _ = readAll(t, "1. e4 {x"+long+"}  Ke9 *", Options{})
	got = games[0].Locate(Problem{Line: 1, Column: 112})
	want = Problem{Game: 1, Line: 1, Column: 112, Excerpt: long[:59*2] + "}  Ke9 *", ExcerptFrom: 50}
	if got != want {
		t.Errorf("%+v", got)
	}
	if got := games[0].Excerpt(1); got != "1. e4 {x"+long+"}  Ke9 *" {
		t.Errorf("%q", got)
	}
}

// What is shown around a place goes as far on either side, and cuts no character.
func TestAround(t *testing.T) {
	b := []byte(strings.Repeat("é", 50) + "x" + strings.Repeat("é", 100))
	for at, want := range map[int][2]int{0: {0, 121}, 60: {0, 181}, 101: {0, 221}, 141: {20, 261}, 301: {181, 301}} {
		if from, to := around(b, at); from != want[0] || to != want[1] {
			t.Errorf("around %d: %d to %d, want %v", at, from, to, want)
		}
	}
}
