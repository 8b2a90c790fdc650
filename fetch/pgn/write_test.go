package pgn

import (
	"bytes"
	"errors"
	"io"
	"os"
	"strings"
	"testing"
	"unicode/utf8"
)

// The standard's own sample game (section 2.3) stands in its export format.
func TestWriteStandardSample(t *testing.T) {
	want, err := os.ReadFile("../../testdata/pgn/pgn_standard_sample_game.pgn")
	if err != nil {
		t.Fatal(err)
	}
	for _, opt := range []Options{{}, {Variations: true}} {
		games, _ := readAll(t, string(want), opt)
		var got bytes.Buffer
		if err := Write(&got, games[0]); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got.Bytes(), want) {
			t.Errorf("got\n%s\nwant\n%s", got.Bytes(), want)
		}
	}
}

const wantRoster = `[Event "?"]
[Site "?"]
[Date "????.??.??"]
[Round "?"]
[White "Alder \"Q\" \\ Mina"]
[Black "?"]
[Result "*"]
[Annotator "a b"]
[ECO "B12"]
[FEN "8/8/4k3/8/4P3/4K3/8/8 b - - 0 17"]

`

func TestWriteTree(t *testing.T) {
	tags := Tags{{"FEN", "8/8/4k3/8/4P3/4K3/8/8 b - - 0 17"}, {"ECO", "A00"}, {"White", `Alder "Q" \ Mina`}, {"Annotator", "a\tb"}, {"ECO", "B12"}, {"not a name", "x"}}
	line := &Line{
		Comments: []string{"before"},
		Moves: []Node{
			{SAN: "Kd6", NAGs: []int{1, 14}, Comments: []string{"one", " two\n more "}},
			{SAN: "Kd4", Variations: []*Line{
				{Comments: []string{"start"}, Moves: []Node{{SAN: "Kf4"}, {SAN: "Kc5", Variations: []*Line{{Moves: []Node{{SAN: "--"}}}}}}},
				{Moves: []Node{{SAN: "e5+"}}},
			}},
			{SAN: "Ke6"},
			{SAN: "Kc5", Comments: []string{"with } brace"}},
			{SAN: "Kd7"},
			{SAN: "Kd5"},
			{SAN: "Nge"},
		},
	}
	want := wantRoster + `{before} 17... Kd6 $1 $14 {one} {two more} 18. Kd4 ({start} 18. Kf4 Kc5 (18...
--)) (18. e5+) 18... Ke6 19. Kc5
; with } brace
19... Kd7 20. Kd5 20... Nge *

`
	var got bytes.Buffer
	if err := WriteLine(&got, tags, line, ""); err != nil {
		t.Fatal(err)
	}
	if got.String() != want {
		t.Errorf("got\n%s\nwant\n%s", got.String(), want)
	}
}

func TestWriteNothing(t *testing.T) {
	for _, line := range []*Line{nil, {}} {
		var got bytes.Buffer
		if err := WriteLine(&got, nil, line, "1/2-1/2"); err != nil {
			t.Fatal(err)
		}
		if !strings.HasSuffix(got.String(), "[Result \"1/2-1/2\"]\n\n1/2-1/2\n\n") {
			t.Errorf("got\n%s", got.String())
		}
	}
}

// Lines keep to 79 characters, no line starts with a sign that other readers
// take for a tag or an escape, and commands are not broken.
func TestWriteLines(t *testing.T) {
	comment := strings.Repeat("word é [%clk 0:01:02] [%eval 0.17] 100 % sure [see below] ", 20)
	line := &Line{}
	for range 40 {
		line.Moves = append(line.Moves, Node{SAN: "Nf3", Comments: []string{comment}, Variations: []*Line{{Moves: []Node{{SAN: "Nc3"}}}}})
	}
	var got bytes.Buffer
	if err := WriteLine(&got, nil, line, "*"); err != nil {
		t.Fatal(err)
	}
	_, movetext, _ := strings.Cut(got.String(), "\n\n")
	for l := range strings.Lines(movetext) {
		l = strings.TrimSuffix(l, "\n")
		if utf8.RuneCountInString(l) > lineWidth {
			t.Errorf("%d characters: %s", utf8.RuneCountInString(l), l)
		}
		if l != "" && strings.ContainsAny(l[:1], "[%;") || strings.HasSuffix(l, " ") || strings.HasPrefix(l, " ") {
			t.Errorf("line %q", l)
		}
	}
	if n := strings.Count(movetext, "[%clk 0:01:02]"); n != 800 {
		t.Errorf("%d commands whole", n)
	}
	games, _ := readAll(t, got.String(), Options{Variations: true})
	if c := games[0].Tree.Moves[7].Comments; len(c) != 1 || c[0] != strings.TrimSpace(comment) {
		t.Errorf("read back as %q", c)
	}
}

func TestWriteNotes(t *testing.T) {
	games, _ := readAll(t, "1. e4 {a} (1. d4 {no}) {b} e5 ; c\n2. Nf3 *", Options{})
	var got bytes.Buffer
	if err := Write(&got, games[0]); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(got.String(), "\n1. e4 {a} {b} 1... e5 {c} 2. Nf3 *\n") {
		t.Errorf("got\n%s", got.String())
	}
}

// full is a writer that has no room left.
type full struct{}

var errFull = errors.New("full")

func (full) Write([]byte) (int, error) { return 0, errFull }

func TestWriteError(t *testing.T) {
	if err := WriteLine(full{}, nil, &Line{}, "*"); !errors.Is(err, errFull) {
		t.Errorf("got %v", err)
	}
	if err := WriteLine(io.Discard, nil, &Line{}, "*"); err != nil {
		t.Error(err)
	}
}

// A result glued to the last move of a variation costs neither.
func TestResultGluedToAMoveOfAVariation(t *testing.T) {
	for text, want := range map[string]string{
		"1. e4 e5 (1... c51/2) 2. Nf3 *":        "1. e4 e5 (1... c5) 2. Nf3 *",
		"1. e4 e5 (1... Nf61-0) 2. Nf3 *":       "1. e4 e5 (1... Nf6) 2. Nf3 *",
		"1. e4 (1. Nf30-1 {x}) 1... e5 *":       "1. e4 (1. Nf3 {x}) 1... e5 *",
		"1. e4 e5 (1... Qxf7#1-0) 2. Nf3 *":     "1. e4 e5 (1... Qxf7#) 2. Nf3 *",
		"1. e4 e5 (1... c51/2-1/2 {y}) 2. d4 *": "1. e4 e5 (1... c5 {y}) 2. d4 *",
	} {
		writtenAs(t, text, want)
	}
}

// Castling without its hyphens is castling, whatever sign stands behind it.
func TestCastlingWithSignsBehindIt(t *testing.T) {
	for text, want := range map[string]string{
		"1. OO+- e5 *":             "1. O-O $18 e5 *",
		"1. e4 OO+ 2. OOO= OO# *":  "1. e4 O-O 2. O-O-O $10 O-O *",
		"1. OO e5 2. OOO!? OO5. *": "1. O-O e5 2. O-O-O $5 O-O *",
	} {
		writtenAs(t, text, want)
	}
}

// writtenAs reads a game without problems and compares its moves as they are written again.
func writtenAs(t *testing.T, text, want string) {
	t.Helper()
	games, r := readBytes(t, strings.NewReader(text), Options{Variations: true})
	if len(games) != 1 || len(games[0].Problems)+len(r.Problems()) > 0 {
		t.Fatalf("%s: %d games, %v %v", text, len(games), games[0].Problems, r.Problems())
	}
	var out bytes.Buffer
	if err := Write(&out, games[0]); err != nil {
		t.Fatal(err)
	}
	if _, moves, _ := strings.Cut(out.String(), "\n\n"); strings.TrimSpace(moves) != want {
		t.Errorf("%s: written as %q, want %q", text, moves, want)
	}
}

// A tag value of Windows-1252 that grows in UTF-8 beyond what is looked at is written as far as
// it reads back.
func TestLongTagValuesReadBack(t *testing.T) {
	for _, sign := range []string{"\xe4", "\\\"", "&lt;", "x"} {
		text := "[Event \"" + strings.Repeat(sign, 8000/len(sign)) + "\"]\n\n1. e4 *\n"
		games, _ := readBytes(t, strings.NewReader(text), Options{Variations: true})
		var out bytes.Buffer
		if err := Write(&out, games[0]); err != nil {
			t.Fatal(err)
		}
		again, r := readBytes(t, bytes.NewReader(out.Bytes()), Options{})
		if len(again) != 1 || len(again[0].Problems)+len(r.Problems()) > 0 || len(again[0].Moves) != 1 {
			t.Fatalf("%q: %v %v", sign, again[0].Problems, r.Problems())
		}
		was, is := games[0].Tags().Get("Event"), again[0].Tags().Get("Event")
		if !strings.HasPrefix(was, is) || len(is) < 1600 || sign == "x" && is != was {
			t.Errorf("%q: %d bytes became %d", sign, len(was), len(is))
		}
	}
}

// A semicolon stands between alternatives within a line; at the start of a line it begins a
// comment, as the standard has it (5), and a comment with braces written there reads back.
func TestSemicolonAtTheStartOfALine(t *testing.T) {
	for text, want := range map[string]string{
		"1. e4 e5 (1... c5 2. Nf3; 1... e6 2. d4) 2. Nf3 *":      "1. e4 e5 (1... c5 2. Nf3 e6 3. d4) 2. Nf3 *", // their numbers tell the book that they are two
		"1. e4 e5 (1... c5 2. Nf3\n; 1... e6 {2} d4\n) 2. Nf3 *": "1. e4 e5 (1... c5 2. Nf3\n; 1... e6 {2} d4\n) 2. Nf3 *",
	} {
		writtenAs(t, text, want)
	}
}
