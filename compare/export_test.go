package compare

import (
	"bytes"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/corentings/chess/v2"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/lines"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/profile/board"
	"foreply/profile/referee"
)

// studied are the games of a study: moves of the main line with the numbers of its
// variations, as our own reader has them.
func studied(t *testing.T, rep *fact.Report, books []*book.Book) []*pgn.Game {
	t.Helper()
	var out bytes.Buffer
	if err := lines.WritePGN(rep, &out, books); err != nil {
		t.Fatal(err)
	}
	var games []*pgn.Game
	for g := range pgn.NewReader(&out, pgn.Options{Variations: true}).All() {
		if len(g.Problems) > 0 {
			t.Fatalf("%v", g.Problems)
		}
		games = append(games, g.Clone())
	}
	return games
}

func mainLine(g *pgn.Game) []string {
	var line []string
	for _, n := range g.Tree.Moves {
		line = append(line, n.SAN)
	}
	return line
}

// A chapter for each line to expect, in order, each beginning with the line; then games of
// theirs, whole. Everything, variations too, can be played by the rules library, and an
// independent reader finds the same moves.
func TestStudyReadsBack(t *testing.T) {
	for seed := range uint64(20) {
		r := rand.New(rand.NewPCG(seed, 5))
		p := randomGames(r, 60, 24, 2)
		books := []*book.Book{randomBook(t, r, board.White, 8, 16, 2), randomBook(t, r, board.Black, 8, 16, 2)}
		rep := Make(Input{Profile: p, Books: books}, Options{When: today})
		games, at := studied(t, rep, books), 0
		for i := range rep.Sides {
			for _, x := range rep.Sides[i].Exits {
				if goesOn := slices.ContainsFunc(rep.Sides[i].Exits, func(o fact.Exit) bool {
					return strings.HasPrefix(strings.Join(o.Line, " "), strings.Join(x.Line, " ")+" ")
				}); len(x.Line) == 0 || x.Unseen && goesOn {
					continue
				}
				if got := mainLine(games[at]); len(got) < len(x.Line) || !slices.Equal(got[:len(x.Line)], x.Line) {
					t.Errorf("seed %d, chapter %d: %v, want %v", seed, at, got, x.Line)
				}
				at++
			}
			for _, m := range rep.Sides[i].ModelGames {
				for _, g := range m.Games {
					if got := mainLine(games[at]); len(got) != g.Plies || !slices.Equal(got, g.Moves) {
						t.Errorf("seed %d, game %d: %v, want %v", seed, at, got, g.Moves)
					}
					at++
				}
			}
		}
		if at != len(games) {
			t.Errorf("seed %d: %d games, want %d", seed, len(games), at)
		}
		replayed(t, games)
		sameToAnother(t, rep, books, games)
	}
}

// replayed plays all lines through the rules library.
func replayed(t *testing.T, games []*pgn.Game) {
	t.Helper()
	for _, g := range games {
		var list [][]string
		for _, l := range leaves(g.Tree, nil) {
			list = append(list, strings.Fields(l))
		}
		for _, err := range referee.Lines(list) {
			t.Error(err)
		}
	}
}

func sameToAnother(t *testing.T, rep *fact.Report, books []*book.Book, games []*pgn.Game) {
	t.Helper()
	var out bytes.Buffer
	if err := lines.WritePGN(rep, &out, books); err != nil {
		t.Fatal(err)
	}
	scanner := chess.NewScanner(&out)
	for i, g := range games {
		other, err := scanner.ParseNext()
		if err != nil {
			t.Fatal(err)
		}
		if got, want := len(other.Moves()), len(g.Tree.Moves); got != want {
			t.Errorf("game %d: an independent reader has %d moves, want %d", i, got, want)
		}
	}
}

// The opponent has Black. A gap's chapter goes on with what others answered, the commonest
// first, with counts; the user's notes stand once; a game of theirs stands whole, with its
// tags and its place.
func TestStudy(t *testing.T) {
	rows := slices.Concat(
		repeated(12, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bc4 Bc5 c3 Nf6 d3 d6 O-O a6"),
		repeated(7, "0-1 5400 2000 Fir: e4 f5 exf5 Nf6 Be2 g6"), repeated(2, "1-0 5400 2000 Fir: e4 f5 Nc3 Nf6"),
	)
	b := bookOf(t, board.White, "1. e4 { Space first. } e5 2. Nf3 Nc6 3. Bc4 { Then d3. } Bc5 4. c3 Nf6 5. d3 *")
	rep := Make(Input{Profile: gamesOf(board.Black, rows...), Books: []*book.Book{b}, Opponent: fact.Opponent{Name: "Them"}}, Options{When: today})
	games := studied(t, rep, []*book.Book{b})
	var gap *pgn.Game
	seen := map[string]int{}
	for _, g := range games {
		for _, n := range g.Tree.Moves {
			for _, c := range n.Comments {
				if strings.TrimSpace(c) == "" {
					t.Error("a comment says nothing")
				}
				seen[c]++
			}
		}
		if line := strings.Join(mainLine(g), " "); strings.HasPrefix(line, "e4 f5") && g.Tags().Get("Event") == words.LinesTitle {
			gap = g
		}
	}
	if seen["Space first."] != 1 || seen["Then d3."] != 1 {
		t.Errorf("notes: %v", seen)
	}
	if gap == nil {
		t.Fatal("no chapter of the gap")
	}
	n := gap.Tree.Moves
	if got := strings.Join(mainLine(gap), " "); !strings.HasPrefix(got, "e4 f5 exf5 Nf6 Be2 g6") {
		t.Errorf("the gap goes on %s", got)
	}
	if !strings.HasPrefix(n[2].Comments[0], "7 games: your side made 0, ") || n[3].Comments[0] != "7 of 7 games" || len(n[2].Variations) != 1 || n[2].Variations[0].Moves[0].SAN != "Nc3" {
		t.Errorf("%+v", n[2:])
	}
	last := games[len(games)-1]
	tags := last.Tags()
	if tags.Get("White") == words.LinesTitle || tags.Get("Black") != "Them" || tags.Get("Source") == "" || tags.Get("Result") == "*" || !strings.HasPrefix(tags.Get("Source"), "games.pgn:") {
		t.Errorf("%v", tags)
	}
}

// leaves lists the ends of a tree of moves, sorted.
func leaves(l *pgn.Line, before []string) []string {
	var out []string
	path := slices.Clone(before)
	for i := range l.Moves {
		n := &l.Moves[i]
		for _, v := range n.Variations {
			out = append(out, leaves(v, path)...)
		}
		path = append(path, n.SAN)
	}
	if len(path) > 0 {
		out = append(out, strings.Join(path, " "))
	}
	slices.Sort(out)
	return out
}

func TestEPDLines(t *testing.T) {
	b := bookOf(t, board.White, "1. e4 e5 2. Nf3 *")
	rep := Make(Input{Profile: e4Games(), Books: []*book.Book{b}}, Options{When: today})
	var out bytes.Buffer
	if err := lines.WriteEPD(rep, &out); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(out.String()), "\n")
	if len(lines) != len(rep.Sides[0].Exits) {
		t.Fatalf("%d lines for %d exits", len(lines), len(rep.Sides[0].Exits))
	}
	for i, l := range lines {
		epd, ops, found := strings.Cut(l, " id ")
		if _, err := board.ParseFEN(epd); err != nil || !found || !strings.Contains(ops, `c1 "reach 0.`) {
			t.Errorf("line %d: %q: %v", i, l, err)
		}
	}
}

// A string has at most 255 characters (PGN standard 7), a line may have more.
func TestEPDOfALongLine(t *testing.T) {
	line := strings.Fields(strings.Repeat("Nf3 Nf6 Ng1 Ng8 ", 20))
	rep := fact.Report{Sides: []fact.Side{{Exits: []fact.Exit{{EPD: "8/8/8/8/8/8/8/8 w - -", Line: line}}}}}
	var out bytes.Buffer
	if err := lines.WriteEPD(&rep, &out); err != nil {
		t.Fatal(err)
	}
	var moves []string
	for _, op := range regexp.MustCompile(`c[02-9] "([^"]*)"`).FindAllStringSubmatch(out.String(), -1) {
		if len(op[1]) > 255 {
			t.Errorf("a string of %d characters", len(op[1]))
		}
		moves = append(moves, op[1])
	}
	if got := strings.Join(moves, " "); len(moves) < 2 || got != words.Movetext(line, 0) {
		t.Errorf("%d strings: %s", len(moves), got)
	}
}

// Where past games left the book, counted by hand: e4Games has 12 games with
// 1...e5 2.Nf3 Nc6 (the book ends after 2.Nf3), 6 with 1...c5, 2 with 1...f5.
func TestLeft(t *testing.T) {
	b := bookOf(t, board.White, "1. e4 e5 2. Nf3 *")
	s := Make(Input{Profile: e4Games(), Books: []*book.Book{b}}, Options{When: today}).Sides[0]
	if l := s.Left; l.Games != 20 || l.Book != 12 || l.Them != 8 || l.You != 0 || l.Never != 0 || len(l.Usual) != 3 || l.Usual[0].Games != 12 {
		t.Errorf("%+v", l)
	}
}
