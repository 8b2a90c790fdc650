package profile

import (
	"math"

	"foreply/profile/stat"
)

// ResultsPrior is how many games' weight the results of the position before
// have: with fewer games here, what happened here is mostly chance.
const ResultsPrior = 250

// Results are what is expected of the opponent's results after a line.
type Results struct {
	Win, Draw, Loss float64 // probabilities, summing to 1
	Games           int     // known games that reached the end of the line, with a result
	All             int     // known games of the colour, with a result
	weight          float64 // of the games behind the three, the prior's included
}

// Score is the opponent's expected score, 0..1.
func (r Results) Score() float64 { return r.Win + r.Draw/2 }

// Strength is how many games the score may be taken to rest on: it is held as
// Beta(q*s, (1-q)*s).
func (r Results) Strength() float64 { return r.weight }

// Results shrinks the record along a line, given by the keys of its positions:
// q = (counts + 250*q of the position before) / (games + 250), from the record
// of the colour down. The position itself tells little; the weight was fitted
// on real careers. Without any game the three are equal.
func (o *Outlook) Results(keys []uint64) Results {
	all := o.record(keys[0])
	r := Results{Win: 1. / 3, Draw: 1. / 3, Loss: 1. / 3}
	if total := all.total(); total > 0 {
		r.Win, r.Draw, r.Loss = all.w/total, all.d/total, all.l/total
	}
	r.All, r.Games = all.games, all.games
	r.weight = all.total() + 1
	for _, key := range keys[1:] {
		last := o.record(key)
		n := last.total() + ResultsPrior
		r.Win = (last.w + ResultsPrior*r.Win) / n
		r.Draw = (last.d + ResultsPrior*r.Draw) / n
		r.Loss = (last.l + ResultsPrior*r.Loss) / n
		r.Games, r.weight = last.games, n
	}
	return r
}

// record sums the results of the known games through a position, each halved
// in weight for every HalfLifeDays of its age.
type record struct {
	w, d, l float64
	games   int
}

func (r *record) total() float64 { return r.w + r.d + r.l }

func (o *Outlook) record(key uint64) record {
	var r record
	n := o.f.tree.At(key)
	if n == nil {
		return r
	}
	previous := int32(-1)
	for _, v := range n.Visits {
		if v.Game == previous || o.weight[v.Game][0] < 0 {
			continue
		}
		previous = v.Game
		r.add(o.f.profile.Games[v.Game].Result, stat.HalfLife(o.age[v.Game], o.f.model.HalfLifeDays))
	}
	return r
}

func (r *record) add(result Result, weight float64) {
	switch result {
	case Win:
		r.w += weight
	case Draw:
		r.d += weight
	case Loss:
		r.l += weight
	default:
		return
	}
	r.games++
}

const (
	tilt     = 1.5 // change of the log odds of win and of loss for 400 points
	gapPrior = 20  // games' weight of equal ratings in the mean gap
)

// Gap is the mean rating difference (theirs less the other player's, each game
// within its own list) of the known games of the colour, shrunk towards 0 by 20
// games' weight, and how many games had both ratings.
func (o *Outlook) Gap() (mean float64, games int) {
	sum := 0.0
	for i := range o.f.profile.Games[:o.end] {
		g := &o.f.profile.Games[i]
		if o.weight[i][0] >= 0 && g.Elo > 0 && g.RivalElo > 0 {
			sum += float64(g.Elo - g.RivalElo)
			games++
		}
	}
	return sum / (float64(games) + gapPrior), games
}

// Against tilts results to the rating difference at hand, theirs less the other
// player's in points of one list: p(o) proportional to q(o)*exp(+-1.5*(gap - G)/400)
// for win and loss, G their usual Gap: a multinomial logit with the draw as its
// base. Score and Raw tell what follows.
func (o *Outlook) Against(r Results, gap float64) Results {
	usual, _ := o.Gap()
	by := math.Exp(tilt * (gap - usual) / 400)
	r.Win, r.Loss = r.Win*by, r.Loss/by
	sum := r.Win + r.Draw + r.Loss
	r.Win, r.Draw, r.Loss = r.Win/sum, r.Draw/sum, r.Loss/sum
	return r
}

// Record counts the known games that passed the position, each once.
func (o *Outlook) Record(key uint64) Count {
	var c Count
	n := o.f.tree.At(key)
	if n == nil {
		return c
	}
	previous := int32(-1)
	for _, v := range o.knownVisits(n) {
		if v.Game != previous && o.weight[v.Game][0] >= 0 {
			c.add(o.f.profile.Games[v.Game].Result)
		}
		previous = v.Game
	}
	return c
}
