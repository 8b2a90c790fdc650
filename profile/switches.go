package profile

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"foreply/profile/board"
)

// Switch is a place where the opponent seems to have changed what they play.
type Switch struct {
	Position  board.Position
	Line      []board.Move // that leads there, as in the newest game
	Now, Past board.Move   // the main move since, and before
	NowN, Of  int          // how often Now came in the last Of visits
	PastN     int          // how often Past came in the PastOf visits before
	PastOf    int
	Since     *Game   // the first game of the new habit
	Posterior float64 // probability that there was a switch, 0..1
}

const (
	switchPrior   = 0.05 // that a position's habit changed within its last visits
	switchShown   = 0.9  // posterior from which it is told
	switchLeast   = 3    // visits of the new habit
	switchMost    = 40   // further back it is no longer news
	switchBefore  = 8    // visits of the old habit
	switchHalf    = 0.5  // Jeffreys' prior count of each move (Jeffreys 1946)
	switchMainAt  = 0.6  // share from which a move is the habit
	switchDeepest = 16   // plies
)

// Switches lists the likely changes of habit before a game within when, those
// at the most visited positions first. Only games of the coming class count,
// and games whose class is not known: a player who keeps one opening for blitz
// has not switched.
//
// At each position the visits in order of time are either one sample, or two
// with the change at any of the last places, each a Dirichlet-multinomial; the
// posterior weighs the two by their Bayes factor (Kass and Raftery 1995). Visits
// that come in random order favour one sample, whatever the shares, so shuffling
// moves about does not fire. For a flag in words: mixing this posterior into the
// probabilities lost as much elsewhere as it gained after a switch.
func (f *Forecast) Switches(when Span) []Switch {
	w := f.weigh(when)
	type found struct {
		Switch
		visits int
	}
	var all []found
	for pos, n := range f.tree.All() {
		if pos.Turn() != f.tree.Theirs || len(n.Visits) < switchLeast+switchBefore {
			continue
		}
		visits := f.comparable(n, w)
		if s, ok := f.switchAt(visits); ok {
			s.Position = pos
			all = append(all, found{s, len(visits)})
		}
	}
	slices.SortStableFunc(all, func(a, b found) int { return cmp.Compare(b.visits, a.visits) })
	out := make([]Switch, len(all))
	for i := range all {
		out[i] = all[i].Switch
	}
	return out
}

// comparable is the known visits of the coming class.
func (f *Forecast) comparable(n *TreeNode, w *weighing) []Visit {
	z := f.model.classWeights(f.class)
	var out []Visit
	for _, v := range n.Visits {
		if w.weight[v.Game][0] >= 0 && z[f.profile.Games[v.Game].Class] == 1 && v.Ply < switchDeepest {
			out = append(out, v)
		}
	}
	return out
}

// switchAt looks for the likeliest change within the visits, oldest first.
func (f *Forecast) switchAt(visits []Visit) (Switch, bool) {
	if len(visits) < switchLeast+switchBefore {
		return Switch{}, false
	}
	last, first := len(visits)-switchLeast, max(switchBefore, len(visits)-switchMost)
	one := evidenceOf(visits, visits)
	best, bestAt, sum := math.Inf(-1), 0, 0.0
	for at := first; at <= last; at++ {
		two := evidenceOf(visits[:at], visits) + evidenceOf(visits[at:], visits)
		sum += math.Exp(two - one)
		if two > best {
			best, bestAt = two, at
		}
	}
	odds := switchPrior / (1 - switchPrior) * sum / float64(last-first+1)
	s := Switch{Posterior: odds / (1 + odds)}
	if math.IsInf(odds, 1) {
		s.Posterior = 1
	}
	s.Past, s.PastN = mainMove(visits[:bestAt])
	s.Now, s.NowN = mainMove(visits[bestAt:])
	s.PastOf, s.Of = bestAt, len(visits)-bestAt
	since := visits[bestAt]
	s.Since = &f.profile.Games[since.Game]
	newest := visits[len(visits)-1]
	s.Line = f.profile.Games[newest.Game].Moves[:newest.Ply]
	habits := float64(s.NowN) >= switchMainAt*float64(s.Of) && float64(s.PastN) >= switchMainAt*float64(s.PastOf)
	return s, s.Posterior >= switchShown && s.Now != s.Past && habits
}

// evidenceOf is the logarithm of the Dirichlet-multinomial probability of the
// visits in their order, over the moves that all visits have, and one more.
func evidenceOf(visits, all []Visit) float64 {
	moves := map[board.Move]int{}
	for _, v := range all {
		moves[v.Move] = 0
	}
	for _, v := range visits {
		moves[v.Move]++
	}
	base := switchHalf * float64(len(moves)+1)
	sum := lgamma(base) - lgamma(base+float64(len(visits)))
	terms := make([]float64, 0, len(moves))
	for _, n := range moves {
		terms = append(terms, lgamma(switchHalf+float64(n))-lgamma(switchHalf))
	}
	slices.Sort(terms) // the sum must not depend on the order of a map
	for _, t := range terms {
		sum += t
	}
	return sum
}

func lgamma(x float64) float64 {
	v, _ := math.Lgamma(x)
	return v
}

func mainMove(visits []Visit) (board.Move, int) {
	n := map[board.Move]int{}
	var best board.Move
	for _, v := range visits {
		n[v.Move]++
		if n[v.Move] > n[best] || n[v.Move] == n[best] && v.Move < best {
			best = v.Move
		}
	}
	return best, n[best]
}

// String is the flag in words: 'may have switched: 1.d4 in the last 8, before
// that 1.e4 in 40 of 44'.
func (s *Switch) String() string {
	number := MoveNumber(&s.Position)
	now, past := number+s.Position.SAN(s.Now), number+s.Position.SAN(s.Past)
	recent := fmt.Sprintf("the last %d", s.Of)
	if s.NowN < s.Of {
		recent = fmt.Sprintf("%d of the last %d", s.NowN, s.Of)
	}
	before := fmt.Sprintf("all %d", s.PastOf)
	if s.PastN < s.PastOf {
		before = fmt.Sprintf("%d of %d", s.PastN, s.PastOf)
	}
	return fmt.Sprintf("may have switched: %s in %s, before that %s in %s", now, recent, past, before)
}
