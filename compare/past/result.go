package past

import (
	"foreply/profile/hindsight"
)

// Result is the outcome of a Test, or of several pooled.
type Result struct {
	Given   bool    `json:"repertoire"` // the user's; else what the opponent's other players usually did
	Sheets  int     `json:"sheets"`     // one on each day of the test
	Games   int     `json:"games"`      // after it that came to a choice of theirs in the book
	Decided int     `json:"decided"`    // of these the user's side kept to the book to the end of a line
	First   Parting `json:"first"`      // the first choice of theirs that a sheet shows
	Deeper  Parting `json:"deeper"`     // those behind it
	// Lines are the lines to expect, by how likely they were said to be, each held against
	// each game choice by choice; what came has its 95 % interval.
	Lines   []hindsight.Bin `json:"lines"`
	Expect  *hindsight.Bin  `json:"expect,omitempty"` // the line that 'tonight' expects; none without one
	Changes Changes         `json:"changes"`

	first, deeper part
	lines         [len(lineEdges) + 1]limit
	expect        limit
	changes       changed
}

// Parting is a choice of theirs as a sheet shows it: the moves with their shares, and
// all others.
type Parting struct {
	N     int             `json:"n"`     // games that came there
	Right int             `json:"right"` // in which the likeliest move came
	Told  []hindsight.Bin `json:"told"`  // shares that are told, by tenth
	All   []hindsight.Bin `json:"all"`   // and those hardly known
}

// Changes counts what was told as changed, each once.
type Changes struct {
	Told   int `json:"told"`
	Judged int `json:"judged"` // with three games or more at the place later
	Held   int `json:"held"`   // the next ten were nearer to those since than to those before
}

type changed struct{ told, n, held int }

// Enough are the cases from which said and came are held against each other, Seldom is
// what a line to expect must have been said to be told.
const (
	Enough = 20
	Seldom = 0.05
)

// tenths and lineEdges are the upper ends of bins.
var (
	tenths    = [...]float64{.1, .2, .3, .4, .5, .6, .7, .8, .9}
	lineEdges = [...]float64{Seldom, .12, .2, .3, .5}
)

func newResult() Result {
	var r Result
	for _, s := range [...]*scale{&r.first.said, &r.first.all, &r.deeper.said, &r.deeper.all} {
		s.edges = tenths[:]
	}
	return r
}

// Pool joins results as if all were of one test.
func Pool(results ...Result) Result {
	out := newResult()
	for i := range results {
		o := &results[i]
		out.Given = out.Given || o.Given
		out.Sheets += o.Sheets
		out.Games += o.Games
		out.Decided += o.Decided
		out.first.merge(&o.first)
		out.deeper.merge(&o.deeper)
		for bin := range out.lines {
			out.lines[bin].merge(&o.lines[bin])
		}
		out.expect.merge(&o.expect)
		out.changes.told += o.changes.told
		out.changes.n += o.changes.n
		out.changes.held += o.changes.held
	}
	out.sumUp()
	return out
}

func (r *Result) sumUp() {
	r.First, r.Deeper = r.first.parting(), r.deeper.parting()
	r.Lines = []hindsight.Bin{}
	for i := range r.lines {
		if r.lines[i].told() {
			r.Lines = append(r.Lines, r.lines[i].bin())
		}
	}
	if r.expect.told() {
		bin := r.expect.bin()
		r.Expect = &bin
	}
	r.Changes = Changes{Told: r.changes.told, Judged: r.changes.n, Held: r.changes.held}
}

func (t *part) parting() Parting {
	return Parting{N: t.n, Right: t.right, Told: t.said.list(), All: t.all.list()}
}

func (s *scale) list() []hindsight.Bin {
	out := []hindsight.Bin{}
	for i := range s.bins {
		if s.bins[i].n > 0 {
			out = append(out, s.bins[i].bin())
		}
	}
	return out
}

func (b *sums) bin() hindsight.Bin { return hindsight.NewBin(b.p, b.came, b.n) }
