package compare

import (
	"slices"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/find"
	"foreply/compare/rank"
	"foreply/compare/walk"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/analysis"
	"foreply/profile/board"
)

// Options of Make; the zero value of a field means its default.
type Options struct {
	MaxPly      int                    // how deep lines are followed, in plies; default 40
	Threshold   float64                // smallest reach that is followed, 0..1; default 0.01
	FewGames    int                    // up to so many games are listed instead of counted; default 12
	Minutes     int                    // time tonight for what wants work; default 30
	When        profile.Span           // the day of the game to come
	Class       profile.Class          // its time class; unknown weighs all games alike
	Me          func(name string) bool // is this the user? nil when not known
	Them        func(name string) bool // is this the opponent? nil when not known
	Need        fact.Need              // what the user needs; orders the options
	DoubleRound bool                   // there is another round on the same day
}

func (o Options) withDefaults() Options {
	if o.MaxPly == 0 {
		o.MaxPly = 40
	}
	if o.Threshold == 0 {
		o.Threshold = 0.01
	}
	if o.FewGames == 0 {
		o.FewGames = 12
	}
	if o.Minutes == 0 {
		o.Minutes = 30
	}
	return o
}

// aim is what the options of a position are ordered for.
func (o Options) aim() string {
	switch {
	case o.Need == fact.NeedWin:
		return fact.ForWin
	case o.Need == fact.NeedDraw:
		return fact.ForDraw
	case o.DoubleRound:
		return fact.ForTwoRounds
	case o.Class != profile.UnknownClass && !o.Class.Slow():
		return fact.ForFast
	}
	return ""
}

// walk is how far the lines are followed.
func (o Options) walk() walk.Options { return walk.Options{MaxPly: o.MaxPly, Threshold: o.Threshold} }

// Input is what a Report is made of. The caller fills of Basis what only it
// knows: sources, games left out and warnings.
type Input struct {
	Profile  *profile.Profile
	Own      *profile.Profile // the user's own games; nil when not given
	Peers    *profile.Peers   // games of players like the opponent; nil when not given
	Books    []*book.Book     // one for each colour the user may have
	Engine   *analysis.Found  // what an engine said of positions; nil when none was asked
	Opponent fact.Opponent
	Heading  fact.Heading
	Basis    fact.Basis
}

// comparison is one side of the Report in the making.
type comparison struct {
	in   *Input
	opt  Options
	book *book.Book
	tree *profile.Tree
	look *profile.Outlook
	fine *find.Fine
	ways *walk.Ways
	// counted: their games are so few that what is said of them is a count, no
	// share.
	counted bool
}

// fineThreshold is the reach below which coverage and set-ups are no longer
// followed; finer than the lines, since what is cut counts as no answer.
const fineThreshold = 1e-4

// Make compares. Every line of the Report that reaches a page has been replayed
// through the rules library; a disagreement is our bug and stands among the faults.
func Make(in Input, opt Options) *fact.Report {
	opt = opt.withDefaults()
	r := &fact.Report{Version: fact.ReportVersion, Opponent: in.Opponent, Heading: in.Heading, Basis: basis(&in, opt)}
	if r.Opponent.Ratings == nil {
		r.Opponent.Ratings = find.NewestRatings(in.Profile)
	}
	for _, b := range in.Books {
		r.Sides = append(r.Sides, side(&in, opt, b))
	}
	r.Sides, r.About = listed(r.Sides), listed(about(&in, opt))
	r.Engine = find.EngineOf(in.Engine)
	r.Opponent.Names = listed(r.Opponent.Names)
	r.Faults = faults(r)
	return r
}

func side(in *Input, opt Options, book *book.Book) fact.Side {
	theirs := book.Mine.Other()
	forecast := profile.NewForecast(in.Profile, theirs, profile.ForecastOptions{Class: opt.Class, Peers: in.Peers})
	c := &comparison{in: in, opt: opt, book: book, tree: in.Profile.Tree(theirs), look: forecast.On(opt.When)}
	c.ways = walk.NewWays(book, c.look)
	s := fact.Side{MyColor: book.Mine.String(), MaxPly: opt.MaxPly, Threshold: opt.Threshold, Book: bookFacts(book)}
	c.count(&s)
	w := c.walkFrom(board.Start(), 0, opt.Threshold)
	c.fine = find.NewFine(c.walkFrom(board.Start(), 0, min(opt.Threshold, fineThreshold)))
	games := c.found()
	s.Exits, s.Other = find.Exits(w, games), w.Other
	s.Forks = listed(find.Forks(w, games))
	s.Unanswered = listed(find.Unanswered(w, c.fine, games, c.counted))
	s.WaysBack = listed(find.WaysBack(w))
	find.PeersMet(in.Peers, &s, opt.When)
	find.Consult(in.Engine, &s)
	s.Coverage = listed(find.Answered(c.fine))
	s.Aim = opt.aim()
	s.Options = listed(rank.Options(find.Options(w, c.look, games, c.counted), s.Aim, find.UsualStyle(games)))
	s.Surprise = find.Surprise(c.fine, s.Unanswered, s.WaysBack)
	s.Mistakes = find.Mistakes(w, c.found())
	if s.Few {
		s.List, s.FewGames = find.List(book, c.ways, games), find.Whole(book, c.ways, games)
	}
	s.NewestGames = listed(find.Newest(book, c.ways, games))
	s.ModelGames = listed(find.Models(s.Exits, book, c.ways, games, opt.When, opt.Class))
	s.Left = find.Left(book, c.ways, c.found())
	if in.Own != nil {
		s.KnowOfYou = find.Shown(w, in.Own.Tree(book.Mine))
	}
	s.Boards = listed(c.boards(&s))
	s.Changes, s.Traps, s.Orders = listed(find.Changes(w, in.Profile.Changes(theirs, opt.When))), listed(c.traps(w)), listed(find.Orders(w, games))
	find.Mark(s.Forks, s.Traps)
	s.Again = find.LookAgain(in.Engine, w)
	s.Tonight = c.tonight(w, &s)
	return s
}

// traps are the places where a side went wrong, then where they scored.
func (c *comparison) traps(w *walk.Walk) []fact.Trap {
	slips := c.in.Profile.Slips(c.tree.Theirs, find.JudgeBy(c.in.Engine))
	return slices.Concat(find.Traps(w, slips, c.in.Engine, c.found()), find.Scores(w, c.look, c.found()))
}

// listed makes a list of none an empty one, for the JSON.
func listed[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

// backReach is the reach from which a way back into the book is looked for.
const backReach = 0.01

// walkFrom walks the book from a position at a ply, down to a reach.
func (c *comparison) walkFrom(pos board.Position, ply int, threshold float64) *walk.Walk {
	w := walk.New(c.book, c.look, walk.Options{MaxPly: c.opt.MaxPly, Threshold: threshold, Ways: c.ways, BackFrom: max(backReach, c.opt.Threshold)})
	w.Run(pos, ply)
	return w
}

func bookFacts(b *book.Book) fact.BookFacts {
	f := fact.BookFacts{Files: listed(b.Files), Chapters: len(b.Chapters), Positions: b.Positions(), Notes: b.Notes}
	for i := range b.Problems {
		p := &b.Problems[i]
		if p.Severity != pgn.Error {
			continue
		}
		if f.Unread++; f.Unread == 1 {
			f.File, f.FileLine = p.File, p.Line
		}
	}
	return f
}

// count fills in what is counted of the games with that colour, and whether
// they are few.
func (c *comparison) count(s *fact.Side) {
	for g := range c.in.Profile.With(c.tree.Theirs) {
		s.Games++
		if g.Class.Slow() {
			s.Slow++
		} else {
			s.Fast++
		}
		find.AddResult(&s.Score, g.Result)
		if g.Date.Known() {
			s.Last = g.Date
		}
	}
	s.Few = s.Games <= c.opt.FewGames
	s.PeersOnly = s.Games == 0 && c.in.Peers != nil && c.in.Peers.Before(c.opt.When) > 0
	c.counted = s.Counted()
	if s.Few {
		s.Hints = find.Hints(c.in.Profile.Tree(c.tree.Theirs.Other()))
	}
}

// about are facts of the opponent, with the record of the colours that the user
// may meet.
func about(in *Input, opt Options) []fact.About {
	var colors []board.Color
	for _, b := range in.Books {
		colors = append(colors, b.Mine.Other())
	}
	return find.About(in.Profile, opt.Class, in.Peers, colors...)
}
