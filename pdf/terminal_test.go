package pdf

import (
	"bufio"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
)

// onTerminal is what some lines read, *bold* and ~dim~ between signs, blanks as they are.
func onTerminal(t *testing.T, opt TextOptions, write func(*lineWriter)) string {
	t.Helper()
	opt.Style = true
	var out strings.Builder
	tl := &lineWriter{w: bufio.NewWriter(&out), opt: opt.withDefaults()}
	write(tl)
	if err := tl.w.Flush(); err != nil {
		t.Fatal(err)
	}
	s := strings.NewReplacer("\x1b[1m", "*", "\x1b[2m", "~").Replace(out.String())
	return plainEnds(s)
}

// plainEnds closes what a sign opened.
func plainEnds(s string) string {
	var b strings.Builder
	for {
		head, rest, ok := strings.Cut(s, "\x1b[0m")
		b.WriteString(head)
		if !ok {
			return b.String()
		}
		b.WriteByte(head[strings.LastIndexAny(head, "*~")])
		s = rest
	}
}

func checkTerminal(t *testing.T, name, got, want string) {
	t.Helper()
	if got != want {
		t.Errorf("%s:\n%s\nwant\n%s", name, got, want)
	}
}

// Games between the two stand newest first with the user's result and colour, the opening,
// the moves and who left the book; from so many on they are counted.
func TestMeetingsInTheTerminal(t *testing.T) {
	rows := []fact.GameRow{
		{Theirs: "black", Score: "0", Date: pgn.ParseDate("2026-03-02"), ECO: "B20", Opening: "Sicilian Defence", Class: "rapid", Moves: san("e4 c5 c3"), LeftBy: fact.LeftByYou, LeftPly: 2},
		{Theirs: "white", Score: "½", Moves: san("d4 d5"), LeftBy: fact.BookOver, LeftPly: 1, Class: "unknown"},
		{Theirs: "white", Score: "1", Date: pgn.ParseDate("2024-01"), ECO: "A00", Moves: san("b3")},
	}
	first := `
*YOU MET*
  2 Mar 2026   1 with White B20 Sicilian Defence; rapid
      1.e4 c5 2.c3 - you left your book with 2.c3
`
	second := `               ½ with Black
      1.d4 d5 - your book ended before 1...d5
`
	third := `  Jan 2024     0 with Black A00
      1.b3
`
	for lines, want := range map[int]string{
		1: first + "  ~and~ ~2~ ~older~ ~games~\n", 2: first + second + "  ~and~ ~1~ ~older~ ~game~\n", 3: first + second + third, 4: first + second + third,
	} {
		checkTerminal(t, "meetings", onTerminal(t, TextOptions{Lines: lines}, func(tl *lineWriter) { tl.meetings(rows) }), want)
	}
	checkTerminal(t, "none", onTerminal(t, TextOptions{}, func(tl *lineWriter) { tl.meetings(nil) }), "")
}

// The head names the opponent, the colour if it is one, the ratings, the game to come and
// what all rests on.
func TestHeadInTheTerminal(t *testing.T) {
	rep := &fact.Report{
		Opponent: fact.Opponent{ID: "id", Name: "Ash, \x07Ivo", Ratings: []fact.Rating{{List: pgn.OverTheBoard, Value: 2043, Date: pgn.ParseDate("2026-11")}, {List: pgn.Online, Value: 2187, Speed: "blitz"}}},
		Heading:  fact.Heading{Event: "League", Round: "4", Board: "2", Clock: "90+30", Need: "draw"},
		Basis:    fact.Basis{Games: 5, NoSpeed: 5, Last: pgn.ParseDate("2026-05-01"), Meetings: make([]fact.GameRow, 2), Met: fact.Score{Wins: 1, Draws: 1}},
		Sides:    []fact.Side{{MyColor: "black"}},
	}
	basis := "based on 5 games of unknown speed, last 1 May 2026; you met twice, your score ½ of 2\n"
	head := func() string { return onTerminal(t, TextOptions{Columns: 100}, func(tl *lineWriter) { tl.head(rep) }) }
	checkTerminal(t, "one colour", head(), `*Ash,* *Ivo* - you have Black
~2043~ ~over~ ~the~ ~board,~ ~Nov~ ~2026;~ ~2187~ ~online~ ~blitz~
League; round 4; board 2; clock 90 s + 30 s; you need a draw
`+basis)
	rep.Sides = make([]fact.Side, 2)
	rep.Opponent.Ratings, rep.Heading, rep.Opponent.Name = nil, fact.Heading{}, " "
	checkTerminal(t, "both colours, nothing known", head(), "*your* *opponent*\n"+basis)
}

// Where both colours are told each has a heading over the whole width and its games.
func TestColoursInTheTerminal(t *testing.T) {
	s := &fact.Side{MyColor: "black", Games: 12, Slow: 5, Fast: 7, Last: pgn.ParseDate("2026-05-01"), Few: true}
	games := `
*THEIR GAMES*
  no game of theirs with White was found
`
	for several, want := range map[bool]string{
		false: games,
		true: `
*== if you have Black ========================*
with White 12 games, 5 slow, last 1 May 2026
` + games,
	} {
		checkTerminal(t, "heading", onTerminal(t, TextOptions{Columns: 45}, func(tl *lineWriter) { tl.side(s, several) }), want)
	}
}

// Tonight says each task with its word, its note, and where to look for what is to be looked
// up.
func TestTonightInTheTerminal(t *testing.T) {
	u := &fact.Unanswered{Line: san("d4 d5 c4 e6"), Reach: 0.3, Lo: 0.1, Hi: 0.5, Of: 20, Games: 7}
	tasks := []fact.Task{
		{Kind: "expect", Lead: fact.LeadExpect, Moves: san("e4 c5"), Often: oftenOf(0.44, 3, 6), Name: "Sicilian Defence", File: "not/here.pgn"},
		{Kind: "look", Lead: fact.LeadAnswer, Moves: san("d4 d5 c4 e6"), About: u, Note: "keep the bishop", File: "book/white.pgn", Line: 88},
		{Kind: "look", Lead: fact.LeadAnswer, Moves: san("d4 d5 c4 e6"), From: 3, About: u, File: "book/black.pgn"},
		{Kind: "look", Lead: fact.LeadAnswer, Moves: san("d4 d5 c4 e6"), From: 3, About: u, Line: 3},
	}
	checkTerminal(t, "tonight", onTerminal(t, TextOptions{Columns: 70}, func(tl *lineWriter) { tl.tonight(tasks) }), `
*TONIGHT*
  *expect* 1.e4 c5: 4 in 10 games (3–6), Sicilian Defence
  *gap* 1.d4 d5 2.c4 e6: 3 in 10 games (1–5) keep the bishop
    ~(white.pgn:88)~
  *gap* 2...e6: 3 in 10 games (1–5) ~(black.pgn)~
  *gap* 2...e6: 3 in 10 games (1–5)
`)
	checkTerminal(t, "no task", onTerminal(t, TextOptions{}, func(tl *lineWriter) { tl.tonight(nil) }), "")
}

// Of few games each stands with the user's points, the moves that tell something and what the
// book says to them; then what they do with the other colour.
func TestFewGamesInTheTerminal(t *testing.T) {
	s := &fact.Side{MyColor: "white", Few: true, FewGames: []fact.PlayedGame{
		{Date: pgn.ParseDate("2026.05.01"), Rival: "Elm", RivalElo: 2043, Yours: "0", Speed: "blitz", ECO: "B20", Opening: "Sicilian Defence", Moves: san("e4 c5 Nf3 d6"), Plies: 60, Telling: 3, LeftBy: fact.LeftByThem, LeftPly: 1},
		{Rival: "?", Yours: "1", Moves: san("d4 d5 c4"), Plies: 3, Telling: 9, LeftBy: fact.BookOver, LeftPly: 2},
		{Rival: "Oak", Yours: "½", Moves: san("d4 d5"), Plies: 2, LeftBy: fact.GameEnded},
	}, Hints: []fact.Hint{
		{Moves: []fact.Played{{Move: "e4", Games: 4}, {Move: "d4", Games: 1}}, Games: 5},
		{Line: san("d4"), Moves: []fact.Played{{Move: "Nf6", Games: 2}}, Games: 3},
	}}
	want := `
*THEIR GAMES*
  ~your~ ~side's~ ~points~
  0 1 May 2026, Elm 2043: B20 Sicilian Defence; blitz
      1.e4 c5 2.Nf3 … - 1...c5 is not in your book
  1:
      1.d4 d5 2.c4 - your book ends before 2.c4
  ½ Oak:
      1.d4 …
  with White they opened 1.e4 in 4 of 5 games, 1.d4 in 1
  with Black they met 1.d4 with 1...Nf6 in 2 of 3 games
`
	got := onTerminal(t, TextOptions{}, func(tl *lineWriter) { tl.games(s) })
	checkTerminal(t, "few games", got, want)
}

// Lines that never part stand in full with how often they come, how they end, the note, the
// structure and how far they play at once; from so many on they are counted together.
func TestExitsInTheTerminal(t *testing.T) {
	s := &fact.Side{MyColor: "black", Exits: []fact.Exit{
		{
			Line: san("e4 c5 Nf3"), Kind: fact.BookEnds, Reach: 0.4, Lo: 0.2, Hi: 0.6, Of: 30, Games: 9, Came: 12, Note: "stay calm",
			Best: &fact.Evaluated{Centipawns: 30}, Instant: &fact.Instant{Move: 9, Games: 5},
			Structure: fact.Structure{Open: []string{"d"}, White: fact.SideFacts{Men: fact.Men{Queens: 1}}, Black: fact.SideFacts{Men: fact.Men{Queens: 1, Pawns: 1}}},
		},
		{Line: san("d4"), Kind: fact.TheyLeave, Reach: 0.25, Lo: 0.2, Hi: 0.3, Of: 30, Games: 7, Came: 7, Structure: fact.Structure{White: fact.SideFacts{Men: fact.Men{Queens: 1}}, Black: fact.SideFacts{Men: fact.Men{Queens: 1}}}},
		{Line: san("c4"), Kind: fact.TheyLeave, Reach: 0.2, Structure: fact.Structure{White: fact.SideFacts{Men: fact.Men{Queens: 1}}}},
		{Line: san("b4"), Kind: fact.TheyLeave, Reach: 0.1},
	}}
	first := `
*LINES TO EXPECT*
  *1.e4* *c5* *2.Nf3* 4 in 10 games (2–6); your book ends at -0.3
      stay calm
      you are up a pawn; open d
      they are usually instant to move 9 here (5 games)
`
	second := "  *1.d4* 3 in 10 games (2–3); they leave your book\n"
	for lines, want := range map[int]string{
		1: first + "  ~3~ ~more~ ~lines,~ ~together~ ~6~ ~in~ ~10~ ~games,~ ~left~ ~out~\n",
		2: first + second + "  ~2~ ~more~ ~lines,~ ~together~ ~3~ ~in~ ~10~ ~games,~ ~left~ ~out~\n",
	} {
		checkTerminal(t, "exits", onTerminal(t, TextOptions{Lines: lines}, func(tl *lineWriter) { tl.exits(s) }), want)
	}
}

// Partings stand with their letter, from where they part from the one before; each move with
// how often, the answer, where it goes on; what it rests on and how it ends.
func TestPartingsInTheTerminal(t *testing.T) {
	s := &fact.Side{MyColor: "white", Other: 0.04, Threshold: 0.01, Coverage: []fact.Coverage{{Move: 5, Of100: 90}}, Left: fact.Left{Games: 20, Them: 12, Book: 8, Move: 6}, Partings: []fact.Parting{
		{Stem: san("e4"), From: -1, Branches: []fact.Branch{
			{Move: "c5", Share: share(6, 4, 8, 12, 20), Reach: 0.6, State: fact.Answered, Answer: "Nf3", Then: san("d6"), Next: 1, Last: pgn.ParseDate("2026.11.02"), Note: "the main fight"},
			{Move: "e5", Share: share(3, 1, 5, 6, 20), Reach: 0.3, State: fact.NoAnswer, Next: -1, EndsWith: fact.TheyLeave, Trap: &fact.Trap{Kind: fact.TheirSlip, Games: 2, Of: 3, Speeds: []string{"blitz"}, Before: -20, After: -390}},
		}},
		{Stem: san("e4 c5 Nf3 d6 d4 cxd4 Nxd4"), From: 0, ECO: "B50", Name: "Sicilian Defence", Branches: []fact.Branch{
			{Move: "Nf6", Share: fact.Share{P: 0.4, Ten: 4, TenLo: 2, TenHi: 6}, Reach: 0.25, State: fact.Answered, Answer: "Nc3", Then: san("a6 Be3"), Next: -1, EndsWith: fact.BookEnds, Best: &fact.Evaluated{Centipawns: 30}, Instant: &fact.Instant{Move: 8, Games: 4}},
			{Move: "a6", Share: share(2, 1, 3, 2, 8), Reach: 0.15, State: fact.Answered, Answer: "c4", Then: san("e6"), Next: -1, EndsWith: fact.BookEnds, Structure: &fact.Structure{White: fact.SideFacts{Men: fact.Men{Pawns: 2}}}},
			{Move: "g6", Share: share(1, 0, 2, 1, 8), Reach: 0.05, State: fact.Returns, Answer: "c4", Next: -1, EndsWith: fact.BookEnds},
		}},
	}}
	c5 := func(see string) string { return "   *1...c5*      6 in 10 (4–8)           *[2.Nf3]*" + see + "\n" }
	e5 := `   *1...e5*      3 in 10 (1–5)           *[no answer yet]*
               6 of 20 games
               wrong in 2 of 3 games here (blitz; for you from +0.2 to +3.9 by
               the games' comments); not here again since
`
	b := `*B* ~1...c5~ ~2.Nf3~ ~d6~ ~3.d4~ ~cxd4~ ~4.Nxd4~ ~B50~ ~Sicilian~ ~Defence~
   *4...Nf6*     not seen; other players 4 in 10 *[5.Nc3]*
               5...a6 6.Be3 ~(book~ ~ends~ ~at~ ~+0.3)~
               they are usually instant to move 8 here (4 games)
`
	a6 := `   *4...a6*      2 in 10 (1–3)           *[5.c4]*
               2 of 8 games; 5...e6 ~(book~ ~ends)~
               you are up 2 pawns; queens off
`
	g6 := `   *4...g6*      1 in 10 (0–2)           *[5.c4]*
               1 of 8 games ~(back~ ~in~ ~book)~
`
	const top, note = "\n*LINES TO EXPECT*\n*A* ~1.e4~\n", "               the main fight\n"
	const tail = "  you still have an answer at move 5 in 90 of 100 such games; lines under 1 game\n  in 100 are not followed: together 1 in 25 games\n" +
		"  so far: of 20 games, they left in 12, your book had ended in 8; on average at\n  move 6\n"
	// An open move counts four times its reach, so 1...e5 (1.2) comes before 1...c5.
	for lines, want := range map[int]string{
		1: top + e5 + "  ~3~ ~more~ ~lines,~ ~together~ ~5~ ~in~ ~10~ ~games,~ ~left~ ~out~\n",
		2: top + c5("") + "               12 of 20 games; last 2 Nov 2026; 2...d6\n" + note + e5 + "  ~3~ ~more~ ~lines,~ ~together~ ~5~ ~in~ ~10~ ~games,~ ~left~ ~out~\n",
		4: top + c5(" see B") + "               12 of 20 games; last 2 Nov 2026\n" + note + e5 + b + a6 + "  ~1~ ~more~ ~line,~ ~1~ ~in~ ~20~ ~games,~ ~left~ ~out~\n",
		5: top + c5(" see B") + "               12 of 20 games; last 2 Nov 2026\n" + note + e5 + b + a6 + g6,
	} {
		checkTerminal(t, "partings", onTerminal(t, TextOptions{Lines: lines}, func(tl *lineWriter) { tl.partings(s) }), want+tail)
	}
}
