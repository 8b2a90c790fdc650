package web

import (
	"bytes"
	"context"
	"errors"
	"net/http"
	"os"
	"strings"
	"syscall"
	"testing"

	"github.com/jarcoal/httpmock"
)

// Faults of this machine: a full disk, an interruption, a second run, a damaged
// state.

// fullDisk takes so many bytes and no more.
type fullDisk struct{ room int }

func (d *fullDisk) Write(p []byte) (int, error) {
	n := min(len(p), d.room)
	if d.room -= n; n < len(p) {
		return n, syscall.ENOSPC
	}
	return n, nil
}

func (d *fullDisk) Sync() error  { return nil }
func (d *fullDisk) Close() error { return nil }

// full at the end: some systems tell only then.
type lateDisk struct{ fullDisk }

func (d *lateDisk) Sync() error { return syscall.ENOSPC }

func TestFullDisk(t *testing.T) {
	for _, c := range []struct {
		fault  string
		create func(string) (file, error)
	}{
		{"at once", func(string) (file, error) { return &fullDisk{0}, nil }},
		{"after some bytes", func(string) (file, error) { return &fullDisk{500}, nil }},
		{"when it is written out", func(string) (file, error) { return &lateDisk{fullDisk{1 << 20}}, nil }},
		{"no new file", func(path string) (file, error) {
			return nil, &os.PathError{Op: "open", Path: path, Err: syscall.ENOSPC}
		}},
	} {
		t.Run(c.fault, func(t *testing.T) {
			v, transport := mock(t)
			transport.RegisterResponder("GET", mocked, httpmock.NewStringResponder(200, tales(1, 2, 3)))
			v.server = func(s *Server) { s.create = c.create }
			if a := v.badly("no space left on device", "make room"); a.Requests != 1 || a.Kept != 2 {
				t.Errorf("%+v", a)
			}
			v.server = nil
			recovers(v, transport)
		})
	}
}

// The games' file can't be written: the state doesn't say that they were.
func TestGamesCannotBeWritten(t *testing.T) {
	v, transport := mock(t)
	path := v.store.Path("site", "opponent")
	state, _ := os.ReadFile(statePath(path))
	aside := path + ".aside"
	transport.RegisterResponder("GET", mocked, func(r *http.Request) (*http.Response, error) {
		os.Rename(path, aside) // after the games were read
		os.Mkdir(path, 0o755)
		return httpmock.NewStringResponse(200, tales(1, 2, 3)), nil
	})
	a := v.badly("writing", "make room")
	os.Remove(path)
	if err := os.Rename(aside, path); err != nil {
		t.Fatal(err)
	}
	if now, _ := os.ReadFile(statePath(path)); a.New != 0 || a.Requests != 1 || !bytes.Equal(now, state) {
		t.Errorf("%+v; the state is now\n%s", a, now)
	}
	recovers(v, transport)
}

// Interrupted in the third month: the first two are kept and not asked for again.
func TestInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	month := 0
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		month++
		if month == 3 {
			say(w, tale(997)[:100])
			w.(http.Flusher).Flush()
			cancel()
			<-r.Context().Done()
			return
		}
		say(w, tale(1000-month))
	})
	v := newVisit(t, Description{URL: site.URL + "/{player}/{year}/{month}", Pages: "months", Start: "2026-06"})
	a, err := v.makeServer().Fetch(ctx, v.store, v.player)
	if err != context.Canceled || a.Reached != "in the month 2026-09" || a.Requests != 3 {
		t.Errorf("%v, %+v", err, a)
	}
	v.keeps(999, 998)
	site.paths()
	v.well()
	if got := site.paths(); len(got) != 5 || got[1] != "/tidewalker/2026/09" || got[0] != "/tidewalker/2026/11" || got[2] != "/tidewalker/2026/08" {
		t.Errorf("asked for %q", got)
	}
}

// Interrupted while a whole answer is read: it is read no further, and comes again.
func TestInterruptedWhileReading(t *testing.T) {
	v, transport := mock(t)
	transport.RegisterResponder("GET", mocked, httpmock.NewStringResponder(200, tales(1, 2, 3, 4)))
	ctx, cancel := context.WithCancel(t.Context())
	v.opt.Progress = func(p Progress) {
		if p.Games == 4 {
			cancel() // all of it is on disk
		}
	}
	if a, err := v.makeServer().Fetch(ctx, v.store, v.player); !errors.Is(err, context.Canceled) || a.Requests != 1 {
		t.Errorf("%v, %+v", err, a)
	}
	v.opt.Progress = nil
	recovers(v, transport)
}

// A context that is over asks for nothing.
func TestInterruptedBefore(t *testing.T) {
	v, transport := mock(t)
	ctx, cancel := context.WithCancelCause(t.Context())
	cause := errors.New("enough")
	cancel(cause)
	if a, err := v.makeServer().Fetch(ctx, v.store, v.player); !errors.Is(err, cause) || a.Requests != 0 {
		t.Errorf("%v, %+v", err, a)
	}
	recovers(v, transport)
}

func TestTwoRunsAtOnce(t *testing.T) {
	v, transport := mock(t)
	shelf, err := v.store.Open("site", "opponent")
	if err != nil {
		t.Fatal(err)
	}
	if a := v.badly("another foreply is writing there", "wait until it is done"); a.Requests != 0 {
		t.Errorf("%+v", a)
	}
	shelf.Close()
	recovers(v, transport)
}

// The state is only a memory: damaged or of other games, it costs requests.
func TestStateThatCannotBeTrusted(t *testing.T) {
	for _, c := range []struct {
		fault    string
		change   func(games, state string)
		requests int // of the next fetch
	}{
		{"no JSON", func(_, state string) { os.WriteFile(state, []byte("{"), 0o644) }, 6},
		{"of a version to come", func(_, state string) { os.WriteFile(state, []byte(`{"version": 99}`), 0o644) }, 6},
		{"null", func(_, state string) { os.WriteFile(state, []byte(`null`), 0o644) }, 6},
		{"empty handles", func(_, state string) {
			os.WriteFile(state, []byte(`{"version": 1, "handles": {"tidewalker": null}}`), 0o644)
		}, 6},
		{"the games are gone", func(games, _ string) { os.Remove(games) }, 6},
		{"a game was taken out", func(games, _ string) { os.WriteFile(games, []byte(tale(1)), 0o644) }, 6},
		{"untouched", func(_, _ string) {}, 2},
	} {
		t.Run(c.fault, func(t *testing.T) {
			site := serve(t, func(w http.ResponseWriter, r *http.Request) {
				if strings.HasSuffix(r.URL.Path, "/2026/11") {
					say(w, tales(1, 2))
				}
			})
			v := newVisit(t, Description{URL: site.URL + "/{player}/{year}/{month}", Pages: "months", Start: "2026-10"})
			v.opt.Today = today.AddDate(0, 3, 0)
			v.clock.now = v.opt.Today
			v.well()
			v.opt.Today = v.opt.Today.AddDate(0, 0, 10)
			v.clock.now = v.opt.Today
			path := v.store.Path("site", "opponent")
			c.change(path, statePath(path))
			if a := v.well(); a.Requests != c.requests {
				t.Errorf("%+v", a)
			}
			v.keeps(1, 2)
		})
	}
}
