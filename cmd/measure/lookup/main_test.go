package main

import (
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"foreply/profile/board"
	"foreply/profile/peerbook"
)

// aBook writes a book of games that take one of two moves at each step.
func aBook(t *testing.T, games int) string {
	t.Helper()
	b := peerbook.NewBuilder(peerbook.Options{Folder: t.TempDir()})
	defer b.Close()
	rnd := rand.New(rand.NewPCG(1, 1))
	worker := b.Workers(1)[0]
	for range games {
		g := peerbook.Game{Last: 731163, Ratings: [2]int{1500, 1600}}
		pos := board.Start()
		for range 12 {
			legal := pos.Legal(nil)
			m := legal[min(rnd.IntN(3), 1)] // the second twice as often
			g.Moves = append(g.Moves, m)
			pos.Play(m)
		}
		worker.Add(&g, g.Last)
	}
	path := filepath.Join(t.TempDir(), "some.peers")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if _, err := b.Write(t.Context(), f); err != nil {
		t.Fatal(err)
	}
	return path
}

// The walk begins at the first move and goes on where most games did; what it finds
// is looked up cold and again.
func TestLookup(t *testing.T) {
	path := aBook(t, 2000)
	keys, err := walk(path, 50)
	if err != nil || len(keys) != 50 {
		t.Fatalf("%d positions, %v", len(keys), err)
	}
	start := board.Start()
	second := start
	second.Play(start.Legal(nil)[1])
	if keys[0] != start.Key() || keys[1] != second.Key() {
		t.Errorf("the walk begins with %x", keys[:2])
	}
	seen := map[uint64]bool{}
	for _, key := range keys {
		if seen[key] {
			t.Errorf("%x comes twice", key)
		}
		seen[key] = true
	}
	var out bytes.Buffer
	if err := run([]string{"-positions", "50", path}, &out); err != nil {
		t.Fatal(err)
	}
	if !regexp.MustCompile(`^cold .* 50 positions with \d+ moves in .*\nagain .* 50 positions with `).Match(out.Bytes()) {
		t.Errorf("%s", &out)
	}
	if err := run([]string{filepath.Join(t.TempDir(), "none")}, &out); err == nil {
		t.Error("a book that is not there")
	}
}
