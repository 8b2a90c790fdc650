package rank

import (
	"reflect"
	"testing"

	"foreply/compare/fact"
)

// What the order for an aim put before the main choice, of each position once.
func TestSituation(t *testing.T) {
	e4, d4 := []string{"e4", "e5"}, []string{"d4", "d5"}
	list := []fact.Option{{Line: e4, Move: "Nc3", Likeliest: "Nf6"}, {Line: e4, Move: "Nf3", Main: true}, {Line: e4, Move: "f4"}, {Line: d4, Move: "c4", Main: true}, {Line: d4, Move: "Nf3"}}
	for _, aim := range []string{fact.ForWin, fact.ForDraw, fact.ForTwoRounds} {
		if got, want := Situation(list, aim), (&fact.Situation{Aim: aim, Places: 2, First: [][]string{{"e4", "e5", "Nc3"}}}); !reflect.DeepEqual(got, want) {
			t.Errorf("%+v", got)
		}
	}
	if Situation(list, "") != nil || Situation(list, fact.ForFast) != nil {
		t.Error("no situation was named")
	}
	if got := Situation(nil, fact.ForWin); !reflect.DeepEqual(got, &fact.Situation{Aim: fact.ForWin, First: [][]string{}}) {
		t.Errorf("%+v", got)
	}
}
