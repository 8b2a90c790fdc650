package main

import (
	"context"
	"fmt"
	"io"
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

// without is the index of no career.
const without = -1

func (f *fitter) run(base profile.Model) {
	f.done = map[profile.Model][]judged{}
	folds := len(f.careers)
	models := make([]profile.Model, folds+1) // by the career left out; the last is chosen on all
	for k := range models {
		models[k] = base
	}
	fmt.Fprintf(f.out, "| choice | on all | on the others, by the career left out | gain left out, %% of raw: all | %s |\n", f.names())
	fmt.Fprintf(f.out, "|---|---|---|---|%s\n", repeat("---|", folds))
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
	f.steps(models)
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
// moves.
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
	text := ""
	for i, c := range f.careers {
		if i > 0 {
			text += " | "
		}
		text += c.name
	}
	return text
}

func repeat(s string, n int) (out string) {
	for range n {
		out += s
	}
	return out
}

func (f *fitter) row(name, onAll string, folds []string, before, after losses) {
	fmt.Fprintf(f.out, "| %s | %s | %s | %.2f |", name, onAll, joined(folds), 100*(before.total()-after.total()))
	for k := range f.careers {
		fmt.Fprintf(f.out, " %.2f |", 100*(before.of(k)-after.of(k)))
	}
	fmt.Fprintln(f.out)
}

func joined(names []string) (out string) {
	for i, n := range names {
		if i > 0 {
			out += ", "
		}
		out += n
	}
	return out
}

// steps prints the step for new moves with each career left out and fitted on
// all, with and without the ply term, and the figures of the career left out.
func (f *fitter) steps(models []profile.Model) {
	for k := range models {
		name := "all"
		if k < len(f.careers) {
			name = "without " + f.careers[k].name
		}
		all := f.judge(models[k])
		groups := pick(all, f.others(k))
		fmt.Fprintf(f.out, "%-18s step %.3f, plain step %.3f\n", name, fitStep(groups, true), fitStep(groups, false))
	}
	l := f.leftOut(models)
	for r := range regimes {
		one, raw, n := 0.0, 0.0, 0.0
		for k, c := range f.careers {
			all := f.judge(models[k])
			size := float64(len(all[k][r]))
			fmt.Fprintf(f.out, "%s, regime %d: %.4f bits, raw %.4f (%+.2f %%)\n", c.name, r, l[k][r][0]/size, l[k][r][1]/size, 100*(l[k][r][0]/l[k][r][1]-1))
			one, raw, n = one+l[k][r][0], raw+l[k][r][1], n+size
		}
		fmt.Fprintf(f.out, "pooled, regime %d: %.4f bits, raw %.4f (%+.2f %%)\n", r, one/n, raw/n, 100*(one/raw-1))
	}
}
