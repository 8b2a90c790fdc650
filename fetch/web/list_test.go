package web

import (
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/jarcoal/httpmock"
)

// listing is a server whose list at /tidewalker is given, and that answers at each other
// address with the game of its last digit, or as the path says.
func listing(t *testing.T, list *string) *asked {
	return serve(t, func(w http.ResponseWriter, r *http.Request) {
		switch path := r.URL.Path; {
		case path == "/tidewalker":
			say(w, *list)
		case strings.HasPrefix(path, "/broken"):
			w.WriteHeader(http.StatusTeapot)
		default:
			say(w, tale(int(path[len(path)-1]-'0')))
		}
	})
}

// Three addresses in a row that fail end it, and the account says where; a good one between
// begins the row anew.
func TestAddressesThatFail(t *testing.T) {
	const teapot = ": the server says 418 I'm a teapot"
	for _, c := range []struct {
		list, want, reached string // * stands for the server
		keeps               []int
	}{
		{`["/1", "/broken/a", "/2", "/broken/b", "/3", "/broken/c", "/4"]`, "*/broken/a, */broken/b, */broken/c" + teapot, "", []int{1, 2, 3, 4}},
		{`["/1", "/broken/a", "/broken/b", "/broken/c", "/2"]`, "*/broken/a, */broken/b, */broken/c" + teapot, "at 4 of 5 addresses, */broken/c", []int{1}},
	} {
		site := listing(t, &c.list)
		v := newVisit(t, Description{URL: "{address}", Pages: "list", List: site.URL + "/{player}"})
		a, err := v.fetch()
		if here := strings.NewReplacer("*", site.URL); err == nil || err.Error() != here.Replace(c.want) || a.Reached != here.Replace(c.reached) {
			t.Errorf("%s: %v; %s", c.list, err, a.Reached)
		}
		v.keeps(c.keeps...)
	}
}

// While a run did not come to its end, the next one asks for the list again, whatever months
// it had; behind one that did, this month alone is asked for.
func TestListAfterAFailedRun(t *testing.T) {
	broken := true
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		switch {
		case r.URL.Path == "/tidewalker":
			say(w, `["/2026/10", "/2026/11"]`)
		case broken && r.URL.Path == "/2026/10":
			w.WriteHeader(http.StatusTeapot)
		default:
			say(w, tale(30*int(r.URL.Path[len(r.URL.Path)-1]-'0')+270))
		}
	})
	v := newVisit(t, Description{URL: "{address}", Pages: "list", List: site.URL + "/{player}"})
	v.badly("418", "")
	broken = false
	site.paths()
	for _, want := range [][]string{{"/tidewalker", "/2026/11", "/2026/10"}, {"/2026/11"}} {
		v.well()
		if got := site.paths(); !slices.Equal(got, want) {
			t.Errorf("asked for %q, want %q", got, want)
		}
	}
	v.keeps(270, 300)
}

// A list that tells the token in its addresses: nothing on disk has it, and the next run asks
// for the list, since what is remembered are no addresses.
func TestListThatTellsTheToken(t *testing.T) {
	list := `["/2026/11/1?key=s3cret-word"]`
	site := listing(t, &list)
	v := newVisit(t, Description{URL: "{address}", Pages: "list", List: site.URL + "/{player}", TokenFrom: "EXAMPLE_TOKEN"})
	v.opt.Token = "s3cret-word"
	for range 2 {
		v.well()
		if got := site.paths(); !slices.Equal(got, []string{"/tidewalker", "/2026/11/1?key=s3cret-word"}) {
			t.Errorf("asked for %q", got)
		}
		v.noSecret("s3cret-word")
	}
}

// What is told while a list and its addresses are asked for, and with which headers; the list
// may be packed though nobody says so.
func TestAskingForAList(t *testing.T) {
	v, transport := mock(t)
	v.source = Description{ID: "site", URL: "{address}", Pages: "list", List: "https://example.org/list/{player}", Headers: []string{"Accept: application/x-chess-pgn"}}
	var accepts []string
	reply := func(text string) httpmock.Responder {
		return func(r *http.Request) (*http.Response, error) {
			accepts = append(accepts, r.Header.Get("Accept")+" "+r.Header.Get("Accept-Encoding"))
			return httpmock.NewStringResponse(200, text), nil
		}
	}
	transport.RegisterResponder("GET", "https://example.org/list/tidewalker", reply(packed(`["/a", "/b"]`)))
	transport.RegisterResponder("GET", "https://example.org/a", reply(tale(3)))
	transport.RegisterResponder("GET", "https://example.org/b", reply(tale(4)))
	var told []Progress
	v.opt.Progress = func(p Progress) { told = append(told, p) }
	v.well()
	v.keeps(1, 2, 3, 4)
	if want := []string{"application/json identity", "application/x-chess-pgn gzip, zstd", "application/x-chess-pgn gzip, zstd"}; !slices.Equal(accepts, want) {
		t.Errorf("accepts %q", accepts)
	}
	var pages []string
	for _, p := range told {
		pages = append(pages, p.Page)
	}
	if got := slices.Compact(pages); !slices.Equal(got, []string{"the list", "https://example.org/a", "https://example.org/b"}) {
		t.Errorf("told of %q", got)
	}
	last := told[len(told)-1]
	if want := (Progress{"site", "opponent", "https://example.org/b", 3, int64(len(packed(`["/a", "/b"]`) + tale(3) + tale(4))), 2}); last != want {
		t.Errorf("told %+v, want %+v", last, want)
	}
}

// A list without an address, and one whose only entry is none.
func TestListWithoutAddresses(t *testing.T) {
	list := `{"all": []}`
	site := listing(t, &list)
	v := newVisit(t, Description{URL: "{address}", Pages: "list", List: site.URL + "/{player}", ListPath: "all"})
	if a := v.well(); !slices.Equal(a.Warnings, []string{"the list names no addresses"}) {
		t.Errorf("%+v", a)
	}
	list = `{"all": ["http://[x"]}`
	v.badly(`reading the list: the list has "http://[x", which is no address`, "does list_path of the source lead to the addresses of the games?")
	list = `{"all": {"a": ["/1"], "b": 1}, "more": null}`
	v.badly("reading the list: addresses are wanted there, and there are keys: a, b", "")
	v.source.ListPath = "all.c.d"
	v.badly("reading the list: all.c: there is no such key; there are: a, b", "list_path says where in it")
	v.source.ListPath = "more"
	v.badly("reading the list: addresses are wanted there, not null", "")
}

// Relative addresses are taken from where the list came from in the end.
func TestListThatMoved(t *testing.T) {
	other := serve(t, func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/new/place/list" {
			say(w, `["1", "/2", "../3"]`)
			return
		}
		say(w, tale(int(r.URL.Path[len(r.URL.Path)-1]-'0')))
	})
	home := serve(t, func(w http.ResponseWriter, r *http.Request) {
		http.Redirect(w, r, other.URL+"/new/place/list", http.StatusMovedPermanently)
	})
	v := newVisit(t, Description{URL: "{address}", Pages: "list", List: home.URL + "/{player}"})
	v.well()
	v.keeps(1, 2, 3)
	if got := other.paths(); !slices.Equal(got, []string{"/new/place/list", "/new/place/1", "/2", "/new/3"}) {
		t.Errorf("asked for %q", got)
	}
}

// What is picked out of a list, what is odd there, and why nothing can be.
func TestPick(t *testing.T) {
	keys := `{"a01":1,"a02":1,"a03":1,"a04":1,"a05":1,"a06":1,"a07":1,"a08":1,"a09":1,"a10":1,"a11":1,"a12":1,"a13":1,"a14":1,"a15":1,"a16":1,"a17":1,"a18":1,"a19":1,"a20":1`
	const twenty = "a01, a02, a03, a04, a05, a06, a07, a08, a09, a10, a11, a12, a13, a14, a15, a16, a17, a18, a19, a20"
	for _, c := range []struct{ text, path, want string }{
		{`["a", ["b", ["c"]], "d"]`, "", "a b c d"}, {`"a"`, "", "a"}, {`[]`, "", ""}, {`{"x": {"y": ["a", "b"]}}`, "x.y", "a b"},
		{`{"x": [{"y": "a"}, {"y": ["b", "c"]}]}`, "x.y", "a b c"},
		{`{"x": [{"y": "a"}, {"z": "b"}, 7]}`, "x.y", "a; there is no such key; there are: z; there is nothing below it"},
		{`["a", {"b": 1, "a": 2}, null, 1.5, "b"]`, "", "a b; addresses are wanted there, and there are keys: a, b; addresses are wanted there, not null; addresses are wanted there, not 1.5"},
		{`[1, null]`, "", "error: addresses are wanted there, not 1"},
		{`[[1], null, "a"]`, "", "a; addresses are wanted there, not 1; addresses are wanted there, not null"},
		{`{"x": null}`, "x", "error: addresses are wanted there, not null"},
		{`{"x": {"y": {}}}`, "x.y.z.q", "error: x.y.z: there is no such key; there are: "},
		{`{"x": "a"}`, "x.y", "error: x.y: there is nothing below it"},
		{keys + `}`, "x", "error: x: there is no such key; there are: " + twenty},
		{keys + `,"a00":1}`, "x", "error: x: there is no such key; there are: a00, " + strings.TrimSuffix(twenty, ", a20") + ", ..."},
		{" \n<html>\nx", "x", `error: it is no JSON; it starts with "<html>"`},
	} {
		var path []string
		if c.path != "" {
			path = strings.Split(c.path, ".")
		}
		addresses, odd, err := pick([]byte(c.text), path)
		got := strings.Join(addresses, " ")
		for _, err := range odd {
			got += "; " + err.Error()
		}
		if err != nil {
			got = "error: " + err.Error()
		}
		if got != c.want {
			t.Errorf("%s at %s: %s, want %s", c.text, c.path, got, c.want)
		}
	}
}

// Listed addresses are made whole; one that is less safe than that of the list is refused.
func TestResolve(t *testing.T) {
	for _, c := range []struct{ list, address, want string }{
		{"https://example.org/a/list?x", "b", "https://example.org/a/b"}, {"https://example.org/a/list", "//other.example.org/b", "https://other.example.org/b"},
		{"http://example.org/list", "https://other.example.org/b", "https://other.example.org/b"}, {"http://example.org/list", "http://other.example.org/b", "http://other.example.org/b"},
		{"https://example.org/list", "http://other.example.org/b", "the list, at https, has the address http://other.example.org/b, which is not followed: redirect refused"},
		{"http://example.org/list", "ftp://other.example.org/b", "the list, at http, has the address ftp://other.example.org/b, which is not followed: redirect refused"},
		{"https://example.org/list", "https://a@example.org/b", "the list, at https, has the address https://a@example.org/b, which is not followed: redirect refused"},
		{"https://example.org/list", "mailto:a", "the list, at https, has the address mailto:a, which is not followed: redirect refused"},
		{"https://example.org/list", "http://[", `the list has "http://[", which is no address`},
	} {
		got, err := (&run{}).resolve(c.list, c.address)
		if err != nil {
			got = err.Error()
		}
		if got != c.want {
			t.Errorf("%s in %s: %s, want %s", c.address, c.list, got, c.want)
		}
	}
}

// What is planned of a list: the list itself, or else the addresses that are open.
func TestPlanOfAList(t *testing.T) {
	list := `["/2026/09/1", "/2026/11/1", "/2026/10/1"]`
	site := listing(t, &list)
	v := newVisit(t, Description{URL: "{address}", Query: []string{"who={player}"}, Pages: "list", List: site.URL + "/{player}"})
	before := []Planned{{site.URL + "/tidewalker", "and the addresses in it that are not closed yet"}}
	plan := func(want []Planned, requests int) {
		t.Helper()
		if got := v.makeServer().Plan(v.store, v.player); !slices.Equal(got, want) {
			t.Errorf("%q, want %q", got, want)
		}
		if n, takes := v.makeServer().Expect(v.store, v.player); n != requests || takes != time.Duration(n)*time.Second {
			t.Errorf("expects %d requests, %v", n, takes)
		}
	}
	plan(before, 0)
	v.well()
	plan([]Planned{{site.URL + "/2026/11/1?who=tidewalker", ""}}, 1)
	v.opt.Full = true
	plan(before, 0)
}

// Whatever a server gives for a list, only whole addresses at safe schemes come of it,
// each once, and months only where all have one of their own.
func FuzzList(f *testing.F) {
	for _, seed := range []string{`{"archives":["https://example.org/2026/05","/2026/06",null,3]}`, `["ftp://x/y","//z",{"a":1}]`, `{"archives":[["a"],[],"\u202e"]}`,
		`{`, `null`, `"https://u:p@example.org/"`, strings.Repeat("[", 2000)} {
		f.Add([]byte(seed), "archives")
	}
	f.Fuzz(func(t *testing.T, text []byte, path string) {
		var keys []string
		if path != "" {
			keys = strings.Split(path, ".")
		}
		picked, odd, err := pick(text, keys)
		if err != nil && len(picked) > 0 {
			t.Fatalf("addresses beside the error %v", err)
		}
		for _, err := range odd {
			_ = err.Error()
		}
		r := &run{}
		var whole []string
		for _, a := range picked {
			got, err := r.resolve("https://example.org/list", a)
			if err != nil {
				continue
			}
			u, err := url.Parse(got)
			if err != nil || u.Scheme != "https" || u.Host == "" || u.User != nil {
				t.Fatalf("%q became %q, %v", a, got, err)
			}
			whole = append(whole, got)
		}
		entries, seen := inOrder(whole), map[Month]bool{}
		if len(entries) != len(whole) {
			t.Fatalf("%d of %d addresses", len(entries), len(whole))
		}
		for i, e := range entries {
			if e.month == (Month{}) {
				continue
			}
			if seen[e.month] || i > 0 && entries[i-1].month.before(e.month) {
				t.Fatalf("months %+v", entries)
			}
			seen[e.month] = true
		}
	})
}
