package pgn

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/iotest"
)

// Games that are not wanted count, whatever their comments have in them.
func TestWant(t *testing.T) {
	text := "[White \"A\"]\n\n1. e4 {x\n\n[White \"not a tag\"]\n1. d4 * y} e5 1-0\n\n" +
		"[White \"B\"]\n\n1. d4 (1. c4 {)} 1-0 ) d5 {*} 0-1\n\n1. c4 *\n\n[White \"A\"]\n1. Nf3\n"
	var seen []string
	r := NewReader(strings.NewReader(text), Options{Want: func(g *Game) bool {
		white, _ := g.Players()
		seen = append(seen, white.Name)
		return white.Name == "A"
	}})
	var index []int
	for g := range r.All() {
		index = append(index, g.Index)
	}
	if !slices.Equal(seen, []string{"A", "B", "", "A"}) || !slices.Equal(index, []int{1, 4}) || r.Games() != 4 {
		t.Errorf("saw %q, handed out %v of %d", seen, index, r.Games())
	}
}

func TestBreakAndGoOn(t *testing.T) {
	r := NewReader(strings.NewReader("1. e4 * 1. d4 * 1. c4 *"), Options{})
	var got []string
	for g := range r.All() {
		got = append(got, string(g.Moves[0].SAN))
		if len(got) == 2 {
			break
		}
	}
	for g := range r.All() {
		got = append(got, string(g.Moves[0].SAN))
	}
	if !slices.Equal(got, []string{"e4", "d4", "c4"}) {
		t.Errorf("got %v", got)
	}
}

func TestTags(t *testing.T) {
	tags := Tags{{"White", "A"}, {"Empty", ""}, {"White", "B"}}
	if tags.Get("White") != "B" || tags.Get("white") != "" || tags.Get("Empty") != "" {
		t.Errorf("got %q %q", tags.Get("White"), tags.Get("white"))
	}
	if !tags.Has("Empty") || tags.Has("Black") {
		t.Errorf("Has is wrong")
	}
}

// A game that is too long has its tags, its moves up to there and a problem; its
// neighbours are whole.
func TestTooLong(t *testing.T) {
	long := "[White \"Long\"]\n\n" + strings.Repeat("1. e4 e5 {comment} ", 100) + "1-0\n\n"
	for name, tail := range map[string]string{
		"plain":                long,
		"in a comment":         "[White \"Long\"]\n\n1. e4 {" + strings.Repeat("word ", 400) + "} 1-0\n\n",
		"in a comment, open":   "[White \"Long\"]\n\n1. e4 {" + strings.Repeat("word ", 400) + "\n\n",
		"in a variation":       "[White \"Long\"]\n\n1. e4 " + strings.Repeat("(1. d4 ", 200) + "\n\n",
		"one word":             "[White \"Long\"]\n\n1. e4 " + strings.Repeat("x", 2000) + "\n\n",
		"longer than a block":  "[White \"Long\"]\n\n" + strings.Repeat("1. e4 e5 ", 3*blockSize/9) + " 1-0\n\n",
		"with a tag inside it": "[White \"Long\"]\n\n1. e4 " + strings.Repeat("{\n[x]\n} ", 200) + " 1-0\n\n",
	} {
		text := "[White \"A\"]\n\n1. e4 e5 1-0\n\n" + tail + "[White \"B\"]\n\n1. d4 {fine} d5 0-1\n"
		games, r := readAll(t, text, Options{MaxGame: 500, Variations: true})
		if len(games) != 3 || r.Games() != 3 {
			t.Fatalf("%s: %d games", name, len(games))
		}
		g := games[1]
		if !slices.ContainsFunc(g.Problems, func(p Problem) bool {
			return p.Kind == TooLong && p.Severity == Error && p.Line == 5 && p.Column == 1 && p.Ply == 0 && p.Message == "game longer than 500 bytes; the rest is left out"
		}) {
			t.Errorf("%s: problems %v", name, g.Problems)
		}
		if len(g.Moves) == 0 || len(g.Text) > 500 || g.tags.Get("White") != "Long" || string(g.Moves[0].SAN) != "e4" || !strings.HasPrefix(tail, string(g.Text)) {
			t.Errorf("%s: %d moves in %d bytes", name, len(g.Moves), len(g.Text))
		}
		if games[0].Termination != "1-0" || len(games[2].Moves) != 2 || games[2].tags.Get("White") != "B" || len(games[2].Problems) > 0 {
			t.Errorf("%s: a neighbour is harmed: %v", name, games[2].Problems)
		}
		if want := strings.Count(text[:strings.Index(text, "[White \"B\"]")], "\n") + 1; games[2].Line != want {
			t.Errorf("%s: next game at line %d, want %d", name, games[2].Line, want)
		}
	}
}

// Behind a game that was too long the next one is found by its first tag, though no blank
// line stands before it.
func TestAfterTooLong(t *testing.T) {
	long := "[White \"Long\"]\n\n" + strings.Repeat("1. e4 e5 ", 100) + "\n"
	type found struct {
		white string
		line  int
	}
	for next, want := range map[string]found{
		"[Event \"E\"]\n[White \"B\"]\n\n1. d4 *\n": {"B", 4}, "[Site \"E\"]\n[White \"B\"]\n\n1. d4 *\n\n[White \"C\"]\n\n1. c4 *\n": {"C", 9},
		"1-0\n[White \"B\"]\n\n1. d4 *\n": {"B", 5}, "\n[White \"B\"]\n\n1. d4 *\n": {"B", 5},
	} {
		games, _ := readAll(t, long+next, Options{MaxGame: 300})
		if len(games) != 2 || (found{games[1].tags.Get("White"), games[1].Line}) != want {
			t.Errorf("%q: %d games, %v", next, len(games), games[1:])
		}
	}
}

// What fills whole blocks before a game is passed over.
func TestLongLead(t *testing.T) {
	for name, lead := range map[string]string{
		"blanks":        strings.Repeat(" ", 3*blockSize) + "\n",
		"blank lines":   strings.Repeat("\n", 3*blockSize),
		"escape line":   "%" + strings.Repeat("1. d4 * ", blockSize/2) + "\n",
		"escape lines":  strings.Repeat("% 1. d4 *\n", blockSize/2),
		"not an escape": strings.Repeat(" ", 3*blockSize) + "\n" + "% x\n",
	} {
		games, r := readAll(t, lead+"1. e4 *\n", Options{})
		if len(games) != 1 || games[0].Line != strings.Count(lead, "\n")+1 || len(r.Problems()) > 0 {
			t.Errorf("%s: %d games, %v", name, len(games), r.Problems())
		}
	}
}

// Games that were whole before the input broke off are handed out, the one that
// was cut is not.
func TestInputError(t *testing.T) {
	broken := errors.New("broken")
	for text, want := range map[string]int{
		"1. e4 *\n\n1. d4 *":                     2,
		"1. e4 *\n\n1. d4 ":                      1,
		"1. e4 *\n\n[White \"A\"]\n":             1,
		"1. e4 *\n\n1. d4 {comment ":             1,
		"":                                       0,
		"\xff\xfe1\x00.\x00e\x004\x00":           0,
		"\xff\xfe1\x00.\x00e\x004\x00 \x00*\x00": 1,
	} {
		src := io.MultiReader(strings.NewReader(text), iotest.ErrReader(broken))
		r := NewReader(src, Options{File: "a.pgn"})
		n := 0
		for range r.All() {
			n++
		}
		if n != want || !errors.Is(r.Err(), broken) || r.Err().Error() != "reading a.pgn: broken" {
			t.Errorf("%q: %d games, want %d, %v", text, n, want, r.Err())
		}
	}
}

// silent is a reader that never has anything.
type silent struct{}

func (silent) Read([]byte) (int, error) { return 0, nil }

func TestInputThatNeverComes(t *testing.T) {
	r := NewReader(silent{}, Options{})
	for range r.All() {
		t.Error("a game out of nothing")
	}
	if !errors.Is(r.Err(), io.ErrNoProgress) {
		t.Errorf("got %v", r.Err())
	}
}

func TestCloneStays(t *testing.T) {
	text := benchGames(500, true)
	r := NewReader(bytes.NewReader(text), Options{})
	var clones []*Game
	for g := range r.All() {
		clones = append(clones, g.Clone())
	}
	i := 0
	for g := range NewReader(bytes.NewReader(text), Options{}).All() {
		c := clones[i]
		i++
		if !slices.Equal(c.tags, g.tags) || !bytes.Equal(c.Text, g.Text) || len(c.Moves) != len(g.Moves) {
			t.Fatalf("game %d changed", i)
		}
		for j, m := range g.Moves {
			if !bytes.Equal(m.SAN, c.Moves[j].SAN) || !bytes.Equal(m.Note, c.Moves[j].Note) {
				t.Fatalf("game %d, move %d changed", i, j)
			}
		}
	}
	if i != 500 {
		t.Fatalf("%d games", i)
	}
}

// A clone shares nothing that the game it was made of may change.
func TestCloneIsItsOwn(t *testing.T) {
	for g := range NewReader(strings.NewReader("[White \"A\"]\n\n1. e4 x e5 {n} *"), Options{}).All() {
		c := g.Clone()
		g.Problems[0].Game = 7
		c.Moves[0].SAN = append(c.Moves[0].SAN, '!')
		if c.Problems[0].Game != 1 || string(c.Moves[1].SAN) != "e5" || c.Moves[0].Note != nil || string(c.Moves[1].Note) != "{n}" {
			t.Errorf("%v %q", c.Problems, c.Moves)
		}
	}
}

// The strings of tags stay what they are when the buffer is used again, unless the caller
// passes them on.
func TestTagsStay(t *testing.T) {
	var text strings.Builder
	for i := range 3000 {
		fmt.Fprintf(&text, "[White \"A%04d\"]\n\n1. e4 *\n\n", i)
	}
	var names []string
	for g := range NewReader(strings.NewReader(text.String()), Options{}).All() {
		names = append(names, g.Tags().Get("White"))
	}
	for i, name := range names {
		if want := fmt.Sprintf("A%04d", i); name != want {
			t.Fatalf("game %d was of %s, not of %s", i+1, want, name)
		}
	}
}

// Thousands of levels must not eat the stack, neither when read nor written.
func TestDeepVariations(t *testing.T) {
	const depth = 100_000
	text := "1. e4 " + strings.Repeat("(e4 ", depth) + strings.Repeat(")", depth) + " *\n"
	games, _ := readAll(t, text, Options{Variations: true})
	n := 0
	for l := games[0].Tree; len(l.Moves[0].Variations) > 0; l = l.Moves[0].Variations[0] {
		n++
	}
	if n != depth || len(games[0].Problems) > 0 {
		t.Fatalf("depth %d, problems %v", n, games[0].Problems)
	}
	var out bytes.Buffer
	if err := Write(&out, games[0]); err != nil {
		t.Fatal(err)
	}
	if got := strings.Count(out.String(), "("); got != depth {
		t.Errorf("%d variations written", got)
	}
}

// Hostile texts: each of these would take hours if something cost the square of
// the length.
func TestHostileTexts(t *testing.T) {
	const n = 1 << 16
	for _, piece := range []string{
		"[", "[a", "[a\"", "[a \"\"]", "[a]", "[a \"x", "[a \"b\"]\n\n", "{", "}", "(", ")", "( ", "{\n", "{\n\n[a \"b\"]\n", "<", "*", "1-", "-", "+-",
		"$", "$1", "!", ".", "1.", "\n\n1.e4", "\n1.e4", "e4(", "e4)", "x ", "x e4 ", "ä", "ä e4 ", "ä x e4 ", "\xe4 x e4", "\n\n[", "\\", "\"", ";", "\n%", "½", "(*{}", "♘f3",
		"\n\n{", " 1 - 0", "e4 {a} (e5) {b} ",
	} {
		text := strings.Repeat(piece, n/len(piece))
		for _, before := range []string{"", "1. e4 ", "[a \"b\"]\n\n1. e4 (1. d4 "} {
			r := NewReader(strings.NewReader(before+text), Options{Variations: true})
			for g := range r.All() {
				if len(g.Problems) > 100 {
					t.Errorf("%q: %d problems", piece, len(g.Problems))
				}
			}
		}
	}
}

func TestProblemsOutsideAreCounted(t *testing.T) {
	_, r := readAll(t, strings.Repeat("junk *\n", 300), Options{File: "a.pgn"})
	p := r.Problems()
	if p[0].Game != 0 || p[0].File != "a.pgn" || p[1].Line != 2 {
		t.Errorf("%+v", p[:2])
	}
	if len(p) != maxLoose+1 || r.Games() != 0 || p[maxLoose].Message != fmt.Sprintf("text outside of any game, and %d more times", 300-maxLoose) {
		t.Errorf("%d problems, last %v", len(p), p[len(p)-1])
	}
}

// The figures hold for buffers that have grown: one string for the tags.
func TestAllocations(t *testing.T) {
	text := benchGames(2000, false)
	count := func(opt Options) float64 {
		return testing.AllocsPerRun(3, func() {
			for range NewReader(bytes.NewReader(text), opt).All() {
			}
		}) / 2000
	}
	if n := count(Options{}); n > 2 {
		t.Errorf("%.1f allocations a game", n)
	}
	if n := count(Options{Want: func(*Game) bool { return false }}); n > 2 {
		t.Errorf("%.1f allocations a skipped game", n)
	}
}

// Each numeric glyph of the standard's table is read.
func TestAllNAGs(t *testing.T) {
	table, err := os.ReadFile("../../testdata/pgn/pgn_nags.tsv")
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for line := range strings.Lines(string(table)) {
		var nag int
		if _, err := fmt.Sscanf(line, "%d\t", &nag); err != nil {
			continue
		}
		games, _ := readAll(t, fmt.Sprintf("1. e4 $%d *", nag), Options{Variations: true})
		if got := games[0].Tree.Moves[0].NAGs; !slices.Equal(got, []int{nag}) {
			t.Errorf("$%d read as %v", nag, got)
		}
		n++
	}
	if n != 140 {
		t.Errorf("%d glyphs in the table", n)
	}
}

// The meanings of the standard's table that the signs stand for.
func TestSignsMeanTheirGlyphs(t *testing.T) {
	table, err := os.ReadFile("../../testdata/pgn/pgn_nags.tsv")
	if err != nil {
		t.Fatal(err)
	}
	for sign, meaning := range map[string]string{
		"!": "good move, '!'", "?": "weak move, '?'", "!!": "very good move, '!!'", "??": "very weak move, '??'",
		"!?": "speculative move, '!?'", "?!": "doubtful move, '?!'", "=": "drawish", "∞": "unclear",
		"+=": "White: slight advantage", "=+": "Black: slight advantage", "±": "White: moderate advantage",
		"∓": "Black: moderate advantage", "+-": "White: decisive advantage", "-+": "Black: decisive advantage",
		"+/-": "White: moderate advantage", "-/+": "Black: moderate advantage", "+/=": "White: slight advantage",
		"=/+": "Black: slight advantage", "□": "forced: other moves lose fast",
	} {
		for _, text := range []string{"1. e4 " + sign + " *", "1. e4" + sign + " *", "1. O-O" + sign + "*", "1. e8=Q" + sign + " {c} *"} {
			games, _ := readAll(t, text, Options{Variations: true})
			nags := games[0].Tree.Moves[0].NAGs
			if len(nags) != 1 || !strings.Contains(string(table), fmt.Sprintf("\n%d\t%s\n", nags[0], meaning)) {
				t.Errorf("%s read as %v, not as %s", text, nags, meaning)
			}
		}
	}
}

// The number before a move tells whose it is: one with two dots or more is Black's.
func TestToldNumbers(t *testing.T) {
	for text, want := range map[string]int{"12. Nf3": 23, "12.Nf3": 23, "12 Nf3": 23, "12... Nf6": 24, "12...Nf6": 24, "12.. Nf6": 24, "12… Nf6": 24, "12. ... Nf6": 24, "Nf6": 0, "x12... Nf6": 0, "12.\nNf3": 23, "12.\u00a0Nf3": 23, "1234. Nf3": 0, "123... Nf6": 246, "1-0 Nf3": 0} {
		if got := toldPly([]byte(text), strings.IndexByte(text, 'N')); got != want {
			t.Errorf("%q tells half-move %d, want %d", text, got, want)
		}
	}
}

// What a game reports of a kind and the number it says more stand for make up all there were.
func TestProblemsOfAKindAddUp(t *testing.T) {
	for _, n := range []int{4, 5, 6, 7, 9} {
		text := "1. e4 e5 " + strings.Repeat(") ", n) + "2. Nf3 *\n"
		games, _ := readAll(t, text+text, Options{Variations: true}) // the second counts by itself
		told := 0
		for i, p := range games[1].Problems {
			if p.Column != 10+2*i {
				t.Errorf("problem %d of %d at column %d", i, n, p.Column)
			}
			more := 0
			if _, rest, ok := strings.Cut(p.Message, ", and "); ok {
				if _, err := fmt.Sscanf(rest, "%d more", &more); err != nil {
					t.Fatal(err)
				}
			}
			if more == 0 && strings.Contains(p.Message, "more") {
				t.Errorf("%d faults: %s", n, p.Message)
			}
			told += 1 + more
		}
		if told != n {
			t.Errorf("%d faults of one kind are told as %d: %v", n, told, games[1].Problems)
		}
	}
}

// A number at the end of a word is read, but not out of a square.
func TestNumberEnding(t *testing.T) {
	for word, want := range map[string]int{"12": 12, "e4": 0, "h4": 0, "a45": 5, "h412": 12, "Nf3": 0, "x12": 0, "$12": 0, "1.5": 0, "e": 0, "1-12": 0, "123": 123, "1234": 0, "12345": 0, "a1234": 234, "h41234": 0} {
		if got := numberEnding([]byte(word)); got != want {
			t.Errorf("%s: %d, want %d", word, got, want)
		}
	}
}
