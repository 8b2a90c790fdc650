package web

import (
	"bytes"
	"compress/gzip"
	"context"
	"fmt"
	"io"
	"net/http"
	"os"
	"strings"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"github.com/jarcoal/httpmock"
	"github.com/klauspost/compress/zstd"
)

// What can be wrong with a body: cut, slow, silent, endless, packed, of another
// length than was said.

// real is a visit to a real server on this machine, which does what the handler
// says after it gave games 1 and 2.
func real(t *testing.T, fault http.HandlerFunc) (v *visit, well func(numbers ...int)) {
	var now atomic.Pointer[http.HandlerFunc] // requests that were given up may still be answered
	answer := func(how http.HandlerFunc) { now.Store(&how) }
	answer(func(w http.ResponseWriter, r *http.Request) { say(w, tales(1, 2)) })
	site := serve(t, func(w http.ResponseWriter, r *http.Request) { (*now.Load())(w, r) })
	v = newVisit(t, Description{URL: site.URL + "/{player}"})
	v.opt.Patience.Tries = 2
	v.well()
	v.keeps(1, 2)
	answer(fault)
	return v, func(numbers ...int) {
		t.Helper()
		answer(func(w http.ResponseWriter, r *http.Request) { say(w, tales(numbers...)) })
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
			a := v.badly("the answer breaks off, tried 2 times", "run foreply fetch again")
			if kept := strings.Contains(a.hint, "what came is kept"); kept != (a.Games > 0) {
				t.Errorf("%d games came, and the hint is %s", a.Games, a.hint)
			}
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

// Cut after two new games; then the server answers in another way. The two are
// kept, the run is no success, and the next one gets the rest.
func TestCutAndThen(t *testing.T) {
	whole := tales(1, 2, 3, 4, 5)
	for _, c := range []struct {
		then, want, hint string
		handle           http.HandlerFunc
	}{
		{"out of order", "the answer broke off after 4 games, and then: the server says 503", "what came is kept", status(503)},
		{"refused", "the answer broke off after 4 games, and then: the server says 401", "token_from", status(401)},
		{"missing", "the answer breaks off after 4 games, and the next one has 0 games", "what came is kept", status(404)},
		{"web page", "the answer broke off after 4 games, and then: it does not look like PGN", "--dry-run",
			func(w http.ResponseWriter, r *http.Request) { say(w, "<html><body>down</body></html>") }},
		{"reset", "the answer broke off after 4 games, and then: ", "try again later", func(w http.ResponseWriter, r *http.Request) {
			connection, _, _ := w.(http.Hijacker).Hijack()
			connection.Close()
		}},
		{"empty", "the answer breaks off after 4 games, and the next one has 0 games", "what came is kept", status(200)},
		{"fewer games", "the answer breaks off after 4 games, and the next one has 1 game", "what came is kept",
			func(w http.ResponseWriter, r *http.Request) { say(w, tale(1)) }},
		{"cut earlier", "the answer breaks off, tried 2 times", "what came is kept", cutAt(whole, 500)},
	} {
		t.Run(c.then, func(t *testing.T) {
			tries := 0
			v, well := real(t, func(w http.ResponseWriter, r *http.Request) {
				if tries++; tries > 1 {
					c.handle(w, r)
					return
				}
				cutAt(whole, strings.Index(whole, "rival5"))(w, r)
			})
			a := v.badly(c.want, c.hint)
			if a.Games != 4 || a.Theirs != 4 || a.New != 2 || a.Kept != 4 || a.Reached != "in the middle of the answer" {
				t.Errorf("%+v", a)
			}
			v.keeps(1, 2, 3, 4)
			well(1, 2, 3, 4, 5)
		})
	}
}

func status(code int) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) { w.WriteHeader(code) }
}

// While it waits to try again, what came is on disk already: whoever ends it now
// takes nothing away.
func TestKeptBeforeTheNextTry(t *testing.T) {
	v, well := real(t, cutAt(tales(1, 2, 3, 4), len(tales(1, 2, 3))+50))
	waited := false
	v.opt.Again = func(Again) {
		waited = true
		if text, _ := os.ReadFile(v.store.Path("site", "opponent")); !bytes.Contains(text, []byte("rival3")) {
			t.Errorf("on disk is\n%s", text)
		}
	}
	v.badly("breaks off", "")
	if !waited {
		t.Error("it did not try again")
	}
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
			v.ends(c.want)
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
// more, until its request ends: with nothing but that it was cancelled, as HTTP/2 tells it.
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
	if Sleep(b.ctx, wait) != nil {
		return 0, b.ctx.Err()
	}
	n := copy(p[:1], b.text)
	b.text = b.text[n:]
	return n, nil
}

func (b *trickle) Close() error { return nil }

// A body may be slow, but not a drip, nor without anything for a while. The clock of these tests runs without waiting.
func TestSlowBody(t *testing.T) {
	for _, c := range []struct {
		fault string
		every time.Duration
		hangs bool
		want  string
		takes time.Duration
		keeps []int
	}{
		{"slow, but it comes", 100 * time.Millisecond, false, "", time.Duration(len(tales(1, 2, 3))) * 100 * time.Millisecond, []int{1, 2, 3}},
		{"a drip of a byte in two seconds", 2 * time.Second, false, "breaks off: the server sends less than 8192 bytes in 2m0s", 4 * time.Minute, []int{1, 2}},
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
	v.opt.Idle, v.opt.Patience.Tries = time.Second, 1 // time enough for what does come
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
			v.ends(c.want)
			v.keeps(c.keeps...)
			well(1, 2, 3, 4)
		})
	}
}

// A refusal, and a redirect, whose own few words never come.
func TestHangingRefusal(t *testing.T) {
	for _, c := range []struct {
		fault    string
		status   int
		want     string
		requests int
	}{
		{"not found", 404, "the server says 404", 1},
		{"out of order", 500, "the server says 500 Internal Server Error, tried 2 times", 2},
		{"redirect", 302, "redirect refused: it leads in a circle", 1},
	} {
		t.Run(c.fault, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				v, transport := mock(t)
				v.opt.Now, v.opt.Sleep, v.opt.Patience.Tries = time.Now, Sleep, 2
				transport.RegisterResponder("GET", mocked, func(r *http.Request) (*http.Response, error) {
					return &http.Response{StatusCode: c.status, Header: http.Header{"Location": {mocked}}, ContentLength: -1,
						Body: &trickle{r.Context(), "", time.Second, true}}, nil
				})
				if a := v.badly(c.want, ""); a.Requests != c.requests {
					t.Errorf("%+v", a)
				}
				recovers(v, transport)
			})
		})
	}
}
