package book

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// A chapter is named by its event, else by who has White or Black, else by its opening, else by
// its number in the file.
func TestChapterNames(t *testing.T) {
	const all = "[Event \" Club \"]\n[White \"Elm\"]\n[Black \"Oak\"]\n[Opening \"Spanish\"]\n"
	for head, want := range map[string]string{
		all: "Club", strings.Replace(all, "[Event \" Club \"]\n", "", 1): "Elm", "[Black \"Oak\"]\n[Opening \"Spanish\"]\n": "Oak", "[Opening \"Spanish\"]\n": "Spanish", "[Site \"x\"]\n": "chapter 2",
	} {
		var name string
		for g := range pgn.NewReader(strings.NewReader("\n1. e4 *\n\n"+head+"\n1. d4 *\n"), pgn.Options{}).All() {
			name = ChapterName(g)
		}
		if name != want {
			t.Errorf("%q: %q, want %q", head, name, want)
		}
	}
}

// What the book has of theirs is listed once, be it written, answered by another order, or both;
// of a note on one position the first stands; a line stops where its last move stands.
func TestMovesNotesAndStops(t *testing.T) {
	b := bookOf(t, board.White, "1. d4 d5 { First. } 2. c4 e6 3. Nc3 *\n\n1. c4 e5 2. g3 d5\n3. cxd5\nNf6 *\n\n1. d4 d5 { Second. } 2. c4\nc6 *")
	for way, want := range map[string]string{"d4": "d5", "d4 d5 c4": "e6 c6", "c4": "e5", "Nc3": ""} {
		pos := after(t, way)
		var got []string
		for _, m := range b.Moves(&pos) {
			got = append(got, pos.SAN(m))
		}
		if text := strings.Join(got, " "); text != want {
			t.Errorf("behind %s: %s, want %s", way, text, want)
		}
	}
	meets := bookOf(t, board.White, "1. c4 e6 2. d4 *\n\n1. d4 d5 2. c4 e6 3. Nc3 *")
	pos := after(t, "c4 e6 d4") // nothing is written here, and 2...d5 meets 3.Nc3
	if got := meets.Moves(&pos); len(got) != 0 {
		t.Errorf("%v", got)
	}
	both := bookOf(t, board.White, "1. c4 e6 2. d4 Nf6 3. Nc3 *\n\n1. d4 d5 2. c4 e6 3. Nc3 *")
	pos = after(t, "c4 e6 d4")
	var got []string
	for _, m := range both.Moves(&pos) {
		got = append(got, pos.SAN(m))
	}
	if !slices.Equal(got, []string{"Nf6", "d5"}) {
		t.Errorf("%q", got)
	}
	if d5 := after(t, "d4 d5"); b.Note(d5.Key()) != "First." {
		t.Errorf("note %q", b.Note(d5.Key()))
	}
	var stops []string
	for _, s := range b.Review().Stops {
		stops = append(stops, fmt.Sprintf("%s %d", s.Line[len(s.Line)-1], s.FileLine))
	}
	if want := []string{"Nf6 5", "c6 8"}; !slices.Equal(stops, want) {
		t.Errorf("stops %q", stops)
	}
	covered := after(t, "d4")
	if b.HasAnswer(covered.Key()) || b.HasAnswer(1) || !b.HasAnswer(after64(t, "d4 d5")) {
		t.Error("where the opponent is to move the user has no answer")
	}
}

// A label once mixed stays so, whoever gives the answer after that; a book of lines has a line
// to its end.
func TestMixedStaysMixed(t *testing.T) {
	b := bookOf(t, board.White, "[Character \"sharp\"]\n\n1. e4 *\n\n[Character \"solid\"]\n\n1. e4 *\n\n[Character \"sharp\"]\n\n1. e4 *\n\n[Character \"sharp\"]\n[Role \"main\"]\n\n1. e4 *")
	start := board.Start()
	if got := b.Character(start.Key(), 0); got != "" {
		t.Errorf("%q", got)
	}
	roles := bookOf(t, board.White, "[Role \"surprise\"]\n\n1. c4 (1. e4) *\n\n1. d4 (1. e4) *")
	if got := answers(roles, &start); got != "d4 e4 c4" {
		t.Errorf("each in its best role: %q", got)
	}
	const far, farther = "[FEN \"8/8/4k3/8/4P3/4K3/8/8 w - - 0 17\"]\n\n17. Kd4 *\n\n", "[FEN \"8/8/4k3/8/4P3/3K4/8/8 w - - 0 17\"]\n\n17. Kd4 *\n\n"
	if got := bookOf(t, board.White, far+farther).Review().Unreached; len(got) != 2 {
		t.Errorf("unreached %+v", got)
	}
	pos, moves := board.Start(), []board.Move{}
	for _, san := range strings.Fields("e4 e5 Nf3 Nc6 Bb5 a6 Ba4") {
		m, err := pos.Resolve([]byte(san))
		if err != nil {
			t.Fatal(err)
		}
		moves = append(moves, m)
		pos.Play(m)
	}
	if of := Of(board.White, [][]board.Move{moves}); of.Positions() != 4 || answers(of, new(after(t, "e4 e5 Nf3 Nc6 Bb5 a6"))) != "Ba4" {
		t.Errorf("%d positions", of.Positions())
	}
}

// A rival is told by the line of the second file that has another answer: not by the first one's
// own alternative, the same answer in another order, or a third file's. A chapter that begins
// later comes later.
func TestRivalsByTheSecondFile(t *testing.T) {
	const d4, c4, nf3 = "1. d4 d5 2. c4 e6 ", "1. c4 e6 2. d4 d5 ", "1. d4 e6 2. c4 d5 "
	for name, c := range map[string]struct {
		files []string
		want  string
	}{
		"the first file's own alternative": {[]string{d4 + "3. Nc3 (3. cxd5) *", c4 + "3. Nf3 *"}, ": d4 or c4; c4 e6 d4 d5: Nc3 or Nf3"},
		"the same answer by another order": {[]string{d4 + "3. Nc3 *", c4 + "3. Nc3 *", nf3 + "3. Nf3 *"}, ": d4 or c4; d4 e6 c4 d5: Nc3 or Nf3"},
		"a third file":                     {[]string{d4 + "3. Nc3 *", c4 + "3. Nf3 *", nf3 + "3. g3 *"}, ": d4 or c4; c4 e6 d4 d5: Nc3 or Nf3"},
		"a chapter that begins later": {[]string{"[FEN \"8/8/4k3/8/4P3/4K3/8/8 w - - 0 17\"]\n\n17. Kd4 *\n\n1. e4 e5 2. Nf3 *", "[FEN \"8/8/4k3/8/4P3/4K3/8/8 w - - 0 17\"]\n\n17. Kf4 *\n\n1. e4 e5 2. Nc3 *"},
			"e4 e5: Nf3 or Nc3; : Kd4 or Kf4"},
	} {
		var got []string
		for _, r := range filesOf(t, "", c.files...).Rivals() {
			got = append(got, strings.Join(r.Line, " ")+": "+r.First.SAN+" or "+r.Second.SAN)
		}
		if text := strings.Join(got, "; "); text != c.want {
			t.Errorf("%s: %s, want %s", name, text, c.want)
		}
	}
}
