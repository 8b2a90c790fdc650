package web

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
)

// A stream of all games since a moment. The second time it is asked only for
// what is newer than the newest game, less a day.
func TestStream(t *testing.T) {
	games := upTo(40)
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		since := time.Time{}
		if ms, err := strconv.ParseInt(r.URL.Query().Get("since"), 10, 64); err == nil {
			since = time.UnixMilli(ms)
		}
		for _, n := range games {
			if !began(headerOf(tale(n))).Before(since) {
				say(w, tale(n))
			}
		}
	})
	v := newVisit(t, Description{URL: site.URL + "/games/{player}?color=white", Query: []string{"since={from:ms}"}})
	if a := v.well(); a.Requests != 1 || a.New != 40 || a.Theirs != 40 || a.Kept != 40 || a.Bytes != int64(len(tales(games...))) {
		t.Errorf("%+v", a)
	}
	games = upTo(41)
	if a := v.well(); a.Requests != 1 || a.New != 1 || a.Games != 2 || a.Kept != 41 {
		t.Errorf("%+v", a)
	}
	v.keeps(upTo(41)...)
	day := time.Date(2026, 2, 9, 12, 0, 40, 0, time.UTC) // of game 40, less a day
	want := []string{"/games/tidewalker?color=white", fmt.Sprintf("/games/tidewalker?color=white&since=%d", day.UnixMilli())}
	if got := site.paths(); !slices.Equal(got, want) {
		t.Errorf("asked for %q, want %q", got, want)
	}
	v.opt.Full = true
	if a := v.well(); a.Games != 41 || a.New != 0 {
		t.Errorf("full: %+v", a)
	}
	games = upTo(3) // the server forgets
	if a := v.well(); a.Games != 3 || a.Kept != 41 {
		t.Errorf("%+v", a)
	}
	v.keeps(upTo(41)...)
}

// The first time games are asked for from the first day of the start's month on.
func TestStreamFromAStart(t *testing.T) {
	site := serve(t, func(w http.ResponseWriter, r *http.Request) { say(w, tale(1)) })
	v := newVisit(t, Description{URL: site.URL + "/{player}", Query: []string{"since={from:date}"}, Start: "2020-03"})
	v.well()
	if got := site.paths(); !slices.Equal(got, []string{"/tidewalker?since=2020-03-01"}) {
		t.Errorf("asked for %q", got)
	}
}

// A page for each month, missing where there were no games.
func TestMonths(t *testing.T) {
	games := map[string][]int{"2026/11": {310}, "2026/10": {280, 290}, "2026/03": {70, 80}, "2025/01": {-350}}
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		month := strings.TrimPrefix(r.URL.Path, "/tidewalker/")
		if list := games[month]; list != nil {
			say(w, tales(list...))
			return
		}
		http.NotFound(w, r)
	})
	v := newVisit(t, Description{URL: site.URL + "/{player}/{year}/{month}", Pages: "months", Start: "2015-01"})
	if a := v.well(); a.New != 5 {
		t.Errorf("%+v", a)
	}
	v.keeps(310, 280, 290, 70, 80)
	got := site.paths() // 2026-11 down to 2026-03, and twelve months without
	if len(got) != 9+12 || got[0] != "/tidewalker/2026/11" || got[20] != "/tidewalker/2025/03" {
		t.Errorf("asked for %q", got)
	}
	games["2026/11"] = append(games["2026/11"], 311)
	if a := v.well(); a.New != 1 || a.Requests != 1 {
		t.Errorf("%+v", a)
	}
	v.source.StopAfter = 24 // looks further back, and asks for no closed month again
	if a := v.well(); a.New != 1 {
		t.Errorf("%+v", a)
	}
	v.keeps(310, 311, 280, 290, 70, 80, -350)
	if got := site.paths(); slices.Contains(got, "/tidewalker/2026/10") || !slices.Contains(got, "/tidewalker/2025/01") {
		t.Errorf("asked for %q", got)
	}
}

// A month just over may still get games; two days later it is closed.
func TestMonthsAtTheTurn(t *testing.T) {
	site := serve(t, func(w http.ResponseWriter, r *http.Request) { say(w, tale(len(r.URL.Path))) })
	v := newVisit(t, Description{URL: site.URL + "/{player}/{year}/{month:plain}", Pages: "months", Start: "2026-09"})
	for _, step := range []struct {
		day  string
		want string
	}{
		{"2026-11-30T23:00:00Z", "11 10 9"},
		{"2026-12-01T01:00:00Z", "12 11"},
		{"2026-12-02T23:59:00Z", "12 11"},
		{"2026-12-03T00:00:00Z", "12 11"}, // closed from here on
		{"2026-12-04T00:00:00Z", "12"},
	} {
		v.opt.Today, _ = time.Parse(time.RFC3339, step.day)
		v.clock.now = v.opt.Today
		v.well()
		var got []string
		for _, path := range site.paths() {
			got = append(got, path[strings.LastIndexByte(path, '/')+1:])
		}
		if strings.Join(got, " ") != step.want {
			t.Errorf("%s: asked for %q, want %q", step.day, got, step.want)
		}
	}
}

// A day to come closes no month that is still open.
func TestMonthsOfADayToCome(t *testing.T) {
	games := []int{310}
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/tidewalker/2026/11" {
			say(w, tales(games...))
		}
	})
	v := newVisit(t, Description{URL: site.URL + "/{player}/{year}/{month}", Pages: "months", Start: "2026-10"})
	v.opt.Today = today.AddDate(1, 0, 0)
	v.well()
	v.opt.Today, games = today, []int{310, 311}
	v.well()
	v.keeps(310, 311)
}

// Somebody who has not played lately: empty pages don't end the search, missing
// ones do, with advice.
func TestMonthsOfAPause(t *testing.T) {
	for _, c := range []struct {
		quirk  string
		status int
		want   string
	}{
		{"empty pages", 200, ""},
		{"missing pages", 404, "there are no games in the last 12 months: the server says 404 Not Found"},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			site := serve(t, func(w http.ResponseWriter, r *http.Request) {
				if strings.HasSuffix(r.URL.Path, "/2024/05") {
					say(w, tale(1))
					return
				}
				w.WriteHeader(c.status)
			})
			v := newVisit(t, Description{URL: site.URL + "/{player}/{year}/{month}", Pages: "months", Start: "2024-01"})
			if c.want == "" {
				v.well()
				v.keeps(1)
				return
			}
			for range 2 { // the second time too: nothing is known of such a handle
				if a := v.badly(c.want, "is the handle tidewalker right?"); a.Requests != 12 {
					t.Errorf("%+v", a)
				}
			}
		})
	}
}

// Numbered pages, newest games first or last.
func TestNumbers(t *testing.T) {
	for _, c := range []struct {
		quirk       string
		newestFirst bool
		again       []string // what is asked for when there is one game more
	}{
		{"newest first", true, []string{"1", "2"}},
		{"oldest first", false, []string{"1", "2", "3", "4"}},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			games := upTo(5)
			site := serve(t, func(w http.ResponseWriter, r *http.Request) {
				list := slices.Clone(games)
				if c.newestFirst {
					slices.Reverse(list)
				}
				n, _ := strconv.Atoi(r.URL.Query().Get("page"))
				say(w, tales(list[min(len(list), 2*n-2):min(len(list), 2*n)]...))
			})
			v := newVisit(t, Description{URL: site.URL + "/{player}?page={page}", Pages: "numbers"})
			if a := v.well(); a.New != 5 || a.Requests != 4 {
				t.Errorf("%+v", a)
			}
			site.paths()
			games = upTo(6)
			if a := v.well(); a.New != 1 {
				t.Errorf("%+v", a)
			}
			var got []string
			for _, path := range site.paths() {
				got = append(got, path[strings.LastIndexByte(path, '=')+1:])
			}
			if !slices.Equal(got, c.again) {
				t.Errorf("asked for pages %q, want %q", got, c.again)
			}
			v.keeps(upTo(6)...)
		})
	}
}

// A run that ended early must not let the next one stop at the first page that
// is known.
func TestNumbersAfterAFailedRun(t *testing.T) {
	games, fail := []int{2, 1}, ""
	site := numbered(t, &games, &fail)
	v := newVisit(t, Description{URL: site.URL + "/{player}?page={page}", Pages: "numbers"})
	v.well()
	games, fail = []int{8, 7, 6, 5, 4, 3, 2, 1}, "2"
	v.badly("418", "")
	v.keeps(8, 7, 4, 3, 2, 1) // page 2 costs itself
	fail = ""
	v.well()
	v.keeps(upTo(8)...)
}

// Nor may it be asked only for what is newer than what came: the rest is older.
func TestNumbersSinceAfterAFailedRun(t *testing.T) {
	games, fail := []int{8, 7, 6, 5, 4, 3, 2, 1}, "2"
	site := numbered(t, &games, &fail)
	v := newVisit(t, Description{URL: site.URL + "/{player}?page={page}", Query: []string{"since={from:date}"}, Pages: "numbers"})
	v.badly("418", "")
	fail = ""
	site.paths()
	v.well()
	if got := site.paths()[0]; got != "/tidewalker?page=1" {
		t.Errorf("asked for %s", got)
	}
	v.keeps(upTo(8)...)
}

func TestNumbersThatMeanNothing(t *testing.T) {
	site := serve(t, func(w http.ResponseWriter, r *http.Request) { say(w, tales(2, 1)) })
	v := newVisit(t, Description{URL: site.URL + "/{player}?p={page:0}", Pages: "numbers"})
	a := v.well()
	if a.Requests != 2 || len(a.Warnings) != 1 || !strings.Contains(a.Warnings[0], "{page}") {
		t.Errorf("%+v", a)
	}
	if got := site.paths(); got[0] != "/tidewalker?p=0" {
		t.Errorf("asked for %q", got)
	}
	v.keeps(1, 2)
}

// A list of monthly addresses. While this month is in it, it need not be asked
// for again.
func TestList(t *testing.T) {
	games := map[string][]int{"2026/09": {250}, "2026/10": {280, 290}}
	months := []string{"2026/09", "2026/10"}
	site := serve(t, nil)
	site.Config.Handler = site.noting(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/player/tidewalker/archives" {
			w.Header().Set("Content-Type", "application/json")
			var addresses []string
			for i, m := range months {
				base := site.URL
				if i == 0 {
					base = "" // relative to the list
				}
				addresses = append(addresses, fmt.Sprintf("{\"url\": %q}", base+"/player/tidewalker/games/"+m))
			}
			fmt.Fprintf(w, `{"data": {"archives": [%s]}}`, strings.Join(addresses, ", "))
			return
		}
		month := strings.TrimSuffix(strings.TrimPrefix(r.URL.Path, "/player/tidewalker/games/"), "/pgn")
		say(w, tales(games[month]...))
	})
	v := newVisit(t, Description{URL: "{address}/pgn", Pages: "list",
		List: site.URL + "/player/{player}/archives", ListPath: "data.archives.url"})
	expect := func(want ...string) {
		t.Helper()
		var got []string
		for _, path := range site.paths() {
			got = append(got, strings.TrimPrefix(path, "/player/tidewalker/"))
		}
		if !slices.Equal(got, want) {
			t.Errorf("asked for %q, want %q", got, want)
		}
	}
	if a := v.well(); a.New != 3 || a.Requests != 3 {
		t.Errorf("%+v", a)
	}
	expect("archives", "games/2026/10/pgn", "games/2026/09/pgn")
	v.well()
	expect("archives") // no game this month, and all others are closed
	months, games["2026/11"] = append(months, "2026/11"), []int{310}
	v.well()
	expect("archives", "games/2026/11/pgn")
	games["2026/11"] = []int{310, 311}
	if a := v.well(); a.New != 1 || a.Requests != 1 {
		t.Errorf("%+v", a)
	}
	expect("games/2026/11/pgn")
	v.keeps(250, 280, 290, 310, 311)
	v.opt.Today = today.AddDate(0, 1, 0)
	v.clock.now = v.opt.Today
	v.well()
	expect("archives", "games/2026/11/pgn")
}

// Of a list of months those from the start on are asked for, that of the start among them.
func TestListFromAStart(t *testing.T) {
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/tidewalker" {
			say(w, `["/2026/09", "/2026/10", "/2026/11"]`)
			return
		}
		say(w, tale(len(r.URL.Path)+int(r.URL.Path[len(r.URL.Path)-1])))
	})
	v := newVisit(t, Description{URL: "{address}", Pages: "list", List: site.URL + "/{player}", Start: "2026-10"})
	v.well()
	if got := site.paths(); !slices.Equal(got, []string{"/tidewalker", "/2026/11", "/2026/10"}) {
		t.Errorf("asked for %q", got)
	}
}

// Addresses without months are asked for each time, whatever the start.
func TestListWithoutMonths(t *testing.T) {
	games := []int{1}
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/tidewalker" {
			say(w, `["/blitz", "/rapid"]`)
			return
		}
		say(w, tales(games...))
	})
	v := newVisit(t, Description{URL: "{address}", Pages: "list", List: site.URL + "/{player}", Start: "2020-01"})
	for range 2 {
		v.well()
		if got := site.paths(); !slices.Equal(got, []string{"/tidewalker", "/blitz", "/rapid"}) {
			t.Errorf("asked for %q", got)
		}
		v.keeps(games...)
		games = []int{1, 2}
	}
}

// Two handles of one opponent at one source go to one file, each with a memory of
// its own.
func TestTwoHandles(t *testing.T) {
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		say(w, map[string]string{"/tidewalker": tales(1, 2), "/tide": tales(2, 3)}[r.URL.Path])
	})
	v := newVisit(t, Description{URL: site.URL + "/{player}"})
	v.well()
	v.player.Handle = "tide"
	if a := v.well(); a.New != 1 || a.Kept != 3 {
		t.Errorf("%+v", a)
	}
	v.keeps(1, 2, 3)
}

func TestNoneOfTheGamesIsTheirs(t *testing.T) {
	site := serve(t, func(w http.ResponseWriter, r *http.Request) { say(w, tales(1, 2)) })
	v := newVisit(t, Description{URL: site.URL + "/{player}"})
	v.player.Who.Names = []string{"somebody else"}
	if a := v.well(); a.Theirs != 0 || len(a.Warnings) != 1 || !strings.Contains(a.Warnings[0], "none of the 2 games") {
		t.Errorf("%+v", a)
	}
	v.keeps(1, 2)
}
