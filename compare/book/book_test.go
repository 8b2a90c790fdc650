package book

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

func bookOf(t *testing.T, mine board.Color, chapters ...string) *Book {
	t.Helper()
	b := New(mine)
	for _, text := range chapters {
		for g := range pgn.NewReader(strings.NewReader(text), pgn.Options{File: "book.pgn", Variations: true}).All() {
			b.Add(g)
		}
	}
	return b
}

// after is the position after some moves.
func after(t *testing.T, line string) board.Position {
	t.Helper()
	pos := board.Start()
	for san := range strings.FieldsSeq(line) {
		m, err := pos.Resolve([]byte(san))
		if err != nil {
			t.Fatal(err)
		}
		pos.Play(m)
	}
	return pos
}

func answers(b *Book, pos *board.Position) string {
	var out []string
	for _, m := range b.Answers(pos.Key()) {
		out = append(out, pos.SAN(m))
	}
	return strings.Join(out, " ")
}

// A move that the book marks ? or ?? is a mistake to know of and no answer; a doubtful or an
// odd one stays. Main chapters come before the others, these before surprises; what is said
// to rest is not in the book.
func TestAnswers(t *testing.T) {
	for text, want := range map[string]string{
		"1. e4 (1. d4)":    "e4 d4",
		"1. e4? (1. d4)":   "d4",
		"1. e4?? (1. d4)":  "d4",
		"1. e4?! (1. d4)":  "e4 d4",
		"1. e4!? (1. d4!)": "e4 d4",
		"1. e4 *\n\n[Role \"main\"]\n\n1. d4 *\n\n[Role \"surprise\"]\n\n1. c4 *\n\n[Role \"main\"]\n\n1. Nf3 *\n\n[Role \"rest\"]\n\n1. b3": "d4 Nf3 e4 c4",
	} {
		b := bookOf(t, board.White, text+" *")
		start := board.Start()
		if got := answers(b, &start); got != want {
			t.Errorf("%s: %q, want %q", text, got, want)
		}
		if marked := strings.Contains(text, "4? ") || strings.Contains(text, "??"); marked != (len(b.Mistakes) == 1) {
			t.Errorf("%s: %d mistakes", text, len(b.Mistakes))
		}
	}
}

// Two answers of the user's and one move of theirs, in a book of White's: so many a side.
func TestBranching(t *testing.T) {
	for color, want := range map[board.Color]string{board.White: "1.50 1.00", board.Black: "1.00 1.50"} {
		mine, theirs := bookOf(t, color, "1. e4 (1. d4 d5) 1... e5 2. Nf3 *").Branching()
		if got := fmt.Sprintf("%.2f %.2f", mine, theirs); got != want {
			t.Errorf("%v: %s, want %s", color, got, want)
		}
	}
}

// A label holds where the chapters that give an answer agree on it.
func TestCharacter(t *testing.T) {
	b := bookOf(t, board.White, "[Character \"sharp\"]\n\n1. e4 (1. d4) *\n\n[Character \"solid\"]\n\n1. d4 (1. c4) *")
	start := board.Start()
	var got []string
	for i := range b.Answers(start.Key()) {
		got = append(got, b.Character(start.Key(), i))
	}
	if want := []string{"sharp", "", "solid"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// A line that stops before an answer is no stop where another chapter goes on, from
// whatever order of moves; what no line from the first move leads to is told.
func TestReview(t *testing.T) {
	r := bookOf(t, board.White, `[Event "One"]

1. e4 e5 (1... c5) (1... e6) 2. Nf3 *

[Event "Two"]

1. e4 c5 2. Nf3 *

[Event "Far"]
[FEN "8/8/4k3/8/4P3/4K3/8/8 w - - 0 17"]

17. Kd4 *`).Review()
	if len(r.Stops) != 1 || strings.Join(r.Stops[0].Line, " ") != "e4 e6" || r.Stops[0].Chapter != "One" || r.Stops[0].FileLine != 3 {
		t.Errorf("stops %+v", r.Stops)
	}
	if len(r.Unreached) != 1 || r.Unreached[0].Name != "Far" {
		t.Errorf("unreached %+v", r.Unreached)
	}
}

// The note of a move stands at the position after it; the words at the head of a chapter
// are those of a line that only this chapter has.
func TestNotes(t *testing.T) {
	b := bookOf(t, board.White, "{ The plan. } 1. e4 e5 { Then quickly } 2. Nf3 { and castle } *\n\n{ Another. } 1. e4 c5 2. c3 *")
	keys := func(line string) (out []uint64) {
		all := strings.Fields(line)
		for i := range len(all) + 1 {
			pos := after(t, strings.Join(all[:i], " "))
			out = append(out, pos.Key())
		}
		return out
	}
	spanish := keys("e4 e5 Nf3")
	if got := b.Note(spanish[2]) + "|" + b.Note(spanish[3]) + "|" + b.Note(spanish[1]); got != "Then quickly|and castle|" {
		t.Errorf("notes %q", got)
	}
	if got := b.Intro(spanish) + "|" + b.Intro(spanish[:2]) + "|" + b.Intro(keys("e4 c5 c3")); got != "The plan.||Another." {
		t.Errorf("heads %q", got)
	}
}

// Words at the head of a chapter say nothing of a position that another chapter has, too.
func TestIntroOfSeveralChapters(t *testing.T) {
	b := bookOf(t, board.White, "{ Queen's pawn. } 1. d4 d5 2. c4 e6 3. Nc3 *\n\n{ English. } 1. c4 d5 2. d4 c6 3. Nf3 *")
	for line, want := range map[string]string{"d4": "Queen's pawn.", "d4 d5": "Queen's pawn.", "d4 d5 c4": "", "d4 d5 c4 e6 Nc3": "Queen's pawn.", "d4 d5 c4 g6": "", "c4 d5": "English."} {
		var keys []uint64
		all := strings.Fields(line)
		for i := range len(all) + 1 {
			pos := after(t, strings.Join(all[:i], " "))
			keys = append(keys, pos.Key())
		}
		if got := b.Intro(keys); got != want {
			t.Errorf("%s: %q, want %q", line, got, want)
		}
	}
}

// Words before a variation's first move stand before those behind it.
func TestWordsBeforeAVariation(t *testing.T) {
	b := bookOf(t, board.White, "1. e4 ({Instead} 1. d4 {is solid.}) *")
	if pos := after(t, "d4"); b.Note(pos.Key()) != "Instead is solid." {
		t.Errorf("%q", b.Note(pos.Key()))
	}
}

// What is wrong with a chapter is told with its place: what the reader finds and what the
// replay does; the moves before it are in the book.
func TestProblemsOfAChapter(t *testing.T) {
	b := bookOf(t, board.White, "1. e4 e5 2. Nf3 Nc6 (2... Ke4) 3. Bb5 ) a6 4. Bb6 *")
	kinds := map[pgn.Kind]int{}
	for _, p := range b.Problems {
		kinds[p.Kind]++
		if p.File != "book.pgn" || p.Line != 1 {
			t.Errorf("%+v", p)
		}
	}
	if kinds[pgn.IllegalMove] != 2 || kinds[pgn.StrayClose] != 1 || len(b.Problems) != 3 {
		t.Errorf("%v", kinds)
	}
	if pos := after(t, "e4 e5 Nf3 Nc6"); answers(b, &pos) != "Bb5" {
		t.Errorf("answers %q", answers(b, &pos))
	}
}

// Each position with several answers is told by its own line, its main choice first.
func TestChoicesByTheirLines(t *testing.T) {
	r := bookOf(t, board.White, "1. d4 d5 2. c4 e6 (2... c6 3. Nf3 (3. Nc3)) (2... e5 3. dxe5) 3. Nc3 (3. Nf3 Nf6 4. g3 (4. e3)) *").Review()
	var got []string
	for _, c := range r.Choices {
		got = append(got, strings.Join(c.Line, " ")+": "+strings.Join(c.Moves, " "))
	}
	if want := []string{"d4 d5 c4 e6: Nc3 Nf3", "d4 d5 c4 c6: Nf3 Nc3", "d4 d5 c4 e6 Nf3 Nf6: g3 e3"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}
