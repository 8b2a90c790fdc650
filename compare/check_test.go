package compare

import (
	"slices"
	"strings"
	"testing"

	"foreply/compare/walk"
	"foreply/compare/words"
	"foreply/profile/board"
)

func TestReview(t *testing.T) {
	b := bookOf(t, board.White,
		"[Event \"One\"]\n\n1. e4 e5 (1... c5) (1... e6 2. d4 d5 3. Nc3) 2. Nf3 Nc6 3. Bc4 *",
		"[Event \"Two\"]\n\n1. e4 e5 2. Nc3 *",
		"[Event \"Meets\"]\n\n1. e4 d5 2. d4 e6 *",
		"[Event \"Far\"]\n[FEN \"8/8/4k3/8/4P3/4K3/8/8 w - - 0 17\"]\n\n17. Kd4 *",
		"[Event \"Away\"]\n[Role \"rest\"]\n\n1. e4 g6 *",
	)
	r := b.Review()
	var stops, choices []string
	for _, s := range r.Stops {
		stops = append(stops, s.Chapter+": "+strings.Join(s.Line, " "))
	}
	for _, c := range r.Choices {
		choices = append(choices, strings.Join(c.Line, " ")+": "+strings.Join(c.Moves, " "))
	}
	// 'Meets' ends on 2...e6, where 'One' has the answer 3.Nc3 from 1...e6.
	if want := []string{"One: e4 c5"}; !slices.Equal(stops, want) {
		t.Errorf("stops %q, want %q", stops, want)
	}
	if want := []string{"e4 e5: Nf3 Nc3"}; !slices.Equal(choices, want) {
		t.Errorf("choices %q, want %q", choices, want)
	}
	if len(r.Unreached) != 1 || r.Unreached[0].Name != "Far" {
		t.Errorf("unreached %+v", r.Unreached)
	}
}

// What the book keeps, by the words of DESIGN section 4.
func TestBookKeeps(t *testing.T) {
	b := bookOf(t, board.Black, `[Event "Caro"]

{ The plan of it all. } 1. e4 c6 2. d4 d5 3. e5 (3. Nc3 dxe4 (3... Nf6?! { a surprise })) (3. exd5 Qxd5? { loses time } (3... cxd5?))
3... Bf5 { Then e6 and c5. [%csl Gd4] } 4. Nf3?? e6 *`)
	pos := after("e4 c6 d4 d5 Nc3")
	if got := b.Answers(pos.Key()); len(got) != 2 || pos.SAN(got[0]) != "dxe4" || pos.SAN(got[1]) != "Nf6" {
		t.Errorf("answers to 3.Nc3: %v; a doubtful move stays", got)
	}
	pos = after("e4 c6 d4 d5 exd5")
	if got := b.Answers(pos.Key()); len(got) != 0 {
		t.Errorf("answers to 3.exd5: %v; mistakes are none", got)
	}
	pos = after("e4 c6 d4 d5 e5 Bf5")
	if got := b.Note(pos.Key()); got != "Then e6 and c5." {
		t.Errorf("note %q", got)
	}
	pos = after("e4 c6 d4 d5 e5 Bf5 Nf3")
	if got := b.Answers(pos.Key()); len(got) != 1 {
		t.Errorf("answers after their mistake: %v; it is covered", got)
	}
	var marked []string
	for _, m := range b.Mistakes {
		marked = append(marked, words.LastMove(walk.NewTrack(m.Line).SANs))
	}
	if want := []string{"3...Qxd5", "3...cxd5", "4.Nf3"}; !slices.Equal(marked, want) {
		t.Errorf("mistakes %q, want %q", marked, want)
	}
}
