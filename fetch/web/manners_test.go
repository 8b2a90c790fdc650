package web

import (
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"
)

// What a server is not bothered with: answers that have not changed, haste, and
// questions that are only planned.

// With an ETag or a date, what has not changed is not sent again.
func TestUnchanged(t *testing.T) {
	for _, c := range []struct{ quirk, header, value, asks string }{
		{"ETag", "ETag", `"v1"`, "If-None-Match"},
		{"date", "Last-Modified", "Wed, 25 Nov 2015 10:00:00 GMT", "If-Modified-Since"},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			site := serve(t, func(w http.ResponseWriter, r *http.Request) {
				if r.Header.Get(c.asks) == c.value {
					w.WriteHeader(http.StatusNotModified)
					return
				}
				w.Header().Set(c.header, c.value)
				say(w, tales(1, 2))
			})
			v := newVisit(t, Description{URL: site.URL + "/{player}.pgn"})
			if a := v.well(); a.New != 2 {
				t.Errorf("%+v", a)
			}
			if a := v.well(); a.Requests != 1 || a.Bytes != 0 || a.Games != 0 || a.Kept != 2 {
				t.Errorf("%+v", a)
			}
			v.source.URL += "?color=white" // another question
			if a := v.well(); a.Games != 2 || a.New != 0 {
				t.Errorf("%+v", a)
			}
			v.keeps(1, 2)
		})
	}
}

// A date of a moment ago says nothing: the file may have changed again within the
// second.
func TestJustModified(t *testing.T) {
	for _, c := range []struct{ quirk, modified, sent string }{
		{"a second ago", "Wed, 25 Nov 2026 10:00:00 GMT", "Wed, 25 Nov 2026 10:00:01 GMT"},
		{"to come", "Wed, 25 Nov 2026 10:00:00 GMT", "Wed, 25 Nov 2026 09:00:00 GMT"},
		{"no date", "yesterday", "Wed, 25 Nov 2026 10:00:01 GMT"},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			site := serve(t, func(w http.ResponseWriter, r *http.Request) {
				if r.Header.Get("If-Modified-Since") != "" {
					t.Error("asked with the date")
				}
				w.Header().Set("Last-Modified", c.modified)
				w.Header().Set("Date", c.sent)
				say(w, tales(1, 2))
			})
			v := newVisit(t, Description{URL: site.URL + "/{player}.pgn"})
			v.well()
			v.well()
			v.keeps(1, 2)
		})
	}
}

// Requests keep their distance, those of several players and redirects, too.
func TestPace(t *testing.T) {
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/games/tidewalker" {
			http.Redirect(w, r, "/moved", http.StatusFound)
			return
		}
		say(w, tale(1))
	})
	v := newVisit(t, Description{URL: site.URL + "/games/{player}", Pace: 2.5})
	server := v.makeServer()
	for _, opponent := range []string{"one", "two"} {
		v.player.Opponent = opponent
		if _, err := server.Fetch(t.Context(), v.store, v.player); err != nil {
			t.Fatal(err)
		}
	}
	if want := []time.Duration{2500 * time.Millisecond, 2500 * time.Millisecond, 2500 * time.Millisecond}; !slices.Equal(v.clock.slept, want) {
		t.Errorf("slept %v, want %v", v.clock.slept, want)
	}
}

// Two sources at one host keep their distance, too.
func TestPaceOfAHost(t *testing.T) {
	site := serve(t, func(w http.ResponseWriter, r *http.Request) { say(w, tale(1)) })
	v := newVisit(t, Description{URL: site.URL + "/{player}"})
	v.opt.Asked = map[string]time.Time{}
	v.well()
	v.well() // by a server of its own
	if want := []time.Duration{time.Second}; !slices.Equal(v.clock.slept, want) {
		t.Errorf("slept %v, want %v", v.clock.slept, want)
	}
}

func TestPlan(t *testing.T) {
	v := newVisit(t, Description{URL: "https://example.org/{player}/{year}-{month}?key={token}", TokenFrom: "EXAMPLE_TOKEN",
		Pages: "months", Start: "2026-10"})
	v.opt.Token = "s3cret/+"
	v.player.Handle = "slow pawn/88"
	plan := v.makeServer().Plan(v.store, v.player)
	want := []Planned{
		{"https://example.org/slow%20pawn%2F88/2026-11?key=***", ""},
		{"https://example.org/slow%20pawn%2F88/2026-10?key=***", "up to 2 requests, 2 seconds; fewer, if 12 months in a row have no games"},
	}
	if !slices.Equal(plan, want) {
		t.Errorf("%q, want %q", plan, want)
	}
	v.opt.Token = "pawn" // stands in the handle, too
	if plan := v.makeServer().Plan(v.store, v.player); !slices.Equal(plan, want) {
		t.Errorf("%q, want %q", plan, want)
	}
	v.source.Start, v.source.Pace = "2016-01", 2.5
	if n, takes := v.makeServer().Expect(v.store, v.player); n != 131 || takes != 131*2500*time.Millisecond {
		t.Errorf("expects %d requests, %v", n, takes)
	}
}

// What is planned of months that are known, of numbers and of one answer; and how many requests
// are expected.
func TestPlans(t *testing.T) {
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/tidewalker/2026/11" || r.URL.Path == "/tidewalker/1" {
			say(w, tale(310))
		}
	})
	for _, c := range []struct {
		pages, path   string
		before, after string // a run
		n, then       int
	}{
		{"months", "/{year}/{month}", "/2026/11 /2026/10 /2026/09 (up to 3 requests, 3 seconds; fewer, if 12 months in a row have no games)", "/2026/11", 3, 1},
		{"numbers", "/{page}", "/1 (and so on, one in 1s, until a page is empty)", "/1 (and so on, one in 1s, until a page is empty)", 0, 0},
		{"single", "", "", "", 0, 0},
	} {
		v := newVisit(t, Description{URL: site.URL + "/{player}" + c.path, Pages: c.pages})
		if c.pages == "months" {
			v.source.Start = "2026-09"
		}
		plan := func(want string, requests int) {
			t.Helper()
			var got []string
			for _, p := range v.makeServer().Plan(v.store, v.player) {
				line := strings.TrimPrefix(p.URL, site.URL+"/tidewalker")
				if p.Note != "" {
					line += " (" + p.Note + ")"
				}
				got = append(got, line)
			}
			n, takes := v.makeServer().Expect(v.store, v.player)
			if strings.Join(got, " ") != want || n != requests || takes != time.Duration(n)*time.Second {
				t.Errorf("%s: %q, want %q; %d requests, %v", c.pages, got, want, n, takes)
			}
		}
		plan(c.before, c.n)
		v.well()
		plan(c.after, c.then)
		v.opt.Full = true
		plan(c.before, c.n)
	}
	v := newVisit(t, Description{URL: site.URL + "/{player}/{year}/{month}", Pages: "months", Start: "2026-11"})
	if plan := v.makeServer().Plan(v.store, v.player); len(plan) != 1 || plan[0].Note != "1 request; fewer, if 12 months in a row have no games" {
		t.Errorf("%+v", plan)
	}
}
