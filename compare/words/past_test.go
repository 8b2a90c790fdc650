package words

import (
	"reflect"
	"testing"

	"foreply/compare/past"
	"foreply/profile/hindsight"
)

func TestPast(t *testing.T) {
	bin := func(p, came float64, n int) hindsight.Bin { return hindsight.Bin{P: p, Observed: came, N: n} }
	r := past.Result{
		Sheets: 9, Games: 90, Decided: 7, First: past.Parting{N: 90, Right: 62, Told: []hindsight.Bin{bin(0.1, 0.2, 80), bin(0.5, 0.46, 40), bin(0.6, 0.1, 19)}},
		Deeper: past.Parting{N: 31, Right: 12}, Lines: []hindsight.Bin{bin(0.02, 0.03, 99), bin(0.08, 0.09, 50), bin(0.4, 0.3, 19), bin(0.6, 0.7, 20)},
		Expect: &hindsight.Bin{P: 0.42, Observed: 0.4, N: 90}, Changes: past.Changes{Told: 5, Judged: 4, Held: 3},
	}
	want := hindsight.Section{Name: "the sheet", Of: "9 by their rivals' usual moves, 90 games, 7 to a line's end", Lines: []string{
		"first choice: likeliest move right in 62 of 90; said 5.0 in 10, came 4.6", "later ones: likeliest move right in 12 of 31",
		"lines, said and came in 10: 0.8, 0.9; 6.0, 7.0", "'expect': said 4.2 in 10, came 4.0; of 4 changes told 3 went on so",
	}}
	if got := Past(&r); !reflect.DeepEqual(got, want) {
		t.Errorf("got\n%q\nwant\n%q", got, want)
	}
	for want, r := range map[string]past.Result{
		"too few games to make one and see what came after it": {},
		"3 by your repertoire; no later game came into it":     {Sheets: 3, Given: true},
		"1 by your repertoire, 2 games, 1 to a line's end":     {Sheets: 1, Games: 2, Decided: 1, Given: true},
	} {
		if got := Past(&r).Of; got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
