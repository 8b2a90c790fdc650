package web

import (
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/jarcoal/httpmock"
)

// Pages that fail cost themselves, and pages without end have one.

// A month that fails: the others come, the error names it, and the next fetch asks
// for it again and for no closed one.
func TestMonthThatFails(t *testing.T) {
	for _, c := range []struct {
		fault, want string
		handle      http.HandlerFunc
	}{
		{"out of order", "2026-09: the server says 500 Internal Server Error, tried 2 times", status(500)},
		{"web page", "2026-09: it does not look like PGN", func(w http.ResponseWriter, r *http.Request) { say(w, "<html>down") }},
		{"cut", "2026-09: the answer breaks off, tried 2 times", cutAt(tale(250), 50)},
		{"too large", "2026-09: the answer has more than 1 MB", func(w http.ResponseWriter, r *http.Request) { endless(w) }},
	} {
		t.Run(c.fault, func(t *testing.T) {
			broken := true
			site := serve(t, func(w http.ResponseWriter, r *http.Request) {
				month, _ := strconv.Atoi(r.URL.Path[strings.LastIndexByte(r.URL.Path, '/')+1:])
				if month == 9 && broken {
					c.handle(w, r)
					return
				}
				say(w, tale(30*month))
			})
			v := newVisit(t, Description{URL: site.URL + "/{player}/{year}/{month}", Pages: "months", Start: "2026-07", MaxMB: 1})
			v.opt.Patience.Tries = 2
			if a := v.badly(c.want, ""); a.Kept != 4 || a.Reached != "" {
				t.Errorf("%+v", a)
			}
			v.keeps(330, 300, 240, 210)
			broken = false
			site.paths()
			v.well()
			v.keeps(330, 300, 270, 240, 210)
			if got := site.paths(); !slices.Equal(got, []string{"/tidewalker/2026/11", "/tidewalker/2026/09"}) {
				t.Errorf("asked for %q", got)
			}
		})
	}
}

// Three in a row: the server is out of order, and is left alone.
func TestMonthsThatFail(t *testing.T) {
	site := serve(t, status(500))
	v := newVisit(t, Description{URL: site.URL + "/{player}/{year}/{month}", Pages: "months", Start: "2010-01"})
	v.opt.Patience.Tries = 1
	if a := v.badly("2026-11, 2026-10, 2026-09: the server says 500", "has trouble"); a.Requests != 3 {
		t.Errorf("%+v", a)
	}
}

// Every other month fails: a month that came ends the row, so all the others come.
func TestEveryOtherMonthFails(t *testing.T) {
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		month, _ := strconv.Atoi(r.URL.Path[strings.LastIndexByte(r.URL.Path, '/')+1:])
		if month%2 == 1 {
			w.WriteHeader(500)
			return
		}
		say(w, tale(30*month))
	})
	v := newVisit(t, Description{URL: site.URL + "/{player}/{year}/{month}", Pages: "months", Start: "2026-04"})
	v.opt.Patience.Tries = 1
	v.badly("2026-11, 2026-09, 2026-07, 2026-05: the server says 500", "has trouble")
	v.keeps(300, 240, 180, 120)
}

// An error that all pages would meet ends it at once: who may ask, and how often.
func TestMonthRefused(t *testing.T) {
	for code, hint := range map[int]string{401: "token_from", 403: "", 429: ""} {
		site := serve(t, status(code))
		v := newVisit(t, Description{URL: site.URL + "/{player}/{year}/{month}", Pages: "months", Start: "2010-01"})
		v.opt.Patience.Tries = 1
		if a := v.badly(fmt.Sprintf("2026-11: the server says %d", code), hint); a.Requests != 1 {
			t.Errorf("%d: %+v", code, a)
		}
	}
}

// A month that is unchanged has the games it had: it is no month without games, and those
// without are counted from it on.
func TestUnchangedMonthHasItsGames(t *testing.T) {
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		month, _ := strconv.Atoi(r.URL.Path[strings.LastIndexByte(r.URL.Path, '/')+1:])
		w.Header().Set("ETag", fmt.Sprintf("\"%d\"", month))
		switch {
		case r.Header.Get("If-None-Match") != "":
			w.WriteHeader(http.StatusNotModified)
		case month == 11:
			say(w, tale(30*month))
		default:
			say(w, "")
		}
	})
	v := newVisit(t, Description{URL: site.URL + "/{player}/{year}/{month}", Pages: "months", Start: "2026-01", StopAfter: 3})
	v.well()
	v.keeps(330)
	site.paths()
	v.well() // 11 is unchanged and has its game, 10 to 8 are closed: three without
	if got := site.paths(); !slices.Equal(got, []string{"/tidewalker/2026/11"}) {
		t.Errorf("asked for %q", got)
	}
}

// What is no address among others, and an address that fails.
func TestListWithOddEntries(t *testing.T) {
	for _, c := range []struct{ quirk, list, want string }{
		{"null", `["/a", null, "/b"]`, "an entry of the list: addresses are wanted there, not null"},
		{"another scheme", `["/a", "ftp://example.org/x", "/b"]`, "has the address ftp://example.org/x, which is not followed"},
		{"a number and null", `["/a", 1, "/b", null]`, "an entry of the list: addresses are wanted there, not 1; an entry of the list: addresses are wanted there, not null"},
		{"out of order", `["/a", "/broken", "/b"]`, "/broken: the server says 500"},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			list := c.list
			site := serve(t, func(w http.ResponseWriter, r *http.Request) {
				switch r.URL.Path {
				case "/tidewalker":
					say(w, list)
				case "/a":
					say(w, tale(1))
				case "/b":
					say(w, tale(2))
				default:
					w.WriteHeader(500)
				}
			})
			v := newVisit(t, Description{URL: "{address}", Pages: "list", List: site.URL + "/{player}"})
			v.badly(c.want, "")
			v.keeps(1, 2)
			list = `["/a", "/b"]`
			site.paths()
			v.well()
			if got := site.paths(); got[0] != "/tidewalker" {
				t.Errorf("asked for %q", got)
			}
		})
	}
}

func TestLongList(t *testing.T) {
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		say(w, "[")
		for i := range mostPages + 1 {
			fmt.Fprintf(w, "\"/%d\",", i)
		}
		say(w, `"/last"]`)
	})
	v := newVisit(t, Description{URL: "{address}", Pages: "list", List: site.URL + "/{player}"})
	if a := v.badly("the list names 10002 addresses, more than 10000", "the list of one player"); a.Requests != 1 {
		t.Errorf("%+v", a)
	}
}

// A server that numbers its pages without end and turns the same games over.
func TestPagesWithoutEnd(t *testing.T) {
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		n, _ := strconv.Atoi(r.URL.Query().Get("page"))
		say(w, tales(n%2+1, (n+1)%2+1)) // in two orders
	})
	v := newVisit(t, Description{URL: site.URL + "/{player}?page={page}", Pages: "numbers"})
	a := v.well()
	if a.Requests != 4 || len(a.Warnings) != 1 || !strings.Contains(a.Warnings[0], "pages 2 to 4 have only games that came before") {
		t.Errorf("%+v", a)
	}
	v.keeps(1, 2)
}

// Pages that bring nothing new are counted in a row: a new game in between begins anew.
func TestRepeatingPagesWithNewsBetween(t *testing.T) {
	pages := [][]int{{1, 2}, {2, 1}, {1, 2}, {3, 1}, {1, 3}, {3, 1}, {4}, nil}
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		n, _ := strconv.Atoi(r.URL.Query().Get("page"))
		say(w, tales(pages[n-1]...))
	})
	v := newVisit(t, Description{URL: site.URL + "/{player}?page={page}", Pages: "numbers"})
	if a := v.well(); a.Requests != len(pages) || len(a.Warnings) != 0 {
		t.Errorf("%+v", a)
	}
	v.keeps(1, 2, 3, 4)
}

// A server that gives all games for every month.
func TestMonthIgnored(t *testing.T) {
	site := serve(t, func(w http.ResponseWriter, r *http.Request) { say(w, tales(1, 2)) })
	v := newVisit(t, Description{URL: site.URL + "/{player}", Query: []string{"month={year}{month}"}, Pages: "months", Start: "2010-01"})
	for range 2 { // what those months have is not known, so they are asked for again
		if a := v.badly("the months 2026-08 to 2026-10 have no game that did not come with a later one", "do {year} and {month} stand"); a.Requests != 4 {
			t.Errorf("%+v", a)
		}
	}
	v.keeps(1, 2)
}

func TestStartToCome(t *testing.T) {
	v := newVisit(t, Description{URL: "https://example.org/{player}/{year}/{month}", Pages: "months", Start: "2027-01"})
	if a := v.badly("its start, 2027-01, is still to come", "the first month"); a.Requests != 0 {
		t.Errorf("%+v", a)
	}
}

// A page is held against the one before it: one that has not changed since the last run
// stands between two equal ones.
func TestSamePages(t *testing.T) {
	part := filepath.Join(t.TempDir(), "part")
	r := &run{part: part, memory: &memory{}}
	for i, c := range []struct {
		text      string
		unchanged bool
		want      bool
	}{{"a", false, false}, {"b", false, false}, {"b", true, false}, {"b", false, false}, {"b", false, true}} {
		if err := os.WriteFile(part, []byte(c.text), 0o600); err != nil {
			t.Fatal(err)
		}
		if got := r.same(haul{unchanged: c.unchanged}, i+3); got != c.want {
			t.Errorf("page %d: the same as the one before: %v", i+3, got)
		}
	}
}

// The parts of a query are filled, names too; those that need a time to start from are left
// out as long as there is none, and then it is the newest game's, whatever the start.
func TestPartsOfTheQuery(t *testing.T) {
	site := serve(t, func(w http.ResponseWriter, r *http.Request) { say(w, tale(60)) })
	v := newVisit(t, Description{URL: site.URL + "/{player}", Query: []string{"since={from:date}", "until={to:s}", "{player}=1", "a=b=c"}})
	v.well()
	v.source.Start = "2026-02"
	v.well()
	v.well()
	const rest = "until=1795629600&tidewalker=1&a=b=c"
	if got, want := site.paths(), []string{"/tidewalker?" + rest, "/tidewalker?since=2026-02-01&" + rest, "/tidewalker?since=2026-03-01&" + rest}; !slices.Equal(got, want) {
		t.Errorf("asked for %q, want %q", got, want)
	}
}

// A start in this month is none to come.
func TestStartThisMonth(t *testing.T) {
	site := serve(t, func(w http.ResponseWriter, r *http.Request) { say(w, tale(310)) })
	v := newVisit(t, Description{URL: site.URL + "/{player}/{year}/{month}", Pages: "months", Start: "2026-11"})
	if a := v.well(); a.Requests != 1 || a.New != 1 {
		t.Errorf("%+v", a)
	}
}

// Which page is told of while it is asked for: none where there is but one, else the month
// or the number.
func TestPageOfProgress(t *testing.T) {
	for _, c := range []struct {
		pages, path string
		want        []string
	}{{"single", "", []string{""}}, {"months", "/{year}/{month}", []string{"2026-11", "2026-10"}}, {"numbers", "/{page}", []string{"1", "2"}}} {
		v, transport := mock(t)
		v.source.URL += c.path
		if v.source.Pages = c.pages; c.pages == "months" {
			v.source.Start = "2026-10"
		}
		requests := 0
		transport.RegisterNoResponder(func(*http.Request) (*http.Response, error) {
			if requests++; requests > 1 {
				return httpmock.NewStringResponse(200, ""), nil
			}
			return httpmock.NewStringResponse(200, tale(310)), nil
		})
		var told []string
		v.opt.Progress = func(p Progress) { told = append(told, p.Page) }
		v.well()
		if got := slices.Compact(told); !slices.Equal(got, c.want) {
			t.Errorf("%s: told of %q, want %q", c.pages, got, c.want)
		}
	}
}

// A month that has not changed is closed when it is over, as one is that came anew.
func TestUnchangedMonthCloses(t *testing.T) {
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("ETag", `"1"`)
		if r.Header.Get("If-None-Match") != "" {
			w.WriteHeader(http.StatusNotModified)
			return
		}
		say(w, tale(310+len(r.URL.Path)+int(r.URL.Path[len(r.URL.Path)-1]-'0')))
	})
	v := newVisit(t, Description{URL: site.URL + "/{player}/{year}/{month}", Pages: "months", Start: "2026-11"})
	for _, step := range []struct {
		day  int // of November
		want []string
	}{{25, []string{"/tidewalker/2026/11"}}, {34, []string{"/tidewalker/2026/12", "/tidewalker/2026/11"}}, {35, []string{"/tidewalker/2026/12"}}} {
		v.opt.Today = time.Date(2026, 11, step.day, 18, 0, 0, 0, time.UTC)
		v.clock.now = v.opt.Today
		v.well()
		if got := site.paths(); !slices.Equal(got, step.want) {
			t.Errorf("day %d: asked for %q, want %q", step.day, got, step.want)
		}
	}
}

// A page that was given up, or had half a game at its end, is asked for again; one that is
// missing too, and the account says where it ended.
func TestHalfPageIsAskedForAgain(t *testing.T) {
	texts := map[string]string{"/tidewalker/2026/11": tale(310), "/tidewalker/2026/10": tale(280) + bare(281), "/tidewalker/2026/09": tale(250)}
	site := serve(t, func(w http.ResponseWriter, r *http.Request) { say(w, texts[r.URL.Path]) })
	v := newVisit(t, Description{URL: site.URL + "/{player}/{year}/{month}", Pages: "months", Start: "2026-09"})
	v.badly("2026-10: the answer breaks off in the middle of its last game", "run foreply fetch again; what came is kept")
	v.keeps(310, 280, 250)
	texts["/tidewalker/2026/10"] = tales(280, 281)
	site.paths()
	v.well()
	if got := site.paths(); !slices.Equal(got, []string{"/tidewalker/2026/11", "/tidewalker/2026/10"}) {
		t.Errorf("asked for %q", got)
	}
	v.keeps(310, 280, 281, 250)
}

// Pages with the newest games first, the first of which has not changed, have nothing new.
func TestUnchangedFirstPage(t *testing.T) {
	games := []int{5, 4, 3, 2, 1}
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		n, _ := strconv.Atoi(r.URL.Query().Get("page"))
		page := games[min(len(games), 2*n-2):min(len(games), 2*n)]
		w.Header().Set("ETag", fmt.Sprint(page))
		if r.Header.Get("If-None-Match") == fmt.Sprint(page) {
			w.WriteHeader(http.StatusNotModified)
			return
		}
		say(w, tales(page...))
	})
	v := newVisit(t, Description{URL: site.URL + "/{player}?page={page}", Pages: "numbers"})
	for _, requests := range []int{4, 1, 2, 1} {
		if a := v.well(); a.Requests != requests {
			t.Errorf("%d games: %d requests, want %d", len(games), a.Requests, requests)
		}
		if requests == 1 {
			games = []int{7, 6, 5, 4, 3, 2, 1} // by a whole page more
		}
	}
	v.keeps(upTo(7)...)
}

// Where the asking for one answer ended early is told if it broke off, and not of a refusal.
func TestReachedInOneAnswer(t *testing.T) {
	for _, c := range []struct {
		handle http.HandlerFunc
		want   string
	}{{cutAt(tale(1), 40), "in the middle of the answer"}, {status(403), ""}, {func(w http.ResponseWriter, r *http.Request) { say(w, "<html>") }, ""}} {
		v := newVisit(t, Description{URL: serve(t, c.handle).URL + "/{player}"})
		v.opt.Patience.Tries = 1
		if a := v.badly("", ""); a.Reached != c.want {
			t.Errorf("%q, want %q", a.Reached, c.want)
		}
	}
}

// A second handle of somebody whose games are kept: months that are missing for it say
// nothing, and are asked for again.
func TestMonthsOfASecondHandle(t *testing.T) {
	there := false
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		switch {
		case r.URL.Path == "/tidewalker/2026/11":
			say(w, tale(310))
		case r.URL.Path == "/tide/2026/10" && there:
			say(w, tale(280))
		default:
			http.NotFound(w, r)
		}
	})
	v := newVisit(t, Description{URL: site.URL + "/{player}/{year}/{month}", Pages: "months", Start: "2020-01", StopAfter: 3})
	v.well()
	v.player.Handle, v.player.Who.Names = "tide", []string{"tide", "tidewalker"}
	if a := v.well(); a.Requests != 3 || a.Kept != 1 {
		t.Errorf("%+v", a)
	}
	there = true
	v.well()
	v.keeps(310, 280)
}

// A month that failed is reached again behind months whose games are known and that are not
// asked for; one that is missing while it is open is asked for again.
func TestMonthsBehindClosedOnes(t *testing.T) {
	games, broken := map[string]string{"10": tale(280), "07": tale(190), "06": tale(160)}, true
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		month := r.URL.Path[len(r.URL.Path)-2:]
		switch {
		case month == "06" && broken:
			w.WriteHeader(500)
		case games[month] == "":
			http.NotFound(w, r)
		default:
			say(w, games[month])
		}
	})
	v := newVisit(t, Description{URL: site.URL + "/{player}/{year}/{month}", Pages: "months", Start: "2026-05", StopAfter: 3})
	v.opt.Patience.Tries = 1
	v.badly("2026-06: the server says 500", "")
	v.keeps(280, 190)
	broken, games["11"] = false, tale(310)
	site.paths()
	v.well()
	if got := site.paths(); !slices.Equal(got, []string{"/tidewalker/2026/11", "/tidewalker/2026/06"}) {
		t.Errorf("asked for %q", got)
	}
	v.keeps(310, 280, 190, 160)
}

// Numbered pages: a missing first one is a refusal, a later one the end; an error names its
// page, and pages that failed are told however it ends.
func TestEndsOfNumberedPages(t *testing.T) {
	for _, c := range []struct {
		quirk         string
		pages         []string // games, or a status
		want, reached string
		requests      int
	}{
		{"no page", []string{"404"}, "the server says 404 Not Found", "", 1},
		{"no second page", []string{"1", "404"}, "<nil>", "", 2},
		{"an empty one", []string{"1", "2", ""}, "<nil>", "", 3},
		{"refused", []string{"1", "2", "401"}, "page 3: the server says 401 Unauthorized", "on page 3", 3},
		{"a failure, then the end", []string{"1", "500", "2", "404"}, "page 2: the server says 500 Internal Server Error, tried once", "", 4},
		{"a failure, then refused", []string{"1", "500", "2", "403"}, "page 2: the server says 500 Internal Server Error, tried once; page 4: the server says 403 Forbidden", "on page 4", 4},
		{"three failures in a row", []string{"1", "500", "500", "500"}, "page 2, page 3, page 4: the server says 500 Internal Server Error, tried once", "on page 4", 4},
		{"a failure, then the same games", []string{"12", "500", "21", "12", "21"}, "page 2: the server says 500 Internal Server Error, tried once", "", 5},
	} {
		site := serve(t, func(w http.ResponseWriter, r *http.Request) {
			n, _ := strconv.Atoi(r.URL.Query().Get("page"))
			page := c.pages[n-1]
			if code, _ := strconv.Atoi(page); code >= 400 {
				w.WriteHeader(code)
				return
			}
			for _, game := range page {
				say(w, tale(int(game-'0')))
			}
		})
		v := newVisit(t, Description{URL: site.URL + "/{player}?page={page}", Pages: "numbers"})
		v.opt.Patience.Tries = 1
		if a, err := v.fetch(); fmt.Sprint(err) != c.want || a.Reached != c.reached || a.Requests != c.requests {
			t.Errorf("%s: %v, want %s; %+v", c.quirk, err, c.want, a)
		}
	}
}

// Pages of games since a moment, newest first: the next run asks from the newest of all pages,
// less a day; a game of a day to come, or older ones, don't change that.
func TestNewestOfAllPages(t *testing.T) {
	pages := [][]int{{60, 59}, {58, 57}}
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		if n, _ := strconv.Atoi(r.URL.Query().Get("page")); n <= len(pages) {
			say(w, tales(pages[n-1]...))
		}
	})
	v := newVisit(t, Description{URL: site.URL + "/{player}?page={page}", Query: []string{"since={from:date}"}, Pages: "numbers"})
	for _, c := range []struct {
		pages [][]int
		since string // what is asked for in the run after
	}{{pages, "2026-03-01"}, {[][]int{{50}}, "2026-03-01"}, {[][]int{{1000}}, "2026-11-24"}} {
		pages = c.pages
		v.well()
		site.paths()
		pages = nil
		v.well()
		if got := site.paths()[0]; got != "/tidewalker?page=1&since="+c.since {
			t.Errorf("asked for %s, want %s", got, c.since)
		}
	}
}
