package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// said judges a career of 'Them' with Black, equals, a game a day: rows 'result moves'.
func said(t *testing.T, per int, book string, rows ...string) string {
	t.Helper()
	var games strings.Builder
	for i, row := range rows {
		result, moves, _ := strings.Cut(row, " ")
		fmt.Fprintf(&games, "[White \"Elm\"]\n[Black \"Them\"]\n[Date \"2026.%02d.%02d\"]\n[Result %q]\n[WhiteElo \"2000\"]\n[BlackElo \"2000\"]\n\n%s %s\n\n",
			1+i/28, 1+i%28, result, moves, result)
	}
	dir := t.TempDir()
	for name, text := range map[string]string{"them.pgn": games.String(), "white.pgn": book} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	var out bytes.Buffer
	args := []string{"-per", fmt.Sprint(per), "-white", filepath.Join(dir, "white.pgn"), filepath.Join(dir, "them.pgn") + "=Them"}
	if err := run(args, &out); err != nil {
		t.Fatal(err)
	}
	var again bytes.Buffer
	if err := run(args, &again); err != nil || !bytes.Equal(out.Bytes(), again.Bytes()) {
		t.Errorf("not the same twice: %v\n%s", err, &again)
	}
	return out.String()
}

// In the first thirty games 3.Nxe5 won and 3.exf5 lost, by turns; in the next 110 all were
// drawn. Before game 31 the first had made half a point a game more than expected, and the
// twenty games with it that followed nothing more; before game 121, when it had 15 of 60
// won, an eighth, and ten games followed: (20*50 + 10*12.5)/30 said, and 0 came.
func TestAnswerThatComesToNothing(t *testing.T) {
	var rows []string
	for i := range 140 {
		row := "1/2-1/2"
		if i < 30 {
			row = [...]string{"1-0", "0-1"}[i%2]
		}
		rows = append(rows, row+" "+[...]string{"e4 e5 Nf3 f5 Nxe5 Qf6 d4 d6", "e4 e5 Nf3 f5 exf5 e4 Qe2 Qe7"}[i%2])
	}
	got := said(t, 2, "1. e4 e5 2. Nf3 Nc6 3. Bc4 *", rows...)
	if want := "| most played answer: your score | 2 | 2 | 30 | +38 | +0 ± 0 | 0 of 2 |\n"; !strings.Contains(got, want) {
		t.Errorf("no %s in\n%s", want, got)
	}
	if want := "| answer set apart: your score | 2 | 2 | 30 | +38 | +0 ± 0 | 0 of 2 |\n"; !strings.Contains(got, want) {
		t.Errorf("no %s in\n%s", want, got)
	}
	if want := "| most played answer: your score with the others | 2 | 2 | 30 |"; !strings.Contains(got, want) {
		t.Errorf("no %s in\n%s", want, got)
	}
}

// After sixty games of 1...e5 came twenty of 1...c5, then both by turns: in the ten that
// judge the change 1...c5 had half, where it had none before it.
func TestChangeThatHalfLasts(t *testing.T) {
	var rows []string
	for i := range 100 {
		move := "e5"
		if i >= 60 && (i < 80 || i%2 == 0) {
			move = "c5"
		}
		rows = append(rows, "1/2-1/2 e4 "+move+" Nf3 Nc6 Bb5 a6")
	}
	got := said(t, 2, "1. e4 e5 (1... c5 2. Nf3) 2. Nf3 *", rows...)
	if want := "| taken up: share since | 1 | 1 | 10 | +100 | +50 ± 0 | 0 of 1 |\n"; !strings.Contains(got, want) {
		t.Errorf("no %s in\n%s", want, got)
	}
	if i := strings.Index(got, "| taken up: the forecast's share | 1 | 1 | 10 | +"); i < 0 {
		t.Errorf("%s", got)
	}
}

// A career too short to be cut says nothing.
func TestTooShort(t *testing.T) {
	got := said(t, 20, "1. e4 e5 2. Nf3 *", strings.Split(strings.Repeat("1-0 e4 e5 Nf3 Nc6 Bb5 a6\n", 49), "\n")[:49]...)
	if strings.Count(got, "\n") != 2 {
		t.Errorf("%s", got)
	}
}
