package compare

import (
	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/find"
	"foreply/compare/rank"
	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/board"
)

// backReach is the reach from which a way back into the book is looked for.
const backReach = 0.01

// furtherShare is the part of the least reach of lines to expect to which they are followed
// further, for who has room: most of what is cut lies just under the threshold.
const furtherShare = 0.25

// fineThreshold is the reach below which coverage and set-ups are no longer
// followed; finer than the lines, since what is cut counts as no answer.
const fineThreshold = 1e-4

// side finds the facts of one colour, then says what comes first.
func side(in *Input, opt Options, b *book.Book) fact.Side {
	theirs := b.Mine.Other()
	games := find.Games{All: in.Profile.Games, Tree: in.Profile.Tree(theirs)}
	look := profile.NewForecast(in.Profile, theirs, profile.ForecastOptions{Class: opt.Class, Peers: in.Peers}).On(opt.When)
	s := fact.Side{MyColor: b.Mine.String(), MaxPly: opt.MaxPly, Threshold: opt.Threshold, Aim: opt.aim(), Book: find.BookFacts(b)}
	find.Count(&s, games)
	s.Few = s.Games <= opt.FewGames
	s.PeersOnly = s.Games == 0 && in.Peers != nil && in.Peers.Before(opt.When) > 0
	if s.Few {
		s.Hints = find.Hints(in.Profile.Tree(b.Mine))
	}
	limits := opt.walk()
	limits.Ways, limits.BackFrom = walk.NewWays(b, look), max(backReach, opt.Threshold)
	w := walkBook(b, look, limits)
	limits.Threshold = opt.Threshold * furtherShare
	s.Further = listed(find.Partings(walkBook(b, look, limits), games))
	limits.Threshold = min(opt.Threshold, fineThreshold)
	expected(&s, w, find.NewFine(walkBook(b, look, limits)), games)
	find.PeersMet(in.Peers, &s, opt.When)
	s.ModelGames = listed(find.Models(s.Exits, b, limits.Ways, games, opt.When, opt.Class))
	find.Consult(in.Engine, &s)
	slips := in.Profile.Slips(theirs, find.JudgeBy(in.Engine))
	s.Traps = listed(find.Traps(w, slips, in.Engine, games))
	find.Mark(s.Partings, s.Traps)
	find.Mark(s.Further, s.Traps)
	s.Changes = listed(find.Changes(w, in.Profile.Changes(theirs, opt.When)))
	find.Agree(s.Changes, s.Partings)
	s.Again = find.LookAgain(in.Engine, w, games)
	if in.Own != nil {
		s.KnowOfYou = find.Shown(w, in.Own.Tree(b.Mine))
		s.Unpractised = find.Unpractised(w, in.Own, games, opt.When)
	}
	s.Options = listed(rank.Options(find.Options(w, look, games, s.Counted()), s.Aim, find.UsualStyle(games)))
	s.Situation = rank.Situation(s.Options, s.Aim)
	s.Boards = listed(rank.Boards(&s))
	find.Draw(s.Boards, b)
	lines := find.GapFirst(tonight(&s, w, games), s.Unanswered)
	find.Gaps(lines, s.Unanswered)
	s.Tonight = rank.Tonight(&s, lines, opt.Minutes)
	s.TellPeers()
	return s
}

// walkBook is a walk of a book from the first move.
func walkBook(b *book.Book, look walk.Forecaster, opt walk.Options) *walk.Walk {
	w := walk.New(b, look, opt)
	w.Run(board.Start(), 0)
	return w
}

// expected finds what hangs on the lines to expect alone.
func expected(s *fact.Side, w *walk.Walk, fine *find.Fine, games find.Games) {
	s.Exits, s.Other = find.Exits(w, games), w.Other
	s.Partings = listed(find.Partings(w, games))
	s.Unanswered = listed(find.Unanswered(w, fine, games, s.Counted()))
	s.WaysBack = listed(find.WaysBack(w))
	s.Coverage = listed(find.Answered(fine))
	s.Surprise = find.Surprise(fine, s.Unanswered, s.WaysBack, s.Partings)
	s.Mistakes = find.Mistakes(w, games)
	if s.Few {
		s.FewGames = find.Whole(w.Book, w.Opt.Ways, games)
	}
	s.NewestGames, s.NewestAlong = find.Newest(w.Book, w.Opt.Ways, games)
	s.NewestGames = listed(s.NewestGames)
	s.Left = find.Left(w.Book, w.Opt.Ways, games)
	s.Orders = listed(find.Orders(w, games))
}

// tonight is the line to expect, as far as games of theirs or of peers tell it.
func tonight(s *fact.Side, w *walk.Walk, games find.Games) []fact.Task {
	switch {
	case s.Games == 0 && !s.PeersOnly:
		return find.Anything(games.Tree.Theirs)
	case s.Counted():
		return find.ExpectCounted(w, games)
	}
	tasks := find.Expect(w, games)
	if len(tasks) > 0 {
		tasks[0].Peers = s.PeersOnly
	}
	return tasks
}

// listed makes a list of none an empty one, for the JSON.
func listed[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}
