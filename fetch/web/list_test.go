package web

import (
	"net/url"
	"strings"
	"testing"
)

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
