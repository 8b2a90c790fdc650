package main

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/spf13/pflag"
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

// Every call of foreply in the README, in blocks that run and in those that don't, is
// one: its command is there and has its flags. Whatever is written as a flag is one of
// some command.
func TestReadmeCalls(t *testing.T) {
	text := string(readFile(t, "../../README.md"))
	calls := callsIn(text)
	if len(calls) < 15 {
		t.Fatalf("%d calls in the README: %q", len(calls), calls)
	}
	for _, call := range calls {
		root := (&app{say: newSpeaker(io.Discard)}).root()
		root.InitDefaultHelpCmd()
		cmd, rest, err := root.Find(call)
		if err == nil && cmd == root && len(call) > 0 {
			err = fmt.Errorf("there is no command %s", call[0])
		}
		if err == nil {
			err = cmd.ParseFlags(rest)
		}
		if err != nil {
			t.Errorf("foreply %s: %v", strings.Join(call, " "), err)
		}
	}
	known := map[string]bool{"--help": true}
	root := (&app{say: newSpeaker(io.Discard)}).root()
	for _, cmd := range append(root.Commands(), root) {
		cmd.Flags().VisitAll(func(f *pflag.Flag) { known["--"+f.Name] = true })
	}
	for _, flag := range regexp.MustCompile("`(--[a-z-]+)").FindAllStringSubmatch(text, -1) {
		if !known[flag[1]] {
			t.Errorf("the README has %s, which no command has", flag[1])
		}
	}
}

var (
	spanOfCode = regexp.MustCompile("`foreply ([^`]+)`")
	lineOfCode = regexp.MustCompile(`(?m)^(?:\$ |.*&& )?foreply (.*)$`)
	shellWord  = regexp.MustCompile(`'[^']*'|[^\s']+`)
)

// callsIn are the arguments of the calls of foreply in a text.
func callsIn(text string) [][]string {
	text = strings.ReplaceAll(text, "\\\n", " ")
	var calls [][]string
	for _, found := range append(spanOfCode.FindAllStringSubmatch(text, -1), lineOfCode.FindAllStringSubmatch(text, -1)...) {
		call, _, _ := strings.Cut(found[1], " #")
		var words []string
		for _, word := range shellWord.FindAllString(call, -1) {
			words = append(words, strings.Trim(word, "'"))
		}
		calls = append(calls, words)
	}
	return calls
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

// Files and tests that DEVELOPERS.md names are there: a newcomer looks for them.
func TestDevelopersNames(t *testing.T) {
	text := string(readFile(t, "../../DEVELOPERS.md"))
	files, code := map[string]bool{}, strings.Builder{}
	err := filepath.WalkDir("../..", func(path string, e os.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case e.Name() == ".git" || e.Name() == "build":
			return filepath.SkipDir
		}
		files[filepath.ToSlash(strings.TrimPrefix(path, "../../"))] = true
		files[e.Name()] = true
		if strings.HasSuffix(path, "_test.go") {
			code.Write(readFile(t, path))
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, found := range regexp.MustCompile("`(?:(?:cmd|compare|fetch|pdf|profile|testdata)/[\\w/.]+|\\w+\\.(?:go|md|yaml))`").FindAllString(text, -1) {
		name := strings.Trim(found, "`/.")
		if !files[name] {
			t.Errorf("there is no %s", name)
		}
	}
	for _, name := range regexp.MustCompile(`\b(?:Test|Fuzz|Benchmark)[A-Z]\w+`).FindAllString(text, -1) {
		if !strings.Contains(code.String(), "func "+name+"(") {
			t.Errorf("there is no %s", name)
		}
	}
}
