package peerbook

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"strings"
	"testing"

	"foreply/profile/board"
)

// errDisk is what a disk says in these tests.
var errDisk = errors.New("the disk is broken")

// brokenFrom is a file that can't be read from a byte on.
type brokenFrom struct {
	*bytes.Reader
	byte int64
}

func (b *brokenFrom) ReadAt(to []byte, at int64) (int, error) {
	if at+int64(len(to)) > b.byte {
		return 0, errDisk
	}
	return b.Reader.ReadAt(to, at)
}

// brokenAt is a file of which a part can't be read.
type brokenAt struct {
	*bytes.Reader
	byte int64
}

func (b *brokenAt) ReadAt(to []byte, at int64) (int, error) {
	if at == b.byte {
		return 0, errDisk
	}
	return b.Reader.ReadAt(to, at)
}

func TestIs(t *testing.T) {
	for text, want := range map[string]bool{Head: true, "foreply peers 4\n and more": true, AnyHead: true, "foreply peers": false, "": false, "[Event \"?\"]\n[Site \"?\"]\n": false} {
		if Is(strings.NewReader(text)) != want {
			t.Errorf("%q: %v", text, !want)
		}
	}
}

// What the disk says comes through, with the place where it was asked, whatever was wanted; a
// book that can't be read is not called damaged.
func TestBrokenDisk(t *testing.T) {
	games, _ := gamesByHand(t)
	data := built(t, byHand, 1, games)
	for _, at := range []int64{0, int64(len(data)) - 1, int64(len(data)) - int64(tailSize) - 1} {
		_, err := Open(&brokenFrom{bytes.NewReader(data), at}, int64(len(data)))
		if !errors.Is(err, errDisk) || errors.Is(err, ErrDamaged) {
			t.Errorf("from byte %d on: %v", at, err)
		}
	}
	file := &brokenFrom{bytes.NewReader(data), int64(len(data))}
	whole := opened(t, data).about
	for _, part := range append(whole.keyIndexes[:], whole.gameIndex) {
		if _, err := Open(&brokenAt{bytes.NewReader(data), int64(part.at)}, int64(len(data))); !errors.Is(err, errDisk) || errors.Is(err, ErrDamaged) {
			t.Errorf("the index at byte %d: %v", part.at, err)
		}
	}
	asked := map[string]struct {
		at  uint64
		ask func(b *Book) error
	}{
		"rows":              {whole.rows.at, func(b *Book) error { _, err := b.Rows(); return err }},
		"a position":        {whole.players.at, func(b *Book) error { start := board.Start(); _, err := b.Reader().At(start.Key()); return err }},
		"games by name":     {whole.players.at, func(b *Book) error { _, err := b.Less(Own{Players: []Player{7}}); return err }},
		"games by moves":    {whole.players.at, func(b *Book) error { _, err := b.Less(Own{Lines: [][]board.Move{nil}}); return err }},
		"the book as games": {whole.players.at, func(b *Book) error { return NewBuilder(byHand).AddBook(b) }},
	}
	for name, c := range asked {
		file.byte = int64(len(data))
		b, err := Open(file, int64(len(data)))
		if err != nil {
			t.Fatal(err)
		}
		file.byte = 40
		if name == "a position" {
			c.at = b.keys[len(tiers)].blocks[0].sums.at
		}
		if err := c.ask(b); !errors.Is(err, errDisk) || !strings.Contains(err.Error(), fmt.Sprintf("reading at byte %d: ", c.at)) {
			t.Errorf("%s: %v, want byte %d", name, err, c.at)
		}
	}
}

// A byte that is another is told with the part in which it is; who doesn't want this part
// reads on.
func TestWhereTheDamageIs(t *testing.T) {
	games := someGames(21, 450)
	data := built(t, Options{Plies: 12}, 1, games)
	whole := opened(t, data)
	if len(whole.games) < 3 || len(whole.keys[2].blocks) == 0 || len(whole.keys[len(tiers)].blocks) == 0 {
		t.Fatal("no block of a kind: the test tells nothing of it")
	}
	keys := counted(games, 12)
	tier, few := whole.keys[2].blocks[0], whole.keys[len(tiers)].blocks[0]
	positions := func(b *Book) error {
		r := b.Reader()
		for key := range keys {
			if _, err := r.At(key); err != nil {
				return err
			}
		}
		return nil
	}
	totals := func(b *Book) error {
		r := b.Reader()
		for key := range keys {
			if _, err := r.Total(key); err != nil {
				return err
			}
		}
		return nil
	}
	merged := func(b *Book) error {
		into := NewBuilder(Options{Plies: 12})
		defer into.Close()
		if err := into.AddBook(b); err != nil {
			return err
		}
		_, err := into.Write(t.Context(), &bytes.Buffer{})
		return err
	}
	rows := func(b *Book) error { _, err := b.Rows(); return err }
	names := func(b *Book) error { _, err := b.Less(Own{Players: []Player{games[0].Players[0]}}); return err }
	nobody := func(b *Book) error { _, err := b.Less(Own{Players: []Player{1}}); return err }
	moves := func(b *Book) error { _, err := b.Less(Own{Lines: [][]board.Move{games[0].Moves}}); return err }
	type ask func(*Book) error
	for name, c := range map[string]struct {
		at         uint64
		told, fine []ask
	}{
		"the first games": {whole.games[0].at, []ask{merged, names, nobody}, []ask{rows}},
		"the third games": {whole.games[2].at, []ask{merged, names, nobody}, []ask{rows}},
		"a tier":          {tier.sums.at, []ask{positions, totals}, []ask{merged, names, moves, rows}},
		"a tier's days":   {tier.details[0].at, []ask{positions}, []ask{totals, merged, rows}},
		"the few":         {few.sums.at, []ask{positions, totals}, []ask{merged, names, rows}},
		"the players":     {whole.about.players.at, []ask{merged, names, moves, positions}, []ask{rows}},
		"the rows":        {whole.about.rows.at, []ask{rows}, []ask{merged, positions, totals, moves}},
	} {
		flipped := bytes.Clone(data)
		flipped[c.at+1] ^= 4
		for i, told := range c.told {
			if err := told(opened(t, flipped)); !errors.Is(err, ErrDamaged) || !strings.Contains(err.Error(), fmt.Sprintf("near byte %d: its checksum is another", c.at)) {
				t.Errorf("%s, question %d: %v, want byte %d", name, i, err, c.at)
			}
		}
		for i, fine := range c.fine {
			if err := fine(opened(t, flipped)); err != nil {
				t.Errorf("%s, question %d: %v", name, i, err)
			}
		}
	}
}

// remade is a small book whose writer was made to write something else, with sound checksums.
func remade(t *testing.T, change func(*writer)) []byte {
	t.Helper()
	b := NewBuilder(byHand)
	defer b.Close()
	worker := b.Workers(1)[0]
	games, first := gamesByHand(t)
	for i := range games {
		worker.Add(&games[i], first[i])
	}
	var out bytes.Buffer
	sources := b.gather()
	w := newWriter(&out, b)
	if err := errors.Join(b.writeGames(t.Context(), w, sources), b.writePositions(t.Context(), w)); err != nil {
		t.Fatal(err)
	}
	change(w)
	if _, err := w.finish(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// An account that contradicts itself or the file is damage.
func TestContradictions(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*writer)
		want   error
	}{
		"nothing":               {func(*writer) {}, nil},
		"a game more":           {func(w *writer) { w.about.Games++ }, ErrDamaged},
		"positions elsewhere":   {func(w *writer) { w.about.positionsAt++ }, ErrDamaged},
		"a gap before players":  {func(w *writer) { w.bytes([]byte("x")) }, ErrDamaged},
		"no depth":              {func(w *writer) { w.about.Plies = 0 }, ErrDamaged},
		"the greatest depth":    {func(w *writer) { w.about.Plies = Depth }, nil},
		"too deep":              {func(w *writer) { w.about.Plies = Depth + 1 }, ErrDamaged},
		"no days":               {func(w *writer) { w.days.count = 0 }, ErrDamaged},
		"all days":              {func(w *writer) { w.days.count = 1 << dayBits }, nil},
		"more days":             {func(w *writer) { w.days.count = 1<<dayBits + 1 }, ErrDamaged},
		"a block of three byte": {func(w *writer) { w.gameIndex = uvarints(3, 0, w.about.positionsAt-uint64(len(Head))-3, 7) }, ErrDamaged},
		"a block of no game":    {func(w *writer) { w.gameIndex = uvarints(4, 0, w.about.positionsAt-uint64(len(Head))-4, 7) }, nil},
		"games that overlap":    {func(w *writer) { w.gameIndex = uvarints(4, 7) }, ErrDamaged},
	} {
		data := remade(t, c.change)
		if _, err := Open(bytes.NewReader(data), int64(len(data))); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", name, err, c.want)
		}
	}
	data := remade(t, func(*writer) {})
	binary.BigEndian.PutUint64(data[len(data)-12:], uint64(len(data))+1)
	binary.BigEndian.PutUint32(data[len(data)-4:], crc32.Checksum(data[len(data)-tailSize:len(data)-4], castagnoli))
	if _, err := Open(bytes.NewReader(data), int64(len(data))); !errors.Is(err, ErrDamaged) {
		t.Errorf("another length: %v", err)
	}
	for _, head := range []string{"foreply peers 3\r", "foreply peers 9\n"} {
		if _, err := Open(strings.NewReader(head), int64(len(head))); !errors.Is(err, ErrVersion) {
			t.Errorf("%q: %v", head, err)
		}
	}
}

func uvarints(numbers ...uint64) (out []byte) {
	for _, n := range numbers {
		out = binary.AppendUvarint(out, n)
	}
	return out
}

// Bytes that no writer wrote, under checksums that are sound, are told with their part, too:
// those of the games by whoever goes through them.
func TestWhereTheNonsenseIs(t *testing.T) {
	games := someGames(22, 450)
	data := built(t, Options{Plies: 12}, 1, games)
	whole := opened(t, data)
	keys := counted(games, 12)
	tier, few, last := whole.keys[2].blocks[0], whole.keys[len(tiers)].blocks[0], whole.games[2]
	positions := func(b *Book) error {
		r := b.Reader()
		for key := range keys {
			if _, err := r.At(key); err != nil {
				return err
			}
		}
		return nil
	}
	merged := func(b *Book) error {
		s := &bookSource{book: b}
		for {
			if rec, err := s.next(); rec == nil {
				return err
			}
		}
	}
	own := func(b *Book) error { _, err := b.Less(Own{Players: []Player{games[0].Players[0]}}); return err }
	lines := func(b *Book) error {
		for i := range games {
			if _, err := b.Less(Own{Lines: [][]board.Move{games[i].Moves}}); err != nil {
				return err
			}
		}
		return nil
	}
	names := uint64(countBytes + (2*gamesInBlock*5+7)/8) // of 30 players at most
	for name, c := range map[string]struct {
		from, to uint64
		is       byte
		at       uint64
		told     []func(*Book) error
	}{
		"a position begins behind the end":    {tier.sums.at + countBytes + 8, tier.sums.at + countBytes + headBytes, 0xff, tier.sums.at, []func(*Book) error{positions}},
		"its days do":                         {tier.details[0].at, tier.details[0].at + 4, 0xff, tier.sums.at, []func(*Book) error{positions}},
		"a tier has no positions":             {tier.sums.at, tier.sums.at + countBytes, 0, tier.sums.at, []func(*Book) error{positions}},
		"no bits of keys are left":            {few.sums.at + countBytes, few.sums.at + countBytes + 1, 64, few.sums.at, []func(*Book) error{positions}},
		"games without end":                   {last.at + names, last.at + uint64(last.size) - sumBytes, 0, last.at, []func(*Book) error{positions, merged, own, lines}},
		"players whom the list does not have": {last.at + countBytes, last.at + names, 0xff, last.at, []func(*Book) error{positions, merged, own, lines}},
	} {
		changed := bytes.Clone(data)
		for i := c.from; i < c.to; i++ {
			changed[i] = c.is
		}
		resum(changed, whole)
		for i, told := range c.told {
			if err := told(opened(t, changed)); !errors.Is(err, ErrDamaged) || err.Error() != fmt.Sprintf("the file is damaged near byte %d", c.at) {
				t.Errorf("%s, question %d: %v, want byte %d", name, i, err, c.at)
			}
		}
	}
	l := lessening{b: whole}
	whole.games[1].first += 9
	if err := l.some([]int{gamesInBlock + 3}, func(int, record) {}); !errors.Is(err, ErrDamaged) || err.Error() != "the file is damaged: game 131 is missing" {
		t.Errorf("a number that no block has: %v", err)
	}
	if _, err := whole.Reader().visits(len(whole.games)); !errors.Is(err, ErrDamaged) || !strings.HasSuffix(err.Error(), fmt.Sprintf("near byte %d", whole.about.positionsAt)) {
		t.Errorf("a block behind the last: %v", err)
	}
}
