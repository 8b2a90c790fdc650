package web

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/jarcoal/httpmock"
)

// Where an answer may come from, and where the token may go.

func TestRedirects(t *testing.T) {
	for _, c := range []struct {
		fault, want, hint string
		requests          int
		handle            http.HandlerFunc
	}{
		{"in a circle", "redirect refused: it leads in a circle", "compare it with the server's documentation", 2, func(w http.ResponseWriter, r *http.Request) {
			http.Redirect(w, r, map[bool]string{true: "/elsewhere", false: "/tidewalker"}[r.URL.Path == "/tidewalker"], http.StatusFound)
		}},
		{"on and on", "there are more than 5 in a row", "compare it", 6, func(w http.ResponseWriter, r *http.Request) {
			http.Redirect(w, r, r.URL.Path+"/x", http.StatusFound)
		}},
		{"five in a row", "", "", 6, func(w http.ResponseWriter, r *http.Request) {
			if n := strings.Count(r.URL.Path, "/x"); n < 5 {
				http.Redirect(w, r, r.URL.Path+"/x", http.StatusTemporaryRedirect)
				return
			}
			say(w, tales(1, 2))
		}},
		{"to a file", "redirect refused: it leads to file://", "compare it", 1, func(w http.ResponseWriter, r *http.Request) {
			http.Redirect(w, r, "file:///etc/passwd", http.StatusFound)
		}},
		{"to nowhere", "302", "", 1, func(w http.ResponseWriter, r *http.Request) { w.WriteHeader(http.StatusFound) }},
		{"once", "", "", 2, func(w http.ResponseWriter, r *http.Request) {
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
				a = v.badly(c.want, c.hint).Account
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
			hint := ""
			if c.path != "" {
				hint = "list_path says where"
			}
			v.badly(c.want, hint)
		})
	}
}

// A list may have so many bytes, plain or packed, and is refused with a byte more, not cut.
func TestLongLists(t *testing.T) {
	pack := func(text string) string {
		var out bytes.Buffer
		z, _ := gzip.NewWriterLevel(&out, gzip.BestSpeed)
		io.WriteString(z, text)
		z.Close()
		return out.String()
	}
	most := `["/games"]` + strings.Repeat(" ", mostList-len(`["/games"]`))
	for _, c := range []struct{ quirk, list, want string }{
		{"plain", most, ""},
		{"plain, too long", most + " ", "the list has more than 8 MB"},
		{"packed", pack(most), ""},
		{"packed, too long", pack(most + " "), "the list has more than 8 MB"},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			site := serve(t, func(w http.ResponseWriter, r *http.Request) {
				say(w, map[bool]string{true: c.list, false: tales(1, 2)}[r.URL.Path == "/tidewalker"])
			})
			v := newVisit(t, Description{URL: "{address}", Pages: "list", List: site.URL + "/{player}"})
			v.opt.Patience.Tries = 1
			v.ends(c.want)
			if c.want == "" {
				v.keeps(1, 2)
			}
		})
	}
}

// What a server may answer in place of a list, and how the run ends.
func TestStatusOfAList(t *testing.T) {
	for status, want := range map[int]string{
		404: "the server says 404 Not Found", 410: "the server says 410 Gone", 401: "the server says 401 Unauthorized",
		500: "the server says 500 Internal Server Error, tried 2 times", 204: "it is no JSON",
	} {
		t.Run(fmt.Sprint(status), func(t *testing.T) {
			site := serve(t, func(w http.ResponseWriter, r *http.Request) { w.WriteHeader(status) })
			v := newVisit(t, Description{URL: "{address}", Pages: "list", List: site.URL + "/{player}"})
			v.opt.Patience.Tries = 2
			v.badly(want, "")
			if got, tried := site.paths(), map[bool]int{true: 2, false: 1}[status == 500]; len(got) != tried {
				t.Errorf("asked for %q", got)
			}
			v.keeps()
		})
	}
}

// A list that is cut off is asked for again; nothing is taken from a part of one. Its
// addresses are asked for in their order where they have no months, the same once in a row.
func TestCutList(t *testing.T) {
	list := `["/c", "/a", "/a", "/b", "/a"]`
	for _, c := range []struct {
		cut  int // so many times
		want string
		asks []string
	}{
		{1, "", []string{"/tidewalker", "/tidewalker", "/c", "/a", "/b", "/a"}},
		{2, "the answer breaks off, tried 2 times", []string{"/tidewalker", "/tidewalker"}},
	} {
		t.Run(fmt.Sprint(c.cut), func(t *testing.T) {
			cut := 0
			site := serve(t, func(w http.ResponseWriter, r *http.Request) {
				switch {
				case r.URL.Path != "/tidewalker":
					say(w, tale(int(r.URL.Path[1]-'a')+1))
				case cut < c.cut:
					cut++
					cutAt(list, 12)(w, r)
				default:
					say(w, list)
				}
			})
			v := newVisit(t, Description{URL: "{address}", Pages: "list", List: site.URL + "/{player}"})
			v.opt.Patience.Tries = 2
			v.ends(c.want)
			if got := site.paths(); !slices.Equal(got, c.asks) {
				t.Errorf("asked for %q", got)
			}
			if c.want == "" {
				v.keeps(1, 2, 3)
			} else {
				v.keeps()
			}
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
	for range 2 { // the missing one is asked for again
		v.badly(site.URL+"/2026/10: the server says 404 Not Found", "")
		v.keeps(250)
	}
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
