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
