package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"foreply/fetch/pgn"
)

// The games of an answer: which are kept, how they are counted, what is told of them.

// bare is a game without its result at the end.
func bare(n int) string { return strings.Replace(tale(n), "Be7 1-0", "Be7", 1) }

// The last game of an answer is taken for half a one if it has no result while at least
// half of the others have one, or if the answer was cut.
func TestLastGameWithoutAResult(t *testing.T) {
	const half = "the answer breaks off in the middle of its last game"
	for _, c := range []struct {
		quirk, text, want string
		kept              int
	}{
		{"one of two has none", tale(1) + bare(2) + bare(3), half, 2},
		{"two of three have none", tale(1) + bare(2) + bare(3) + bare(4), "", 4},
		{"one of three has none", tale(1) + tale(2) + bare(3) + bare(4), half, 3},
		{"alone", bare(1), half, 0},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			site := serve(t, func(w http.ResponseWriter, r *http.Request) { say(w, c.text) })
			v := newVisit(t, Description{URL: site.URL + "/{player}"})
			a, err := v.fetch()
			if fmt.Sprint(err) != map[bool]string{true: "<nil>", false: c.want}[c.want == ""] || a.Kept != c.kept {
				t.Errorf("%v, %+v", err, a)
			}
		})
	}
	site := serve(t, cutAt(bare(1)+bare(2)+bare(3), len(bare(1)+bare(2)+bare(3))))
	v := newVisit(t, Description{URL: site.URL + "/{player}"})
	if a := v.badly("breaks off", ""); a.Kept != 2 {
		t.Errorf("cut: %+v", a)
	}
}

// interrupting is a body that hands out a text, ends the context and fails.
type interrupting struct {
	text string
	end  func()
}

func (b *interrupting) Read(p []byte) (int, error) {
	if b.text == "" {
		b.end()
		return 0, context.Canceled
	}
	n := copy(p, b.text)
	b.text = b.text[n:]
	return n, nil
}

func (b *interrupting) Close() error { return nil }

// Interrupted while an answer comes: the whole games of it are kept.
func TestInterruptedInAnAnswer(t *testing.T) {
	v, transport := mock(t)
	ctx, cancel := context.WithCancelCause(t.Context())
	cause := errors.New("enough")
	transport.RegisterResponder("GET", mocked, func(r *http.Request) (*http.Response, error) {
		return &http.Response{StatusCode: 200, Body: &interrupting{tales(1, 2, 3, 4, 5)[:len(tales(1, 2, 3, 4))+60], func() { cancel(cause) }}}, nil
	})
	a, err := v.makeServer().Fetch(ctx, v.store, v.player)
	if err != cause || a.Games != 4 || a.New != 2 || a.Kept != 4 || a.Reached != "in the middle of the answer" {
		t.Errorf("%v, %+v", err, a)
	}
	v.keeps(1, 2, 3, 4)
}

// Games of either colour are theirs; the problems of each game, and of the text between,
// are told with the page they stand on.
func TestAccountOfAnAnswer(t *testing.T) {
	black := strings.NewReplacer(`"tidewalker"`, `"somebody"`, `"rival2"`, `"Tidewalker"`).Replace(tale(2))
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		switch r.URL.Query().Get("page") {
		case "1":
			say(w, tale(1)+black+strings.ReplaceAll(tale(3), "tidewalker", "somebody"))
		case "2":
			say(w, "what is this\n\n"+tale(4)+strings.Replace(tale(5), "2. Nf3", "2. {never closed Nf3", 1)+tale(6))
		}
	})
	v := newVisit(t, Description{URL: site.URL + "/{player}?page={page}", Pages: "numbers"})
	a := v.well()
	if a.Games != 6 || a.Theirs != 5 || a.New != 6 || a.Kept != 6 || len(a.Warnings) != 0 {
		t.Errorf("%+v", a)
	}
	var kinds []pgn.Kind
	for _, p := range a.Problems {
		if kinds = append(kinds, p.Kind); p.Source != "site" || p.File != site.URL+"/tidewalker?page=2" {
			t.Errorf("%+v", p)
		}
	}
	if !slices.Contains(kinds, pgn.OpenComment) || len(kinds) < 2 {
		t.Errorf("%q", kinds)
	}
}

// A thousand problems are told, of one page or of several.
func TestMostProblems(t *testing.T) {
	many := make([]pgn.Problem, 600)
	h := haul{}
	h.note(many)
	if h.note(many); len(h.problems) != 1000 {
		t.Errorf("%d of one page", len(h.problems))
	}
	r := &run{}
	for range 3 {
		r.count(&haul{games: 2, theirs: 1, problems: many})
	}
	if a := r.account; a.Games != 6 || a.Theirs != 3 || len(a.Problems) != 1000 {
		t.Errorf("%d games, %d theirs, %d problems", a.Games, a.Theirs, len(a.Problems))
	}
}

// Pages that turn the same games over with other blank lines between bring nothing new.
func TestPagesThatDifferByBlanks(t *testing.T) {
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		n, _ := strconv.Atoi(r.URL.Query().Get("page"))
		say(w, tale(2)+strings.Repeat("\n", n)+tale(1))
	})
	v := newVisit(t, Description{URL: site.URL + "/{player}?page={page}", Pages: "numbers"})
	if a := v.well(); a.Requests != 1+mostStale || len(a.Warnings) != 1 {
		t.Errorf("%+v", a)
	}
}

// The order of games in time: which of them is the newest, and whether it is one order.
func TestSequence(t *testing.T) {
	at := func(day int) time.Time { return time.Date(2026, 1, day, 0, 0, 0, 0, time.UTC) }
	for _, c := range []struct {
		days                     []int // 0: not known
		newestFirst, oldestFirst bool
		newest                   int
	}{
		{nil, false, false, 0}, {[]int{5}, false, false, 5}, {[]int{5, 5}, false, false, 5}, {[]int{5, 5, 4}, true, false, 5}, {[]int{5, 0, 4}, true, false, 5},
		{[]int{4, 6, 5}, false, false, 6}, {[]int{1, 2, 3, 4, 5, 6, 7, 8, 9}, false, false, 9}, {[]int{1, 2, 3, 4, 5, 6, 7, 8, 9, 9}, false, true, 9},
		{[]int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 9}, false, false, 10}, {[]int{1, 1, 1, 1, 1, 1, 1, 1, 1, 1}, false, false, 1},
	} {
		var s sequence
		for _, day := range c.days {
			if day == 0 {
				s.see(time.Time{})
			} else {
				s.see(at(day))
			}
		}
		newest := time.Time{}
		if c.newest > 0 {
			newest = at(c.newest)
		}
		if s.newestFirst() != c.newestFirst || s.oldestFirst() != c.oldestFirst || s.newest != newest {
			t.Errorf("%v: newest first %v, oldest first %v, newest %v", c.days, s.newestFirst(), s.oldestFirst(), s.newest)
		}
	}
}

// When a game began: by UTC, else by the day where it was played.
func TestBegan(t *testing.T) {
	for tags, want := range map[string]string{
		`[UTCDate "2026.03.02"][UTCTime "18:01:05"][Date "2026.03.03"]`: "2026-03-02T18:01:05Z",
		`[UTCDate "2026.03.02"][Date "2026.03.03"]`:                     "2026-03-02T00:00:00Z",
		`[UTCDate "2026.03.??"][UTCTime "18:01:05"][Date "2026.03.03"]`: "2026-03-03T00:00:00Z",
		`[Date "2026.03.03"][UTCTime "18:01:05"]`:                       "2026-03-03T00:00:00Z",
		`[Date "2026.03.??"]`:                                           "0001-01-01T00:00:00Z",
	} {
		if got := began(headerOf(strings.ReplaceAll(tags, "][", "]\n[") + "\n\n1. e4 *\n")).Format(time.RFC3339); got != want {
			t.Errorf("%s: %s, want %s", tags, got, want)
		}
	}
}

// Only a text with nothing in it has no games without being something else.
func TestNoGames(t *testing.T) {
	for text, want := range map[string]string{
		"": "<nil>", " \n\t": "<nil>", "\ufeff\n": "<nil>", "\ufeffnone\nat all": `it does not look like PGN: there is no game in it; it starts with "none"`,
	} {
		if err := noGames(strings.NewReader(text)); fmt.Sprint(err) != want {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}
