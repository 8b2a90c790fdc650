package web

import (
	"net/http"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/jarcoal/httpmock"
)

// What is taken where nothing is given.
func TestDefaults(t *testing.T) {
	v := newVisit(t, Description{URL: "https://example.org/{player}"})
	v.opt = Options{Now: v.clock.Now, Sleep: v.clock.Sleep, Token: " s3cret\n"}
	s := v.makeServer()
	if s.opt.Idle != time.Minute || s.opt.Today != today || s.token != "s3cret" || s.now() != today || s.retry.Patience != (Patience{5, time.Second, 5 * time.Minute}) {
		t.Errorf("%+v, %+v", s.opt, s.retry.Patience)
	}
	if c := s.source; c.pages != single || c.stopAfter != 12 || c.most != 2048<<20 || c.pace != time.Second || c.start != (Month{}) || len(c.headers) != 0 {
		t.Errorf("%+v", c)
	}
	v.opt.Today, v.opt.Idle, v.opt.Patience = today.AddDate(0, 0, -3), time.Hour, Patience{Tries: 2, First: time.Minute, Longest: time.Hour}
	v.source = Description{ID: "site", URL: "https://example.org/{player}/{year}/{month}", Pages: "months", Start: "2020-02", StopAfter: 3, MaxMB: 5, Pace: 0.25}
	s = v.makeServer()
	if s.opt.Idle != time.Hour || s.opt.Today != v.opt.Today || s.now() != v.opt.Today || s.retry.Patience != v.opt.Patience {
		t.Errorf("%+v, %+v", s.opt, s.retry.Patience)
	}
	if c := s.source; c.pages != months || c.stopAfter != 3 || c.most != 5<<20 || c.pace != 250*time.Millisecond || c.start != (Month{2020, 2}) {
		t.Errorf("%+v", c)
	}
}

// The token goes to the Authorization header where nothing says where else, and only then.
func TestWhereTheTokenGoes(t *testing.T) {
	for _, c := range []struct {
		query, headers []string
		want           string // the header
	}{
		{nil, nil, "Bearer s3cret-word"}, {[]string{"key={token}"}, nil, ""}, {nil, []string{"X-Key: {token}"}, ""}, {nil, []string{"Authorization: Token {token}"}, "Token s3cret-word"},
	} {
		got := "nothing"
		site := serve(t, func(w http.ResponseWriter, r *http.Request) { got = r.Header.Get("Authorization"); say(w, tale(1)) })
		v := newVisit(t, Description{URL: site.URL + "/{player}", Query: c.query, Headers: c.headers, TokenFrom: "EXAMPLE_TOKEN"})
		v.opt.Token = "s3cret-word"
		if v.well(); got != c.want {
			t.Errorf("%q, %q: %q, want %q", c.query, c.headers, got, c.want)
		}
	}
}

// Each fetch has an account of its own, though the server is the same.
func TestAccountsOfOneServer(t *testing.T) {
	v, transport := mock(t)
	transport.RegisterResponder("GET", mocked, httpmock.NewStringResponder(200, tales(1, 2, 3)))
	server := v.makeServer()
	for range 2 {
		var told Progress
		server.opt.Progress = func(p Progress) { told = p }
		a, err := server.Fetch(t.Context(), v.store, v.player)
		if size := int64(len(tales(1, 2, 3))); err != nil || a.Requests != 1 || a.Games != 3 || a.Bytes != size || a.Kept != 3 || told != (Progress{"site", "opponent", "", 1, size, 3}) {
			t.Errorf("%+v, %v; told %+v", a, err, told)
		}
	}
}

// A state that can't be read is warned of, with its place; one that can't be written fails.
func TestStateAsAFolder(t *testing.T) {
	v, transport := mock(t)
	path := statePath(v.store.Path("site", "opponent"))
	if err := os.WriteFile(path, []byte("{"), 0o600); err != nil {
		t.Fatal(err)
	}
	transport.RegisterResponder("GET", mocked, httpmock.NewStringResponder(200, tales(1, 2)))
	if a := v.well(); !slices.Equal(a.Warnings, []string{path + " can't be read; everything is asked for again"}) {
		t.Errorf("%q", a.Warnings)
	}
	os.Remove(path)
	if err := os.MkdirAll(path+"/x", 0o700); err != nil {
		t.Fatal(err)
	}
	a := v.badly("writing the answer: writing "+path+": file exists", "make room")
	if a.Kept != 2 || len(a.Warnings) != 1 || !strings.Contains(a.Warnings[0], "is a directory") {
		t.Errorf("%+v", a)
	}
}

// What is remembered of a state that was changed by hand, or of games' files that are not those
// it was written for.
func TestLoadState(t *testing.T) {
	games := t.TempDir() + "/games.pgn"
	const whole = `{"version": 1, "size": 5, "handles": {"tide": {"asked": "x", "whole": true, "pages": {"1": {"games": 2}}}, "ebb": {"whole": true}, "none": null}}`
	for _, c := range []struct {
		games, state string
		handles      int
		whole        bool
		fails        bool
	}{
		{"12345", whole, 2, true, false}, {"123456", whole, 2, false, false}, {"1234", whole, 0, false, false}, {"", whole, 0, false, false}, {"12345", "", 0, false, false},
		{"12345", `{"version": 2, "handles": {"tide": {}}}`, 0, false, true}, {"12345", "{", 0, false, true}, {"12345", `{"version": 1, "size": 5, "handles": null}`, 0, false, false},
	} {
		for path, text := range map[string]string{games: c.games, statePath(games): c.state} {
			if os.Remove(path); text != "" {
				os.WriteFile(path, []byte(text), 0o600)
			}
		}
		s, err := loadState(games)
		if (err != nil) != c.fails || s.Version != stateVersion || s.Handles == nil || len(s.Handles) != c.handles {
			t.Errorf("%q, %s: %+v, %v", c.games, c.state, s, err)
		}
		for handle, m := range s.Handles {
			if m.Pages == nil || m.Whole != c.whole || handle == "tide" && m.Pages["1"].Games != 2 {
				t.Errorf("%q: %s %+v", c.games, handle, m)
			}
		}
	}
	os.Remove(statePath(games))
	s := &state{Version: stateVersion, Handles: map[string]*memory{}, Size: 99}
	for _, text := range []string{"", "1234567"} {
		if os.Remove(games); text != "" {
			os.WriteFile(games, []byte(text), 0o600)
		}
		if err := s.save(games); err != nil {
			t.Error(err)
		}
		written, _ := os.ReadFile(statePath(games))
		if (len(written) == 0) != (text == "") || text != "" && !strings.Contains(string(written), `"size": 7,`) {
			t.Errorf("%q: %s", text, written)
		}
	}
}

// A source that asks in another way has other games: nothing is remembered for it.
func TestAskedInAnotherWay(t *testing.T) {
	base := Description{ID: "site", URL: "{address}?a=1", Query: []string{"b=2"}, Pages: "list", List: "https://example.org/{player}", Start: "2020-01"}
	of := func(change func(*Description)) *Source {
		d := base
		change(&d)
		s, faults := NewSource(d)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		return s
	}
	known := &state{Handles: map[string]*memory{}}
	m := known.of("tide", of(func(*Description) {}), false)
	known.Handles["tide"] = m
	for quirk, change := range map[string]func(*Description){
		"another address": func(d *Description) { d.URL = "{address}?a=2" }, "another value": func(d *Description) { d.Query = []string{"b=3"} }, "another name": func(d *Description) { d.Query = []string{"c=2"} },
		"no query": func(d *Description) { d.Query = nil }, "another list": func(d *Description) { d.List = "https://example.org/all/{player}" }, "another start": func(d *Description) { d.Start = "2020-02" },
		"no start": func(d *Description) { d.Start = "" },
	} {
		if known.of("tide", of(change), false) == m {
			t.Errorf("%s: what was known is taken", quirk)
		}
	}
	same := of(func(d *Description) { d.Pace, d.Headers, d.ListPath = 9, []string{"X-A: b"}, "a.b" })
	if known.of("tide", same, false) != m || known.of("tide", same, true) == m || known.of("ebb", same, false) == m {
		t.Error("what was known is not taken, or for another handle or in full")
	}
}

// A warning is told once, without a token or what looks like one; none is told of a run that
// failed, or beside another.
func TestWarnings(t *testing.T) {
	r := &run{server: &Server{source: &Source{}, token: "s3cret-word"}, player: Player{Opponent: "alder", Handle: "tide"}}
	for _, text := range []string{"x?apikey=abc and s3cret-word", "x?apikey=abc and s3cret-word", "y"} {
		r.warnOnce(text)
	}
	if !slices.Equal(r.account.Warnings, []string{"x?apikey=*** and ***", "y"}) {
		t.Errorf("%q", r.account.Warnings)
	}
	const none = "the server has no games of tide: is the handle right, and do the parts of the query leave any?"
	for _, c := range []struct {
		account Account
		whole   bool
		want    string
	}{
		{Account{}, true, none}, {Account{}, false, ""}, {Account{Kept: 1}, true, ""}, {Account{Warnings: []string{"x"}}, true, "x"}, {Account{Games: 2, Theirs: 1, Kept: 2}, true, ""},
		{Account{Games: 2, Kept: 2}, false, "none of the 2 games has tide as White or Black: add the name that they have to names of alder"},
	} {
		r.account = c.account
		r.judge(c.whole)
		if got := strings.Join(r.account.Warnings, "|"); got != c.want {
			t.Errorf("%+v: %s, want %s", c.account, got, c.want)
		}
	}
}
