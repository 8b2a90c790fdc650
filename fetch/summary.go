package fetch

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"sync/atomic"

	"foreply/fetch/pgn"
)

// Kinds of problems that fetch finds beside those of the reader.
const (
	Unreadable pgn.Kind = "file not readable"
	NotPGN     pgn.Kind = "not PGN"
	Empty      pgn.Kind = "empty file"
	OverLimit  pgn.Kind = "over a limit"
)

// FileCount is what came from one file, or from one member of an archive.
type FileCount struct {
	Name   string // as Problem.File
	Source string // id of the configured source, or empty
	Bytes  int64  // unpacked
	Games  int    // all
	Theirs int    // those of the player, duplicates and left-out ones included
}

// KindCount is a number of games left out, and why.
type KindCount struct {
	Kind  Kind
	Games int
}

// NameCount is a spelling and the number of games it stands in.
type NameCount struct {
	Name  string
	Games int
}

// Summary is the account of a finished stream.
type Summary struct {
	Files       []FileCount // in the order of reading
	Games       int         // seen
	Theirs      int         // of the player: Kept, Duplicates and LeftOut together
	Kept        int         // handed out
	Duplicates  int         // games that were there already and were joined with the first
	LeftOut     []KindCount // most first
	Suggestions []Suggestion
	// Problems of files and of text outside of games, in order, then those that
	// concern several games. What is wrong within a game travels in Game.Problems.
	Problems []pgn.Problem
}

// Error is an error with advice for the user.
type Error struct {
	Err  error
	Hint string // what to do; one sentence without a full stop
}

func (e *Error) Error() string { return e.Err.Error() }
func (e *Error) Unwrap() error { return e.Err }

// tally adds up while the stream runs.
type tally struct {
	Summary
	bytes      atomic.Int64 // from disk; the goroutine that reads adds them
	reported   int64        // of these, when progress was last told
	total      int64
	leftOut    map[Kind]int
	whole      int // texts read to their end
	firstError error
}

func (t *tally) leaveOut(kind Kind, n int) {
	if t.leftOut == nil {
		t.leftOut = map[Kind]int{}
	}
	t.leftOut[kind] += n
}

// fail records what could not be read, as an Error problem with advice.
func (t *tally) fail(f *file, name string, err error) {
	p := pgn.Problem{Kind: Unreadable, Severity: pgn.Error, Source: f.source, File: name, Message: plain(name, err)}
	var said *Error
	if errors.As(err, &said) {
		p.Hint = said.Hint
	}
	switch {
	case errors.Is(err, ErrNotPGN):
		p.Kind = NotPGN
	case errors.Is(err, ErrOverLimit):
		p.Kind = OverLimit
	case errors.Is(err, io.ErrUnexpectedEOF):
		p.Message = "the compressed data breaks off"
		p.Hint = "get the file again"
		if slices.ContainsFunc(t.Files, func(f FileCount) bool { return f.Name == name && f.Games > 0 }) {
			p.Hint = "the games before the break are used; get the file again for the rest"
		}
	case errors.Is(err, fs.ErrPermission):
		p.Hint = "make the file readable for you"
	case p.Hint == "":
		p.Hint = "the file may be damaged; get it again"
	}
	t.Problems = append(t.Problems, p)
	if t.firstError == nil {
		t.firstError = &Error{fmt.Errorf("reading %s: %s", name, p.Message), p.Hint}
	}
}

func wrapRead(name string, err error) error { return fmt.Errorf("reading %s: %w", name, err) }

// plain takes the name of the file off an error: the problem has it.
func plain(name string, err error) string {
	return strings.TrimPrefix(Cause(err).Error(), "reading "+name+": ")
}

func (t *tally) endFile(count FileCount, problems []pgn.Problem, blank bool) {
	t.Files = append(t.Files, count)
	t.Problems = append(t.Problems, problems...)
	if blank && count.Games == 0 {
		t.Problems = append(t.Problems, pgn.Problem{
			Kind: Empty, Severity: pgn.Note, Source: count.Source, File: count.Name,
			Message: "the file has no text",
		})
	}
}

// Summary is the account of the stream; complete when the loop over All ended.
func (g *Games) Summary() Summary {
	s := g.tally.Summary
	for _, f := range s.Files {
		s.Theirs += f.Theirs
	}
	for kind, n := range g.tally.leftOut {
		s.LeftOut = append(s.LeftOut, KindCount{kind, n})
	}
	slices.SortFunc(s.LeftOut, func(a, b KindCount) int {
		return cmp.Or(cmp.Compare(b.Games, a.Games), strings.Compare(string(a.Kind), string(b.Kind)))
	})
	s.Suggestions = suggestions(g.rosters)
	return s
}

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
