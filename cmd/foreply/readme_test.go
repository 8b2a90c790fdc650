package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// The blocks of the README marked sh run as written, in order, in a folder that
// has the demo's files where a clone has them. Blocks marked console show more
// than commands and are not run.
func TestReadmeExamples(t *testing.T) {
	if testing.Short() {
		t.Skip("makes whole sheets")
	}
	folder := t.TempDir()
	if err := os.CopyFS(filepath.Join(folder, "testdata", "demo"), os.DirFS(testdata+"/demo")); err != nil {
		t.Fatal(err)
	}
	blocks := fencedBlocks(string(readFile(t, "../../README.md")), "sh")
	if len(blocks) == 0 {
		t.Fatal("no block marked sh in the README")
	}
	for _, block := range blocks {
		cmd := exec.CommandContext(t.Context(), "sh", "-e", "-c", block)
		cmd.Dir = folder
		cmd.Env = append(os.Environ(), "HOME="+folder, "XDG_CONFIG_HOME=", "XDG_CACHE_HOME=")
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Errorf("%v\n%s\nsays\n%s", err, block, out)
		}
	}
}

// fencedBlocks returns the texts between ``` with a word, and ```.
func fencedBlocks(text, word string) []string {
	var blocks []string
	for {
		_, rest, found := strings.Cut(text, "\n```"+word+"\n")
		if !found {
			return blocks
		}
		block, rest, _ := strings.Cut(rest, "\n```")
		blocks = append(blocks, block)
		text = rest
	}
}

// The sources of the README are configurations that are taken as they stand.
func TestReadmeSources(t *testing.T) {
	blocks := fencedBlocks(string(readFile(t, "../../README.md")), "yaml")
	if len(blocks) < 3 {
		t.Fatalf("%d blocks marked yaml in the README, want the three kinds of servers", len(blocks))
	}
	for _, block := range blocks {
		if _, err := load(t, block); err != nil {
			t.Errorf("%v\nof\n%s", err, block)
		}
	}
}
