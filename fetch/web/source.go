package web

import (
	"errors"
	"fmt"
	"net"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"time"
)

// Description is a source as the configuration has it; every field but ID and
// URL may be empty.
type Description struct {
	ID        string
	URL       string   // template of the address
	Query     []string // name=value, templates; added to the address
	Headers   []string // Name: value, templates
	TokenFrom string   // environment variable that holds the token
	Pages     string   // single, months, numbers or list
	Start     string   // YYYY-MM
	StopAfter int      // months without games
	List      string   // template of the address of the list
	ListPath  string   // where in the list's JSON the addresses are: keys with dots
	MaxMB     int      // the largest answer
	Pace      float64  // seconds
}

// paging is how a server hands out a player's games.
type paging string

const (
	single  paging = "single"  // one answer
	months  paging = "months"  // one for each month, newest first
	numbers paging = "numbers" // numbered, until one is empty
	listed  paging = "list"    // at the addresses that a list in JSON gives
)

const (
	defaultStopAfter = 12
	defaultMaxMB     = 2048
	defaultPace      = time.Second
)

// Source is a server's export, checked.
type Source struct {
	ID        string
	TokenFrom string
	url, list Template
	query     []queryPart
	headers   []header
	pages     paging
	start     Month // zero when not given
	stopAfter int
	listPath  []string
	most      int64 // bytes of one answer, unpacked
	pace      time.Duration
}

type queryPart struct{ name, value Template }

type header struct {
	name  string
	value Template
}

// Fault is something wrong with one key of a Description.
type Fault struct {
	Key  string
	Err  error
	Hint string
}

// NewSource checks a description and returns all that is wrong with it.
func NewSource(d Description) (*Source, []Fault) {
	s := &Source{
		ID: d.ID, TokenFrom: d.TokenFrom, pages: paging(d.Pages), stopAfter: d.StopAfter,
		most: int64(d.MaxMB) << 20, pace: time.Duration(d.Pace * float64(time.Second)),
	}
	c := &checker{s: s, d: &d}
	if d.Pages == "" {
		s.pages = single
	}
	if d.StopAfter == 0 {
		s.stopAfter = defaultStopAfter
	}
	if d.MaxMB == 0 {
		s.most = defaultMaxMB << 20
	}
	if d.Pace == 0 {
		s.pace = defaultPace
	}
	c.addresses()
	c.headers()
	c.paging()
	c.token()
	return s, c.faults
}

// checker collects the faults of a description.
type checker struct {
	s      *Source
	d      *Description
	faults []Fault
}

func (c *checker) add(key, hint, format string, args ...any) {
	c.faults = append(c.faults, Fault{key, fmt.Errorf(format, args...), hint})
}

func (c *checker) template(key, text string) Template {
	t, err := ParseTemplate(text)
	if err != nil {
		c.add(key, "", "%w", err)
	}
	return t
}

func (c *checker) addresses() {
	c.s.url = c.template("url", c.d.URL)
	if c.d.List != "" {
		c.s.list = c.template("list", c.d.List)
	}
	for _, text := range c.d.Query {
		name, value, found := strings.Cut(text, "=")
		if !found || name == "" {
			c.add("query", "write each as name=value", "%q is no part of a query", shown(text))
			continue
		}
		if strings.ContainsAny(text, " \t\r\n&#?") {
			c.add("query", "one name=value an entry; write a blank as %20, and & as %26", "%q can't stand in a query", shown(text))
			continue
		}
		c.noSecret("query", name, text)
		c.s.query = append(c.s.query, queryPart{c.template("query", name), c.template("query", value)})
	}
	if len(c.faults) > 0 {
		return
	}
	for _, t := range []struct {
		key  string
		text Template
	}{{"url", c.s.url}, {"list", c.s.list}} {
		if t.text.text != "" {
			c.address(t.key, t.text)
		}
	}
}

// address checks what stands before the first place: scheme and host. They must
// not depend on anything, since the token goes there.
func (c *checker) address(key string, t Template) {
	if t.parts[0].name == "address" && key == "url" {
		return // from the list
	}
	u, err := url.Parse(t.fill(values{player: "x", month: Month{2000, 1}, page: 1, address: "x", token: "x"}))
	literal := t.parts[0].text
	scheme, rest, _ := strings.Cut(literal, "://")
	switch {
	case strings.ContainsFunc(t.text, func(r rune) bool { return r <= ' ' }):
		c.add(key, "write a blank as %20", "there is a blank in the address")
	case scheme != "https" && scheme != "http":
		c.add(key, "", "the address begins with https:// or http://, not %q", literal)
	case !strings.ContainsAny(rest, "/?") && len(t.parts) > 1, err == nil && u.Host == "":
		c.add(key, "write it out, as in https://example.org/games/{player}", "the address has no host of its own")
	case err != nil:
		c.add(key, "", "it is no address: %w", cause(err))
	case u.User != nil:
		c.add(key, "name a variable with token_from instead", "no name and password in the address: the file may be seen by others")
	case u.Fragment != "":
		c.add(key, "", "what stands behind # is not sent to a server")
	default:
		for name := range u.Query() {
			c.noSecret(key, name, t.text)
		}
	}
}

// cause takes the address off an error of net/url and net/http.
func cause(err error) error {
	var u *url.Error
	if errors.As(err, &u) {
		return u.Err
	}
	return err
}

// secretNames are parts of a query that hold what nobody else should read
// (common practice).
var secretNames = []string{"token", "access_token", "auth", "apikey", "api_key", "password", "secret"}

// noSecret refuses a token that is written into the file.
func (c *checker) noSecret(key, name, text string) {
	if slices.Contains(secretNames, strings.ToLower(name)) && !strings.Contains(text, "{token}") {
		c.add(key, "name a variable with token_from and write "+name+"={token}",
			"no tokens in the file: it may be seen by others")
	}
}

func (c *checker) headers() {
	for _, text := range c.d.Headers {
		name, value, found := strings.Cut(text, ":")
		name, value = http.CanonicalHeaderKey(strings.TrimSpace(name)), strings.TrimSpace(value)
		t := c.template("headers", value)
		switch {
		case !found || !headerName(name) || strings.ContainsAny(value, "\r\n"):
			c.add("headers", `write each as "Name: value"`, "%q is no header", shownHeader(text))
		case slices.Contains([]string{"Authorization", "Proxy-Authorization", "Cookie", "X-Api-Key"}, name) && !t.has("token"):
			c.add("headers", "name a variable with token_from and write {token} in its place",
				"no tokens in the file: it may be seen by others")
		case slices.Contains(harmless, name) && t.has("token"):
			c.add("headers", "use Authorization, or a name of the server's own", "%s is shown to every host and can't have the token", name)
		case slices.Contains([]string{"Host", "Accept-Encoding", "Content-Length", "Transfer-Encoding", "Connection", "Range",
			"If-None-Match", "If-Modified-Since"}, name):
			c.add("headers", "leave it out", "%s is set by foreply", name)
		default:
			c.s.headers = append(c.s.headers, header{name, t})
		}
	}
}

// headerName tells the signs of a token (RFC 9110, 5.6.2).
func headerName(name string) bool {
	return name != "" && strings.IndexFunc(name, func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune("!#$%&'*+-.^_`|~", r))
	}) < 0
}

// has reports whether a place stands anywhere in the address.
func (s *Source) has(name string) bool {
	return s.url.has(name) || s.list.has(name) || slices.ContainsFunc(s.query, func(q queryPart) bool {
		return q.name.has(name) || q.value.has(name)
	})
}

// paging checks that the places fit the way of paging.
func (c *checker) paging() {
	s := c.s
	if !slices.Contains([]paging{single, months, numbers, listed}, s.pages) {
		c.add("pages", "", "single, months, numbers or list is wanted, not %q", s.pages)
		return
	}
	if len(c.faults) > 0 {
		return // what follows would only be said twice
	}
	if !s.has("player") {
		c.add("url", "it stands for the handle, as in https://example.org/games/{player}", "no {player} in the address")
	}
	needs := map[paging][]string{months: {"year", "month"}, numbers: {"page"}, listed: {"address"}}
	for _, place := range []string{"year", "month", "page", "address"} {
		needed := slices.Contains(needs[s.pages], place)
		switch has := s.has(place); {
		case needed && !has:
			c.add("url", "", "pages: %s needs {%s} in the address", s.pages, place)
		case has && !needed:
			c.add("url", "", "{%s} has no meaning with pages: %s", place, s.pages)
		}
	}
	if s.list.has("address") || s.pages == listed && s.url.parts[0].name != "address" {
		c.add("url", "", "{address} begins the url: it is what the list gives")
	}
	c.start()
	c.listing()
}

func (c *checker) start() {
	if c.d.Start == "" {
		if c.s.pages == months {
			c.add("start", "the first month to ask for, as in start: 2018-01", "pages: months needs a start")
		}
		return
	}
	var ok bool
	if c.s.start, ok = ParseMonth(c.d.Start); !ok {
		c.add("start", "write it as YYYY-MM", "%q is no month", c.d.Start)
	}
}

func (c *checker) listing() {
	if c.s.pages == listed && (c.s.url.has("token") || slices.ContainsFunc(c.s.query, func(q queryPart) bool { return q.value.has("token") })) {
		c.add("url", "send it as a header, or put it into the address of the list", "the token can't go to addresses that a server names")
	}
	if c.s.pages != listed {
		if c.d.List != "" || c.d.ListPath != "" {
			c.add("list", "add pages: list", "a list is read with pages: list only")
		}
		return
	}
	if c.d.List == "" {
		c.add("list", "give the address of the list, as in https://example.org/{player}/archives", "pages: list needs a list")
	}
	if c.d.ListPath != "" {
		c.s.listPath = strings.Split(c.d.ListPath, ".")
	}
}

// token checks where the token goes: to a place of its own, or else to the
// Authorization header.
func (c *checker) token() {
	s := c.s
	used := s.has("token") || slices.ContainsFunc(s.headers, func(h header) bool { return h.value.has("token") })
	switch {
	case used && s.TokenFrom == "":
		c.add("token_from", "add token_from: and the name of the variable", "{token} needs the environment variable that holds it")
	case s.TokenFrom == "":
	case !variableName(s.TokenFrom):
		c.add("token_from", "give the name of a variable, not the token", "%s can't be the name of a variable", mask)
	case !used:
		bearer, _ := ParseTemplate("Bearer {token}")
		s.headers = append(s.headers, header{"Authorization", bearer})
	}
	for _, t := range []struct{ key, text string }{{"url", c.d.URL}, {"list", c.d.List}} {
		if s.TokenFrom != "" && strings.HasPrefix(t.text, "http://") && !loopback(t.text) {
			c.add(t.key, "use https://", "a token over http:// can be read on the way")
		}
	}
}

// loopback tells addresses that don't leave this machine.
func loopback(address string) bool {
	address, _, _ = strings.Cut(strings.TrimPrefix(address, "http://"), "/")
	u, err := url.Parse("http://" + address)
	if err != nil {
		return false
	}
	ip := net.ParseIP(u.Hostname())
	return u.Hostname() == "localhost" || ip != nil && ip.IsLoopback()
}

// CheckHandle says why a handle can't be asked for; nil if it can.
func CheckHandle(handle string) error {
	switch {
	case strings.TrimSpace(handle) == "":
		return errors.New("the handle is empty")
	case handle == "." || handle == "..":
		return fmt.Errorf("%q can't be a handle: in an address it means another folder", handle)
	case len(handle) > 200:
		return errors.New("the handle has more than 200 bytes")
	case strings.ContainsFunc(handle, func(r rune) bool { return r < ' ' || r == 0x7f }):
		return fmt.Errorf("%q has control characters", handle)
	}
	return nil
}
