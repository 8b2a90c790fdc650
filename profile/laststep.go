package profile

import (
	"math"
	"slices"

	"foreply/profile/board"
)

// The last step corrects the mixture by what it is known to get wrong, and learns
// from the opponent's own games where they differ from others in that.
//
// The outcomes of a position are each move played here before, and 'something new'.
// Each has a score: the log of its share in the mixture (of something new the logit),
// plus terms, each a number times what is known of the outcome. Probabilities are in
// proportion to exp(score): a conditional logit (McFadden 1974). The numbers are
// those common to all players, plus the opponent's own differences from them.

// Terms are what is known of an outcome, or the numbers that go with it.
type Terms [terms]float64

const (
	termShare  = iota // of a move played here before: log of its share of those in the mixture,
	termShort         // in the short memory,
	termRecent        // in the last games (the shortest half-life),
	termPeers         // among peers, or where they are silent of all visits,
	termSetUp         // and before any visit, by the own set-up
	termNew           // of something new: 1,
	termLogit         // its logit in the mixture,
	termPly           // the ply, from the middle of those that are forecast,
	termVisits        // log of the visits,
	termOnce          // and the share of the visits whose move was played here once
	terms
)

const (
	middlePly = 10   // where termPly is 0
	pliesEach = 5    // plies for which it is 1
	leastPart = 0.02 // added to a share before its log is taken
)

// Outcome is what the last step judges: a move played here before, or something new.
type Outcome struct {
	Score float64 // by the mixture and the common numbers
	X     Terms
}

// ownStep is how an opponent's numbers differ from the common ones: normally
// distributed, around 0 before anything is known. A move that came moves them by one
// step of Newton's method (West, Harrison and Migon 1985, Dynamic generalized linear
// models and Bayesian forecasting, Journal of the American Statistical Association
// 80, 73-83).
type ownStep struct {
	mean Terms
	cov  [terms]Terms
}

func newOwnStep(m *Model) ownStep {
	var s ownStep
	for k, deviation := range m.Loose {
		s.cov[k][k] = deviation * deviation
	}
	return s
}

// chances fills p with the probability of each outcome.
func (s *ownStep) chances(of []Outcome, p []float64) {
	best := math.Inf(-1)
	for i := range of {
		p[i] = of[i].Score + s.mean.dot(&of[i].X)
		best = max(best, p[i])
	}
	sum := 0.0
	for i := range p {
		p[i] = math.Exp(p[i] - best)
		sum += p[i]
	}
	for i := range p {
		p[i] /= sum
	}
}

// Lesson is a move that came, of the outcomes there were.
type Lesson struct {
	Outcomes []Outcome
	Came     int
	Peered   bool // the common numbers are those with peers
}

// learn takes account of a move that came.
func (s *ownStep) learn(j *Lesson) {
	p := make([]float64, len(j.Outcomes))
	s.chances(j.Outcomes, p)
	var middle Terms
	for i := range p {
		middle.add(p[i], &j.Outcomes[i].X)
	}
	for i := range p { // the more surely the chances would change, the less is doubtful after
		away := j.Outcomes[i].X
		away.add(-1, &middle)
		s.narrow(&away, p[i])
	}
	pull := j.Outcomes[j.Came].X
	pull.add(-1, &middle)
	for k := range s.mean {
		s.mean[k] += s.cov[k].dot(&pull)
	}
}

// narrow adds weight*x*x' to the inverse of the covariance (Sherman and Morrison 1950).
func (s *ownStep) narrow(x *Terms, weight float64) {
	var by Terms
	for k := range by {
		by[k] = s.cov[k].dot(x)
	}
	scale := -weight / (1 + weight*x.dot(&by))
	for k := range s.cov {
		s.cov[k].add(scale*by[k], &by)
	}
}

func (t *Terms) dot(o *Terms) float64 {
	sum := 0.0
	for k := range t {
		sum += t[k] * o[k]
	}
	return sum
}

func (t *Terms) add(scale float64, o *Terms) {
	for k := range t {
		t[k] += scale * o[k]
	}
}

// outcomes lists the outcomes at a position for the probabilities p of the mixture,
// the moves in their order and something new at the end; nil if all or nothing is new.
func (o *Outlook) outcomes(e *evidence, p []float64, ply int) []Outcome {
	fresh, seen, once := 0.0, 0.0, 0.0
	for i := range p {
		switch e.moves[i].n {
		case 0:
			fresh += p[i]
			continue
		case 1:
			once++
		}
		seen += p[i]
	}
	if !(fresh > 0 && seen > 0) {
		return nil
	}
	common := &o.f.model.refinement(e).Terms
	out := e.outcomes[:0]
	for i := range p {
		if e.moves[i].n > 0 {
			out = append(out, e.outcomeOf(&e.moves[i], p[i]/seen))
		}
	}
	visits := float64(len(e.passes))
	logit := math.Log(fresh / seen)
	out = append(out, Outcome{Score: logit, X: Terms{
		termNew: 1, termLogit: logit, termPly: float64(ply-middlePly) / pliesEach, termVisits: math.Log(visits), termOnce: once / visits,
	}})
	for i := range out {
		out[i].Score += common.dot(&out[i].X)
	}
	e.outcomes = out
	return out
}

func (e *evidence) outcomeOf(t *tally, share float64) Outcome {
	played := float64(t.n) / float64(len(e.passes))
	part := func(x, of float64) float64 {
		if !(of > 0) {
			x, of = played, 1
		}
		return math.Log(x/of + leastPart)
	}
	log := math.Log(max(share, 1e-12))
	return Outcome{Score: log, X: Terms{
		termShare: log, termShort: part(t.short, e.short), termRecent: part(t.long[0], e.long[0]),
		termPeers: part(t.peers, e.peers), termSetUp: math.Log(t.base[0][halfLives/2] + leastPart),
	}}
}

// settle gives the moves what the last step gives to the outcomes: moves never played
// here keep their parts of 'something new'.
func (o *Outlook) settle(e *evidence, p []float64, ply int) {
	outcomes := o.outcomes(e, p, ply)
	if outcomes == nil {
		return
	}
	e.chances = slices.Grow(e.chances[:0], len(outcomes))[:len(outcomes)]
	o.own.chances(outcomes, e.chances)
	fresh := 0.0
	for i := range p {
		if e.moves[i].n == 0 {
			fresh += p[i]
		}
	}
	wanted, at := e.chances[len(outcomes)-1], 0
	for i := range p {
		if e.moves[i].n == 0 {
			p[i] *= wanted / fresh
			continue
		}
		p[i] = e.chances[at]
		at++
	}
}

// Lesson is what the last step would learn from a move at pos; nil where it has
// nothing to judge.
func (o *Outlook) Lesson(pos *board.Position, came board.Move) *Lesson {
	e := o.gather(pos)
	b := blended(e.partsOf(o.f.settings), o.f.settings, o.mix)
	return o.lesson(e, b.mixed(e), pos.Ply()+1, came)
}

func (o *Outlook) lesson(e *evidence, p []float64, ply int, came board.Move) *Lesson {
	outcomes := o.outcomes(e, p, ply)
	if outcomes == nil {
		return nil
	}
	l := &Lesson{Outcomes: slices.Clone(outcomes), Came: len(outcomes) - 1, Peered: e.peered}
	at := 0
	for i := range e.moves {
		if e.moves[i].n > 0 {
			if e.legal[i] == came {
				l.Came = at
			}
			at++
		}
	}
	return l
}
