package walk

import (
	"slices"

	"foreply/compare/fact"
	"foreply/profile/board"
)

// Followed is the way of a game through the walk.
type Followed struct {
	States []*State // passed, the walk's first among them
	// End is where it ended as the walk expects; nil if the user's side went another
	// way than the book at the last of States, if the game is over there, or if what came
	// is nothing that the walk followed.
	End *End
	// Open says that the last of States is as far as the game tells: the user's side left
	// the book there, or no move was played.
	Open bool
}

// Follow sends a game from the usual start through the walk.
func (w *Walk) Follow(places map[Key]*State, moves []board.Move) Followed {
	f := Followed{States: []*State{w.Order[0]}}
	for ply := 0; ; ply++ {
		s := f.States[len(f.States)-1]
		if e := w.stops(s); e != nil {
			f.End = e
			return f
		}
		if ply == len(moves) {
			f.Open = true
			return f
		}
		i := slices.IndexFunc(s.Flows, func(fl Flow) bool { return fl.Likely.Move == moves[ply] })
		switch {
		case i < 0: // another answer than the book's, or none
			f.Open = s.Pos.Turn() == w.Book.Mine
			return f
		case !s.Flows[i].GoesOn():
			f.End = w.left(s, &s.Flows[i])
			return f
		}
		next := places[Key{Position: s.Flows[i].To, Ply: s.Ply + 1}]
		if next == nil { // cut under the threshold
			return f
		}
		f.States = append(f.States, next)
	}
}

// stops is the end that all games come to at s; nil if they go on.
func (w *Walk) stops(s *State) *End {
	if len(s.Flows) > 0 && slices.ContainsFunc(s.Flows, func(f Flow) bool { return f.GoesOn() }) {
		return nil
	}
	for _, kind := range [...]string{fact.GameOver, fact.LimitInBook, fact.BookEnds} {
		if e := w.Ends[EndKey{Kind: kind, Key: s.Key, Ply: s.Ply}]; e != nil {
			return e
		}
	}
	return nil
}

// left is the end of those who leave the book at s by a move.
func (w *Walk) left(s *State, f *Flow) *End {
	written := slices.ContainsFunc(s.Flows, func(f Flow) bool { return f.Written })
	switch {
	case !written:
		return w.Ends[EndKey{Kind: fact.BookEnds, Key: s.Key, Ply: s.Ply}]
	case f.Likely.N > 0:
		return w.Ends[EndKey{Kind: fact.TheyLeave, Key: f.To, Ply: s.Ply + 1}]
	}
	return w.Ends[EndKey{Kind: fact.TheyLeave, Key: s.Key, Ply: s.Ply, Unseen: true}]
}

// Choice is a move of theirs on a way, or what they end a line by.
type Choice struct {
	At *State
	P  float64 // of it there
	To *State  // that it leads to; nil where the line ends
}

// Way lists their choices on the likeliest way to the end.
func (w *Walk) Way(e *End) []Choice {
	way := w.WayTo(e.At)
	if e.At.Pos.Turn() != w.Book.Mine {
		if p := fromOne(e.ways, e.At); p < 1 {
			way = append(way, Choice{At: e.At, P: p})
		}
	}
	return way
}

// WayTo lists their choices on the likeliest way to a state.
func (w *Walk) WayTo(s *State) []Choice {
	var way []Choice
	for ; s.Via != nil; s = s.Via {
		if s.Via.Pos.Turn() != w.Book.Mine {
			way = append(way, Choice{At: s.Via, P: fromOne(s.ways, s.Via), To: s})
		}
	}
	slices.Reverse(way)
	return way
}

// fromOne is the probability of the ways that come from one state.
func fromOne(ways []way, from *State) float64 {
	p := 0.0
	for _, w := range ways {
		if w.from == from {
			p += w.p
		}
	}
	return p
}
