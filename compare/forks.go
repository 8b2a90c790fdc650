package compare

import (
	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/profile"
	"foreply/profile/board"
	"foreply/profile/stat"
)

// forks arranges the followed positions as a tree for reading: each position
// of theirs where two moves or more have a reach worth following is a fork;
// where one move alone has, the line runs on through it.
type forks struct {
	c     *comparison
	w     *walk
	at    map[stateKey]*state
	index map[*state]int
	out   []fact.Fork
}

func (c *comparison) forks(w *walk) []fact.Fork {
	f := &forks{c: c, w: w, at: w.byPlace(), index: map[*state]int{}}
	if len(w.order) > 0 {
		f.follow(w.order[0], -1)
	}
	return f.out
}

// follow runs from s to the next fork and adds it; it returns the moves on the
// way, the fork's index or -1, and how the line ends if it meets none.
func (f *forks) follow(s *state, from int) (moves []board.Move, fork int, ending string) {
	for {
		shown := f.shown(s)
		switch {
		case s.pos.Turn() != f.w.book.Mine && len(shown) >= 2:
			return moves, f.fork(s, from, shown), ""
		case len(shown) == 0:
			return moves, -1, f.ending(s)
		}
		next := f.at[stateKey{shown[0].to, s.ply + 1}]
		moves = append(moves, shown[0].likely.Move)
		if next == nil { // the only move worth following leaves the book
			return moves, -1, fact.TheyLeave
		}
		s = next
	}
}

// shown lists the moves out of s whose reach is worth following.
func (f *forks) shown(s *state) []*flow {
	mine := s.pos.Turn() == f.w.book.Mine
	var shown []*flow
	anyCovered := mine
	for i := range s.flows {
		anyCovered = anyCovered || s.flows[i].covered()
	}
	if !anyCovered {
		return nil
	}
	for i := range s.flows {
		fl := &s.flows[i]
		if mine || s.mass*fl.likely.P >= f.w.opt.Threshold && (fl.covered() || fl.likely.N > 0) {
			shown = append(shown, fl)
		}
	}
	return shown
}

// ending names the exit that s ends in.
func (f *forks) ending(s *state) string {
	for _, kind := range [...]string{fact.GameOver, fact.LimitInBook, fact.BookEnds} {
		if f.w.ends[endKey{kind: kind, key: s.key, ply: s.ply}] != nil {
			return kind
		}
	}
	return "" // it thins out under the threshold
}

func (f *forks) fork(s *state, from int, shown []*flow) int {
	if i, ok := f.index[s]; ok {
		return i
	}
	i := len(f.out)
	f.index[s] = i
	t := newTrack(s.path())
	f.out = append(f.out, fact.Fork{
		Stem: t.sans, Reach: s.mass, Visits: s.expected.Visits, From: from,
		ECO: t.opening().ECO, Name: t.opening().Name,
	})
	branches := make([]fact.Branch, len(shown))
	rest, seen := 1.0, 0
	for j, fl := range shown {
		branches[j] = f.branch(s, t, fl, i)
		rest -= fl.likely.P
		seen += fl.likely.N
	}
	restShare := shareAt(s, profile.Between(max(rest, 0), s.expected.Strength), s.expected.Visits-seen)
	printTens(branches, &restShare)
	for j := range branches {
		branches[j].Text = words.InTen(branches[j].Share) + " (" + words.Counted(branches[j].Share) + ")"
	}
	f.out[i].Branches, f.out[i].Rest = branches, restShare
	return i
}

// shareAt words a forecast at s as a share; its Ten is set by who prints it among
// others.
func shareAt(s *state, r profile.Range, seen int) fact.Share {
	lo, hi := stat.BetaBinomialInterval(10, r.P*s.expected.Strength, (1-r.P)*s.expected.Strength, 0.8)
	share := fact.Share{P: r.P, Lo: r.Lo, Hi: r.Hi, Seen: seen, Of: s.expected.Visits, TenLo: lo, TenHi: hi}
	share.SetTen(int(r.P*10 + 0.5))
	return share
}

// printTens gives the shares of one position whole tenths that sum to ten.
func printTens(branches []fact.Branch, rest *fact.Share) {
	p := make([]float64, 0, len(branches)+1)
	for _, b := range branches {
		p = append(p, b.Share.P)
	}
	tens := stat.LargestRemainder(append(p, rest.P), 10)
	for i := range branches {
		branches[i].Share.SetTen(tens[i])
	}
	rest.SetTen(tens[len(branches)])
}

func (f *forks) branch(s *state, t track, fl *flow, fork int) fact.Branch {
	after := t.and(fl.likely.Move)
	b := fact.Branch{
		Move: after.sans[len(after.sans)-1], Share: shareAt(s, fl.likely.Range, fl.likely.N),
		Reach: s.mass * fl.likely.P, State: fact.NoAnswer, Next: -1, EndsWith: fact.TheyLeave,
	}
	if fl.likely.Last != nil {
		b.Last = fl.likely.Last.Date
	}
	b.Note = f.w.book.Note(fl.to)
	next := f.at[stateKey{fl.to, s.ply + 1}]
	if !fl.covered() || next == nil {
		return b
	}
	b.EndsWith = fact.BookEnds
	if len(next.flows) == 0 { // no answer on your turn
		return b
	}
	b.State = fact.Answered
	if fl.meets {
		b.State = fact.Returns
	}
	f.answer(&b, next, after, fork)
	return b
}

// answer adds your main choice and how it goes on.
func (f *forks) answer(b *fact.Branch, next *state, after track, fork int) {
	moves, to, ending := f.follow(next, fork)
	line := newTrack(append(after.moves[:len(after.moves):len(after.moves)], moves...))
	b.Next, b.EndsWith = to, ending
	b.Answer, b.Then = line.sans[len(after.sans)], line.sans[len(after.sans)+1:]
	if note := f.w.book.Note(line.keys[len(after.moves)+1]); note != "" {
		b.Note = note
	}
	if ending == fact.BookEnds || ending == fact.LimitInBook {
		b.Structure = structureOf(&line, f.w.book.Mine).Text
		b.Instant = f.c.instantFrom(line.end.Key(), len(line.sans))
	}
}
