package web

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"foreply/fetch"
)

const (
	// mostFailed pages in a row are passed by: then it is the server that fails.
	mostFailed = 3
	// mostStale pages in a row have nothing but games of this run: then there is no
	// end to them.
	mostStale = 3
)

// failures are the pages that failed for reasons of their own and were passed by.
type failures struct {
	all   []failure
	inRow int
}

// failure is what failed, and why.
type failure struct {
	name string
	err  error
}

// passesBy notes that a page failed, and reports whether the others are asked for
// all the same.
func (r *run) passesBy(name string, err error) bool {
	if !ownFault(err) || r.failed.inRow+1 >= mostFailed {
		return false
	}
	r.failed.inRow++
	r.failed.add(name, err)
	return true
}

func (f *failures) add(name string, err error) {
	f.all = append(f.all, failure{name, err})
}

// repeats reports whether this page is one of too many that brought nothing new. A
// page that came ends a row of failures.
func (r *run) repeats(got *haul) bool {
	r.failed.inRow = 0
	if got.unchanged || got.missing || got.games == 0 || got.novel > 0 {
		r.stale = 0
		return false
	}
	r.stale++
	return r.stale >= mostStale
}

// ownFault tells errors that concern one page from those that all others would meet,
// too: of the way to the server, of this disk, of who may ask how often.
func ownFault(err error) bool {
	var (
		refused *statusError
		later   *giveUp
		full    *diskError
	)
	switch {
	case errors.As(err, &full), errors.As(err, &later) && later.after > 0:
		return false
	case errors.As(err, &refused):
		return refused.status != 401 && refused.status != 403 && refused.status != 429
	}
	return errors.Is(err, errBroken) || errors.Is(err, fetch.ErrNotPGN) || errors.Is(err, fetch.ErrOverLimit) ||
		errors.Is(err, errPacking) || errors.Is(err, errRedirect)
}

// mostNamed of what failed are named; the others are counted.
const mostNamed = 5

// sum is the error of all that was passed by, in groups with one cause; nil if nothing
// was. It wraps the last one.
func (f *failures) sum() error {
	if len(f.all) == 0 {
		return nil
	}
	var causes []string
	names := map[string][]string{} // by cause
	for i, one := range f.all {
		cause := one.err.Error()
		switch list, known := names[cause]; {
		case i >= mostNamed:
			continue
		case !known:
			causes = append(causes, cause)
			fallthrough
		case !slices.Contains(list, one.name):
			names[cause] = append(list, one.name)
		}
	}
	var parts []string
	for _, cause := range causes {
		parts = append(parts, strings.Join(names[cause], ", ")+": "+cause)
	}
	if more := len(f.all) - mostNamed; more > 0 {
		parts = append(parts, fmt.Sprintf("and %d more failed", more))
	}
	return &said{strings.Join(parts, "; "), f.all[len(f.all)-1].err}
}

// andThen is the error that ended it, with the page it met and those passed by.
func (f *failures) andThen(ctx context.Context, name string, err error) error {
	if ctx.Err() != nil {
		return err
	}
	f.add(name, err)
	return f.sum()
}
