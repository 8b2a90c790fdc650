package pgn

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "rewrite the expected readings of the quirks")

// Each quirk has beside it what the reader makes of it: games, trees, problems.
func TestQuirks(t *testing.T) {
	files, err := filepath.Glob(quirkDir + "/*.pgn")
	if err != nil || len(files) == 0 {
		t.Fatalf("%d quirks, %v", len(files), err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".pgn"), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			got := dump(t, text)
			golden := strings.TrimSuffix(file, "pgn") + "txt"
			if *update {
				if err := os.WriteFile(golden, got, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(got, want) {
				t.Errorf("got\n%s\nwant\n%s", got, want)
			}
		})
	}
}

// dump writes all that a reader makes of a text.
func dump(t *testing.T, text []byte) []byte {
	t.Helper()
	var b bytes.Buffer
	r := NewReader(bytes.NewReader(text), Options{Variations: true})
	for g := range r.All() {
		fmt.Fprintf(&b, "game %d, line %d, result %q\n", g.Index, g.Line, g.Termination)
		for _, tag := range g.tags {
			fmt.Fprintf(&b, "\t[%s|%s]\n", tag.Name, tag.Value)
		}
		b.WriteString("\t")
		dumpLine(&b, g.Tree)
		b.WriteString("\n")
		dumpFlat(&b, g)
		for _, m := range g.Moves {
			if bytes.Count(m.Note, []byte("{"))+bytes.Count(m.Note, []byte(";")) > 1 {
				fmt.Fprintf(&b, "\tnote %s: %q\n", m.SAN, m.Note)
			}
		}
		for _, p := range g.Problems {
			dumpProblem(&b, p)
		}
	}
	fmt.Fprintf(&b, "%d games\n", r.Games())
	for _, p := range r.Problems() {
		dumpProblem(&b, p)
	}
	return b.Bytes()
}

// dumpFlat writes the main line that a reader without variations makes of a game's
// text, where it is another: piece letters are read game by game then.
func dumpFlat(b *bytes.Buffer, g *Game) {
	for flat := range NewReader(bytes.NewReader(g.Text), Options{}).All() {
		if len(flat.Moves) != len(g.Moves) || slices.EqualFunc(flat.Moves, g.Moves, func(m, n Move) bool { return string(m.SAN) == string(n.SAN) }) {
			return
		}
		b.WriteString("\tas a game:")
		for _, m := range flat.Moves {
			fmt.Fprintf(b, " %s", m.SAN)
		}
		b.WriteString("\n")
		for _, p := range flat.Problems {
			fmt.Fprintf(b, "\t\t%s: %s\n", p.Severity, p)
		}
		return
	}
}

func dumpLine(b *bytes.Buffer, l *Line) {
	for _, c := range l.Comments {
		fmt.Fprintf(b, "%q ", c)
	}
	for i, n := range l.Moves {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(n.SAN)
		for _, g := range n.NAGs {
			fmt.Fprintf(b, " $%d", g)
		}
		for _, c := range n.Comments {
			fmt.Fprintf(b, " %q", c)
		}
		for _, v := range n.Variations {
			b.WriteString(" (")
			dumpLine(b, v)
			b.WriteString(")")
		}
	}
}

func dumpProblem(b *bytes.Buffer, p Problem) {
	fmt.Fprintf(b, "%s: %s, ply %d, token %q\n\t\t%s\n", p.Severity, p, p.Ply, p.Token, strings.ReplaceAll(p.Caret(), "\n", "\n\t\t"))
}
