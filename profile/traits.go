package profile

import (
	"slices"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// Castling is what a side did with its king.
type Castling uint8

const (
	NeverCastled Castling = iota
	CastledShort
	CastledLong
)

// settledBy is the full move by which castling and early exchanges are judged.
const settledBy = 20

// Traits are what the first 20 moves of a game show beyond the opening, and its
// length.
type Traits struct {
	Moves     int         // full moves of the whole game, a last half one counted
	Castled   [2]Castling // White's, Black's, by move 20
	QueensOff bool        // by move 20
}

// Traits reads them off the game.
func (g *Game) Traits() Traits { return traitsOf(g.Moves) }

// traitsOf needs no board: a king's first move is the first one from its square,
// and leads two files away only in castling; a queen is gone once the other side
// moves to where it stands.
func traitsOf(moves []board.Move) Traits {
	t := Traits{Moves: (len(moves) + 1) / 2}
	king := [2]board.Square{squareE1, squareE8}
	moved := [2]bool{}
	queens := [2][]board.Square{{squareD1}, {squareD8}}
	for i, m := range moves[:min(len(moves), 2*settledBy)] {
		own, other := i%2, 1-i%2
		if at := slices.Index(queens[other], m.To()); at >= 0 {
			queens[other] = slices.Delete(queens[other], at, at+1)
		}
		if at := slices.Index(queens[own], m.From()); at >= 0 {
			queens[own][at] = m.To()
		} else if m.Promotion() == board.Queen {
			queens[own] = append(queens[own], m.To())
		}
		t.QueensOff = t.QueensOff || len(queens[own])+len(queens[other]) == 0
		if m.From() != king[own] || moved[own] {
			continue
		}
		moved[own] = true
		switch m.To().File() - m.From().File() {
		case 2:
			t.Castled[own] = CastledShort
		case -2:
			t.Castled[own] = CastledLong
		}
	}
	return t
}

const (
	squareD1 board.Square = 3
	squareE1 board.Square = 4
	squareD8 board.Square = 59
	squareE8 board.Square = 60
)

// Habit is something that a game shows or does not show of a player.
type Habit uint8

const (
	LongCastling  Habit = iota // they had castled long by move 20, in games of 20 moves or more
	LateCastling               // they had not castled by move 20, in games of 20 moves or more
	EarlyQueens                // the queens were off by move 20, in games of 20 moves or more
	OppositeSides              // both had castled by move 20, on opposite sides, in games of 20 moves or more
	ShortDraw                  // a draw in under 25 moves
	LongGame                   // 60 moves or more
	habitCount
)

const (
	shortUnder = 25 // full moves
	longFrom   = 60 // full moves
)

// Tally counts habits over games: in K of the N games where they could show.
type Tally [habitCount]struct{ K, N int }

func (t *Tally) add(h Habit, shows bool, games int) {
	t[h].N += games
	if shows {
		t[h].K += games
	}
}

// Enter counts a game of a player with colour c.
func (t *Tally) Enter(traits *Traits, c board.Color, drawn bool) {
	t.enterEarly(traits, c, 1)
	t.add(ShortDraw, drawn && traits.Moves < shortUnder, 1)
	t.add(LongGame, traits.Moves >= longFrom, 1)
}

// enterEarly counts what shows in the first 20 moves, of so many games.
func (t *Tally) enterEarly(traits *Traits, c board.Color, games int) {
	if traits.Moves < settledBy {
		return
	}
	own, other := traits.Castled[c], traits.Castled[c.Other()]
	t.add(LongCastling, own == CastledLong, games)
	t.add(LateCastling, own == NeverCastled, games)
	t.add(EarlyQueens, traits.QueensOff, games)
	t.add(OppositeSides, own != other && own != NeverCastled && other != NeverCastled, games)
}

// marks packs what enterEarly looks at into 6 bits.
func (t *Traits) marks() uint8 {
	m := uint8(t.Castled[board.White])<<1 | uint8(t.Castled[board.Black])<<3
	if t.Moves >= settledBy {
		m |= 1
	}
	if t.QueensOff {
		m |= 1 << 5
	}
	return m
}

func traitsFrom(marks uint8) Traits {
	t := Traits{Castled: [2]Castling{board.White: Castling(marks >> 1 & 3), board.Black: Castling(marks >> 3 & 3)}, QueensOff: marks>>5&1 == 1}
	if marks&1 == 1 {
		t.Moves = settledBy
	}
	return t
}

const (
	// An instant move takes at most a quarter of the average time that the clock
	// gives for a move, 60 moves reckoned, and in fast games up to 2 seconds.
	instantPart  = 4
	instantLeast = 2.0
	// timedMoves are the moves that must be known for a game to tell.
	timedMoves = 12
)

// Instant tells up to which of their moves the opponent played at once, one
// pause allowed, in a game whose clock is known; false where it is not, or in
// bullet games, which are played at once altogether.
func (g *Game) Instant() (move int, ok bool) {
	if len(g.spent) < timedMoves || g.Control.Seconds == 0 || g.Class == Bullet {
		return 0, false
	}
	limit := max(instantLeast, float64(g.Control.Seconds)/pgn.MovesCounted/instantPart)
	pauses := 0
	for n := 1; n <= len(g.spent); n++ {
		s, known := g.Spent(n)
		if !known {
			return 0, false
		}
		if s > limit {
			pauses++
		}
		if pauses == 2 {
			return n - 1, true
		}
	}
	return len(g.spent), true
}
