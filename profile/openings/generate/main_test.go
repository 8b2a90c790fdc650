package main

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"foreply/profile/board"
)

func TestTableIsUpToDate(t *testing.T) {
	if testing.Short() {
		t.Skip("the library takes a quarter of a second to load its lines")
	}
	fresh := filepath.Join(t.TempDir(), "names.tsv")
	if err := run([]string{fresh}); err != nil {
		t.Fatal(err)
	}
	want, err := os.ReadFile(fresh)
	if err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile("../names.tsv")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("names.tsv differs from what the generator writes: run 'go generate' in profile/openings")
	}
}

func TestRunNeedsAFileName(t *testing.T) {
	for _, args := range [][]string{nil, {"a", "b"}} {
		if err := run(args); err == nil || err.Error() != "usage: generate FILE" {
			t.Errorf("%q: %v", args, err)
		}
	}
}

func TestEndOfRefusesWhatIsNoMove(t *testing.T) {
	if _, err := endOf([]string{"e2e4", "e2e4"}); err == nil {
		t.Error("an illegal move, no error")
	}
}

// The table has its header and a row an entry, by key; two entries of one position, and names
// that would break a row, are errors.
func TestTableOfEntries(t *testing.T) {
	got, err := table([]entry{{0xfedc, "B20", "Second: Line"}, {0x9, "A00", "First"}, {0xfedcba9876543210, "E99", "Third, Way"}})
	want := header + "0000000000000009\tA00\tFirst\n000000000000fedc\tB20\tSecond: Line\nfedcba9876543210\tE99\tThird, Way\n"
	if err != nil || string(got) != want {
		t.Errorf("%s, %v, want\n%s", got, err, want)
	}
	for want, entries := range map[string][]entry{
		`"One" and "Other" end on the same position`: {{7, "A00", "One"}, {3, "A00", "Else"}, {7, "A01", "Other"}},
		`name "" does not fit on a line`:             {{7, "A00", ""}}, `name "a\tb" does not fit on a line`: {{7, "A00", "a\tb"}}, `name "x" does not fit on a line`: {{7, "A\n", "x"}},
	} {
		if _, err := table(entries); err == nil || err.Error() != want {
			t.Errorf("%v, want %s", err, want)
		}
	}
}

// A line ends on the position behind its last move, whatever the order of moves.
func TestEndOfALine(t *testing.T) {
	start := board.Start()
	if key, err := endOf(nil); err != nil || key != start.Key() {
		t.Errorf("%x, %v", key, err)
	}
	a, err1 := endOf([]string{"d2d4", "g8f6", "c2c4", "e7e6"})
	b, err2 := endOf([]string{"c2c4", "e7e6", "d2d4", "g8f6"})
	c, err3 := endOf([]string{"d2d4", "g8f6", "c2c4"})
	if err := errors.Join(err1, err2, err3); err != nil || a != b || a == c {
		t.Errorf("%x, %x and before the last move %x, %v", a, b, c, err)
	}
}
