package words

import (
	"testing"

	"foreply/compare/fact"
)

// Each task begins with a word of its own; a move without an answer is called a gap on page and terminal
// ('answer' was taken for the answer itself).
func TestWordsOfTasks(t *testing.T) {
	for lead, want := range map[string]string{
		fact.LeadExpect: "expect", fact.LeadOr: "or", fact.LeadPlay: "play", fact.LeadChanged: "changed", fact.LeadAnswer: "gap",
		fact.LeadGoOn: "go on", fact.LeadTrap: "trap", fact.LeadLook: "look", fact.LeadOrder: "order", fact.LeadChoose: "choose",
		fact.LeadAgain: "again",
	} {
		if got := Lead(lead); got != want {
			t.Errorf("a task of kind %q begins with %q, want %q", lead, got, want)
		}
	}
}
