package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
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
	if err := run(nil); err == nil {
		t.Error("no file name given, no error")
	}
}

func TestEndOfRefusesWhatIsNoMove(t *testing.T) {
	if _, err := endOf([]string{"e2e4", "e2e4"}); err == nil {
		t.Error("an illegal move, no error")
	}
}
