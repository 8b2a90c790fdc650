package find

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// branchesOf are the branches of the parting after a line, as 'move state answer then [ending] next'.
func branchesOf(list []fact.Parting, stem string) (out []string) {
	for _, p := range list {
		if line(p.Stem) != stem {
			continue
		}
		for _, b := range p.Branches {
			out = append(out, strings.Join(strings.Fields(fmt.Sprintf("%s %s %s %s [%s] %d %q", b.Move, b.State, b.Answer, line(b.Then), b.EndsWith, b.Next, b.Note)), " "))
		}
	}
	return out
}

// The branches of a tree end as the walk does: in mate, at the depth limit, where the book has no
// answer, where a single covered move goes on to where they leave it; two that meet share what
// follows. What comes in just as many games as are followed has a row.
func TestPartingEndings(t *testing.T) {
	for name, c := range map[string]struct {
		book   string
		look   chances
		maxPly int
		stem   string
		want   []string
	}{
		"mate": {"1. e4 e5 (1... g5 2. d4 f6 3. Qh5#) 2. Nf3 *", chances{"e4": "e5 60 6 g5 40 4", "e4 g5 d4": "f6 100 4"}, 40, "e4", []string{
			`e5 answered Nf3 [book_ends] -1 ""`, `g5 answered d4 f6 Qh5# [game_is_over] -1 ""`}},
		"the limit": {"1. e4 e5 (1... c5 2. c3 d5) 2. Nf3 { Yours. } Nc6 3. Bb5 *", chances{"e4": "e5 60 6 c5 40 4", "e4 e5 Nf3": "Nc6 100 6", "e4 c5 c3": "d5 100 4"}, 4, "e4", []string{
			`e5 answered Nf3 Nc6 [depth_limit] -1 "Yours."`, `c5 answered c3 d5 [depth_limit] -1 ""`}},
		"a single move that leaves": {"1. e4 e5 (1... c5 { Sicilian. } 2. c3 d5 3. exd5) 2. Nf3 Nc6 *", chances{"e4": "e5 60 6 c5 40 4", "e4 c5 c3": "e6 99 4 d5 1 0", "e4 e5 Nf3": "Nc6 100 6"}, 40, "e4", []string{
			`e5 answered Nf3 Nc6 [book_ends] -1 ""`, `c5 answered c3 [] 1 "Sicilian."`}},
		"as rare as is followed": {"1. e4 e5 (1... c5 2. c3) (1... e6 { French. }) 2. Nf3 *", chances{"e4": "e5 98 9 c5 1 1 e6 1 1"}, 40, "e4", []string{
			`e5 answered Nf3 [book_ends] -1 ""`, `c5 answered c3 [book_ends] -1 ""`, `e6 no_answer [book_ends] -1 "French."`}},
		"two of yours are no parting": {"1. e4 e5 2. Nf3 (2. Nc3) Nc6 3. Bb5 a6 (3... d6 4. d4) 4. Ba4 *", chances{"e4": "e5 100 6", "e4 e5 Nf3": "Nc6 100 6", "e4 e5 Nf3 Nc6 Bb5": "a6 60 3 d6 40 2"}, 40, "e4 e5 Nf3 Nc6 Bb5", []string{
			`a6 answered Ba4 [book_ends] -1 ""`, `d6 answered d4 [book_ends] -1 ""`}},
	} {
		w := walk.New(bookOf(t, c.book), c.look, walk.Options{MaxPly: c.maxPly, Threshold: 0.01})
		w.Run(board.Start(), 0)
		if got := branchesOf(Partings(w, Games{Tree: gamesOf(t).Tree(board.Black)}), c.stem); !slices.Equal(got, c.want) {
			t.Errorf("%s: got\n  %q\nwant\n  %q", name, got, c.want)
		}
	}
}

// Two orders that meet go on at one parting, which is told once; a branch has the day of its
// move, your note on your answer before that on theirs, and where a line ends at the limit its
// structure.
func TestPartingThatTwoReach(t *testing.T) {
	b := bookOf(t, "1. e4 e5 { Theirs. } (1... Nc6 { Kept. } 2. Nf3 e5) 2. Nf3 { Yours. } Nc6 3. Bb5 a6 (3... d6 4. d4) 4. Ba4 { Later. } *")
	w := walk.New(b, chances{"e4": "e5 50 5 Nc6 50 5", "e4 e5 Nf3": "Nc6 100 5", "e4 Nc6 Nf3": "e5 100 5", "e4 e5 Nf3 Nc6 Bb5": "a6 60 6 d6 40 4"}, walk.Options{MaxPly: 7, Threshold: 0.01})
	w.Run(board.Start(), 0)
	e := w.Order[1].Expected
	for i := range e.Moves {
		e.Moves[i].Last = &profile.Game{Header: pgn.Header{Date: pgn.Date{Year: 2026, Month: 3, Day: i + 1}}}
	}
	for i := range w.Order[1].Flows {
		w.Order[1].Flows[i].Likely.Last = &profile.Game{Header: pgn.Header{Date: pgn.Date{Year: 2026, Month: 3, Day: i + 1}}}
	}
	list := Partings(w, Games{Tree: gamesOf(t).Tree(board.Black)})
	if len(list) != 2 || list[1].From != 0 || list[0].From != -1 {
		t.Fatalf("%+v", list)
	}
	first, second := list[0].Branches[0], list[0].Branches[1]
	if first.Next != 1 || second.Next != 1 || first.Last.Day != 1 || second.Last.Day != 2 {
		t.Errorf("%+v\n%+v", first, second)
	}
	for _, br := range list[0].Branches {
		if want := map[string]string{"e5": "Yours.", "Nc6": "Kept."}[br.Move]; br.Note != want {
			t.Errorf("%s: note %q, want %q", br.Move, br.Note, want)
		}
	}
	for _, br := range list[1].Branches {
		if note := map[string]string{"a6": "Later."}[br.Move]; br.EndsWith != fact.LimitInBook || br.Structure == nil || br.Note != note {
			t.Errorf("%+v", br)
		}
	}
}

// Where they choose among moves none of which the book has, the line has ended: they are no rows,
// nor is the one that comes often.
func TestNoRowsBehindTheBook(t *testing.T) {
	w := walked(bookOf(t, "1. e4 e5 2. Nf3 *"), chances{"e4": "e5 100 9", "e4 e5 Nf3": "Nc6 60 5 d6 40 4"})
	if got := Partings(w, Games{Tree: gamesOf(t).Tree(board.Black)}); len(got) != 0 {
		t.Errorf("%+v", got)
	}
}

// Options are told of three places, from one in twenty games on, each with the label of its own
// chapter; the interval of what is answered is around that share, and the likeliest move is told
// with its games.
func TestOptionsWhole(t *testing.T) {
	const book = "[Character \"solid\"]\n\n1. e4 e5 (1... c5 2. Nf3) (1... e6 2. d4) (1... c6 2. d4) (1... d6 2. d4) *"
	const other = "[Character \"sharp\"]\n\n1. e4 e5 (1... c5 2. c3) (1... e6 2. d3) (1... c6 2. c4) (1... d6 2. f4) 2. Bc4 Nf6 3. d3 *"
	rows := slices.Concat(repeated(12, "1/2-1/2 300 2000: e4 c5 Nf3 d6"), repeated(10, "1-0 300 2000: e4 e6 d4 d5"), repeated(8, "1-0 300 2000: e4 c6 d4 d5"), repeated(6, "1-0 300 2000: e4 d6 d4 Nf6"))
	c := compare(t, gamesOf(t, rows...), book, other)
	got := Options(c.w, c.look, c.games, false)
	var told []string
	for _, o := range got {
		told = append(told, fmt.Sprintf("%s %s %s %v", line(o.Line), o.Move, o.Character, o.Main))
	}
	want := []string{"e4 c5 Nf3 solid true", "e4 c5 c3 sharp false", "e4 e6 d4 solid true", "e4 e6 d3 sharp false", "e4 c6 d4 solid true", "e4 c6 c4 sharp false"}
	if !slices.Equal(told, want) {
		t.Fatalf("%q", told)
	}
	o := got[0]
	at := lineOf("e4 c5 Nf3").End
	e := c.look.At(&at)
	r := profile.Between(o.Covered, e.Strength)
	if o.Likeliest != "d6" || o.Known.Seen != 12 || o.Known.Of != 12 || o.CoveredLo != min(r.Lo, r.P) || o.CoveredHi != max(r.Hi, r.P) || o.Covered != 0 {
		t.Errorf("%+v", o)
	}
	if o.Depth != 2 { // 2.Nf3 is the book's last move, before their second
		t.Errorf("prepared to move %v", o.Depth)
	}
	rare := compare(t, gamesOf(t, append(repeated(97, "1-0 300 2000: e4 e5 Nf3"), repeated(3, "1-0 300 2000: e4 c5 Nf3")...)...), "1. e4 e5 (1... c5 2. Nf3 (2. c3)) 2. Nf3 *")
	if got := Options(rare.w, rare.look, rare.games, false); len(got) != 0 {
		t.Errorf("in three of a hundred: %+v", got)
	}
}
