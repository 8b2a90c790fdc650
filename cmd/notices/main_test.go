package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// lay writes files into a folder; the text of each is its name.
func lay(t *testing.T, names ...string) string {
	t.Helper()
	root := t.TempDir()
	for _, name := range names {
		path := filepath.Join(root, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(name), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return root
}

func TestLicences(t *testing.T) {
	root := lay(t, "LICENSE", "NOTICE", "license.go", "license_test.go", "licenses.go", "README.md", "a/b/COPYING.md", "a/LICENSE-Fonts", "c/LICENSE",
		"THIRD_PARTY_LICENSES/Some-LICENSE", "noticeboard.txt")
	files := map[string]string{}
	if err := licences(filepath.Join(root, "a", "b"), root, "lib v1", files); err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, what := range files {
		got = append(got, what)
	}
	slices.Sort(got)
	want := []string{"lib v1, LICENSE", "lib v1, NOTICE", "lib v1, THIRD_PARTY_LICENSES/Some-LICENSE", "lib v1, a/LICENSE-Fonts", "lib v1, a/b/COPYING.md"}
	if !slices.Equal(got, want) {
		t.Errorf("found %q\nwant  %q", got, want)
	}
}

func TestNoLicenceIsAnError(t *testing.T) {
	root := lay(t, "README.md", "a/code.go")
	err := licences(filepath.Join(root, "a"), root, "lib v1", map[string]string{})
	if err == nil || !strings.Contains(err.Error(), "lib v1 has no licence") {
		t.Errorf("error %v", err)
	}
}

func TestSourceOf(t *testing.T) {
	const table = "# Made by hand.\n# Source: a public set,\n# free for all.\n\n# Source: no head\nrow\n"
	if got, want := sourceOf(table), "Source: a public set,\nfree for all."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := sourceOf("# A template of ours.\nrow\n"); got != "" {
		t.Errorf("%q of a file that names no source", got)
	}
}

// Libraries that the program surely carries are named, with the fonts and the data,
// and one that only tests use is not.
func TestWhatTheProgramCarries(t *testing.T) {
	if testing.Short() {
		t.Skip("asks the Go command for all packages")
	}
	t.Chdir("../..")
	var b strings.Builder
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	for _, want := range []string{
		standardLibrary + ", LICENSE", "github.com/spf13/cobra v", "LICENSE-DejaVu", "\nprofile/openings/names.tsv\n", "public domain (CC0 1.0)",
		"github.com/inconshreveable/mousetrap v", // for Windows only
	} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing", want)
		}
	}
	for _, unwanted := range []string{"go-internal", "staticcheck", "honnef.co"} {
		if strings.Contains(text, unwanted) {
			t.Errorf("%q is named: the program doesn't carry it", unwanted)
		}
	}
}
