package web

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"
	"testing/synctest"
	"time"
)

// In these tests time passes only while all sleep.

func patient(p Patience, random float64) (*retrier, *[]Again) {
	var told []Again
	return &retrier{p.orDefault(), time.Now, Sleep, func() float64 { return random }, func(a Again) { told = append(told, a) }}, &told
}

var errPassing = errors.New("passing")

func TestRetryWaits(t *testing.T) {
	const s = time.Second
	for _, c := range []struct {
		name    string
		p       Patience
		random  float64
		after   time.Duration
		waits   []time.Duration
		failing string
	}{
		{"doubling", Patience{}, 0.5, 0, []time.Duration{s, 2 * s, 4 * s, 8 * s}, "passing, tried 5 times"},
		{"at the least", Patience{}, 0, 0, []time.Duration{s / 2, s, 2 * s, 4 * s}, "passing, tried 5 times"},
		{"at the most", Patience{}, 1, 0, []time.Duration{3 * s / 2, 3 * s, 6 * s, 12 * s}, "passing, tried 5 times"},
		{"once", Patience{Tries: 1}, 0.5, 0, nil, "passing, tried once"},
		{"as the server asks", Patience{Tries: 3}, 0.5, 30 * s, []time.Duration{30 * s, 30 * s}, "passing, tried 3 times"},
		{"too long in all", Patience{Longest: 20 * s}, 0.5, 8 * s, []time.Duration{8 * s, 8 * s}, "passing, the server asks to wait 8 seconds"},
		{"just long enough for our own waits", Patience{Longest: 3 * s}, 0.5, 0, []time.Duration{s, 2 * s}, "passing, tried 3 times"},
		{"just long enough for the server's", Patience{Longest: 16 * s}, 0.5, 8 * s, []time.Duration{8 * s, 8 * s}, "passing, the server asks to wait 8 seconds"},
		{"too long for our own waits", Patience{Longest: 4 * s}, 0.5, 0, []time.Duration{s, 2 * s}, "passing, tried 3 times"},
	} {
		t.Run(c.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				r, told := patient(c.p, c.random)
				begun, tries := time.Now(), 0
				err := r.do(t.Context(), func() error {
					tries++
					return &transient{errPassing, c.after}
				})
				if err == nil || err.Error() != c.failing || !errors.Is(err, errPassing) {
					t.Errorf("error %v, want %s", err, c.failing)
				}
				var waits []time.Duration
				sum := time.Duration(0)
				for i, a := range *told {
					waits = append(waits, a.Wait)
					sum += a.Wait
					if a.Try != i+2 || a.Tries != r.Tries {
						t.Errorf("told %+v", a)
					}
				}
				if !slices.Equal(waits, c.waits) || tries != len(waits)+1 || time.Since(begun) != sum {
					t.Errorf("waits %v, want %v; %d tries in %v", waits, c.waits, tries, time.Since(begun))
				}
			})
		})
	}
}

func TestRetryOfPermanent(t *testing.T) {
	r, _ := patient(Patience{}, 0.5)
	tries := 0
	err := r.do(t.Context(), func() error { tries++; return errPassing })
	if tries != 1 || err != errPassing {
		t.Errorf("%d tries, %v", tries, err)
	}
}

// A context that is over lets nothing be tried, and one that ends while waiting
// ends the waiting.
func TestRetryCancelled(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		over := errors.New("over")
		ctx, cancel := context.WithCancelCause(t.Context())
		time.AfterFunc(2500*time.Millisecond, func() { cancel(over) }) // in the second wait
		r, _ := patient(Patience{}, 0.5)
		begun, tries := time.Now(), 0
		err := r.do(ctx, func() error { tries++; return &transient{err: errPassing} })
		if err != over || tries != 2 || time.Since(begun) != 2500*time.Millisecond {
			t.Errorf("%v after %d tries and %v", err, tries, time.Since(begun))
		}
		if err := r.do(ctx, func() error { tries++; return nil }); err != over || tries != 2 {
			t.Errorf("%v after %d tries", err, tries)
		}
		ctx, cancel = context.WithCancelCause(t.Context())
		if err := r.do(ctx, func() error { cancel(over); return &transient{err: errPassing} }); err != over {
			t.Errorf("cancelled in the try: %v", err)
		}
		ctx, cancel = context.WithCancelCause(t.Context())
		if err := r.do(ctx, func() error { cancel(over); return errPassing }); err != over {
			t.Errorf("cancelled in a try that fails for good: %v", err)
		}
	})
}

func TestRetryAfter(t *testing.T) {
	now := time.Date(2026, 11, 25, 18, 0, 0, 0, time.UTC)
	for text, want := range map[string]time.Duration{
		"": 0, "soon": 0, "120": 2 * time.Minute, " 5 ": 5 * time.Second, "0": 0, "-5": 0, "1.5": 0,
		"99999999999":                       mostRetryAfter,
		"99999999999999999999":              0,
		"Fri, 31 Dec 9999 23:59:59 GMT":     mostRetryAfter,
		"Wed, 25 Nov 2026 18:01:30 GMT":     90 * time.Second,
		"Wednesday, 25-Nov-26 18:00:01 GMT": time.Second, // the older forms of RFC 9110, 5.6.7
		"Wed Nov 25 18:00:02 2026":          2 * time.Second,
		"Wed, 25 Nov 2026 17:00:00 GMT":     0,
	} {
		if got := retryAfter(text, now); got != want {
			t.Errorf("%q: %v, want %v", text, got, want)
		}
	}
}

// What is said of a request that is tried again names no token: the error has the address, and so
// the query.
func TestAgainTellsNoToken(t *testing.T) {
	v := newVisit(t, Description{URL: "https://example.org/{player}?q={token}", TokenFrom: "SITE_TOKEN"})
	v.opt.Token = "opensesame"
	var told []string
	v.opt.Again = func(a Again) { told = append(told, a.Err.Error()) }
	r := v.makeServer().retrier()
	r.tell(Again{Err: errors.New("Get https://example.org/x?q=opensesame: cut off")})
	if len(told) != 1 || strings.Contains(told[0], "opensesame") || !strings.Contains(told[0], "example.org/x") || !strings.Contains(told[0], "cut off") {
		t.Errorf("%q", told)
	}
}
