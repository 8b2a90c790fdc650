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
	// the tuning.
	tunedFrom = 4
)

// tuning holds how well each setting would have forecast the opponent's own
// games, summed over the games in order of their latest possible day.
type tuning struct {
	lasts []pgn.Day   // latest possible day of the game
	logs  [][]float64 // sum of ln P up to and with that game, by setting
}

// tune replays the dated games of the colour: each forecast from those that are
// certainly earlier, up to and with the first move that was new at its position.
func (f *Forecast) tune() tuning {
	var rows []tuned
	var w *weighing
	o := &Outlook{f: f}
	for i := range f.profile.Games {
		g := &f.profile.Games[i]
		if !g.Span.Known() || g.Theirs != f.tree.Theirs {
			continue
		}
		if w == nil || w.when != g.Span {
			w = f.weigh(g.Span)
		}
		if w.known < tunedFrom {
			continue
		}
		o.weighing, o.class, o.classes = *w, g.Class, f.model.classWeights(g.Class)
		if logs, any := o.replay(g); any {
			rows = append(rows, tuned{g.Span.Last, logs})
		}
	}
	return sumUp(rows)
}

type tuned struct {
	last pgn.Day
	logs []float64
}

func sumUp(rows []tuned) tuning {
	slices.SortStableFunc(rows, func(a, b tuned) int { return cmp.Compare(a.last, b.last) })
	var t tuning
	for i, row := range rows {
		if i > 0 {
			for s := range row.logs {
				row.logs[s] += rows[i-1].logs[s]
			}
		}
		t.lasts = append(t.lasts, row.last)
		t.logs = append(t.logs, row.logs)
	}
	return t
}

// replay adds up ln P of the moves of one game, by setting.
func (o *Outlook) replay(g *Game) (logs []float64, any bool) {
	logs = make([]float64, len(o.f.settings))
	pos := board.Start()
	for _, m := range g.Moves[:min(len(g.Moves), ScoredPlies)] {
		if pos.Turn() == g.Theirs && o.f.tree.At(pos.Key()) != nil {
			e := o.gather(&pos)
			if len(e.passes) > 0 {
				any = true
				t := &e.moves[e.index[m]-1]
				came := *t
				if t.n == 0 && !o.f.model.EachNew {
					came = e.unseen()
				}
				for s := range o.f.settings {
					p := e.part(&o.f.settings[s])
					logs[s] += math.Log(p.of(&came, &o.f.settings[s]))
				}
				if t.n == 0 {
					break
				}
			}
		}
		pos.Play(m)
	}
	return logs, any
}

// weights gives the weight of each setting for a game within when:
// proportional to exp(Heat * sum of ln P) over the games certainly before it.
// A likelihood raised to a power below 1 is a power posterior (Friel and
// Pettitt 2008); here it allows for the moves of one habit not being
// independent evidence.
func (f *Forecast) weights(when Span) []float64 {
	out := make([]float64, len(f.settings))
	n, _ := slices.BinarySearch(f.tuning.lasts, when.First)
	if n > 0 {
		copy(out, f.tuning.logs[n-1])
	}
	best, sum := slices.Max(out), 0.0
	for i := range out {
		out[i] = math.Exp(f.model.Heat * (out[i] - best))
		sum += out[i]
	}
	for i := range out {
		out[i] /= sum
	}
	return out
}
