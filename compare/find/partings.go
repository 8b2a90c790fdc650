package find

import (
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/board"
)

// partings arranges the followed positions as a tree for reading: each position
// of theirs where two moves or more have a reach worth following is a parting, and so is one
// whose only such move has no answer; where one with an answer alone has, the line runs on
// through it.
type partings struct {
	games Games
	w     *walk.Walk
	at    map[walk.Key]*walk.State
	index map[*walk.State]int
	out   []fact.Parting
}

// Partings are the lines to expect as a tree.
func Partings(w *walk.Walk, games Games) []fact.Parting {
	f := &partings{games: games, w: w, at: w.ByPlace(), index: map[*walk.State]int{}}
	if len(w.Order) > 0 {
		f.follow(w.Order[0], -1)
	}
	return f.out
}

// follow runs from s to the next parting and adds it; it returns the moves on the
// way, the parting's index or -1, and how the line ends if it meets none.
func (f *partings) follow(s *walk.State, from int) (moves []board.Move, parting int, ending string) {
	for {
		shown := f.shown(s)
		switch {
		case s.Pos.Turn() != f.w.Book.Mine && (len(shown) >= 2 || f.lone(s, shown)):
			return moves, f.parting(s, from, shown), ""
		case len(shown) == 0 || s.Pos.Turn() != f.w.Book.Mine && !shown[0].GoesOn(): // the book ends here
			return moves, -1, f.ending(s)
		}
		next := f.at[walk.Key{Position: shown[0].To, Ply: s.Ply + 1}]
		moves = append(moves, shown[0].Likely.Move)
		if next == nil { // the only move worth following leaves the book
			return moves, -1, fact.TheyLeave
		}
		s = next
	}
}

// lone reports whether the only move worth following is one without an answer: where the book
// ends before it, it is no gap.
func (f *partings) lone(s *walk.State, shown []*walk.Flow) bool {
	return len(shown) == 1 && !shown[0].GoesOn() && f.ending(s) == ""
}

// shown lists the moves out of s whose reach is worth following.
func (f *partings) shown(s *walk.State) []*walk.Flow {
	mine := s.Pos.Turn() == f.w.Book.Mine
	var shown []*walk.Flow
	anyCovered := mine
	for i := range s.Flows {
		anyCovered = anyCovered || s.Flows[i].GoesOn()
	}
	if !anyCovered {
		return nil
	}
	for i := range s.Flows {
		fl := &s.Flows[i]
		if mine || s.Mass*fl.Likely.P >= f.w.Opt.Threshold && (fl.GoesOn() || fl.Likely.N > 0) {
			shown = append(shown, fl)
		}
	}
	return shown
}

// ending names the exit that s ends in.
func (f *partings) ending(s *walk.State) string {
	for _, kind := range [...]string{fact.GameOver, fact.LimitInBook, fact.BookEnds} {
		if f.w.Ends[walk.EndKey{Kind: kind, Key: s.Key, Ply: s.Ply}] != nil {
			return kind
		}
	}
	return "" // it thins out under the threshold
}

func (f *partings) parting(s *walk.State, from int, shown []*walk.Flow) int {
	if i, ok := f.index[s]; ok {
		return i
	}
	i := len(f.out)
	f.index[s] = i
	t := walk.NewTrack(s.Path())
	f.out = append(f.out, fact.Parting{
		Stem: t.SANs, Reach: s.Mass, Visits: s.Expected.Visits, From: from,
		ECO: t.Opening().ECO, Name: t.Opening().Name,
	})
	branches := make([]fact.Branch, len(shown))
	rest, seen := 1.0, 0
	for j, fl := range shown {
		branches[j] = f.branch(s, t, fl, i)
		rest -= fl.Likely.P
		seen += fl.Likely.N
	}
	restShare := shareAt(s, profile.Between(max(rest, 0), s.Expected.Strength), s.Expected.Visits-seen)
	f.out[i].Branches, f.out[i].Rest = branches, restShare
	return i
}

func (f *partings) branch(s *walk.State, t walk.Track, fl *walk.Flow, parting int) fact.Branch {
	after := t.And(fl.Likely.Move)
	b := fact.Branch{
		Move: after.SANs[len(after.SANs)-1], Share: shareAt(s, fl.Likely.Range, fl.Likely.N),
		Reach: s.Mass * fl.Likely.P, State: fact.NoAnswer, Next: -1, EndsWith: fact.TheyLeave,
	}
	if fl.Likely.Last != nil {
		b.Last = fl.Likely.Last.Date
	}
	b.Note = f.w.Book.Note(fl.To)
	next := f.at[walk.Key{Position: fl.To, Ply: s.Ply + 1}]
	if !fl.GoesOn() || next == nil {
		return b
	}
	b.EndsWith = fact.BookEnds
	if len(next.Flows) == 0 { // no answer on your turn
		return b
	}
	switch b.State = fact.Answered; {
	case next.Flows[0].Back != nil:
		b.State, b.Back = fact.ByWayBack, back(next.Flows[0].Back, after, f.w.Book)
	case fl.Meets:
		b.State = fact.Returns
	}
	f.answer(&b, next, after, parting)
	return b
}

// answer adds your main choice and how it goes on.
func (f *partings) answer(b *fact.Branch, next *walk.State, after walk.Track, parting int) {
	moves, to, ending := f.follow(next, parting)
	line := walk.NewTrack(append(after.Moves[:len(after.Moves):len(after.Moves)], moves...))
	b.Next, b.EndsWith = to, ending
	b.Answer, b.Then = line.SANs[len(after.SANs)], line.SANs[len(after.SANs)+1:]
	if note := f.w.Book.Note(line.Keys[len(after.Moves)+1]); note != "" {
		b.Note = note
	}
	if ending == fact.BookEnds || ending == fact.LimitInBook {
		shape := Structure(&line)
		b.Structure = &shape
		b.Instant = instantFrom(line.End.Key(), len(line.SANs), f.games)
	}
}
