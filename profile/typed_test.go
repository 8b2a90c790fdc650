package profile

import (
	"bytes"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// twig is a move of a known tree, with what comes instead of it.
type twig struct {
	pos  board.Position // before the move
	move board.Move
	alts [][]twig
}

// growTree makes a line of legal moves at random, with variations down to some depth.
func growTree(rnd *rand.Rand, pos board.Position, n, depth int) []twig {
	var line []twig
	for range n {
		legal := pos.Legal(nil)
		if len(legal) == 0 {
			break
		}
		t := twig{pos: pos, move: legal[rnd.IntN(len(legal))]}
		for depth > 0 && len(legal) > 3 && rnd.IntN(4) == 0 && len(t.alts) < 2 {
			other := legal[rnd.IntN(len(legal))]
			if other == t.move || slices.ContainsFunc(t.alts, func(a []twig) bool { return a[0].move == other }) {
				break
			}
			after := pos
			after.Play(other)
			t.alts = append(t.alts, append([]twig{{pos: pos, move: other}}, growTree(rnd, after, rnd.IntN(6), depth-1)...))
		}
		line = append(line, t)
		pos.Play(t.move)
	}
	return line
}

// paths are all lines of a tree from its first move to their ends, sorted.
func paths(line []twig, before string, into map[string]bool) {
	for i, t := range line {
		for _, a := range t.alts {
			paths(a, before, into)
		}
		before += " " + t.pos.SAN(t.move)
		if i == len(line)-1 {
			into[before] = true
		}
	}
}

func readPaths(l *Line, before string, into map[string]bool) {
	for i := range l.Moves {
		n := &l.Moves[i]
		for _, v := range n.Variations {
			readPaths(v, before, into)
		}
		before += " " + n.SAN
		if i == len(l.Moves)-1 {
			into[before] = true
		}
	}
}

// hand types a tree, with the habits and slips of one person.
type hand struct {
	rnd     *rand.Rand
	b       strings.Builder
	letters string // in place of NBRQK
	small   bool   // pieces in small letters
	zeros   bool   // castling
	rows    bool   // variations stand below, not in brackets
	before  bool   // brackets stand before their move
	join    bool   // semicolons between the variations of a move
	forget  bool   // some dots before Black's moves
	glue    bool   // some moves of pawns
	blank   string // behind numbers
}

func newHand(rnd *rand.Rand) *hand {
	h := &hand{
		rnd: rnd, letters: "NBRQK", zeros: rnd.IntN(2) == 0, rows: rnd.IntN(2) == 0, before: rnd.IntN(4) == 0,
		join: rnd.IntN(3) == 0, forget: rnd.IntN(3) == 0, glue: rnd.IntN(3) == 0, blank: []string{"", " "}[rnd.IntN(2)],
	}
	switch rnd.IntN(6) {
	case 0:
		h.letters = []string{"SLTDK", "CFTDR", "PLTDK"}[rnd.IntN(3)]
	case 1:
		h.small = true
	}
	return h
}

// san is a move as the hand writes it.
func (h *hand) san(t *twig) string {
	s := t.pos.SAN(t.move)
	if strings.HasPrefix(s, "O") {
		if h.zeros {
			return strings.ReplaceAll(s, "O", "0")
		}
		return s
	}
	letter := func(r rune) rune {
		if k := strings.IndexRune("NBRQK", r); k >= 0 {
			return rune(h.letters[k])
		}
		return r
	}
	s = strings.Map(letter, s)
	if h.small && s[0] >= 'A' && s[0] <= 'Z' {
		s = strings.ToLower(s[:1]) + s[1:]
	}
	return s
}

func (h *hand) number(t *twig) string {
	n := t.pos.FullMove()
	if t.pos.Turn() == board.White || h.forget && n > 1 && h.rnd.IntN(3) == 0 {
		return fmt.Sprintf("%d.%s", n, h.blank)
	}
	return fmt.Sprintf("%d...%s", n, h.blank)
}

// moves types a line; in brackets what stands instead of its moves, unless that
// comes in rows below. A bracket before its move has its dots: without them it is
// one to the move before, and nobody could tell.
func (h *hand) moves(line []twig, sure bool) {
	numbered, forget := true, h.forget
	h.forget = forget && !sure
	for i := range line {
		t := &line[i]
		alts := t.alts
		if i == 0 && h.rows {
			alts = nil
		}
		if h.before && !h.rows && len(alts) > 0 && i > 0 {
			h.brackets(alts)
			numbered, alts = true, nil
		}
		if numbered || t.pos.Turn() == board.White {
			h.b.WriteString(h.number(t))
		}
		h.b.WriteString(h.san(t))
		numbered, h.forget = false, forget
		if !h.glues(line[i:]) {
			h.b.WriteString(" ")
		}
		if len(alts) > 0 && !h.rows {
			h.brackets(alts)
			numbered = h.rnd.IntN(2) == 0
		}
	}
}

// glues reports whether no blank comes behind the first of the moves.
func (h *hand) glues(line []twig) bool {
	return h.glue && len(line) > 1 && line[0].pos.Turn() == board.White && len(line[0].alts)+len(line[1].alts) == 0 &&
		len(h.san(&line[0])) == 2 && len(h.san(&line[1])) == 2 && h.rnd.IntN(2) == 0
}

func (h *hand) brackets(alts [][]twig) {
	h.b.WriteString("(")
	for i, a := range alts {
		switch {
		case i > 0 && h.join:
			h.b.WriteString("; ")
		case i > 0:
			h.b.WriteString(") (")
		}
		h.moves(a, h.before)
	}
	h.b.WriteString(") ")
}

var labels = []string{"", "", "", "", "Main: ", "a) ", "A1) ", "b4) ", "2) ", "**Sideline**: ", "Old line ", "with Bg5: ", "- "}

// below types the variations of a line in rows, the latest first, so that each
// number means the line above that has it.
func (h *hand) below(line []twig) {
	for i := len(line) - 1; i >= 0; i-- {
		for _, a := range line[i].alts {
			h.b.WriteString("\n" + labels[h.rnd.IntN(len(labels))])
			h.moves(a, false)
			h.below(a)
		}
	}
}

// typed makes a tree and a text of it.
func typed(seed uint64) (line []twig, text string) {
	rnd := rand.New(rand.NewPCG(seed, 17))
	line = growTree(rnd, board.Start(), 4+rnd.IntN(12), 2)
	h := newHand(rnd)
	h.moves(line, false)
	if h.rows {
		h.below(line)
	}
	return line, h.b.String() + "\n"
}

// checkTyped reads a text and compares it with the tree; false when a warning says
// that it was not sure.
func checkTyped(t *testing.T, seed uint64) (silent bool) {
	t.Helper()
	line, text := typed(seed)
	var games []*pgn.Game
	for g := range pgn.NewReader(strings.NewReader(text), pgn.Options{Variations: true}).All() {
		games = append(games, g.Clone())
	}
	Translate(games)
	var problems []pgn.Problem
	got, want := map[string]bool{}, map[string]bool{}
	for _, g := range games {
		read, more := Replay(g, board.Start())
		problems = slices.Concat(problems, g.Problems, more)
		readPaths(read, "", got)
	}
	if slices.ContainsFunc(problems, func(p pgn.Problem) bool { return p.Severity != pgn.Note }) {
		return false
	}
	paths(line, "", want)
	if diff := difference(got, want); diff != "" {
		t.Errorf("seed %d reads otherwise:\n%s\n%s", seed, text, diff)
	}
	return true
}

func difference(got, want map[string]bool) string {
	var out []string
	for p := range got {
		if !want[p] {
			out = append(out, "read:   "+p)
		}
	}
	for p := range want {
		if !got[p] {
			out = append(out, "missed: "+p)
		}
	}
	slices.Sort(out)
	return strings.Join(out, "\n")
}

var update = flag.Bool("update", false, "rewrite the expected trees")

// Each text typed by hand has beside it the trees that are made of it, and what is
// told. They were checked by hand.
func TestTyped(t *testing.T) {
	files, err := filepath.Glob("../testdata/pgn/quirks/*.pgn")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		golden := strings.TrimSuffix(file, ".pgn") + ".tree"
		if _, err := os.Stat(golden); err != nil && !strings.HasPrefix(filepath.Base(file), "typed_") {
			continue
		}
		got := trees(t, file)
		if *update {
			if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if got != string(want) {
			t.Errorf("%s: got\n%s\nwant\n%s", file, got, want)
		}
	}
}

// trees writes the games of a file as they are read, and what is told of it.
func trees(t *testing.T, file string) string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var games []*pgn.Game
	for g := range pgn.NewReader(bytes.NewReader(text), pgn.Options{Variations: true}).All() {
		games = append(games, g.Clone())
	}
	Translate(games)
	var problems []pgn.Problem
	var b strings.Builder
	for _, g := range games {
		start, err := Start(g.Header())
		if err != nil {
			t.Fatal(err)
		}
		line, more := Replay(g, start)
		problems = slices.Concat(problems, g.Problems, more)
		fmt.Fprintf(&b, "%s\n", sketch(line))
	}
	for _, p := range problems {
		if p.Kind != pgn.NoTermination {
			fmt.Fprintf(&b, "%s: %s\n", p.Severity, p)
		}
	}
	return b.String()
}

// sketch writes a line with its variations in brackets.
func sketch(l *Line) string {
	var parts []string
	for _, n := range l.Moves {
		move := n.SAN
		if n.Ply%2 == 1 {
			move = fmt.Sprintf("%d.%s", (n.Ply+1)/2, move)
		}
		parts = append(parts, move)
		for _, c := range n.Comments {
			parts = append(parts, "{"+c+"}")
		}
		for _, v := range n.Variations {
			parts = append(parts, "("+sketch(v)+")")
		}
	}
	return strings.Join(parts, " ")
}

// What is read of a text typed by hand without a warning is the tree it was made of.
func TestTypedByHand(t *testing.T) {
	const texts = 1500
	silent := 0
	for seed := range uint64(texts) {
		if checkTyped(t, seed) {
			silent++
		}
	}
	t.Logf("%d of %d read without a warning", silent, texts)
	if silent < texts/2 {
		t.Errorf("only %d of %d texts were read without a warning", silent, texts)
	}
}

func FuzzTypedByHand(f *testing.F) {
	for seed := range uint64(50) {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, seed uint64) { checkTyped(t, seed) })
}

// Most played is the best reading, the first of equals. It is sure where no other can be played
// to its end, nor, where it can't itself, any part of the way; one by a slip never is.
func TestBestReading(t *testing.T) {
	whole := func(n int) reading { return reading{n: n, all: true} }
	part := func(n int) reading { return reading{n: n} }
	for _, c := range []struct {
		list []reading
		best int
		sure bool
	}{
		{[]reading{part(0)}, 0, true}, {[]reading{whole(2)}, 0, true}, {[]reading{{n: 2, all: true, slip: true}}, 0, false},
		{[]reading{whole(2), part(1)}, 0, true}, {[]reading{whole(1), part(2)}, 0, true}, {[]reading{whole(2), whole(2)}, 0, false}, {[]reading{whole(2), whole(3)}, 1, false},
		{[]reading{part(2), part(0)}, 0, true}, {[]reading{part(2), part(1)}, 0, false}, {[]reading{part(1), part(1)}, 0, false},
		{[]reading{part(0), part(2)}, 1, true}, {[]reading{part(1), part(2)}, 1, false}, {[]reading{part(3), whole(1)}, 1, true},
		{[]reading{part(0), part(1), part(1)}, 1, false}, {[]reading{part(1), whole(1), part(2)}, 1, true}, {[]reading{part(1), part(2), whole(1)}, 2, true}, {[]reading{whole(1), part(1), whole(1)}, 0, false},
	} {
		for i := range c.list {
			c.list[i].told = i
		}
		if got, sure := best(c.list); got.told != c.best || sure != c.sure {
			t.Errorf("%+v: reading %d, sure %v, want %d, %v", c.list, got.told, sure, c.best, c.sure)
		}
	}
}
