package web

import (
	"slices"
	"strings"
	"testing"
	"time"
)

func TestFill(t *testing.T) {
	v := values{
		player: "slow pawn/88&?#é", month: Month{2026, 3}, page: 7, token: "a/b c", address: "https://example.org/x?y=1",
		from: time.Date(2026, 3, 4, 5, 6, 7, 8e6, time.FixedZone("", 3600)), to: time.Date(2026, 3, 5, 0, 0, 0, 0, time.UTC),
	}
	for _, c := range []struct{ template, want string }{
		{"https://example.org/{player}/games", "https://example.org/slow%20pawn%2F88&%3F%23%C3%A9/games"},
		{"https://example.org/?p={player}", "https://example.org/?p=slow+pawn%2F88%26%3F%23%C3%A9"},
		{"/{from:ms}/{from:s}/{from:date}", "/1772597167008/1772597167/2026-03-04"},
		{"/?{from:time}", "/?2026-03-04T04%3A06%3A07Z"},
		{"/{to:date}", "/2026-03-05"},
		{"/{year}/{month}/{month:plain}", "/2026/03/3"},
		{"/{page}/{page:0}", "/7/6"},
		{"/?t={token}", "/?t=a%2Fb+c"},
		{"{address}/pgn", "https://example.org/x?y=1/pgn"},
		{"{address}&p={player}", "https://example.org/x?y=1&p=slow+pawn%2F88%26%3F%23%C3%A9"},
		{"nothing", "nothing"},
	} {
		parsed, err := ParseTemplate(c.template)
		if err != nil {
			t.Errorf("%s: %v", c.template, err)
			continue
		}
		if got := parsed.fill(v); got != c.want {
			t.Errorf("%s: %s, want %s", c.template, got, c.want)
		}
		if parsed.String() != c.template {
			t.Errorf("%s became %s", c.template, parsed)
		}
	}
	since, _ := ParseTemplate("{from:s} {from:date}")
	if got := since.plain(values{}); got != "0 1970-01-01" {
		t.Errorf("before any fetch: %s", got)
	}
}

func TestTemplateFaults(t *testing.T) {
	for text, want := range map[string]string{
		"/{plyer}":      "nothing is known to put for {plyer}; known are {player} {from:ms} {to:ms} {year} {month} {page} {address} {token}",
		"/{}":           "nothing is known to put for {}",
		"/{player":      "{player is not closed by }",
		"/player}":      "a } without its {",
		"/{from}":       "{from} is written {from:ms}, {from:s}, {from:date}, {from:time}",
		"/{from:hours}": "{from:hours} is written {from:ms}",
		"/{player:ms}":  "{player:ms} is written {player}",
		"/{{player}}":   "nothing is known to put for {{player}",
	} {
		if _, err := ParseTemplate(text); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%s: %v, want %s", text, err, want)
		}
	}
}

func FuzzTemplate(f *testing.F) {
	f.Add("https://example.org/{player}?since={from:ms}", "slowpawn")
	f.Add("{address}{page:0}", "../?#")
	f.Fuzz(func(t *testing.T, text, player string) {
		NewSource(Description{ID: "x", URL: text, Query: []string{text}, Headers: []string{text}, List: text, Pages: "list"})
		s, faults := NewSource(Description{ID: "x", URL: "https://example.org/" + text + "/{player}/end"})
		if len(faults) > 0 || CheckHandle(player) != nil {
			return
		}
		got := s.url.fill(values{player: player})
		if !strings.HasPrefix(got, "https://example.org/") || strings.ContainsAny(got[len("https://example.org/"):], "\n\r") && !strings.ContainsAny(text, "\n\r") {
			t.Errorf("%q: %q", text, got)
		}
	})
}

func TestSourceFaults(t *testing.T) {
	ok := Description{ID: "x", URL: "https://example.org/{player}"}
	for _, c := range []struct {
		fault  string
		change func(*Description)
		key    string
		want   string
	}{
		{"no scheme", func(d *Description) { d.URL = "example.org/{player}" }, "url", "begins with https:// or http://"},
		{"another scheme", func(d *Description) { d.URL = "ftp://example.org/{player}" }, "url", "begins with https://"},
		{"no host", func(d *Description) { d.URL = "https:///{player}" }, "url", "no host of its own"},
		{"host from the handle", func(d *Description) { d.URL = "https://{player}.example.org/" }, "url", "no host of its own"},
		{"rest of the host from the handle", func(d *Description) { d.URL = "https://example.org{player}" }, "url", "no host of its own"},
		{"blank in the address", func(d *Description) { d.URL = "https://example.org/a b/{player}" }, "url", "a blank in the address"},
		{"name and password", func(d *Description) { d.URL = "https://a:b@example.org/{player}" }, "url", "no name and password"},
		{"fragment", func(d *Description) { d.URL += "#games" }, "url", "is not sent"},
		{"no address", func(d *Description) { d.URL = "https://example.org:x/{player}" }, "url", "it is no address"},
		{"no player", func(d *Description) { d.URL = "https://example.org/games" }, "url", "no {player} in the address"},
		{"page in one answer", func(d *Description) { d.URL += "/{page}" }, "url", "{page} has no meaning with pages: single"},
		{"months without month", func(d *Description) { d.Pages, d.Start = "months", "2020-01" }, "url", "pages: months needs {year}"},
		{"months without start", func(d *Description) { d.Pages, d.URL = "months", d.URL+"/{year}{month}" }, "start", "needs a start"},
		{"start that is no month", func(d *Description) { d.Pages, d.URL, d.Start = "months", d.URL+"/{year}{month}", "2020-13" }, "start", "is no month"},
		{"numbers without page", func(d *Description) { d.Pages = "numbers" }, "url", "pages: numbers needs {page}"},
		{"list without address", func(d *Description) { d.Pages, d.List = "list", "https://example.org/{player}" }, "url", "pages: list needs {address}"},
		{"address not at the start", func(d *Description) {
			d.Pages, d.List, d.URL = "list", "https://example.org/{player}", "https://example.org/{address}"
		}, "url", "{address} begins the url"},
		{"list without a list", func(d *Description) { d.Pages, d.URL = "list", "{address}/{player}" }, "list", "needs a list"},
		{"list for nothing", func(d *Description) { d.List = "https://example.org/{player}" }, "list", "is read with pages: list only"},
		{"unknown paging", func(d *Description) { d.Pages = "month" }, "pages", `single, months, numbers or list is wanted, not "month"`},
		{"query without a value", func(d *Description) { d.Query = []string{"color"} }, "query", `"color" is no part of a query`},
		{"query without a name", func(d *Description) { d.Query = []string{"=1"} }, "query", `"=1" is no part of a query`},
		{"two in one, with a token", func(d *Description) { d.Query = []string{"apikey=abc&x=1"} }, "query", `"apikey=***&x=1" can't stand in a query`},
		{"a blank in the query", func(d *Description) { d.Query = []string{"a=b c"} }, "query", "can't stand in a query"},
		{"a fragment in the query", func(d *Description) { d.Query = []string{"a=b#c"} }, "query", "can't stand in a query"},
		{"a token's name in capitals", func(d *Description) { d.Query = []string{"Access_Token=abc"} }, "query", "no tokens in the file"},
		{"a key for an API", func(d *Description) { d.Headers = []string{"x-api-key: abc"} }, "headers", "no tokens in the file"},
		{"a token without a colon", func(d *Description) { d.Headers = []string{"Authorization abc"} }, "headers", `"Authorization ***" is no header`},
		{"header without a name", func(d *Description) { d.Headers = []string{": b"} }, "headers", "is no header"},
		{"list of another scheme", func(d *Description) { d.Pages, d.URL, d.List = "list", "{address}", "ftp://example.org/{player}" }, "list", "begins with https://"},
		{"list that begins with an address", func(d *Description) { d.Pages, d.URL, d.List = "list", "{address}", "{address}/{player}" }, "list", "begins with https://"},
		{"list with an address in it", func(d *Description) {
			d.Pages, d.URL, d.List = "list", "{address}", "https://example.org/{player}?{address}"
		}, "url", "{address} begins the url"},
		{"path of a list for nothing", func(d *Description) { d.ListPath = "a.b" }, "list", "is read with pages: list only"},
		{"list for numbers", func(d *Description) { d.Pages, d.URL, d.List = "numbers", d.URL+"/{page}", "https://example.org/" }, "list", "is read with pages: list only"},
		{"no player, numbers", func(d *Description) { d.Pages, d.URL = "numbers", "https://example.org/{page}" }, "url", "no {player} in the address"},
		{"year of numbers", func(d *Description) { d.Pages, d.URL = "numbers", d.URL+"/{page}/{year}" }, "url", "{year} has no meaning with pages: numbers"},
		{"months without year", func(d *Description) { d.Pages, d.URL, d.Start = "months", d.URL+"/{month}", "2020-01" }, "url", "pages: months needs {year}"},
		{"months with a year alone", func(d *Description) { d.Pages, d.URL, d.Start = "months", d.URL+"/{year}", "2020-01" }, "url", "pages: months needs {month}"},
		{"months without start, but an end", func(d *Description) { d.Pages, d.URL, d.StopAfter = "months", d.URL+"/{year}{month}", 3 }, "start", "needs a start"},
		{"start that is no month, of one answer", func(d *Description) { d.Start = "May" }, "start", `"May" is no month`},
		{"token to listed addresses, in the query", func(d *Description) {
			d.TokenFrom, d.Pages, d.URL, d.List, d.Query = "T", "list", "{address}", "https://example.org/{player}", []string{"k={token}"}
		}, "url", "can't go to addresses that a server names"},
		{"token in clear to a host that begins like this machine", func(d *Description) { d.TokenFrom, d.URL = "T", "http://127.0.0.1.example.org/{player}" }, "url", "can be read on the way"},
		{"token in a header without a variable", func(d *Description) { d.Headers = []string{"X-Key: {token}"} }, "token_from", "needs the environment variable"},
		{"two in one", func(d *Description) { d.Query = []string{"a=b&c=d"} }, "query", "can't stand in a query"},
		{"token in the query", func(d *Description) { d.Query = []string{"access_token=abc"} }, "query", "no tokens in the file"},
		{"token in the address", func(d *Description) { d.URL += "?apikey=abc" }, "url", "no tokens in the file"},
		{"token in a header", func(d *Description) { d.Headers = []string{"authorization: Bearer abc"} }, "headers", "no tokens in the file"},
		{"cookie", func(d *Description) { d.Headers = []string{"Cookie: a=b"} }, "headers", "no tokens in the file"},
		{"no header", func(d *Description) { d.Headers = []string{"Accept"} }, "headers", "is no header"},
		{"header with a blank", func(d *Description) { d.Headers = []string{"A b: c"} }, "headers", "is no header"},
		{"header over two lines", func(d *Description) { d.Headers = []string{"A: b\nHost: x"} }, "headers", "is no header"},
		{"header of ours", func(d *Description) { d.Headers = []string{"host: example.org"} }, "headers", "Host is set by foreply"},
		{"token for everybody", func(d *Description) {
			d.TokenFrom, d.Headers = "T", []string{"User-Agent: {token}"}
		}, "headers", "User-Agent is shown to every host"},
		{"token without a variable", func(d *Description) { d.Query = []string{"key={token}"} }, "token_from", "needs the environment variable"},
		{"token instead of its variable", func(d *Description) { d.TokenFrom = "Bearer abc" }, "token_from", "*** can't be the name of a variable"},
		{"token in clear", func(d *Description) { d.TokenFrom, d.URL = "T", "http://example.org/{player}" }, "url", "can be read on the way"},
		{"token in clear, a list", func(d *Description) {
			d.TokenFrom, d.Pages, d.URL, d.List = "T", "list", "{address}", "http://example.org/{player}"
		}, "list", "can be read on the way"},
		{"token to listed addresses", func(d *Description) {
			d.TokenFrom, d.Pages, d.URL, d.List = "T", "list", "{address}?k={token}", "https://example.org/{player}"
		}, "url", "can't go to addresses that a server names"},
	} {
		t.Run(c.fault, func(t *testing.T) {
			d := ok
			c.change(&d)
			_, faults := NewSource(d)
			if len(faults) == 0 || !slices.ContainsFunc(faults, func(f Fault) bool {
				return f.Key == c.key && strings.Contains(f.Err.Error(), c.want)
			}) {
				t.Errorf("faults %v, want %s: %s", faults, c.key, c.want)
			}
			for _, f := range faults {
				if strings.Contains(f.Err.Error()+f.Hint, "abc") {
					t.Errorf("the token is told: %v, %s", f.Err, f.Hint)
				}
			}
		})
	}
	if _, faults := NewSource(ok); len(faults) > 0 {
		t.Errorf("without a fault: %v", faults)
	}
	for _, name := range []string{"Host", "Accept-Encoding", "Content-Length", "Transfer-Encoding", "Connection", "Range", "If-None-Match", "If-Modified-Since"} {
		d := ok
		d.Headers = []string{strings.ToLower(name) + ": x"}
		if _, faults := NewSource(d); len(faults) != 1 || faults[0].Err.Error() != name+" is set by foreply" {
			t.Errorf("%s: %v", name, faults)
		}
	}
	for _, name := range harmless[:4] {
		d := ok
		d.TokenFrom, d.Headers = "T", []string{name + ": {token}"}
		if _, faults := NewSource(d); len(faults) == 0 || !strings.HasPrefix(faults[0].Err.Error(), name+" is shown to every host") {
			t.Errorf("%s: %v", name, faults)
		}
	}
	if _, faults := NewSource(Description{ID: "x", URL: ok.URL, Query: []string{"auth=abc"}}); len(faults) == 0 || faults[0].Hint != "name a variable with token_from and write auth={token}" {
		t.Errorf("%+v", faults)
	}
	for _, d := range []Description{
		{ID: "x", URL: "http://example.org/{player}"}, {ID: "x", URL: ok.URL, Query: []string{"access_token={token}"}, TokenFrom: "T"}, {ID: "x", URL: "https://example.org/{player}", Query: []string{"{page}=1"}, Pages: "numbers"},
		{ID: "x", URL: ok.URL, Start: "2020-01"}, {ID: "x", URL: "{address}", Pages: "list", List: "https://example.org/{player}?k={token}", TokenFrom: "T", ListPath: "a.b"},
		{ID: "x", URL: ok.URL, Headers: []string{"x_a.b~1!#$%&'*+^`|-:  c  "}}, {ID: "x", URL: ok.URL, Headers: []string{"authorization: Token {token}", "cookie: a={token}"}, TokenFrom: "T"},
	} {
		s, faults := NewSource(d)
		if len(faults) > 0 {
			t.Errorf("%+v: %v", d, faults)
		}
		if d.ListPath != "" && !slices.Equal(s.listPath, []string{"a", "b"}) || strings.HasPrefix(strings.Join(d.Headers, ""), "x_a") && s.headers[0].value.text != "c" {
			t.Errorf("%+v", s)
		}
	}
	local := ok
	local.TokenFrom = "T"
	for _, host := range []string{"http://localhost:8080/", "http://127.0.0.1/", "http://[::1]:80/"} {
		local.URL = host + "{player}"
		if _, faults := NewSource(local); len(faults) > 0 {
			t.Errorf("%s stays on this machine: %v", host, faults)
		}
	}
}

func TestCheckHandle(t *testing.T) {
	for handle, ok := range map[string]bool{
		"tidewalker": true, "slow pawn": true, "a/b": true, "é": true, "...": true,
		"": false, " ": false, ".": false, "..": false, "a\nb": false, "a\x00": false, strings.Repeat("x", 201): false, strings.Repeat("x", 200): true, "a\x7f": false, "\t \n": false,
	} {
		if err := CheckHandle(handle); (err == nil) != ok {
			t.Errorf("%q: %v", handle, err)
		}
	}
}

func TestMonthsOf(t *testing.T) {
	const u = "https://example.org/p/2019-05/games/"
	for _, c := range []struct {
		quirk     string
		addresses []string
		want      string
	}{
		{"year and month", []string{u + "2026/01", u + "2026/02"}, "2026-01 2026-02"},
		{"in one number", []string{u + "202601.pgn", u + "202512.pgn"}, "2026-01 2025-12"},
		{"in the query", []string{u + "?month=2026-01&x=1"}, "2026-01"},
		{"one without", []string{u + "2026/01", u + "all"}, ""},
		{"the same twice", []string{u + "2026/01", u + "2026/01"}, ""},
		{"other words around", []string{u + "2026/01", u + "blitz/2026/02"}, ""},
		{"other words behind", []string{u + "2026/01/blitz", u + "2026/02/rapid"}, ""},
		{"another number before", []string{"https://example.org/201905/2026-01", "https://example.org/201905/2026-02"}, "2026-01 2026-02"},
		{"thirteenth month", []string{"https://example.org/2026/13"}, ""},
		{"longer number", []string{"https://example.org/2026012"}, ""},
		{"none", []string{"https://example.org/current"}, ""},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			got, ok := monthsOf(c.addresses)
			var text []string
			for _, m := range got {
				text = append(text, m.String())
			}
			if strings.Join(text, " ") != c.want || ok != (c.want != "") {
				t.Errorf("%q, %v", text, ok)
			}
		})
	}
}

func TestParseMonth(t *testing.T) {
	for text, ok := range map[string]bool{"2026-01": true, "2026-1": false, "2026-13": false, "2026": false, "": false, "0000-01": false} {
		if _, got := ParseMonth(text); got != ok {
			t.Errorf("%q: %v", text, got)
		}
	}
	if m := (Month{2026, 1}).previous(); m.String() != "2025-12" || m.next().String() != "2026-01" {
		t.Errorf("%v", m)
	}
}

// The token is hidden in every way that it can be written.
func TestSecret(t *testing.T) {
	s := Secret("a/b c")
	if got := s.hide("x a/b c y?k=a%2Fb+c&z /a%2Fb%20c/"); got != "x *** y?k=***&z /***/" {
		t.Error(got)
	}
	if Secret("").hide("text") != "text" || s.String() != mask || s.GoString() != mask {
		t.Error("an empty token hides nothing, and none prints itself")
	}
}

// The counter of games on the way counts each once, however the text is cut.
func TestGameCounter(t *testing.T) {
	text := tales(1, 2, 3)
	for size := 1; size < 40; size++ {
		c := &gameCounter{}
		for rest := text; rest != ""; {
			n := min(size, len(rest))
			c.Write([]byte(rest[:n]))
			rest = rest[n:]
		}
		if c.n != 3 {
			t.Errorf("in pieces of %d: %d games", size, c.n)
		}
	}
}
