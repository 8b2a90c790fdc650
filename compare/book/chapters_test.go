package book

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// filesOf are books of White's of files by name.
func filesOf(t *testing.T, source string, files ...string) *Book {
	t.Helper()
	b := New(board.White)
	for i, text := range files {
		opt := pgn.Options{Source: source, File: fmt.Sprintf("%d.pgn", i), Variations: true}
		for g := range pgn.NewReader(strings.NewReader(text), opt).All() {
			b.Add(g)
		}
	}
	return b
}

// A chapter is known by its name, what it is for, and where it stands; what can't be read of
// it is told with that place. Files are named once.
func TestChapters(t *testing.T) {
	b := filesOf(t, "club", "[Event \"One\"]\n[Role \"main\"]\n[Character \"sharp\"]\n\n{ The plan. }\n1. e4 e5 2. Nf3 *\n\n[White \"Two\"]\n[Role \"often\"]\n[Character \"wild\"]\n\n1. d4 *\n\n",
		"1. c4 *\n\n[FEN \"nothing\"]\n\n1. e4 *\n\n[Event \"Far\"]\n[FEN \"8/8/4k3/8/4P3/4K3/8/8 w - - 0 17\"]\n\n17. Kd4 *\n\n")
	var got []string
	for _, c := range b.Chapters {
		got = append(got, fmt.Sprintf("%s: %d %s %s:%d %d, %d moves, %v, %q", c.Name, c.Role, c.Character, c.File, c.Line, c.Game, c.Moves, c.SetUp, c.intro))
	}
	want := []string{
		`One: -1 sharp 0.pgn:1 1, 3 moves, false, "The plan."`, `Two: 0  0.pgn:8 2, 1 moves, false, ""`, `chapter 1: 0  1.pgn:1 1, 1 moves, false, ""`, `Far: 0  1.pgn:7 3, 1 moves, true, ""`,
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if !slices.Equal(b.Files, []string{"0.pgn", "1.pgn"}) || b.Notes != 1 || b.Positions() != 3 {
		t.Errorf("files %q, %d notes, %d positions with an answer", b.Files, b.Notes, b.Positions())
	}
	problem := func(kind pgn.Kind, severity pgn.Severity, file string, line, game int, token, message, hint string) pgn.Problem {
		return pgn.Problem{Kind: kind, Severity: severity, Source: "club", File: file, Line: line, Game: game, Token: token, Message: message, Hint: hint}
	}
	problems := []pgn.Problem{
		problem(pgn.BadTag, pgn.Warning, "0.pgn", 8, 2, "often", `unknown Role "often", left aside`, `the Role tag may be "main", "surprise" or "rest"`),
		problem(pgn.BadTag, pgn.Warning, "0.pgn", 8, 2, "wild", `unknown Character "wild", left aside`, `the Character tag may be "sharp" or "solid"`),
		problem(pgn.BadSetUp, pgn.Error, "1.pgn", 3, 2, "nothing", b.Problems[len(b.Problems)-1].Message, "mend the FEN tag; the chapter is left out"),
	}
	if !reflect.DeepEqual(b.Problems, problems) || !strings.HasPrefix(problems[2].Message, "bad set-up position: ") {
		t.Errorf("got\n%+v\nwant\n%+v", b.Problems, problems)
	}
}

// A marked move is told with the line to it, whose it is, its note and its place. What stands
// behind one of the user's is no preparation; behind one of theirs is the answer.
func TestMarkedMoves(t *testing.T) {
	b := filesOf(t, "", "1. e4 e5 *\n\n", "\n1. e4\ne5 2. Nf3\nf6? { Weakens. } 3. Nxe5 (3. a3??\nd5) *\n\n[FEN \"8/8/4k3/8/4P3/4K3/8/8 w - - 0 17\"]\n\n17. e5? *")
	type told struct {
		line        int
		setUp, mine bool
		note, place string
	}
	var got []told
	for _, m := range b.Mistakes {
		got = append(got, told{len(m.Line), m.SetUp, m.Mine, m.Note, fmt.Sprintf("%s:%d", m.File, m.FileLine)})
	}
	if want := []told{{4, false, false, "Weakens.", "1.pgn:4"}, {5, false, true, "", "1.pgn:4"}, {1, true, true, "", "1.pgn:9"}}; !slices.Equal(got, want) {
		t.Errorf("%+v", got)
	}
	pos, behind := after(t, "e4 e5 Nf3 f6"), after(t, "e4 e5 Nf3 f6 a3")
	if first := b.Mistakes[0]; b.Mistakes[1].Key != pos.Key() || pos.SAN(b.Mistakes[1].Move) != "a3" || answers(b, &pos) != "Nxe5" || b.Covered(behind.Key()) != nil || first.Line[len(first.Line)-1] != first.Move {
		t.Errorf("answers %q", answers(b, &pos))
	}
}

// Of a move the first glyphs count, and where it stands first; a position stands where its
// first move from there does, or its note.
func TestPlacesAndGlyphs(t *testing.T) {
	b := filesOf(t, "", "1. e4! e5\n2. Nf3 { Good. }\nNc6 *\n\n", "1. e4?! e5 2. Nf3! (2. Nc3) Nc6 { Later. } 3. Bb5 { } *\n\n[Role \"rest\"]\n\n{ Not now. } 1. d4! { Rest. } d5 2. c4 *")
	at := func(way string) string {
		pos := after(t, way)
		file, line := b.Spot(pos.Key())
		return fmt.Sprintf("%s:%d %q", file, line, b.Note(pos.Key()))
	}
	for way, want := range map[string]string{"": `0.pgn:1 ""`, "e4": `0.pgn:1 ""`, "e4 e5": `0.pgn:2 ""`, "e4 e5 Nf3": `0.pgn:2 "Good."`, "e4 e5 Nf3 Nc6": `1.pgn:1 "Later."`, "e4 e5 Nf3 Nc6 Bb5": `:0 ""`, "d4": `:0 ""`, "c4": `:0 ""`} {
		if got := at(way); got != want {
			t.Errorf("%s: %s, want %s", way, got, want)
		}
	}
	start, open := after(t, ""), after(t, "e4 e5")
	first, second := b.Answers(start.Key())[0], b.Answers(open.Key())
	if got := b.Glyphs(start.Key(), first); !slices.Equal(got, []int{1}) {
		t.Errorf("glyphs %v", got)
	}
	if len(second) != 2 || !slices.Equal(b.Glyphs(open.Key(), second[0]), []int{1}) || b.Glyphs(open.Key(), second[1]) != nil {
		t.Errorf("glyphs of 2.Nf3 %v", b.Glyphs(open.Key(), second[0]))
	}
	if b.Notes != 4 { // those of what rests are counted, and told of none
		t.Errorf("%d notes", b.Notes)
	}
	if c := b.Covered(start.Key()); c != nil {
		t.Errorf("theirs at the start: %v", c)
	}
	if b.Answers(after64(t, "c4")) != nil || b.Covered(after64(t, "c4")) != nil || b.Character(after64(t, "c4"), 0) != "" || b.Character(start.Key(), 1) != "" {
		t.Error("something is known of 1.c4")
	}
	for way, want := range map[string]bool{"": true, "e4": true, "e4 e5": true, "e4 e5 Nf3 Nc6 Bb5": false, "e4 e5 Nf3": true, "e4 e5 Nc3": false} {
		if pos := after(t, way); b.Holds(&pos) != want {
			t.Errorf("%s: held %v", way, !want)
		}
	}
}

func after64(t *testing.T, way string) uint64 {
	t.Helper()
	pos := after(t, way)
	return pos.Key()
}

// A book of lines has for the user's turn the first line's answer first, and theirs covered; a
// passed turn ends a line, and a variation of a comment alone is none.
func TestBookOfLines(t *testing.T) {
	lines := [][]board.Move{}
	for _, way := range []string{"e4 e5 Nf3", "d4 d5", "e4 c5 c3", "e4 e5 Nf3 Nc6"} {
		pos, moves := board.Start(), []board.Move{}
		for _, san := range strings.Fields(way) {
			m, err := pos.Resolve([]byte(san))
			if err != nil {
				t.Fatal(err)
			}
			moves = append(moves, m)
			pos.Play(m)
		}
		lines = append(lines, moves)
	}
	b := Of(board.White, lines)
	said := func(way string) string {
		pos := after(t, way)
		var theirs []string
		for _, m := range b.Covered(pos.Key()) {
			theirs = append(theirs, pos.SAN(m))
		}
		return answers(b, &pos) + "|" + strings.Join(theirs, " ")
	}
	if got, want := said("")+" "+said("e4")+" "+said("e4 e5")+" "+said("e4 e5 Nf3"), "e4 d4| |e5 c5 Nf3| |Nc6"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if len(b.Chapters) != 1 || len(b.Review().Unreached) != 0 {
		t.Errorf("%+v", b.Chapters)
	}
	passed := bookOf(t, board.White, "1. e4 ({nothing here}) -- 2. d4 d5 3. c4 *")
	if pos := after(t, "e4"); len(passed.Covered(pos.Key())) != 0 || passed.Positions() != 1 {
		t.Errorf("behind a passed turn: %d positions", passed.Positions())
	}
	again := bookOf(t, board.White, "[Role \"surprise\"]\n\n1. c4 (1. e4) *\n\n1. d4 (1. e4) *\n\n[Role \"main\"]\n\n1. e4 *")
	if start := board.Start(); answers(again, &start) != "e4 d4 c4" { // each once, in its best role
		t.Errorf("%q", answers(again, &start))
	}
}

// A review tells where there is a choice and where a line stops, with its chapter and place,
// every position once, nearest first; what rests is not reviewed.
func TestReviewWhole(t *testing.T) {
	b := filesOf(t, "", "[Event \"One\"]\n\n1. e4 e5 (1... c5) 2. Nf3 (2. Nc3 (2. f4)) Nc6 *\n\n[Event \"Rest\"]\n[Role \"rest\"]\n\n1. b3 e5 *\n\n[Event \"Mid\"]\n[FEN \"rnbqkbnr/pppp1ppp/8/4p3/4P3/8/PPPP1PPP/RNBQKBNR w KQkq - 0 2\"]\n\n2. Bc4 Nf6 *")
	r := b.Review()
	var stops []string
	for _, s := range r.Stops {
		stops = append(stops, fmt.Sprintf("%s %d %v %s:%d", s.Chapter, s.Ply, s.Line, s.File, s.FileLine))
	}
	if want := []string{"One 0 [e4 c5] 0.pgn:3", "One 0 [e4 e5 Nf3 Nc6] 0.pgn:3", "Mid 2 [Bc4 Nf6] 0.pgn:13"}; !slices.Equal(stops, want) {
		t.Errorf("stops %q", stops)
	}
	if want := []Choice{{Line: []string{"e4", "e5"}, Moves: []string{"Nf3", "Nc3", "f4", "Bc4"}}}; !reflect.DeepEqual(r.Choices, want) || len(r.Unreached) != 0 {
		t.Errorf("choices %+v, unreached %+v", r.Choices, r.Unreached)
	}
	seen := map[string]int{}
	b.Each(func(pos *board.Position) { seen[pos.EPD()]++ })
	if len(seen) != 10 { // the start, 1.e4, e5, c5, four answers, 2...Nc6, 2...Nf6
		t.Errorf("%d positions", len(seen))
	}
	moves := func(way string) (out []string) {
		pos := after(t, way)
		for _, m := range b.Moves(&pos) {
			out = append(out, pos.SAN(m))
		}
		return out
	}
	turned := bookOf(t, board.White, "1. d4 d5 2. c4 *\n\n1. c4 e5 *")
	pos := after(t, "c4")
	if got := moves("e4 e5"); !slices.Equal(got, []string{"Nf3", "Nc3", "f4", "Bc4"}) || moves("a3") != nil || len(turned.Moves(&pos)) != 1 {
		t.Errorf("%q", got)
	}
}

// Of positions as deep the first in the files is told first.
func TestRivalsInOrder(t *testing.T) {
	b := filesOf(t, "", "1. e4 c5 2. Nf3 *\n\n1. e4 e5 2. Nf3 *\n\n[FEN \"rnbqkbnr/pppp1ppp/4p3/8/4P3/8/PPPP1PPP/RNBQKBNR w KQkq - 0 2\"]\n\n2. d4 d5 3. Nc3 *", "1. e4 c5 2. c3 *\n\n1. e4 e5 2. Nc3 *\n\n1. e4 e6 2. d3 *\n\n1. e4 e6 2. d4 d5 3. exd5 *")
	var got []string
	for _, r := range b.Rivals() {
		got = append(got, strings.Join(r.Line, " ")+": "+r.First.SAN+" or "+r.Second.SAN)
	}
	if want := []string{"e4 c5: Nf3 or c3", "e4 e5: Nf3 or Nc3", "e4 e6: d4 or d3", "e4 e6 d4 d5: Nc3 or exd5"}; !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}
