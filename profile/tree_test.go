package profile

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// diffTree is the shape of the expected trees: the player "Kestrel, Ada" in 411
// invented games, to 16 plies, computed with the library python-chess and
// recounted with a second one (testdata/diff, see its source line).
type diffTree struct {
	MaxPly int `json:"max_ply"`
	Nodes  map[string]struct {
		Key    string `json:"key"`
		ToMove string `json:"to_move"`
		diffCount
		Moves map[string]struct {
			SAN string `json:"san"`
			diffCount
			LastDate string `json:"last_date"`
			ChildEPD string `json:"child_epd"`
		} `json:"moves"`
	} `json:"nodes"`
}

type diffCount struct{ Games, W, D, L, U int32 }

func (c Count) same(o diffCount) bool {
	return o == diffCount{c.Games, c.Wins, c.Draws, c.Losses, c.Unknown}
}

func TestTreeEqualsTheDifferentialFixture(t *testing.T) {
	for _, c := range []board.Color{board.White, board.Black} {
		t.Run(c.String(), func(t *testing.T) {
			data, err := os.ReadFile("../testdata/diff/expected_tree_" + c.String() + ".json")
			if err != nil {
				t.Fatal(err)
			}
			var want diffTree
			if err := json.Unmarshal(data, &want); err != nil {
				t.Fatal(err)
			}
			tree := kestrel(t, want.MaxPly).Tree(c)
			if tree.Len() != len(want.Nodes) {
				t.Errorf("%d positions, want %d", tree.Len(), len(want.Nodes))
			}
			for pos, n := range tree.All() {
				w, ok := want.Nodes[pos.EPD()]
				if !ok || w.Key != fmt.Sprintf("%016x", pos.Key()) || !n.Count.same(w.diffCount) || len(n.Edges) != len(w.Moves) {
					t.Errorf("%s: %+v, want %+v", pos.EPD(), n.Count, w.diffCount)
				}
				if n.ToMove.String()[:1] != w.ToMove || n.ToMove != pos.Turn() || n.Edge(board.NullMove) != nil {
					t.Errorf("%s: %s to move, want %s", pos.EPD(), n.ToMove, w.ToMove)
				}
				for i, e := range n.Edges {
					if n.Edge(e.Move) != &n.Edges[i] {
						t.Errorf("%s: %s is not found", pos.EPD(), e.Move.UCI())
					}
					m := w.Moves[e.Move.UCI()]
					next := pos
					next.Play(e.Move)
					if m.SAN != pos.SAN(e.Move) || !e.Count.same(m.diffCount) ||
						m.LastDate != pgn.NumberedDate(e.LastDate).Tag() || m.ChildEPD != next.EPD() || e.Child != next.Key() {
						t.Errorf("%s %s: %+v %s, want %+v", pos.EPD(), e.Move.UCI(), e.Count, pgn.NumberedDate(e.LastDate).Tag(), m)
					}
				}
			}
		})
	}
}

func kestrel(t *testing.T, maxPly int) *Profile {
	t.Helper()
	f, err := os.Open("../testdata/diff/games.pgn")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := pgn.NewReader(f, pgn.Options{File: "games.pgn"})
	p := Build(r.All(), Options{MaxPly: maxPly, Them: func(g *pgn.Game) (board.Color, bool) {
		if g.Tags().Get("White") == "Kestrel, Ada" {
			return board.White, true
		}
		return board.Black, g.Tags().Get("Black") == "Kestrel, Ada"
	}})
	if err := r.Err(); err != nil {
		t.Fatal(err)
	}
	return p
}

// Counting in two parts and merging them gives the counts of the whole; the
// games may even come in another order.
func TestMergeEqualsTheWhole(t *testing.T) {
	games := kestrel(t, 16).Games
	count := func(games []Game) *Counts {
		c := NewCounts(16)
		for i := range games {
			c.addMoves(games[i].Moves, games[i].Result, games[i].Date.Number())
		}
		return c
	}
	text := func(c *Counts) string {
		var b strings.Builder
		if err := c.Dump(&b); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	want := text(count(games))
	for _, cut := range []int{0, 1, len(games) / 2, len(games)} {
		first, second := count(games[cut:]), count(games[:cut])
		first.Merge(second)
		if text(first) != want || first.Games() != len(games) {
			t.Errorf("cut at %d: the merged counts differ", cut)
		}
	}
}

// However the games are written and replayed, they are counted alike: by what
// was written before, by the board, and by their moves.
func TestCountsByTextAndByMoves(t *testing.T) {
	written, moves := NewCounts(12), NewCounts(12)
	for g := range gamesOf(
		"2026.01.01 1-0 -: e4 e5 Nf3 Nc6 Bb5 a6", "2026.01.02 1-0 -: e4 e5 Nf3 Nc6 Bb5 a6 Bxc6 dxc6",
		"2026.01.03 0-1 -: e2e4 e7e5 Ng1f3 Nb8c6 Bf1b5 a7a6 Bb5xc6", "2026.01.03 * -: Nf3 Nc6 e4 e5 Bb5 Qe7 Bxc6",
		"2026.01.04 1/2-1/2 -: Nf3 Nf6 Ng1 Ng8 Nf3 Nf6 e4", "2026.01.05 1-0 -: e4 e5 Nf3 Qxe4", "2026.01.05 1-0 -: e5",
	) {
		line, _ := NewCounts(0).replay(g, len(g.Moves))
		if written.Add(g) != (len(line) > 0) {
			t.Errorf("%s: counted or not", g.Moves[0].SAN)
		}
		if len(line) > 0 {
			moves.addMoves(line, resultFor(board.White, g.Result()), g.Header().Date.Number())
		}
	}
	var a, b strings.Builder
	if err := errors.Join(written.Dump(&a), moves.Dump(&b)); err != nil {
		t.Fatal(err)
	}
	if a.String() != b.String() || written.Games() != 6 {
		t.Errorf("%d games\n%s\nby moves\n%s", written.Games(), a.String(), b.String())
	}
}

// 1.d4 Nf6 2.c4 e6 and 1.c4 e6 2.d4 Nf6 meet; the en-passant square does not
// keep 1.e4 e6 2.d4 and 1.d4 e6 2.e4 apart.
func TestTranspositionsMeet(t *testing.T) {
	p := builtFrom(
		"2026.01.01 1-0 60: d4 Nf6 c4 e6 Nc3", "2026.01.02 1-0 60: c4 e6 d4 Nf6 Nf3",
		"2026.01.03 1-0 60: e4 e6 d4 d5", "2026.01.04 1-0 60: d4 e6 e4 d5",
	)
	for line, games := range map[string]int32{"d4 Nf6 c4 e6": 2, "c4 Nf6 d4 e6": 2, "e4 e6 d4": 2} {
		pos := board.Start()
		for san := range strings.FieldsSeq(line) {
			m, err := pos.Resolve([]byte(san))
			if err != nil {
				t.Fatal(err)
			}
			pos.Play(m)
		}
		if n := p.Tree(board.White).At(pos.Key()); n == nil || n.Games != games {
			t.Errorf("%s: %+v, want %d games", line, n, games)
		}
	}
}

// A game that passes a position twice counts there once, and is visited twice.
func TestRepetitionCountsOnce(t *testing.T) {
	p := builtFrom("2026.01.01 1-0 60: Nf3 Nf6 Ng1 Ng8 Nf3 Nf6 e3")
	start := board.Start()
	n := p.Tree(board.White).At(start.Key())
	if n.Games != 1 || n.Edges[0].Games != 1 || len(n.Visits) != 2 {
		t.Errorf("%+v, edge %+v, %d visits", n.Count, n.Edges[0].Count, len(n.Visits))
	}
}

// What does not belong into an opening tree is left out and counted.
func TestBuildLeavesOut(t *testing.T) {
	text := `[White "A"]
[Black "B"]
[FEN "8/8/4k3/8/4P3/4K3/8/8 b - - 0 17"]
[SetUp "1"]

17... Kd6 *

[White "A"]
[Black "B"]
[Result "1-0"]

1-0

[White "A"]
[Black "B"]

1. e4 -- 2. d4 *

[White "A"]
[Black "B"]

1. e4 e5 2. Qd4 Nc6 *
`
	r := pgn.NewReader(strings.NewReader(text), pgn.Options{File: "odd.pgn"})
	p := Build(r.All(), Options{Them: func(*pgn.Game) (board.Color, bool) { return board.White, true }})
	if p.SetUps != 1 || p.NoMoves != 1 || p.NullMove != 1 || len(p.Games) != 1 {
		t.Errorf("%d set-ups, %d without moves, %d with null moves, %d games", p.SetUps, p.NoMoves, p.NullMove, len(p.Games))
	}
	if len(p.Games) == 1 && len(p.Games[0].Moves) != 2 {
		t.Errorf("%d moves before the illegal one, want 2", len(p.Games[0].Moves))
	}
	illegal := 0
	for _, problem := range p.Problems {
		if problem.Kind == pgn.IllegalMove {
			illegal++
			if problem.File != "odd.pgn" || problem.Game != 4 || problem.Line != 22 || problem.Token != "Qd4" || problem.Ply != 3 {
				t.Errorf("%+v", problem)
			}
		}
	}
	if illegal != 1 {
		t.Errorf("problems: %v", p.Problems)
	}
}
