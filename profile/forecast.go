package profile

import (
	"cmp"
	"slices"

	"foreply/profile/board"
	"foreply/profile/stat"
)

// ForecastOptions set how the forecast weighs games; the zero value of a field
// means its default.
type ForecastOptions struct {
	Class Class // of the game to come; unknown weighs all classes alike

	HalfLifeDays  float64 // of a visit's weight by age; default 2200
	HalfLifeGames float64 // of a visit's weight by games of the colour since; default 600
	OtherClass    float64 // weight of a visit of another time class; default 0.4
	Discount      float64 // Pitman-Yor discount of a move played once or more; default 0.3
	Concentration float64 // Pitman-Yor concentration; default 0.05
	ShortVisits   float64 // half-life of the short memory, in visits; default 4, and
	ShortPrior    float64 // the weight of the long memory beside it, in visits; default 8
}

func (o ForecastOptions) withDefaults() ForecastOptions {
	for _, f := range [...]struct {
		field *float64
		value float64
	}{
		{&o.HalfLifeDays, 2200}, {&o.HalfLifeGames, 600}, {&o.OtherClass, 0.4},
		{&o.Discount, 0.3}, {&o.Concentration, 0.05}, {&o.ShortVisits, 4}, {&o.ShortPrior, 8},
	} {
		if *f.field == 0 {
			*f.field = f.value
		}
	}
	return o
}

// Interval strength: an interval is as wide as that of a beta distribution
// resting on perEffective visits for each effective one, plus bonus. Fitted on
// the careers of the model's authors, without reference games.
const (
	perEffective = 0.3
	bonus        = 0.5
)

// Forecast tells how likely each move of the opponent is.
type Forecast struct {
	profile *Profile
	tree    *Tree
	opt     ForecastOptions
}

// NewForecast forecasts the opponent's moves with colour theirs.
func NewForecast(p *Profile, theirs board.Color, opt ForecastOptions) *Forecast {
	return &Forecast{profile: p, tree: p.Tree(theirs), opt: opt.withDefaults()}
}

// Expected is the forecast for one position.
type Expected struct {
	// Moves are all legal moves, likeliest first; their P sum to 1.
	Moves []Likely
	// Unseen is all moves never played from here together.
	Unseen Range
	// Visits counts passes of the known games through the position.
	Visits int
	// Strength is how many games' worth of knowledge the intervals rest on: the
	// probability p of a move is held as Beta(p*s, (1-p)*s).
	Strength float64
}

// Likely is one legal move.
type Likely struct {
	Move board.Move
	Range
	N    int   // how often it was played from here in the known games
	Last *Game // the newest game with it, nil if N is 0
}

// Range is a probability 0..1 with its 80 % interval.
type Range struct{ P, Lo, Hi float64 }

// Of returns the forecast of one move.
func (e *Expected) Of(m board.Move) (Likely, bool) {
	for _, l := range e.Moves {
		if l.Move == m {
			return l, true
		}
	}
	return Likely{}, false
}

// At forecasts the move to come at pos in a game played within when. Only games
// certainly played before it are known. For many positions of one day use On.
func (f *Forecast) At(pos *board.Position, when Span) Expected { return f.On(when).At(pos) }

// On returns the forecast for games played within when.
func (f *Forecast) On(when Span) *Outlook {
	n := len(f.profile.Games)
	o := &Outlook{f: f, weight: make([]float64, n), class: make([]float64, n), age: make([]float64, n)}
	o.weigh(when)
	return o
}

// Outlook is the forecast as of one day: each game's weight is worked out once.
type Outlook struct {
	f      *Forecast
	weight []float64 // w of a visit by game; negative if the game isn't known yet
	class  []float64 // z by game
	age    []float64 // in days
}

// weigh gives each game of the colour its visit weight
// w = z * 2^(-a/HalfLifeDays) * 2^(-g/HalfLifeGames), a its age in days from
// the middle of its possible dates, g the known games of the colour after it.
// An undated game is as old as the oldest dated one.
func (o *Outlook) weigh(when Span) {
	games := o.f.profile.Games
	opt := o.f.opt
	since := 0
	oldest := 0.0
	for i := range slices.Backward(games) {
		g := &games[i]
		o.weight[i] = -1
		if g.Theirs != o.f.tree.Theirs || g.Dated && !g.Span.Before(when) {
			continue
		}
		if g.Dated {
			oldest = when.Middle() - g.Span.Middle()
		}
		o.age[i] = oldest
		o.class[i] = opt.classWeight(g.Class)
		o.weight[i] = o.class[i] * stat.HalfLife(oldest, opt.HalfLifeDays) * stat.HalfLife(float64(since), opt.HalfLifeGames)
		since++
	}
}

func (o *ForecastOptions) classWeight(c Class) float64 {
	if c == UnknownClass || o.Class == UnknownClass || c == o.Class {
		return 1
	}
	return o.OtherClass
}

// visit is a known pass through the position, newest first.
type visit struct {
	move        int // index into the legal moves
	long, short float64
	game        int32
}

// At forecasts the move to come at pos; it must be the opponent's turn.
//
// The model: a Pitman-Yor process over the long memory of weighted visits
// (Pitman and Yor 1997; Teh 2006 for its use on sequences), its base uniform
// over the legal moves, then mixed with a short memory of the latest visits.
func (o *Outlook) At(pos *board.Position) Expected {
	legal := pos.Legal(make([]board.Move, 0, 64))
	if len(legal) == 0 {
		return Expected{}
	}
	visits := o.visits(pos, legal)
	p, strength := o.mix(visits, len(legal))
	return o.expected(legal, visits, p, strength)
}

func (o *Outlook) visits(pos *board.Position, legal []board.Move) []visit {
	n := o.f.tree.At(pos.Key())
	if n == nil {
		return nil
	}
	var known []visit
	for _, v := range slices.Backward(n.Visits) {
		w := o.weight[v.Game]
		if w < 0 {
			continue
		}
		rank := float64(len(known))
		known = append(known, visit{
			move: slices.Index(legal, v.Move), long: w, game: v.Game,
			short: o.class[v.Game] * stat.HalfLife(rank, o.f.opt.ShortVisits),
		})
	}
	return known
}

// mix returns the probability of each legal move and the strength of their
// intervals.
func (o *Outlook) mix(visits []visit, legal int) (p []float64, strength float64) {
	opt := &o.f.opt
	long, short := make([]float64, legal), make([]float64, legal)
	var longSum, shortSum float64
	for _, v := range visits {
		long[v.move] += v.long
		longSum += v.long
		short[v.move] += v.short
		shortSum += v.short
	}
	var freed float64
	for _, c := range long {
		freed += opt.Discount * min(1, c)
	}
	p = make([]float64, legal)
	for m, c := range long {
		base := 1 / float64(legal)
		p[m] = (c - opt.Discount*min(1, c) + (opt.Concentration+freed)*base) / (longSum + opt.Concentration)
		p[m] = (short[m] + opt.ShortPrior*p[m]) / (shortSum + opt.ShortPrior)
	}
	return p, perEffective*effective(visits, longSum+opt.Concentration, shortSum, opt.ShortPrior) + bonus
}

// effective is the effective sample size of the visits, each weighted by its
// part in the mixture.
func effective(visits []visit, long, short, prior float64) float64 {
	lambda := short / (short + prior)
	weights := make([]float64, len(visits))
	for i, v := range visits {
		weights[i] = (1-lambda)*v.long/long + lambda*v.short/short
	}
	return stat.EffectiveSize(weights)
}

func (o *Outlook) expected(legal []board.Move, visits []visit, p []float64, strength float64) Expected {
	e := Expected{Moves: make([]Likely, len(legal)), Visits: len(visits), Strength: strength}
	for i, m := range legal {
		e.Moves[i] = Likely{Move: m, Range: Range{P: p[i]}}
	}
	for _, v := range visits {
		l := &e.Moves[v.move]
		if l.Last == nil {
			l.Last = &o.f.profile.Games[v.game]
		}
		l.N++
	}
	unseen := 0.0
	for _, l := range e.Moves {
		if l.N == 0 {
			unseen += l.P
		}
	}
	e.Unseen = Between(unseen, strength)
	slices.SortStableFunc(e.Moves, func(a, b Likely) int {
		return cmp.Or(cmp.Compare(b.P, a.P), cmp.Compare(b.N, a.N), cmp.Compare(a.Move, b.Move))
	})
	for i := range e.Moves {
		if i > 0 && e.Moves[i].P == e.Moves[i-1].P { // most unseen moves share one probability
			e.Moves[i].Range = e.Moves[i-1].Range
			continue
		}
		e.Moves[i].Range = Between(e.Moves[i].P, strength)
	}
	return e
}

// Between gives p its 80 % interval: the 10 % and 90 % quantiles of
// Beta(p*s, (1-p)*s).
func Between(p, s float64) Range {
	lo, hi := stat.BetaInterval(p, s)
	return Range{P: p, Lo: lo, Hi: hi}
}
