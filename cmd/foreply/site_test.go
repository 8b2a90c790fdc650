package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"foreply/fetch/pgn"
)

// site is a server on this machine that hands out the games of slowquist in
// the three ways that exports have: a stream, a page for each month, and a list of
// monthly addresses. It reads them from a folder, so that a script publishes a
// game by adding to a file there: stream.pgn, monthly/2026-10.pgn, list/2026-10.pgn.
// What it was asked for stands in asked.
type site struct {
	folder string
	url    string
}

// serveSite FILE starts a site over the folder site, and writes its address over
// the word SITE in the configuration.
func serveSite(ts *testscript.TestScript, neg bool, args []string) {
	s := &site{folder: ts.MkAbs("site")}
	server := httptest.NewServer(s.routes())
	ts.Defer(server.Close)
	s.url = server.URL
	config := ts.ReadFile(args[0])
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.ReplaceAll(config, "SITE", server.URL)), 0o666))
}

func (s *site) routes() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /stream/slowquist", s.stream)
	mux.HandleFunc("GET /locked/slowquist", s.locked)
	mux.HandleFunc("GET /monthly/slowquist/{year}/{month}", s.month("monthly"))
	mux.HandleFunc("GET /listed/slowquist/{year}/{month}", s.month("list"))
	mux.HandleFunc("GET /lists/slowquist", s.list)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		f, err := os.OpenFile(filepath.Join(s.folder, "asked"), os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o666)
		if err == nil {
			fmt.Fprintln(f, r.URL.RequestURI())
			f.Close()
		}
		mux.ServeHTTP(w, r)
	})
}

// stream gives the games that began at or after 'since', in milliseconds.
func (s *site) stream(w http.ResponseWriter, r *http.Request) {
	since, _ := strconv.ParseInt(r.URL.Query().Get("since"), 10, 64)
	f, err := os.Open(filepath.Join(s.folder, "stream.pgn"))
	if err != nil {
		http.NotFound(w, r)
		return
	}
	defer f.Close()
	w.Header().Set("Content-Type", "application/x-chess-pgn")
	for game := range pgn.NewReader(f, pgn.Options{}).All() {
		began, err := time.Parse("2006.01.02 15:04:05", game.Tags().Get("UTCDate")+" "+game.Tags().Get("UTCTime"))
		if err == nil && began.UnixMilli() >= since {
			fmt.Fprintf(w, "%s\n\n", bytes.TrimSpace(game.Text))
		}
	}
}

// locked is the stream for those who know the word.
func (s *site) locked(w http.ResponseWriter, r *http.Request) {
	if r.Header.Get("Authorization") != "Bearer open-sesame" {
		http.Error(w, "token unknown", http.StatusUnauthorized)
		return
	}
	s.stream(w, r)
}

func (s *site) month(kind string) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		http.ServeFile(w, r, filepath.Join(s.folder, kind, r.PathValue("year")+"-"+r.PathValue("month")+".pgn"))
	}
}

func (s *site) list(w http.ResponseWriter, r *http.Request) {
	files, _ := filepath.Glob(filepath.Join(s.folder, "list", "*.pgn"))
	addresses := []string{}
	for _, f := range files {
		month := strings.ReplaceAll(strings.TrimSuffix(filepath.Base(f), ".pgn"), "-", "/")
		addresses = append(addresses, s.url+"/listed/slowquist/"+month)
	}
	json.NewEncoder(w).Encode(map[string]any{"archives": addresses})
}

// appendTo FILE TEXT-FILE adds the text to the file.
func appendTo(ts *testscript.TestScript, neg bool, args []string) {
	text := ts.ReadFile(args[0]) + "\n" + ts.ReadFile(args[1])
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(text), 0o666))
}

// noSecret WORD fails if the word stands in any file under the folder.
func noSecret(ts *testscript.TestScript, neg bool, args []string) {
	ts.Check(filepath.WalkDir(ts.MkAbs(args[1]), func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		if strings.Contains(ts.ReadFile(path), args[0]) {
			ts.Fatalf("%s has the word", path)
		}
		return nil
	}))
}

// Interrupted while a server is asked: exit code 130, the summary, how far it got,
// and what came before is kept.
func TestInterruptedFetch(t *testing.T) {
	ctx, cancel := context.WithCancelCause(t.Context())
	var asked []string
	site := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if asked = append(asked, r.URL.Path); len(asked) == 3 {
			cancel(errors.New("interrupt"))
			<-r.Context().Done()
			return
		}
		month := strings.TrimPrefix(r.URL.Path, "/slowquist/")
		fmt.Fprintf(w, "[UTCDate \"%s.05\"]\n[White \"slowquist\"]\n[Black \"x\"]\n[Result \"1-0\"]\n\n1. e4 e5 1-0\n", strings.ReplaceAll(month, "-", "."))
	}))
	defer site.Close()
	folder := t.TempDir()
	config := filepath.Join(folder, configName)
	text := fmt.Sprintf("sources: [{id: online, url: '%s/{player}/{year}-{month}', pages: months, start: 2026-01, pace: 0.001}]\n"+
		"opponents: [{id: quist, handles: [{source: online, handle: slowquist}]}]\ncache: kept\n", site.URL)
	if err := os.WriteFile(config, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	fetch := func(ctx context.Context) (int, string, string) {
		var out, errs bytes.Buffer
		code := run(ctx, []string{"fetch", "--config", config, "--date", "2026-05-15"}, strings.NewReader(""), &out, &errs)
		return code, out.String(), errs.String()
	}
	code, out, errs := fetch(ctx)
	wantErrs := "note: online, quist as slowquist: interrupted in the month 2026-03, after 3 requests and 2 games; " +
		"what came is kept, and the next fetch gets the rest\nnote: interrupted\n"
	if code != exitInterrupted || !strings.Contains(out, "online  quist as slowquist  3") || errs != wantErrs {
		t.Errorf("exit code %d, stdout %q, stderr %q", code, out, errs)
	}
	code, out, errs = fetch(t.Context())
	if code != 0 || errs != "" {
		t.Errorf("exit code %d, stdout %q, stderr %q", code, out, errs)
	}
	want := []string{"/slowquist/2026-05", "/slowquist/2026-04", "/slowquist/2026-03", "/slowquist/2026-05",
		"/slowquist/2026-03", "/slowquist/2026-02", "/slowquist/2026-01"}
	if !slices.Equal(asked, want) {
		t.Errorf("asked for %q, want %q", asked, want)
	}
	kept := readFile(t, filepath.Join(folder, "kept", "online", "quist", "games.pgn"))
	if n := bytes.Count(kept, []byte("[White \"slowquist\"]")); n != 5 {
		t.Errorf("%d games kept, want 5:\n%s", n, kept)
	}
}
