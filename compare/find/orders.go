package find

import (
	"cmp"
	"slices"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/board"
	"foreply/profile/stat"
)

const (
	ordersShown = 3
	orderReach  = 0.05 // reach from which a position's move orders are looked at
	orderPly    = 2    // plies from which another move is another order, and no other opening
	petFrom     = 0.2  // probability, and share of their games there, from which a move of theirs is a line of theirs
	petGames    = 4    // games of theirs with it
	petGone     = 0.5  // part of its probability that may be left after the other order
	orderBack   = 0.5  // share of their moves after the other order that must come back to your book
	dodgeReach  = 0.02 // reach from which an order of theirs is told
	dodgeGames  = 3    // games of theirs with it
	dodgeBack   = 0.7  // probability from which they come back to your book anyway
	orderMet    = 6    // games in which they must have met the other order
	orderMain   = 0.1  // probability from which their move after the other order must have an answer
	orderChance = 0.01 // chance of such a difference from which nothing is said; several are tried
	dodgeOrder  = 0.1  // share that must come back, or it is another opening and no order
)

// orders are what is looked at for them.
type orders struct {
	w     *walk.Walk
	book  *book.Book
	games Games
}

// Orders tells where the order of moves matters, what is likeliest first.
func Orders(w *walk.Walk, games Games) []fact.Order {
	c := &orders{w: w, book: w.Book, games: games}
	var out []fact.Order
	for _, s := range w.Order {
		var found fact.Order
		ok := false
		if s.Pos.Turn() == c.book.Mine {
			found, ok = c.yourOrder(s)
		} else {
			found, ok = c.theirOrder(s)
		}
		if ok {
			out = append(out, found)
		}
	}
	slices.SortStableFunc(out, func(a, b fact.Order) int { return cmp.Compare(b.Matters(), a.Matters()) })
	return out[:min(len(out), ordersShown)]
}

// yourOrder looks for a move that your book plays a move later and that could be
// played at s first: it must come back to the book against most of their moves,
// and must leave less room for a line of theirs that they know.
func (c *orders) yourOrder(s *walk.State) (fact.Order, bool) {
	answers := c.book.Answers(s.Key)
	if len(answers) == 0 || s.Mass < orderReach || s.Ply < orderPly {
		return fact.Order{}, false
	}
	main := answers[0]
	after := walk.Played(s.Pos, main)
	expected := c.w.Look.At(&after)
	best, ok := fact.Order{}, false
	for _, pet := range expected.Moves {
		if pet.P < petFrom || pet.N < petGames || float64(pet.N) < petFrom*float64(expected.Visits) {
			continue
		}
		for _, other := range c.laterMoves(&after) {
			o, fits := c.goesRound(s, main, other, pet, expected.Visits)
			if fits && (!ok || o.Back > best.Back) {
				best, ok = o, true
			}
		}
	}
	return best, ok
}

// laterMoves are your book's answers to their covered moves at pos.
func (c *orders) laterMoves(pos *board.Position) []board.Move {
	var out []board.Move
	for _, r := range pos.Legal(nil) {
		next := walk.Played(*pos, r)
		for _, m := range c.book.Answers(next.Key())[:min(1, len(c.book.Answers(next.Key())))] {
			if !slices.Contains(out, m) {
				out = append(out, m)
			}
		}
	}
	return out
}

// goesRound compares the orders main-other and other-main.
func (c *orders) goesRound(s *walk.State, main, other board.Move, pet profile.Likely, visits int) (fact.Order, bool) {
	if other == main || !slices.Contains(s.Pos.Legal(nil), other) || slices.Contains(c.book.Answers(s.Key), other) {
		return fact.Order{}, false
	}
	first, second := walk.Played(s.Pos, main), walk.Played(s.Pos, other)
	if !c.setsApart(&first, &second, pet.Move) {
		return fact.Order{}, false
	}
	left, back, fits := c.comesBack(&first, &second, main, other, pet.Move)
	if !fits || back < orderBack || left > petGone*pet.P {
		return fact.Order{}, false
	}
	line := walk.NewTrack(s.Path())
	o := fact.Order{
		Kind: fact.YourOrder, Line: line.SANs, Move: s.Pos.SAN(main), Other: s.Pos.SAN(other), Pet: first.SAN(pet.Move),
		Share: fact.NewShare(fact.Chance(pet.Range), pet.N, visits), Back: back, Games: pet.N, Reach: s.Mass, Met: passed(&second, c.games),
	}
	met := c.games.With(first.Key(), pet.Move)
	o.Score, o.Expected = c.games.Score(met), c.games.Expected(met)
	return o, true
}

// comesBack adds up their moves after the other order, second: how much of pet is left in
// it, and how much comes back to the book. It doesn't fit where it lets in what has no answer.
func (c *orders) comesBack(first, second *board.Position, main, other, pet board.Move) (left, back float64, fits bool) {
	for _, r := range c.w.Look.At(second).Moves {
		reached := walk.Played(*second, r.Move)
		answered := c.book.HasAnswer(reached.Key())
		if r.Move == pet {
			left += r.P
		}
		if !slices.Contains(reached.Legal(nil), main) {
			if r.P >= orderMain && !answered {
				return 0, 0, false
			}
			continue
		}
		if reached = walk.Played(reached, main); c.book.Holds(&reached) || written(c.book, first, r.Move, other, reached.Key()) {
			back += r.P
			expected := c.w.Look.At(&reached)
			later, _ := expected.Of(pet)
			left += r.P * later.P // it is put off, no more
			if r.Move == pet {
				return 0, 0, false
			}
		} else if r.P >= orderMain && !answered { // the other order lets in what has no answer
			return 0, 0, false
		}
	}
	return left, back, true
}

// setsApart reports whether they met the other order often enough, and play a move
// after it less often than after the first by more than chance (Fisher's exact test).
func (c *orders) setsApart(first, second *board.Position, pet board.Move) bool {
	n, met := passed(first, c.games), passed(second, c.games)
	k, still := len(c.games.With(first.Key(), pet)), len(c.games.With(second.Key(), pet))
	return met >= orderMet && stat.HypergeometricTail(k, n, k+still, n+met) <= orderChance
}

// theirOrder looks for a move of theirs at s that the book has only a move later:
// played at once it keeps back the move the book waits for, which must be one
// that they play here, or that of its main line.
func (c *orders) theirOrder(s *walk.State) (fact.Order, bool) {
	best, ok := fact.Order{}, false
	for i := range s.Flows {
		f := &s.Flows[i]
		reach := s.Mass * f.Likely.P
		if s.Ply < orderPly || f.GoesOn() || f.Likely.N < dodgeGames || reach < dodgeReach {
			continue
		}
		for j := range s.Flows {
			waits := &s.Flows[j]
			answers := c.book.Answers(waits.To)
			if len(answers) == 0 || waits.Likely.N == 0 && !expects(c.book, s.Key, waits.Likely.Move) {
				continue
			}
			o, fits := c.keepsBack(s, f.Likely, waits.Likely.Move, answers[0])
			if fits && (!ok || o.Reach > best.Reach) {
				best, ok = o, true
			}
		}
	}
	return best, ok
}

// keepsBack compares the orders waited-answer-early and early-answer-waited.
func (c *orders) keepsBack(s *walk.State, early profile.Likely, waited, answer board.Move) (fact.Order, bool) {
	book := walk.Played(walk.Played(s.Pos, waited), answer)
	if !slices.Contains(book.Legal(nil), early.Move) || !coversBook(c.book, &book, early.Move) {
		return fact.Order{}, false
	}
	now := walk.Played(s.Pos, early.Move)
	if !slices.Contains(now.Legal(nil), answer) {
		return fact.Order{}, false
	}
	met := now
	now = walk.Played(now, answer)
	if !slices.Contains(now.Legal(nil), waited) {
		return fact.Order{}, false
	}
	expected := c.w.Look.At(&now)
	likely, _ := expected.Of(waited)
	games, back := passed(&now, c.games), len(c.games.With(now.Key(), waited))
	_, most := stat.Wilson(float64(back), float64(games), 1-2*orderChance)
	// Who hardly ever comes back plays another opening; who mostly does has changed the
	// order and no more.
	if likely.P >= dodgeBack || games < orderMet || most >= dodgeBack || float64(back) < dodgeOrder*float64(games) {
		return fact.Order{}, false
	}
	line := walk.NewTrack(s.Path())
	o := fact.Order{
		Kind: fact.TheirOrder, Line: line.SANs, Move: s.Pos.SAN(early.Move), Other: now.SAN(waited), Pet: met.SAN(answer), Waits: s.Pos.SAN(waited),
		Share: fact.NewShare(fact.Chance(likely.Range), likely.N, expected.Visits), Back: likely.P, Games: early.N, Reach: s.Mass * early.P, Met: games,
	}
	return o, true
}

// expects reports whether the book's main line has a move of theirs at a position.
func expects(b *book.Book, key uint64, m board.Move) bool {
	covered := b.Covered(key)
	return len(covered) > 0 && covered[0] == m
}

// written reports whether the book, after r at pos, goes on with m to a position.
func written(b *book.Book, pos *board.Position, r, m board.Move, key uint64) bool {
	if !slices.Contains(pos.Legal(nil), r) {
		return false
	}
	next := walk.Played(*pos, r)
	if !slices.Contains(b.Answers(next.Key()), m) {
		return false
	}
	end := walk.Played(next, m)
	return end.Key() == key
}

// coversBook reports whether the book has an answer after a move of theirs.
func coversBook(b *book.Book, pos *board.Position, m board.Move) bool {
	next := walk.Played(*pos, m)
	return b.HasAnswer(next.Key())
}
