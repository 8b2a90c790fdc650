package profile

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"foreply/profile/board"
)

func TestTraits(t *testing.T) {
	for name, c := range map[string]struct {
		moves string
		want  Traits
	}{
		"castled short and long": {
			"e4 e5 Nf3 Nc6 Bc4 d6 O-O Bg4 d3 Qd7 Nc3 O-O-O",
			Traits{Moves: 6, Castled: [2]Castling{CastledShort, CastledLong}},
		},
		"the Berlin: queens off at move 8, a king's walk is no castling": {
			"e4 e5 Nf3 Nc6 Bb5 Nf6 O-O Nxe4 d4 Nd6 Bxc6 dxc6 dxe5 Nf5 Qxd8+ Kxd8 Nc3",
			Traits{Moves: 9, Castled: [2]Castling{CastledShort, NeverCastled}, QueensOff: true},
		},
		"one queen taken": {"e4 e5 Qh5 Nf6 Qxf7+ Kxf7", Traits{Moves: 3}},
		"a rook from the king's square castles not": {
			"e4 e5 Nf3 Nf6 Be2 Be7 Kf1 O-O g3 d6 Kg2 h6 Re1 a6 Rg1", Traits{Moves: 8, Castled: [2]Castling{NeverCastled, CastledShort}},
		},
		"off, and a new one later": {
			"e4 d5 exd5 c6 dxc6 Qxd2+ Qxd2 Nf6 Qd8+ Kxd8 cxb7 Kd7 bxa8=Q", Traits{Moves: 7, QueensOff: true},
		},
		"only a new queen is left": {
			"e4 d5 exd5 c6 dxc6 Qxd2+ Qxd2 e6 cxb7 Bb4 bxa8=Q Bxd2+ Bxd2", Traits{Moves: 7},
		},
		"a new queen moves on and is taken": {
			"e4 d5 exd5 c6 dxc6 Qxd2+ Qxd2 e6 cxb7 Bb4 bxa8=Q Bxd2+ Bxd2 Nf6 Qxb8 O-O Qxc8 Rxc8", Traits{Moves: 9, Castled: [2]Castling{NeverCastled, CastledShort}, QueensOff: true},
		},
		"a new queen stays": {
			"e4 d5 exd5 c6 dxc6 Qd4 cxb7 Qd6 bxa8=Q Qxd2+ Qxd2", Traits{Moves: 6},
		},
	} {
		t.Run(name, func(t *testing.T) {
			if got := builtFrom("2026.01.01 1-0 60: " + c.moves).Games[0].Traits(); got != c.want {
				t.Errorf("%+v, want %+v", got, c.want)
			}
		})
	}
}

// A habit is counted only in games long enough to show it.
func TestTallyCountsWhatCanShow(t *testing.T) {
	var tally Tally
	long := Traits{Moves: 61, Castled: [2]Castling{CastledLong, CastledShort}, QueensOff: true}
	short := Traits{Moves: 19, Castled: [2]Castling{CastledLong, NeverCastled}, QueensOff: true}
	tally.Enter(&long, board.White, true)
	tally.Enter(&short, board.White, true)
	for h, want := range map[Habit]struct{ K, N int }{
		LongCastling: {1, 1}, LateCastling: {0, 1}, EarlyQueens: {1, 1}, OppositeSides: {1, 1}, ShortDraw: {1, 2}, LongGame: {1, 2},
	} {
		if tally[h] != want {
			t.Errorf("habit %d: %v, want %v", h, tally[h], want)
		}
	}
	for moves, want := range map[int][3]int{19: {0, 1, 0}, 20: {1, 1, 0}, 24: {1, 1, 0}, 25: {1, 0, 0}, 59: {1, 0, 0}, 60: {1, 0, 1}} {
		var one Tally
		one.Enter(&Traits{Moves: moves}, board.Black, true)
		if got := [3]int{one[LateCastling].N, one[ShortDraw].K, one[LongGame].K}; got != want {
			t.Errorf("a draw of %d moves: could castle late, a short draw, a long game: %v, want %v", moves, got, want)
		}
	}
}

// In a game of 300+0 a move of up to 2 seconds is instant; one pause is allowed.
func TestInstant(t *testing.T) {
	game := func(clock string, seconds ...string) *Game {
		var b strings.Builder
		b.WriteString("[White \"Them\"]\n[TimeControl \"" + clock + "\"]\n\n")
		moves := []string{"Nf3 Nf6", "Ng1 Ng8"}
		for i, s := range seconds {
			b.WriteString(strings.Replace(moves[i%2], " ", " {[%emt "+s+"]} ", 1) + "\n")
		}
		return &annotated(t, b.String()+"*\n").Games[0]
	}
	for name, c := range map[string]struct {
		game *Game
		want int
		ok   bool
	}{
		"two pauses":                     {game("300", "0", "1", "2", "2", "1", "9", "1", "2", "1", "30", "1", "1"), 9, true},
		"never a pause":                  {game("300", "0", "1", "2", "2", "1", "1", "1", "2", "1", "1", "1", "1"), 12, true},
		"slow: half a minute is instant": {game("5400+30", "0", "30", "29", "2", "31", "1", "1", "2", "1", "45", "1", "1"), 9, true},
		"too short":                      {game("300", "0", "1", "2"), 0, false},
		"bullet":                         {game("60", "0", "1", "2", "2", "1", "9", "1", "2", "1", "30", "1", "1"), 0, false},
		"no clock":                       {game("-", "0", "1", "2", "2", "1", "9", "1", "2", "1", "30", "1", "1"), 0, false},
	} {
		t.Run(name, func(t *testing.T) {
			if got, ok := c.game.Instant(); got != c.want || ok != c.ok {
				t.Errorf("%d %v, want %d %v", got, ok, c.want, c.ok)
			}
		})
	}
}

// Who starts with half the time gets no increment on some sites: then no move
// would take less than the increment.
func TestClockWithoutItsIncrement(t *testing.T) {
	g := &annotated(t, `[White "Them"]
[TimeControl "300+5"]

1. e4 {[%clk 0:02:30]} e5 2. Nf3 {[%clk 0:02:29]} Nc6 3. Bc4 {[%clk 0:02:28]} Nf6 4. d3 {[%clk 0:02:27]} Bc5
5. c3 {[%clk 0:02:20]} d6 6. O-O {[%clk 0:02:19]} *
`).Games[0]
	for n, want := range map[int]float64{2: 1, 3: 1, 4: 1, 5: 7, 6: 1} {
		if got, ok := g.Spent(n); !ok || got != want {
			t.Errorf("move %d took %v, want %v", n, got, want)
		}
	}
}

// Five moves that all took as much as the increment show it was never given; four, or one
// that took less, don't. What is not known stays so.
func TestIncrementNeverGiven(t *testing.T) {
	for _, c := range []struct{ quirk, times, want string }{
		{"five", "[0 50 61 50 70 50]", "[0 0 11 0 20 0]"}, {"four", "[0 50 61 50 70]", "[0 50 61 50 70]"}, {"five, one of them faster", "[0 50 61 49 70 50 50]", "[0 50 61 49 70 50 50]"},
		{"five and one not known", "[0 50 61 65535 50 70 50]", "[0 0 11 65535 0 20 0]"}, {"four and one not known", "[0 50 61 65535 50 70]", "[0 50 61 65535 50 70]"},
		{"the first move tells nothing", "[3 50 61 50 70 50]", "[3 0 11 0 20 0]"},
	} {
		var times []uint16
		for word := range strings.FieldsSeq(strings.Trim(c.times, "[]")) {
			var n uint16
			fmt.Sscan(word, &n)
			times = append(times, n)
		}
		if withoutIncrement(times, 50); fmt.Sprint(times) != c.want {
			t.Errorf("%s: %v, want %s", c.quirk, times, c.want)
		}
	}
}

// Against a replay on the board.
func TestTraitsEqualAReplay(t *testing.T) {
	p := kestrel(t, 60)
	castled, queensOff := 0, 0
	for i := range p.Games {
		g := &p.Games[i]
		pos := board.Start()
		want := Traits{Moves: (len(g.Moves) + 1) / 2}
		for _, m := range g.Moves[:min(len(g.Moves), 40)] {
			switch san := pos.SAN(m); strings.TrimRight(san, "+#") {
			case "O-O":
				want.Castled[pos.Turn()] = CastledShort
				castled++
			case "O-O-O":
				want.Castled[pos.Turn()] = CastledLong
			}
			pos.Play(m)
			if !strings.ContainsAny(strings.Fields(pos.EPD())[0], "qQ") && !want.QueensOff {
				want.QueensOff = true
				queensOff++
			}
		}
		if got := g.Traits(); got != want {
			t.Errorf("game %d: %+v, want %+v", g.Index, got, want)
		}
	}
	if castled == 0 || queensOff == 0 {
		t.Errorf("the games test little: %d castled, queens off in %d", castled, queensOff)
	}
}

// Castled on opposite sides are both, one short and the other long.
func TestOppositeSides(t *testing.T) {
	for castled, want := range map[[2]Castling]int{
		{CastledShort, CastledLong}: 1, {CastledLong, CastledShort}: 1, {CastledShort, CastledShort}: 0, {CastledLong, CastledLong}: 0,
		{CastledShort, NeverCastled}: 0, {NeverCastled, CastledLong}: 0, {NeverCastled, NeverCastled}: 0,
	} {
		for _, c := range []board.Color{board.White, board.Black} {
			var tally Tally
			traits := Traits{Moves: 20, Castled: castled}
			tally.enterEarly(&traits, c, 3)
			long, late := 0, 0
			if castled[c] == CastledLong {
				long = 3
			} else if castled[c] == NeverCastled {
				late = 3
			}
			if tally[OppositeSides].K != 3*want || tally[OppositeSides].N != 3 || tally[LongCastling].K != long || tally[LateCastling].K != late {
				t.Errorf("%v of %v: %v", c, castled, tally)
			}
		}
	}
}

// What a book keeps of a game gives back what its first 20 moves show.
func TestMarksKeepTraits(t *testing.T) {
	for _, moves := range []int{19, 20, 45} {
		for white := NeverCastled; white <= CastledLong; white++ {
			for black := NeverCastled; black <= CastledLong; black++ {
				for _, off := range []bool{false, true} {
					want := Traits{Moves: moves, Castled: [2]Castling{white, black}, QueensOff: off}
					got := traitsFrom(want.marks())
					if (got.Moves >= 20) != (moves >= 20) || got.Castled != want.Castled || got.QueensOff != off || want.marks() > 63 {
						t.Errorf("%+v comes back as %+v", want, got)
					}
				}
			}
		}
	}
}

// One time that is not known before the second pause, and the game doesn't tell.
func TestInstantNeedsEachTime(t *testing.T) {
	known := []uint16{0, 10, 10, 10, 20, 10, 10, 10, 10, 10, 10, 10}
	for at, ok := range map[int]bool{0: false, 5: false, 11: false, -1: true} {
		g := &Game{spent: slices.Clone(known)}
		g.Control.Seconds = 300
		if at >= 0 {
			g.spent[at] = NoTime
		}
		if move, got := g.Instant(); got != ok || ok && move != 12 {
			t.Errorf("move %d not known: %d, %v", at+1, move, got)
		}
	}
}
