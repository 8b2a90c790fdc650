package book

import (
	"fmt"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// Two files that give a first answer with equal right are told, once for each
// position and the earliest first; roles and one file's own order settle it.
func TestRivals(t *testing.T) {
	for _, c := range []struct {
		name  string
		files []string
		first string // the file that comes first today
		want  string
	}{
		{"one file", []string{"1. e4 (1. d4) *"}, "", ""},
		{"the same answer", []string{"1. e4 *", "1. e4 *"}, "", ""},
		{"two answers", []string{"1. e4 *", "1. d4 *"}, "", "0: e4 0.pgn:1, d4 1.pgn:1"},
		{"once, with the first two", []string{"1. e4 *", "1. d4 *", "1. c4 *"}, "", "0: e4 0.pgn:1, d4 1.pgn:1"},
		{"the earliest first", []string{"1. e4 e5 2. Nf3 *", "1. e4 e5 2. Nc3 *\n\n[Event \"b\"]\n\n1. d4 *"}, "", "0: e4 0.pgn:1, d4 1.pgn:5; 2: Nf3 0.pgn:1, Nc3 1.pgn:1"},
		{"by transposition", []string{"1. d4 d5 2. c4 *", "1. d4 d5 2. Nf3 *"}, "", "2: c4 0.pgn:1, Nf3 1.pgn:1"},
		{"a main chapter", []string{"1. e4 *", "[Role \"main\"]\n\n1. d4 *"}, "", ""},
		{"a surprise", []string{"[Role \"surprise\"]\n\n1. e4 *", "1. d4 *"}, "", ""},
		{"two surprises", []string{"[Role \"surprise\"]\n\n1. e4 *", "[Role \"surprise\"]\n\n1. d4 *"}, "", "0: e4 0.pgn:3, d4 1.pgn:3"},
		{"chosen", []string{"1. e4 *", "1. d4 *"}, "1.pgn", ""},
		{"both chosen", []string{"1. e4 *", "1. d4 *"}, ".pgn", ""},
		{"own alternatives before another file's", []string{"1. e4 (1. c4) *", "1. d4 *"}, "", "0: e4 0.pgn:1, d4 1.pgn:1"},
	} {
		b := New(board.White)
		b.First = func(_, file string) bool { return c.first != "" && strings.HasSuffix(file, c.first) }
		for i, text := range c.files {
			opt := pgn.Options{File: fmt.Sprintf("%d.pgn", i), Variations: true}
			for g := range pgn.NewReader(strings.NewReader(text+"\n"), opt).All() {
				b.Add(g.Clone())
			}
		}
		var got []string
		for _, r := range b.Rivals() {
			got = append(got, fmt.Sprintf("%d: %s %s:%d, %s %s:%d", r.Ply+len(r.Line),
				r.First.SAN, r.First.File, r.First.FileLine, r.Second.SAN, r.Second.File, r.Second.FileLine))
		}
		if text := strings.Join(got, "; "); text != c.want {
			t.Errorf("%s: %q, want %q", c.name, text, c.want)
		}
	}
}
