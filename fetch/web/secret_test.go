package web

import (
	"bytes"
	"io/fs"
	"net/http"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// What messages print of an address or header has no values that look like keys, and
// all the rest.
func TestShown(t *testing.T) {
	for text, want := range map[string]string{
		"https://example.org/games/tidewalker?since=1767225600000&color=white": "",
		"https://example.org/2026/05?apikey=abc":                               "https://example.org/2026/05?apikey=***",
		"https://example.org/x?a=1&access_token=abc&b=2":                       "https://example.org/x?a=1&access_token=***&b=2",
		"https://example.org/x?q=9f8e7d6c5b4a39281706f5e4":                     "https://example.org/x?q=***",
		"https://example.org/x?key={token}":                                    "",
		"https://example.org/x?until=2026-11-02&time=2026-11-02T10:00:00Z":     "",
		"https://example.org/x?monkey=1&keyboard=de":                           "",
		"the server has no games of tidewalker2026abc9, and says 404":          "",
		"api_key=abc":                          "api_key=***",
		"X-Api-Key abc":                        "X-Api-Key ***",
		"X-Site: 9f8e7d6c5b4a39281706":         "X-Site: ***",
		"X-Site: the one 9f8e7d6c5b4a39281706": "X-Site: ***",
		"X-Site: abc def":                      "",
		"X-Auth-Token: abc":                    "X-Auth-Token: ***",
		"Accept: application/x-chess-pgn":      "",
		"Accept-Language: de-DE, en":           "",
	} {
		if want == "" {
			want = text
		}
		show := shown
		if !(strings.Contains(text, "=") || strings.Contains(text, "the server")) {
			show = shownHeader
		}
		if got := show(text); got != want {
			t.Errorf("%s is shown as %s, want %s", text, got, want)
		}
	}
}

// A token where the name of its variable belongs is refused and not printed; names
// are not taken for tokens.
func TestTokenInPlaceOfItsVariable(t *testing.T) {
	for name, fine := range map[string]bool{
		"EXAMPLE_TOKEN": true, "example_token": true, "TOKEN2": true, "SITE_TOKEN_OF_MY_SECOND_ACCOUNT": true, "myToken": true,
		"9f8e7d6c5b4a": false, "abcdefGHIJKL1234": false, "tok_9f8e7d6c5b4a3928": false, "abcdefghijklmnopqrst": false,
		"s3cr3t-word": false, "ABCDEF0123456789ABCDEF0123456789": false, "with blank": false, "a=b": false,
	} {
		_, faults := NewSource(Description{ID: "x", URL: "https://example.org/{player}", TokenFrom: name})
		if fine != (len(faults) == 0) {
			t.Errorf("%s: %v", name, faults)
		}
		for _, f := range faults {
			if f.Key != "token_from" || strings.Contains(f.Err.Error()+f.Hint, name) {
				t.Errorf("%s: %s: %v (%s)", name, f.Key, f.Err, f.Hint)
			}
		}
	}
	v := newVisit(t, Description{URL: "https://example.org/{player}", TokenFrom: "swordfish"})
	got := v.badly("the variable that token_from names is not set", "export")
	if strings.Contains(got.hint, "swordfish") {
		t.Error(got.hint)
	}
}

// A server that says in its games how it was asked: they are kept without the token,
// wherever the pieces part, and so is all that is remembered.
func TestEchoIsNotKept(t *testing.T) {
	const token = "open sesame/9"
	game := strings.Replace(tale(1), "casual", "casual?key=open+sesame%2F9&x="+token, 1)
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("ETag", `"`+token+`"`)
		say(w, game)
	})
	v := newVisit(t, Description{URL: site.URL + "/{player}?key={token}", TokenFrom: "EXAMPLE_TOKEN"})
	v.opt.Token = token
	v.well()
	v.keeps(1)
	files, _ := filepath.Glob(filepath.Join(filepath.Dir(v.store.Path("site", "opponent")), "*"))
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil || strings.Contains(string(text), "sesame") {
			t.Errorf("%s: %v\n%s", file, err, text)
		}
	}
}

func TestHiderAtEverySeam(t *testing.T) {
	const text = "x open-sesame y open-sesamopen-sesame open-sesam"
	for cut := range len(text) {
		for second := cut; second < len(text); second++ {
			var out bytes.Buffer
			h := &hider{w: &out, token: "open-sesame"}
			for _, p := range []string{text[:cut], text[cut:second], text[second:]} {
				if n, err := h.Write([]byte(p)); n != len(p) || err != nil {
					t.Fatal(n, err)
				}
			}
			if h.Close(); out.String() != "x *** y open-sesam*** open-sesam" {
				t.Errorf("cut at %d and %d: %s", cut, second, out.String())
			}
		}
	}
}

// What looks like a key, by its length and signs; names of variables don't, written as they are.
func TestKeysAndNames(t *testing.T) {
	for word, want := range map[string]bool{
		"abcdefgh12345678": true, "abcdefgh1234567": false, "ABCDEFGH12345678": true, "abcdefghijklmnop": false, "1234567890123456": false, "games1.example.org": false,
		"abcdefgh/12345678": false, "abcdefghijklmnopqrstuvwxyzabcdef": true, "abcdefghijklmnopqrstuvwxyzabcde": false, "12345678901234567890123456789012": true,
		"abc.defghijklmnopqrstuvwxyzabcdef": true, "--------------------------------": false, "": false,
	} {
		if got := looksLikeKey(word); got != want {
			t.Errorf("%s looks like a key: %v", word, got)
		}
	}
	for name, want := range map[string]bool{
		"SITE_2_TOKEN_OF_ACCOUNT": true, "example_token_of_mine": true, "abcdefghijklmno": true, "abcdefghijklmnop": false, "ABCDEFGHIJKLMNOP": true, "2TOKEN": false, "_2": true, "": false, "A-B": false,
	} {
		if got := variableName(name); got != want {
			t.Errorf("%s is the name of a variable: %v", name, got)
		}
	}
	if got := shownHeader("apikey=abc"); got != "apikey=***" {
		t.Errorf("no header is shown as %s", got)
	}
}

// The shortest token that is looked for in games, and one whose form in a query is the longest.
func TestHiddenForms(t *testing.T) {
	for _, c := range []struct {
		token      Secret
		text, want string
	}{
		{"12345678", "a 12345678 b", "a *** b"}, {"1234567", "a 1234567 b", "a 1234567 b"}, {"a+b&c=d/e", "x a%2Bb%26c%3Dd%2Fe y a+b&c=d%2Fe z a+b&c=d/e", "x *** y *** z ***"},
	} {
		for cut := range len(c.text) {
			var out bytes.Buffer
			h := &hider{w: &out, token: c.token}
			h.Write([]byte(c.text[:cut]))
			h.Write([]byte(c.text[cut:]))
			if h.Close(); out.String() != c.want {
				t.Errorf("%q cut at %d: %s", string(c.token), cut, out.String())
			}
		}
	}
}

// What is kept is for its owner only.
func TestForTheOwnerOnly(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("there, permissions are lists")
	}
	site := serve(t, func(w http.ResponseWriter, r *http.Request) { say(w, tales(1, 2)) })
	v := newVisit(t, Description{URL: site.URL + "/{player}"})
	v.store.Folder = filepath.Join(v.store.Folder, "new")
	v.well()
	n := 0
	err := filepath.WalkDir(v.store.Folder, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := d.Info()
		if err == nil && info.Mode().Perm()&0o077 != 0 {
			t.Errorf("%s: %v", path, info.Mode())
		}
		n++
		return err
	})
	if err != nil || n < 5 {
		t.Errorf("%d files and folders, %v", n, err)
	}
}
