package fetch

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"hash/maphash"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"foreply/fetch/pgn"
)

// Shelf is the games of one opponent at one source, open for writing. The texts
// wait in a file beside the games; in memory there is only where each lies and
// what it is known by (known.go), some 50 bytes a game. Every game takes the same
// time, however many there are.
type Shelf struct {
	path   string
	unlock func()

	spool   *os.File
	out     *bufio.Writer // to the spool
	end     int64         // of what was written to out
	flushed int64

	places    places
	index     map[sum]int32 // the last place of what is known by it
	seed      maphash.Seed
	corrected int
	changed   bool
	err       error // of the spool
}

// place is where a game lies in the spool.
type place struct {
	off    int64
	length int32
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
	shelf := &Shelf{path: path, unlock: unlock, index: map[sum]int32{}, seed: maphash.MakeSeed()}
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
		s.Add(game)
	}
	s.corrected, s.changed = 0, false
	return errors.Join(r.Err(), s.err)
}

// Path is the file of the games.
func (s *Shelf) Path() string { return s.path }

// Len is how many games there are.
func (s *Shelf) Len() int { return s.places.n }

// Corrected is how many of the games added took the place of an older text.
func (s *Shelf) Corrected() int { return s.corrected }

// Add takes in a game and reports whether it is a new one. Of one that is there
// already the newer text counts, unless it has less of the game.
func (s *Shelf) Add(game *pgn.Game) (added bool) {
	e := keptEntry(game)
	names := s.names(e)
	text := standalone(game)
	at, found := s.find(e, names)
	switch {
	case s.err != nil:
		return false
	case !found:
		at = int32(s.places.n)
		s.places.add(s.write(text))
	case bytes.Equal(s.text(at, nil), text):
		return false
	default:
		old := s.read(at)
		if old != nil && lessOf(e, old) {
			return false
		}
		s.forget(old, at)
		*s.places.at(at) = s.write(text)
		s.corrected++
	}
	for _, n := range names {
		s.index[n.sum] = at
	}
	s.changed = true
	return !found
}

// find returns the place of the game that a text is another of.
func (s *Shelf) find(e *gameCopy, names []name) (int32, bool) {
	for _, n := range names {
		at, ok := s.index[n.sum]
		if !ok {
			continue
		}
		if n.isSame == nil {
			return at, true
		}
		if old := s.read(at); old != nil && n.isSame(old, e) {
			return at, true
		}
	}
	return 0, false
}

// forget takes what an older text was known by out of the index: another game may
// be meant by it.
func (s *Shelf) forget(old *gameCopy, at int32) {
	if old == nil {
		return
	}
	for _, n := range s.names(old) {
		if s.index[n.sum] == at {
			delete(s.index, n.sum)
		}
	}
}

// write puts a text into the spool.
func (s *Shelf) write(text []byte) place {
	p := place{s.end, int32(len(text))}
	n, err := s.out.Write(text)
	s.end += int64(n)
	s.fail(err)
	return p
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
func (s *Shelf) read(i int32) *gameCopy {
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
			text = s.text(int32(i), text)
			if _, err := w.Write(text); err != nil || s.err != nil {
				return errors.Join(s.err, err)
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
	if len(game.Tags()) > 0 && (ended || readsAlone(text, game)) {
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
			if !slices.Equal(read.Tags(), game.Tags()) || foldMoves(read.Moves) != foldMoves(game.Moves) {
				return false
			}
		case 2:
			if read.Header().Event != "next" || len(read.Moves) != 1 {
				return false
			}
		}
	}
	return n == 2
}
