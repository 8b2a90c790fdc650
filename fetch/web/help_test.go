package web

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log"
	"net/http"
	"net/http/httptest"
	"os"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"go.uber.org/goleak"

	"foreply/fetch"
	"foreply/fetch/pgn"
)

// today is when the tests fetch.
var today = time.Date(2026, 11, 25, 18, 0, 0, 0, time.UTC)

// clock is a time that passes only when somebody sleeps.
type clock struct {
	now   time.Time
	slept []time.Duration
}

func (c *clock) Now() time.Time { return c.now }

func (c *clock) Sleep(ctx context.Context, d time.Duration) error {
	if ctx.Err() != nil {
		return context.Cause(ctx)
	}
	c.now = c.now.Add(d)
	c.slept = append(c.slept, d)
	return nil
}

// tale is game number n, played n days after 2026-01-01; the number stands in
// Round.
func tale(n int) string {
	day := time.Date(2026, 1, 1, 12, 0, n%60, 0, time.UTC).AddDate(0, 0, n)
	return fmt.Sprintf("[Event \"casual\"]\n[UTCDate %q]\n[UTCTime %q]\n[Round \"%d\"]\n[White \"tidewalker\"]\n"+
		"[Black \"rival%d\"]\n[Result \"1-0\"]\n\n1. e4 e5 2. Nf3 Nc6 3. Bb5 a6 4. Ba4 Nf6 5. O-O Be7 1-0\n\n",
		day.Format("2006.01.02"), day.Format("15:04:05"), n, n)
}

func tales(numbers ...int) string {
	var out strings.Builder
	for _, n := range numbers {
		out.WriteString(tale(n))
	}
	return out.String()
}

func upTo(n int) (numbers []int) {
	for i := range n {
		numbers = append(numbers, i+1)
	}
	return numbers
}

// visit is a user who fetches the games of tidewalker again and again.
type visit struct {
	testing.TB
	store  fetch.Store
	source Description
	opt    Options
	clock  *clock
	player Player
	server func(*Server) // changes the server before it is asked; may be nil
}

func newVisit(t testing.TB, source Description) *visit {
	c := &clock{now: today}
	source.ID = "site"
	return &visit{
		TB: t, store: fetch.Store{Folder: t.TempDir()}, source: source, clock: c,
		opt:    Options{Now: c.Now, Sleep: c.Sleep, Today: today, Idle: 10 * time.Second},
		player: Player{"opponent", "tidewalker", fetch.Who{Names: []string{"tidewalker"}}},
	}
}

func (v *visit) makeServer() *Server {
	v.Helper()
	source, faults := NewSource(v.source)
	if len(faults) > 0 {
		v.Fatalf("%+v", faults)
	}
	server := NewServer(source, v.opt)
	if v.server != nil {
		v.server(server)
	}
	return server
}

// fetch fails the test if a fetch leaves a goroutine behind, for which it takes its
// connections away.
func (v *visit) fetch() (Account, error) {
	v.Helper()
	if v.opt.Transport == nil {
		before, own := goleak.IgnoreCurrent(), ownTransport(v.opt.Idle)
		v.opt.Transport = own
		defer func() {
			v.opt.Transport = nil
			own.CloseIdleConnections()
			err := goleak.Find(before)
			for range 20 { // a busy machine takes its time to close connections
				if err == nil {
					return
				}
				err = goleak.Find(before)
			}
			v.Errorf("goroutines are left: %v", err)
		}()
	}
	return v.makeServer().Fetch(v.Context(), v.store, v.player)
}

// well fetches without an error.
func (v *visit) well() Account {
	v.Helper()
	account, err := v.fetch()
	if err != nil {
		v.Fatalf("%v (%s)", err, hintOf(err))
	}
	return account
}

// badly fetches with an error that says what is wanted.
func (v *visit) badly(want, hint string) failed {
	v.Helper()
	account, err := v.fetch()
	if err == nil || !strings.Contains(err.Error(), want) || !strings.Contains(hintOf(err), hint) {
		v.Fatalf("the error is %v (%s), want %q (%q)", err, hintOf(err), want, hint)
	}
	return failed{account, hintOf(err)}
}

// ends fetches with an error that says what is wanted; with none if nothing is.
func (v *visit) ends(want string) {
	v.Helper()
	if want == "" {
		v.well()
		return
	}
	v.badly(want, "")
}

// failed is the account of a fetch with an error, and the error's hint.
type failed struct {
	Account
	hint string
}

func hintOf(err error) string {
	var e *fetch.Error
	if errors.As(err, &e) {
		return e.Hint
	}
	return ""
}

// keeps fails unless exactly these games are kept, each once and whole, and
// nothing is left behind.
func (v *visit) keeps(want ...int) {
	v.Helper()
	path := v.store.Path("site", "opponent")
	in, err := os.Open(path)
	if err != nil {
		if len(want) > 0 {
			v.Error(err)
		}
		return
	}
	defer in.Close()
	var got []int
	for game := range pgn.NewReader(in, pgn.Options{}).All() {
		n, err := strconv.Atoi(game.Tags().Get("Round"))
		if err != nil || game.Termination != "1-0" || len(game.Moves) != 10 {
			v.Errorf("not a whole game of ours:\n%s", game.Text)
		}
		got = append(got, n)
	}
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		v.Errorf("kept %v, want %v", got, want)
	}
	if _, err := os.Stat(partPath(path)); err == nil {
		v.Error("the part file is left behind")
	}
}

// asked is a server that remembers what it was asked for.
type asked struct {
	*httptest.Server
	mu   sync.Mutex
	list []*http.Request
}

func serve(t testing.TB, handle http.HandlerFunc) *asked {
	a := &asked{}
	a.Server = httptest.NewServer(a.noting(handle))
	t.Cleanup(a.Close)
	return a
}

func (a *asked) noting(handle http.HandlerFunc) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		a.mu.Lock()
		a.list = append(a.list, r)
		a.mu.Unlock()
		handle(w, r)
	}
}

// paths returns what was asked for since the last call.
func (a *asked) paths() []string {
	a.mu.Lock()
	defer a.mu.Unlock()
	var out []string
	for _, r := range a.list {
		out = append(out, r.URL.RequestURI())
	}
	a.list = nil
	return out
}

// numbered serves the games in pages of two, as they stand, but for the page that
// fails.
func numbered(t *testing.T, games *[]int, fail *string) *asked {
	return serve(t, func(w http.ResponseWriter, r *http.Request) {
		page := r.URL.Query().Get("page")
		if page == *fail {
			w.WriteHeader(http.StatusTeapot)
			return
		}
		n, _ := strconv.Atoi(page)
		from, to := min(len(*games), 2*n-2), min(len(*games), 2*n)
		say(w, tales((*games)[from:to]...))
	})
}

func say(w http.ResponseWriter, text string) { fmt.Fprint(w, text) }

func headerOf(text string) *pgn.Header {
	for game := range pgn.NewReader(strings.NewReader(text), pgn.Options{}).All() {
		return game.Clone().Header()
	}
	return nil
}

// quiet keeps what a test server complains about off the output.
var quiet = log.New(io.Discard, "", 0)
