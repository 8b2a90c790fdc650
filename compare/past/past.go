// Package past judges what a sheet says by games that came after it: on days cut
// through an opponent's history it sends the games known that day through a
// repertoire, as the sheet does, and holds the partings, the lines to expect and
// the changes against the games that followed.
//
// In comes a Profile, and the user's Books if there are any; out goes a Result:
// said and came by tenths, in numbers and in sentences. Its neighbours below are
// package walk, whose outcome it judges, and profile/hindsight, which judges the
// forecast move by move.
package past

import (
	"context"

	"foreply/compare/book"
	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/board"
)

// Options of Test; the zero value is the default of a sheet.
type Options struct {
	Peers *profile.Peers // or nil
	Model *profile.Model // nil means the default
	// Books are the user's repertoires, one for each colour at most. For a colour
	// without one the book is what the other players in the opponent's games usually
	// did, as far as it was known on the day.
	Books []*book.Book
	// Last: of what is known on a day only the last so many games of the colour exist.
	// 0 means all.
	Last int
}

// The protocol.
const (
	known     = 30   // earlier games of the colour before the first sheet
	ahead     = 10   // games that a sheet is judged by, and that lie between two sheets
	maxPly    = 40   // how deep lines are followed, as on a sheet
	threshold = 0.01 // reach under which they are not
	backFrom  = 0.01 // reach from which ways back are looked for
	expectAt  = 0.3  // reach of the line that 'tonight' expects
	shortest  = 6    // plies; shorter games are left out
)

// Test makes a sheet before every tenth game of a colour, once 30 are certainly
// earlier by the calendar, and judges it by that game and the nine after it; undated
// games and games under six plies are left out. Each sheet is of the time class of the
// game that it is judged by. The only error is that of a context that ends.
//
// Where the user's side leaves the book in a game, the rest of it says nothing of a line
// that was still open; those that end early would be seen more often than those that go
// on. So a line is judged choice by choice, each among the games that came there: came is
// said times the product, over their first, second, ... choice on the lines of one bin, of
// what came to what was said (the product limit of Kaplan and Meier 1958, Journal of the
// American Statistical Association 53, 457-481, by Greenwood's variance).
func Test(ctx context.Context, p *profile.Profile, opt Options) (Result, error) {
	p = p.Only(func(g *profile.Game) bool { return g.Span.Known() && len(g.Moves) >= shortest })
	r := newResult()
	for _, theirs := range [...]board.Color{board.White, board.Black} {
		t := &test{profile: p, theirs: theirs, opt: opt, told: map[change]bool{}, result: &r}
		for i := range opt.Books {
			if opt.Books[i].Mine != theirs {
				t.book, t.ways, r.Given = opt.Books[i], walk.NewWays(opt.Books[i], nil), true
			}
		}
		if len(opt.Books) > 0 && t.book == nil {
			continue
		}
		t.run(ctx)
		if ctx.Err() != nil {
			return Result{}, context.Cause(ctx)
		}
	}
	r.sumUp()
	return r, nil
}

type test struct {
	profile  *profile.Profile
	theirs   board.Color
	opt      Options
	book     *book.Book // the user's, or nil
	ways     *walk.Ways // back into it
	forecast *profile.Forecast
	watch    *profile.Watch
	sheets   int
	told     map[change]bool // changes judged before
	result   *Result
}

func (t *test) run(ctx context.Context) {
	t.forecast, t.watch = t.newForecast(t.profile), t.profile.Watch(t.theirs)
	var games []int
	for i := range t.profile.Games {
		if t.profile.Games[i].Theirs == t.theirs {
			games = append(games, i)
		}
	}
	for from := 0; from < len(games) && ctx.Err() == nil; {
		first := &t.profile.Games[games[from]]
		if t.forecast.On(first.Span).Known() < known {
			from++
			continue
		}
		to := min(from+ahead, len(games))
		t.sheet(games[from:to])
		from = to
	}
}

func (t *test) newForecast(p *profile.Profile) *profile.Forecast {
	return profile.NewForecast(p, t.theirs, profile.ForecastOptions{Peers: t.opt.Peers, Model: t.opt.Model})
}

// sheet judges the sheet of the first game's day by games.
func (t *test) sheet(games []int) {
	day := t.profile.Games[games[0]].Span
	forecast, watch, p := t.forecast, t.watch, t.profile
	if t.opt.Last > 0 {
		p = t.lastBefore(games[0])
		forecast, watch = t.newForecast(p), p.Watch(t.theirs)
	}
	b, ways := t.book, t.ways
	if b == nil {
		b = Usual(p, t.theirs.Other(), day)
		ways = walk.NewWays(b, nil)
	}
	if t.sheets%changesEvery == 0 {
		t.changes(watch, day, games[0])
	}
	t.sheets++
	t.result.Sheets++
	sheets := map[profile.Class]*sheet{}
	for _, i := range games {
		g := &t.profile.Games[i]
		s := sheets[g.Class]
		if s == nil {
			s = newSheet(b, ways, forecast.For(day, g.Class))
			sheets[g.Class] = s
		}
		s.judge(g, t.result)
	}
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

// sheet is what is judged of a sheet for one time class.
type sheet struct {
	walk   *walk.Walk
	places map[walk.Key]*walk.State
	lines  []line
	expect *line // of 'tonight'; nil where no move of theirs stands out
}

func newSheet(b *book.Book, ways *walk.Ways, look *profile.Outlook) *sheet {
	said := shares{look}
	w := walk.New(b, said, walk.Options{MaxPly: maxPly, Threshold: threshold, Ways: ways.For(said), BackFrom: backFrom})
	w.Run(board.Start(), 0)
	s := &sheet{walk: w, places: w.ByPlace()}
	for _, e := range w.Sorted() {
		s.lines = append(s.lines, line{reach: e.Mass, end: e, way: w.Way(e)})
	}
	if at, _ := w.Expect(expectAt); at.Ply > 0 {
		s.expect = &line{reach: at.Mass, way: w.WayTo(at)}
	}
	return s
}

// shares forecasts as an Outlook does on a sheet, without the intervals of each move.
type shares struct{ *profile.Outlook }

func (s shares) At(pos *board.Position) profile.Expected { return s.Shares(pos) }
