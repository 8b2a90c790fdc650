// Package hindsight tests the forecast on games that were already played: it
// goes through an opponent's games in order of time, asks at each for the
// forecast as it would have been the day before, and compares it with the move
// that came.
//
// In comes a Profile of package profile; out go a Result (figures for each
// colour and pooled), every single Prediction for who wants to recompute them,
// and sentences that a player understands. Its neighbour below is package
// profile, whose forecast it judges and never touches; package cmd prints.
package hindsight

import (
	"context"

	"foreply/profile"
	"foreply/profile/board"
)

// Options of Test; the zero value is the whole career with the default model.
type Options struct {
	Peers *profile.Peers // or nil
	Model *profile.Model // nil means the default
	// Known is how many earlier games of the colour must be known before a game
	// is judged; 0 means 30.
	Known int
	// Last makes the test one of a small history: of what is known at each game,
	// only the last so many games of the colour exist. 0 means all.
	Last int
	// Every judges only each so many-th game of a colour, for a quick look; 0 means all.
	Every int
	// UpTo ends the test with that game of the colour, counted from 1; 0 means
	// none.
	UpTo int
	// Shares gives each Prediction the shares of the coming games, too.
	Shares bool
	// Each, if not nil, sees every prediction in turn. It is valid during the
	// call.
	Each func(*Prediction)
	// Progress, if not nil, is called before each game.
	Progress func(done, of int)
}

const (
	defaultKnown = 30
	shortest     = 6 // plies; shorter games are left out
)

// Prediction is one forecast and what came.
type Prediction struct {
	Game     *profile.Game
	Ply      int // of the move to come, 1 is the game's first half-move
	Position board.Position
	Expected profile.Expected // without intervals
	Shares   profile.Expected // as a sheet prints them, with intervals; only if asked for
	Played   board.Move
	Look     *profile.Outlook // that forecast it
	// Given is the probability that the forecast gave to what came, 'something
	// new' being one outcome; Full is that of the very move.
	Given, Full float64
	Raw         float64 // as Given, by the raw baseline
	New         bool    // never played here before
	Rank        int     // place of the move among those played here before, 1 the likeliest; 0 if new
}

// Test runs the walk-forward test over the games of a profile. A game is known
// to another only if it is certainly earlier by the calendar; undated games
// and games under six plies are left out. Judged are the opponent's moves of the
// first 24 plies, up to and with the first that is new at its position; a game is
// left as well at the first position on their turn that no known game had. The
// only error is that of a context that ends.
func Test(ctx context.Context, p *profile.Profile, opt Options) (Result, error) {
	if opt.Known == 0 {
		opt.Known = defaultKnown
	}
	p = p.Only(func(g *profile.Game) bool { return g.Span.Known() && len(g.Moves) >= shortest })
	r := Result{known: opt.Known}
	done := 0
	for _, c := range [...]board.Color{board.White, board.Black} {
		t := &test{ctx: ctx, profile: p, theirs: c, opt: opt, done: &done}
		t.tally.fit = p.Count(c)
		t.run()
		t.cover()
		if ctx.Err() != nil {
			return Result{}, context.Cause(ctx)
		}
		r.tallies[c] = t.tally
	}
	r.sumUp()
	return r, nil
}

type test struct {
	ctx      context.Context // asked between games and positions
	profile  *profile.Profile
	theirs   board.Color
	opt      Options
	done     *int              // games of both colours
	forecast *profile.Forecast // from all games
	tally    tally
}

func (t *test) run() {
	t.forecast = t.newForecast(t.profile)
	number := 0
	for i := range t.profile.Games {
		g := &t.profile.Games[i]
		if g.Theirs != t.theirs {
			continue
		}
		number++
		if t.opt.UpTo > 0 && number > t.opt.UpTo || t.ctx.Err() != nil {
			return
		}
		if t.opt.Progress != nil {
			t.opt.Progress(*t.done, len(t.profile.Games))
		}
		*t.done++
		if t.opt.Every > 0 && number%t.opt.Every != 0 {
			continue
		}
		look := t.forecast.For(g.Span, g.Class)
		if look.Known() < t.opt.Known {
			continue
		}
		if t.opt.Last > 0 {
			look = t.newForecast(t.lastBefore(i)).For(g.Span, g.Class)
		}
		t.game(g, look)
	}
}

func (t *test) newForecast(p *profile.Profile) *profile.Forecast {
	return profile.NewForecast(p, t.theirs, profile.ForecastOptions{Peers: t.opt.Peers, Model: t.opt.Model})
}

// lastBefore is the profile of the last games of the colour known at game i.
func (t *test) lastBefore(i int) *profile.Profile {
	games := t.profile.Games
	wanted := map[*profile.Game]bool{}
	for j := i - 1; j >= 0 && len(wanted) < t.opt.Last; j-- {
		if games[j].Theirs == t.theirs && games[j].Span.Before(games[i].Span) {
			wanted[&games[j]] = true
		}
	}
	return t.profile.Only(func(g *profile.Game) bool { return wanted[g] })
}

// game judges the moves of one game.
func (t *test) game(g *profile.Game, look *profile.Outlook) {
	before := t.tally.predictions
	defer func() { t.tally.games += min(1, t.tally.predictions-before) }()
	pos := board.Start()
	for ply, m := range g.Moves[:min(len(g.Moves), profile.ScoredPlies)] {
		if pos.Turn() == t.theirs {
			e := look.Chances(&pos)
			if e.Visits == 0 {
				return
			}
			p := Prediction{Game: g, Ply: ply + 1, Position: pos, Expected: e, Played: m, Look: look}
			if t.opt.Shares {
				p.Shares = look.At(&pos)
			}
			if fresh := t.judge(&p); fresh {
				return
			}
		}
		pos.Play(m)
	}
}

// rawMove is what the raw baseline counts for each legal move beside how often
// it was played. The figures that the protocol came with for two careers agree to
// the third digit so, and not if moves played before go without it.
const rawMove = 0.01

// judge works out what the forecast gave to what came, and reports whether that
// was new.
func (t *test) judge(p *Prediction) bool {
	came, _ := p.Expected.Of(p.Played)
	p.New = came.N == 0
	total, unseen := 0.0, 0.0
	for _, l := range p.Expected.Moves {
		total += float64(l.N) + rawMove
		if l.N == 0 {
			unseen += rawMove
		}
	}
	p.Given, p.Full, p.Raw = came.P, came.P, (float64(came.N)+rawMove)/total
	if p.New {
		p.Given, p.Raw = p.Expected.Unseen.P, unseen/total
	} else {
		p.Rank = rank(&p.Expected, p.Played)
	}
	t.tally.add(p)
	if t.opt.Each != nil {
		t.opt.Each(p)
	}
	return p.New
}

// rank is the place of a move among those that were played before.
func rank(e *profile.Expected, m board.Move) int {
	r := 0
	for _, l := range e.Moves {
		if l.N > 0 {
			r++
		}
		if l.Move == m {
			break
		}
	}
	return r
}
