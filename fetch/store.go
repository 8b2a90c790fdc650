package fetch

import (
	"bufio"
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"iter"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"foreply/fetch/pgn"
)

// Store keeps what was fetched: a folder for each source and opponent, with the
// games in one plain PGN file. A game once kept stays, even if the source no
// longer has it.
type Store struct{ Folder string }

// Path is the file of an opponent's games at a source. Case makes no difference.
// Names never lead out of the folder: everything but small letters, digits, '-'
// and '_' is written as %XX, and what is long is cut and told apart by a hash.
func (s Store) Path(source, opponent string) string {
	return filepath.Join(s.Folder, fileName(source), fileName(opponent), "games.pgn")
}

// longestFileName in bytes, well under the 255 of common file systems.
const longestFileName = 120

func fileName(name string) string {
	var out strings.Builder
	for _, c := range []byte(strings.ToLower(name)) {
		if c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '-' || c == '_' {
			out.WriteByte(c)
		} else {
			fmt.Fprintf(&out, "%%%02X", c)
		}
	}
	text := out.String()
	switch {
	case text == "":
		return "%"
	case reserved(text):
		return fmt.Sprintf("%%%02X%s", text[0], text[1:])
	case len(text) > longestFileName:
		return fmt.Sprintf("%s~%x", text[:longestFileName], sha256.Sum256([]byte(text)))[:longestFileName+17]
	}
	return text
}

// reserved are the device names of Windows, which no file can have.
func reserved(name string) bool {
	switch name {
	case "con", "prn", "aux", "nul":
		return true
	}
	return len(name) == 4 && (name[:3] == "com" || name[:3] == "lpt") && name[3] >= '0' && name[3] <= '9'
}

// ErrLocked says that another run is writing to the same file.
var ErrLocked = errors.New("another foreply is writing there")

// Update adds games to those kept and returns how many were new and how many
// there are now. The lock is taken before the first game is asked for. What has
// come when the games or the context end early is kept too; then the context's
// error comes back.
func (s Store) Update(ctx context.Context, source, opponent string, games iter.Seq[*pgn.Game]) (added, total int, err error) {
	shelf, err := s.Open(source, opponent)
	if err != nil {
		return 0, 0, err
	}
	defer shelf.Close()
	before := shelf.Len()
	for game := range games {
		if ctx.Err() != nil {
			break
		}
		shelf.Add(game)
	}
	if err := shelf.Save(); err != nil {
		return 0, 0, err
	}
	return shelf.Len() - before, shelf.Len(), context.Cause(ctx)
}

// Shelf is the games of one opponent at one source, open for writing.
type Shelf struct {
	path    string
	kept    *finder
	changed bool
	unlock  func()
}

// Open locks the games of an opponent at a source and reads them. Another run
// that wants to write there gets ErrLocked at once, and not after its downloads.
func (s Store) Open(source, opponent string) (*Shelf, error) {
	path := s.Path(source, opponent)
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return nil, err
	}
	unlock, err := lock(filepath.Join(filepath.Dir(path), ".lock"))
	if err != nil {
		return nil, fmt.Errorf("writing %s: %w", path, err)
	}
	kept, err := readKept(path)
	if err != nil {
		unlock()
		return nil, err
	}
	return &Shelf{path: path, kept: kept, unlock: unlock}, nil
}

// Path is the file of the games.
func (s *Shelf) Path() string { return s.path }

// Len is how many games there are.
func (s *Shelf) Len() int { return len(s.kept.entries) }

// Add takes in a game and reports whether it is a new one. One that is there
// already is replaced only by a fuller copy of itself.
func (s *Shelf) Add(game *pgn.Game) bool {
	before := s.Len()
	s.changed = s.kept.keep(game) || s.changed
	return s.Len() > before
}

// Save writes the games, if anything changed. The file is replaced as a whole: a
// crash leaves the old or the new.
func (s *Shelf) Save() error {
	if !s.changed {
		return nil
	}
	err := ReplaceFile(s.path, func(w io.Writer) error {
		for _, e := range s.kept.entries {
			if _, err := w.Write(standalone(e.game)); err != nil {
				return err
			}
		}
		return nil
	})
	s.changed = s.changed && err != nil
	return err
}

// Close lets other runs write. What was not saved is forgotten.
func (s *Shelf) Close() { s.unlock() }

// mostKept is the size of a game in our own file, which is not to be cut again.
const mostKept = 64 << 20

func readKept(path string) (*finder, error) {
	kept := newFinder()
	in, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return kept, nil
	}
	if err != nil {
		return nil, err
	}
	defer in.Close()
	r := pgn.NewReader(in, pgn.Options{File: path, MaxGame: mostKept})
	for game := range r.All() {
		kept.add(keptEntry(game))
	}
	return kept, r.Err()
}

// keptEntry groups games by both names: one source spells a player in one way.
func keptEntry(game *pgn.Game) *entry {
	e := newEntry(game.Clone(), true)
	e.group = Fold(game.Tags.Get("White")) + "/" + Fold(game.Tags.Get("Black"))
	return e
}

// keep adds a game or replaces its poorer copy; false if it brings nothing new.
func (f *finder) keep(game *pgn.Game) bool {
	e := keptEntry(game)
	if slices.ContainsFunc(f.byMoves[e.moves], func(old *entry) bool { return slices.Equal(old.game.Tags, e.game.Tags) }) {
		return false
	}
	old, _ := f.find(e)
	if old == nil || !surelySame(old, e) {
		f.add(e)
		return true
	}
	if !fuller(e, old) {
		return false
	}
	f.change(old, func() { e.order, *old = old.order, *e })
	return true
}

// surelySame is stricter than the finder: what is taken for a copy here is not
// kept, and copies kept by mistake are found again when the games are read.
func surelySame(a, b *entry) bool {
	tags := compareOccasions(&a.when, &b.when)
	return tags.when == coincides || tags.close
}

// ReplaceFile writes a file beside the one at path, and renames it when it is
// whole and on disk.
func ReplaceFile(path string, write func(io.Writer) error) (err error) {
	out, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+"-*.part")
	if err != nil {
		return fmt.Errorf("writing %s: %w", path, err)
	}
	defer func() {
		if err != nil {
			out.Close()
			os.Remove(out.Name())
			err = fmt.Errorf("writing %s: %w", path, err)
		}
	}()
	buffered := bufio.NewWriter(out)
	if err := write(buffered); err != nil {
		return err
	}
	if err := errors.Join(buffered.Flush(), out.Chmod(0o644), out.Sync(), out.Close()); err != nil {
		return err
	}
	if err := os.Rename(out.Name(), path); err != nil {
		return err
	}
	syncFolder(filepath.Dir(path))
	return nil
}

// syncFolder makes the new name last. Not every system can do it; the file is
// whole either way.
func syncFolder(folder string) {
	if f, err := os.Open(folder); err == nil {
		f.Sync()
		f.Close()
	}
}

// standalone is the game's text as it was read, if it means the same between
// other games; an open comment, say, would swallow the next one. Otherwise the
// game is written anew from what the reader made of it.
func standalone(game *pgn.Game) []byte {
	text := bytes.TrimSpace(bytes.ReplaceAll(game.Text, []byte("\r\n"), []byte("\n")))
	text = append(slices.Clip(text), "\n\n"...)
	if len(game.Tags) > 0 && readsAlone(text, game) {
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
