package bench

import (
	"archive/zip"
	"bytes"
	"compress/bzip2"
	"compress/gzip"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/klauspost/compress/zstd"

	"foreply/fetch"
	"foreply/profile"
)

const packedSize, packedSeed = 300_000, 7

// packed is games(packedSize, packedSeed, false) by Python's bz2.compress, since
// no Go package at hand writes the format.
const packed = "../../testdata/bench/games.pgn.bz2"

func dump(t *testing.T, c *profile.Counts, err error) string {
	t.Helper()
	var b strings.Builder
	if err == nil {
		err = c.Dump(&b)
	}
	if err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// The tree is the same to the byte for any number of workers, for plain and packed
// files, and for one file and many.
func TestTheSameTree(t *testing.T) {
	text := games(packedSize, packedSeed, false)
	dir := t.TempDir()
	put := func(name string, content []byte) string {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, content, 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	bz2, err := os.ReadFile(packed)
	if err != nil {
		t.Fatal(err)
	}
	if unpacked, err := io.ReadAll(bzip2.NewReader(bytes.NewReader(bz2))); err != nil || !bytes.Equal(unpacked, text) {
		t.Fatalf("%s does not hold the games made here; %v", packed, err)
	}
	parts := inThree(text)
	for i, part := range parts {
		put(fmt.Sprintf("many/%d.pgn", i), part)
	}
	inputs := map[string]string{
		"plain": put("one.pgn", text), "gzip": put("one.pgn.gz", gzipped(text)), "bzip2": packed,
		"zstd": put("one.pgn.zst", zstandard(t, text)), "zip": put("one.zip", zipped(t, text)),
		"many": filepath.Join(dir, "many"), "zip of many": put("many.zip", zipped(t, parts...)),
	}
	c, err := tree(t.Context(), 1, fetch.Options{}, inputs["plain"])
	want := dump(t, c, err)
	if strings.Count(want, "\n") < 5000 {
		t.Fatalf("the tree has %d positions only", strings.Count(want, "\n"))
	}
	for name, path := range inputs {
		for _, workers := range []int{1, 2, 8} {
			c, err := tree(t.Context(), workers, fetch.Options{}, path)
			if dump(t, c, err) != want {
				t.Errorf("%s, %d workers: another tree", name, workers)
			}
		}
	}
}

// The tree is the one that an independent library builds.
func TestTheTreeOfTheRulesLibrary(t *testing.T) {
	text := games(60_000, 9, false)
	c, err := tree(t.Context(), 2, fetch.Options{}, write(t, "a.pgn", text))
	if err != nil {
		t.Fatal(err)
	}
	_, plain, _ := rulesTree(bytes.NewReader(text))
	moves, theirMoves := 0, 0
	for row := range strings.Lines(dump(t, c, nil)) {
		moves += (len(strings.Fields(row)) - 5) / 7
	}
	for _, m := range plain {
		theirMoves += len(m)
	}
	// The library tells positions apart by an en-passant square that nobody can
	// use, so it has a few more moves and no fewer.
	if theirMoves < moves || theirMoves > moves+moves/20 {
		t.Errorf("%d moves of all positions, the library has %d", moves, theirMoves)
	}
}

// inThree cuts a text where games begin.
func inThree(text []byte) [][]byte {
	var parts [][]byte
	for len(parts) < 2 {
		at := len(text) / (3 - len(parts))
		at += bytes.Index(text[at:], []byte("\n\n[Event ")) + 2
		parts = append(parts, text[:at])
		text = text[at:]
	}
	return append(parts, text)
}

func gzipped(text []byte) []byte {
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	w.Write(text)
	w.Close()
	return b.Bytes()
}

func zstandard(t *testing.T, text []byte) []byte {
	t.Helper()
	w, err := zstd.NewWriter(nil)
	if err != nil {
		t.Fatal(err)
	}
	return w.EncodeAll(text, nil)
}

func zipped(t *testing.T, texts ...[]byte) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for i, text := range texts {
		m, err := w.Create(fmt.Sprintf("%d.pgn", i))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := m.Write(text); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
