package words

import (
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
)

// often is a reach of a line that is well known.
func reachOf(p float64, games, of int) *fact.Often {
	o := fact.NewOften(fact.Chance{P: p, Lo: p - 0.1, Hi: p + 0.2}, games, of)
	return &o
}

// What to expect on the page: the moves, of another way from where they part, how often or in
// how many games, that there is no answer, whose games these are, the answer, the opening.
func TestExpectOnThePage(t *testing.T) {
	line, share := strings.Fields("e4 c5 Nf3 d6"), fact.NewShare(fact.Chance{P: 0.25, Lo: 0.2, Hi: 0.3}, 5, 20)
	for want, c := range map[string]struct {
		task fact.Task
		stem []string
	}{
		"1.e4 c5 2.Nf3 d6 · 4 in 10 games (3–6) · Name":      {task: fact.Task{Moves: line, Often: reachOf(0.4, 8, 20), Of: 5, Played: 3, Name: "Name"}},
		"1.e4 c5 2.Nf3 d6 · in 3 of 5 games · no answer yet": {task: fact.Task{Moves: line, Played: 3, Of: 5, Gap: line}},
		"1.e4 c5 2.Nf3 d6": {task: fact.Task{Moves: line}},
		"2...d6 · 4 in 10 games (3–6) · as players like them do · you play 3.d4": {fact.Task{Moves: line, Often: reachOf(0.4, 8, 20), Peers: true, Answer: "d4"}, strings.Fields("e4 c5 Nf3 Nc6")},
		"anything: go through your main lines":                                   {},
		"1...c5 3 in 10, 1...e5 · no move twice in 1 game · after 1.e4":          {task: fact.Task{Moves: line[:1], Of: 1, Choices: []fact.Choice{{Move: "c5", Share: &share}, {Move: "e5"}}}},
		"1.d4, 1.c4 · as players like them do":                                   {task: fact.Task{Peers: true, Choices: []fact.Choice{{Move: "d4"}, {Move: "c4"}}}},
	} {
		if got := Expect(&c.task, c.stem).String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// The answer, how far it is prepared, and what it isn't prepared for: a likely line without an
// answer, or else how much of what comes next.
func TestPlayOnThePage(t *testing.T) {
	line := strings.Fields("e4 c5 Nf3")
	for want, task := range map[string]fact.Task{
		"2.Nf3": {}, "2.Nf3 · prepared to about move 9": {Depth: 9.2}, "2.Nf3 · prepared to about move 9, but not for 2...g6": {Depth: 9.2, Gap: strings.Fields("e4 c5 Nf3 g6"), Open: 0.9},
		"2.Nf3 · no answer to 2...g6": {Gap: strings.Fields("e4 c5 Nf3 g6"), Open: 0.99, Counted: true}, "2.Nf3 · then your book ends": {Open: 0.95, Counted: true},
		"2.Nf3 · most of what comes next is not in your book": {Open: 0.94, Counted: true}, "2.Nf3 · your book answers 4 in 10 of what comes next": {Open: 0.6},
	} {
		task.Moves = line
		if got := Play(&task).String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if Play(&fact.Task{}) != nil {
		t.Error("no answer to tell")
	}
}

// What the field's page says of a player: games and pages, first choices, the main line, gaps.
func TestFieldOfPlayers(t *testing.T) {
	branch := func(move string, p float64) fact.Branch {
		return fact.Branch{Move: move, Share: fact.NewShare(fact.Chance{P: p, Lo: p, Hi: p}, int(p*100), 100)}
	}
	s := &fact.Side{
		Games: 7, Partings: []fact.Parting{{Branches: []fact.Branch{branch("e4", 0.5), branch("d4", 0.3), branch("c4", 0.12), branch("b3", 0.05)}}},
		Tonight:    []fact.Task{{Lead: fact.LeadOr, Moves: strings.Fields("c4")}, {Lead: fact.LeadExpect, Moves: strings.Fields("d4 d5"), Played: 3, Of: 7}},
		Unanswered: []fact.Unanswered{{Line: strings.Fields("e4 e5 Nf3 f5"), Reach: 0.4, Lo: 0.3, Hi: 0.5}, {Line: nil, Reach: 0.3}, {Line: strings.Fields("d4"), Reach: 0.2, Lo: 0.2, Hi: 0.2}, {Line: strings.Fields("c4"), Reach: 0.1}},
	}
	after := *s
	after.Partings = []fact.Parting{{Stem: strings.Fields("e4"), Branches: []fact.Branch{branch("c5", 0.5), branch("e5", 0.3)}}}
	none, few, nothing := *s, *s, fact.Side{Games: 1}
	none.Partings, few.Few = nil, true
	check(t, map[string]string{
		"if you have White": IfYouHave("white"), "if you have Black": IfYouHave("black"),
		"1 player": Players(1, 1, 1), "30 players, page 2 of 3": Players(30, 2, 3),
		"1 game, last 2 Mar 2026": Found(1, pgn.ParseDate("2026.03.02")), "1,200 games": Found(1200, pgn.Date{}),
		"1.e4 5 in 10, 1.d4 3 in 10, 1.c4 1 in 8":    FirstChoices(s).String(),
		"after 1.e4: 1...c5 5 in 10, 1...e5 3 in 10": FirstChoices(&after).String(),
		"7 games: 1.d4 d5 · in 3 of 7 games":         FirstChoices(&none).String(),
		"7 games: 1.d4 d5 · in 3 of 7 games" + " ":   FirstChoices(&few).String() + " ",
		"": FirstChoices(&nothing).String(),
		"no answer 2.Nf3 f5 4 in 10 games; 1.d4 2 in 10 games":                        Gaps(s).String(),
		"changed: in blitz since Feb 2026: 1.d4 in the last 8; before that in 2 of 9": ChangedTo(&fact.Change{Move: "d4", Up: true, N: 8, Of: 8, PastN: 2, PastOf: 9, Speed: "blitz", Since: pgn.ParseDate("2026.02")}).String(),
	})
	for n, want := range map[int]string{9: "main 1.Nf3 Nf6 2.Ng1 Ng8 3.Nf3 Nf6 4.Ng1 Ng8 5.Nf3 · 3 in 10 games", 10: "main 1.Nf3 Nf6 2.Ng1 Ng8 3.Nf3 Nf6 4.Ng1 Ng8 5.Nf3 Nf6 · 3 in 10 games", 11: "main 1.Nf3 Nf6 2.Ng1 Ng8 3.Nf3 Nf6 4.Ng1 Ng8 5.Nf3 Nf6 … · 3 in 10 games"} {
		line := slices.Repeat(strings.Fields("Nf3 Nf6 Ng1 Ng8"), 3)[:n]
		side := &fact.Side{Exits: []fact.Exit{{Line: line, Reach: 0.3, Lo: 0.25, Hi: 0.35}}, Tonight: []fact.Task{{Lead: fact.LeadExpect, Moves: strings.Fields("d4"), Often: reachOf(0.5, 1, 2)}}}
		if got := MainLine(side).String(); got != want {
			t.Errorf("%d plies: %q, want %q", n, got, want)
		}
	}
	hardly := &fact.Side{Exits: []fact.Exit{{Line: strings.Fields("e4 e5"), Reach: 0.3, Lo: 0, Hi: 0.9, Came: 2, Of: 5}},
		Tonight: []fact.Task{{Lead: fact.LeadExpect, Moves: strings.Fields("d4")}, {Lead: fact.LeadOr, Moves: strings.Fields("c4"), Often: reachOf(0.4, 1, 2)}}}
	if got := MainLine(hardly).String(); got != "main 1.e4 e5 · hardly known: in 2 of 5 games" {
		t.Errorf("%q", got)
	}
}

// All that is known of a gap in the order of its worth, each clause joined to those before it.
func TestGapWhole(t *testing.T) {
	u := &fact.Unanswered{
		Line: strings.Fields("e4 e5 Nf3 f5"), Reach: 0.4, Lo: 0.3, Hi: 0.6, Games: 9, Of: 20, Share: fact.Share{P: 0.5, Seen: 7, Of: 31}, Last: pgn.ParseDate("2026.09.14"),
		Best:   []fact.Evaluated{{Moves: strings.Fields("Nxe5 Qf6"), Centipawns: 110}, {Moves: strings.Fields("exf5"), Centipawns: 40}},
		Others: []fact.Met{{Move: "d4", Games: 6, Score: fact.Score{Wins: 1, Draws: 3, Losses: 2}, Expected: 2.9}, {Move: "Nc3", Games: 2, Score: fact.Score{Wins: 2}, Expected: 1.1}},
		Peers:  []fact.Met{{Move: "d4", Games: 60, Score: fact.Score{Wins: 20, Draws: 21, Losses: 19}}, {Move: "Nc3", Games: 40, Score: fact.Score{Wins: 18, Losses: 22}}}, PeerGames: 140,
		SetUp: strings.Fields("d4 Nc3"), SetUpPly: 2,
	}
	const peers = "players like them met it with 3.d4 in 60 of 140 games (made 29½), 3.Nc3 in 40 (22)"
	check(t, map[string]string{
		"4 in 10 games (3–6); 7 of 31 games, expect more; 9 games came here in all; last 14 Sep 2026; best 3.Nxe5 Qf6 (+1.1) or 3.exf5 (+0.4); others played 3.d4 in 6 games (your side made 3½, 3.1 expected), " +
			"3.Nc3 in 2 (0, 0.9); the difference may be chance; most have played 3.d4; " + peers + "; " + SetUp(u).String(): Gap(u, false, "white").String(),
		"3.d4 3½ of 6, 3.Nc3 0 of 2, 3.a3 –": Answers(append(slices.Clone(u.Others), fact.Met{Move: "a3", Score: fact.Score{Unknown: 2}}), 4).String(),
		peers:                                PeersAnswer(u).String(),
		"Your set-up: d4, Nc3":               YourSetUp(u).String(),
		"they played it in 7 of 31 games, expect more, last 14 Sep 2026": SeenIn(u).String(),
		"9 games of theirs came here by another order":                   SeenIn(&fact.Unanswered{Games: 9}).String(),
		"6 games: your side made 3½, 3.1 expected":                       MetIn(&u.Others[0]),
		"1 game":                          MetIn(&fact.Met{Games: 1, Score: fact.Score{Unknown: 1}}),
		"5 of 7 games: your side made 1½": WentOnIn(&fact.GoesOn{Games: 5, Of: 7, Score: fact.Score{Wins: 3, Draws: 1, Losses: 1}}, true),
		"5 of 7 games":                    WentOnIn(&fact.GoesOn{Games: 5, Of: 7, Score: fact.Score{Wins: 3, Draws: 1, Losses: 1}}, false),
		"1 of 1 game":                     WentOnIn(&fact.GoesOn{Games: 1, Of: 1, Score: fact.Score{Unknown: 1}}, true),
	})
	for name, c := range map[string]struct {
		moves   string
		ply     int
		told    bool // in a sentence: a set-up of one move is one
		heading bool
	}{
		"a family": {"d4 Nc3", 1, true, true}, "to the gap": {"d4 Nc3", 4, true, true}, "the whole book": {"d4 Nc3", 0, false, false}, "behind it": {"d4 Nc3", 5, false, false},
		"one move": {"d4", 2, true, false}, "none": {"", 2, false, false},
	} {
		v := &fact.Unanswered{Line: u.Line, SetUp: strings.Fields(c.moves), SetUpPly: c.ply, NotePly: 2}
		if got := len(SetUp(v)) > 0; got != c.told {
			t.Errorf("%s: said %v", name, got)
		}
		if got := len(YourSetUp(v)) > 0; got != c.heading {
			t.Errorf("%s: headed %v", name, got)
		}
	}
}

// How a row ends and what it rests on.
func TestRows(t *testing.T) {
	best := &fact.Evaluated{Centipawns: -40}
	back := &fact.Back{Chance: fact.Chance{P: 0.8, Lo: 0.78, Hi: 0.82}, Into: strings.Fields("c4 d5"), Answer: "Nc3"}
	exit := func(kind string, best *fact.Evaluated) string {
		return ExitWhole(&fact.Exit{Kind: kind, Line: strings.Fields("e4"), Reach: 0.4, Lo: 0.3, Hi: 0.6, Best: best}, "black").String()
	}
	share := fact.Share{P: 0.45, Seen: 9, Of: 20}
	hardly := fact.Share{P: 0.45, Seen: 2, Of: 4, Hardly: true}
	last := pgn.ParseDate("2026.09.14")
	check(t, map[string]string{
		"4 in 10 games (3–6); your book ends at +0.4":     exit(fact.BookEnds, best),
		"4 in 10 games (3–6); still in your book at +0.4": exit(fact.LimitInBook, best),
		"4 in 10 games (3–6); they leave your book":       exit(fact.TheyLeave, best),
		"4 in 10 games (3–6); your book ends":             exit(fact.BookEnds, nil),
		"9 of 20 games; last 14 Sep 2026":                 RestsOnGames(&fact.Branch{Share: share, Last: last}).String(),
		"last 14 Sep 2026":                                RestsOnGames(&fact.Branch{Share: hardly, Last: last}).String(),
		"":                                                RestsOnGames(&fact.Branch{Share: fact.Share{Of: 4}, Last: last}).String(),
		"9 of 20 games; " + Back(back).String():           RestsOnGames(&fact.Branch{Share: share, Back: back}).String(),
		Back(back).String():                               RestsOnGames(&fact.Branch{Back: back}).String(),
		"as after 1.e4":                                   AsAfter("1.e4").String(),
		"after 1...c5":                                    AfterMove(strings.Fields("e4 c5")).String(),
		"book ends at +0.4":                               BranchEnds(&fact.Branch{State: fact.Answered, EndsWith: fact.BookEnds, Next: -1, Best: best}, "black").String(),
		"5 in 10 (3–6)":                                   MoveOdds(strings.Fields("e4"), &fact.Branch{Share: fact.NewShare(fact.Chance{P: 0.45, Lo: 0.3, Hi: 0.6}, 9, 20)}).Text,
	})
	for next, want := range map[int]string{0: "", 3: "", -1: "book ends"} {
		if got := BranchEnds(&fact.Branch{State: fact.Answered, EndsWith: fact.BookEnds, Next: next}, "white").String(); got != want {
			t.Errorf("next %d: %q", next, got)
		}
	}
}

// Ratings, sources and the game to come, as the head and the foot have them.
func TestHeadAndSources(t *testing.T) {
	day := pgn.ParseDate("2026.11.02")
	r := &fact.Report{
		Opponent: fact.Opponent{Names: []string{"Quist, Ola", "oquist"}},
		Basis: fact.Basis{AsOf: day, Sources: []fact.SourceCount{{Name: "dir/a.pgn", Games: 12, Read: 3400}, {Name: "b.pgn", Games: 1, Read: 2}},
			LeftOut: []fact.LeftOut{{Reason: "variant", Games: 1300}, {Reason: "forfeit", Games: 2}}},
		Sides: []fact.Side{{Book: fact.BookFacts{Files: []string{"x/white.pgn", "both.pgn"}}}, {Book: fact.BookFacts{Files: []string{"both.pgn", "black.pgn"}}}},
	}
	row := func(by string, ply int) string {
		return HowLeft(&fact.GameRow{LeftBy: by, LeftPly: ply, Game: 1, Moves: strings.Fields("e4 c5 Nf3")}).String()
	}
	met := &fact.Report{Basis: fact.Basis{Met: fact.Score{Wins: 1, Losses: 3}}, Sides: make([]fact.Side, 1)}
	both := &fact.Report{Basis: met.Basis, Sides: make([]fact.Side, 2)}
	check(t, map[string]string{
		"Sources: a.pgn 12 of 3,400, b.pgn 1 of 2; your book: white.pgn, both.pgn, black.pgn; made for 2 Nov 2026; names: Quist, Ola, oquist; not counted: 1,300 variant, 2 forfeit.": Sources(r),
		"": Sources(&fact.Report{}),
		"2010 over the board classical, 2 Nov 2026": Rating(fact.Rating{Value: 2010, List: pgn.OverTheBoard, Speed: "classical", Date: day}),
		"1900 online":            Rating(fact.Rating{Value: 1900, List: pgn.Online}),
		"1850 example.org blitz": UndatedRating(fact.Rating{Value: 1850, List: "example.org", Speed: "blitz", Date: day}),
		"Open; round 3; board 4; 2 Nov 2026; clock 90 min + 30 s; you need a win": GameToCome(&fact.Heading{Event: "Open", Round: "3", Board: "4", Date: day, Clock: "5400+30", Need: "win", Me: "Alder"}),
		"  ":                              GameToCome(&fact.Heading{}) + "  ",
		"they left your book with 1...c5": row(fact.LeftByThem, 1),
		"you left your book with 2.Nf3":   row(fact.LeftByYou, 2),
		"your book ended before 2.Nf3":    row(fact.BookOver, 3),
		"the game ended in your book":     row(fact.GameEnded, 3),
		" ":                               row("", 0) + " ",
		"and 1 older game":                MoreGames(1),
		"you made 3 of 4":                 MetAside(met, &fact.Side{Met: fact.Score{Draws: 1}}),
		"you made ½ of 1":                 MetAside(both, &fact.Side{Met: fact.Score{Draws: 1}}),
		"your side's points":              MetAside(both, &fact.Side{Met: fact.Score{Unknown: 1}}),
		"with White they opened 1.e4 in 4 of 7 games, 1.d4 in 2": Hint(&fact.Hint{Moves: []fact.Played{{Move: "e4", Games: 4}, {Move: "d4", Games: 2}}, Games: 7}).String(),
	})
}
