package pgn

import (
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// The torture files are synthetic; testdata/pgn/torture/CASES.tsv says what each
// has and who computed the expected reading.

type wantFile struct {
	Games []wantGame `json:"games"`
}

type wantGame struct {
	Tags         map[string]string `json:"tags"`
	Termination  *string           `json:"termination"`
	GameComments []string          `json:"game_comments"`
	MainLine     []string          `json:"main_line_san"`
	Line         wantLine          `json:"line"`
	Errors       int               `json:"errors"`
}

type wantLine struct {
	StartComments []string   `json:"start_comments"`
	Moves         []wantNode `json:"moves"`
}

type wantNode struct {
	SAN        string     `json:"san"`
	UCI        string     `json:"uci"`
	NAGs       []int      `json:"nags"`
	Comments   []string   `json:"comments"`
	Variations []wantLine `json:"variations"`
	Clk        *float64   `json:"clk_seconds"`
	Emt        *float64   `json:"emt_seconds"`
	Eval       *struct {
		CP   *int `json:"cp"`
		Mate *int `json:"mate"`
	} `json:"eval_white"`
	Depth int `json:"eval_depth"`
}

const (
	tortureDir = "../../testdata/pgn/torture"
	quirkDir   = "../../testdata/pgn/quirks"
)

func TestTorture(t *testing.T) {
	files, err := filepath.Glob(tortureDir + "/*.pgn")
	if err != nil || len(files) != 38 {
		t.Fatalf("%d torture files, %v", len(files), err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) { tortureFile(t, file) })
	}
}

func tortureFile(t *testing.T, file string) {
	want := readWant(t, strings.TrimSuffix(file, ".pgn")+".json")
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	games, r := readAll(t, string(text), Options{Variations: true})
	if len(games) != len(want.Games) || r.Games() != len(want.Games) {
		t.Fatalf("%d games, Games() %d, want %d", len(games), r.Games(), len(want.Games))
	}
	for i, g := range games {
		checkGame(t, g, want.Games[i])
	}
}

func readWant(t *testing.T, file string) wantFile {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var w wantFile
	if err := json.Unmarshal(data, &w); err != nil {
		t.Fatal(err)
	}
	return w
}

func checkGame(t *testing.T, g *Game, want wantGame) {
	t.Helper()
	for name, value := range want.Tags {
		if got := g.tags.Get(name); got != value {
			t.Errorf("game %d: %s is %q, want %q", g.Index, name, got, value)
		}
	}
	term := ""
	if want.Termination != nil {
		term = *want.Termination
	}
	// After a move it can't resolve python-chess loses the marker that is there.
	if g.Termination != term && !(want.Errors > 0 && want.Termination == nil) {
		t.Errorf("game %d: termination %q, want %q", g.Index, g.Termination, term)
	}
	start := append(slices.Clone(want.GameComments), want.Line.StartComments...)
	if !slices.Equal(g.Tree.Comments, start) {
		t.Errorf("game %d: comments %q, want %q", g.Index, g.Tree.Comments, start)
	}
	// An illegal move is for the replay to find: there the text has more moves.
	checkLine(t, g.Tree, want.Line, want.Errors > 0)
	if len(g.Moves) != len(g.Tree.Moves) {
		t.Errorf("game %d: %d flat moves, %d in the tree", g.Index, len(g.Moves), len(g.Tree.Moves))
	}
	for i := range min(len(g.Moves), len(want.Line.Moves)) {
		checkNote(t, &g.Moves[i], want.Line.Moves[i])
	}
}

func checkLine(t *testing.T, got *Line, want wantLine, longer bool) {
	t.Helper()
	if len(got.Moves) != len(want.Moves) && !(longer && len(got.Moves) > len(want.Moves)) {
		t.Errorf("%d moves, want %d", len(got.Moves), len(want.Moves))
		return
	}
	for i, w := range want.Moves {
		n := got.Moves[i]
		if !sameMove(n.SAN, w) {
			t.Errorf("move %d is %s, want %s", i+1, n.SAN, w.SAN)
		}
		nags := slices.Compact(slices.Sorted(slices.Values(n.NAGs)))
		if !slices.Equal(nags, w.NAGs) {
			t.Errorf("%s: glyphs %v, want %v", n.SAN, nags, w.NAGs)
		}
		if !slices.Equal(n.Comments, w.Comments) {
			t.Errorf("%s: comments %q, want %q", n.SAN, n.Comments, w.Comments)
		}
		if len(n.Variations) != len(w.Variations) {
			t.Errorf("%s: %d variations, want %d", n.SAN, len(n.Variations), len(w.Variations))
			continue
		}
		for j, v := range w.Variations {
			if !slices.Equal(n.Variations[j].Comments, v.StartComments) {
				t.Errorf("%s: variation starts with %q, want %q", n.SAN, n.Variations[j].Comments, v.StartComments)
			}
			checkLine(t, n.Variations[j], v, longer)
		}
	}
}

// sameMove compares without what the text alone can't judge: signs of check,
// the equals sign of a promotion, zeros in castling, full squares.
func sameMove(san string, w wantNode) bool {
	strip := strings.NewReplacer("+", "", "#", "", "=", "", "0", "O", "Z0", "--", "q", "Q", "N", "N")
	if strip.Replace(san) == strip.Replace(w.SAN) || san == w.UCI {
		return true
	}
	if len(w.UCI) < 4 {
		return false
	}
	return strings.Contains(san, w.UCI[2:4]) && san[0] == w.SAN[0]
}

func checkNote(t *testing.T, m *Move, want wantNode) {
	t.Helper()
	if s, ok := m.Clk(); ok != (want.Clk != nil) || ok && s != *want.Clk {
		t.Errorf("%s: clock %v %v", m.SAN, s, ok)
	}
	if s, ok := m.Emt(); ok != (want.Emt != nil) || ok && s != *want.Emt {
		t.Errorf("%s: elapsed %v %v", m.SAN, s, ok)
	}
	e, ok := m.Eval()
	switch {
	case ok != (want.Eval != nil):
		t.Errorf("%s: eval %v %v", m.SAN, e, ok)
	case !ok:
	case want.Eval.Mate != nil && (!e.IsMate || e.Mate != *want.Eval.Mate),
		want.Eval.CP != nil && (e.IsMate || e.Centipawns != *want.Eval.CP),
		e.Depth != want.Depth:
		t.Errorf("%s: eval %+v", m.SAN, e)
	}
}

// readAll reads all games of a text, cloned.
func readAll(t testing.TB, text string, opt Options) ([]*Game, *Reader) {
	t.Helper()
	return readFrom(t, strings.NewReader(text), opt)
}

func readFrom(t testing.TB, src io.Reader, opt Options) ([]*Game, *Reader) {
	t.Helper()
	r := NewReader(src, opt)
	var games []*Game
	for g := range r.All() {
		games = append(games, g.Clone())
	}
	if r.Err() != nil {
		t.Fatal(r.Err())
	}
	return games, r
}
