package web

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"net/http"
	"strconv"
	"strings"
	"time"
)

// Patience is how long a request is tried again. The zero value takes the
// defaults.
type Patience struct {
	Tries   int           // at most, the first included; default 5
	First   time.Duration // before the second try, doubled for each further one; default 1 s
	Longest time.Duration // from the first try on; default 5 min
}

func (p Patience) orDefault() Patience {
	p.Tries = cmp.Or(p.Tries, 5)
	p.First = cmp.Or(p.First, time.Second)
	p.Longest = cmp.Or(p.Longest, 5*time.Minute)
	return p
}

// transient is an error that may be gone the next time. All others are permanent.
type transient struct {
	err   error
	after time.Duration // the server asks to wait so long; 0 if it says nothing
}

func (t *transient) Error() string { return t.err.Error() }
func (t *transient) Unwrap() error { return t.err }

// Again tells that a request failed and will be tried again.
type Again struct {
	Err   error
	Try   int // which comes next, from 2
	Tries int
	Wait  time.Duration
}

// retrier tries again what failed for reasons that may pass.
type retrier struct {
	Patience
	now    func() time.Time
	sleep  func(context.Context, time.Duration) error
	random func() float64 // 0 to 1
	tell   func(Again)
}

func (s *Server) retrier() *retrier {
	return &retrier{s.opt.Patience.orDefault(), s.opt.Now, s.opt.Sleep, rand.Float64, func(a Again) {
		if s.opt.Again != nil {
			a.Err = errors.New(s.shown(a.Err.Error()))
			s.opt.Again(a)
		}
	}}
}

// do calls try until it succeeds, fails for good, or patience ends. It doesn't
// call it with a context that is over.
func (r *retrier) do(ctx context.Context, try func() error) error {
	begun := r.now()
	for n := 1; ; n++ {
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
		err := try()
		var again *transient
		switch {
		case err == nil:
			return nil
		case ctx.Err() != nil:
			return context.Cause(ctx)
		case !errors.As(err, &again):
			return err
		}
		wait := r.wait(n, again)
		switch {
		case r.now().Sub(begun)+wait > r.Longest && again.after > 0:
			return &giveUp{err, "the server asks to wait " + roughly(again.after), again.after}
		case n >= r.Tries, r.now().Sub(begun)+wait > r.Longest:
			return &giveUp{err, fmt.Sprintf("tried %s", times(n)), 0}
		}
		r.tell(Again{err, n + 1, r.Tries, wait})
		if err := r.sleep(ctx, wait); err != nil {
			return err
		}
	}
}

func times(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}

// wait is what the server asks for, else twice as long for each try, give or
// take a half, so that many clients don't come back at once.
func (r *retrier) wait(n int, again *transient) time.Duration {
	if again.after > 0 {
		return again.after
	}
	wait := r.First << min(n-1, 16)
	return wait/2 + time.Duration(r.random()*float64(wait))
}

// giveUp is an error that was transient and lasted.
type giveUp struct {
	err   error
	why   string
	after time.Duration // the server asked to wait so long
}

func (g *giveUp) Error() string { return g.err.Error() + ", " + g.why }
func (g *giveUp) Unwrap() error { return g.err }

// retryAfter reads the header of that name: seconds, or a date (RFC 9110,
// 10.2.3). 0 means that it says nothing.
func retryAfter(value string, now time.Time) time.Duration {
	value = strings.TrimSpace(value)
	if seconds, err := strconv.Atoi(value); err == nil {
		return min(time.Duration(max(0, min(seconds, 1<<30)))*time.Second, mostRetryAfter)
	}
	if date, err := http.ParseTime(value); err == nil {
		return max(0, min(date.Sub(now), mostRetryAfter))
	}
	return 0
}

// mostRetryAfter is the longest wait that is told: beyond it sums of times would
// overflow, and nobody waits so long.
const mostRetryAfter = 366 * 24 * time.Hour

// Sleep waits, or returns the cause when the context ends before.
func Sleep(ctx context.Context, d time.Duration) error {
	timer := time.NewTimer(d)
	defer timer.Stop()
	select {
	case <-timer.C:
		return nil
	case <-ctx.Done():
		return context.Cause(ctx)
	}
}
