package compare

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/corentings/chess/v2"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/find"
	"foreply/compare/lines"
	"foreply/compare/walk"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// The written PGN, read back, has the lines of the exits and no other ends: a
// line that goes on through another's end is the only one not to end itself.
func TestWrittenLinesReadBack(t *testing.T) {
	for seed := range uint64(40) {
		r := rand.New(rand.NewPCG(seed, 5))
		p := randomGames(r, 60, 24, 2)
		books := []*book.Book{randomBook(t, r, board.White, 8, 16, 2), randomBook(t, r, board.Black, 8, 16, 2)}
		rep := Make(Input{Profile: p, Books: books}, Options{When: today})
		var out bytes.Buffer
		if err := lines.WritePGN(rep, &out, books); err != nil {
			t.Fatal(err)
		}
		reader := pgn.NewReader(&out, pgn.Options{Variations: true})
		side := 0
		for g := range reader.All() {
			var want []string
			for _, x := range rep.Sides[side].Exits {
				want = append(want, strings.Join(x.Line, " "))
			}
			if got, want := leaves(g.Tree, nil), longest(want); !slices.Equal(got, want) {
				t.Errorf("seed %d, side %d: read back %q, want %q", seed, side, got, want)
			}
			side++
		}
		if side != 2 {
			t.Errorf("seed %d: %d games written for two sides", seed, side)
		}
	}
}

// 1...c5 has the likeliest single end, but 1...e5 is played more: it is the main
// line, and so is 2...Nc6 in it.
//
//	1.e4 ─┬─ 1...e5 2.Nf3 ─┬─ 2...Nc6 0.24
//	      │                ├─ 2...Nf6 0.18
//	      │                └─ 2...d6 0.18
//	      └─ 1...c5 0.4
func TestTheLikeliestMoveIsTheMainLine(t *testing.T) {
	b := bookOf(t, board.White, "1. e4 c5 (1... e5 2. Nf3 d6 (2... Nf6 3. d4) (2... Nc6 3. Bc4) 3. d4) 2. c3 *")
	w := walk.New(b, drawn{"e4": {"e5": 0.6, "c5": 0.4}, "e4 e5 Nf3": {"Nc6": 0.4, "Nf6": 0.3, "d6": 0.3}}, Options{}.withDefaults().walk())
	w.Run(board.Start(), 0)
	p := e4Games()
	s := fact.Side{Exits: find.Exits(w, find.Games{All: p.Games, Tree: p.Tree(board.Black)})}
	var out bytes.Buffer
	if err := lines.WritePGN(&fact.Report{Sides: []fact.Side{s}}, &out, []*book.Book{b}); err != nil {
		t.Fatal(err)
	}
	var main []string
	for g := range pgn.NewReader(&out, pgn.Options{Variations: true}).All() {
		for _, n := range g.Tree.Moves {
			main = append(main, n.SAN)
		}
	}
	if got := words.Movetext(main, 0); got != "1.e4 e5 2.Nf3 Nc6 3.Bc4" {
		t.Errorf("the main line is %s", got)
	}
}

// An independent reader finds the same lines with the same glyphs in the written
// PGN, by UCI moves, and the same notes as far as it keeps them: it loses those
// of variations.
func TestWrittenLinesReadBackByAnIndependentReader(t *testing.T) {
	noted := bookOf(t, board.White,
		"{ Slow and steady. } 1. e4 { Space first. } e5 (1... c5 $6 2. c3 { Then d4; ask \"why\". }) (1... e6? 2. d4) 2. Nf3 $1 Nc6 3. Bc4 *")
	sameToAnother(t, "noted", e4Games(), noted)
	for seed := range uint64(40) {
		r := rand.New(rand.NewPCG(seed, 5))
		p := randomGames(r, 60, 24, 2)
		sameToAnother(t, fmt.Sprintf("seed %d", seed), p, randomBook(t, r, board.White, 8, 16, 2), randomBook(t, r, board.Black, 8, 16, 2))
	}
}

func sameToAnother(t *testing.T, name string, p *profile.Profile, books ...*book.Book) {
	t.Helper()
	rep := Make(Input{Profile: p, Books: books}, Options{When: today})
	var out bytes.Buffer
	if err := lines.WritePGN(rep, &out, books); err != nil {
		t.Fatal(err)
	}
	scanner := chess.NewScanner(&out)
	for side := range rep.Sides {
		game, err := scanner.ParseNext()
		if err != nil {
			t.Fatalf("%s, side %d: %v", name, side, err)
		}
		got, want := map[string]said{}, map[string]said{}
		read(game.GetRootMove(), "", got)
		meant(lines.Tree(nil, &rep.Sides[side], books[side]), board.Start(), "", want)
		for path, g := range got {
			if w, ok := want[path]; !ok || g.glyph != w.glyph || g.note != "" && g.note != w.note {
				t.Errorf("%s, side %d: after %s an independent reader has %q, want %q", name, side, path, g, w)
			}
		}
		if len(got) != len(want) {
			t.Errorf("%s, side %d: an independent reader has %d moves, want %d", name, side, len(got), len(want))
		}
	}
	if scanner.HasNext() {
		t.Errorf("%s: more games than sides", name)
	}
}

// said is what stands at a move.
type said struct{ glyph, note string }

// read collects what stands at each move by the UCI moves that lead to it.
func read(m *chess.Move, path string, into map[string]said) {
	for _, next := range m.Children() {
		at := path + " " + next.String()
		into[at] = said{next.NAG(), strings.Join(strings.Fields(next.Comments()), " ")}
		read(next, at, into)
	}
}

// meant is the same of the line that is written.
func meant(l *pgn.Line, pos board.Position, path string, into map[string]said) {
	for i := range l.Moves {
		n := &l.Moves[i]
		for _, v := range n.Variations {
			meant(v, pos, path, into)
		}
		m, err := pos.Resolve([]byte(n.SAN))
		if err != nil {
			panic(err)
		}
		pos.Play(m)
		path += " " + m.UCI()
		s := said{note: strings.Join(n.Comments, " ")}
		if len(n.NAGs) > 0 {
			s.glyph = fmt.Sprintf("$%d", n.NAGs[0])
		}
		into[path] = s
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

// longest drops the lines that others go on from.
func longest(lines []string) []string {
	slices.Sort(lines)
	var out []string
	for i, l := range slices.Compact(lines) {
		goesOn := slices.ContainsFunc(lines[i+1:], func(o string) bool { return strings.HasPrefix(o, l+" ") })
		if l != "" && !goesOn {
			out = append(out, l)
		}
	}
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
