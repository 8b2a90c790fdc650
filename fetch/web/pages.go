package web

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"
	"time"

	"foreply/fetch"
)

// overlap is how far before the newest game is asked again: a game that began
// earlier may have ended later.
const overlap = 24 * time.Hour

// onlyPage is what the answer is remembered by where there is one only.
const onlyPage = "all"

// mostPages ends the reading of a server that has always one more.
const mostPages = 10_000

// values are what stands for the places in an address.
func (r *run) values() values {
	v := values{player: r.player.Handle, to: r.server.opt.Today, token: r.server.token}
	switch {
	case !r.memory.Newest.IsZero():
		v.from = r.memory.Newest.Add(-overlap)
	case r.server.source.start != Month{}:
		v.from = r.server.source.start.start()
	}
	return v
}

// address is where a page is. Parts of the query that need a time to start from
// are left out when there is none.
func (r *run) address(v values) string {
	source := r.server.source
	out := source.url.fill(v)
	for _, q := range source.query {
		if v.from.IsZero() && q.value.has("from") {
			continue
		}
		sign := "?"
		if strings.Contains(out, "?") {
			sign = "&"
		}
		out += sign + q.name.query(v) + "=" + q.value.query(v)
	}
	return out
}

// home is the address whose host the token is meant for.
func (r *run) home() string {
	if r.server.source.pages == listed {
		return r.server.source.list.fill(r.values())
	}
	return r.server.source.url.fill(values{player: "x", month: Month{2000, 1}, page: 1})
}

// pages asks for what is not known yet.
func (r *run) pages(ctx context.Context) error {
	if start := r.server.source.start; monthOf(r.server.opt.Today).before(start) {
		return &fetch.Error{Err: fmt.Errorf("its start, %s, is still to come", start), Hint: "start is the first month to ask for, as YYYY-MM"}
	}
	if pages := r.server.source.pages; pages == months || pages == numbers {
		r.seen = map[uint64]bool{}
	}
	switch r.server.source.pages {
	case months:
		return r.byMonth(ctx)
	case numbers:
		return r.byNumber(ctx)
	case listed:
		return r.byList(ctx)
	}
	return r.inOne(ctx)
}

// get asks for one page and keeps its games; key is what it is remembered by. What
// an answer that breaks off brought is kept, but the page is not remembered, so
// it is asked for again.
func (r *run) get(ctx context.Context, key, address string, closed bool) (haul, error) {
	known := r.memory.Pages[key]
	if r.page = key; key == onlyPage {
		r.page = ""
	}
	r.progress(0)
	answer, err := r.ask(ctx, address, known)
	if answer == nil {
		return haul{}, err
	}
	got := answer.haul
	r.count(&got)
	r.progress(0)
	switch {
	case err != nil, got.missing:
		return got, err
	case got.unchanged:
		known.Closed = closed
		r.memory.Pages[key] = known
		got.games, got.order = known.Games, sequence{falls: known.NewestFirst}
		return got, nil
	case got.half:
		return got, fmt.Errorf("%w in the middle of its last game", errBroken)
	}
	r.advance(got.order.newest)
	r.memory.Pages[key] = page{
		URL: r.server.hide(address), ETag: answer.etag, Modified: answer.modified,
		Games: got.games, Closed: closed, NewestFirst: got.order.newestFirst(),
	}
	return got, nil
}

func (r *run) advance(newest time.Time) {
	if newest.After(r.newest) {
		r.newest = newest
	}
}

// inOne asks for all games at once. If the answer breaks off and its games stood
// oldest first, the next run goes on behind the last one.
func (r *run) inOne(ctx context.Context) error {
	got, err := r.get(ctx, onlyPage, r.address(r.values()), false)
	if got.missing {
		return r.refusal
	}
	if err != nil && (got.games > 0 || errors.Is(err, errBroken) || ctx.Err() != nil) {
		r.account.Reached = "in the middle of the answer"
		if got.order.oldestFirst() {
			r.advance(got.order.newest)
			r.account.Reached += ", at games of " + got.order.newest.Format(time.DateOnly)
		}
	}
	return err
}

// byMonth goes back month by month. A server may have no page for a month
// without games. The run ends at the start month, or where there were no games
// for a while; but as long as none were found, only missing pages count for that:
// somebody may not have played lately.
func (r *run) byMonth(ctx context.Context) error {
	source := r.server.source
	without, found, missing := 0, false, []Month{}
	defer func() {
		for _, m := range missing {
			if found { // else it may be the handle that is missing
				r.none(m)
			}
		}
	}()
	for m := monthOf(r.server.opt.Today); !m.before(source.start); m = m.previous() {
		games := r.memory.Pages[m.String()].Games
		if !r.memory.Pages[m.String()].Closed {
			v := r.values()
			v.month = m
			got, err := r.get(ctx, m.String(), r.address(v), m.closed(r.server.now()))
			switch {
			case err != nil && r.passesBy(m.String(), err):
				continue
			case err != nil:
				r.account.Reached = "in the month " + m.String()
				return r.failed.andThen(ctx, m.String(), err)
			case r.repeats(&got):
				return r.sameMonths(m)
			}
			if games = got.games; got.missing {
				missing = append(missing, m)
			}
		}
		if without++; games > 0 {
			without, found = 0, true
		}
		if without >= source.stopAfter && (found || len(missing) >= source.stopAfter) {
			break
		}
	}
	if !found && len(missing) > 0 && r.shelf.Len() == 0 {
		return fmt.Errorf("there are no games in the last %d months: %w", len(missing), r.refusal)
	}
	return r.failed.sum()
}

// sameMonths ends the asking of a server that does not look at the month.
func (r *run) sameMonths(last Month) error {
	first := last
	for range mostStale {
		delete(r.memory.Pages, first.String()) // whatever they are, they are not that month
		first = first.next()
	}
	return &fetch.Error{
		Err:  fmt.Errorf("the months %s to %s have no game that did not come with a later one", last, first.previous()),
		Hint: "do {year} and {month} stand where the server looks for them? " + compareAddress,
	}
}

// none remembers a month that the server has no page for.
func (r *run) none(m Month) {
	known := r.memory.Pages[m.String()]
	known.Closed = m.closed(r.server.now())
	r.memory.Pages[m.String()] = known
}

// byNumber counts up until a page is missing or has no games. Where pages have the
// newest games first, one without anything new ends it, too, if everything was
// read once before.
func (r *run) byNumber(ctx context.Context) error {
	for n := 1; n <= mostPages; n++ {
		v := r.values()
		v.page = n
		got, err := r.get(ctx, strconv.Itoa(n), r.address(v), false)
		name := fmt.Sprintf("page %d", n)
		switch {
		case err != nil && r.passesBy(name, err):
			continue
		case err != nil:
			r.account.Reached = "on " + name
			return r.failed.andThen(ctx, name, err)
		case got.missing && n == 1:
			return r.refusal
		case got.missing, got.games == 0, r.same(got, n):
			return r.failed.sum()
		case r.memory.Whole && got.fresh == 0 && got.order.newestFirst():
			return r.failed.sum()
		case r.repeats(&got):
			r.warnOnce(fmt.Sprintf("pages %d to %d have only games that came before, so no more were asked for: is {page} in the right place?",
				n-mostStale+1, n))
			return r.failed.sum()
		}
	}
	return fmt.Errorf("there are more than %d pages: %w", mostPages, fetch.ErrOverLimit)
}

// same reports whether the page is the one before it once more: some servers give
// their last page for all numbers beyond.
func (r *run) same(got haul, n int) bool {
	if got.unchanged {
		r.previous = ""
		return false
	}
	sum := fileSum(r.part)
	again := sum != "" && sum == r.previous
	r.previous = sum
	if again {
		delete(r.memory.Pages, strconv.Itoa(n))
		if n == 2 {
			r.warnOnce("page 2 is the same as page 1: is {page} in the right place?")
		}
	}
	return again
}

func fileSum(path string) string {
	f, err := os.Open(path)
	if err != nil {
		return ""
	}
	defer f.Close()
	sum := sha256.New()
	if _, err := io.Copy(sum, f); err != nil {
		return ""
	}
	return string(sum.Sum(nil))
}

// plan tells what would be asked for.
func (r *run) plan(tell func(address, note string)) {
	source := r.server.source
	switch v := r.values(); source.pages {
	case months:
		open := 0
		for m := monthOf(r.server.opt.Today); !m.before(source.start); m = m.previous() {
			note := ""
			if m == source.start {
				note = fmt.Sprintf("%s; fewer, if %d months in a row have no games", r.expected(open+1), source.stopAfter)
			}
			if v.month = m; !r.memory.Pages[m.String()].Closed {
				open++
				tell(r.address(v), note)
			}
		}
	case numbers:
		v.page = 1
		tell(r.address(v), fmt.Sprintf("and so on, one in %v, until a page is empty", source.pace))
	case listed:
		r.planList(tell)
	default:
		tell(r.address(v), "")
	}
}

// expected says how many requests there will be, and how long they take.
func (r *run) expected(n int) string {
	if n == 1 {
		return "1 request"
	}
	return fmt.Sprintf("up to %d requests, %s", n, roughly(time.Duration(n)*r.server.source.pace))
}
