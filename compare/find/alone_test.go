package find

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// shared is what findings have in common: the games, the finer walk, what an engine
// said, and parts that several of them tell: a game as a row, the user's usual moves,
// the structure at an end, what is played at once, how others met a move, a way back.
var shared = []string{
	"games.go", "shared.go", "fine.go", "engine.go", "rows.go", "setup.go", "structure.go", "instant.go", "met.go", "rated.go", "back.go",
}

// A finding is understood alone: a file names nothing that another finding's file
// declares, but what is shared.
func TestFindingsStandAlone(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	home := map[string]string{} // of what is declared outside of functions, but methods
	trees := map[string]*ast.File{}
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		tree, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		trees[file] = tree
		for _, name := range declared(tree) {
			home[name] = file
		}
	}
	if len(trees) < 20 || home["Unanswered"] != "unanswered.go" {
		t.Fatalf("%d files, Unanswered in %q", len(trees), home["Unanswered"])
	}
	for file, tree := range trees {
		for name := range used(tree) {
			if at, ok := home[name]; ok && at != file && !slices.Contains(shared, at) {
				t.Errorf("%s names %s of %s", file, name, at)
			}
		}
	}
}

// declared are the names of a file's declarations.
func declared(tree *ast.File) []string {
	var names []string
	for _, d := range tree.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if d.Recv == nil {
				names = append(names, d.Name.Name)
			}
		case *ast.GenDecl:
			for _, spec := range d.Specs {
				switch spec := spec.(type) {
				case *ast.TypeSpec:
					names = append(names, spec.Name.Name)
				case *ast.ValueSpec:
					for _, name := range spec.Names {
						names = append(names, name.Name)
					}
				}
			}
		}
	}
	return names
}

// used are the names that a file uses of its package: not those of other packages,
// fields and methods, and not what it declares inside of its functions.
func used(tree *ast.File) map[string]bool {
	names, own := map[string]bool{}, map[string]bool{}
	ast.Inspect(tree, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.SelectorExpr:
			ast.Inspect(n.X, func(x ast.Node) bool { return note(x, names) })
			return false
		case *ast.KeyValueExpr:
			ast.Inspect(n.Value, func(x ast.Node) bool { return note(x, names) })
			return false
		case *ast.FuncDecl:
			own[n.Name.Name] = true
		case *ast.Field:
			for _, name := range n.Names {
				own[name.Name] = true
			}
		case *ast.AssignStmt:
			if n.Tok == token.DEFINE {
				for _, left := range n.Lhs {
					if id, ok := left.(*ast.Ident); ok {
						own[id.Name] = true
					}
				}
			}
		case *ast.RangeStmt:
			for _, left := range []ast.Expr{n.Key, n.Value} {
				if id, ok := left.(*ast.Ident); ok {
					own[id.Name] = true
				}
			}
		case *ast.ValueSpec:
			for _, name := range n.Names {
				own[name.Name] = true
			}
		}
		return note(n, names)
	})
	for name := range own {
		delete(names, name)
	}
	return names
}

// note takes down a name, but not the one behind a point.
func note(n ast.Node, into map[string]bool) bool {
	switch n := n.(type) {
	case *ast.SelectorExpr:
		ast.Inspect(n.X, func(x ast.Node) bool { return note(x, into) })
		return false
	case *ast.Ident:
		into[n.Name] = true
	}
	return true
}
