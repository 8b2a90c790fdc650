package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"foreply/fetch"
)

// What an opponent's games are read from: of each source what was kept and is not empty, with
// the files not read then before it, as they may correct it, else all its files; a handle only
// at its source.
func TestSourcesOfAnOpponent(t *testing.T) {
	t.Chdir(t.TempDir())
	cfg := &settings{config: config{
		Cache: "kept",
		Opponents: []opponentConfig{
			{ID: "ash", Names: []string{"Ash"}, Handles: []handleConfig{{"online", "ash7"}, {"online", "ash8"}}},
			{ID: "elm", Handles: []handleConfig{{"online", "elm9"}}},
		},
		Sources: []sourceConfig{{ID: "club", Files: []string{"old.pgn", "new.pgn", "folder"}}, {ID: "online", Files: []string{"web.pgn"}}, {ID: "site", URL: "https://example.org/{player}"}},
	}}
	day := time.Date(2026, 10, 1, 12, 0, 0, 0, time.UTC)
	at := func(path string, days int, text string) {
		t.Helper()
		when := day.AddDate(0, 0, days)
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o700), os.WriteFile(path, []byte(text), 0o600), os.Chtimes(path, when, when)); err != nil {
			t.Fatal(err)
		}
	}
	at("old.pgn", -1, "x")
	at("new.pgn", 1, "x")
	at("folder/deep/old.pgn", -1, "x")
	at("web.pgn", -1, "x")
	show := func(opponent string) string {
		var out []string
		for _, in := range sourceInputs(cfg, opponent) {
			out = append(out, fmt.Sprintf("%s:%s%v", in.Source, in.Pattern, in.Handles))
		}
		return strings.Join(out, " ")
	}
	for _, c := range []struct{ quirk, id, want string }{
		{"nothing kept", "ash", "club:old.pgn[] club:new.pgn[] club:folder[] online:web.pgn[ash7 ash8]"},
		{"only a handle: nothing to find them by elsewhere", "elm", "online:web.pgn[elm9]"},
		{"somebody else", "", "club:old.pgn[] club:new.pgn[] club:folder[] online:web.pgn[]"},
	} {
		if got := show(c.id); got != c.want {
			t.Errorf("%s: %s, want %s", c.quirk, got, c.want)
		}
	}
	keep := func(source, opponent, games string) {
		t.Helper()
		path := filepath.Join("kept", source, opponent, "games.pgn")
		at(path, 0, games)
		o, _ := cfg.opponentByID(opponent)
		for _, s := range cfg.Sources {
			if s.ID == source {
				if err := importOf(s.inputs(&o), &o, day).keep(path); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	keep("club", "ash", "games")
	keep("site", "ash", "games")
	if got, want := show("ash"), "club:new.pgn[] club:kept/club/ash/games.pgn[] online:web.pgn[ash7 ash8] site:kept/site/ash/games.pgn[]"; got != want {
		t.Errorf("kept: %s", got)
	}
	at("folder/deep/new.pgn", 2, "x")
	keep("online", "ash", "")
	if got, want := show("ash"), "club:new.pgn[] club:folder/deep/new.pgn[] club:kept/club/ash/games.pgn[] site:kept/site/ash/games.pgn[]"; got != want {
		t.Errorf("kept, and nothing: %s", got)
	}
	keep("online", "elm", "")
	if got, want := show("elm"), "online:web.pgn[elm9]"; got != want {
		t.Errorf("nothing anywhere: searched again: %s", got)
	}
}

// Whose games are got: all, or those of the ids in their order; nobody, or a wrong id, is told.
func TestOpponentsAreChosen(t *testing.T) {
	cfg := &settings{file: "club.yaml", config: config{Opponents: []opponentConfig{{ID: "ash"}, {ID: "elm"}, {ID: "oak"}}}}
	for ids, want := range map[string]string{"": "ash elm oak", "oak ash": "oak ash"} {
		list, err := cfg.chosen(strings.Fields(ids))
		var got []string
		for _, o := range list {
			got = append(got, o.ID)
		}
		if err != nil || strings.Join(got, " ") != want {
			t.Errorf("%q: %q, %v", ids, got, err)
		}
	}
	_, err := cfg.chosen([]string{"ash", "fir"})
	if got := told(err); got != "error: no opponent fir in the configuration\nhint: club.yaml has ash, elm, oak; --opponent 'Last, First' names somebody else\n" {
		t.Errorf("%q", got)
	}
	_, err = (&settings{file: "club.yaml"}).chosen(nil)
	if got := told(err); got != "error: no opponents in the configuration\nhint: 'foreply init' writes an example\n" {
		t.Errorf("%q", got)
	}
	if got := told(nothingToFetch(cfg.Opponents[:2])); got != "error: no handle of ash, elm at any server\nhint: add to the opponent: handles: [{source: ID, handle: NAME}]\n" {
		t.Errorf("%q", got)
	}
	if got := told(atSource("club", &fetch.Error{Hint: "mend it"})); !strings.HasPrefix(got, "error: source club: ") || !strings.HasSuffix(got, "hint: mend it\n") {
		t.Errorf("%q", got)
	}
}

func TestStoreOfGames(t *testing.T) {
	t.Setenv("HOME", "/home/mina")
	t.Setenv("XDG_CACHE_HOME", "/home/mina/cache")
	folder, err := os.UserCacheDir()
	if err != nil {
		t.Fatal(err)
	}
	for cache, want := range map[string]string{"": filepath.Join(folder, "foreply", "games"), "here": "here"} {
		if got, err := (&settings{config: config{Cache: cache}}).store(); err != nil || got.Folder != want {
			t.Errorf("%q: %s, %v", cache, got.Folder, err)
		}
	}
}

func TestSizes(t *testing.T) {
	for n, want := range map[int64]string{0: "0 B", 999: "999 B", 1000: "1.0 kB", 999_900: "999.9 kB", 1_000_000: "1.0 MB", 2_540_000: "2.5 MB"} {
		if got := size(n); got != want {
			t.Errorf("%d: %s, want %s", n, got, want)
		}
	}
}

// A player at a server is found by all their names and the handles there, kept by their id.
func TestPlayerOfAServer(t *testing.T) {
	o := &opponentConfig{ID: "ash", Names: []string{"Ash"}, Unsure: []string{"bo"}, FideIDs: []string{"1234567"}, Handles: []handleConfig{{"one", "a1"}, {"two", "a2"}, {"two", "a3"}}}
	got := asPlayer(o, "two", "a3")
	who := fetch.Who{Names: []string{"Ash", "a2", "a3"}, Unsure: []string{"bo"}, IDs: []string{"1234567"}}
	if got.Opponent != "ash" || got.Handle != "a3" || !reflect.DeepEqual(got.Who, who) || len(o.Names) != 1 {
		t.Errorf("%+v", got)
	}
}

// A fetch that takes long says so before it begins; --full asks for everything again, and what
// came newer is told; each handle has a row of its own.
func TestFetchIsTold(t *testing.T) {
	var asked []string
	text := "first"
	site := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		asked = append(asked, r.URL.RequestURI())
		fmt.Fprintf(w, "[UTCDate \"2026.10.05\"]\n[UTCTime \"18:00:00\"]\n[White \"%s\"]\n[Black \"x\"]\n[Result \"1-0\"]\n\n1. e4 {%s} e5 1-0\n", filepath.Base(r.URL.Path), text)
	}))
	defer site.Close()
	t.Chdir(t.TempDir())
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	write(t, configName, "sources:\n- {id: a, url: '"+site.URL+"/{player}', query: ['since={from:ms}'], pace: 0.001}\n- {id: b, files: [none.pgn]}\n"+
		"opponents: [{id: ash, handles: [{source: a, handle: ash1}, {source: a, handle: ash2}]}, {id: elm, names: [Elm]}]\ncache: kept\n")
	for _, c := range []struct {
		args []string
		rows string // without sizes
		want []string
	}{
		{[]string{"ash"}, "ash as ash1 1 1 1 1 1 0; ash as ash2 1 1 1 1 2 0", []string{"/ash1", "/ash2"}},
		{[]string{"ash", "--full"}, "ash as ash1 1 1 1 0 2 0; ash as ash2 1 1 1 0 2 0", []string{"/ash1", "/ash2"}},
	} {
		asked = nil
		stdout, stderr, code := call(t, append([]string{"fetch"}, c.args...)...)
		var rows []string
		for _, row := range strings.Split(strings.TrimSpace(stdout), "\n")[1:] {
			f := strings.Fields(row)
			rows = append(rows, strings.Join(append(f[1:5:5], f[7:]...), " "))
		}
		if got := strings.Join(rows, "; "); code != 0 || got != c.rows || !slices.Equal(asked, c.want) || stderr != "" {
			t.Errorf("%q: %s, asked %q, exit code %d, %q", c.args, got, asked, code, stderr)
		}
	}
	if _, stderr, code := call(t, "fetch", "elm"); code != exitError || !strings.Contains(stderr, "sources[1].files[0]: no file none.pgn") {
		t.Errorf("exit code %d, %q", code, stderr)
	}
	write(t, "only.yaml", "sources: [{id: a, url: '"+site.URL+"/{player}'}]\nopponents: [{id: elm, names: [Elm]}]\ncache: kept\n")
	for _, more := range []string{"--dry-run", "--full"} {
		if _, stderr, code := call(t, "fetch", "--config", "only.yaml", more); code != exitUsage || !strings.HasPrefix(stderr, "error: no handle of elm at any server\n") {
			t.Errorf("%s: exit code %d, %q", more, code, stderr)
		}
	}
	write(t, "none.yaml", "opponents: [{id: elm, names: [Elm]}]\n")
	if _, stderr, code := call(t, "fetch", "--config", "none.yaml"); code != exitUsage || !strings.HasPrefix(stderr, "error: no sources in the configuration\nhint: list files or servers under sources in foreply.yaml; ") {
		t.Errorf("exit code %d, %q", code, stderr)
	}
}

// What takes a minute or more at the pace of a server is told before it begins.
func TestLongFetchIsAnnounced(t *testing.T) {
	for pace, want := range map[string]string{
		"29": "", "30": "note: a, ash as ash1: up to 2 requests, 1 minute at its pace\n", "3000": "note: a, ash as ash1: up to 2 requests, 100 minutes at its pace\n",
	} {
		ctx, cancel := context.WithCancel(t.Context())
		site := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { cancel(); <-r.Context().Done() }))
		file := configIn(t, "sources: [{id: a, url: '"+site.URL+"/{player}/{year}/{month}', pages: months, start: 2026-04, pace: "+pace+"}]\n"+
			"opponents: [{id: ash, handles: [{source: a, handle: ash1}]}]\ncache: kept\n")
		var out, errs bytes.Buffer
		code := run(ctx, []string{"fetch", "--config", file, "--date", "2026-05-15"}, strings.NewReader(""), &out, &errs)
		first, _, _ := strings.Cut(errs.String(), "note: a, ash as ash1: interrupted")
		if code != exitInterrupted || first != want {
			t.Errorf("pace %s: exit code %d, %q", pace, code, errs.String())
		}
		site.Close()
	}
}
