package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The demo's opponent serves as a small career, without draws that are
// played twice and with a few: nearly every pair is found, and no two games are
// taken for one.
func TestPairsOfTheDemo(t *testing.T) {
	career := demoCareer(t)
	check(t, career, "0")
	check(t, career, "3")
}

// demoCareer is all games of the demo's opponent in a file.
func demoCareer(t *testing.T) string {
	t.Helper()
	files, err := filepath.Glob("../../../testdata/demo/opponent-*.pgn")
	if err != nil || len(files) == 0 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	var text strings.Builder
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		text.Write(b)
		text.WriteString("\n\n")
	}
	career := filepath.Join(t.TempDir(), "career.pgn")
	if err := os.WriteFile(career, []byte(text.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	return career
}

// check makes two trials in which no game may be wrongly joined, and at most two pairs
// missed without a word.
func check(t *testing.T, career, twins string) {
	t.Helper()
	var out strings.Builder
	if err := run([]string{"-first", "60", "-second", "70", "-both", "50", "-twins", twins, "-seeds", "2", career, "Hallvoss, Imke", "Hallvoss, I.", "tallowmoth"}, &out); err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(out.String()) {
		var seed, first, second, both, found, missed, named, wrong int
		if _, err := fmt.Sscanf(line, "seed %d: %d and %d games, %d in common: %d pairs found, %d missed (%d of them named as perhaps one), %d games wrongly joined",
			&seed, &first, &second, &both, &found, &missed, &named, &wrong); err != nil {
			t.Fatalf("%q: %v", line, err)
		}
		if found+missed < both || missed > named+2 || missed > 10 || wrong > 0 {
			t.Error(line)
		}
	}
	if strings.Count(out.String(), "\n") != 2 {
		t.Errorf("printed %q", out.String())
	}
}

// The tables of kinds and of names, of the demo's opponent: nothing is wrong in them.
func TestTablesOfTheDemo(t *testing.T) {
	career := demoCareer(t)
	for _, mode := range []string{"-names", "-kinds"} {
		var out strings.Builder
		if err := run([]string{mode, career, "Hallvoss, Imke", "Hallvoss, I.", "tallowmoth"}, &out); err != nil {
			t.Fatal(err)
		}
		rows := strings.Split(strings.TrimSpace(out.String()), "\n")
		if len(rows) < 12 {
			t.Errorf("%s: %s", mode, out.String())
		}
		for _, row := range rows[2:] {
			if !strings.HasSuffix(row, " | 0 |") || strings.Contains(row, " | 0 | 0 | 0 | 0 |") {
				t.Errorf("%s: %s", mode, row)
			}
		}
	}
}
