package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foreply/profile/board"
)

// failsOf writes careers of 'Them' with Black, a game a day against equals, in which each
// fifth game goes by 1...c5, and judges where they scored badly.
func failsOf(t *testing.T, careers int, c5, e5 string) string {
	t.Helper()
	dir := t.TempDir()
	book := filepath.Join(dir, "white.pgn")
	if err := os.WriteFile(book, []byte("1. e4 e5 (1... c5 2. Nf3 d6 3. d4) 2. Nf3 Nc6 3. Bc4 *"), 0o666); err != nil {
		t.Fatal(err)
	}
	args := []string{"-fails", "-per", "5", "-white", book}
	for k := range careers {
		var games strings.Builder
		for i := range 300 {
			moves, results := "e4 e5 Nf3 Nc6 Bc4 Bc5", e5
			if i%5 == 0 {
				moves, results = "e4 c5 Nf3 d6 d4 cxd4", c5
			}
			result := map[byte]string{'+': "0-1", '=': "1/2-1/2", '-': "1-0"}[results[i/5%len(results)]]
			fmt.Fprintf(&games, "[White \"Elm\"]\n[Black \"Them\"]\n[Date \"2026.%02d.%02d\"]\n[Result %q]\n[WhiteElo \"2000\"]\n[BlackElo \"2000\"]\n\n%s %s\n\n",
				1+i/28, 1+i%28, result, moves, result)
		}
		file := filepath.Join(dir, fmt.Sprintf("career-%d.pgn", k))
		if err := os.WriteFile(file, []byte(games.String()), 0o666); err != nil {
			t.Fatal(err)
		}
		args = append(args, file+"=Them")
	}
	var out bytes.Buffer
	if err := run(args, &out); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// Who loses all games of one line and draws the others gives away half a point more there
// than elsewhere, before and after any day; no rule is chosen by the career it judges.
func TestFailsThatLast(t *testing.T) {
	got := failsOf(t, 9, "-", "=")
	for _, by := range []string{"the mean", "the lower end"} {
		row := "| they fail, each career by the rule with the best of the others by " + by + " | "
		i := strings.Index(got, row)
		if i < 0 {
			t.Fatalf("no row by %s:\n%s", by, got)
		}
		cells := strings.Split(strings.SplitN(got[i:], "\n", 2)[0], " | ")
		// Said: the half point, less a tenth, what they give away at large. Came: the half point.
		if cells[4] != "+40" || cells[5] != "+50 ± 0" {
			t.Errorf("by %s: %q", by, cells)
		}
	}
	if strings.Count(got, " on the others: ") != 18 {
		t.Errorf("not two rules for each of nine careers:\n%s", got)
	}
}

// What is the same everywhere is told of no place.
func TestFailsNowhere(t *testing.T) {
	if got := failsOf(t, 9, "=", "="); strings.Contains(got, "they fail") {
		t.Errorf("%s", got)
	}
}

// A place counts again only once the games that judged it are over.
func TestToldAgain(t *testing.T) {
	at := func(report string, from, last int) place {
		return place{career: "a", report: report, from: from, last: last, theirs: board.White, key: 1, games: 50, edge: 25, z: 3, looks: 1}
	}
	r := rule{z: 2, games: 40, chance: 1}
	told := r.told([]place{at("1", 10, 30), at("2", 20, 35), at("3", 31, 50)})
	if len(told["a"]) != 2 {
		t.Errorf("told %d times", len(told["a"]))
	}
	weak := at("4", 60, 70)
	weak.z = 2.5
	strong := at("4", 60, 70)
	strong.key, strong.outcome = 2, outcome{said: 0.5}
	if told := r.told([]place{weak, strong}); len(told["a"]) != 1 || told["a"][0].said != 0.5 {
		t.Errorf("of one report %+v", told)
	}
	for name, change := range map[string]func(*place){
		"few games": func(p *place) { p.games = 39 }, "near expectation": func(p *place) { p.z = 1.9 }, "many looks": func(p *place) { p.looks = 400 },
	} {
		p := at("1", 10, 30)
		if change(&p); r.passes(&p) {
			t.Errorf("%s passes", name)
		}
	}
}
