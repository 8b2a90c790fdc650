package peerbook

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"reflect"
	"slices"
	"testing"

	"foreply/profile/board"
)

// Without somebody's game their adversary's next one with the move weighs as a first, with either
// colour; what others played stays as it is.
func TestAdversariesWeighAnew(t *testing.T) {
	game := func(moves, white, black string, day int32, result Result) Game {
		return Game{Moves: line(t, moves), Players: by(white, black), Last: day, Class: 1, Result: result}
	}
	games := []Game{
		game("e2e4 e7e5 g1f3", "Ash", "Birch", someDay, Drawn),
		game("e2e4 e7e5 f1c4", "Cedar", "Birch", someDay+1, BlackWon),
		game("d2d4 d7d5 c2c4", "Dale", "Ash", someDay, WhiteWon),
		game("d2d4 g8f6 c2c4", "Dale", "Elm", someDay+1, Drawn),
		game("d2d4 d7d5 g1f3", "Elm", "Fir", someDay+1, Drawn),
		game("d2d4 d7d5 b1c3", "Elm", "Gale", someDay+2, Drawn),
	}
	const second = 92682 - Unit
	b := opened(t, built(t, Options{Plies: 3}, 1, games))
	less, err := b.Less(Own{Players: []Player{by("Ash", "")[0]}})
	if err != nil || len(less.Games) != 2 {
		t.Fatalf("%v, %v", less, err)
	}
	m := func(moves string) board.Move { line := line(t, moves); return line[len(line)-1] }
	cell := func(days int32, result Result, weight uint64) Cell {
		c := Cell{Day: someDay + days, Class: 1}
		c.add(result, weight)
		return c
	}
	r := b.Reader()
	for moves, want := range map[string][]Move{
		"":          {{m("d2d4"), []Cell{{Day: someDay + 1, Class: 1, Passes: 2, Drawn: 2, Weight: 2 * Unit}, cell(2, Drawn, second)}}, {m("e2e4"), []Cell{cell(1, BlackWon, Unit)}}},
		"e2e4":      {{m("e2e4 e7e5"), []Cell{cell(1, BlackWon, Unit)}}},
		"e2e4 e7e5": {{m("e2e4 e7e5 f1c4"), []Cell{cell(1, BlackWon, Unit)}}},
		"d2d4":      {{m("d2d4 g8f6"), []Cell{cell(1, Drawn, Unit)}}, {m("d2d4 d7d5"), []Cell{cell(1, Drawn, Unit), cell(2, Drawn, Unit)}}},
	} {
		pos := board.Start()
		for _, m := range line(t, moves) {
			pos.Play(m)
		}
		got, err := r.At(pos.Key())
		if err != nil {
			t.Fatal(err)
		}
		got = less.From(pos.Key(), got)
		slices.SortFunc(want, func(a, b Move) int { return int(a.Move) - int(b.Move) })
		if !reflect.DeepEqual(got, want) {
			t.Errorf("after %q: %+v, want %+v", moves, got, want)
		}
		total, err := r.Total(pos.Key())
		total = less.FromTotal(pos.Key(), total)
		for i := range want {
			if err != nil || len(total) != len(want) || !reflect.DeepEqual(total[i].Cells, want[i].total()) {
				t.Errorf("after %q in total: %+v, %v, want %+v", moves, total, err, want[i].total())
			}
		}
	}
}

// bookOfBlocks is a book of blocks of games as they stand, two plies deep, of two players.
func bookOfBlocks(in days, blocks ...[]byte) *Book {
	var file []byte
	b := &Book{days: in, about: About{Plies: 2}, players: func() (playerList, error) { return playerList{[]Player{7 << restBits, 9 << restBits}, 2}, nil }}
	first := 0
	for _, block := range blocks {
		at := stored{uint64(len(file)), uint32(len(block) + sumBytes)}
		b.games = append(b.games, gameBlock{at, first})
		first += int(binary.BigEndian.Uint16(block))
		file = binary.BigEndian.AppendUint32(append(file, block...), crc32.Checksum(block, castagnoli))
	}
	b.r = bytes.NewReader(file)
	return b
}

// Short games of the same moves are many, and stand in several blocks: all are found.
func TestLineInSeveralBlocks(t *testing.T) {
	var games []Game
	for i := range 3*gamesInBlock + 5 {
		games = append(games, Game{Moves: line(t, "e2e4 e7e5"), Players: by("Ash", "Birch"), Last: someDay + int32(i)})
	}
	games = append(games, Game{Moves: line(t, "d2d4"), Last: someDay}, Game{Moves: line(t, "e2e4 e7e6"), Last: someDay})
	b := opened(t, built(t, Options{Plies: 2}, 1, games))
	less, err := b.Less(Own{Lines: [][]board.Move{games[0].Moves}})
	if err != nil || len(less.Games) != 3*gamesInBlock+5 {
		t.Fatalf("%d games, %v", len(less.Games), err)
	}
	start := board.Start()
	moves, err := b.Reader().At(start.Key())
	if moves = less.From(start.Key(), moves); err != nil || len(moves) != 2 || len(moves[0].Cells) != 1 || len(moves[1].Cells) != 1 || moves[1].Cells[0].Passes != 1 {
		t.Errorf("%+v, %v", moves, err)
	}
}

// A block that is no games is told whenever it is met: in the search for a line though the line
// is found elsewhere, and among others' games though one's own are sound.
func TestOwnGamesBesideNonsense(t *testing.T) {
	in := days{100, 100}
	game := func(piece, white, black uint64) gameBits {
		return gameBits{players: [2]uint64{white, black}, length: 1, steps: [][2]uint64{{piece, 0}}}
	}
	na3, nh3, rook := game(1, 0, 1), game(6, 1, 1), game(0, 1, 1)
	first, bad, last := blockOfGames(in, na3), blockOfGames(in, rook), blockOfGames(in, nh3)
	own := Own{Lines: [][]board.Move{line(t, "b1a3")}}
	less, err := bookOfBlocks(in, first, last, last).Less(own)
	if err != nil || len(less.Games) != 1 || !slices.Equal(less.Games[0].Moves, own.Lines[0]) {
		t.Fatalf("%+v, %v", less, err)
	}
	want := damagedAt(uint64(len(first) + sumBytes)).Error()
	if _, err := bookOfBlocks(in, first, bad, last).Less(own); !errors.Is(err, ErrDamaged) || err.Error() != want {
		t.Errorf("met in the search: %v, want %s", err, want)
	}
	me := Own{Players: []Player{7 << restBits}}
	if _, err := bookOfBlocks(in, first, bad).Less(me); !errors.Is(err, ErrDamaged) || err.Error() != want {
		t.Errorf("met among others' games: %v, want %s", err, want)
	}
	if less, err := bookOfBlocks(in, first, last).Less(me); err != nil || len(less.Games) != 1 {
		t.Errorf("%+v, %v", less, err)
	}
}

// Books are read for years: what is written of the same games is the same, byte for byte, as
// long as the head names this version. If this fails on purpose, Head needs another number.
func TestFormOfTheFile(t *testing.T) {
	games, _ := gamesByHand(t)
	games = append(games, someGames(23, 300)...)
	if sum := crc32.Checksum(built(t, Options{Plies: 12, Filter: "all"}, 1, games), castagnoli); Head != "foreply peers 3\n" || sum != 0x540f1a00 {
		t.Errorf("the book's checksum is %#x", sum)
	}
}
