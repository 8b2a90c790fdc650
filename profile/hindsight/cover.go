package hindsight

import (
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

// Interval is one 80 % interval and what came: in the next ten visits a move
// with probability P, held as Beta(P*s, (1-P)*s), came Hits times.
type Interval struct {
	P, Strength float64
	Hits        int
	New         bool
	U           float64 // random, 0..1
}

// cover judges the intervals, over whole careers only.
func (t *test) cover() {
	if t.opt.Last > 0 || t.opt.UpTo > 0 {
		return
	}
	random := rand.New(rand.NewPCG(seedCover, uint64(t.theirs)))
	for pos, node := range t.profile.Tree(t.theirs).All() {
		if t.ctx.Err() != nil {
			return
		}
		if pos.Turn() != t.theirs {
			continue
		}
		visits := node.Visits
		for n := 1; n+ahead <= len(visits); n++ {
			if judgedAt(n) {
				t.coverAt(&pos, visits[n:n+ahead], random)
			}
		}
	}
}

// coverAt judges the forecast before the first of the next visits.
func (t *test) coverAt(pos *board.Position, next []profile.Visit, random *rand.Rand) {
	if int(next[0].Ply) >= profile.ScoredPlies {
		return
	}
	g := &t.profile.Games[next[0].Game]
	look := t.outlook(g)
	if look.Known() < t.opt.Known {
		return
	}
	e := look.Chances(pos)
	if e.Visits == 0 {
		return
	}
	came := map[board.Move]int{}
	fresh := len(next)
	for _, v := range next {
		came[v.Move]++
	}
	judge := func(p float64, hits int, new bool) {
		t.tally.addInterval(Interval{
			P: p, Strength: e.Strength, Hits: hits, New: new, U: random.Float64(),
		})
	}
	for _, l := range e.Moves {
		if l.N == 0 {
			continue
		}
		fresh -= came[l.Move]
		if l.P >= leastP {
			judge(l.P, came[l.Move], false)
		}
	}
	if e.Unseen.P >= leastNew {
		judge(e.Unseen.P, fresh, true)
	}
}

// outlook keeps the last one: positions are judged in the order of the tree, so
// one game's day comes again and again.
func (t *test) outlook(g *profile.Game) *profile.Outlook {
	key := day{g.Span, g.Class}
	if t.looks == nil {
		t.looks = map[day]*profile.Outlook{}
	}
	look := t.looks[key]
	if look == nil {
		look = t.forecast.For(g.Span, g.Class)
		t.looks[key] = look
	}
	return look
}

type day struct {
	profile.Span
	profile.Class
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
