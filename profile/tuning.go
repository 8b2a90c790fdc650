package profile

import (
	"cmp"
	"math"
	"slices"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

const (
	// ScoredPlies is how deep forecasts are tested and tuned, in plies.
	ScoredPlies = 24
	// tunedFrom is how many games must be known before a game is replayed for
	// the tuning; rankedFrom the same where games of one day know each other.
	tunedFrom  = 4
	rankedFrom = 2
)

// tuning holds how well each setting would have forecast the opponent's own
// games, summed over the games in order of their latest possible day.
//
// Each game is replayed twice: knowing the games that are certainly earlier, and
// knowing as well those of the very day that stand before it. The second is all
// there is where a short history lies within a day or two; it makes too much of
// the last few games where there is more (FIT.md), so it yields (byRank).
type tuning struct {
	lasts []pgn.Day // latest possible day of the game
	sums  []replayed
}

// replayed sums up replays.
type replayed struct {
	days, ranks []float64 // ln P by setting: knowing earlier days; knowing earlier games
	moves       int       // that days sums up
	novelty     novelty
}

// novelty compares how often something new came in replays by rank with how
// often the settings said so together.
type novelty struct {
	more float64 // something new that came, less what was said of it
	held float64 // sum of p(1-p)
}

// tune replays the dated games of the colour, up to and with the first move that
// was new at its position.
func (f *Forecast) tune() tuning {
	var rows []tuned
	var w *weighing
	o := &Outlook{f: f}
	moves := 0
	for i := range f.profile.Games {
		g := &f.profile.Games[i]
		if !g.Span.Known() || g.Theirs != f.tree.Theirs {
			continue
		}
		if w == nil || w.when != g.Span {
			w = f.weigh(g.Span, 0)
		}
		row := tuned{last: g.Span.Last}
		o.class, o.classes = g.Class, f.model.classWeights(g.Class)
		if w.known >= tunedFrom {
			o.weighing = *w
			row.days, row.novelty, row.moves = o.replay(g)
		}
		if moves < f.model.RankMoves {
			f.rank(o, w, i, &row)
		}
		moves += row.moves
		rows = append(rows, row)
	}
	return sumUp(rows)
}

// rank replays game i knowing those of its day before it, too.
func (f *Forecast) rank(o *Outlook, byDay *weighing, i int, row *tuned) {
	g := &f.profile.Games[i]
	w := f.weigh(g.Span, i)
	switch {
	case w.known == byDay.known:
		row.ranks = row.days
	case w.known >= rankedFrom:
		o.weighing = *w
		row.ranks, row.novelty, _ = o.replay(g)
	}
}

type tuned struct {
	last pgn.Day
	replayed
}

func sumUp(rows []tuned) tuning {
	slices.SortStableFunc(rows, func(a, b tuned) int { return cmp.Compare(a.last, b.last) })
	var t tuning
	sum := replayed{}
	for _, row := range rows {
		sum = sum.and(&row.replayed)
		t.lasts = append(t.lasts, row.last)
		t.sums = append(t.sums, sum)
	}
	return t
}

// and adds a replay; what it didn't judge stays as it was.
func (r replayed) and(o *replayed) replayed {
	r.days, r.ranks = added(r.days, o.days), added(r.ranks, o.ranks)
	r.moves += o.moves
	r.novelty.more += o.novelty.more
	r.novelty.held += o.novelty.held
	return r
}

func added(sum, more []float64) []float64 {
	if more == nil {
		return sum
	}
	out := slices.Clone(more)
	for i := range sum {
		out[i] += sum[i]
	}
	return out
}

// replay adds up ln P of the moves of one game by setting, tells how something
// new came, and counts the moves.
func (o *Outlook) replay(g *Game) (logs []float64, fresh novelty, moves int) {
	logs = make([]float64, len(o.f.settings))
	pos := board.Start()
	for _, m := range g.Moves[:min(len(g.Moves), ScoredPlies)] {
		if pos.Turn() == g.Theirs && o.f.tree.At(pos.Key()) != nil {
			e := o.gather(&pos)
			if len(e.passes) > 0 {
				moves++
				t := &e.moves[e.index[m]-1]
				said := o.judge(e, t, logs)
				fresh.add(o.renewed(said, pos.Ply()+1), t.n == 0)
				if t.n == 0 {
					break
				}
			}
		}
		pos.Play(m)
	}
	return logs, fresh, moves
}

// judge adds ln P of the move that came under each setting, and returns the
// probability of something new that the settings give together.
func (o *Outlook) judge(e *evidence, came *tally, logs []float64) (said float64) {
	unseen := e.unseen()
	whole := came.n == 0 && !o.f.model.EachNew
	for s := range o.f.settings {
		setting := &o.f.settings[s]
		p := e.part(setting)
		fresh := p.of(&unseen, setting)
		said += fresh / float64(len(o.f.settings))
		if whole {
			logs[s] += math.Log(fresh)
		} else {
			logs[s] += math.Log(p.of(came, setting))
		}
	}
	return said
}

// add counts a move that was said to be something new with probability p.
func (n *novelty) add(p float64, came bool) {
	if came {
		n.more++
	}
	n.more -= p
	n.held += p * (1 - p)
}

// at is what replays of games certainly before a game within when gave.
func (t *tuning) at(when Span) *replayed {
	n, _ := slices.BinarySearch(t.lasts, when.First)
	if n == 0 {
		return &replayed{}
	}
	return &t.sums[n-1]
}

// byRank is the weight of the replays by rank beside those by day: 1 where there
// is nothing else, 0 once so many moves were replayed by day.
func (m *Model) byRank(r *replayed) float64 {
	return max(0, 1-float64(r.moves)/float64(max(m.RankMoves, 1)))
}

// mostLeaning bounds what is made of one player's few games, in logits.
const mostLeaning = 2

// leaning is how much readier the opponent is for something new than others: the
// shift of its logit after one step of Newton's method towards the likeliest one
// for their own games, held back by a normal prior of variance 1/NewHold (ridge
// logistic regression, le Cessie and van Houwelingen 1992). It yields as the
// replays by rank do: with more games the settings know it by themselves.
func (f *Forecast) leaning(when Span) float64 {
	r := f.tuning.at(when)
	by := f.model.byRank(r)
	if by == 0 || f.refined.NewHold == 0 {
		return 0
	}
	shift := r.novelty.more / (r.novelty.held + f.refined.NewHold)
	return by * max(-mostLeaning, min(mostLeaning, shift))
}

// weights gives the weight of each setting for a game within when:
// proportional to exp(heat * sum of ln P) over the games certainly before it,
// heat = Heat / sqrt(1 + moves/HeatMoves). A likelihood raised to a power below 1
// is a power posterior (Friel and Pettitt 2008); here it allows for the moves of
// one habit not being independent evidence, the less so the more there are.
func (f *Forecast) weights(when Span) []float64 {
	out := make([]float64, len(f.settings))
	r := f.tuning.at(when)
	by := f.model.byRank(r)
	heat := f.model.Heat
	if f.model.HeatMoves > 0 {
		heat /= math.Sqrt(1 + float64(r.moves)/f.model.HeatMoves)
	}
	for i := range r.days {
		out[i] += heat * (1 - by) * r.days[i]
	}
	for i := range r.ranks {
		out[i] += heat * by * r.ranks[i]
	}
	best, sum := slices.Max(out), 0.0
	for i := range out {
		out[i] = math.Exp(out[i] - best)
		sum += out[i]
	}
	for i := range out {
		out[i] /= sum
	}
	return out
}
