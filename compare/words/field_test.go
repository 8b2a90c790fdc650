package words

import (
	"strings"
	"testing"

	"foreply/compare/fact"
)

// The page of a field says whose choices are told where there is no game of theirs.
func TestFirstChoicesOfPeers(t *testing.T) {
	s := &fact.Side{MyColor: "white", Partings: []fact.Parting{{Stem: []string{"e4"}, Branches: []fact.Branch{{Move: "e5", Share: fact.Share{P: 0.2}}}}}}
	if said := FirstChoices(s).String(); strings.Contains(said, "players like them") {
		t.Errorf("of their own games: %s", said)
	}
	s.PeersOnly = true
	s.TellPeers()
	if said := FirstChoices(s).String(); said != "players like them after 1.e4: 1...e5 2 in 10" {
		t.Errorf("of players like them: %s", said)
	}
}

// Of a line of which hardly anything is known the field tells no more than tonight.
func TestMainLineHardlyKnown(t *testing.T) {
	long := strings.Fields("e4 c5 Nf3 d6 Bb5+ Nc6 O-O Bd7 Re1 a6")
	often := fact.Often{Chance: fact.Chance{P: 0.4, Lo: 0.2, Hi: 0.6}, Games: 40, Of: 100, TenLo: 2, TenHi: 6}
	s := &fact.Side{
		Exits:   []fact.Exit{{Line: long, Reach: 0.3, Lo: 0.05, Hi: 0.8, Came: 1, Of: 167}},
		Tonight: []fact.Task{{Lead: fact.LeadExpect, Moves: long[:4], Often: &often}},
	}
	if got := MainLine(s).String(); !strings.HasPrefix(got, "main 1.e4 c5 2.Nf3 d6 · 4 in 10") {
		t.Errorf("%q", got)
	}
	s.Exits[0].Lo, s.Exits[0].Hi = 0.25, 0.35
	if got := MainLine(s).String(); !strings.HasPrefix(got, "main 1.e4 c5 2.Nf3 d6 3.Bb5+ Nc6 4.O-O Bd7 5.Re1 a6 · 3 in 10") {
		t.Errorf("%q", got)
	}
}
