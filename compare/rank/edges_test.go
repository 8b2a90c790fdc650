package rank

import (
	"strings"
	"testing"

	"foreply/compare/fact"
)

// Two reasons to look at one line are told each; the same twice is one. The main choice needs no
// choosing. A trap of others is told where no engine tells the best at the gap.
func TestReasonsToLook(t *testing.T) {
	line := strings.Fields("e4 e5 Nf3")
	s := fact.Side{Games: 40, Exits: []fact.Exit{{Kind: fact.BookEnds, Line: line, Reach: 0.5}, {Kind: fact.BookEnds, Line: line, Reach: 0.4}}, Unpractised: []fact.Unpractised{{Line: line, Reach: 0.9}}}
	var got []string
	for _, task := range study(&s, 60) {
		got = append(got, task.Lead)
	}
	if want := "go on again"; strings.Join(got, " ") != want {
		t.Errorf("%q", got)
	}
	options := []fact.Option{{Line: line[:2], Move: "Nf3", Main: true, Reasons: []string{fact.ByBook}, Reach: 0.9}, {Line: line[:2], Move: "Nc3", Reach: 0.9}}
	if got := choices(options); len(got) != 0 {
		t.Errorf("%+v", got)
	}
	trap := fact.Trap{Kind: fact.OthersSlip, Line: strings.Fields("e4 g6 f3")}
	gap := fact.Unanswered{Line: strings.Fields("e4 g6")}
	if atGap(&trap, []fact.Unanswered{gap}) {
		t.Error("no engine was asked")
	}
	if gap.Best = []fact.Evaluated{{}}; !atGap(&trap, []fact.Unanswered{{}, gap}) {
		t.Error("an engine was asked")
	}
}
