package lines

import (
	"foreply/compare/book"
	"foreply/profile/board"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
)

// Who has White is the user in lines of their White, the opponent in those of their Black; an
// unknown name is a question mark.
func TestTags(t *testing.T) {
	r := &fact.Report{Opponent: fact.Opponent{Name: "Quist, Ola"}, Heading: fact.Heading{Me: "Alder, Mina"}, Basis: fact.Basis{AsOf: pgn.Date{Year: 2026, Month: 11, Day: 2}}}
	for color, want := range map[string]string{"white": "Alder, Mina - Quist, Ola", "black": "Quist, Ola - Alder, Mina"} {
		tags := (&study{rep: r, side: &fact.Side{MyColor: color}}).tags(&fact.Exit{}, 1)
		if got := tags.Get("White") + " - " + tags.Get("Black"); got != want || tags.Get("Date") != "2026.11.02" {
			t.Errorf("%s: %s, %s", color, got, tags.Get("Date"))
		}
	}
	tags := (&study{rep: &fact.Report{}, side: &fact.Side{MyColor: "white"}}).tags(&fact.Exit{}, 1)
	if tags.Get("White") != "?" || tags.Get("Black") != "?" || tags.Get("Date") != "????.??.??" {
		t.Errorf("%v", tags)
	}
}

// A string has 255 characters at most and is cut between words; nothing of it is lost.
func TestChunks(t *testing.T) {
	for _, n := range []int{1, 63, 64, 65, 127, 128, 129, 400} {
		text := strings.TrimSpace(strings.Repeat("1.e4 ", n))[:5*n-1]
		for _, text := range []string{text, text + "5", "x" + text, "xy" + text, "xyz" + text} {
			got := chunks(text)
			for _, c := range got {
				if len(c) > longestString || c == "" || strings.HasPrefix(c, " ") || strings.HasSuffix(c, " ") {
					t.Errorf("%d signs: %q", len(c), c)
				}
			}
			if strings.Join(got, " ") != text {
				t.Errorf("%q is lost in %q", text, got)
			}
		}
	}
}

// The commonest answer is the main line behind a gap; the others are variations of it.
func TestAnswers(t *testing.T) {
	u := &fact.Unanswered{Others: []fact.Met{{Move: "d4", Games: 3}, {Move: "Nf3", Games: 2, Then: []fact.GoesOn{{Move: "Nc6", Games: 1, Of: 2}}}}}
	nodes := answers(u)
	if got := nodes[0].SAN + " " + nodes[0].Variations[0].Moves[0].SAN; got != "d4 Nf3" {
		t.Errorf("%s", got)
	}
}

// In a game to play through what is said of the book stands behind the move that left it,
// and the ratings are those of who had White and Black.
func TestModelGame(t *testing.T) {
	g := &fact.ModelGame{PlayedGame: fact.PlayedGame{
		Rival: "Elm, F", RivalElo: 1800, Elo: 2000, Result: "1-0", Moves: strings.Fields("e4 e5 Nf3 d6 d4"), LeftBy: fact.LeftByThem, LeftPly: 3, File: "games.pgn", FileLine: 7,
	}}
	for color, want := range map[string]string{"white": "Elm, F 1800 - Quist, Ola 2000", "black": "Quist, Ola 2000 - Elm, F 1800"} {
		st := study{rep: &fact.Report{Opponent: fact.Opponent{Name: "Quist, Ola"}}, side: &fact.Side{MyColor: color}}
		c := st.model(g)
		tags := c.Tags
		if got := tags.Get("White") + " " + tags.Get("WhiteElo") + " - " + tags.Get("Black") + " " + tags.Get("BlackElo"); got != want || c.Result != "1-0" {
			t.Errorf("%s: %s, %s", color, got, c.Result)
		}
		for i, n := range c.Line.Moves {
			if (len(n.Comments) > 0) != (i == 3) {
				t.Errorf("%s: move %d, %s, with %q", color, i+1, n.SAN, n.Comments)
			}
		}
	}
}

// In a chapter a note stands behind the move that it is about, each side's from its own book,
// and an engine's best moves at a gap have the numbers of the game.
func TestNotesOfAChapter(t *testing.T) {
	r := &fact.Report{Sides: []fact.Side{
		{MyColor: "white", Exits: []fact.Exit{{Line: strings.Fields("e4 e5 Nf3 f6"), Kind: fact.TheyLeave, Reach: 0.4}},
			Unanswered: []fact.Unanswered{{Line: strings.Fields("e4 e5 Nf3 f6"), Best: []fact.Evaluated{{Moves: strings.Fields("Nxe5 fxe5"), Centipawns: 120}}}}},
		{MyColor: "black", Exits: []fact.Exit{{Line: strings.Fields("e4 e5 Nf3"), Kind: fact.BookEnds, Reach: 0.4}}},
	}}
	books := []*book.Book{book.New(board.White), book.New(board.Black)}
	for i, text := range []string{"1. e4 e5 2. Nf3 {of White} *", "1. e4 e5 {of Black} 2. Nf3 *"} {
		for g := range pgn.NewReader(strings.NewReader(text), pgn.Options{Variations: true}).All() {
			books[i].Add(g)
		}
	}
	at := map[string]string{}
	for i := range r.Sides {
		for _, n := range Chapters(r, &r.Sides[i], books[i])[0].Line.Moves {
			at[r.Sides[i].MyColor+" "+n.SAN] = strings.Join(n.Comments, "; ")
		}
	}
	if at["white Nf3"] != "of White" || at["white e5"] != "" || at["black e5"] != "of Black" || strings.Contains(at["black Nf3"], "of") && !strings.Contains(at["black Nf3"], "games") {
		t.Errorf("%q", at)
	}
	if !strings.Contains(at["white f6"], "best 3.Nxe5 fxe5 (+1.2)") {
		t.Errorf("%q", at["white f6"])
	}
	var out strings.Builder
	if err := WritePGN(r, &out, books); err != nil {
		t.Fatal(err)
	}
	white, black, _ := strings.Cut(out.String(), "of White")
	if strings.Contains(white, "of Black") || !strings.Contains(black, "of Black") {
		t.Errorf("%s", out.String())
	}
}

// Behind a mistake of theirs stands what an engine found; what only games' comments judge is
// no comment of a line.
func TestMistakesInAChapter(t *testing.T) {
	line := strings.Fields("e4 e5 Nf3 f6")
	for _, best := range []*fact.Evaluated{nil, {Moves: []string{"Nxe5"}, Centipawns: 120}} {
		st := study{side: &fact.Side{MyColor: "white", Traps: []fact.Trap{{Line: line, Best: best}}}, told: map[string]bool{}}
		var at, before pgn.Node
		st.judged(&at, line)
		st.judged(&before, line[:3])
		if (len(at.Comments) > 0) != (best != nil) || len(before.Comments) > 0 {
			t.Errorf("best %v: %q, before it %q", best, at.Comments, before.Comments)
		}
	}
}

// A piece that just fits a string is one; an engine is named in the first chapter, be it alone,
// and of few games a line is told by its count.
func TestOneChapterOfFewGames(t *testing.T) {
	if got := chunks(strings.Repeat("a", longestString) + " b"); len(got) != 2 || len(got[0]) != longestString || got[1] != "b" {
		t.Errorf("%q", got)
	}
	s := fact.Side{MyColor: "white", Few: true, Exits: []fact.Exit{{Kind: fact.TheyLeave, Line: strings.Fields("e4 e5"), Games: 3, Reach: 0.4, Lo: 0.3, Hi: 0.5}}}
	list := Chapters(&fact.Report{Engine: &fact.Engine{Name: "Oracle", Nodes: 1000}}, &s, book.New(board.White))
	if len(list) != 1 || len(list[0].Line.Comments) != 1 || !strings.Contains(list[0].Line.Comments[0], "Oracle") {
		t.Fatalf("%+v", list)
	}
	if end := list[0].Line.Moves[1].Comments; len(end) != 1 || !strings.HasSuffix(end[0], ": 3 games of theirs came here") {
		t.Errorf("%q", end)
	}
}
