package fetch

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// file is one file to read; its name is what problems say.
type file struct {
	name   string // path as the user would write it; "-" is standard input
	source string
	size   int64 // bytes on disk, 0 for standard input and other streams
}

func (f *file) stdin() bool { return f.name == "-" }

// open returns the packed bytes and a function that closes them.
func (f *file) open(stdin io.Reader) (io.Reader, func() error, error) {
	if f.stdin() {
		return stdin, func() error { return nil }, nil
	}
	if info, err := os.Stat(f.name); err == nil && special(info) {
		return nil, nil, notPlain(f.name)
	}
	in, err := os.Open(f.name)
	if err != nil {
		return nil, nil, err
	}
	return in, in.Close, nil
}

// gameEndings are the file names that a folder or an archive is searched for.
// Other files are read only if named.
var gameEndings = []string{".pgn", ".pgn.gz", ".pgn.bz2", ".pgn.zst", ".zip", ".tar", ".tar.gz", ".tgz", ".tar.bz2", ".tar.zst"}

func isGameFile(name string) bool {
	base := strings.ToLower(filepath.Base(name))
	if strings.HasPrefix(base, ".") {
		return false
	}
	return slices.ContainsFunc(gameEndings, func(end string) bool { return strings.HasSuffix(base, end) })
}

// Files lists the files that inputs name, in the order in which they are read.
func Files(inputs []Input) ([]string, error) {
	files, err := expandAll(inputs)
	names := make([]string, len(files))
	for i, f := range files {
		names[i] = f.name
	}
	return names, err
}

// expandAll lists the files of all inputs in order. A file reached by two
// patterns is read once, for the first of them.
func expandAll(inputs []Input) ([]file, error) {
	var (
		out  []file
		seen = map[string]bool{}
	)
	for _, in := range inputs {
		paths, err := expand(in.Pattern)
		if err != nil {
			return nil, err
		}
		for _, path := range paths {
			if key := identity(path); !seen[key] {
				seen[key] = true
				out = append(out, file{name: path, source: in.Source, size: sizeOf(path)})
			}
		}
	}
	return out, nil
}

// expand lists the files of one pattern, sorted.
func expand(pattern string) ([]string, error) {
	if pattern == "-" {
		return []string{"-"}, nil
	}
	info, err := os.Stat(pattern)
	switch {
	case err == nil && info.IsDir():
		return inFolder(pattern)
	case err == nil && special(info):
		return nil, notPlain(pattern)
	case err == nil:
		return []string{pattern}, nil
	case strings.ContainsAny(pattern, "*?["):
		return inGlob(pattern)
	case errors.Is(err, fs.ErrNotExist):
		return nil, noSuchFile(pattern)
	}
	return nil, wrapRead(pattern, err)
}

func inGlob(pattern string) ([]string, error) {
	matches, err := filepath.Glob(pattern)
	if err != nil {
		return nil, &Error{wrapRead(pattern, err), "write [[] for a bracket that stands in the file name"}
	}
	var out []string
	for _, path := range matches {
		info, err := os.Stat(path)
		if err != nil || !info.IsDir() {
			out = append(out, path)
			continue
		}
		inside, err := inFolder(path)
		if err == nil {
			out = append(out, inside...)
		}
	}
	if len(out) == 0 {
		return nil, &Error{fmt.Errorf("no file matches %s", pattern),
			"look at the folder and the ending; a folder alone reads all its " + strings.Join(gameEndings, ", ")}
	}
	slices.Sort(out)
	return out, nil
}

// inFolder lists the game files of a folder and its subfolders, and subfolders
// that can't be read; hidden ones are passed over.
func inFolder(folder string) ([]string, error) {
	var out []string
	// The separator makes WalkDir go into a folder that is a link.
	err := filepath.WalkDir(folder+string(filepath.Separator), func(path string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil && filepath.Clean(path) == filepath.Clean(folder):
			return err
		case err != nil: // to become a problem when it is opened
			out = append(out, path)
		case entry.IsDir() && hidden(entry.Name()):
			return filepath.SkipDir
		case !entry.IsDir() && isGameFile(path):
			out = append(out, path)
		}
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("reading folder %s: %w", folder, err)
	}
	if len(out) == 0 {
		return nil, &Error{fmt.Errorf("no games in folder %s", folder),
			"it has no file ending in " + strings.Join(gameEndings, ", ")}
	}
	slices.Sort(out)
	return out, nil
}

// special tells pipes, sockets and devices, which may never answer or never end,
// from files and folders: opening one can wait for ever.
func special(info fs.FileInfo) bool { return !info.IsDir() && !info.Mode().IsRegular() }

func notPlain(path string) error {
	return &Error{fmt.Errorf("reading %s: it is no plain file", path), "a stream is read from standard input: name it - and use < or a pipe"}
}

// OpenPlain opens a file for reading, and refuses what may never answer or never end.
func OpenPlain(path string) (*os.File, error) {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, err
	case special(info):
		return nil, notPlain(path)
	}
	return os.Open(path)
}

// hidden tells .git from the folder itself, which may be named . or ..
func hidden(name string) bool { return name[0] == '.' && name != "." && name != ".." }

// noSuchFile names the likeliest file of that folder.
func noSuchFile(path string) error {
	err := fmt.Errorf("no file %s", path)
	folder := filepath.Dir(path)
	entries, readErr := os.ReadDir(folder)
	if readErr != nil {
		return &Error{err, fmt.Sprintf("there is no folder %s either; check the path", folder)}
	}
	best, bestDistance := "", 4
	for _, entry := range entries {
		if d := Distance(strings.ToLower(entry.Name()), strings.ToLower(filepath.Base(path))); d < bestDistance {
			best, bestDistance = entry.Name(), d
		}
	}
	if best == "" {
		return &Error{err, "check the path"}
	}
	return &Error{err, fmt.Sprintf("did you mean %s?", filepath.Join(folder, best))}
}

// identity is the same for two ways to one file.
func identity(path string) string {
	if path == "-" {
		return path
	}
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	if whole, err := filepath.Abs(path); err == nil {
		path = whole
	}
	return path
}

func sizeOf(path string) int64 {
	if info, err := os.Stat(path); err == nil && info.Mode().IsRegular() {
		return info.Size()
	}
	return 0
}

// totalSize is 0 when the size of one is not known.
func totalSize(files []file) int64 {
	var sum int64
	for _, f := range files {
		if f.stdin() {
			return 0
		}
		sum += f.size
	}
	return sum
}
