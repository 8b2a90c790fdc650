package web

import (
	"bytes"
	"compress/gzip"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"syscall"
	"testing"
	"testing/synctest"
	"time"

	"github.com/jarcoal/httpmock"
	"github.com/klauspost/compress/zstd"

	"foreply/fetch"
)

// Each test of this file is one fault of a server, of the way to it, or of this
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
		{"429 for an hour", "429 Too Many Requests, the server asks to wait 1h0m0s", "again in 60 minutes", 1, refuse(99, 429, "Retry-After", "3600")},
		{"four minutes twice: too long in all", "the server asks to wait 4m0s", "again in 4 minutes", 2, refuse(99, 503, "Retry-After", "240")},
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
		{"web page", `it does not look like PGN: it is a web page (HTML) and starts with "<!DOCTYPE html>"`, "--dry-run", 1,
			httpmock.NewStringResponder(200, "<!DOCTYPE html>\n<html><body>We are down for maintenance</body></html>")},
		{"JSON", `it is JSON and starts with ` + "`{\"error\": \"too many requests, try later\"}`", "--dry-run", 1,
			httpmock.NewStringResponder(200, `{"error": "too many requests, try later"}`)},
		{"plain words", `there is no game in it; it starts with "No such player."`, "--dry-run", 1,
			httpmock.NewStringResponder(200, "No such player.\nSorry.")},
		{"packed in another way", "packed in a way that was not asked for: br", "", 1,
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

// real is a visit to a real server on this machine, which does what the handler
// says after it gave games 1 and 2.
func real(t *testing.T, fault http.HandlerFunc) (v *visit, well func(numbers ...int)) {
	answer := func(w http.ResponseWriter, r *http.Request) { say(w, tales(1, 2)) }
	site := serve(t, func(w http.ResponseWriter, r *http.Request) { answer(w, r) })
	v = newVisit(t, Description{URL: site.URL + "/{player}"})
	v.opt.Patience.Tries = 2
	v.well()
	v.keeps(1, 2)
	answer = fault
	return v, func(numbers ...int) {
		t.Helper()
		answer = func(w http.ResponseWriter, r *http.Request) { say(w, tales(numbers...)) }
		v.well()
		v.keeps(numbers...)
	}
}

// cutAt answers with the beginning of a text and drops the connection.
func cutAt(text string, at int) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		say(w, text[:at])
		w.(http.Flusher).Flush()
		panic(http.ErrAbortHandler)
	}
}

// A connection cut in the middle of a game: the whole games are kept, the cut
// one comes with the next fetch. Every place of the cut is tried, also that right
// before the game's result.
func TestCutConnection(t *testing.T) {
	whole := tales(1, 2, 3, 4)
	for _, c := range []struct {
		where string
		at    int
		keeps []int
	}{
		{"in a tag", strings.Index(whole, "rival4"), []int{1, 2, 3}},
		{"between tags and moves", strings.LastIndex(whole, "1. e4"), []int{1, 2, 3}},
		{"in the moves", strings.LastIndex(whole, "Bb5"), []int{1, 2, 3}},
		{"before the result", strings.LastIndex(whole, "1-0"), []int{1, 2, 3}},
		{"in the result", strings.LastIndex(whole, "-0"), []int{1, 2, 3}},
		{"behind the result", len(whole) - 2, []int{1, 2, 3, 4}},
		{"in the first game", 20, []int{1, 2}},
	} {
		t.Run(c.where, func(t *testing.T) {
			v, well := real(t, cutAt(whole, c.at))
			a := v.badly("the answer breaks off, tried 2 times", "run foreply fetch again; what came is kept")
			if a.Requests != 2 || a.Kept != len(c.keeps) {
				t.Errorf("%+v", a)
			}
			v.keeps(c.keeps...)
			well(1, 2, 3, 4, 5)
		})
	}
}

// Cut once, and whole at the second try.
func TestCutOnce(t *testing.T) {
	tries := 0
	v, well := real(t, func(w http.ResponseWriter, r *http.Request) {
		if tries++; tries == 1 {
			cutAt(tales(1, 2, 3), 500)(w, r)
		}
		say(w, tales(1, 2, 3))
	})
	if a := v.well(); a.New != 1 || a.Requests != 2 {
		t.Errorf("%+v", a)
	}
	v.keeps(1, 2, 3)
	well(1, 2, 3, 4)
}

// A stream whose newest games come first must be asked for as before when it was
// cut: what is missing is older than what came. One with the oldest first goes on
// where it was cut.
func TestCutStream(t *testing.T) {
	newest := []int{30, 29, 28, 27, 26, 25, 24, 23, 22, 21, 20, 19, 18, 17, 16, 15}
	oldest := upTo(16)
	for _, c := range []struct {
		quirk   string
		games   []int
		keeps   []int
		again   string // what is asked for next
		reached string
	}{
		{"newest first", newest, newest[:12], "", "in the middle of the answer"},
		{"oldest first", oldest, oldest[:12], "?since=2026-01-12", "in the middle of the answer, at games of 2026-01-13"},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			cut := true
			site := serve(t, func(w http.ResponseWriter, r *http.Request) {
				if cut {
					cutAt(tales(c.games...), len(tales(c.games[:12]...))+100)(w, r)
				}
				say(w, tales(c.games...))
			})
			v := newVisit(t, Description{URL: site.URL + "/{player}", Query: []string{"since={from:date}"}})
			v.opt.Patience.Tries = 1
			if a := v.badly("the answer breaks off", ""); a.Reached != c.reached {
				t.Errorf("%+v", a)
			}
			v.keeps(c.keeps...)
			cut = false
			site.paths()
			v.well()
			if got := site.paths()[0]; got != "/tidewalker"+c.again {
				t.Errorf("asked for %s", got)
			}
			v.keeps(c.games...)
		})
	}
}

// A length that is not that of the body, in both directions.
func TestWrongContentLength(t *testing.T) {
	text := tales(1, 2, 3)
	for _, c := range []struct {
		fault, want string
		length      int
		keeps       []int
	}{
		{"too long", "the answer breaks off", len(text) + 100, []int{1, 2, 3}},
		{"too short, in mid-game", "the answer breaks off in the middle of its last game", len(text) - 20, []int{1, 2}},
	} {
		t.Run(c.fault, func(t *testing.T) {
			v, well := real(t, func(w http.ResponseWriter, r *http.Request) {
				connection, out, err := w.(http.Hijacker).Hijack()
				if err != nil {
					panic(err)
				}
				defer connection.Close()
				fmt.Fprintf(out, "HTTP/1.1 200 OK\r\nContent-Length: %d\r\n\r\n%s", c.length, text)
				out.Flush()
			})
			v.badly(c.want, "run foreply fetch again")
			v.keeps(c.keeps...)
			well(1, 2, 3)
		})
	}
}

// Without a length and without chunks, the end of the connection is the end of
// the body: whether it was cut can be told only from the last game.
func TestBodyWithoutLength(t *testing.T) {
	text := tales(1, 2, 3)
	for _, c := range []struct {
		quirk, body, want string
		keeps             []int
	}{
		{"whole", text, "", []int{1, 2, 3}},
		{"cut", text[:len(text)-15], "in the middle of its last game", []int{1, 2}},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			v, well := real(t, func(w http.ResponseWriter, r *http.Request) {
				connection, out, _ := w.(http.Hijacker).Hijack()
				fmt.Fprintf(out, "HTTP/1.0 200 OK\r\n\r\n%s", c.body)
				out.Flush()
				connection.Close()
			})
			if c.want == "" {
				v.well()
			} else {
				v.badly(c.want, "")
			}
			v.keeps(c.keeps...)
			well(1, 2, 3, 4)
		})
	}
}

// An exporter that never writes results has whole games all the same.
func TestGamesWithoutResults(t *testing.T) {
	bare := func(n int) string { return strings.Replace(tale(n), "Be7 1-0", "Be7", 1) }
	site := serve(t, func(w http.ResponseWriter, r *http.Request) { say(w, bare(1)+bare(2)) })
	v := newVisit(t, Description{URL: site.URL + "/{player}"})
	if a := v.well(); a.New != 2 {
		t.Errorf("%+v", a)
	}
}

// trickle is a body that hands out a byte at a time, slowly, and then nothing
// more, until its request ends.
type trickle struct {
	ctx   context.Context
	text  string
	every time.Duration
	hangs bool
}

func (b *trickle) Read(p []byte) (int, error) {
	if b.text == "" && !b.hangs {
		return 0, io.EOF
	}
	wait := b.every
	if b.text == "" {
		wait = 24 * time.Hour
	}
	if err := Sleep(b.ctx, wait); err != nil {
		return 0, err
	}
	n := copy(p[:1], b.text)
	b.text = b.text[n:]
	return n, nil
}

func (b *trickle) Close() error { return nil }

// A body may be slow as long as something comes: the limit is on the time without
// anything. The clock of these tests runs without waiting.
func TestSlowBody(t *testing.T) {
	for _, c := range []struct {
		fault string
		every time.Duration
		hangs bool
		want  string
		takes time.Duration
		keeps []int
	}{
		{"a byte every nine seconds", 9 * time.Second, false, "", time.Duration(len(tales(1, 2, 3))) * 9 * time.Second, []int{1, 2, 3}},
		{"a byte every eleven seconds", 11 * time.Second, false, "breaks off: the server stopped sending", 20 * time.Second, []int{1, 2}},
		{"nothing more after the third game", time.Millisecond, true, "breaks off: the server stopped sending", 20 * time.Second, []int{1, 2, 3}},
	} {
		t.Run(c.fault, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				v, transport := mock(t)
				v.opt.Now, v.opt.Sleep, v.opt.Patience.Tries = time.Now, Sleep, 2
				v.opt.Patience.Longest = time.Hour
				transport.RegisterResponder("GET", mocked, func(r *http.Request) (*http.Response, error) {
					return &http.Response{StatusCode: 200, Header: http.Header{}, ContentLength: -1,
						Body: &trickle{r.Context(), tales(1, 2, 3), c.every, c.hangs}}, nil
				})
				begun := time.Now()
				if c.want == "" {
					v.well()
				} else if a := v.badly(c.want, "run foreply fetch again"); a.Requests != 2 {
					t.Errorf("%+v", a)
				}
				if took := time.Since(begun); took < c.takes || took > c.takes+5*time.Second {
					t.Errorf("took %v, want %v", took, c.takes)
				}
				v.keeps(c.keeps...)
				transport.RegisterResponder("GET", mocked, httpmock.NewStringResponder(200, tales(1, 2, 3, 4)))
				v.well()
				v.keeps(1, 2, 3, 4)
			})
		})
	}
}

// The same against a real connection that hangs: the request is given up.
func TestHangingConnection(t *testing.T) {
	gone := make(chan bool, 2)
	v, well := real(t, func(w http.ResponseWriter, r *http.Request) {
		say(w, tales(1, 2, 3))
		w.(http.Flusher).Flush()
		<-r.Context().Done()
		gone <- true
	})
	v.opt.Idle = 100 * time.Millisecond
	v.badly("the server stopped sending", "run foreply fetch again")
	<-gone
	v.keeps(1, 2, 3)
	v.opt.Idle = 10 * time.Second
	well(1, 2, 3, 4)
}

// A server that is silent before its first byte, too.
func TestSilentServer(t *testing.T) {
	v, well := real(t, func(w http.ResponseWriter, r *http.Request) { <-r.Context().Done() })
	v.opt.Idle = 100 * time.Millisecond
	v.badly("timeout awaiting response headers, tried 2 times", "the server may be down")
	v.opt.Idle = 10 * time.Second
	well(1, 2, 3)
}

// endless writes games until nobody listens.
func endless(w io.Writer) {
	for n := 3; ; n++ {
		if _, err := io.WriteString(w, tale(n%200)); err != nil {
			return
		}
	}
}

func TestEndlessBody(t *testing.T) {
	for _, c := range []struct {
		fault string
		body  func(w io.Writer)
		want  string
	}{
		{"games", endless, "the answer has more than 1 MB"},
		{"games, packed", func(w io.Writer) { endless(gzip.NewWriter(w)) }, "unpacks to more than 1048576 bytes"},
		{"blanks", func(w io.Writer) {
			for blanks := bytes.Repeat([]byte("\n"), 4096); ; {
				if _, err := w.Write(blanks); err != nil {
					return
				}
			}
		}, "the answer has more than 1 MB"},
	} {
		t.Run(c.fault, func(t *testing.T) {
			v, well := real(t, func(w http.ResponseWriter, r *http.Request) { c.body(w) })
			v.source.MaxMB = 1
			if a := v.badly(c.want, "raise max_mb of the source"); a.Requests != 1 || a.New != 0 || a.Bytes > 3<<20 {
				t.Errorf("%+v", a)
			}
			v.keeps(1, 2)
			well(1, 2, 3)
		})
	}
}

// A small answer that unpacks to very much.
func TestGzipBomb(t *testing.T) {
	var bomb bytes.Buffer
	z := gzip.NewWriter(&bomb)
	for range 64 {
		z.Write(bytes.Repeat([]byte(" "), 1<<20))
	}
	z.Close()
	v, well := real(t, func(w http.ResponseWriter, r *http.Request) { w.Write(bomb.Bytes()) })
	v.badly("it unpacks to more than 200 times its size", "such an answer is not taken")
	v.keeps(1, 2)
	well(1, 2, 3)
}

// What is packed is told by its content, whatever the headers say.
func TestPacked(t *testing.T) {
	text := []byte(tales(1, 2, 3))
	var gz bytes.Buffer
	z := gzip.NewWriter(&gz)
	z.Write(text)
	z.Close()
	encoder, _ := zstd.NewWriter(nil)
	for _, c := range []struct {
		quirk, encoding string
		body            []byte
		want            string
		keeps           []int
	}{
		{"gzip", "gzip", gz.Bytes(), "", []int{1, 2, 3}},
		{"gzip as a file", "", gz.Bytes(), "", []int{1, 2, 3}},
		{"zstd", "zstd", encoder.EncodeAll(text, nil), "", []int{1, 2, 3}},
		{"said to be gzip, but plain", "gzip", text, "", []int{1, 2, 3}},
		{"gzip, cut behind the last game", "gzip", gz.Bytes()[:gz.Len()-8], "the answer breaks off", []int{1, 2, 3}},
		{"gzip, cut in mid-game", "gzip", gz.Bytes()[:gz.Len()-20], "the answer breaks off", []int{1, 2}},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			v, well := real(t, func(w http.ResponseWriter, r *http.Request) {
				if r.Header.Get("Accept-Encoding") != "gzip, zstd" {
					t.Errorf("accepts %q", r.Header.Get("Accept-Encoding"))
				}
				if c.encoding != "" {
					w.Header().Set("Content-Encoding", c.encoding)
				}
				w.Write(c.body)
			})
			if c.want == "" {
				v.well()
			} else {
				v.badly(c.want, "")
			}
			v.keeps(c.keeps...)
			well(1, 2, 3, 4)
		})
	}
}

func TestRedirects(t *testing.T) {
	for _, c := range []struct {
		fault, want string
		requests    int
		handle      http.HandlerFunc
	}{
		{"in a circle", "redirect refused: it leads in a circle", 2, func(w http.ResponseWriter, r *http.Request) {
			http.Redirect(w, r, map[bool]string{true: "/elsewhere", false: "/tidewalker"}[r.URL.Path == "/tidewalker"], http.StatusFound)
		}},
		{"on and on", "there are more than 5 in a row", 6, func(w http.ResponseWriter, r *http.Request) {
			http.Redirect(w, r, r.URL.Path+"/x", http.StatusFound)
		}},
		{"to a file", "redirect refused: it leads to file://", 1, func(w http.ResponseWriter, r *http.Request) {
			http.Redirect(w, r, "file:///etc/passwd", http.StatusFound)
		}},
		{"to nowhere", "302", 1, func(w http.ResponseWriter, r *http.Request) { w.WriteHeader(http.StatusFound) }},
		{"once", "", 2, func(w http.ResponseWriter, r *http.Request) {
			if r.URL.Path == "/tidewalker" {
				http.Redirect(w, r, "/games/tidewalker", http.StatusMovedPermanently)
				return
			}
			say(w, tales(1, 2))
		}},
	} {
		t.Run(c.fault, func(t *testing.T) {
			v, well := real(t, c.handle)
			var a Account
			if c.want == "" {
				a = v.well()
			} else {
				a = v.badly(c.want, "")
			}
			if a.Requests != c.requests {
				t.Errorf("%+v", a)
			}
			v.keeps(1, 2)
			well(1, 2, 3)
		})
	}
}

// The token goes to the host it is for and to no other, also not on the way back;
// nor does the address that it may stand in.
func TestRedirectToAnotherHost(t *testing.T) {
	var home *asked
	other := serve(t, func(w http.ResponseWriter, r *http.Request) {
		for _, name := range []string{"Authorization", "X-Key", "Cookie", "Referer"} {
			if r.Header.Get(name) != "" {
				t.Errorf("the other host gets %s: %s", name, r.Header.Get(name))
			}
		}
		if r.Header.Get("Accept") != "application/x-chess-pgn" {
			t.Errorf("accepts %q", r.Header.Get("Accept"))
		}
		http.Redirect(w, r, home.URL+"/back", http.StatusFound)
	})
	home = serve(t, func(w http.ResponseWriter, r *http.Request) {
		switch r.URL.Path {
		case "/back":
			if r.Header.Get("Authorization") != "" || r.Header.Get("X-Key") != "" {
				t.Error("the token goes where another host pointed")
			}
			say(w, tale(1))
		default:
			if r.Header.Get("Authorization") != "Bearer s3cret" || r.Header.Get("X-Key") != "key s3cret" || r.URL.Query().Get("k") != "s3cret" {
				t.Errorf("the token is not sent: %v", r.Header)
			}
			http.Redirect(w, r, other.URL+"/", http.StatusFound)
		}
	})
	v := newVisit(t, Description{URL: home.URL + "/{player}?k={token}", TokenFrom: "EXAMPLE_TOKEN",
		Headers: []string{"Accept: application/x-chess-pgn", "X-Key: key {token}", "Authorization: Bearer {token}"}})
	v.opt.Token = "s3cret\n"
	if a := v.well(); a.Requests != 3 || len(a.Warnings) != 1 || !strings.Contains(a.Warnings[0], "does not get the token") {
		t.Errorf("%+v", a)
	}
	v.keeps(1)
	v.noSecret("s3cret")
}

// noSecret fails if the token stands in any file of the cache.
func (v *visit) noSecret(token string) {
	v.Helper()
	root := os.DirFS(v.store.Folder)
	for _, name := range []string{"site/opponent/games.pgn", "site/opponent/state.json"} {
		f, err := root.Open(name)
		if err != nil {
			v.Fatal(err)
		}
		text, _ := io.ReadAll(f)
		f.Close()
		if bytes.Contains(text, []byte(token)) {
			v.Errorf("%s has the token:\n%s", name, text)
		}
	}
}

// A list may name another host; the token stays at home.
func TestListedAddressAtAnotherHost(t *testing.T) {
	other := serve(t, func(w http.ResponseWriter, r *http.Request) {
		if r.Header.Get("Authorization") != "" {
			t.Error("the other host gets the token")
		}
		say(w, tale(2))
	})
	var home *asked
	home = serve(t, func(w http.ResponseWriter, r *http.Request) {
		if r.Header.Get("Authorization") != "Bearer s3cret" {
			t.Error("the token is not sent")
		}
		if r.URL.Path == "/tidewalker" {
			fmt.Fprintf(w, `["%s/a", "%s/b"]`, home.URL, other.URL)
			return
		}
		say(w, tale(1))
	})
	v := newVisit(t, Description{URL: "{address}", Pages: "list", List: home.URL + "/{player}", TokenFrom: "EXAMPLE_TOKEN"})
	v.opt.Token = "s3cret"
	v.well()
	v.keeps(1, 2)
}

func TestLists(t *testing.T) {
	for _, c := range []struct{ quirk, list, path, want string }{
		{"no JSON", "<html>", "a", `it is no JSON; it starts with "<html>"`},
		{"an error", `{"code": 0, "message": "x"}`, "archives", "archives: there is no such key; there are: code, message"},
		{"keys where addresses should be", `{"archives": {"a": 1}}`, "archives", "there are keys: a"},
		{"numbers", `{"archives": [1]}`, "archives", "addresses are wanted there, not 1"},
		{"nothing below", `{"archives": "x"}`, "archives.url", "archives.url: there is nothing below it"},
		{"another protocol", `["file:///etc/passwd"]`, "", "is not followed"},
		{"no host", `["http:///x"]`, "", "is not followed"},
		{"a name and password", `["http://a:b@example.org/x"]`, "", "is not followed"},
		{"no address", `["http://[x"]`, "", "which is no address"},
		{"empty", `[]`, "", ""},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			site := serve(t, func(w http.ResponseWriter, r *http.Request) { say(w, c.list) })
			v := newVisit(t, Description{URL: "{address}", Pages: "list", List: site.URL + "/{player}", ListPath: c.path})
			if c.want == "" {
				if a := v.well(); len(a.Warnings) != 1 {
					t.Errorf("%+v", a)
				}
				return
			}
			v.badly(c.want, "")
		})
	}
}

// One missing address of a list doesn't cost the others.
func TestListWithAHole(t *testing.T) {
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		switch r.URL.Path {
		case "/tidewalker":
			say(w, `["/2026/09", "/2026/10"]`)
		case "/2026/09":
			say(w, tale(250))
		default:
			http.NotFound(w, r)
		}
	})
	v := newVisit(t, Description{URL: "{address}", Pages: "list", List: site.URL + "/{player}"})
	v.badly("/2026/10: the server says 404 Not Found", "")
	v.keeps(250)
}

// Certificates are verified, and there is no way from https back to http.
func TestTLS(t *testing.T) {
	plain := serve(t, func(w http.ResponseWriter, r *http.Request) { say(w, tale(1)) })
	target := ""
	site := httptest.NewTLSServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if target != "" {
			http.Redirect(w, r, target, http.StatusFound)
			return
		}
		say(w, tales(1, 2))
	}))
	defer site.Close()
	site.Config.ErrorLog = quiet
	v := newVisit(t, Description{URL: site.URL + "/{player}"})
	if a := v.badly("certificate signed by unknown authority", "the connection can't be trusted"); a.Requests != 1 {
		t.Errorf("%+v", a)
	}
	v.keeps()
	v.opt.Transport = site.Client().Transport // knows the certificate
	v.well()
	v.keeps(1, 2)
	target = plain.URL
	v.badly("redirect refused: it leads from https to http://", "write the address")
	if got := plain.paths(); len(got) > 0 {
		t.Errorf("asked without TLS: %q", got)
	}
	v.keeps(1, 2)
	target = ""
	v.source.Pages, v.source.List, v.source.URL = "list", site.URL+"/list/{player}", "{address}"
	v.opt.Transport = httpmock.NewMockTransport()
	v.opt.Transport.(*httpmock.MockTransport).RegisterResponder("GET", site.URL+"/list/tidewalker",
		httpmock.NewStringResponder(200, `["http://example.org/x"]`))
	v.badly("the list, at https, has the address http://example.org/x, which is not followed", "")
	v.keeps(1, 2)
}

// fullDisk takes so many bytes and no more.
type fullDisk struct{ room int }

func (d *fullDisk) Write(p []byte) (int, error) {
	n := min(len(p), d.room)
	if d.room -= n; n < len(p) {
		return n, syscall.ENOSPC
	}
	return n, nil
}

func (d *fullDisk) Sync() error  { return nil }
func (d *fullDisk) Close() error { return nil }

// full at the end: some systems tell only then.
type lateDisk struct{ fullDisk }

func (d *lateDisk) Sync() error { return syscall.ENOSPC }

func TestFullDisk(t *testing.T) {
	for _, c := range []struct {
		fault  string
		create func(string) (file, error)
	}{
		{"at once", func(string) (file, error) { return &fullDisk{0}, nil }},
		{"after some bytes", func(string) (file, error) { return &fullDisk{500}, nil }},
		{"when it is written out", func(string) (file, error) { return &lateDisk{fullDisk{1 << 20}}, nil }},
		{"no new file", func(path string) (file, error) {
			return nil, &os.PathError{Op: "open", Path: path, Err: syscall.ENOSPC}
		}},
	} {
		t.Run(c.fault, func(t *testing.T) {
			v, transport := mock(t)
			transport.RegisterResponder("GET", mocked, httpmock.NewStringResponder(200, tales(1, 2, 3)))
			v.server = func(s *Server) { s.create = c.create }
			if a := v.badly("no space left on device", "make room"); a.Requests != 1 || a.Kept != 2 {
				t.Errorf("%+v", a)
			}
			v.server = nil
			recovers(v, transport)
		})
	}
}

// The games' file can't be written: the state doesn't say that they were.
func TestGamesCannotBeWritten(t *testing.T) {
	v, transport := mock(t)
	path := v.store.Path("site", "opponent")
	state, _ := os.ReadFile(statePath(path))
	aside := path + ".aside"
	transport.RegisterResponder("GET", mocked, func(r *http.Request) (*http.Response, error) {
		os.Rename(path, aside) // after the games were read
		os.Mkdir(path, 0o755)
		return httpmock.NewStringResponse(200, tales(1, 2, 3)), nil
	})
	a := v.badly("writing", "make room")
	os.Remove(path)
	if err := os.Rename(aside, path); err != nil {
		t.Fatal(err)
	}
	if now, _ := os.ReadFile(statePath(path)); a.New != 0 || !bytes.Equal(now, state) {
		t.Errorf("%+v; the state is now\n%s", a, now)
	}
	recovers(v, transport)
}

// Interrupted in the third month: the first two are kept and not asked for again.
func TestInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	month := 0
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		month++
		if month == 3 {
			say(w, tale(997)[:100])
			w.(http.Flusher).Flush()
			cancel()
			<-r.Context().Done()
			return
		}
		say(w, tale(1000-month))
	})
	v := newVisit(t, Description{URL: site.URL + "/{player}/{year}/{month}", Pages: "months", Start: "2026-06"})
	a, err := v.makeServer().Fetch(ctx, v.store, v.player)
	if !errors.Is(err, context.Canceled) || a.Reached != "in the month 2026-09" || a.Requests != 3 {
		t.Errorf("%v, %+v", err, a)
	}
	v.keeps(999, 998)
	site.paths()
	v.well()
	if got := site.paths(); len(got) != 5 || got[1] != "/tidewalker/2026/09" || got[0] != "/tidewalker/2026/11" || got[2] != "/tidewalker/2026/08" {
		t.Errorf("asked for %q", got)
	}
}

// A context that is over asks for nothing.
func TestInterruptedBefore(t *testing.T) {
	v, transport := mock(t)
	ctx, cancel := context.WithCancelCause(t.Context())
	cause := errors.New("enough")
	cancel(cause)
	if a, err := v.makeServer().Fetch(ctx, v.store, v.player); !errors.Is(err, cause) || a.Requests != 0 {
		t.Errorf("%v, %+v", err, a)
	}
	recovers(v, transport)
}

func TestTwoRunsAtOnce(t *testing.T) {
	v, transport := mock(t)
	shelf, err := v.store.Open("site", "opponent")
	if err != nil {
		t.Fatal(err)
	}
	if a := v.badly("another foreply is writing there", "wait until it is done"); a.Requests != 0 {
		t.Errorf("%+v", a)
	}
	shelf.Close()
	recovers(v, transport)
}

// The state is only a memory: damaged or of other games, it costs requests.
func TestStateThatCannotBeTrusted(t *testing.T) {
	for _, c := range []struct {
		fault    string
		change   func(games, state string)
		requests int // of the next fetch
	}{
		{"no JSON", func(_, state string) { os.WriteFile(state, []byte("{"), 0o644) }, 6},
		{"of a version to come", func(_, state string) { os.WriteFile(state, []byte(`{"version": 99}`), 0o644) }, 6},
		{"null", func(_, state string) { os.WriteFile(state, []byte(`null`), 0o644) }, 6},
		{"empty handles", func(_, state string) {
			os.WriteFile(state, []byte(`{"version": 1, "handles": {"tidewalker": null}}`), 0o644)
		}, 6},
		{"the games are gone", func(games, _ string) { os.Remove(games) }, 6},
		{"a game was taken out", func(games, _ string) { os.WriteFile(games, []byte(tale(1)), 0o644) }, 6},
		{"untouched", func(_, _ string) {}, 2},
	} {
		t.Run(c.fault, func(t *testing.T) {
			site := serve(t, func(w http.ResponseWriter, r *http.Request) { say(w, tales(1, 2)) })
			v := newVisit(t, Description{URL: site.URL + "/{player}/{year}/{month}", Pages: "months", Start: "2026-10"})
			v.opt.Today = today.AddDate(0, 3, 0)
			v.well()
			v.opt.Today = v.opt.Today.AddDate(0, 0, 10)
			path := v.store.Path("site", "opponent")
			c.change(path, statePath(path))
			if a := v.well(); a.Requests != c.requests {
				t.Errorf("%+v", a)
			}
			v.keeps(1, 2)
		})
	}
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
