package pgn

import (
	"bytes"
	"slices"
	"strings"
	"testing"
)

// movetextOf is what WriteLine writes below the tags.
func movetextOf(t *testing.T, tags Tags, line *Line) string {
	t.Helper()
	var out bytes.Buffer
	if err := WriteLine(&out, tags, line, "*"); err != nil {
		t.Fatal(err)
	}
	_, moves, _ := strings.Cut(out.String(), "\n\n")
	return moves
}

// A line is filled up to its 79 characters, and no further.
func TestLinesAreFull(t *testing.T) {
	e := func(n int) string { return strings.Repeat("é", n) }
	move := func(comment string) *Line { return &Line{Moves: []Node{{SAN: "e4", Comments: []string{comment}}}} }
	for _, c := range []struct {
		line *Line
		want string
	}{
		{move(e(72) + " b"), "1. e4 {" + e(72) + "\nb} *\n\n"}, // 6 and 73 characters
		{move(e(73) + " b"), "1. e4\n{" + e(73) + " b} *\n\n"},
		{&Line{Moves: []Node{{SAN: "e4", Variations: []*Line{{Moves: []Node{{SAN: "d4", Comments: []string{e(63)}}}}}}}}, "1. e4 (1. d4 {" + e(63) + "})\n*\n\n"}, // 13, 65 and 1
		{&Line{Moves: []Node{{SAN: "e4", Variations: []*Line{{Moves: []Node{{SAN: "d4", Comments: []string{e(64)}}}}}}}}, "1. e4 (1. d4 {" + e(64) + "}\n) *\n\n"},
		{move("a { b"), "1. e4\n; a { b\n*\n\n"}, {move("\ta\n\n b "), "1. e4 {a b} *\n\n"}, {move(" \n"), "1. e4 *\n\n"},
		{&Line{Comments: []string{"}"}, Moves: []Node{{SAN: "e4"}}}, "; }\n1. e4 *\n\n"},
	} {
		if got := movetextOf(t, nil, c.line); got != c.want {
			t.Errorf("got\n%s\nwant\n%s", got, c.want)
		}
	}
	if got, want := unbroken("{a [%clk 1 2] b [see c] 5 %d [x}"), []string{"{a [%clk 1 2]", "b [see", "c]", "5 %d [x}"}; !slices.Equal(got, want) {
		t.Errorf("pieces %q, want %q", got, want)
	}
}

// Numbers go on from those of the position; Black's is written where the reader needs it.
func TestMoveNumbers(t *testing.T) {
	const position = "8/8/4k3/8/4P3/4K3/8/8"
	line := &Line{Moves: []Node{{SAN: "Kd4", NAGs: []int{1}}, {SAN: "Kd6", Variations: []*Line{{Moves: []Node{{SAN: "Kf6"}, {SAN: "e5"}}}}}, {SAN: "e5"}, {SAN: "Ke6"}}}
	for fen, want := range map[string]string{
		"": "1. Kd4 $1 Kd6 (1... Kf6 2. e5) 2. e5 Ke6 *", position + " w - - 3 17": "17. Kd4 $1 Kd6 (17... Kf6 18. e5) 18. e5 Ke6 *",
		position + " b - - 3 17": "17... Kd4 $1 18. Kd6 (18. Kf6 e5) 18... e5 19. Ke6 *", position + " b - -": "1... Kd4 $1 2. Kd6 (2. Kf6 e5) 2... e5 3. Ke6 *",
		position + " w - - 0 0": "1. Kd4 $1 Kd6 (1... Kf6 2. e5) 2. e5 Ke6 *", position + " w - - 0 10000": "1. Kd4 $1 Kd6 (1... Kf6 2. e5) 2. e5 Ke6 *",
	} {
		if got := strings.TrimSpace(movetextOf(t, Tags{{"FEN", fen}}, line)); got != want {
			t.Errorf("%q: %s, want %s", fen, got, want)
		}
	}
	for san, want := range map[string]bool{"e4": true, "e8=Q+": true, "--": true, "Z0": true, "O-O": true, "O-O-O#": true, "Nge": false, "": false, "null": false} {
		if plainSAN(san) != want {
			t.Errorf("%q needs no number: %v", san, !want)
		}
	}
}

// The tag section: the roster as it was given, the others once each in order of name, and
// values that read back as they were.
func TestWriteTags(t *testing.T) {
	tags := Tags{{"Result", "1-0"}, {"Zone", "a"}, {"", "x"}, {"Round", "1"}, {"Annotator", "A & B"}, {"Zone", "A & B &lt; \"C\\"}, {"Event", "a\nb"}, {"Round", "2"}}
	var out bytes.Buffer
	if err := WriteLine(&out, tags, nil, ""); err != nil {
		t.Fatal(err)
	}
	want := `[Event "a b"]
[Site "?"]
[Date "????.??.??"]
[Round "2"]
[White "?"]
[Black "?"]
[Result "1-0"]
[Annotator "A & B"]
[Zone "A &amp; B &amp;lt; \"C\\"]

*

`
	if out.String() != want {
		t.Errorf("got\n%s\nwant\n%s", out.String(), want)
	}
	for _, c := range []struct {
		sign  string
		bytes int // as written
	}{{"x", 1}, {"é", 2}, {"\"", 2}, {"\\", 2}, {"&", 5}} {
		most := (maxValue - 1) / c.bytes
		for _, n := range []int{most, most + 1} {
			if got := len(tagLine(strings.Repeat(c.sign, n))) / len(c.sign); got != most {
				t.Errorf("of %d signs %s %d are written, want %d", n, c.sign, got, most)
			}
		}
	}
}
