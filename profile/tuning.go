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
// games, and what the last step learned from them, summed over the games in order
// of their latest possible day.
//
// Each game is replayed twice: knowing the games that are certainly earlier, and
// knowing as well those of the very day that stand before it. The second is all
// there is where a short history lies within a day or two; it makes too much of
// the last few games where there is more (FIT.md), so it yields (byRank).
type tuning struct {
	before replayed  // of no game
	lasts  []pgn.Day // latest possible day of the game
	sums   []replayed
}

// replayed sums up replays.
type replayed struct {
	days, ranks []float64 // ln P by setting: knowing earlier days; knowing earlier games
	moves       int       // that days sums up
	own         ownStep
}

// at is what replays of games certainly before a game within when gave.
func (t *tuning) at(when Span) *replayed {
	n, _ := slices.BinarySearch(t.lasts, when.First)
	if n == 0 {
		return &t.before
	}
	return &t.sums[n-1]
}

// tuned is what the replay of one game gave.
type tuned struct {
	last        pgn.Day
	days, ranks []float64
	moves       int
	lessons     []*Lesson
}

// and adds a replay; what it didn't judge stays as it was.
func (r replayed) and(t *tuned) replayed {
	r.days, r.ranks = added(r.days, t.days), added(r.ranks, t.ranks)
	r.moves += t.moves
	for _, j := range t.lessons {
		r.own.learn(j)
	}
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

// tune replays the dated games of the colour in order of their earliest possible
// day, each up to and with the first move that was new at its position, by the
// forecast as it was then.
func (f *Forecast) tune() tuning {
	r := tuner{f: f, look: &Outlook{f: f}}
	r.before.own = newOwnStep(&f.model)
	r.sum = r.before
	if f.untuned {
		return r.tuning
	}
	games := f.profile.Games
	var order []int
	for i := range games {
		if games[i].Span.Known() && games[i].Theirs == f.tree.Theirs {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		s, t := games[a].Span, games[b].Span
		return cmp.Or(cmp.Compare(s.First, t.First), cmp.Compare(s.Last, t.Last))
	})
	for _, i := range order {
		r.game(i)
	}
	r.until(math.MaxInt32)
	return r.tuning
}

// tuner replays game after game.
type tuner struct {
	f *Forecast
	tuning
	look    *Outlook
	day     *weighing
	sum     replayed // of games certainly before the day
	today   replayed // and of those on it so far
	pending []tuned  // by their last day, which may not be over
}

// until adds the games that are over before a day.
func (r *tuner) until(day pgn.Day) {
	for len(r.pending) > 0 && r.pending[0].last < day {
		r.sum = r.sum.and(&r.pending[0])
		r.lasts, r.sums = append(r.lasts, r.pending[0].last), append(r.sums, r.sum)
		r.pending = r.pending[1:]
	}
}

func (r *tuner) game(i int) {
	g := &r.f.profile.Games[i]
	if r.day == nil || r.day.when != g.Span {
		r.until(g.Span.First)
		r.day, r.today = r.f.weigh(g.Span, 0), r.sum
	}
	row := tuned{last: g.Span.Last}
	if r.day.known >= tunedFrom {
		row.days, row.lessons, row.moves = r.replay(g, r.day, &r.sum)
	}
	if r.today.moves < r.f.model.RankMoves {
		r.rank(i, &row)
		r.today = r.today.and(&row)
	}
	at, _ := slices.BinarySearchFunc(r.pending, row.last+1, func(t tuned, day pgn.Day) int { return cmp.Compare(t.last, day) })
	r.pending = slices.Insert(r.pending, at, row)
}

// rank replays game i knowing those of its day before it, too.
func (r *tuner) rank(i int, row *tuned) {
	g := &r.f.profile.Games[i]
	w := r.f.weigh(g.Span, i)
	switch {
	case w.known == r.day.known:
		row.ranks = row.days
	case w.known >= rankedFrom:
		row.ranks, row.lessons, _ = r.replay(g, w, &r.today)
	}
}

// replay adds up ln P of the moves of one game by setting, lists what the last step
// has to learn from, and counts the moves.
func (r *tuner) replay(g *Game, known *weighing, past *replayed) (logs []float64, seen []*Lesson, moves int) {
	o := r.look
	o.weighing, o.mix = *known, r.f.weights(past)
	o.class, o.classes = g.Class, r.f.model.classWeights(g.Class)
	logs = make([]float64, len(r.f.settings))
	pos := board.Start()
	for _, m := range g.Moves[:min(len(g.Moves), ScoredPlies)] {
		if pos.Turn() == g.Theirs && r.f.tree.At(pos.Key()) != nil {
			e := o.gather(&pos)
			if len(e.passes) > 0 {
				moves++
				t := &e.moves[e.index[m]-1]
				parts := e.partsOf(r.f.settings)
				o.judge(e, t, parts, logs)
				b := blended(parts, r.f.settings, o.mix)
				if j := o.lesson(e, b.mixed(e), pos.Ply()+1, m); j != nil {
					seen = append(seen, j)
				}
				if t.n == 0 {
					break
				}
			}
		}
		pos.Play(m)
	}
	return logs, seen, moves
}

// judge adds ln P of the move that came under each setting.
func (o *Outlook) judge(e *evidence, came *tally, parts []part, logs []float64) {
	t := *came
	if came.n == 0 && !o.f.model.EachNew {
		t = e.unseen()
	}
	for s := range parts {
		logs[s] += math.Log(parts[s].of(&t, &o.f.settings[s]))
	}
}

// byRank is the weight of the replays by rank beside those by day: 1 where there
// is nothing else, 0 once so many moves were replayed by day.
func (m *Model) byRank(r *replayed) float64 {
	return max(0, 1-float64(r.moves)/float64(max(m.RankMoves, 1)))
}

// weights gives the weight of each setting by what replays gave:
// proportional to exp(heat * sum of ln P),
// heat = Heat / sqrt(1 + moves/HeatMoves). A likelihood raised to a power below 1
// is a power posterior (Friel and Pettitt 2008); here it allows for the moves of
// one habit not being independent evidence, the less so the more there are.
func (f *Forecast) weights(r *replayed) []float64 {
	out := make([]float64, len(f.settings))
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
	if f.peers != nil && !f.untuned && f.model.PeerDoubt > 0 {
		f.model.doubt(out)
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

// doubt makes peers lean in as far as replays bear them out. Between the settings of one
// pull a likelihood to the power of Heat decides, given in logs; between pulls that power is
// taken back, but for the cooling by the number of moves. Before any replay no pull is
// PeerDoubt times as likely as each of the three. Heat is over 0.
func (m *Model) doubt(logs []float64) {
	for from := 0; from < len(logs); from += settingsEach {
		of := logs[from : from+settingsEach]
		best, sum := slices.Max(of), 0.0
		for _, l := range of {
			sum += math.Exp(l - best)
		}
		more := (1/m.Heat - 1) * (best + math.Log(sum/settingsEach))
		if from == 0 {
			more += math.Log(m.PeerDoubt)
		}
		for i := range of {
			of[i] += more
		}
	}
}
