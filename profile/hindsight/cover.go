package hindsight

import (
	"cmp"
	"math/rand/v2"
	"slices"

	"foreply/profile"
	"foreply/profile/board"
	"foreply/profile/stat"
)

const (
	ahead     = 10   // visits that an interval is judged by
	leastP    = 0.03 // a known move with less is not judged
	leastNew  = 0.005
	tail      = 0.1 // what the 80 % interval leaves on either side
	seedCover = 20260101
)

// firstJudged are the visits after which a position's intervals are judged, and
// on by half as many again.
var firstJudged = [...]int{1, 2, 3, 5, 8, 12}

func judgedAt(visit int) bool {
	if slices.Contains(firstJudged[:], visit) {
		return true
	}
	n := firstJudged[len(firstJudged)-1]
	for n < visit {
		n += n / 2
	}
	return n == visit
}

// Interval is one 80 % interval of a share and what came: in the next ten visits
// a move of share P, held as Beta(P*s, (1-P)*s), came Hits times.
type Interval struct {
	P, Strength float64
	Fresh       float64 // share of something new in the same forecast
	Visits      int     // known at the forecast
	Hits        int
	New         bool
	U           float64 // random, 0..1
}

// levels are the most visits of each level of evidence; beyond is the last.
var levels = [...]int{1, 3, 8, 27}

// Level is how the intervals held that rest on From or more visits, up to the
// next level.
type Level struct {
	From     int     `json:"from"`
	Coverage float64 `json:"coverage80"` // 0 of none
	N        int     `json:"intervals"`
}

// Level is the number of the interval's level of evidence, from 0.
func (i *Interval) Level() int {
	at, _ := slices.BinarySearch(levels[:], i.Visits)
	return at
}

func byLevel(intervals []Interval) []Level {
	out := []Level{{From: 1}}
	for _, most := range levels {
		out = append(out, Level{From: most + 1})
	}
	for i := range intervals {
		v := &intervals[i]
		at := v.Level()
		out[at].N++
		if v.Covered(v.Strength) {
			out[at].Coverage++
		}
	}
	for i := range out {
		out[i].Coverage /= float64(max(out[i].N, 1))
	}
	return out
}

// trial is a forecast whose intervals are judged by the next visits.
type trial struct {
	pos       board.Position
	next      []profile.Visit
	intervals []Interval
}

// cover judges the intervals, over whole careers only. They come in the order of
// the tree and are forecast in that of time, so that the games need weighing once
// for each day.
func (t *test) cover() {
	if t.opt.Last > 0 || t.opt.UpTo > 0 {
		return
	}
	trials := t.trials()
	inTime := make([]*trial, len(trials))
	for i := range trials {
		inTime[i] = &trials[i]
	}
	slices.SortStableFunc(inTime, func(a, b *trial) int {
		g, h := t.gameOf(a), t.gameOf(b)
		return cmp.Or(cmp.Compare(g.Span.First, h.Span.First), cmp.Compare(g.Span.Last, h.Span.Last), cmp.Compare(g.Class, h.Class))
	})
	var last *profile.Game
	var look *profile.Outlook
	for _, r := range inTime {
		if t.ctx.Err() != nil {
			return
		}
		if g := t.gameOf(r); last == nil || g.Span != last.Span || g.Class != last.Class {
			look, last = t.forecast.For(g.Span, g.Class), g
		}
		if look.Known() >= t.opt.Known {
			r.judge(look)
		}
	}
	random := rand.New(rand.NewPCG(seedCover, uint64(t.theirs)))
	for i := range trials {
		for _, interval := range trials[i].intervals {
			interval.U = random.Float64()
			t.tally.addInterval(interval)
		}
	}
}

// trials lists where intervals are judged: at visits with so many behind them.
func (t *test) trials() []trial {
	var out []trial
	for pos, node := range t.profile.Tree(t.theirs).All() {
		if pos.Turn() != t.theirs {
			continue
		}
		visits := node.Visits
		for n := 1; n+ahead <= len(visits); n++ {
			if judgedAt(n) && int(visits[n].Ply) < profile.ScoredPlies {
				out = append(out, trial{pos: pos, next: visits[n : n+ahead]})
			}
		}
	}
	return out
}

// gameOf is the game of the forecast: that of the first of the next visits.
func (t *test) gameOf(r *trial) *profile.Game { return &t.profile.Games[r.next[0].Game] }

// judge notes the intervals of the forecast and how often each of its moves, and
// something new, came.
func (r *trial) judge(look *profile.Outlook) {
	e := look.Shares(&r.pos)
	if e.Visits == 0 {
		return
	}
	came := map[board.Move]int{}
	fresh := len(r.next)
	for _, v := range r.next {
		came[v.Move]++
	}
	for _, l := range e.Moves {
		if l.N == 0 {
			continue
		}
		fresh -= came[l.Move]
		if l.P >= leastP {
			r.intervals = append(r.intervals, Interval{P: l.P, Fresh: e.Unseen.P, Visits: e.Visits, Strength: e.Strength, Hits: came[l.Move]})
		}
	}
	if e.Unseen.P >= leastNew {
		r.intervals = append(r.intervals, Interval{P: e.Unseen.P, Fresh: e.Unseen.P, Visits: e.Visits, Strength: e.Strength, Hits: fresh, New: true})
	}
}

// Covered reports whether the interval, widened or narrowed to a strength,
// covers what came, by the randomised probability integral: F(k-1) + u*f(k) of
// the beta-binomial lies within 0.1..0.9.
func (i *Interval) Covered(strength float64) bool {
	f := stat.BetaBinomial(ahead, i.P*strength, (1-i.P)*strength)
	below := 0.0
	for k := range i.Hits {
		below += f[k]
	}
	pit := below + i.U*f[i.Hits]
	return pit >= tail && pit <= 1-tail
}
