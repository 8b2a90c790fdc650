package web

import (
	"archive/zip"
	"bytes"
	"errors"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/jarcoal/httpmock"
)

// What is asked with, and what is made of an answer.

// Each page breaks off right behind its last game, and comes whole at the second try,
// which has nothing that is new any more: what the first one brought counts for both.
func TestTriesOfOnePageCountTogether(t *testing.T) {
	pages := [][]int{{8, 7}, {6, 5}, {4, 3}, {2, 1}}
	tried := map[string]bool{}
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		n, _ := strconv.Atoi(r.URL.Query().Get("page"))
		if n > len(pages) {
			return
		}
		text := tales(pages[n-1]...)
		if !tried[r.URL.String()] {
			tried[r.URL.String()] = true
			cutAt(text, len(text))(w, r)
		}
		say(w, text)
	})
	v := newVisit(t, Description{URL: site.URL + "/{player}?page={page}", Pages: "numbers"})
	if a := v.well(); a.New != 8 || a.Games != 8 || a.Requests != 9 || len(a.Warnings) != 0 || a.Bytes != int64(2*len(tales(upTo(8)...))) {
		t.Errorf("%+v", a)
	}
	v.keeps(upTo(8)...)
	pages, tried = [][]int{{12, 11}, {10, 9}, {8, 7}, {6, 5}}, map[string]bool{}
	if a := v.well(); a.New != 4 || a.Requests != 6 { // page 3 has nothing new: the end
		t.Errorf("%+v", a)
	}
	v.keeps(upTo(12)...)
}

// Answers of a success that have games, and the names of packings that are known.
func TestWhatIsTaken(t *testing.T) {
	for _, c := range []struct {
		quirk, encoding, body string
		status                int
	}{
		{"from a cache on the way", "", tales(1, 2, 3), 203},
		{"gzip by another name", "x-gzip", packed(tales(1, 2, 3)), 200},
		{"gzip in capital letters", "GZIP", packed(tales(1, 2, 3)), 200},
		{"said not to be packed", "identity", tales(1, 2, 3), 200},
		{"an archive whose members have no last line end", "", zipped(tales(1), tales(2, 3)), 200},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			v, transport := mock(t)
			transport.RegisterResponder("GET", mocked, func(*http.Request) (*http.Response, error) {
				response := httpmock.NewStringResponse(c.status, c.body)
				response.Header.Set("Content-Encoding", c.encoding)
				return response, nil
			})
			if a := v.well(); a.New != 1 || a.Games != 3 || len(a.Problems) != 0 {
				t.Errorf("%+v", a)
			}
			v.keeps(1, 2, 3)
		})
	}
	v, transport := mock(t)
	transport.RegisterResponder("GET", mocked, httpmock.NewStringResponder(204, ""))
	if a := v.well(); a.Games != 0 || a.Kept != 2 || len(a.Warnings) != 0 {
		t.Errorf("nothing: %+v", a)
	}
}

func zipped(texts ...string) string {
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for i, text := range texts {
		w, _ := z.Create(strconv.Itoa(i) + ".pgn")
		io.WriteString(w, strings.TrimSpace(text))
	}
	z.Close()
	return out.String()
}

// An answer may have as many bytes as max_mb says, and no more.
func TestMostOfAnAnswer(t *testing.T) {
	text := tales(1, 2, 3)
	for most, want := range map[int]string{len(text): "", len(text) - 1: "the answer has more than 0 MB"} {
		v, transport := mock(t)
		transport.RegisterResponder("GET", mocked, httpmock.NewStringResponder(200, text))
		v.server = func(s *Server) { s.source.most = int64(most) }
		v.ends(want)
	}
}

// A date tells a change only if it was a minute old when the answer was sent.
func TestLastModified(t *testing.T) {
	const modified = "Wed, 25 Nov 2026 10:00:00 GMT"
	for sent, want := range map[string]string{
		"Wed, 25 Nov 2026 10:01:00 GMT": modified, "Wed, 25 Nov 2026 10:00:59 GMT": "", "": "", "noon": "",
	} {
		if got := lastModified(http.Header{"Last-Modified": {modified}, "Date": {sent}}); got != want {
			t.Errorf("sent %s: %q, want %q", sent, got, want)
		}
	}
}

// The headers that a request has: those of the user with their places filled, each as
// often as it is given; what is known of a page only where the same is asked again.
func TestHeadersSent(t *testing.T) {
	var got []http.Header
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		got = append(got, r.Header)
		w.Header().Set("ETag", `"v1"`)
		w.Header().Set("Last-Modified", "Wed, 25 Nov 2015 10:00:00 GMT")
		say(w, tales(1, 2))
	})
	v := newVisit(t, Description{URL: site.URL + "/{player}", Query: []string{"since={from:date}"}, Headers: []string{"X-Who: {player} a/b", "X-Tag: one", "X-Tag: two"}})
	for range 3 { // the second has a since, the third the same
		v.well()
	}
	for i, want := range []http.Header{
		{}, {}, {"If-None-Match": {`"v1"`}, "If-Modified-Since": {"Wed, 25 Nov 2015 10:00:00 GMT"}},
	} {
		want["X-Who"], want["X-Tag"] = []string{"tidewalker a/b"}, []string{"one, two"}
		want["User-Agent"], want["Accept-Encoding"] = []string{"foreply"}, []string{"gzip, zstd"}
		if len(got[i]) != len(want) {
			t.Errorf("request %d has the headers %v", i+1, got[i])
		}
		for name, values := range want {
			if !slices.Equal(got[i][name], values) {
				t.Errorf("request %d: %s is %q, want %q", i+1, name, got[i][name], values)
			}
		}
	}
}

// Without a token there is nothing to warn of where a server sends on.
func TestSentOnWithoutAToken(t *testing.T) {
	other := serve(t, func(w http.ResponseWriter, r *http.Request) { say(w, tale(1)) })
	home := serve(t, func(w http.ResponseWriter, r *http.Request) { http.Redirect(w, r, other.URL, http.StatusFound) })
	v := newVisit(t, Description{URL: home.URL + "/{player}"})
	if a := v.well(); a.Requests != 2 || len(a.Warnings) != 0 {
		t.Errorf("%+v", a)
	}
}

// A server that sends one page on to another host: on the way to the next, which it moved
// at home, the token goes along again.
func TestSentOnOnce(t *testing.T) {
	other := serve(t, func(w http.ResponseWriter, r *http.Request) { say(w, tales(1, 2)) })
	home := serve(t, func(w http.ResponseWriter, r *http.Request) {
		switch {
		case r.URL.Query().Get("page") == "1":
			http.Redirect(w, r, other.URL, http.StatusFound)
		case r.Header.Get("Authorization") != "Bearer s3cret":
			t.Errorf("%s is asked for with %v", r.URL, r.Header)
		case r.URL.Path != "/moved":
			http.Redirect(w, r, "/moved", http.StatusFound)
		}
	})
	v := newVisit(t, Description{URL: home.URL + "/{player}?page={page}", Pages: "numbers", TokenFrom: "EXAMPLE_TOKEN"})
	v.opt.Token = "s3cret"
	if a := v.well(); a.Requests != 4 || len(a.Warnings) != 1 {
		t.Errorf("%+v", a)
	}
}

// Each missing address of a list is told with what the server said of it.
func TestListWithTwoHoles(t *testing.T) {
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		switch r.URL.Path {
		case "/tidewalker":
			say(w, `["/a", "/b"]`)
		case "/a":
			http.Error(w, "no a", http.StatusNotFound)
		default:
			http.Error(w, "no b", http.StatusGone)
		}
	})
	v := newVisit(t, Description{URL: "{address}", Pages: "list", List: site.URL + "/{player}"})
	v.badly(site.URL+`/a: the server says 404 Not Found: "no a"; `+site.URL+`/b: the server says 410 Gone: "no b"`, "")
}

// failing is a file of which every part fails in its own way.
type failing struct{ wrote, synced, closed error }

func (f *failing) Write(p []byte) (int, error) { return len(p), f.wrote }
func (f *failing) Sync() error                 { return f.synced }
func (f *failing) Close() error                { return f.closed }

// The first error of writing is told, whatever part it is of.
func TestEachErrorOfWriting(t *testing.T) {
	wrote, synced, closed := errors.New("no room"), errors.New("not on disk"), errors.New("not closed")
	for want, f := range map[string]*failing{
		"writing the answer: no room": {wrote, synced, closed}, "writing the answer: not on disk": {nil, synced, closed}, "writing the answer: not closed": {nil, nil, closed},
	} {
		v, transport := mock(t)
		transport.RegisterResponder("GET", mocked, httpmock.NewStringResponder(200, tales(1, 2, 3)))
		v.server = func(s *Server) { s.create = func(string) (file, error) { return f, nil } }
		if v.badly(want, "make room"); t.Failed() {
			t.Log(want)
		}
	}
	d := &diskWriter{w: &failing{wrote: wrote}}
	d.Write(nil)
	d.w = &failing{wrote: closed}
	if d.Write(nil); d.err != wrote {
		t.Errorf("the error is %v", d.err)
	}
}

// The file of an answer is its owner's alone, hidden beside the games, and has nothing
// of an answer before.
func TestCreateFile(t *testing.T) {
	path := partPath(filepath.Join(t.TempDir(), "games.pgn"))
	for _, text := range []string{"a long answer", "short"} {
		f, err := createFile(path)
		if err != nil {
			t.Fatal(err)
		}
		io.WriteString(f, text)
		f.Close()
	}
	info, err := os.Stat(path)
	if err != nil || info.Size() != 5 || info.Mode().Perm() != 0o600 || info.Name()[0] != '.' {
		t.Errorf("%v, %v", info, err)
	}
}
