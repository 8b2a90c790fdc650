package web

import (
	"crypto/tls"
	"net"
	"net/http"
	"os"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/jarcoal/httpmock"

	"foreply/fetch"
)

// Each test of this file, and of those of bodies, redirects, the machine, and a
// process that is killed, is one fault of a server, of the way to it, or of this
// machine. Two games were kept before; after the fault, and again after a fetch
// that goes well, the cache is read: nothing lost, nothing doubled.

const mocked = "https://example.org/games/tidewalker"

// mock is a visit to a server that is only pretended. It has kept games 1 and 2.
func mock(t *testing.T) (*visit, *httpmock.MockTransport) {
	transport := httpmock.NewMockTransport()
	v := newVisit(t, Description{URL: "https://example.org/games/{player}"})
	v.opt.Transport = transport
	transport.RegisterResponder("GET", mocked, httpmock.NewStringResponder(200, tales(1, 2)))
	v.well()
	v.keeps(1, 2)
	transport.Reset()
	return v, transport
}

// recovers lets the server be well again, with game 3 added.
func recovers(v *visit, transport *httpmock.MockTransport) {
	v.Helper()
	v.keeps(1, 2)
	transport.RegisterResponder("GET", mocked, httpmock.NewStringResponder(200, tales(1, 2, 3)))
	if a := v.well(); a.New != 1 {
		v.Errorf("%+v", a)
	}
	v.keeps(1, 2, 3)
}

// refuse answers with a status and headers, and then with the games.
func refuse(times, status int, headers ...string) httpmock.Responder {
	return func(r *http.Request) (*http.Response, error) {
		if times--; times < 0 {
			return httpmock.NewStringResponse(200, tales(1, 2, 3)), nil
		}
		response := httpmock.NewStringResponse(status, "")
		for i := 0; i < len(headers); i += 2 {
			response.Header.Set(headers[i], headers[i+1])
		}
		return response, nil
	}
}

func TestTriesAgain(t *testing.T) {
	for _, c := range []struct {
		fault         string
		responder     httpmock.Responder
		requests      int
		least, most   time.Duration // waited in all
		otherwiseSaid string
	}{
		{"429 with seconds", refuse(1, 429, "Retry-After", "60"), 2, time.Minute, time.Minute, "429 Too Many Requests"},
		{"429 with a date", refuse(1, 429, "Retry-After", today.Add(90*time.Second).Format(http.TimeFormat)), 2, 88 * time.Second, 90 * time.Second, "429"},
		{"429 with a date that is over", refuse(1, 429, "Retry-After", "Mon, 01 Jan 2024 10:00:00 GMT"), 2, time.Second, 2 * time.Second, "429"},
		{"429 without a word", refuse(1, 429), 2, time.Second, 2 * time.Second, "429"},
		{"503 with seconds", refuse(1, 503, "Retry-After", "7"), 2, 7 * time.Second, 7 * time.Second, "503 Service Unavailable"},
		{"500 twice, then 200", refuse(2, 500), 3, 1500 * time.Millisecond, 5 * time.Second, "500 Internal Server Error"},
		{"connection reset", resets(2), 3, 1500 * time.Millisecond, 5 * time.Second, "connection reset"},
	} {
		t.Run(c.fault, func(t *testing.T) {
			v, transport := mock(t)
			v.clock.now, v.clock.slept = today, nil
			transport.RegisterResponder("GET", mocked, c.responder)
			var told []Again
			v.opt.Again = func(a Again) { told = append(told, a) }
			if a := v.well(); a.New != 1 || a.Requests != c.requests {
				t.Errorf("%+v", a)
			}
			v.keeps(1, 2, 3)
			if waited := v.clock.now.Sub(today); waited < c.least || waited > c.most {
				t.Errorf("waited %v, want %v to %v", waited, c.least, c.most)
			}
			if len(told) != c.requests-1 || !strings.Contains(told[0].Err.Error(), c.otherwiseSaid) || told[0].Try != 2 {
				t.Errorf("told %+v", told)
			}
		})
	}
}

func resets(times int) httpmock.Responder {
	return func(r *http.Request) (*http.Response, error) {
		if times--; times < 0 {
			return httpmock.NewStringResponse(200, tales(1, 2, 3)), nil
		}
		return nil, &net.OpError{Op: "read", Net: "tcp", Err: syscall.ECONNRESET}
	}
}

func TestGivesUp(t *testing.T) {
	for _, c := range []struct {
		fault, want, hint string
		requests          int
		responder         httpmock.Responder
	}{
		{"always 500", "the server says 500 Internal Server Error, tried 5 times", "the server has trouble", 5, refuse(99, 500)},
		{"always 429", "429 Too Many Requests, tried 5 times", "raise pace", 5, refuse(99, 429)},
		{"429 for an hour", "429 Too Many Requests, the server asks to wait 60 minutes", "again in 60 minutes", 1, refuse(99, 429, "Retry-After", "3600")},
		{"429 until the year 9999", "429 Too Many Requests, the server asks to wait 366 days", "again in 366 days", 1, refuse(99, 429, "Retry-After", "Fri, 31 Dec 9999 23:59:59 GMT")},
		{"four minutes twice: too long in all", "the server asks to wait 4 minutes", "again in 4 minutes", 2, refuse(99, 503, "Retry-After", "240")},
		{"400", "400 Bad Request", "compare it with the server's documentation", 1, refuse(99, 400)},
		{"401", "401 Unauthorized", "name that with token_from", 1, refuse(99, 401)},
		{"403", "403 Forbidden", "name that with token_from", 1, refuse(99, 403)},
		{"404", "404 Not Found", "is the handle tidewalker right? It stands under handles of opponent", 1, refuse(99, 404)},
		{"410", "410 Gone", "is the handle tidewalker right?", 1, refuse(99, 410)},
		{"418", "418 I'm a teapot", "documentation", 1, refuse(99, 418)},
		{"304 without being asked", "304 Not Modified", "no answer", 1, refuse(99, 304)},
		{"no such host", "looking up example.org: no such host", "is the host in the source's url spelled right, and are you connected?", 1,
			httpmock.NewErrorResponder(&net.DNSError{Err: "no such host", Name: "example.org", IsNotFound: true})},
		{"DNS out of order", "looking up example.org: server misbehaving, tried 5 times", "spelled right", 5,
			httpmock.NewErrorResponder(&net.DNSError{Err: "server misbehaving", Name: "example.org", IsTemporary: true})},
		{"connection refused", "connecting to 192.0.2.1:443: connection refused, tried 5 times", "the server may be down", 5,
			httpmock.NewErrorResponder(&net.OpError{Op: "dial", Net: "tcp", Addr: &net.TCPAddr{IP: net.IPv4(192, 0, 2, 1), Port: 443}, Err: os.NewSyscallError("connect", syscall.ECONNREFUSED)})},
		{"connection reset", "connection reset by peer, tried 5 times", "the server may be down", 5,
			httpmock.NewErrorResponder(&net.OpError{Op: "read", Net: "tcp", Err: os.NewSyscallError("read", syscall.ECONNRESET)})},
		{"no https", "the server does not speak https there", "with its port?", 1,
			httpmock.NewErrorResponder(tls.RecordHeaderError{Msg: "first record does not look like a TLS handshake"})},
		{"web page", `it does not look like PGN: it is a web page (HTML) and starts with "<!DOCTYPE html>"`, "--dry-run", 1,
			httpmock.NewStringResponder(200, "<!DOCTYPE html>\n<html><body>We are down for maintenance</body></html>")},
		{"JSON", `it is JSON and starts with ` + "`{\"error\": \"too many requests, try later\"}`", "--dry-run", 1,
			httpmock.NewStringResponder(200, `{"error": "too many requests, try later"}`)},
		{"plain words", `there is no game in it; it starts with "No such player."`, "--dry-run", 1,
			httpmock.NewStringResponder(200, "No such player.\nSorry.")},
		{"packed in another way", "packed in a way that was not asked for: br", "only gzip and zstd can be unpacked", 1,
			refuse(99, 200, "Content-Encoding", "br")},
	} {
		t.Run(c.fault, func(t *testing.T) {
			v, transport := mock(t)
			transport.RegisterResponder("GET", mocked, c.responder)
			if a := v.badly(c.want, c.hint); a.Requests != c.requests || a.New != 0 || a.Kept != 2 {
				t.Errorf("%+v", a)
			}
			recovers(v, transport)
		})
	}
}

// Nothing at all for a handle is no error, but worth a word.
func TestNoGamesAtAll(t *testing.T) {
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {})
	v := newVisit(t, Description{URL: site.URL + "/{player}"})
	if a := v.well(); len(a.Warnings) != 1 || !strings.Contains(a.Warnings[0], "no games of tidewalker: is the handle right") {
		t.Errorf("%+v", a)
	}
	v.keeps()
}

// The words of a refusal are told, without the token that some repeat.
func TestRefusalIsQuoted(t *testing.T) {
	v, transport := mock(t)
	v.source.TokenFrom, v.opt.Token = "EXAMPLE_TOKEN", "s3cret"
	transport.RegisterResponder("GET", mocked, httpmock.NewStringResponder(401, `{"error": "s3cret has expired"}`))
	v.badly("the server says 401 Unauthorized: `{\"error\": \"*** has expired\"}`", "is the token in EXAMPLE_TOKEN right, and still valid?")
	v.source.TokenFrom = ""
	recovers(v, transport)
}

func TestTokenIsMissing(t *testing.T) {
	v, transport := mock(t)
	v.source.TokenFrom = "EXAMPLE_TOKEN"
	if a := v.badly("the variable EXAMPLE_TOKEN is not set", "export EXAMPLE_TOKEN="); a.Requests != 0 {
		t.Errorf("%+v", a)
	}
	v.source.TokenFrom = ""
	recovers(v, transport)
}

// Bytes that are no UTF-8 are taken for Windows-1252; what is kept is UTF-8.
func TestInvalidUTF8(t *testing.T) {
	v, transport := mock(t)
	transport.RegisterResponder("GET", mocked, httpmock.NewStringResponder(200, tales(1, 2)+
		strings.Replace(tale(3), "rival3", "M\xfcller", 1)))
	if a := v.well(); a.New != 1 {
		t.Errorf("%+v", a)
	}
	v.keeps(1, 2, 3)
	if text, _ := os.ReadFile(v.store.Path("site", "opponent")); !strings.Contains(string(text), `[Black "Müller"]`) {
		t.Errorf("kept\n%s", text)
	}
	if a := v.well(); a.New != 0 {
		t.Errorf("again: %+v", a)
	}
	v.keeps(1, 2, 3)
}

// A handle can't lead out of the cache, nor to another address.
func TestHandlesAreEscaped(t *testing.T) {
	site := serve(t, func(w http.ResponseWriter, r *http.Request) { say(w, tale(1)) })
	v := newVisit(t, Description{URL: site.URL + "/games/{player}/all?who={player}"})
	v.player = Player{"../../x", "../a?b#c&d e/é", fetch.Who{}}
	v.well()
	if got := site.paths()[0]; got != "/games/..%2Fa%3Fb%23c&d%20e%2F%C3%A9/all?who=..%2Fa%3Fb%23c%26d+e%2F%C3%A9" {
		t.Errorf("asked for %s", got)
	}
	if _, err := os.Stat(v.store.Folder + "/site/%2E%2E%2F%2E%2E%2Fx/games.pgn"); err != nil {
		t.Error(err)
	}
}

// Thirty games come again, corrected in all ways: they stay thirty, in the newer text.
func TestCorrectedByTheServer(t *testing.T) {
	now := tales(upTo(30)...)
	site := serve(t, func(w http.ResponseWriter, r *http.Request) { say(w, now) })
	v := newVisit(t, Description{URL: site.URL + "/{player}"})
	if a := v.well(); a.New != 30 || a.Corrected != 0 {
		t.Fatalf("%+v", a)
	}
	for _, c := range [][2]string{{"1-0", "0-1"}, {"5. O-O Be7", "5. O-O b5 6. Bb3 Bb7"}, {"[Event \"casual\"]", "[Event \"league\"]\n[WhiteElo \"1800\"]"}} {
		now = strings.ReplaceAll(now, c[0], c[1])
		if a := v.well(); a.New != 0 || a.Corrected != 30 || a.Kept != 30 {
			t.Errorf("%q: %d new, %d corrected, %d kept", c, a.New, a.Corrected, a.Kept)
		}
		text, err := os.ReadFile(v.store.Path("site", "opponent"))
		if string(text) != now {
			t.Errorf("%q: kept\n%s%v", c, text, err)
		}
	}
	if a := v.well(); a.Corrected != 0 {
		t.Errorf("nothing changed, and %d are corrected", a.Corrected)
	}
}
