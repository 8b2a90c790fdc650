package fetch

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"iter"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"foreply/fetch/pgn"
)

// Store keeps what was fetched: one plain PGN file for each source and opponent,
// in a folder for each source. A game once kept stays, even if the source no
// longer has it.
type Store struct{ Folder string }

// Path is the file of an opponent's games at a source. Case makes no difference.
// Names never lead out of the folder: everything but small letters, digits, '-'
// and '_' is written as %XX, and what is long is cut and told apart by a hash.
func (s Store) Path(source, opponent string) string {
	return filepath.Join(s.Folder, fileName(source), fileName(opponent)+".pgn")
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
// there are now. A game that is there already is replaced only by a fuller copy
// of itself. The file is locked before the first game is asked for, so a second
// run fails with ErrLocked at once and not after its downloads. What has come
// when the games or the context end early is kept too; then the context's error
// comes back. The file is replaced as a whole: a crash leaves the old or the new.
func (s Store) Update(ctx context.Context, source, opponent string, games iter.Seq[*pgn.Game]) (added, total int, err error) {
	path := s.Path(source, opponent)
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return 0, 0, err
	}
	unlock, err := lock(filepath.Join(filepath.Dir(path), "."+filepath.Base(path)+".lock"))
	if err != nil {
		return 0, 0, fmt.Errorf("writing %s: %w", path, err)
	}
	defer unlock()
	kept, err := readKept(path)
	if err != nil {
		return 0, 0, err
	}
	before, changed := len(kept.entries), false
	for game := range games {
		if ctx.Err() != nil {
			break
		}
		changed = kept.keep(game) || changed
	}
	total = len(kept.entries)
	if changed {
		if err := writeKept(path, kept.entries); err != nil {
			return 0, 0, fmt.Errorf("writing %s: %w", path, err)
		}
	}
	return total - before, total, context.Cause(ctx)
}

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
	return tags.when == coincides || tags.close || a.moves == b.moves && slices.Equal(a.game.Tags, b.game.Tags)
}

func writeKept(path string, entries []*entry) (err error) {
	folder := filepath.Dir(path)
	out, err := os.CreateTemp(folder, "."+filepath.Base(path)+"-*.part")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			out.Close()
			os.Remove(out.Name())
		}
	}()
	var text bytes.Buffer
	for _, e := range entries {
		text.Write(standalone(e.game))
	}
	if _, err := text.WriteTo(out); err != nil {
		return err
	}
	if err := errors.Join(out.Chmod(0o644), out.Sync(), out.Close()); err != nil {
		return err
	}
	if err := os.Rename(out.Name(), path); err != nil {
		return err
	}
	syncFolder(folder)
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
