package main

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"

	"foreply/fetch"
	"foreply/fetch/pgn"
	"foreply/fetch/web"
)

func illegal(line int) pgn.Problem {
	return pgn.Problem{
		Kind: pgn.IllegalMove, Severity: pgn.Error, File: "f.pgn", Line: line, Column: 4, Game: line,
		Token: "Qa1", Message: "illegal move 31.Qa1", Hint: "check the move", Excerpt: "31. Qa1 Kh8",
	}
}

// clocked is a speaker on a terminal whose clock the test moves.
func clocked(out *strings.Builder) (s *speaker, wait func(time.Duration)) {
	s = newSpeaker(out)
	now := time.Unix(0, 0)
	s.terminal, s.started, s.now = true, now, func() time.Time { return now }
	return s, func(d time.Duration) { now = now.Add(d) }
}

func TestProgressOfReading(t *testing.T) {
	var out strings.Builder
	s, wait := clocked(&out)
	tell := s.reading("reading", true)
	wait(900 * time.Millisecond)
	tell(fetch.Progress{Bytes: 20e6, Total: 100e6, Games: 30_000, Kept: 12})
	if out.Len() > 0 {
		t.Errorf("told %q in the first second", out.String())
	}
	for _, step := range []struct {
		wait time.Duration
		now  fetch.Progress
		want string
	}{
		{1100 * time.Millisecond, fetch.Progress{Bytes: 40e6, Total: 100e6, Games: 61_234, Kept: 31}, "reading: 40 of 100 MB, 61,234 games, 31 of them theirs, 3 s left"},
		{10 * time.Millisecond, fetch.Progress{Bytes: 41e6, Total: 100e6, Games: 61_300, Kept: 31}, "reading: 40 of 100 MB, 61,234 games, 31 of them theirs, 3 s left"},
		{990 * time.Millisecond, fetch.Progress{Bytes: 1500e6, Total: 0, Games: 2_000_000, Kept: 31}, "reading: 1500 MB, 2,000,000 games, 31 of them theirs"},
		{time.Second, fetch.Progress{Bytes: 5e6, Total: 905e6, Games: 1, Kept: 1}, "reading: 5 of 905 MB, 1 game, 1 of them theirs, 12 min left"},
		{time.Second, fetch.Progress{Bytes: 100e6, Total: 90e6, Games: 5, Kept: 1}, "reading: 100 MB, 5 games, 1 of them theirs"},
	} {
		wait(step.wait)
		tell(step.now)
		if screen := lastOnScreen(out.String()); screen != step.want {
			t.Errorf("the screen shows %q, want %q", screen, step.want)
		}
	}
	s.warn("done")
	if screen := lastOnScreen(out.String()); screen != "warning: done" {
		t.Errorf("the screen shows %q", screen)
	}
}

// Where there is no terminal, a line a minute, and none for what is done before.
func TestProgressWithoutATerminal(t *testing.T) {
	var out strings.Builder
	s, wait := clocked(&out)
	s.terminal = false
	tell := s.reading("reading games of peers", false)
	for range 150 { // in all 2.5 minutes
		wait(time.Second)
		tell(fetch.Progress{Bytes: 1e9, Total: 2e9, Games: 7})
	}
	s.step(1, 2, "Alder, Mina")
	s.download(web.Progress{Source: "online", Opponent: "quist"})
	want := "note: reading games of peers: 1000 of 2000 MB, 7 games, 60 s left\n" +
		"note: reading games of peers: 1000 of 2000 MB, 7 games, 2 min left\n"
	if out.String() != want {
		t.Errorf("told %q, want %q", out.String(), want)
	}
	wait(time.Minute)
	s.download(web.Progress{Source: "online", Opponent: "quist", Requests: 3, Bytes: 5e6, Games: 4000})
	if want += "note: online quist: 3 requests, 5.0 MB, 4000 games\n"; out.String() != want {
		t.Errorf("told %q, want %q", out.String(), want)
	}
}

// Each kind of progress tells what is done of how much, in its own words; in the first second
// none is shown, and a longer line leaves nothing of itself behind.
func TestProgressInWords(t *testing.T) {
	for want, show := range map[string]func(*speaker){
		"3 of 20 players done; Ash, Bo":  func(s *speaker) { s.step(3, 20, "Ash, Bo") },
		"0 of 1 player done; Ash":        func(s *speaker) { s.step(0, 1, "A\x1bsh") },
		"testing Ash, Bo: 3 of 20 games": func(s *speaker) { s.tickTest("Ash, Bo", 3, 20) },
		"online ash 2026-10: 1 request, 999 B, 2 games": func(s *speaker) {
			s.download(web.Progress{Source: "online", Opponent: "ash", Page: "2026-10", Requests: 1, Bytes: 999, Games: 2})
		},
	} {
		var out strings.Builder
		s, wait := clocked(&out)
		wait(999 * time.Millisecond)
		if show(s); out.Len() > 0 {
			t.Errorf("told %q in the first second", out.String())
		}
		wait(time.Millisecond)
		s.progressLine(strings.Repeat("x", 70))
		if show(s); lastOnScreen(out.String()) != want {
			t.Errorf("the screen shows %q, want %q", lastOnScreen(out.String()), want)
		}
		if s.clear(); lastOnScreen(out.String()) != "" || s.progress != 0 {
			t.Errorf("the screen shows %q after all", lastOnScreen(out.String()))
		}
	}
	var out strings.Builder
	s, wait := clocked(&out)
	tell := s.engine(s.now)
	wait(999 * time.Millisecond)
	if tell(1, 9); out.Len() > 0 {
		t.Errorf("told %q", out.String())
	}
	wait(time.Millisecond)
	if tell(2, 9); lastOnScreen(out.String()) != "the engine has looked at 2 of up to 9 positions; what it finds is kept" {
		t.Errorf("told %q", out.String())
	}
}

// A count of what is done: the part in hundredths, and after a second of it the time left.
func TestProgressOfCounting(t *testing.T) {
	var out strings.Builder
	s, wait := clocked(&out)
	tell := s.counting("counting moves")
	wait(10 * time.Second) // of reading, before
	for _, step := range []struct {
		wait     time.Duration
		done, of int64
		want     string
	}{
		{0, 0, 400, ""},
		{time.Second, 40, 400, "counting moves: 10 %"},
		{50 * time.Millisecond, 60, 400, "counting moves: 10 %"},
		{950 * time.Millisecond, 80, 400, "counting moves: 20 %, 8 s left"},
		{time.Second, 100, 400, "counting moves: 25 %, 9 s left"},
		{time.Second, 101, 40_000, "counting moves: 0 %, 26 min left"},
	} {
		wait(step.wait)
		if tell(step.done, step.of); lastOnScreen(out.String()) != step.want {
			t.Errorf("%+v: the screen shows %q", step, lastOnScreen(out.String()))
		}
	}
	for d, want := range map[time.Duration]string{0: "1 s", 1500 * time.Millisecond: "2 s", 2*time.Minute - time.Second: "119 s", 2 * time.Minute: "2 min"} {
		if got := timeLeft(d); got != want {
			t.Errorf("%v: %s, want %s", d, got, want)
		}
	}
}

// One of many whom a line concerns stands before it; an excerpt is under its line, a hint told
// once, and what is more than a few counted.
func TestLinesOfTheSpeaker(t *testing.T) {
	var out strings.Builder
	s := newSpeaker(&out)
	s.about = "ash"
	s.warn("%d games", 3)
	s.note("a\nb")
	s.about = ""
	list := []pgn.Problem{illegal(1), illegal(2), illegal(3)}
	list[1].Hint = "another hint"
	s.excerpts("warning", list, 3)
	s.excerpts("warning", list, 2)
	s.verbose = true
	s.excerpts("error", list[1:], 1)
	row := func(line int, hint string) string {
		text := fmt.Sprintf("warning: f.pgn:%d:4: illegal move 31.Qa1\n    31. Qa1 Kh8\n       ^\n", line)
		if hint != "" {
			text += "hint: " + hint + "\n"
		}
		return text
	}
	two := row(1, "check the move") + row(2, "another hint")
	want := "warning: ash: 3 games\nnote: ash: a b\n" + two + row(3, "") + two + "note: 1 more of this kind; -v lists them all\n" +
		strings.ReplaceAll(row(2, "another hint")+row(3, "check the move"), "warning:", "error:") // -v has them all
	if out.String() != want {
		t.Errorf("%s\nwant\n%s", out.String(), want)
	}
}

// lastOnScreen plays carriage returns as a terminal does, for one row.
func lastOnScreen(text string) string {
	var row []byte
	at := 0
	for _, c := range []byte(text) {
		switch {
		case c == '\r':
			at = 0
		case c == '\n':
		case at < len(row):
			row[at] = c
			at++
		default:
			row = append(row, c)
			at++
		}
	}
	return strings.TrimRight(string(row), " ")
}

func TestProblemsAreSummedUp(t *testing.T) {
	list := []pgn.Problem{{Severity: pgn.Note, File: "f.pgn", Game: 9, Message: "no result"}}
	for i := range 12 {
		list = append(list, illegal(i+88), illegal(i+88)) // two in a game count once
	}
	below, elsewhere := illegal(500), illegal(88)
	below.Game, elsewhere.File = 88, "g.pgn" // the game of another file is another
	list = append(list, below, elsewhere)
	var out strings.Builder
	newSpeaker(&out).problems(list, 431)
	const want = "warning: 13 of 431 games had problems; first: f.pgn:88:4: illegal move 31.Qa1; -v lists them all\n"
	if out.String() != want {
		t.Errorf("told %q\nwant %q", out.String(), want)
	}
	out.Reset()
	s := newSpeaker(&out)
	s.verbose = true
	s.problems(list, 431)
	if n := strings.Count(out.String(), "warning: f.pgn:"); n != 25 {
		t.Errorf("-v lists %d problems, want 25", n)
	}
	if n := strings.Count(out.String(), "note: f.pgn:"); n != 1 {
		t.Errorf("-v lists %d notes, want 1", n)
	}
	out.Reset()
	newSpeaker(&out).problems(list[:1], 431)
	if out.Len() > 0 {
		t.Errorf("a mere note is told: %q", out.String())
	}
}

func TestFailPrintsErrorExcerptsAndHints(t *testing.T) {
	var broken []pgn.Problem
	for i := range mostShown + 2 {
		broken = append(broken, illegal(i+1))
	}
	err := errors.Join(
		advise(&brokenBook{problems: broken}, "mend it"),
		fmt.Errorf("wrapped: %w", misuse("wrong", "do this", "or that")),
	)
	var out strings.Builder
	newSpeaker(&out).fail(err)
	told := out.String()
	for _, want := range []string{
		"error: f.pgn:1:4: illegal move 31.Qa1\n    31. Qa1 Kh8\n       ^\nhint: check the move\n",
		"note: 2 more of this kind; -v lists them all\nerror: the repertoire for white has 7 moves that can't be played\nhint: mend it\n",
		"error: wrapped: wrong\nhint: do this\nhint: or that\n",
	} {
		if !strings.Contains(told, want) {
			t.Errorf("told\n%s\nwithout\n%s", told, want)
		}
	}
	if n := strings.Count(told, "hint: check the move"); n != 1 {
		t.Errorf("the same hint %d times", n)
	}
}

// Nothing that stands in a file may steer the terminal or turn the line; a tab and the end of a
// line are a blank each, so that words stay apart and a caret stands where it should.
func TestTextOfFilesIsCleaned(t *testing.T) {
	if got := clean("a\tb\nc\x1b[1m\u200bd"); got != "a b c[1md" {
		t.Errorf("%q", got)
	}
	p := illegal(1)
	p.Message = "bad\x1b[31m name\u202e\r\nnext\u0085"
	p.Token, p.Excerpt = "", "a\x1b]0;x\x07b \u2066c"
	for column, lines := range map[int]int{4: 4, 0: 3} { // message, excerpt, caret if there is a column, hint
		var out strings.Builder
		p.Column = column
		newSpeaker(&out).excerpts("error", []pgn.Problem{p}, 1)
		for _, r := range out.String() {
			if r != '\n' && (r < ' ' || r >= 0x7f && r < 0xa0 || r == '\u202e' || r == '\u2066') {
				t.Errorf("%U is written: %q", r, out.String())
			}
		}
		if n := strings.Count(out.String(), "\n"); n != lines {
			t.Errorf("%d lines, want %d:\n%s", n, lines, out.String())
		}
	}
}

// Whatever stands in a configuration, it is read or refused in words. The template is
// given section by section, without its comments: whole, it takes forty times as long.
func FuzzConfig(f *testing.F) {
	for _, section := range sections(string(template)) {
		f.Add(section)
	}
	f.Add("sources:\n  - {id: a, url: 'https://example.org/{player}/{year}/{month}', pages: months, start: 2018-01, token_from: A_B, headers: ['A: b']}\n" +
		"opponents: [{id: b, fide_ids: ['1'], handles: [{source: a, handle: c}]}]\n")
	f.Add("sources: [{id: a, url: '{address}', pages: list, list: 'https://example.org/{player}', list_path: b.c, max_mb: 1, pace: 1.5}]\n")
	f.Add("sheet: {paper: letter}\nwalk:\n  plies: 3.9\n")
	f.Add("opponents:\n  - id: x\n    names: [a, b]\n- y\n")
	f.Add("me: &a\n  names: *a\n")
	f.Add("? [a, b]\n: c\n")
	f.Add("a: 1\n---\nb: 2\n")
	f.Fuzz(func(t *testing.T, text string) {
		s, err := readSettings("f.yaml", []byte(text), nil)
		if err == nil {
			s.holdBack()
			err = s.validate()
		} else if len(checkShape("f.yaml", []byte(text), configType).errs) == 0 {
			t.Fatalf("the shape is right, yet: %v", err)
		}
		if err == nil {
			return
		}
		var told strings.Builder
		newSpeaker(&told).fail(err)
		if !strings.HasPrefix(told.String(), "error: ") {
			t.Fatalf("told %q", told.String())
		}
	})
}

// sections cuts a configuration before each of its top keys, and drops comments.
func sections(text string) []string {
	comment := regexp.MustCompile(`(?m)^ *#.*\n| +# .*$`)
	return regexp.MustCompile(`(?m)^\w+:.*\n(?:^ .*\n|\n)*`).FindAllString(comment.ReplaceAllString(text, ""), -1)
}
