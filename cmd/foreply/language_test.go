package main

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/printer"
	"go/token"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"foreply/pdf"
	"foreply/pdf/sheet"
)

// A second language is a second package with the functions of words. Here it is one in
// which every vowel bears a mark, put in the place of words while the program is built:
// what page and terminal say without marks then was said elsewhere.
func TestSecondLanguage(t *testing.T) {
	if os.Getenv("SECOND_LANGUAGE") == "" {
		t.Skip("SECOND_LANGUAGE is not set, as .ci/run does: it builds the program anew")
	}
	said := filepath.Join(t.TempDir(), "said")
	child := exec.Command("go", "test", "-count=1", "-vet=off", "-overlay", markedWords(t), "-run", "^TestSayAll$", ".")
	child.Env = append(os.Environ(), sayAllEnv+"="+said)
	if out, err := child.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	text, err := os.ReadFile(said)
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(text), "ë"); n < 200 {
		t.Fatalf("%d marks: the other language did not come", n)
	}
	given := givenWords(t)
	for _, word := range slices.Compact(slices.Sorted(slices.Values(vowelled.FindAllString(string(text), -1)))) {
		if !given[word] && !strings.ContainsAny(word, "0123456789") {
			t.Errorf("%q is said outside of compare/words, and in no file of the demo", word)
		}
	}
}

const sayAllEnv = "SAY_ALL"

// TestSayAll writes all that page and terminal say of the demo, for TestSecondLanguage.
func TestSayAll(t *testing.T) {
	to := os.Getenv(sayAllEnv)
	if to == "" {
		t.Skip("for TestSecondLanguage")
	}
	report := demoReport(t)
	var b strings.Builder
	if err := pdf.Text(&b, report, pdf.TextOptions{}); err != nil {
		t.Fatal(err)
	}
	pages, _, err := pdf.Layout(report, pdf.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range pages {
		for _, it := range p.Items {
			switch it := it.(type) {
			case sheet.Run:
				b.WriteString(it.S + "\n")
			case interface{ Alt() string }:
				b.WriteString(it.Alt() + "\n")
			}
		}
	}
	if err := os.WriteFile(to, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

// vowelled are words with a vowel that bears no mark; moves have digits.
var vowelled = regexp.MustCompile(`[\pL\d]*[aeiouAEIOU][\pL\d]*`)

// givenWords are those of the demo's files and of the names of openings.
func givenWords(t *testing.T) map[string]bool {
	t.Helper()
	given := map[string]bool{}
	for _, pattern := range []string{demo + "*.pgn", "../../profile/openings/*.tsv"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: %v, %d files", pattern, err, len(files))
		}
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			for _, word := range vowelled.FindAllString(string(text)+" "+file, -1) {
				given[word] = true
			}
		}
	}
	return given
}

// markedWords writes compare/words with marks, and the file that puts it in place.
func markedWords(t *testing.T) (overlay string) {
	t.Helper()
	files, err := filepath.Glob("../../compare/words/*.go")
	if err != nil || len(files) == 0 {
		t.Fatalf("%v, %d files", err, len(files))
	}
	dir, replace := t.TempDir(), map[string]string{}
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		set := token.NewFileSet()
		tree, err := parser.ParseFile(set, file, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(tree, withMarks)
		to := filepath.Join(dir, filepath.Base(file))
		out, err := os.Create(to)
		if err != nil {
			t.Fatal(err)
		}
		if err := printer.Fprint(out, set, tree); err != nil {
			t.Fatal(err)
		}
		out.Close()
		from, err := filepath.Abs(file)
		if err != nil {
			t.Fatal(err)
		}
		replace[from] = to
	}
	text, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		t.Fatal(err)
	}
	overlay = filepath.Join(dir, "overlay.json")
	if err := os.WriteFile(overlay, text, 0o644); err != nil {
		t.Fatal(err)
	}
	return overlay
}

// withMarks puts marks on the vowels of what is said: not of what facts are compared with.
func withMarks(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.ImportSpec:
		return false
	case *ast.BinaryExpr:
		return n.Op != token.EQL && n.Op != token.NEQ
	case *ast.CaseClause:
		for _, does := range n.Body {
			ast.Inspect(does, withMarks)
		}
		return false
	case *ast.BasicLit:
		if text, err := strconv.Unquote(n.Value); n.Kind == token.STRING && err == nil {
			n.Value = strconv.Quote(marked(text))
		}
	}
	return true
}

var (
	verb  = regexp.MustCompile(`%[-+ #0-9.*]*[a-zA-Z]`)
	marks = strings.NewReplacer("a", "ä", "e", "ë", "i", "ï", "o", "ö", "u", "ü", "A", "Ä", "E", "Ë", "I", "Ï", "O", "Ö", "U", "Ü")
)

func marked(text string) string {
	var b strings.Builder
	at := 0
	for _, v := range verb.FindAllStringIndex(text, -1) {
		b.WriteString(marks.Replace(text[at:v[0]]) + text[v[0]:v[1]])
		at = v[1]
	}
	return b.String() + marks.Replace(text[at:])
}
