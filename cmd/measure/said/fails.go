package main

import (
	"fmt"
	"io"
	"maps"
	"math"
	"slices"

	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/board"
)

// Where they scored badly is said on no sheet: this file is why. It looks for positions of
// the lines to expect from which they made less than was to be expected, and less than they
// do with the colour at large; what came are the following games there, less what they made
// meanwhile in their other games.

const (
	linePly  = 3 // plies from which a position is a line
	resultOf = 5 // games with a result from which it is looked at
)

// place is a position of the lines to expect on a day, in points of the user's side.
type place struct {
	career, report string
	from, last     int    // the first game to come, and the last one that judges it
	key            uint64 // with the career and the colour: what is said again
	theirs         board.Color
	games          float64 // with a result
	edge           float64 // points beyond what they give away at large, of all these
	z              float64 // the same in standard errors
	looks          float64 // at so many positions of the report
	outcome
}

// places are those of all days of a career and a colour.
func (t *test) places(theirs board.Color) []place {
	var out []place
	for c := range t.cuts(theirs) {
		e := edges{t: t, theirs: theirs, usual: usual(c.past, theirs)}
		e.sumUp(c.past)
		look := profile.NewForecast(c.past, theirs, profile.ForecastOptions{Class: c.class}).On(c.day)
		for i, b := range c.books {
			w := walk.New(b, look, walk.Options{MaxPly: 40, Threshold: 0.01, Ways: walk.NewWays(b, look), BackFrom: 0.01})
			w.Run(board.Start(), 0)
			found := e.of(w, &c)
			for k := range found {
				found[k].report = fmt.Sprint(t.career, theirs, c.from, i)
				found[k].looks = float64(len(found))
			}
			out = append(out, found...)
		}
	}
	return out
}

// edges are the points of the user's side beyond expectation.
type edges struct {
	t              *test
	theirs         board.Color
	usual          float64
	mean, variance float64 // of a past game with the colour
}

func (e *edges) sumUp(past *profile.Profile) {
	n, squares := 0.0, 0.0
	for g := range past.With(e.theirs) {
		if v, ok := edge(g, e.usual, 1); ok {
			n, e.mean, squares = n+1, e.mean+v, squares+v*v
		}
	}
	if n > 0 {
		e.mean /= n
		e.variance = squares/n - e.mean*e.mean
	}
}

// of are the places of a walk; one that the same games passed as the place before it is none.
func (e *edges) of(w *walk.Walk, c *cut) []place {
	var out []place
	tree := c.past.Tree(e.theirs)
	for _, s := range w.Order {
		n := tree.At(s.Key)
		if s.Ply < linePly || n == nil || e.variance <= 0 {
			continue
		}
		p := place{career: e.t.career, theirs: e.theirs, key: s.Key, from: c.from, last: c.from}
		for v := range once(n.Visits) {
			if x, ok := edge(&c.past.Games[v.Game], e.usual, 1); ok {
				p.games, p.edge = p.games+1, p.edge+x-e.mean
			}
		}
		if p.games < resultOf || len(out) > 0 && out[len(out)-1].games == p.games && out[len(out)-1].edge == p.edge {
			continue
		}
		p.z = p.edge / math.Sqrt(p.games*e.variance)
		e.judge(&p)
		out = append(out, p)
	}
	return out
}

// judge sums what came there, less what they gave away elsewhere meanwhile.
func (e *edges) judge(p *place) {
	here := map[int32]bool{}
	for v := range once(e.t.profile.Tree(e.theirs).At(p.key).Visits) {
		x, ok := edge(&e.t.profile.Games[v.Game], e.usual, 1)
		if ok && int(v.Game) >= p.from && p.outcome.games < following {
			p.outcome.games, p.came = p.outcome.games+1, p.came+x
			p.last, here[v.Game] = int(v.Game), true
		}
	}
	sum, n := 0.0, 0.0
	for i := p.from; i <= p.last; i++ {
		g := &e.t.profile.Games[i]
		if x, ok := edge(g, e.usual, 1); ok && g.Theirs == e.theirs && !here[int32(i)] {
			sum, n = sum+x, n+1
		}
	}
	p.said = p.edge / p.games
	p.silent = sum / max(n, 1)
	p.came -= float64(p.outcome.games) * p.silent
	p.silent = 0
}

// once yields the visits of games, each game's first.
func once(visits []profile.Visit) func(yield func(profile.Visit) bool) {
	return func(yield func(profile.Visit) bool) {
		for i, v := range visits {
			if (i == 0 || visits[i-1].Game != v.Game) && !yield(v) {
				return
			}
		}
	}
}

// rule chooses what would be said: of each report the place with the largest z that passes.
type rule struct {
	z, games float64 // at least
	chance   float64 // of such a z at one of the places looked at: at most
	prior    float64 // games of no edge that the place is weighed with
	left     float64 // of the edge, then: at least
}

// rules are those that are tried.
func rules() []rule {
	var out []rule
	for _, z := range [...]float64{1, 1.5, 2, 2.5} {
		for _, games := range [...]float64{5, 10, 20, 40} {
			for _, chance := range [...]float64{math.Inf(1), 0.5, 0.1} {
				for _, s := range [...][2]float64{{250, 0}, {250, 0.01}, {250, 0.02}, {50, 0.05}, {50, 0.08}} {
					out = append(out, rule{z, games, chance, s[0], s[1]})
				}
			}
		}
	}
	return out
}

func (r *rule) passes(p *place) bool {
	return p.z >= r.z && p.games >= r.games && p.edge/(p.games+r.prior) >= r.left &&
		p.looks*math.Erfc(p.z/math.Sqrt2) <= r.chance // both signs are looked at
}

// told are the places that a rule would have said, by career; one that is said again counts
// again once the games that judged it are over.
func (r *rule) told(places []place) map[string][]outcome {
	type again struct {
		career string
		theirs board.Color
		key    uint64
	}
	over, out := map[again]int{}, map[string][]outcome{}
	for from := 0; from < len(places); {
		best, to := -1, from
		for ; to < len(places) && places[to].report == places[from].report; to++ {
			if p := &places[to]; r.passes(p) && (best < 0 || p.z > places[best].z) {
				best = to
			}
		}
		from = to
		if best < 0 {
			continue
		}
		p := &places[best]
		if k := (again{p.career, p.theirs, p.key}); over[k] <= p.from {
			over[k] = p.last + 1
			out[p.career] = append(out[p.career], p.outcome)
		}
	}
	return out
}

const rulesJudged = 8 // places that a rule must have been judged by to be chosen

// printFails prints, for each career, which rule did best on the others, by the mean of what
// came there and by the lower end of its interval, and what these said of the career itself;
// last, what came of every place that the games know.
func printFails(out io.Writer, places []place) {
	all := rules()
	told := make([]map[string][]outcome, len(all))
	careers := map[string]bool{}
	for i := range places {
		careers[places[i].career] = true
	}
	for i := range all {
		told[i] = all[i].told(places)
	}
	t := newTable()
	for _, by := range [...]struct {
		name  string
		width float64
	}{{"the mean", 0}, {"the lower end", 1}} {
		for _, career := range slices.Sorted(maps.Keys(careers)) {
			best := bestOn(told, career, by.width)
			if best < 0 {
				continue
			}
			r := &all[best]
			fmt.Fprintf(out, "%s by %s on the others: z %.1f, %.0f games, chance %.1f, %.2f left beside %.0f games\n",
				career, by.name, r.z, r.games, r.chance, r.left, r.prior)
			for _, o := range told[best][career] {
				t.add("they fail, each career by the rule with the best of the others by "+by.name, o)
			}
		}
	}
	for _, o := range everyPlace(places) {
		t.add("any place with so many games", o)
	}
	t.print(out)
}

// bestOn is the rule that did best on all careers but one, by what came less a part of its
// interval; -1 where none was judged often enough.
func bestOn(told []map[string][]outcome, but string, width float64) int {
	best, most := -1, math.Inf(-1)
	for i := range told {
		r := sumUp(others(told[i], but))
		if v := r.came - width*r.off; r.judged >= rulesJudged && v > most {
			best, most = i, v
		}
	}
	return best
}

// everyPlace is every place, again once the games that judged it are over.
func everyPlace(places []place) []outcome {
	every := rule{z: math.Inf(-1), chance: math.Inf(1), left: math.Inf(-1)}
	alone := slices.Clone(places)
	for i := range alone {
		alone[i].report = fmt.Sprint(i)
	}
	return others(every.told(alone), "")
}

// others are the outcomes of all careers but one.
func others(of map[string][]outcome, but string) []outcome {
	var out []outcome
	for _, career := range slices.Sorted(maps.Keys(of)) {
		if career != but {
			out = append(out, of[career]...)
		}
	}
	return out
}
