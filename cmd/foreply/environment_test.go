package main

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"go.yaml.in/yaml/v3"
)

// full is a device without room.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no room") }

// Nobody takes a help or table that could not be written for one that was.
func TestFullDevice(t *testing.T) {
	for _, args := range [][]string{{"--help"}, {"prep", "--help"}, {"help", "fetch"}, {"version"}, {}} {
		var errs bytes.Buffer
		code := run(t.Context(), args, strings.NewReader(""), full{}, &errs)
		if code != exitError || !strings.Contains(errs.String(), "no room") {
			t.Errorf("%q: exit code %d, %q", args, code, errs.String())
		}
	}
}

// A home that can't be read is told only where the configuration would have helped.
func TestUnreadableHome(t *testing.T) {
	home := t.TempDir()
	t.Setenv("HOME", home)
	t.Setenv("XDG_CONFIG_HOME", filepath.Join(home, "config"))
	if err := os.MkdirAll(filepath.Join(home, "config", "foreply", configName), 0o700); err != nil { // a folder is no file
		t.Fatal(err)
	}
	common, err := filepath.Abs(testdata + "/script/common")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	prep := []string{"prep", "--games", common + "/games.pgn", "--opponent", "Quist, Ola", "--repertoire", common + "/black.pgn", "--my-color", "black"}
	var out, errs bytes.Buffer
	if code := run(t.Context(), prep, strings.NewReader(""), &out, &errs); code != 0 || errs.Len() > 0 {
		t.Errorf("exit code %d, %q", code, errs.String())
	}
	for _, args := range [][]string{{"prep", "quist", "--my-color", "black"}, {"fetch"}} {
		errs.Reset()
		if code := run(t.Context(), args, strings.NewReader(""), &out, &errs); code != exitUsage || !strings.Contains(errs.String(), "hint: your own configuration was not read: ") {
			t.Errorf("%q: exit code %d, %q", args, code, errs.String())
		}
	}
}

// What steers a terminal or turns the direction of writing stands as escapes in what we
// write, and is read back as it was.
func TestQuoted(t *testing.T) {
	text := "a\u202eb\u2066c\u200fd\x1b[31m\u0085e\u2028f\ue000\U000e0041 \"Dvořák\" <&>"
	written, err := (&config{Cache: text}).text()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range "\u202e\u2066\u200f\x1b\u0085\u2028\ue000\U000e0041" {
		if strings.ContainsRune(written, r) {
			t.Errorf("%U stands in %s", r, written)
		}
	}
	var back config
	if err := yaml.Unmarshal([]byte(written), &back); err != nil || back.Cache != text {
		t.Errorf("%s is read as %q, %v", written, back.Cache, err)
	}
}

// A configuration of many megabytes is refused, whatever is in it.
func TestLongConfiguration(t *testing.T) {
	file := filepath.Join(t.TempDir(), "long.yaml")
	f, err := os.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := f.Truncate(100 << 20); err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	code := run(t.Context(), []string{"fetch", "--config", file}, strings.NewReader(""), &out, &errs)
	if want := "has more than 2 MB, the most for a configuration"; code != exitError || !strings.Contains(errs.String(), want) {
		t.Errorf("exit code %d, %q", code, errs.String())
	}
}

// A repertoire of tens of thousands of chapters is an archive, and told to be one.
func TestEndlessRepertoire(t *testing.T) {
	folder := t.TempDir()
	chapter := "[White \"a\"]\n\n1. e4 c5 2. Nf3 *\n\n"
	for name, c := range map[string]struct{ text, want string }{
		"chapters.pgn": {strings.Repeat(chapter, 40_000), "the repertoire has more than 20000 chapters, the most for one colour"},
		"comments.pgn": {strings.Repeat(strings.Replace(chapter, "2.", "{"+strings.Repeat("x", 900<<10)+"} 2.", 1), 20), "more than 16 MB"},
	} {
		file := filepath.Join(folder, name)
		if err := os.WriteFile(file, []byte(c.text), 0o600); err != nil {
			t.Fatal(err)
		}
		var out, errs bytes.Buffer
		code := run(t.Context(), []string{"check", file, "--my-color", "black"}, strings.NewReader(""), &out, &errs)
		if code != exitError || !strings.Contains(errs.String(), c.want) || !strings.Contains(errs.String(), "hint: ") {
			t.Errorf("%s: exit code %d, %.300q", name, code, errs.String())
		}
	}
}
