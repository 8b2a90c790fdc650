package compare

import (
	"slices"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// A move of the repertoire that can't be played costs what stands behind it: the moves
// before it, the brackets beside it and the chapters around it are walked as ever, and the
// place where the line breaks off is one without an answer. It is told with file, line,
// column and what was read.
func TestOneBadMoveCostsItsLine(t *testing.T) {
	const text = `[Event "Open"]

1. e4 e5 2. Nf3 Nc6 (2... d6 3. d4) 3. Bb9 a6 4. Ba4 *

[Event "Sicilian"]

1. e4 c5 2. c3 d5 3. exd5 *
`
	b := book.New(board.White)
	for g := range pgn.NewReader(strings.NewReader(text), pgn.Options{File: "white.pgn", Variations: true}).All() {
		b.Add(g)
	}
	if len(b.Problems) != 1 {
		t.Fatalf("problems %v", b.Problems)
	}
	if p := b.Problems[0]; p.Severity != pgn.Error || p.File != "white.pgn" || p.Line != 3 || p.Column != 40 || p.Token != "Bb9" || !strings.Contains(p.Excerpt, "3. Bb9") {
		t.Errorf("problem %+v", p)
	}
	for line, want := range map[string]string{"e4 e5": "Nf3", "e4 e5 Nf3 Nc6": "", "e4 e5 Nf3 d6": "d4", "e4 c5": "c3", "e4 c5 c3 d5": "exd5"} {
		pos := after(line)
		got := ""
		if answers := b.Answers(pos.Key()); len(answers) > 0 {
			got = pos.SAN(answers[0])
		}
		if got != want {
			t.Errorf("answer after %s: %q, want %q", line, got, want)
		}
	}
	p := gamesOf(board.Black, slices.Concat(
		repeated(10, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bb5 a6"), repeated(10, "1-0 5400 2000 Elm: e4 e5 Nf3 d6 d4 exd4"),
		repeated(10, "1-0 5400 2000 Elm: e4 c5 c3 d5 exd5 Qxd5"))...)
	s := Make(Input{Profile: p, Books: []*book.Book{b}}, Options{When: today}).Sides[0]
	if len(s.Unanswered) != 1 || strings.Join(s.Unanswered[0].Line, " ") != "e4 e5 Nf3 Nc6" || s.Unanswered[0].Games != 10 {
		t.Errorf("without an answer: %+v", s.Unanswered)
	}
	var ends []string
	for _, x := range s.Exits {
		ends = append(ends, strings.Join(x.Line, " "))
	}
	for _, want := range []string{"e4 e5 Nf3 d6 d4", "e4 c5 c3 d5 exd5"} {
		if !slices.Contains(ends, want) {
			t.Errorf("no line %s in %q", want, ends)
		}
	}
}
