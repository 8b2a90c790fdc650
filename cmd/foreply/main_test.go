package main

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const testdata = "../../testdata"

// call runs a command in this process.
func call(t *testing.T, args ...string) (stdout, stderr string, code int) {
	t.Helper()
	var out, errs bytes.Buffer
	code = run(t.Context(), args, strings.NewReader(""), &out, &errs)
	return out.String(), errs.String(), code
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

// signalReader tells when the first read begins.
type signalReader struct {
	r     io.Reader
	began func()
}

func (s *signalReader) Read(b []byte) (int, error) {
	s.began()
	return s.r.Read(b)
}
