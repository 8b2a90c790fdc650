package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/fetch"
	"foreply/fetch/pgn"
	"foreply/pdf"
	"foreply/profile/board"
)

// What costs several players their sheet is told once, with how many more it cost.
func TestFailuresOfAField(t *testing.T) {
	r := &fieldRun{}
	for _, f := range [][2]string{{"Ash", "no disk"}, {"Elm", "bad file"}, {"Oak", "no disk"}, {"Fir", "no disk"}, {"Yew", "bad file"}} {
		r.fail(f[0], errors.New(f[1]))
	}
	if got, want := told(r.failures()), "error: Ash and 2 more: no disk\nerror: Elm and 1 more: bad file\n"; got != want {
		t.Errorf("%q", got)
	}
	if (&fieldRun{}).failures() != nil {
		t.Error("no failure is one")
	}
}

// A player without games has a row that says why, and is no failure; any other fault is one.
func TestRowOfAPlayer(t *testing.T) {
	t.Chdir(t.TempDir())
	write(t, "games.pgn", "[White \"Ash, Bo\"]\n[Black \"Elm, Ida\"]\n\n1. e4 e5 *\n")
	say := newSpeaker(io.Discard)
	r := &fieldRun{app: &app{ctx: t.Context(), say: say}, flags: &flags{games: []string{"games.pgn"}, color: "black", both: []string{"b.pgn"}}, told: map[string]bool{}}
	r.home = &settings{}
	r.away = &settings{config: config{
		Cache: "kept", Opponents: []opponentConfig{{ID: "oak", Names: []string{"Oak, Pia"}}, {ID: "ash", Names: []string{"Ash, Bo"}}},
	}}
	for id, c := range map[string]struct {
		files, missing string
		failed         int
	}{
		"oak": {"games.pgn", "no game of Oak, Pia among the 1 game read", 0},
		"ash": {"none.pgn", "no file none.pgn", 1},
	} {
		r.rows, r.failed, r.sources = nil, nil, []sourceConfig{{ID: "field", Files: []string{c.files}}}
		r.prepare(&entrant{Entry: fetch.Entry{Name: "The " + id, Board: 3, Rating: 1800}, who: opponentConfig{ID: id}})
		want := fact.FieldRow{Name: "The " + id, ID: id, Board: 3, Rating: 1800, Missing: c.missing}
		if len(r.rows) != 1 || !reflect.DeepEqual(r.rows[0], want) || len(r.failed) != c.failed || say.about != "" {
			t.Errorf("%s: %+v, failed %v", id, r.rows, r.failed)
		}
	}
}

// The table of the field, and a page for each board with two candidates or more.
func TestPagesOfAField(t *testing.T) {
	folder := t.TempDir()
	var out, errs strings.Builder
	r := &fieldRun{app: &app{ctx: t.Context(), stdout: &out, say: newSpeaker(&errs)}, folder: folder, suggested: true, home: &settings{file: "club.yaml"}}
	r.rows = []fact.FieldRow{
		{Name: "Ash, Bo", ID: "ash", Board: 1, Games: 7, Last: pgn.ParseDate("2026-10-02")},
		{Name: "Elm, Ida", ID: "elm", Board: 2, Missing: "no games"},
		{Name: "Oak, Pia", ID: "oak", Board: 12, Games: 1, Last: pgn.ParseDate("2025.09.??")},
		{Name: "Fir, Una", ID: "fir", Board: 12},
		{Name: "Yew, Tom", ID: "yew"}, {Name: "Box, Kim", ID: "box"},
	}
	r.fail("Elm, Ida", errors.New("bad luck"))
	err := r.sumUp()
	want := "board  player    games  last        sheet\n" +
		"1      Ash, Bo   7      2 Oct 2026  ash.pdf\n" +
		"2      Elm, Ida  0      -           none: no games\n" +
		"12     Oak, Pia  1      Sep 2025    oak.pdf\n" +
		"12     Fir, Una  0      -           fir.pdf\n" +
		"-      Yew, Tom  0      -           yew.pdf\n" +
		"-      Box, Kim  0      -           box.pdf\n" +
		"\nmade 5 sheets of 6 players in " + folder + "; field.pdf sums them up\n"
	if err == nil || err.Error() != "Elm, Ida: bad luck" || out.String() != want {
		t.Errorf("%v\n%s", err, out.String())
	}
	if want := "hint: to count them, give an opponent in club.yaml all their names, and call field again\n"; errs.String() != want {
		t.Errorf("told %q", errs.String())
	}
	var pages []string
	files, err := os.ReadDir(folder)
	for _, f := range files {
		pages = append(pages, f.Name())
	}
	if got := strings.Join(pages, " "); err != nil || got != "board-12.pdf field.pdf" {
		t.Errorf("pages %s, %v", got, err)
	}
	out.Reset()
	if r.folder = filepath.Join(folder, "none"); told(r.sumUp()) != "error: Elm, Ida: bad luck\nerror: writing "+r.folder+"/field.pdf: there is no folder "+r.folder+"\nhint: make the folder first, or give another place\n" || out.Len() > 0 {
		t.Errorf("%v\n%s", r.sumUp(), out.String())
	}
	if got := candidates(r.rows[:3]); got != "Ash or Elm or Oak" {
		t.Errorf("candidates %q", got)
	}
}

// An entry's id is made of their name, once for each, and never that of a page of ours.
func TestIDsOfEntrants(t *testing.T) {
	for name, want := range map[string]string{
		"Ash, Bo": "ash-bo", "Bo Ash": "bo-ash", "Øst-Åker, Ünal": "ost-aker-unal", "Ψ": "player", "": "player",
		strings.Repeat("abcdefghij", 4): strings.Repeat("abcdefghij", 3) + "abcdef", strings.Repeat("a", 35) + ", bo": strings.Repeat("a", 35),
	} {
		if got := idOf(name); got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
	}
	list := "Name,Board\nAsh,1\nAsh,2\n\"Ash\",2\nField,12\nBoard 12,1\nBoard 3,1\n"
	r := &fieldRun{app: &app{stdin: strings.NewReader(list), say: newSpeaker(io.Discard)}, home: &settings{}, flags: &flags{}}
	err := r.readEntrants("-")
	var ids []string
	for _, e := range r.entrants {
		ids = append(ids, e.who.ID)
	}
	if got := strings.Join(ids, " "); err != nil || got != "ash ash-2 ash-3 field-2 board-12-2 board-3" {
		t.Errorf("%s, %v", got, err)
	}
}

// Who an entry means: by the number where both have one, else by any of the names; a
// handle's place is not asked where the files are given.
func TestEntriesAreFound(t *testing.T) {
	home := &settings{config: config{Opponents: []opponentConfig{
		{ID: "ash", Name: "Ash, Bo", Names: []string{"Ash, B"}, FideIDs: []string{"1112223", "1234567"}, Handles: []handleConfig{{"online", "ash7"}}},
		{ID: "elm", Names: []string{"Elm, Ida"}},
	}}}
	for _, c := range []struct {
		entry fetch.Entry
		id    string
	}{
		{fetch.Entry{Name: "Somebody", ID: "1234567"}, "ash"}, {fetch.Entry{Name: "ASH, B"}, "ash"}, {fetch.Entry{Name: "Bo Ash"}, "ash"},
		{fetch.Entry{Name: "Elm, Ida", ID: "7654321"}, "elm"}, {fetch.Entry{Name: "Oak, Pia", ID: "7654321"}, "oak-pia"},
	} {
		if got := home.entrant(c.entry, map[string]bool{}); got.ID != c.id {
			t.Errorf("%+v: %s, want %s", c.entry, got.ID, c.id)
		}
	}
	fresh := home.entrant(fetch.Entry{Name: "Oak, Pia", ID: "7654321", Rating: 1700}, map[string]bool{})
	if want := (opponentConfig{ID: "oak-pia", Name: "Oak, Pia", Names: []string{"Oak, Pia"}, FideIDs: []string{"7654321"}, Rating: 1700}); !reflect.DeepEqual(fresh, want) {
		t.Errorf("%+v", fresh)
	}
	for _, games := range [][]string{nil, {"x.pgn"}} {
		r := &fieldRun{app: &app{stdin: strings.NewReader("Ash, Bo 1900\n"), say: newSpeaker(io.Discard)}, home: home, flags: &flags{games: games}}
		if err := r.readEntrants("-"); err != nil || len(r.entrants) != 1 {
			t.Fatal(r.entrants, err)
		}
		who := r.entrants[0].who
		if got, want := fmt.Sprint(who.Names, who.Handles), "[Ash, B] [{online ash7}]"; games == nil && got != want {
			t.Errorf("from the sources: %s", got)
		}
		if got, want := fmt.Sprint(who.Names, who.Handles), "[Ash, B ash7] []"; games != nil && got != want {
			t.Errorf("from files: %s", got)
		}
	}
}

// The folder's configuration has what was asked for in place of what is configured; a book
// of the other colour, peers and the engine go along.
func TestConfigurationOfAField(t *testing.T) {
	home := &settings{config: config{
		Me:    meConfig{Repertoire: repertoireConfig{White: []string{"/w.pgn"}, Black: []string{"/b.pgn"}}},
		Peers: []string{"/p.pgn"}, Engine: engineConfig{Command: "./bin/e -x", Nodes: 7000, Options: []string{"A=b"}},
		Sheet: sheetConfig{Event: "Cup"},
	}}
	side := &task{mine: []board.Color{board.Black}, books: [2][]string{board.Black: {"/new.pgn"}}, me: fetch.Who{Names: []string{"Me"}}, myGames: fetch.Inputs("own.pgn"), first: []string{"Caro"}}
	here, err := filepath.Abs("bin/e")
	if err != nil {
		t.Fatal(err)
	}
	own, peer := filepath.Join(here, "../../own.pgn"), filepath.Join(here, "../../q.pgn")
	got := (&fieldRun{home: home, flags: &flags{}}).config(side)
	want := &config{
		Me: meConfig{Names: []string{"Me"}, Games: []string{own},
			Repertoire: repertoireConfig{White: []string{"/w.pgn"}, Black: []string{"/new.pgn"}, Main: []string{"Caro"}}},
		Peers: []string{"/p.pgn"}, Cache: "games", Engine: engineConfig{Command: here + " -x", Nodes: 7000, Options: []string{"A=b"}},
		Sheet: sheetConfig{Event: "Cup"},
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%+v", got)
	}
	home.Engine.Command = "none"
	if got := (&fieldRun{home: home, flags: &flags{peers: []string{"q.pgn"}}}).config(side); !reflect.DeepEqual(got.Engine, engineConfig{}) || len(got.Peers) != 1 || got.Peers[0] != peer {
		t.Errorf("%+v", got)
	}
}

// Problems of a file are told once, whatever number of players it is read for, and without
// a player's name.
func TestToldOnce(t *testing.T) {
	var out strings.Builder
	r := &fieldRun{app: speaking(&out), told: map[string]bool{}}
	r.say.about = "ash"
	for range 2 {
		r.tellOnce([]pgn.Problem{{File: "a.pgn", Severity: pgn.Error, Message: "breaks off"}, {File: "a.pgn", Severity: pgn.Warning, Game: 4, Message: "illegal"},
			{Kind: fetch.TwoPeople, File: "a.pgn", Severity: pgn.Warning, Game: 4, Message: "two numbers"}}) // told of the copy, when the sheet is made
	}
	r.tellOnce([]pgn.Problem{{File: "b.pgn", Severity: pgn.Error, Message: "breaks off"}})
	if want := "warning: a.pgn: breaks off\nwarning: b.pgn: breaks off\n"; out.String() != want || r.say.about != "ash" {
		t.Errorf("%q, about %q", out.String(), r.say.about)
	}
	out.Reset()
	r.suggest([]fetch.Suggestion{{Name: "Far", Games: 9, Far: true}})
	if out.Len() > 0 || r.suggested {
		t.Errorf("told %q", out.String())
	}
	r.suggest([]fetch.Suggestion{{Name: "Ash, B", Games: 9}})
	if want := "note: ash: not counted, but maybe theirs: \"Ash, B\" (9 games)\n"; out.String() != want || !r.suggested {
		t.Errorf("told %q", out.String())
	}
}

// A page of the field is on the user's paper and bears the day of the game.
func TestPageOfAField(t *testing.T) {
	r := &fieldRun{app: &app{ctx: t.Context()}, folder: t.TempDir(), home: &settings{config: config{Sheet: sheetConfig{Paper: "letter", Date: "2026-11-07", Event: "Cup"}}}}
	rows := []fact.FieldRow{{Name: "Ash"}}
	err := r.writePage("x", "Title", rows, func(w io.Writer, got pdf.Field, opt pdf.Options) error {
		want := pdf.Field{Title: "Title", AsOf: pgn.ParseDate("2026-11-07"), Rows: rows}
		if !reflect.DeepEqual(got, want) || opt != (pdf.Options{Paper: "letter"}) {
			t.Errorf("%+v, %+v", got, opt)
		}
		_, err := io.WriteString(w, "page")
		return err
	})
	if text := string(readFile(t, filepath.Join(r.folder, "x.pdf"))); err != nil || text != "page" {
		t.Errorf("%q, %v", text, err)
	}
	write(t, filepath.Join(r.folder, "theirs.pdf"), "a bill")
	if err := r.writePage("theirs", "", nil, pdf.WriteField); err == nil || !strings.Contains(err.Error(), "theirs.pdf: the file is there already and is no sheet of ours") {
		t.Errorf("%v", err)
	}
	err = r.writePage("y", "", nil, func(io.Writer, pdf.Field, pdf.Options) error { return errors.New("no ink") })
	if _, gone := os.Stat(filepath.Join(r.folder, "y.pdf")); err == nil || err.Error() != "writing "+filepath.Join(r.folder, "y.pdf")+": no ink" || gone == nil {
		t.Errorf("%v, left %v", err, gone)
	}
}

// Before the first player it is said what is missing, and nothing is made.
func TestFieldBeforeTheFirstPlayer(t *testing.T) {
	t.Chdir(t.TempDir())
	write(t, "b.pgn", "1. e4 c5 *\n")
	write(t, "games.pgn", "1. e4 c5 *\n")
	for want, f := range map[string]flags{
		"error: --my-color: \"green\" is no colour\n":    {color: "green", games: []string{"games.pgn"}},
		"error: where are the games?\n":                  {black: []string{"b.pgn"}},
		"error: no file none.pgn\n":                      {black: []string{"b.pgn"}, games: []string{"none.pgn"}},
		"error: the games of a field are read again ":    {black: []string{"b.pgn"}, games: []string{"games.pgn", "-"}},
		"error: no file c.pgn\nhint: did you mean b.pgn": {black: []string{"c.pgn"}, games: []string{"games.pgn"}},
	} {
		f.out = "made"
		a := &app{ctx: t.Context(), say: newSpeaker(io.Discard)}
		r := &fieldRun{app: a, flags: &f, folder: f.out, home: &settings{}}
		err := r.setUp(a.fieldCommand())
		if _, gone := os.Stat(f.out); err == nil || !strings.HasPrefix(told(err), want) || gone == nil {
			t.Errorf("%v, want %q; left %v", err, want, gone)
		}
	}
	a := &app{ctx: t.Context(), say: newSpeaker(io.Discard)}
	r := &fieldRun{app: a, flags: &flags{black: []string{"b.pgn"}, games: []string{"games.pgn"}}, folder: "b.pgn/x", home: &settings{}}
	if err := r.setUp(a.fieldCommand()); err == nil || !strings.HasPrefix(told(err), "error: making the folder b.pgn/x: ") || !strings.HasSuffix(told(err), "hint: give another place with -o\n") {
		t.Errorf("%v", err)
	}
}

// The games of a server are those that were kept for anybody; files stay where they are.
func TestSourcesOfAField(t *testing.T) {
	r := &fieldRun{flags: &flags{}, home: &settings{config: config{Cache: "kept", Sources: []sourceConfig{
		{ID: "site", URL: "https://example.org/{player}", TokenFrom: "X_Y"}, {ID: "club", Files: []string{"a.pgn"}, Mixed: true},
	}}}}
	want := []sourceConfig{{ID: "site", Files: []string{"kept/site/*/games.pgn"}}, {ID: "club", Files: []string{"a.pgn"}, Mixed: true}}
	if err := r.setSources(); err != nil || !reflect.DeepEqual(r.sources, want) {
		t.Errorf("%+v, %v", r.sources, err)
	}
}

// The files that a field is given by --games are of several players and places.
func TestFilesOfAField(t *testing.T) {
	file := filepath.Join(t.TempDir(), "games.pgn")
	if err := os.WriteFile(file, []byte("1. e4 e5 *\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	r := &fieldRun{app: &app{ctx: t.Context()}, flags: &flags{games: []string{file}}}
	if err := r.setSources(); err != nil || len(r.sources) != 1 || !r.sources[0].Mixed || r.sources[0].Files[0] != file {
		t.Errorf("%+v, %v", r.sources, err)
	}
}

// A file that the configuration names and that went is told once for a field, and by no player's
// name: what was kept of it counts for each.
func TestGoneFileIsToldOnceForAField(t *testing.T) {
	t.Chdir(t.TempDir())
	write(t, "foreply.yaml", "cache: kept\nme: {repertoire: {black: [b.pgn]}}\nsources: [{id: club, files: [a.pgn, c.pgn]}]\n"+
		"opponents: [{id: ash, names: ['Ash, Bo']}, {id: elm, names: ['Elm, Ida']}]\n")
	write(t, "b.pgn", "1. e4 c5 *\n")
	for _, name := range []string{"a.pgn", "c.pgn"} {
		write(t, name, "[White \"Ash, Bo\"]\n[Black \"Elm, Ida\"]\n[Date \"2026.01.02\"]\n[Round \""+name+"\"]\n\n1. e4 e5 2. Nf3 1-0\n")
	}
	write(t, "list.csv", "\"Ash, Bo\"\n\"Elm, Ida\"\n")
	_, _, fetched := call(t, "fetch")
	if err := os.Remove("c.pgn"); err != nil {
		t.Fatal(err)
	}
	_, stderr, code := call(t, "field", "list.csv", "-o", "out", "--my-color", "black")
	const want = "note: foreply.yaml:3: sources[0].files[1]: no file c.pgn; what was kept from there before counts\n"
	if strings.Count(stderr, "c.pgn") != 1 || !strings.Contains(stderr, want) || fetched+code != 0 {
		t.Errorf("%d, %d: %s", fetched, code, stderr)
	}
}
