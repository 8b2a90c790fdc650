package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/iotest"
)

const testdata = "../../testdata"

// call runs a command in this process.
func call(t *testing.T, args ...string) (stdout, stderr string, code int) {
	t.Helper()
	var out, errs bytes.Buffer
	code = run(t.Context(), args, strings.NewReader(""), &out, &errs)
	return out.String(), errs.String(), code
}

// 0 done, 1 not done, 2 called wrongly; a wrong value counts as 2 only if it came
// from the command line.
func TestExitCodes(t *testing.T) {
	t.Chdir(t.TempDir())
	t.Setenv("HOME", t.TempDir())
	t.Setenv("XDG_CONFIG_HOME", "")
	for name, text := range map[string]string{
		"a.pgn": "[White \"Alder, Mina\"]\n[Date \"2026.10.01\"]\n\n1. e4 c5 1-0\n", "black.pgn": "1. e4 c5 *\n",
		"odd.yaml": "sheet: {paper: a3}\n", "well.yaml": "sheet: {paper: letter}\n",
	} {
		if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	prep := []string{"prep", "--games", "a.pgn", "--opponent", "Alder, Mina", "--repertoire", "black.pgn", "--my-color", "black"}
	for _, c := range []struct {
		args string // added to prep, or if it begins with a command, by itself
		want int
		says string
	}{
		{"", 0, ""},
		{"--help", 0, ""},
		{"--config well.yaml", 0, ""},
		{"--config odd.yaml", exitError, "odd.yaml:1: sheet.paper: a4 or letter is wanted"},
		{"--config none.yaml", exitError, "reading the configuration"},
		{"--repertoire none.pgn", exitError, "no file none.pgn"},
		{"-o none/sheet.pdf", exitError, "there is no folder none"},
		{"-o -", exitUsage, "give the name of a file"},
		{"--paper a3", exitUsage, "--paper: a4 or letter is wanted, not \"a3\""},
		{"--date 2026-13-01", exitUsage, "--date: \"2026-13-01\" is no day"},
		{"--clock soon", exitUsage, "--clock: \"soon\" is no time control"},
		{"--minutes some", exitUsage, "--minutes: a whole number is wanted, not \"some\"\n"},
		{"--half=perhaps", exitUsage, "--half: true or false is wanted, not \"perhaps\"\n"},
		{"--gmaes a.pgn", exitUsage, "did you mean --games?"},
		{"prepp", exitUsage, "did you mean foreply prep?"},
		{"help prepp", exitUsage, "did you mean foreply prep?"},
		{"help check", 0, ""},
		{"version", 0, ""},
		{"fetch", exitUsage, "no opponents in the configuration"},
		{"check none.pgn", exitError, "no file none.pgn"},
	} {
		args := strings.Fields(c.args)
		if len(args) == 0 || strings.HasPrefix(args[0], "-") {
			args = append(slices.Clip(prep), args...)
		}
		if _, errs, code := call(t, args...); code != c.want || !strings.Contains(errs, c.says) {
			t.Errorf("%s: exit code %d, want %d; stderr:\n%s", c.args, code, c.want, errs)
		}
	}
}

// A read from a terminal may never come back: the interrupt must not wait for it.
func TestInterruptedWhileWaitingForInput(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	silent, keepOpen := io.Pipe()
	defer keepOpen.Close()
	reading := &signalReader{r: silent, began: cancel}
	folder := t.TempDir()
	sheet := filepath.Join(folder, "sheet.pdf")
	repertoire := filepath.Join(t.TempDir(), "black.pgn")
	if err := os.WriteFile(repertoire, []byte("1. e4 c5 *\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	code := run(ctx, []string{"prep", "--games", "-", "--opponent", "Alder, Mina",
		"--repertoire", repertoire, "--my-color", "black", "-o", sheet}, reading, &out, &errs)
	if code != exitInterrupted {
		t.Errorf("exit code %d, want %d; stderr:\n%s", code, exitInterrupted, errs.String())
	}
	if left, _ := os.ReadDir(folder); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
	if strings.Contains(errs.String(), "error:") {
		t.Errorf("an interrupt is no error:\n%s", errs.String())
	}
}

// What comes from a stream comes whole and in order, whatever is taken at once; its error comes
// behind it, and each time.
func TestPatientReader(t *testing.T) {
	broken := errors.New("broken")
	p := &patient{ctx: t.Context(), r: io.MultiReader(strings.NewReader("one "), strings.NewReader("two"), iotest.ErrReader(broken))}
	var got []byte
	for {
		var b [3]byte
		n, err := p.Read(b[:])
		if got = append(got, b[:n]...); err != nil {
			if _, again := p.Read(b[:]); err != broken || again != broken || string(got) != "one two" {
				t.Errorf("%q, %v, then %v", got, err, again)
			}
			return
		}
	}
}

// The first fault of an output is the one that is told.
func TestFaithfulWriter(t *testing.T) {
	var kept strings.Builder
	f := &faithful{w: &kept}
	if n, err := f.Write([]byte("abc")); n != 3 || err != nil || f.err != nil || kept.String() != "abc" {
		t.Errorf("%d, %v", n, err)
	}
	f.w = full{}
	_, first := f.Write(nil)
	f.w = &kept
	if _, err := f.Write(nil); err != nil || f.err != first || first == nil {
		t.Errorf("%v, kept %v", err, f.err)
	}
}

// signalReader tells when the first read begins.
type signalReader struct {
	r     io.Reader
	began func()
}

func (s *signalReader) Read(b []byte) (int, error) {
	s.began()
	return s.r.Read(b)
}
