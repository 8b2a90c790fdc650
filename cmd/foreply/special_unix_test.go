//go:build unix

package main

import (
	"bytes"
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"golang.org/x/sys/unix"
)

// A pipe that nobody writes to is refused wherever a file is named, and the first
// interrupt ends the wait for standard input.
func TestNoWaitForPipes(t *testing.T) {
	common, err := filepath.Abs(testdata + "/script/common")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	if err := os.CopyFS(".", os.DirFS(common)); err != nil {
		t.Fatal(err)
	}
	if err := unix.Mkfifo("pipe", 0o600); err != nil {
		t.Fatal(err)
	}
	for _, line := range []string{
		"prep --games pipe --opponent x --repertoire black.pgn --my-color black",
		"prep --games games.pgn --opponent Quist,Ola --repertoire pipe --my-color black",
		"prep --games games.pgn --opponent Quist,Ola --repertoire black.pgn --my-color black --peers pipe",
		"prep --games games.pgn --opponent Quist,Ola --repertoire black.pgn --my-color black -o pipe",
		"field pipe --games games.pgn --black-repertoire black.pgn",
		"fetch --config pipe",
		"check pipe --my-color black",
		"peers pipe -o x.book",
	} {
		var out, errs bytes.Buffer
		code := run(t.Context(), strings.Fields(line), strings.NewReader(""), &out, &errs)
		if code == 0 || !strings.Contains(errs.String(), "it is no plain file") {
			t.Errorf("%s: exit code %d, %q", line, code, errs.String())
		}
	}
	ctx, cancel := context.WithTimeout(t.Context(), 50*time.Millisecond)
	defer cancel()
	in, silent, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	defer silent.Close()
	for _, line := range []string{"field - --games games.pgn --black-repertoire black.pgn", "prep --games - --opponent x --repertoire black.pgn --my-color black"} {
		var out, errs bytes.Buffer
		if code := run(ctx, strings.Fields(line), in, &out, &errs); code != exitInterrupted {
			t.Errorf("%s: exit code %d, %q", line, code, errs.String())
		}
	}
}

// Some programs send an interrupt twice at once, to the process and to its group: what came
// is kept all the same.
func TestInterruptedTwiceAtOnce(t *testing.T) {
	asked := make(chan bool, 9)
	site := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		fmt.Fprint(w, "[White \"slowquist\"]\n[Black \"x\"]\n[Result \"1-0\"]\n\n1. e4 e5 1-0\n\n[White")
		w.(http.Flusher).Flush()
		asked <- true
		<-r.Context().Done()
	}))
	defer site.Close()
	folder := t.TempDir()
	config := filepath.Join(folder, configName)
	text := fmt.Sprintf("sources: [{id: online, url: '%s/{player}'}]\nopponents: [{id: quist, handles: [{source: online, handle: slowquist}]}]\ncache: kept\n", site.URL)
	if err := os.WriteFile(config, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	program, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	var errs bytes.Buffer
	cmd := exec.CommandContext(t.Context(), program, "fetch", "--config", config)
	cmd.Args[0], cmd.Stderr = "foreply", &errs // TestMain goes by the name
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	<-asked
	for range 20 {
		cmd.Process.Signal(syscall.SIGTERM)
		time.Sleep(time.Millisecond)
	}
	if cmd.Wait(); cmd.ProcessState.ExitCode() != exitInterrupted || !strings.Contains(errs.String(), "note: interrupted") {
		t.Errorf("%v, %q", cmd.ProcessState, errs.String())
	}
}
