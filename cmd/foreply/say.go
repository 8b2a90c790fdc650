package main

// Everything that foreply writes to stderr goes through this file. Its rules:
//
//   - Results go to stdout; all the rest comes here.
//   - A line begins with error:, warning:, note: or hint:, in small letters and
//     without a full stop. A hint says what to type or change next and follows
//     the line it belongs to.
//   - An excerpt of a file with its caret stands indented under its line.
//   - Progress is one line that rewrites itself, on a terminal, and only for what
//     takes longer than a second; elsewhere it is a note a minute.
//   - Problems in games are summed up in one line; -v lists them.
//   - Text from files is cleaned: nothing in it steers the terminal.

import (
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"time"

	"golang.org/x/term"

	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/fetch/pgn/plain"
	"foreply/fetch/web"
)

// mishap is an error with what to do about it. Commands return one where they
// know better than the error itself.
type mishap struct {
	err   error
	hints []string
	usage bool // the command was called wrongly: exit code 2
}

func (m *mishap) Error() string { return m.err.Error() }
func (m *mishap) Unwrap() error { return m.err }

// misuse makes an error of how the command was called.
func misuse(message string, hints ...string) error {
	return &mishap{err: errors.New(message), hints: hints, usage: true}
}

// advise adds hints to an error.
func advise(err error, hints ...string) error { return &mishap{err: err, hints: hints} }

// speaker writes to stderr.
type speaker struct {
	w        io.Writer
	terminal bool   // progress is shown
	verbose  bool   // problems are listed
	progress int    // width of the progress line on the screen, 0 for none
	about    string // whom the lines concern, where it is one of many
	now      func() time.Time
	started  time.Time
	noted    time.Time // when progress was told last where there is no terminal
}

func newSpeaker(w io.Writer) *speaker {
	f, ok := w.(*os.File)
	return &speaker{w: w, terminal: ok && term.IsTerminal(int(f.Fd())), now: time.Now, started: time.Now()}
}

func (s *speaker) line(prefix, format string, args ...any) {
	s.clear()
	text := fmt.Sprintf(format, args...)
	if s.about != "" {
		text = s.about + ": " + text
	}
	fmt.Fprintf(s.w, "%s: %s\n", prefix, clean(text))
}

func (s *speaker) warn(format string, args ...any) { s.line("warning", format, args...) }
func (s *speaker) note(format string, args ...any) { s.line("note", format, args...) }
func (s *speaker) hint(format string, args ...any) { s.line("hint", format, args...) }

// fail prints an error with its hints; of joined errors each one.
func (s *speaker) fail(err error) {
	if many, ok := err.(interface{ Unwrap() []error }); ok {
		for _, e := range many.Unwrap() {
			s.fail(e)
		}
		return
	}
	var broken *brokenBook
	if errors.As(err, &broken) {
		s.excerpts("error", broken.problems, mostShown)
	}
	s.line("error", "%v", err)
	var m *mishap
	if errors.As(err, &m) {
		for _, h := range m.hints {
			s.hint("%s", h)
		}
	}
}

// mostShown is how many problems are printed with their excerpts when nobody
// asked for the list.
const mostShown = 5

// excerpts prints problems as 'place message', the line of the file with a
// caret under the token, and what to do.
func (s *speaker) excerpts(prefix string, problems []pgn.Problem, most int) {
	hinted := map[string]bool{}
	for i, p := range problems {
		if i == most && !s.verbose {
			s.note("%d more of this kind; -v lists them all", len(problems)-most)
			return
		}
		s.line(prefix, "%v", p)
		if caret := p.Caret(); caret != "" {
			for row := range strings.SplitSeq(strings.TrimRight(caret, "\n"), "\n") {
				fmt.Fprintf(s.w, "    %s\n", clean(row))
			}
		}
		if p.Hint != "" && !hinted[p.Hint] {
			hinted[p.Hint] = true
			s.hint("%s", p.Hint)
		}
	}
}

// problems sums up what was wrong with the games read; -v lists it, and what is
// merely worth knowing.
func (s *speaker) problems(all []pgn.Problem, games int) {
	list := worth(all)
	if s.verbose {
		s.excerpts("warning", list, len(list))
		s.excerpts("note", notes(all), len(all))
		return
	}
	if len(list) == 0 {
		return
	}
	type place struct {
		file string
		game int
	}
	bad := map[place]bool{}
	for _, p := range list {
		bad[place{p.File, p.Game}] = true
	}
	s.warn("%d of %s had problems; first: %v; -v lists them all", len(bad), words.Plural(games, "game"), list[0])
}

// worth drops mere notes: nothing was lost there.
func worth(list []pgn.Problem) []pgn.Problem {
	return slices.DeleteFunc(slices.Clone(list), isNote)
}

// notes are the others.
func notes(list []pgn.Problem) []pgn.Problem {
	return slices.DeleteFunc(slices.Clone(list), func(p pgn.Problem) bool { return !isNote(p) })
}

func isNote(p pgn.Problem) bool { return p.Severity == pgn.Note }

// step shows how many players of an entry list are done.
func (s *speaker) step(done, all int, next string) {
	s.progressLine(clean(fmt.Sprintf("%d of %s done; %s", done, words.Plural(all, "player"), next)))
}

// tickTest shows how many games were tested.
func (s *speaker) tickTest(who string, done, of int) {
	s.progressLine(clean(fmt.Sprintf("testing %s: %d of %d games", who, done, of)))
}

// download shows how far the asking of a server has come.
func (s *speaker) download(p web.Progress) {
	where := p.Source + " " + p.Opponent
	if p.Page != "" {
		where += " " + p.Page
	}
	s.progressLine(clean(fmt.Sprintf("%.40s: %s, %s, %s", where, words.Plural(p.Requests, "request"), size(p.Bytes), words.Plural(p.Games, "game"))))
}

// notedEvery is how often progress is told where there is no terminal: whoever
// reads the log of a night wants to know what it waited for.
const notedEvery = time.Minute

// due reports whether progress is to be shown at all now.
func (s *speaker) due(now time.Time) bool {
	last := s.started
	if s.noted.After(last) {
		last = s.noted
	}
	return s.terminal && now.Sub(s.started) >= patience || !s.terminal && now.Sub(last) >= notedEvery
}

func (s *speaker) progressLine(text string) {
	now := s.now()
	switch {
	case !s.due(now):
	case s.terminal:
		fmt.Fprintf(s.w, "\r%s%s", text, strings.Repeat(" ", max(0, s.progress-len(text))))
		s.progress = len(text)
	default:
		s.noted = now
		s.note("%s", text)
	}
}

// clear takes the progress line off the screen.
func (s *speaker) clear() {
	if s.progress > 0 {
		fmt.Fprintf(s.w, "\r%s\r", strings.Repeat(" ", s.progress))
		s.progress = 0
	}
}

// clean takes out what steers. Line ends become spaces, since one message is one line;
// tabs too, so that carets stand where they should.
func clean(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t':
			return ' '
		case plain.Steers(r):
			return -1
		}
		return r
	}, text)
}
