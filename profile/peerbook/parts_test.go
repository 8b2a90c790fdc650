package peerbook

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"reflect"
	"slices"
	"testing"
)

// bookOf is a book that has only rows, or only players: a part with a sound checksum.
func bookOf(text []byte) *Book {
	file := binary.BigEndian.AppendUint32(append([]byte("..."), text...), crc32.Checksum(text, castagnoli))
	at := stretch{3, uint64(len(text))}
	return &Book{r: bytes.NewReader(file), days: days{10, 100}, about: About{Size: int64(len(file)), rows: at, players: at}}
}

func TestRowsThatNoWriterWrote(t *testing.T) {
	marks := make([]uint64, 1<<markBits)
	marks[3] = 1 << 31
	row := func(class, white, black byte, days ...uint64) []byte {
		return append(append([]byte{class, white, black}, uvarints(days...)...), uvarints(marks...)...)
	}
	two := slices.Concat([]byte{2}, row(7, 31, 30, 2, 5, 8, 3, 4), row(7, 31, 31, 1, 0, 1<<40))
	want := []Row{{Class: 7, Bands: [2]uint8{31, 30}, Days: []DayGames{{unpackDay(15), 8}, {unpackDay(18), 4}}}, {Class: 7, Bands: [2]uint8{31, 31}, Days: []DayGames{{unpackDay(10), 1 << 40}}}}
	want[0].Marks[3], want[1].Marks[3] = 1<<31, 1<<31
	if got, err := bookOf(two).readRows(); err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("%v, %v, want %v", got, err, want)
	}
	for name, text := range map[string][]byte{
		"a byte too many":     append(bytes.Clone(two), 0),
		"a byte too few":      two[:len(two)-1],
		"cut in the bands":    two[:3],
		"a class too high":    append([]byte{1}, row(8, 0, 0, 0)...),
		"White's band":        append([]byte{1}, row(0, 32, 0, 0)...),
		"Black's band":        append([]byte{1}, row(0, 0, 32, 0)...),
		"games without end":   append([]byte{1}, row(0, 0, 0, 1, 0, 1<<40+1)...),
		"a row is missing":    append([]byte{2}, row(0, 0, 0, 0)...),
		"a number of 70 bits": bytes.Repeat([]byte{0xff}, 10),
	} {
		if rows, err := bookOf(text).readRows(); !errors.Is(err, ErrDamaged) || err.Error() != "the file is damaged near byte 3" || rows != nil {
			t.Errorf("%s: %v, %v", name, rows, err)
		}
	}
}

func TestPlayersThatNoWriterWrote(t *testing.T) {
	list := playerList{[]Player{5, 9, 1<<40 - 1}, 2}
	text := list.append(nil)
	if got, err := bookOf(text).readPlayers(); err != nil || !reflect.DeepEqual(got, list) {
		t.Errorf("%v, %v", got, err)
	}
	for name, text := range map[string][]byte{
		"cut":              text[:len(text)-1],
		"no number":        {0xff},
		"too many":         uvarints(mostPlayers + 1),
		"one of 41 bits":   playerList{[]Player{5, 9, 1 << 40}, 2}.append(nil),
		"more than it has": {60, 1},
	} {
		if got, err := bookOf(text).readPlayers(); !errors.Is(err, ErrDamaged) || err.Error() != "the file is damaged near byte 3" {
			t.Errorf("%s: %v, %v", name, got, err)
		}
	}
	if p, ok := list.player(2); p != 1<<40-1 || !ok {
		t.Errorf("the last player: %v, %v", p, ok)
	}
	if _, ok := list.player(3); ok {
		t.Error("a player behind the last")
	}
	if p, ok := (playerList{width: playerBits}).player(77); p != 77 || !ok {
		t.Error("without a list the number is the player")
	}
}

// A part may end where the file ends, and not behind it.
func TestPartAtTheEnd(t *testing.T) {
	b := bookOf([]byte("rows"))
	if text, err := b.read(b.about.rows, b.about.Size); err != nil || string(text) != "rows" {
		t.Errorf("%q, %v", text, err)
	}
	for _, s := range []stretch{{3, 5}, {4, 4}, {12, 0}, {1 << 62, 4}, {3, 1 << 62}} {
		if _, err := b.read(s, b.about.Size); err != ErrDamaged {
			t.Errorf("%v: %v", s, err)
		}
	}
}

// An index of blocks: where each part of each is, and where the last one ends.
func TestIndexOfBlocks(t *testing.T) {
	var index keyIndex
	index.add(16, 7, 100, 3, 40, 2, 50) // with two parts of days
	index.add(300, 1<<63, 20)
	index.add(320, 1<<63+9, 30, 1, 8)
	want := keyBlocks{first: []uint64{7, 1 << 63, 1<<63 + 9}, blocks: []keyBlock{
		{stored{16, 100}, []detailPlace{{3, stored{116, 40}}, {2, stored{156, 50}}}},
		{stored{300, 20}, nil},
		{stored{320, 30}, []detailPlace{{1, stored{350, 8}}}},
	}}
	var got keyBlocks
	if !got.parse(index.text, 358) || !reflect.DeepEqual(got, want) || got.end() != 358 {
		t.Errorf("%+v to %d, want %+v", got, got.end(), want)
	}
	if new(keyBlocks).parse(index.text, 357) || new(keyBlocks).parse(index.text[:len(index.text)-1], 358) {
		t.Error("of a file that is too short, or cut")
	}
	if first := (keyBlocks{blocks: got.blocks[:1]}); first.end() != 206 {
		t.Errorf("the first ends at %d", first.end())
	}
	if new(keyBlocks).end() != 0 {
		t.Error("the end of none")
	}
	for key, n := range map[uint64]int{6: -1, 7: 0, 8: 0, 1<<63 - 1: 0, 1 << 63: 1, 1<<63 + 8: 1, 1<<63 + 9: 2, 1<<64 - 1: 2} {
		if got.find(key) != n {
			t.Errorf("key %d is in block %d, want %d", key, got.find(key), n)
		}
	}
	for name, text := range map[string][]byte{"a part under a checksum": uvarints(16, 3, 0, 7), "days under a checksum": uvarints(16, 8, 1, 3, 3, 7), "days behind the end": uvarints(16, 8, 1, 3, 90, 7)} {
		if new(keyBlocks).parse(text, 100) {
			t.Errorf("%s was taken", name)
		}
	}
}

// An index with sound sums of its own can still name parts that the file doesn't have: it is
// refused before room is made for them.
func TestIndexBeyondTheFile(t *testing.T) {
	const part = 1 << 30
	text := binary.AppendUvarint(nil, 0)    // where the block begins
	text = binary.AppendUvarint(text, part) // its size
	text = binary.AppendUvarint(text, 0)    // no details
	text = binary.AppendUvarint(text, 1)    // its first key
	if (&keyBlocks{}).parse(text, part-1) || !(&keyBlocks{}).parse(text, part) {
		t.Error("a part must end where the file does at the latest")
	}
}
