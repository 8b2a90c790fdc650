package pgn

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"testing/iotest"
	"unicode/utf8"
)

func addSeeds(f *testing.F) {
	for _, dir := range []string{tortureDir, quirkDir} {
		files, err := filepath.Glob(dir + "/*.pgn")
		if err != nil {
			f.Fatal(err)
		}
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(text)
		}
	}
	for _, s := range []string{"", "{", "(", "[", "[Event \"", "1. e4 (", "1. e4 {", "1. e4 ;", "%", "<", "1-", "1/2", "½", "\xBD", "\r", "\xFF\xFE1\x00", "1. e4 (1. d4 *", "[A \"\n[B"} {
		f.Add([]byte(s))
	}
}

// lastGame is what must survive behind any other bytes.
const lastGame = `[Event "Last"]
[Site "Here"]
[Date "2024.01.02"]
[Round "9"]
[White "Alder, Mina"]
[Black "Brook, Tomas"]
[Result "1-0"]

1. e4 {sure} c5 (1... e5 2. Nf3) 2. Nf3 $1 1-0
`

func FuzzRead(f *testing.F) {
	addSeeds(f)
	f.Fuzz(checkRead)
}

func checkRead(t *testing.T, text []byte) {
	for _, opt := range []Options{{}, {Variations: true}, {Variations: true, MaxGame: 300}} {
		games, r := readBytes(t, bytes.NewReader(text), opt)
		if !isUTF16(text) {
			checkPlaces(t, text, games, r)
		}
		slow, slowReader := readBytes(t, iotest.OneByteReader(bytes.NewReader(text)), opt)
		sameGames(t, slow, games)
		if r.Games() != slowReader.Games() {
			t.Fatal("reading byte by byte counts other games")
		}
		checkSkipped(t, text, opt, r.Games())
	}
	checkSurvivor(t, text)
}

func isUTF16(text []byte) bool {
	order, _ := utf16Order(text)
	return order != nil
}

func sameGames(t *testing.T, got, want []*Game) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%d games, want %d", len(got), len(want))
	}
	for i := range got {
		if !reflect.DeepEqual(got[i], want[i]) {
			t.Fatalf("game %d:\n%+v\nwant\n%+v", i+1, got[i], want[i])
		}
	}
}

func readBytes(t *testing.T, src io.Reader, opt Options) ([]*Game, *Reader) {
	t.Helper()
	opt.File = "fuzz.pgn"
	return readFrom(t, src, opt)
}

// checkPlaces checks that every place lies in the input and can be shown.
func checkPlaces(t *testing.T, text []byte, games []*Game, r *Reader) {
	t.Helper()
	text = bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n"))
	lines := bytes.Split(bytes.ReplaceAll(text, []byte("\r"), []byte("\n")), []byte("\n"))
	check := func(line, column int) {
		if line < 1 || line > len(lines) || column < 1 || column > len(lines[line-1])+1 {
			t.Fatalf("place %d:%d is not in the input", line, column)
		}
	}
	for _, g := range games {
		for _, tag := range g.tags {
			ParseDate(tag.Value)
		}
		for _, p := range g.Problems {
			check(p.Line, p.Column)
			checkShown(t, p)
			checkShown(t, g.Locate(Problem{Line: p.Line, Column: p.Column}))
		}
		for _, m := range g.Moves {
			check(int(m.Line), int(m.Column))
			m.Clk()
			m.Eval()
		}
	}
	for _, p := range r.Problems() {
		check(p.Line, p.Column)
		checkShown(t, p)
	}
}

func checkShown(t *testing.T, p Problem) {
	t.Helper()
	for _, s := range []string{p.String(), strings.Replace(p.Caret(), "\n", "", 1)} {
		if !utf8.ValidString(s) || strings.ContainsAny(s, "\n\r\x00\x1b\t\u202e") {
			t.Fatalf("not fit for a terminal: %q", s)
		}
	}
}

// checkSkipped checks that a game has the same length whether it is read or not.
func checkSkipped(t *testing.T, text []byte, opt Options, games int) {
	t.Helper()
	opt.Want = func(*Game) bool { return false }
	none, r := readBytes(t, bytes.NewReader(text), opt)
	if len(none) != 0 || r.Games() != games {
		t.Fatalf("%d games when skipped, %d when read", r.Games(), games)
	}
}

// checkSurvivor checks that a good game behind the text and a blank line is read
// whole. The only thing it may catch from before are tags and comments of a game
// without moves, since blank lines among tags are allowed.
func checkSurvivor(t *testing.T, text []byte) {
	t.Helper()
	if isUTF16(text) {
		return // all that follows would be UTF-16, too
	}
	all := append(bytes.Clone(text), "\n\n"+lastGame...)
	games, _ := readBytes(t, bytes.NewReader(all), Options{Variations: true})
	if len(games) == 0 {
		t.Fatal("the game behind is lost")
	}
	want, _ := readBytes(t, strings.NewReader(lastGame), Options{Variations: true})
	g, w := games[len(games)-1], want[0]
	for _, tag := range w.tags {
		if g.tags.Get(tag.Name) != tag.Value {
			t.Fatalf("tag %s of the game behind is %q", tag.Name, g.tags.Get(tag.Name))
		}
	}
	if len(g.Moves) != len(w.Moves) || g.Termination != w.Termination {
		t.Fatalf("the game behind has %d moves, result %s", len(g.Moves), g.Termination)
	}
	if !sameLine(g.Tree, w.Tree) {
		t.Fatal("the tree of the game behind is another")
	}
}

// sameLine compares two lines without places and without the comments before the
// first move.
func sameLine(a, b *Line) bool {
	if len(a.Moves) != len(b.Moves) {
		return false
	}
	for i := range a.Moves {
		m, n := a.Moves[i], b.Moves[i]
		if m.SAN != n.SAN || !reflect.DeepEqual(m.NAGs, n.NAGs) || !reflect.DeepEqual(m.Comments, n.Comments) ||
			len(m.Variations) != len(n.Variations) {
			return false
		}
		for j := range m.Variations {
			if !reflect.DeepEqual(m.Variations[j].Comments, n.Variations[j].Comments) || !sameLine(m.Variations[j], n.Variations[j]) {
				return false
			}
		}
	}
	return true
}

func FuzzWriteRead(f *testing.F) {
	addSeeds(f)
	f.Fuzz(checkWriteRead)
}

func checkWriteRead(t *testing.T, text []byte) {
	games, _ := readBytes(t, bytes.NewReader(text), Options{Variations: true})
	var out bytes.Buffer
	for _, g := range games {
		if err := Write(&out, g); err != nil {
			t.Fatal(err)
		}
	}
	again, r := readBytes(t, bytes.NewReader(out.Bytes()), Options{Variations: true})
	if len(again) != len(games) || len(r.Problems()) > 0 {
		t.Fatalf("%d games written, %d read, %v\n%s", len(games), len(again), r.Problems(), out.Bytes())
	}
	var second bytes.Buffer
	for i, g := range again {
		checkRewritten(t, text, games[i], g)
		if err := Write(&second, g); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(out.Bytes(), second.Bytes()) {
		t.Fatalf("written twice differs:\n%s\n%s", out.Bytes(), second.Bytes())
	}
}

func checkRewritten(t *testing.T, text []byte, g, again *Game) {
	t.Helper()
	for _, tag := range g.tags {
		want := tagLine(g.tags.Get(tag.Name))
		if got := again.tags.Get(tag.Name); got != want {
			t.Fatalf("tag %s: wrote %q, read %q", tag.Name, want, got)
		}
	}
	if g.Termination != again.Termination && !(g.Termination == "" && again.Termination == "*") {
		t.Fatalf("termination %q became %q", g.Termination, again.Termination)
	}
	if !sameLine(g.Tree, again.Tree) || !reflect.DeepEqual(g.Tree.Comments, again.Tree.Comments) {
		t.Fatalf("the tree became another, of %q", text)
	}
	for _, p := range again.Problems {
		switch p.Kind {
		case ResultClash, NullInMain, BadSetUp, BadTag:
		default:
			t.Fatalf("problem in what was written: %s", p)
		}
	}
}
