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
// careers, one choice after the other, and the common numbers of the last step are
// fitted to them; the career left out is judged by what came out. What is shipped is
// chosen on all, and only where it also gained on the careers left out.

// regimes are the parts of the protocol that the fit looks at, of equal weight: whole
// careers, and histories of 12 and 40 games.
type regimes [3]hindsight.Options

// regimesOf judges histories of few games before one game in every, whole careers
// before each.
func regimesOf(every int) regimes {
	return regimes{{}, {Last: 12, Every: every}, {Last: 40, Every: every}}
}

const fittedEvery = 12 // games of which one is fitted on

// gainLeast is the gain, as a part of the plain counts' bits, from which a value
// is chosen in place of the published one.
const gainLeast = 0.0005

// judged are a career's samples in each regime.
type judged [len(regimes{})][]sample

// fitter keeps what was computed: the careers left out share most models.
type fitter struct {
	careers []*career
	peered  bool
	peers   []*profile.Peers // by career, nil without
	done    map[profile.Model][]judged
	out     io.Writer
	fitted  regimes
	judged  regimes // of careers left out
}

func newFitter(careers []*career, peers bool, every int, out io.Writer) *fitter {
	f := &fitter{out: out, fitted: regimesOf(fittedEvery), judged: regimesOf(every), peered: peers, done: map[profile.Model][]judged{}}
	for c, like := range each(careers, peers) {
		f.careers, f.peers = append(f.careers, c), append(f.peers, like)
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
	f.refit(models[folds])
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
// counts', pooled over some careers, with the last step fitted to them.
func (f *fitter) loss(m profile.Model, on []int) float64 {
	all := f.judge(m)
	numbers := fitTerms(pick(all, on))
	sum := 0.0
	for r := range len(regimes{}) {
		one, raw := 0.0, 0.0
		for _, i := range on {
			o, w := bits(all[i][r], numbers)
			one, raw = one+o, raw+w
		}
		sum += one / raw / float64(len(regimes{}))
	}
	return sum
}

// pick joins the samples of some careers by regime.
func pick(all []judged, on []int) (groups [][]sample) {
	for r := range len(regimes{}) {
		var group []sample
		for _, i := range on {
			group = append(group, all[i][r]...)
		}
		groups = append(groups, group)
	}
	return groups
}

// losses are one-event and plain bits by career and regime.
type losses [][len(regimes{})][2]float64

// leftOut judges each career by the model and the common numbers of the others.
func (f *fitter) leftOut(models []profile.Model) losses {
	out := make(losses, len(f.careers))
	for k := range f.careers {
		all := f.judge(models[k])
		numbers := fitTerms(pick(all, f.others(k)))
		for r := range f.fitted {
			out[k][r][0], out[k][r][1] = bits(all[k][r], numbers)
		}
	}
	return out
}

func (l losses) total() float64 {
	sum := 0.0
	for r := range len(regimes{}) {
		one, raw := 0.0, 0.0
		for k := range l {
			one, raw = one+l[k][r][0], raw+l[k][r][1]
		}
		sum += one / raw / float64(len(regimes{}))
	}
	return sum
}

func (l losses) of(k int) float64 { return l[k : k+1].total() }

// judge runs the test of every career under a model whose last step does nothing.
func (f *fitter) judge(m profile.Model) []judged {
	plain := m.Plain.Terms
	m.Loose, m.Plain.Terms, m.Peers.Terms = profile.Terms{}, profile.Terms{}, profile.Terms{}
	if got := f.done[m]; got != nil {
		return got
	}
	got := make([]judged, len(f.careers))
	var all sync.WaitGroup
	for i, c := range f.careers {
		for r, opt := range f.fitted {
			opt.Model, opt.Peers = &m, f.peers[i]
			opt.Each = func(p *hindsight.Prediction) { got[i][r] = append(got[i][r], newSample(p, f.peered, &plain)) }
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

// refit fits the common numbers of the last step for each career left out, judges it
// by them and by what the opponent's own games teach, and fits shares of the coming
// games and widths of intervals, again on the others.
func (f *fitter) refit(m profile.Model) {
	judged := f.judge(m)
	models := f.models(m)
	for k := range models {
		numbers := fitTerms(pick(judged, f.others(k)))
		fmt.Fprintf(f.out, "%-18s %.3f\n", f.fold(k), numbers)
		if f.peered {
			models[k].Peers.Terms = numbers
		} else {
			models[k].Plain.Terms = numbers
		}
	}
	results := f.leftOutResults(models)
	var w widths
	for k := range f.careers {
		w = append(w, results[k][0].Intervals())
	}
	for r, opt := range f.judged {
		fmt.Fprintf(f.out, "last %d, one game in %d\n", opt.Last, max(opt.Every, 1))
		var all []hindsight.Result
		for k, c := range f.careers {
			line(f.out, c.name, results[k][r].Pooled)
			all = append(all, results[k][r])
		}
		line(f.out, "pooled", hindsight.Pool(all...).Pooled)
	}
	f.refitWidths(w)
}

// leftOutResults are the results of each career in each regime under the model fitted
// on the others, with shares of coming games as those of the next.
func (f *fitter) leftOutResults(models []profile.Model) [][len(regimes{})]hindsight.Result {
	out := make([][len(regimes{})]hindsight.Result, len(f.careers))
	var all sync.WaitGroup
	for k, c := range f.careers {
		m := models[k]
		for _, r := range [...]*profile.Refinement{&m.Plain, &m.Peers} {
			r.AheadShift, r.AheadSlope, r.PerRoot, r.Bonus = 0, 1, 1, 0
		}
		for r, opt := range f.judged {
			opt.Model, opt.Peers = &m, f.peers[k]
			all.Go(func() { out[k][r], _ = hindsight.Test(context.Background(), c.profile, opt) }) // no context ends here
		}
	}
	all.Wait()
	return out
}

// refitWidths fits the step from the next game to ten and the widths of intervals.
func (f *fitter) refitWidths(w widths) {
	fmt.Fprintln(f.out, "\n| fitted on | ten ahead | width | covers there: all, by visits 1, 2-3, 4-8, 9-27, 28 and more | and the career left out |")
	fmt.Fprintln(f.out, "|---|---|---|---|---|")
	var leftOut covered
	for k := range len(f.careers) + 1 {
		shift, slope := w.fitAhead(f.others(k))
		ahead := w.ahead(shift, slope)
		fitted := ahead.fit(f.others(k))
		fmt.Fprintf(f.out, "| %s | %.2f %.2f | %.2f %.2f | %s |", f.fold(k), shift, slope, fitted.per, fitted.bonus, ahead.coverage(f.others(k), fitted))
		if k < len(f.careers) {
			one := ahead.coverage([]int{k}, fitted)
			fmt.Fprintf(f.out, " %s |", one)
			leftOut.merge(&one)
		}
		fmt.Fprintln(f.out)
	}
	fmt.Fprintf(f.out, "| pooled |  |  |  | %s |\n", leftOut)
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

// fitAhead fits the step from the next game to ten: a logistic regression of how
// many of the next ten visits brought something new.
func (w widths) fitAhead(on []int) (shift, slope float64) {
	var samples []sample
	for _, i := range on {
		for _, v := range w[i] {
			if !v.New || !(v.P > 0 && v.P < 1) {
				continue
			}
			fresh := profile.Outcome{}
			fresh.X[0], fresh.X[1] = 1, math.Log(v.P/(1-v.P))
			for k := range visitsJudged {
				s := sample{outcomes: []profile.Outcome{{}, fresh}}
				if k < v.Hits {
					s.came = 1
				}
				samples = append(samples, s)
			}
		}
	}
	numbers := fitTerms([][]sample{samples})
	return numbers[0], numbers[1]
}

// ahead takes the step: what is new has its share, the rest what that leaves.
func (w widths) ahead(shift, slope float64) widths {
	out := make(widths, len(w))
	for i := range w {
		out[i] = slices.Clone(w[i])
		for k := range out[i] {
			v := &out[i][k]
			if !(v.Fresh > 0 && v.Fresh < 1) {
				continue
			}
			share := 1 / (1 + math.Exp(-shift-slope*math.Log(v.Fresh/(1-v.Fresh))))
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
			for level := 1; level < len(levels); level++ {
				off = max(off, math.Abs(levels.share(level)-0.8))
			}
			if off < least {
				best, least = try, off
			}
		}
	}
	return best
}

// covered counts all intervals and those that held, and the same by level of evidence.
type covered [6]struct{ n, held int }

func (c *covered) merge(o *covered) {
	for i := range c {
		c[i].n, c[i].held = c[i].n+o[i].n, c[i].held+o[i].held
	}
}

func (w widths) coverage(on []int, x width) (c covered) {
	for _, i := range on {
		for _, v := range w[i] {
			held := v.Covered(x.per*v.Strength + x.bonus)
			for _, at := range [...]int{0, 1 + v.Level()} {
				c[at].n++
				if held {
					c[at].held++
				}
			}
		}
	}
	return c
}

func (c covered) String() string {
	var text []string
	for i := range c {
		text = append(text, fmt.Sprintf("%.3f", c.share(i)))
	}
	return strings.Join(text, " ")
}

func (c *covered) share(level int) float64 {
	return float64(c[level].held) / float64(max(c[level].n, 1))
}

// visitsJudged is how many visits an interval of the protocol looks ahead.
const visitsJudged = 10
