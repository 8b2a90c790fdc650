package main

import (
	"context"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"sync"

	"foreply/profile"
	"foreply/profile/hindsight"
)

// The fit picks the numbers of the model from small grids, on other players than
// those it judges: for each career in turn the numbers are chosen on the other
// careers, one choice after the other, and the step for new moves is fitted to
// them; the career left out is judged by what came out. What is shipped is
// chosen on all, and only where it also gained on the careers left out.

// regimes are the parts of the protocol that the fit looks at: whole careers,
// and histories of 25 games, of equal weight.
var regimes = [...]hindsight.Options{{}, {Last: 25}}

// gainLeast is the gain, as a part of the plain counts' bits, from which a value
// is chosen in place of the published one.
const gainLeast = 0.0005

// judged are a career's samples in each regime.
type judged [len(regimes)][]sample

// fitter keeps what was computed: the careers left out share most models.
type fitter struct {
	careers []*career
	peers   []*profile.Peers
	done    map[profile.Model][]judged
	out     io.Writer
}

func newFitter(careers []*career, peers bool, out io.Writer) *fitter {
	f := &fitter{out: out, done: map[profile.Model][]judged{}}
	for _, c := range careers {
		if c.profile == nil {
			continue
		}
		var with *profile.Peers
		if peers {
			with = c.peers(careers)
		}
		f.careers, f.peers = append(f.careers, c), append(f.peers, with)
	}
	return f
}

// models are the model by the career left out; the last is chosen on all.
func (f *fitter) models(m profile.Model) []profile.Model {
	return slices.Repeat([]profile.Model{m}, len(f.careers)+1)
}

// choose tries all choices from a model on, and fits the rest to the outcome.
func (f *fitter) run(base profile.Model) {
	folds := len(f.careers)
	models := f.models(base)
	fmt.Fprintf(f.out, "| choice | on all | on the others, by the career left out | gain left out, %% of raw: all | %s |\n", f.names())
	fmt.Fprintf(f.out, "|---|---|---|---|%s\n", strings.Repeat("---|", folds))
	before := f.leftOut(models)
	f.row("(published numbers)", "", nil, before, before)
	for _, c := range choices() {
		names := make([]string, folds+1)
		trial := make([]profile.Model, folds+1)
		for k := range models {
			trial[k], names[k] = f.choose(models[k], &c, f.others(k))
		}
		after := f.leftOut(trial)
		f.row(c.name, names[folds], names[:folds], before, after)
		if after.total() < before.total()-gainLeast {
			models, before = trial, after
		}
	}
	f.refit(models)
}

// others are the careers that fold k is fitted on.
func (f *fitter) others(k int) []int {
	var out []int
	for i := range f.careers {
		if i != k {
			out = append(out, i)
		}
	}
	return out
}

// choose returns the model with the best value of a choice on some careers.
func (f *fitter) choose(m profile.Model, c *choice, on []int) (profile.Model, string) {
	best, name, loss := m, "published", f.loss(m, on)-gainLeast
	for _, v := range c.values {
		try := m
		v.set(&try)
		if l := f.loss(try, on); l < loss {
			best, name, loss = try, v.name, l
		}
	}
	return best, name
}

// loss is the mean over the regimes of the one-event bits over the plain
// counts', pooled over some careers, with the step fitted to them.
func (f *fitter) loss(m profile.Model, on []int) float64 {
	all := f.judge(m)
	step := fitStep(pick(all, on), true)
	sum := 0.0
	for r := range regimes {
		one, raw := 0.0, 0.0
		for _, i := range on {
			o, w := bits(all[i][r], step)
			one, raw = one+o, raw+w
		}
		sum += one / raw / float64(len(regimes))
	}
	return sum
}

func pick(all []judged, on []int) (groups [][]sample) {
	for _, i := range on {
		groups = append(groups, all[i][:]...)
	}
	return groups
}

// losses are one-event and plain bits by career and regime.
type losses [][len(regimes)][2]float64

// leftOut judges each career by the model and the step of the others.
func (f *fitter) leftOut(models []profile.Model) losses {
	out := make(losses, len(f.careers))
	for k := range f.careers {
		all := f.judge(models[k])
		step := fitStep(pick(all, f.others(k)), true)
		for r := range regimes {
			out[k][r][0], out[k][r][1] = bits(all[k][r], step)
		}
	}
	return out
}

func (l losses) total() float64 {
	sum := 0.0
	for r := range regimes {
		one, raw := 0.0, 0.0
		for k := range l {
			one, raw = one+l[k][r][0], raw+l[k][r][1]
		}
		sum += one / raw / float64(len(regimes))
	}
	return sum
}

func (l losses) of(k int) float64 { return l[k : k+1].total() }

// judge runs the test of every career under a model without a step for new
// moves, which is what a player's own leaning is measured against.
func (f *fitter) judge(m profile.Model) []judged {
	m.Plain, m.Peers = profile.Refinement{NewSlope: 1, Bonus: 1}, profile.Refinement{NewSlope: 1, Bonus: 1}
	if got := f.done[m]; got != nil {
		return got
	}
	got := make([]judged, len(f.careers))
	var all sync.WaitGroup
	for i, c := range f.careers {
		for r, opt := range regimes {
			opt.Model, opt.Peers = &m, f.peers[i]
			opt.Each = func(p *hindsight.Prediction) { got[i][r] = append(got[i][r], newSample(p)) }
			all.Go(func() { hindsight.Test(context.Background(), c.profile, opt) })
		}
	}
	all.Wait()
	f.done[m] = got
	return got
}

func (f *fitter) names() string {
	var names []string
	for _, c := range f.careers {
		names = append(names, c.name)
	}
	return strings.Join(names, " | ")
}

func (f *fitter) row(name, onAll string, folds []string, before, after losses) {
	fmt.Fprintf(f.out, "| %s | %s | %s | %.2f |", name, onAll, strings.Join(folds, ", "), 100*(before.total()-after.total()))
	for k := range f.careers {
		fmt.Fprintf(f.out, " %.2f |", 100*(before.of(k)-after.of(k)))
	}
	fmt.Fprintln(f.out)
}

// refit fits the step for new moves and the width of intervals under a model
// for each career left out, and on all, and judges the careers left out.
func (f *fitter) refit(models []profile.Model) {
	fmt.Fprintln(f.out, "\n| fitted on | shift, slope, ply | without a ply term | ten ahead | width | covers there: all, by visits 1, 2-3, 4-8, 9-27, 28 and more | career left out | whole: bits | of raw | last 25: bits | of raw | covers |")
	fmt.Fprintln(f.out, "|---|---|---|---|---|---|---|---|---|---|---|---|")
	l := f.leftOut(models)
	var sums [len(regimes)][3]float64
	for k := range models {
		all := f.judge(models[k])
		groups := pick(all, f.others(k))
		s, plain := fitStep(groups, true), fitStep(groups, false)
		w := f.widths(models[k], s)
		a := w.fitAhead(f.others(k))
		w = w.ahead(a)
		fitted := w.fit(f.others(k))
		fmt.Fprintf(f.out, "| %s | %.2f %.2f %.3f | %.2f %.2f | %.2f %.2f | %.2f %.2f | %s |",
			f.fold(k), s[0], s[1], s[2], plain[0], plain[1], a[0], a[1], fitted.per, fitted.bonus, w.levels(f.others(k), fitted))
		if k == len(f.careers) {
			break
		}
		fmt.Fprintf(f.out, " %s |", f.careers[k].name)
		for r := range regimes {
			n := float64(len(all[k][r]))
			fmt.Fprintf(f.out, " %.4f | %+.2f %% |", l[k][r][0]/n, 100*(l[k][r][0]/l[k][r][1]-1))
			for i, x := range [...]float64{l[k][r][0], l[k][r][1], n} {
				sums[r][i] += x
			}
		}
		fmt.Fprintf(f.out, " %s |\n", w.levels([]int{k}, fitted))
	}
	fmt.Fprint(f.out, " pooled |")
	for _, x := range sums {
		fmt.Fprintf(f.out, " %.4f | %+.2f %% |", x[0]/x[2], 100*(x[0]/x[1]-1))
	}
	fmt.Fprintln(f.out, " |")
}

func (f *fitter) fold(k int) string {
	if k < len(f.careers) {
		return "all but " + f.careers[k].name
	}
	return "all"
}

// widths are the intervals of whole careers, each with the root of its effective
// visits in place of its strength.
type widths [][]hindsight.Interval

func (f *fitter) widths(m profile.Model, s step) widths {
	for _, r := range [...]*profile.Refinement{&m.Plain, &m.Peers} {
		*r = profile.Refinement{NewShift: s[0], NewSlope: s[1], NewPly: s[2], NewHold: r.NewHold, AheadSlope: 1, PerRoot: 1}
	}
	out := make(widths, len(f.careers))
	var all sync.WaitGroup
	for i, c := range f.careers {
		all.Go(func() {
			r, _ := hindsight.Test(context.Background(), c.profile, hindsight.Options{Model: &m, Peers: f.peers[i]}) // no context ends here
			out[i] = r.Intervals()
		})
	}
	all.Wait()
	return out
}

// fitAhead fits the step from the next game to ten: a logistic regression of how
// many of the next ten visits brought something new.
func (w widths) fitAhead(on []int) step {
	var samples []sample
	for _, i := range on {
		for _, v := range w[i] {
			if !v.New || !(v.P > 0 && v.P < 1) {
				continue
			}
			for k := range visitsJudged {
				samples = append(samples, sample{logit: math.Log(v.P / (1 - v.P)), fresh: k < v.Hits})
			}
		}
	}
	return fitStep([][]sample{samples}, false)
}

// ahead takes the step: what is new has its share, the rest what that leaves.
func (w widths) ahead(a step) widths {
	out := make(widths, len(w))
	for i := range w {
		out[i] = slices.Clone(w[i])
		for k := range out[i] {
			v := &out[i][k]
			if !(v.Fresh > 0 && v.Fresh < 1) {
				continue
			}
			share := 1 / (1 + math.Exp(-a[0]-a[1]*math.Log(v.Fresh/(1-v.Fresh))))
			if v.New {
				v.P = share
			} else {
				v.P *= (1 - share) / (1 - v.Fresh)
			}
			v.Fresh = share
		}
	}
	return out
}

// width is how an interval's strength follows from the root of its effective
// visits.
type width struct{ per, bonus float64 }

// fit finds the width whose coverage lies nearest to 80 % at the level of
// evidence where it is off the most.
func (w widths) fit(on []int) (best width) {
	least := math.Inf(1)
	for per := 0.5; per < 1.65; per += 0.1 {
		for _, bonus := range [...]float64{0, 0.25, 0.5} {
			try, off := width{per, bonus}, 0.0
			levels := w.coverage(on, try)
			for _, c := range levels[1:] {
				off = max(off, math.Abs(c-0.8))
			}
			if off < least {
				best, least = try, off
			}
		}
	}
	return best
}

// coverage of all intervals, and of those of each level of evidence.
func (w widths) coverage(on []int, x width) [6]float64 {
	var n, held [6]float64
	for _, i := range on {
		for _, v := range w[i] {
			at := 1 + v.Level()
			n[0], n[at] = n[0]+1, n[at]+1
			if v.Covered(x.per*v.Strength + x.bonus) {
				held[0], held[at] = held[0]+1, held[at]+1
			}
		}
	}
	for i := range held {
		held[i] /= max(n[i], 1)
	}
	return held
}

func (w widths) levels(on []int, x width) string {
	var text []string
	for _, c := range w.coverage(on, x) {
		text = append(text, fmt.Sprintf("%.3f", c))
	}
	return strings.Join(text, " ")
}

// visitsJudged is how many visits an interval of the protocol looks ahead.
const visitsJudged = 10
