package web

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"foreply/fetch"
)

// errLongList is about a list of too many addresses.
var errLongList = errors.New("the list is too long")

// mostList bounds a list of addresses, in bytes.
const mostList = 8 << 20

// entry is an address of a list, with its month if the addresses have months.
type entry struct {
	address string
	month   Month // zero if not known
}

func (e entry) closed(now time.Time) bool { return e.month != Month{} && e.month.closed(now) }

// byList asks for the addresses that a list gives, as far as they are not closed.
// The list itself is needed only when a month may have come that is not known.
func (r *run) byList(ctx context.Context) error {
	entries, ok := r.remembered()
	if !ok {
		r.page = "the list"
		r.progress(0)
		addresses, err := r.list(ctx)
		if err != nil {
			return err
		}
		if len(addresses) == 0 {
			r.warnOnce("the list names no addresses")
		}
		entries = inOrder(addresses)
	}
	if len(entries) > mostPages {
		return fmt.Errorf("the list names %d addresses, more than %d: %w", len(entries), mostPages, errLongList)
	}
	for i, e := range entries {
		if r.passesOver(e) {
			continue
		}
		v := r.values()
		v.address = e.address
		got, err := r.get(ctx, r.server.hide(e.address), r.address(v), e.closed(r.server.now()))
		switch name := r.server.shown(e.address); {
		case got.missing:
			r.failed.add(name, r.refusal)
		case err == nil:
			r.failed.inRow = 0
		case !r.passesBy(name, err):
			r.account.Reached = fmt.Sprintf("at %d of %d addresses, %s", i+1, len(entries), name)
			return r.failed.andThen(ctx, name, err)
		}
	}
	return r.failed.sum()
}

// passesOver reports whether an address is not asked for: its month is closed, or
// before the start.
func (r *run) passesOver(e entry) bool {
	early := e.month != (Month{}) && e.month.before(r.server.source.start)
	return early || r.memory.Pages[r.server.hide(e.address)].Closed
}

// remembered returns the addresses of the last run if they are all there can be:
// it came to its end, and this month is among them.
func (r *run) remembered() ([]entry, bool) {
	if !r.memory.Whole {
		return nil, false
	}
	addresses := slices.Sorted(maps.Keys(r.memory.Pages))
	if slices.ContainsFunc(addresses, func(a string) bool { return strings.Contains(a, mask) }) {
		return nil, false
	}
	entries := inOrder(addresses)
	this := monthOf(r.server.opt.Today)
	return entries, slices.ContainsFunc(entries, func(e entry) bool { return e.month == this })
}

// list fetches the list and takes the addresses out of it.
func (r *run) list(ctx context.Context) ([]string, error) {
	var text []byte
	var from string
	err := r.server.retry.do(ctx, func() (err error) {
		text, from, err = r.listOnce(ctx, r.server.source.list.fill(r.values()))
		return err
	})
	if err != nil {
		return nil, err
	}
	picked, odd, err := pick(text, r.server.source.listPath)
	if err != nil {
		return nil, &fetch.Error{
			Err:  fmt.Errorf("reading the list: %w", err),
			Hint: "list of the source is its address, list_path says where in it the addresses of the games are",
		}
	}
	var addresses []string
	for _, a := range picked {
		switch whole, err := r.resolve(from, a); {
		case err != nil:
			odd = append(odd, err)
		case !slices.Contains(addresses[max(0, len(addresses)-1):], whole):
			addresses = append(addresses, whole)
		}
	}
	if len(addresses) == 0 && len(odd) > 0 {
		return nil, &fetch.Error{
			Err:  fmt.Errorf("reading the list: %w", odd[0]),
			Hint: "does list_path of the source lead to the addresses of the games?",
		}
	}
	for _, err := range odd {
		r.failed.add("an entry of the list", err)
	}
	return addresses, nil
}

// listOnce also returns where the list came from: its relative addresses are taken from
// there (RFC 3986, 5.1.3), and a server may have sent on.
func (r *run) listOnce(ctx context.Context, address string) (text []byte, from string, err error) {
	headers := r.headers(address)
	headers.Set("Accept-Encoding", "identity")
	headers.Set("Accept", "application/json") // that of the user is for the games
	response, err := r.send(ctx, address, headers)
	if err != nil {
		return nil, "", err
	}
	defer response.Body.Close()
	if status := response.StatusCode; status == http.StatusNotFound || status == http.StatusGone {
		return nil, "", r.server.status(response)
	}
	body := &body{r: response.Body, run: r}
	text, err = io.ReadAll(io.LimitReader(body, mostList+1))
	if err == nil && bytes.HasPrefix(text, []byte("\x1f\x8b")) {
		text, err = unzip(text)
	}
	switch {
	case err != nil && body.broke() != nil:
		return nil, "", &transient{err: broken(err)}
	case err != nil:
		return nil, "", err
	case len(text) > mostList:
		return nil, "", fmt.Errorf("the list has more than %d MB: %w", mostList>>20, errLongList)
	}
	if response.Request != nil {
		address = response.Request.URL.String()
	}
	return text, address, nil
}

func unzip(text []byte) ([]byte, error) {
	z, err := gzip.NewReader(bytes.NewReader(text))
	if err != nil {
		return nil, err
	}
	return io.ReadAll(io.LimitReader(z, mostList+1))
}

// pick takes the addresses at a path out of a JSON text. Arrays on the way are
// gone through. What is no address among others is told in odd and costs only
// itself.
func pick(text []byte, path []string) (addresses []string, odd []error, err error) {
	var value any
	if err := json.Unmarshal(text, &value); err != nil {
		return nil, nil, fmt.Errorf("it is no JSON; it starts with %s", fetch.FirstLine(text))
	}
	p := &picker{}
	for i, key := range path {
		next, err := p.step(value, key)
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", strings.Join(path[:i+1], "."), err)
		}
		value = next
	}
	addresses, err = p.texts(value)
	return addresses, p.odd, err
}

// picker notes the odd items of arrays.
type picker struct{ odd []error }

// each calls one for the items of an array. It fails only if all do.
func (p *picker) each(items []any, one func(any) error) error {
	var bad []error
	for _, item := range items {
		if err := one(item); err != nil {
			bad = append(bad, err)
		}
	}
	if len(bad) > 0 && len(bad) == len(items) {
		return bad[0]
	}
	p.odd = append(p.odd, bad...)
	return nil
}

// step goes down by one key.
func (p *picker) step(value any, key string) (any, error) {
	switch v := value.(type) {
	case map[string]any:
		if next, ok := v[key]; ok {
			return next, nil
		}
		return nil, fmt.Errorf("there is no such key; there are: %s", keysOf(v))
	case []any:
		out := []any{}
		err := p.each(v, func(item any) error {
			next, err := p.step(item, key)
			if err == nil {
				out = append(out, next)
			}
			return err
		})
		return out, err
	}
	return nil, errors.New("there is nothing below it")
}

// texts flattens arrays of strings.
func (p *picker) texts(value any) ([]string, error) {
	switch v := value.(type) {
	case string:
		return []string{v}, nil
	case []any:
		var out []string
		err := p.each(v, func(item any) error {
			more, err := p.texts(item)
			out = append(out, more...)
			return err
		})
		return out, err
	case map[string]any:
		return nil, fmt.Errorf("addresses are wanted there, and there are keys: %s", keysOf(v))
	case nil:
		return nil, errors.New("addresses are wanted there, not null")
	}
	return nil, fmt.Errorf("addresses are wanted there, not %v", value)
}

// mostKeys of an object are listed in an error.
const mostKeys = 20

func keysOf(object map[string]any) string {
	keys := slices.Sorted(maps.Keys(object))
	if len(keys) > mostKeys {
		keys = append(keys[:mostKeys], "...")
	}
	return strings.Join(keys, ", ")
}

// resolve makes a listed address whole and refuses one that is less safe than
// that of the list.
func (r *run) resolve(list, address string) (string, error) {
	base, err := url.Parse(list)
	if err != nil {
		return "", cause(err)
	}
	u, err := base.Parse(address)
	if err != nil {
		return "", fmt.Errorf("the list has %q, which is no address", address)
	}
	if u.Host == "" || u.User != nil || u.Scheme != "https" && u.Scheme != base.Scheme {
		return "", fmt.Errorf("the list, at %s, has the address %s, which is not followed: %w", base.Scheme, u, errRedirect)
	}
	return u.String(), nil
}

// inOrder sorts addresses by month, newest first, if they have months; else they
// stay in order.
func inOrder(addresses []string) []entry {
	out := make([]entry, len(addresses))
	for i, a := range addresses {
		out[i].address = a
	}
	found, ok := monthsOf(addresses)
	if !ok {
		return out
	}
	for i := range out {
		out[i].month = found[i]
	}
	slices.SortStableFunc(out, func(a, b entry) int { return b.month.start().Compare(a.month.start()) })
	return out
}

var monthForm = regexp.MustCompile(`((?:19|20)[0-9]{2})[-/_.]?(0[1-9]|1[0-2])(?:[^0-9]|$)`)

// monthsOf reads the months of addresses such as .../2026/05. They count only if
// every address has one of its own and all else is the same: otherwise a number
// may mean something else, and a month taken for closed would lose games.
func monthsOf(addresses []string) ([]Month, bool) {
	var (
		out  []Month
		rest string
		seen = map[Month]bool{}
	)
	for i, a := range addresses {
		all := monthForm.FindAllStringSubmatchIndex(a, -1)
		if len(all) == 0 {
			return nil, false
		}
		at := all[len(all)-1]
		year, _ := strconv.Atoi(a[at[2]:at[3]])
		month, _ := strconv.Atoi(a[at[4]:at[5]])
		m := Month{year, time.Month(month)}
		others := a[:at[2]] + "|" + a[at[5]:]
		if seen[m] || i > 0 && others != rest {
			return nil, false
		}
		seen[m], rest = true, others
		out = append(out, m)
	}
	return out, true
}

// planList tells the addresses that are known to be open, or else the list's.
func (r *run) planList(tell func(address, note string)) {
	entries, ok := r.remembered()
	if !ok {
		tell(r.server.source.list.fill(r.values()), "and the addresses in it that are not closed yet")
		return
	}
	for _, e := range entries {
		if !r.passesOver(e) {
			v := r.values()
			v.address = e.address
			tell(r.address(v), "")
		}
	}
}
