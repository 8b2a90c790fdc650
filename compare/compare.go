package compare

import (
	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/find"
	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/analysis"
	"foreply/profile/board"
	"foreply/profile/referee"
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

// walk is how far the lines are followed.
func (o Options) walk() walk.Options { return walk.Options{MaxPly: o.MaxPly, Threshold: o.Threshold} }

// aim is what the options of a position are ordered for.
func (o Options) aim() string {
	switch {
	case o.Need == fact.NeedWin:
		return fact.ForWin
	case o.Need == fact.NeedDraw:
		return fact.ForDraw
	case o.DoubleRound:
		return fact.ForTwoRounds
	case o.Class.Fast():
		return fact.ForFast
	}
	return ""
}

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

// Make compares. Every line of the Report that reaches a page has been replayed
// through the rules library; a disagreement is our bug and stands among the faults.
func Make(in Input, opt Options) *fact.Report {
	opt = opt.withDefaults()
	r := &fact.Report{Version: fact.ReportVersion, Opponent: in.Opponent, Heading: in.Heading, Basis: basis(&in, opt)}
	if r.Opponent.Ratings == nil {
		r.Opponent.Ratings = find.NewestRatings(in.Profile)
	}
	for _, b := range in.Books {
		s := side(&in, opt, b)
		s.Met = find.MetScore(r.Basis.Meetings, b.Mine.Other().String())
		r.Sides = append(r.Sides, s)
	}
	r.Sides, r.About = listed(r.Sides), listed(about(&in, opt))
	r.Engine = find.EngineOf(in.Engine)
	r.Opponent.Names = listed(r.Opponent.Names)
	r.Faults = faults(r)
	return r
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

// basis says what the report rests on.
func basis(in *Input, opt Options) fact.Basis {
	b := find.Basis(in.Basis, in.Profile, in.Peers, opt.Class, opt.When)
	b.Sources, b.LeftOut, b.Meetings = listed(b.Sources), listed(b.LeftOut), meetings(in, opt)
	b.Met = find.MetScore(b.Meetings, "")
	return b
}

// faults replays every line of the report through the rules library.
func faults(r *fact.Report) []string {
	var out []string
	for _, err := range referee.Lines(fact.Lines(r)) {
		out = append(out, err.Error())
	}
	return out
}

// meetings are the games between the two.
func meetings(in *Input, opt Options) []fact.GameRow {
	theirs, own := find.Between{Games: in.Profile.Games, Rival: opt.Me}, find.Between{}
	if in.Own != nil {
		own = find.Between{Games: in.Own.Games, Rival: opt.Them}
	}
	return find.Meetings(theirs, own, in.Books)
}
