package words

import (
	"slices"
	"testing"

	"foreply/compare/fact"
)

// Every number of the facts differs, so that none can stand for another.
func TestSaidInNumbers(t *testing.T) {
	for want, got := range map[string]string{
		"they are usually instant to move 12 here (7 games)": Instant(&fact.Instant{Move: 12, Games: 7}).String(),
		"they leave your book by a move not seen from them":  Exit(&fact.Exit{Kind: fact.TheyLeave, Unseen: true}),
		"they leave your book":                               Exit(&fact.Exit{Kind: fact.TheyLeave}),
		"of 20 games, they left in 9, the other side made a move that isn't yours in 5, your book had ended in 4, 2 never left it; on average at move 7; 3 came back by another move order": Left(
			&fact.Left{Games: 20, Them: 9, You: 5, Book: 4, Never: 2, Back: 3, Move: 7.2}).String(),
		"you left your book with 1.d4":    HowLeft(&fact.GameRow{LeftBy: fact.LeftByYou, Moves: []string{"d4"}}).String(),
		"3.Bb5, prepared to about move 5": Task(&fact.Task{Lead: fact.LeadPlay, Moves: []string{"e4", "e5", "Nf3", "Nc6", "Bb5"}, Depth: 5.1}).String(),
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	shown := fact.Shown{Games: 9, Choices: 8, Known: 3, Habits: []fact.Habit{{Line: []string{"e4", "e5"}, Move: "Bc4", N: 6, Of: 7, Book: "Nf3", BookN: 1}}}
	want := []string{"after 1.e4 e5 you played 2.Bc4 in 6 of 7 games; your book's 2.Nf3 in 1", "of your 8 main choices on the lines to expect you have shown 3"}
	if got := Strings(Shown(&shown, "white")); !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// Of the newest games it is said whose points those are, and of those in the user's lines that
// they are, where there is no room for both that alone.
func TestNewestAsides(t *testing.T) {
	if got := NewestAsides(true); !slices.Equal(got, []string{"in your lines; your side's points", "in your lines"}) {
		t.Errorf("along the lines: %q", got)
	}
	if got := NewestAsides(false); !slices.Equal(got, []string{"your side's points"}) {
		t.Errorf("elsewhere: %q", got)
	}
}
