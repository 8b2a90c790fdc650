package fetch

import (
	"bufio"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"iter"
	"os"
	"path/filepath"
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

// lock takes the lock of a file, which stays, without waiting.
func lock(path string) (unlock func(), err error) {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_RDWR, ownFile)
	if err != nil {
		return nil, err
	}
	if err := TryLock(f); err != nil {
		f.Close()
		return nil, err
	}
	return func() { f.Close() }, nil
}

// What is kept may hold what others need not see: who is prepared for.
const (
	ownFile   = 0o600
	ownFolder = 0o700
)

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

// ReplaceFile writes a file beside the one at path, and renames it when it is
// whole and on disk.
func ReplaceFile(path string, write func(io.Writer) error) (err error) {
	out, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+"-*.part")
	if err != nil {
		return fmt.Errorf("writing %s: %w", path, Cause(err))
	}
	defer func() {
		if err != nil {
			out.Close()
			os.Remove(out.Name())
			err = fmt.Errorf("writing %s: %w", path, Cause(err))
		}
	}()
	buffered := bufio.NewWriter(out)
	if err := write(buffered); err != nil {
		return err
	}
	if err := errors.Join(buffered.Flush(), out.Chmod(ownFile), out.Sync(), out.Close()); err != nil {
		return err
	}
	if err := os.Rename(out.Name(), path); err != nil {
		return err
	}
	syncFolder(filepath.Dir(path))
	return nil
}

// Cause takes the operation and the path off an error of the file system, for a message that
// has them, or that names the user's file and not the one written beside it.
func Cause(err error) error {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		return path.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}

// syncFolder makes the new name last. Not every system can do it; the file is
// whole either way.
func syncFolder(folder string) {
	if f, err := os.Open(folder); err == nil {
		f.Sync()
		f.Close()
	}
}
