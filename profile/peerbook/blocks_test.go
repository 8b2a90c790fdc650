package peerbook

import (
	"bytes"
	"encoding/binary"
	"math"
	"reflect"
	"slices"
	"testing"

	"foreply/profile/board"
)

// gameBits are what a game of a block says, for games that no writer would write.
type gameBits struct {
	players        [2]uint64
	before, shared uint64
	length         uint64 // 40 is told by a bit alone
	steps          [][2]uint64
	tail           bool
	day            uint64
	white          uint64
	black          int64 // less White's
}

// blockOfGames is a block of such games, of two players and a hundred days.
func blockOfGames(in days, games ...gameBits) []byte {
	var names, w bitWriter
	for _, g := range games {
		names.put(g.players[0], 2)
		names.put(g.players[1], 2)
		w.below(g.shared, g.before+1)
		if g.length == Depth {
			w.put(1, 1)
		} else {
			w.put(g.length, 7)
		}
		for i, step := range g.steps {
			w.below(step[0], 16)
			w.below(step[1], []uint64{2, 2, 1}[i])
		}
		if g.tail {
			w.put(0xabcdef, 24)
		}
		w.below(g.day, in.count)
		w.put(g.white, 5)
		w.gamma(zigzag(g.black) + 1)
		w.put(2<<2|2, 5)
		w.put(9, 6)
	}
	names.pad()
	w.pad()
	return slices.Concat(binary.BigEndian.AppendUint16(nil, uint16(len(games))), names.buf, w.buf)
}

// Games are read from bits as the block's comment says, and what can be no game is refused. A
// knight of b1 is the second piece of White's and has two steps, a3 and c3.
func TestGamesFromBits(t *testing.T) {
	list := playerList{[]Player{3 << 32, 5<<32 + 1}, 2}
	in := days{100, 100}
	read := func(block []byte, in days) (out []Game, bad bool) {
		var g blockGames
		for g.open(block, 2, list, in); g.next(); {
			out = append(out, g.rec.game())
			if again := appendRecord(nil, &out[len(out)-1], 2); len(out) == 2 && !bytes.Equal(again, g.rec) {
				t.Errorf("the second record is %x, of its game it would be %x", g.rec, again)
			}
		}
		return out, g.bad()
	}
	na3 := [2]uint64{1, 0}
	good := gameBits{players: [2]uint64{1, 0}, length: 1, steps: [][2]uint64{na3}, day: 99, white: 31, black: -31}
	want := Game{Moves: line(t, "b1a3"), Players: [2]Player{5<<32 + 1, 3 << 32}, Last: unpackDay(199), Ratings: [2]int{3500, 0}, Class: 2, Result: Drawn, Marks: 9}
	if got, bad := read(blockOfGames(in, good), in); bad || !reflect.DeepEqual(got, []Game{want}) {
		t.Errorf("%+v, %v, want %+v", got, bad, want)
	}
	changed := func(change func(g *gameBits)) gameBits {
		g := good
		change(&g)
		return g
	}
	none := changed(func(g *gameBits) { g.length, g.steps, g.before = 0, nil, 1 })
	whole := changed(func(g *gameBits) { g.length, g.steps, g.tail, g.black = 40, append(g.steps, [2]uint64{1, 1}), true, 0 })
	long := want
	long.Moves, long.Ratings = line(t, "b1a3 b7b6"), [2]int{3500, 3500} // Black's second man is the pawn of b7, b6 its second step
	bare := want
	bare.Moves = nil
	if got, bad := read(blockOfGames(in, good, none, whole), in); bad || !reflect.DeepEqual(got, []Game{want, bare, long}) {
		t.Errorf("three games: %+v, %v", got, bad)
	}
	for name, c := range map[string][]gameBits{
		"longer than a game":      {changed(func(g *gameBits) { g.length = 41; g.steps = append(g.steps, [2]uint64{1, 1}); g.tail = true })},
		"a rook that can't move":  {changed(func(g *gameBits) { g.steps = [][2]uint64{{0, 0}} })},
		"Black's band under none": {changed(func(g *gameBits) { g.white = 0; g.black = -1 })},
		"Black's band too high":   {changed(func(g *gameBits) { g.white = 31; g.black = 1 })},
		"White is nobody":         {changed(func(g *gameBits) { g.players[0] = 2 })},
		"Black is nobody":         {changed(func(g *gameBits) { g.players[1] = 3 })},
		"shared moves it has not": {good, changed(func(g *gameBits) { g.length, g.before, g.shared, g.steps = 0, 1, 1, nil })},
	} {
		if got, bad := read(blockOfGames(in, c...), in); !bad || len(got) != len(c)-1 {
			t.Errorf("%s: %+v, %v", name, got, bad)
		}
	}
	late := days{1<<16 - 1, 2}
	if _, bad := read(blockOfGames(late, changed(func(g *gameBits) { g.day = 0 })), late); bad {
		t.Error("the last day was refused")
	}
	if _, bad := read(blockOfGames(late, changed(func(g *gameBits) { g.day = 1 })), late); !bad {
		t.Error("a day behind the last was taken")
	}
	block := blockOfGames(in, good)
	for n := range len(block) {
		if got, bad := read(block[:n], in); !bad || len(got) > 0 {
			t.Errorf("cut at %d: %+v, %v", n, got, bad)
		}
	}
	if got, bad := read([]byte{0, 0, 1, 2, 3}, in); !bad || len(got) > 0 {
		t.Errorf("no games: %v, %v", got, bad)
	}
	// A reader that met a bad block reads the next one, of another depth too.
	var g blockGames
	g.open(block[:3], 2, list, in)
	g.next()
	g.open(block, 2, list, in)
	if !g.next() || g.bad() || g.next() || g.bad() {
		t.Error("a good block behind a bad one")
	}
	g.open(blockOfGames(in, changed(func(g *gameBits) {
		g.length, g.steps, g.tail = 3, append(g.steps, [2]uint64{1, 1}, [2]uint64{4, 0}), false
	})), 3, list, in)
	if g.next(); len(g.rec) != recordWidth(3) {
		t.Errorf("a record of %d bytes", len(g.rec))
	}
}

// Positions from bits: heads, moves and days that no writer would write are refused.
func TestPositionsFromBits(t *testing.T) {
	in := days{100, 100}
	cell := Cell{Day: unpackDay(150), Band: 4, Class: 3, Passes: 1, Black: 1, Weight: Unit}
	var w tierWriter
	w.add(7, []Move{{796, []Cell{cell}}}, in)
	w.add(9, []Move{{797, []Cell{cell}}, {798, []Cell{cell}}}, in)
	sums, details := w.flush()
	sums = bytes.Clone(sums)
	look := func(sums, detail []byte, key uint64, positions int) ([]Move, bool) {
		f, there, ok := findInTier(sums, key)
		if !there || !ok {
			return nil, ok
		}
		moves, ok := f.take(new(movesRoom))
		return moves, ok && dated(moves, detail, f.index, positions, in)
	}
	w.add(11, []Move{{799, []Cell{cell}}}, in)
	if next, _ := w.flush(); len(next) != countBytes+headBytes+4 || binary.BigEndian.Uint16(next) != 1 || binary.BigEndian.Uint64(next[countBytes:]) != 11 {
		t.Errorf("the next block: %x", next)
	}
	detail := details[0].bytes
	for key, want := range map[uint64][]Move{7: {{796, []Cell{cell}}}, 9: {{797, []Cell{cell}}, {798, []Cell{cell}}}, 6: nil, 8: nil, 10: nil} {
		if got, ok := look(sums, detail, key, 2); !ok || !reflect.DeepEqual(got, want) {
			t.Errorf("key %d: %+v, %v", key, got, ok)
		}
	}
	for name, sums := range map[string][]byte{"nothing": nil, "a byte": {0}, "no positions": {0, 0, 1, 2}, "cut heads": sums[:countBytes+2*headBytes-1]} {
		if got, ok := look(sums, detail, 9, 2); ok {
			t.Errorf("%s: %v", name, got)
		}
	}
	behind := bytes.Clone(sums)
	body := len(sums) - countBytes - 2*headBytes
	binary.BigEndian.PutUint32(behind[countBytes+headBytes+8:], uint32(8*body+1))
	if _, _, ok := findInTier(behind, 9); ok {
		t.Error("moves behind the end")
	}
	if _, ok := look(sums[:len(sums)-2], detail, 9, 2); ok {
		t.Error("cut moves were taken")
	}
	for name, c := range map[string]struct {
		detail    []byte
		positions int
	}{"not so many positions": {detail, 1}, "cut": {detail[:9], 2}, "cut offsets": {detail[:7], 2}, "an offset behind the end": {slices.Concat(detail[:7], []byte{200}, detail[8:]), 2}} {
		if got, ok := look(sums, c.detail, 9, c.positions); ok {
			t.Errorf("days, %s: %v", name, got)
		}
	}
	var many bitWriter
	many.gamma(3) // three moves in the room of one
	many.put(796, 13)
	many.put(0, 20)
	f := found{moves: bitReader{buf: many.buf}}
	if got, ok := f.take(new(movesRoom)); ok {
		t.Errorf("three moves: %v", got)
	}
	many = bitWriter{}
	many.gamma(1)
	many.put(796<<1, 13)
	many.gamma(9) // nine cells in the room of one
	many.put(0, 20)
	f = found{moves: bitReader{buf: many.buf}}
	if got, ok := f.take(new(movesRoom)); ok {
		t.Errorf("nine cells: %v", got)
	}
}

// A day behind the last that can be kept is refused, of a single pass and of the second of two.
func TestDaysFromBits(t *testing.T) {
	late := days{1<<16 - 2, 4}
	for day, fine := range map[uint64]bool{0: true, 1: true, 2: false, 3: false} {
		var w bitWriter
		w.below(day, late.count)
		w.pad()
		m := Move{Cells: []Cell{{Passes: 1, White: 1, Weight: Unit}}}
		if got := m.date(&bitReader{buf: w.buf}, late); got != fine || fine && m.Cells[0].Day != unpackDay(uint16(1<<16-2+day)) {
			t.Errorf("day %d: %v, %v", day, got, m.Cells)
		}
		if day > 2 {
			continue
		}
		w = bitWriter{}
		w.gamma(2)
		w.below(0, late.count)
		(&Cell{Passes: 1, White: 1, Weight: Unit}).putCame(&w)
		w.rice(day, late.dayRice(2)) // so many days more and one
		(&Cell{Passes: 1, Drawn: 1, Weight: Unit}).putCame(&w)
		w.pad()
		m = Move{Cells: []Cell{{Passes: 2, White: 1, Drawn: 1, Weight: 2 * Unit}}}
		if got := m.date(&bitReader{buf: w.buf}, late); got != (day == 0) {
			t.Errorf("%d days behind the first: %v, %v", day+1, got, m.Cells)
		}
		m = Move{Cells: []Cell{{Passes: 2, White: 1, Drawn: 1, Weight: 2 * Unit}}}
		if day == 0 && m.date(&bitReader{buf: w.buf[:1]}, late) {
			t.Error("cut")
		}
	}
}

// A block of places gives, for a key, the blocks of games of all that look like it, and refuses
// what no writer wrote.
func TestPlacesFromBits(t *testing.T) {
	var w placeWriter
	w.add(1<<40, []uint32{7, 2, 7, 5})
	w.add(3<<40, []uint32{0})
	w.add(9<<40, []uint32{6, 1})
	block := bytes.Clone(w.flush(7))
	for key, want := range map[uint64][]uint32{1 << 40: {2, 5, 7}, 3 << 40: {0}, 9 << 40: {1, 6}, 5 << 40: nil, 1: nil, math.MaxUint64: nil} {
		if got, ok := findPlaces(block, key); !ok || !slices.Equal(got, want) {
			t.Errorf("key %x: %v, %v, want %v", key, got, ok, want)
		}
	}
	w.add(4, []uint32{3})
	if got, ok := findPlaces(w.flush(7), 4); !ok || !slices.Equal(got, []uint32{3}) {
		t.Errorf("the next block: %v, %v", got, ok)
	}
	with := func(at int, b byte) []byte {
		out := bytes.Clone(block)
		out[at] = b
		return out
	}
	for name, bad := range map[string][]byte{
		"nothing": nil, "a cut head": block[:placeHead-1], "all bits are left out": with(2, 64), "numbers of 33 bits": with(3, 33),
		"more places than numbers": with(1, 200), "numbers behind the end": with(placeHead-1, 200), "cut numbers": block[:len(block)-1],
	} {
		if got, ok := findPlaces(bad, math.MaxUint64); ok {
			t.Errorf("%s: %v", name, got)
		}
	}
	w.add(4, []uint32{3})
	wide := append(bytes.Clone(w.flush(7)), make([]byte, 9)...)
	if wide[3] = 32; !isOK(findPlaces(wide, 4)) {
		t.Error("numbers of 32 bits were refused")
	}
	if wide[3] = 33; isOK(findPlaces(wide, 4)) {
		t.Error("numbers of 33 bits were taken")
	}
	if got, ok := findPlaces(with(placeHead-1, 0), math.MaxUint64); ok { // no keys, so that the bits end too early
		t.Errorf("no keys: %v", got)
	}
}

func isOK(_ []uint32, ok bool) bool { return ok }

// Numbers that end too early end short, not in a loop.
func TestBitsThatEnd(t *testing.T) {
	for name, c := range map[string]struct {
		buf  []byte
		read func(r *bitReader)
	}{
		"gamma": {[]byte{0}, func(r *bitReader) { r.gamma() }}, "half a gamma": {[]byte{1}, func(r *bitReader) { r.gamma() }}, "rice": {[]byte{0xff}, func(r *bitReader) { r.rice(3) }},
		"half a rice": {[]byte{0xfe}, func(r *bitReader) { r.rice(3) }}, "no rice": {bytes.Repeat([]byte{0xff}, 20), func(r *bitReader) { r.rice(3) }},
		"wide": {make([]byte, 4), func(r *bitReader) { r.wide(40) }}, "below": {[]byte{0xff}, func(r *bitReader) { r.below(1 << 20) }}, "gammas": {[]byte{0xf0}, func(r *bitReader) { r.gammas(r.window(), 0) }},
	} {
		r := &bitReader{buf: c.buf}
		if c.read(r); !r.short || r.left() != 0 {
			t.Errorf("%s: short %v, %d bits left", name, r.short, r.left())
		}
	}
	for _, zeros := range []int{64, 70, 600} {
		r := &bitReader{buf: append(make([]byte, zeros/8), bytes.Repeat([]byte{0xff}, 100)...)}
		if v := r.gamma(); v != 1 || !r.short {
			t.Errorf("%d zeros: %d, short %v", zeros, v, r.short)
		}
	}
	r := &bitReader{buf: []byte{0x80}}
	if r.take(8); r.short {
		t.Error("all bits were taken, none behind them")
	}
	var w bitWriter
	w.put(5, 3)
	if w.len() != 3 {
		t.Errorf("%d bits", w.len())
	}
	var p parser
	if p.byte(); !p.bad {
		t.Error("a byte of nothing")
	}
}

// The days of positions stand in several parts behind one block; of each position its own
// are found.
func TestDaysInSeveralParts(t *testing.T) {
	const first, n = someDay, 1500
	cells := make([]Cell, n)
	for i := range cells {
		cells[i] = Cell{Day: first + int32(i), Band: 3, Class: 2, Passes: 70000, White: uint32(i), Black: 7, Weight: 70000*Unit - uint64(i)}
	}
	moves := func(m board.Move) []Move { return []Move{{m, cells}, {m + 1, cells[m:]}} }
	b := NewBuilder(Options{})
	b.days.include(packDay(first))
	b.days.include(packDay(first + n - 1))
	var out bytes.Buffer
	w := newWriter(&out, b)
	w.endGames()
	for i := range 5 {
		w.position(uint64(10+i), 5000, moves(board.Move(100+i)))
	}
	w.position(99, fewPasses, moves(200))
	w.endPositions()
	if _, err := w.finish(); err != nil {
		t.Fatal(err)
	}
	book := opened(t, out.Bytes())
	if parts := book.keys[0].blocks[0].details; len(parts) < 3 || parts[0].positions < 2 {
		t.Fatalf("parts %v", parts)
	}
	if book.keys[len(tiers)-1].first[0] != 99 {
		t.Error("what as many passed as are few is in no tier")
	}
	r := book.Reader()
	for _, i := range []int{4, 2, 0, 3, 1} {
		if got, err := r.At(uint64(10 + i)); err != nil || !reflect.DeepEqual(got, moves(board.Move(100+i))) {
			t.Errorf("position %d: %v", i, err)
		}
	}
}

func TestTiers(t *testing.T) {
	for passes, want := range map[int64]int{12: 4, 63: 4, 64: 3, 255: 3, 256: 2, 1024: 1, 4095: 1, 4096: 0, 1 << 40: 0} {
		if got := tierOf(passes); got != want {
			t.Errorf("%d passes are in tier %d, want %d", passes, got, want)
		}
	}
}
