package web

import (
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"testing"
	"testing/synctest"
	"time"
)

// A server may send on, but not in a circle, not without end, not to another kind of
// address, nor from https to http; what goes along is the other host's to see.
func TestWhereAServerMaySendOn(t *testing.T) {
	for _, c := range []struct {
		way  string // the addresses, the next one last
		want string // why not
		gets string // the headers that the next one gets
	}{
		{"http://a.example.org/1 http://a.example.org/2", "", "Accept X-Key"},
		{"http://a.example.org/1 https://a.example.org/1", "", "Accept X-Key"},
		{"http://a.example.org/1 http://b.example.org/1", "", "Accept"},
		{"http://a.example.org/1 http://b.example.org/1 http://a.example.org/2", "", "Accept"},
		{"http://a.example.org/1 http://a.example.org:8080/1", "", "Accept"},
		{"http://a.example.org/1 http://a.example.org/2 http://a.example.org/2", "redirect refused: it leads in a circle", ""},
		{"http://a.example.org/1 http://a.example.org/2 http://a.example.org/1", "redirect refused: it leads in a circle", ""},
		{"http://a.example.org/1 http://a.example.org/2 http://a.example.org/3 http://a.example.org/4 http://a.example.org/5 http://a.example.org/6", "", "Accept X-Key"},
		{"http://a.example.org/1 http://a.example.org/2 http://a.example.org/3 http://a.example.org/4 http://a.example.org/5 http://a.example.org/6 http://a.example.org/7", "redirect refused: there are more than 5 in a row", ""},
		{"https://a.example.org/1 ftp://b.example.org/1", "redirect refused: it leads to ftp://b.example.org", ""},
		{"https://a.example.org/1 http://b.example.org/1", "redirect refused: it leads from https to http://b.example.org, where anybody can read along", ""},
		{"http://a.example.org/1 https://a.example.org/1 http://b.example.org/1", "redirect refused: it leads from https to http://b.example.org, where anybody can read along", ""},
	} {
		client := &client{}
		var via []*http.Request
		var err error
		for address := range strings.FieldsSeq(c.way) {
			u, _ := url.Parse(address)
			next := &http.Request{URL: u, Header: http.Header{"Accept": {"x"}, "X-Key": {"x"}, "Referer": {"http://a.example.org/1"}}}
			if len(via) > 0 && err == nil {
				err = client.redirect(next, via)
			}
			via = append(via, next)
		}
		if fmt.Sprint(err) != map[bool]string{true: "<nil>", false: c.want}[c.want == ""] {
			t.Errorf("%s: %v, want %s", c.way, err, c.want)
		}
		var gets []string
		for _, name := range []string{"Accept", "X-Key", "Referer"} {
			if via[len(via)-1].Header.Get(name) != "" {
				gets = append(gets, name)
			}
		}
		if got := strings.Join(gets, " "); err == nil && got != c.gets {
			t.Errorf("%s: it gets %s, want %s", c.way, got, c.gets)
		}
	}
}

// The token goes to the host that the source names, by the scheme that it names.
func TestSameHost(t *testing.T) {
	for address, want := range map[string]bool{
		"https://example.org/a?b": true, "http://example.org/": false, "https://example.org:8443/": false, "https://x.example.org/": false, "https://[": false,
	} {
		if got := sameHost(address, "https://example.org/x"); got != want {
			t.Errorf("%s: %v", address, got)
		}
	}
}

// closing is a body that notes its end.
type closing struct {
	io.Reader
	closed bool
}

func (c *closing) Close() error { c.closed = true; return nil }

// With the body of an answer its request ends.
func TestClosedAnswer(t *testing.T) {
	body := &closing{Reader: strings.NewReader("x")}
	var request *http.Request
	v := newVisit(t, Description{URL: "https://example.org/{player}"})
	v.opt.Transport = roundTripper(func(r *http.Request) (*http.Response, error) {
		request = r
		return &http.Response{StatusCode: 200, Body: body}, nil
	})
	response, err := v.makeServer().client.get(t.Context(), "https://example.org/x", nil)
	if err != nil || request.Context().Err() != nil || body.closed {
		t.Fatal(err)
	}
	if response.Body.Close(); !body.closed || request.Context().Err() == nil {
		t.Errorf("closed: %v, the request: %v", body.closed, request.Context().Err())
	}
}

// A body that brings enough in any two minutes may take as long as it does.
func TestSlowButEnough(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		v, transport := mock(t)
		v.opt.Now, v.opt.Sleep, v.opt.Patience.Tries = time.Now, Sleep, 1
		transport.RegisterResponder("GET", mocked, func(r *http.Request) (*http.Response, error) {
			return &http.Response{StatusCode: 200, Header: http.Header{}, Body: &trickle{r.Context(), tales(upTo(50)...), 14 * time.Millisecond, false}}, nil
		})
		begun := time.Now()
		if v.well(); time.Since(begun) < leastIn {
			t.Errorf("it took %v", time.Since(begun))
		}
		v.keeps(upTo(50)...)
	})
}

// Numbered pages, oldest first, that have not changed are none that repeat: the new game
// on the last one is reached.
func TestUnchangedPagesRepeatNothing(t *testing.T) {
	games := upTo(9)
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		n, _ := strconv.Atoi(r.URL.Query().Get("page"))
		text := tales(games[min(len(games), 2*n-2):min(len(games), 2*n)]...)
		w.Header().Set("ETag", strconv.Itoa(len(text)))
		if r.Header.Get("If-None-Match") == strconv.Itoa(len(text)) {
			w.WriteHeader(http.StatusNotModified)
			return
		}
		say(w, text)
	})
	v := newVisit(t, Description{URL: site.URL + "/{player}?page={page}", Pages: "numbers"})
	v.well()
	games = upTo(10)
	if a := v.well(); a.New != 1 || len(a.Warnings) != 0 {
		t.Errorf("%+v", a)
	}
	v.keeps(upTo(10)...)
}
