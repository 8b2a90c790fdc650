package pdf

import (
	"bufio"
	"bytes"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/fetch/pgn/plain"
)

func TestText(t *testing.T) {
	for _, s := range samples() {
		t.Run(s.name, func(t *testing.T) {
			var b bytes.Buffer
			if err := Text(&b, s.rep, TextOptions{}); err != nil {
				t.Fatal(err)
			}
			golden(t, s.name+"-terminal.txt", b.Bytes())
			checkText(t, b.String(), 80)
		})
	}
}

// checkText asserts that lines keep to the columns, single long words aside,
// and that no control character reaches the terminal.
func checkText(t *testing.T, text string, most int) {
	t.Helper()
	for _, line := range strings.Split(text, "\n") {
		if plain.Columns(line) > most && strings.Contains(strings.TrimSpace(line), " ") && plain.Columns(longest(line)) < most/2 {
			t.Errorf("%d columns: %q", plain.Columns(line), line)
		}
		if strings.ContainsFunc(line, func(r rune) bool { return r < ' ' || r == 0x7F || r == 0x202E }) {
			t.Errorf("control characters: %q", line)
		}
		if strings.HasSuffix(line, " ") {
			t.Errorf("trailing space: %q", line)
		}
	}
}

func longest(line string) string {
	most := ""
	for _, w := range strings.Fields(line) {
		if plain.Columns(w) > plain.Columns(most) {
			most = w
		}
	}
	return most
}

// Without style there is no escape sequence; with it the text is the same.
func TestStyle(t *testing.T) {
	var bare, styled bytes.Buffer
	rep := bothReport()
	if err := Text(&bare, rep, TextOptions{}); err != nil {
		t.Fatal(err)
	}
	if err := Text(&styled, rep, TextOptions{Style: true}); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(bare.String(), "\x1b") {
		t.Error("an escape sequence without style")
	}
	strip := strings.NewReplacer("\x1b[0m", "", "\x1b[1m", "", "\x1b[2m", "")
	if got := strip.Replace(styled.String()); got != bare.String() {
		t.Errorf("style changes more than the look, from line %d", firstDifference([]byte(got), bare.Bytes()))
	}
}

// A line that breaks before a black move repeats its number.
func TestNumbersAfterBreak(t *testing.T) {
	var b bytes.Buffer
	tl := &lineWriter{w: bufio.NewWriter(&b), opt: TextOptions{Columns: 40}}
	tl.write(0, 0, movePieces(san("e4 c5 Nf3 d6 d4 cxd4 Nxd4 Nf6 Nc3 a6"), 0, usual))
	tl.write(0, 0, append(pieces("expect", usual), said(words.Expect(&fact.Task{Moves: san("e4 c5 Nf3 d6 d4 cxd4"), Name: "often"}, nil))...))
	tl.write(0, 0, append(pieces("the line 1.e4 c5 2.Nf3 d6 3.d4 c", usual), said(words.Met([]fact.Met{{Move: "Nxd4", Games: 2}}, 7))...))
	tl.w.Flush()
	want := "1.e4 c5 2.Nf3 d6 3.d4 cxd4 4.Nxd4 Nf6\n5.Nc3 a6\n" +
		"expect 1.e4 c5 2.Nf3 d6 3.d4 cxd4 ·\noften\n" +
		"the line 1.e4 c5 2.Nf3 d6 3.d4 c others\nplayed 4...Nxd4 in 2 games (your side\nmade 0)\n"
	if b.String() != want {
		t.Errorf("got\n%swant\n%s", b.String(), want)
	}
}

func TestTextWriteError(t *testing.T) {
	if err := Text(fullDisk{}, &fact.Report{}, TextOptions{}); err == nil {
		t.Error("no error from a full disk")
	}
}

// A game whose file gives no clock is of no class, and none is printed; one that went on ends with dots.
func TestGameWithoutClock(t *testing.T) {
	var b bytes.Buffer
	tl := &lineWriter{w: bufio.NewWriter(&b), opt: TextOptions{Columns: 80}}
	for _, class := range []string{"blitz", "unknown"} {
		tl.game(&fact.PlayedGame{
			Date: pgn.ParseDate("2026.05.01"), Rival: "Elm", RivalElo: 2043, Yours: "0", Speed: class, ECO: "B20",
			Moves: san("e4 c5 Nf3 d6"), Plies: 60, Telling: 3, LeftBy: fact.LeftByYou, LeftPly: 2, Answer: "c3",
		})
	}
	tl.game(&fact.PlayedGame{Rival: "Elm", Moves: san("e4 c5"), Plies: 60, Telling: 9}) // of which only two moves are given
	tl.game(&fact.PlayedGame{Rival: "Elm", Moves: san("e4 c5"), Plies: 2, Telling: 9})
	tl.w.Flush()
	want := "  0 1 May 2026, Elm 2043: B20; blitz\n      1.e4 c5 2.Nf3 … - your book has 2.c3\n" +
		"  0 1 May 2026, Elm 2043: B20\n      1.e4 c5 2.Nf3 … - your book has 2.c3\n" +
		"  Elm:\n      1.e4 c5 …\n  Elm:\n      1.e4 c5\n"
	if b.String() != want {
		t.Errorf("got\n%swant\n%s", b.String(), want)
	}
}
