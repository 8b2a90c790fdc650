package compare

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// wordless are the rooms that find, choose and walk, and those that print: what is said
// of it stands in words.
var wordless = []string{".", "find", "rank", "book", "walk", "lines", "past", "../pdf", "../pdf/sheet"}

// twoWords is what a sentence has and no kind, field or move.
var twoWords = regexp.MustCompile(`\pL{2,},? \pL+`)

// No English stands outside of words: no literal with two words of letters, but in
// errors and in the problems of a repertoire, which are errors with a place.
func TestNoEnglishElsewhere(t *testing.T) {
	for _, room := range wordless {
		files, err := filepath.Glob(filepath.Join(room, "*.go"))
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: %v, %d files", room, err, len(files))
		}
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			set := token.NewFileSet()
			tree, err := parser.ParseFile(set, file, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			for _, at := range sentences(tree) {
				t.Errorf("%s: English outside of words", set.Position(at))
			}
		}
	}
}

// sentences are the places of a file's literals with two words, but in errors.
func sentences(tree *ast.File) []token.Pos {
	var found []token.Pos
	ast.Inspect(tree, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.ImportSpec:
			return false
		case *ast.CallExpr:
			return !isError(n)
		case *ast.KeyValueExpr:
			key, ok := n.Key.(*ast.Ident)
			return !ok || !slices.Contains([]string{"Message", "Hint"}, key.Name)
		case *ast.Field:
			return n.Tag == nil
		case *ast.BasicLit:
			if text, err := strconv.Unquote(n.Value); n.Kind == token.STRING && err == nil && twoWords.MatchString(text) {
				found = append(found, n.Pos())
			}
		}
		return true
	})
	return found
}

// isError tells a call that makes an error.
func isError(call *ast.CallExpr) bool {
	switch f := call.Fun.(type) {
	case *ast.SelectorExpr:
		return f.Sel.Name == "Errorf" || f.Sel.Name == "New"
	case *ast.Ident:
		return f.Name == "panic"
	}
	return false
}
