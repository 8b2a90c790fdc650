package compare

import (
	"slices"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/profile"
	"foreply/profile/board"
)

// leads are the looks of a side's tonight, each with its minutes.
func leads(tasks []fact.Task) (out []string, minutes int) {
	for _, task := range tasks {
		if task.Kind == "look" {
			out = append(out, task.Lead)
			minutes += task.Minutes
		}
	}
	return out, minutes
}

// The three looks of the little side take 6, 8 and 6 minutes, in order of need:
// with ten minutes there is time for the first only, with a few for one anyway,
// and with an hour for all.
func TestStudyKeepsToTheMinutes(t *testing.T) {
	b := bookOf(t, board.White, "1. e4 e5 (1... c5 2. c3) 2. Nf3 Nc6 3. Bc4 *")
	for minutes, want := range map[int]string{1: "go on", 10: "go on", 16: "go on answer", 20: "go on answer", 60: "go on answer go on", 0: "go on answer go on"} {
		s := Make(Input{Profile: e4Games(), Books: []*book.Book{b}}, Options{When: today, Class: profile.Classical, Minutes: minutes}).Sides[0]
		got, sum := leads(s.Tonight)
		if strings.Join(got, " ") != want {
			t.Errorf("%d minutes: %q, want %q", minutes, got, want)
		}
		if minutes > 6 && sum > minutes {
			t.Errorf("%d minutes: %d of work", minutes, sum)
		}
	}
}

// A task says where the book has the last position before it.
func TestStudySaysWhere(t *testing.T) {
	s := e4Side(t)
	for _, task := range s.Tonight {
		if task.Kind == "look" && (task.File == "" || task.Line == 0) {
			t.Errorf("%s %s: no place", task.Lead, words.Task(&task).String())
		}
	}
}

// The user's own games went into the Italian two years ago and never into the
// Sicilian; both are likely. One is told, the likelier; a game of last month
// makes it good.
func TestStudyAgain(t *testing.T) {
	theirs := gamesOf(board.Black, slices.Concat(
		repeated(12, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bc4 Bc5 c3 Nf6"), repeated(8, "1-0 5400 2000 Elm: e4 c5 Nf3 d6 d4 cxd4 Nxd4 Nf6"))...)
	b := bookOf(t, board.White, "1. e4 e5 (1... c5 2. Nf3 d6 3. d4 cxd4 4. Nxd4 Nf6 5. Nc3) 2. Nf3 Nc6 3. Bc4 Bc5 4. c3 Nf6 5. d3 *")
	again := func(own *profile.Profile) string {
		s := Make(Input{Profile: theirs, Own: own, Books: []*book.Book{b}}, Options{When: today, Minutes: 60}).Sides[0]
		for _, task := range s.Tonight {
			if task.Lead == "again" {
				return words.Task(&task).String()
			}
		}
		return ""
	}
	const italian = " 1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bc4 Bc5 c3"
	old, fresh := "2024.05.02"+italian, "2026.10.20"+italian
	if got := again(gamesOf(board.White, old)); !strings.HasPrefix(got, "4.c3: you last had it 2 May 2024; in 12 of 20 games") {
		t.Errorf("%q", got)
	}
	if got := again(gamesOf(board.White, old, fresh)); !strings.HasPrefix(got, "1...c5 2.Nf3 d6 3.d4 cxd4 4.Nxd4: not in your games") {
		t.Errorf("%q", got)
	}
	if got := again(nil); got != "" {
		t.Errorf("without games of your own: %q", got)
	}
}

// Where results recommend an answer that is not the main choice, tonight says so:
// they won all of 120 games with 2.Nf3 and lost all of 120 with 2.Nc3.
func TestStudyChoose(t *testing.T) {
	var rows []string
	for i, row := range repeated(240, "") {
		rows = append(rows, row+[]string{"0-1 5400 2000 Elm: e4 e5 Nf3 Nc6 Bc4", "1-0 5400 2000 Elm: e4 e5 Nc3 Nc6 Bc4"}[i%2])
	}
	b := bookOf(t, board.White, "1. e4 e5 2. Nf3 (2. Nc3 Nc6 3. Bc4) 2... Nc6 3. Bc4 *")
	s := Make(Input{Profile: gamesOf(board.Black, rows...), Books: []*book.Book{b}}, Options{When: today}).Sides[0]
	if recommended(&s) != "Nc3" {
		t.Fatalf("recommended %q", recommended(&s))
	}
	got, _ := leads(s.Tonight)
	if !slices.Contains(got, "choose") {
		t.Errorf("tonight has %q", got)
	}
}

func recommended(s *fact.Side) string {
	for _, o := range s.Options {
		if len(o.Reasons) > 0 {
			return o.Move
		}
	}
	return ""
}

// The label and the book speak for 2.d4, which is no main choice: told once.
func TestStudyChoosesOnce(t *testing.T) {
	p := gamesOf(board.Black, repeated(40, "1-0 5400 2000 Elm: e4 e5 d4 exd4 Qxd4 Nc6")...)
	s := situation(t, Options{Need: fact.NeedWin, Minutes: 60}, p,
		"1. e4 e5 2. Nf3 Qe7 3. Nc3 *", "[Character \"sharp\"]\n\n1. e4 e5 2. d4 exd4 3. Qxd4 Nc6 4. Qe3 *")
	if recommended(s) != "d4" {
		t.Fatalf("recommended %q", recommended(s))
	}
	got, _ := leads(s.Tonight)
	got = slices.DeleteFunc(got, func(lead string) bool { return lead != "choose" })
	if len(got) != 1 {
		t.Errorf("chooses %d times", len(got))
	}
}
