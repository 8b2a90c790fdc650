package fetch

import (
	"bufio"
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"io/fs"
	"iter"
	"os"
	"path/filepath"
	"slices"

	"foreply/fetch/pgn"
)

// Shelf is the games of one opponent at one source, open for writing. The texts
// wait in a file beside the games; in memory there is only where each lies and
// what it is found by, some 30 bytes a game.
type Shelf struct {
	path   string
	unlock func()

	spool   *os.File
	out     *bufio.Writer // to the spool
	end     int64         // of what was written to out
	flushed int64

	places places
	heads  map[uint32]int32   // the last place with a key
	rounds map[uint32][]int32 // places by day and round
	// A game of which a fuller copy came: its place in the order stays.
	replaced    map[int32]int32 // by which place
	replacement map[int32]bool
	changed     bool
	err         error // of the spool
}

// place is where a game lies, and the place before it with the same key, -1 for
// none.
type place struct {
	off    int64
	length int32
	before int32
}

// places is a list that grows without being copied.
type places struct {
	chunks [][]place
	n      int
}

const chunk = 1 << 12

func (p *places) add(one place) {
	if p.n%chunk == 0 {
		p.chunks = append(p.chunks, make([]place, 0, chunk))
	}
	last := &p.chunks[p.n/chunk]
	*last = append(*last, one)
	p.n++
}

func (p *places) at(i int32) *place { return &p.chunks[i/chunk][i%chunk] }

// Open locks the games of an opponent at a source and reads them. Another run
// that wants to write there gets ErrLocked at once, and not after its downloads.
func (s Store) Open(source, opponent string) (*Shelf, error) {
	path := s.Path(source, opponent)
	if err := os.MkdirAll(filepath.Dir(path), ownFolder); err != nil {
		return nil, err
	}
	unlock, err := lock(filepath.Join(filepath.Dir(path), ".lock"))
	if err != nil {
		return nil, fmt.Errorf("writing %s: %w", path, err)
	}
	shelf := &Shelf{
		path: path, unlock: unlock,
		heads: map[uint32]int32{}, rounds: map[uint32][]int32{},
		replaced: map[int32]int32{}, replacement: map[int32]bool{},
	}
	if err := shelf.fill(); err != nil {
		shelf.Close()
		return nil, err
	}
	return shelf, nil
}

// mostKept is the size of a game in our own file, which is not to be cut again.
const mostKept = 64 << 20

// fill reads what was kept before. Unfinished files are of a run that was killed:
// the lock is ours.
func (s *Shelf) fill() (err error) {
	folder := filepath.Dir(s.path)
	unfinished, _ := fs.Glob(os.DirFS(folder), ".*.part")
	for _, name := range unfinished {
		os.Remove(filepath.Join(folder, name))
	}
	if s.spool, err = os.OpenFile(filepath.Join(folder, ".games.part"), os.O_CREATE|os.O_TRUNC|os.O_RDWR, ownFile); err != nil {
		return err
	}
	s.out = bufio.NewWriterSize(s.spool, 64<<10)
	in, err := os.Open(s.path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	defer in.Close()
	r := pgn.NewReader(in, pgn.Options{File: s.path, MaxGame: mostKept})
	for game := range r.All() {
		s.put(keptEntry(game))
	}
	return errors.Join(r.Err(), s.err)
}

// Path is the file of the games.
func (s *Shelf) Path() string { return s.path }

// Len is how many games there are.
func (s *Shelf) Len() int { return s.places.n - len(s.replaced) }

// Add takes in a game and reports whether it is a new one. One that is there
// already is replaced only by a fuller copy of itself.
func (s *Shelf) Add(game *pgn.Game) bool {
	e := keptEntry(game)
	at, old := s.find(e)
	switch {
	case s.err != nil, old != nil && !fuller(e, old):
		return false
	case old == nil:
		s.put(e)
	default:
		now := s.put(e)
		s.replaced[at], s.replacement[now] = now, true
	}
	s.changed = true
	return old == nil
}

// keptEntry groups games by both names: one source spells a player in one way,
// and what comes from it counts as one file.
func keptEntry(game *pgn.Game) *entry {
	e := newEntry(game, true)
	e.group = Fold(game.Tags.Get("White")) + "/" + Fold(game.Tags.Get("Black"))
	e.files = []string{""}
	return e
}

// find returns the game that is surely the same, on the best evidence, the
// earlier one if two are equal.
func (s *Shelf) find(e *entry) (at int32, found *entry) {
	best := -1
	for i := range s.candidates(e) {
		now := s.latest(i)
		old := s.read(now)
		if old == nil || old.group != e.group {
			continue
		}
		if strength := sureness(old, e); strength > best || strength == best && found != nil && now < at {
			at, found, best = now, old, strength
		}
		if best == exactly {
			break
		}
	}
	return at, found
}

// candidates are the places with a key of the game.
func (s *Shelf) candidates(e *entry) iter.Seq[int32] {
	return func(yield func(int32) bool) {
		key, round := shelfKeys(e)
		for i, ok := s.heads[key]; ok && i >= 0; i = s.places.at(i).before {
			if !yield(i) {
				return
			}
		}
		if round == 0 {
			return
		}
		for _, i := range s.rounds[round] {
			if !yield(i) {
				return
			}
		}
	}
}

// exactly is the strength of two copies that nothing tells apart.
const exactly = 1 << 20

// sureness is how sure it is that two are one, -1 if it isn't. It is stricter than
// the finder: what is taken for a copy here is not kept, and copies kept by
// mistake are found again when the games are read.
func sureness(a, b *entry) int {
	if a.moves == b.moves && slices.Equal(a.game.Tags, b.game.Tags) {
		return exactly
	}
	tags := compareOccasions(&a.when, &b.when)
	if verdict, strength := a.compare(b); verdict == same && (tags.when == coincides || tags.close) {
		return strength
	}
	return -1
}

// shelfKeys are what two copies of a game from one source have in common, so far
// as sureness can see that they are copies: when the game began, or else its number
// or address; a game with none of them has its first moves, and its day and round
// if they are known, else 0.
func shelfKeys(e *entry) (key, round uint32) {
	w := &e.when
	for i, name := range timeTags {
		if w.times[i] != "" {
			return keyOf(e.group, name, w.times[i]), 0
		}
	}
	if w.number != "" {
		return keyOf(e.group, "number", w.number), 0
	}
	for i, host := range w.hosts {
		if host != "" {
			return keyOf(e.group, "link", host, w.paths[i]), 0
		}
	}
	if w.date.full() && len(w.rounds) > 0 {
		round = keyOf(e.group, "round", fmt.Sprint(w.date.days()), w.rounds[0])
	}
	first := e.moves
	if end := endOfPly(first, shortestBeginning); end >= 0 {
		first = first[:end]
	}
	return keyOf(e.group, "moves", first), round
}

func keyOf(parts ...string) uint32 {
	h := fnv.New32a()
	for _, p := range parts {
		io.WriteString(h, p)
		h.Write([]byte{0})
	}
	return max(1, h.Sum32())
}

// latest is the fullest copy of the game at a place.
func (s *Shelf) latest(i int32) int32 {
	for {
		next, ok := s.replaced[i]
		if !ok {
			return i
		}
		i = next
	}
}

// put writes a game to the spool and files it.
func (s *Shelf) put(e *entry) int32 {
	text := standalone(e.game)
	now := int32(s.places.n)
	key, round := shelfKeys(e)
	before, ok := s.heads[key]
	if !ok {
		before = -1
	}
	s.heads[key] = now
	if round != 0 {
		s.rounds[round] = append(s.rounds[round], now)
	}
	s.places.add(place{s.end, int32(len(text)), before})
	n, err := s.out.Write(text)
	s.end += int64(n)
	s.fail(err)
	return now
}

func (s *Shelf) fail(err error) {
	if s.err == nil {
		s.err = err
	}
}

// text is what lies at a place, in room if that is large enough.
func (s *Shelf) text(i int32, room []byte) []byte {
	p := s.places.at(i)
	if p.off+int64(p.length) > s.flushed {
		s.fail(s.out.Flush())
		s.flushed = s.end
	}
	room = slices.Grow(room[:0], int(p.length))[:p.length]
	_, err := s.spool.ReadAt(room, p.off)
	s.fail(err)
	return room
}

// read returns the game at a place.
func (s *Shelf) read(i int32) *entry {
	for game := range pgn.NewReader(bytes.NewReader(s.text(i, nil)), pgn.Options{MaxGame: mostKept}).All() {
		return keptEntry(game)
	}
	return nil
}

// Save writes the games, if anything changed. The file is replaced as a whole: a
// crash leaves the old or the new.
func (s *Shelf) Save() error {
	if s.err != nil {
		return fmt.Errorf("writing beside %s: %w", s.path, s.err)
	}
	if !s.changed {
		return nil
	}
	err := ReplaceFile(s.path, func(w io.Writer) error {
		var text []byte
		for i := range s.places.n {
			if s.replacement[int32(i)] {
				continue
			}
			text = s.text(s.latest(int32(i)), text)
			if _, err := w.Write(text); err != nil || s.err != nil {
				return cmp.Or(s.err, err)
			}
		}
		return nil
	})
	s.changed = err != nil
	return err
}

// Close lets other runs write. What was not saved is forgotten.
func (s *Shelf) Close() {
	if s.spool != nil {
		s.spool.Close()
		os.Remove(s.spool.Name())
	}
	s.unlock()
}

// standalone is the game's text as it was read, if it means the same between
// other games; an open comment, say, would swallow the next one. Otherwise the
// game is written anew from what the reader made of it.
func standalone(game *pgn.Game) []byte {
	text := bytes.TrimSpace(bytes.ReplaceAll(game.Text, []byte("\r\n"), []byte("\n")))
	ended := game.Termination != "" && bytes.HasSuffix(text, []byte(game.Termination))
	text = append(slices.Clip(text), "\n\n"...)
	if len(game.Tags) > 0 && (ended || readsAlone(text, game)) {
		return text
	}
	var out bytes.Buffer
	pgn.Write(&out, game) // a Buffer has no errors
	return out.Bytes()
}

const nextGame = "[Event \"next\"]\n\n1. e4 *\n"

func readsAlone(text []byte, game *pgn.Game) bool {
	r := pgn.NewReader(bytes.NewReader(append(slices.Clip(text), nextGame...)), pgn.Options{MaxGame: mostKept})
	n := 0
	for read := range r.All() {
		n++
		switch n {
		case 1:
			if !slices.Equal(read.Tags, game.Tags) || foldMoves(read.Moves) != foldMoves(game.Moves) {
				return false
			}
		case 2:
			if read.Tags.Get("Event") != "next" || len(read.Moves) != 1 {
				return false
			}
		}
	}
	return n == 2
}
