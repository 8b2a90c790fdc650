package find

import (
	"math"
	"reflect"
	"testing"

	"foreply/compare/fact"
)

// The same lines as a tree: at each parting its branches, the games that came there, what the
// others take together, and how each goes on or ends.
func TestPartingsWhole(t *testing.T) {
	w, games := small(t)
	spanish := lineOf("e4 e5 Nf3 Nc6 Bb5")
	shape := Structure(&spanish)
	want := []fact.Parting{
		{Stem: fields("e4"), Reach: 1, Visits: 11, From: -1, Branches: []fact.Branch{
			{Move: "e5", Share: shareOf(0.8, 9, 11), Reach: 0.8, State: fact.Answered, Answer: "Nf3", Then: []string{}, Next: 1, Note: "Castle."},
			{Move: "c5", Share: shareOf(0.2, 2, 11), Reach: 0.2, State: fact.NoAnswer, Next: -1, EndsWith: fact.BookEnds},
		}},
		{Stem: fields("e4 e5 Nf3"), Reach: 0.8, Visits: 9, From: 0, Branches: []fact.Branch{
			{Move: "Nc6", Share: shareOf(0.7, 7, 9), Reach: 0.56, State: fact.Answered, Answer: "Bb5", Then: []string{}, Next: -1, EndsWith: fact.BookEnds, Structure: &shape},
			{Move: "d6", Share: shareOf(0.2, 2, 9), Reach: 0.16, State: fact.NoAnswer, Next: -1, EndsWith: fact.TheyLeave},
		}},
	}
	got := Partings(w, games)
	for i := range got {
		rest := got[i].Rest
		if i < 2 && (!near(rest.P, []float64{0, 0.1}[i]) || rest.Seen != 0 || rest.Of != got[i].Visits || i == 1 && (rest.Lo >= rest.P || rest.Hi <= rest.P)) {
			t.Errorf("%d: the rest %+v", i, rest)
		}
		got[i].Rest = fact.Share{}
		for k := range got[i].Branches {
			got[i].Branches[k].Reach = math.Round(1e9*got[i].Branches[k].Reach) / 1e9
		}
		if end := lineOf(line(got[i].Stem)); got[i].ECO != end.Opening().ECO || got[i].Name != end.Opening().Name {
			t.Errorf("%d: %s %s", i, got[i].ECO, got[i].Name)
		}
		got[i].ECO, got[i].Name = "", ""
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got\n  %+v\nwant\n  %+v", got, want)
	}
}
