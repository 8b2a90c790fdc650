package words

import (
	"reflect"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/past"
	"foreply/fetch/pgn"
	"foreply/profile/hindsight"
)

// A move keeps its SAN and its ply, a frequency what it is of: equal ones have equal figures.
// At the start of a line a move has its number, but one that comes when it may.
func TestSpans(t *testing.T) {
	c := moves(strings.Fields("c5 Nf3"), 1)
	want := Clause{{Kind: Move, Text: "1...c5", SAN: "c5", Ply: 1}, {Text: " "}, {Kind: Move, Text: "2.Nf3", SAN: "Nf3", Ply: 2}}
	if !reflect.DeepEqual(c, want) {
		t.Errorf("%+v", c)
	}
	if got, want := moves(strings.Fields("e4 c5"), 0)[2], (Span{Kind: Move, Text: "c5", SAN: "c5", Ply: 1}); got != want || got.Numbered() != "1...c5" {
		t.Errorf("%+v, numbered %q", got, got.Numbered())
	}
	if got, want := last(strings.Fields("e4 c5 Nf3")), (Span{Kind: Move, Text: "2.Nf3", SAN: "Nf3", Ply: 2}); got != want {
		t.Errorf("%+v", got)
	}
	if got := last(nil); got.Text != "the first move" || got.Kind != Plain {
		t.Errorf("%+v", got)
	}
	check(t, map[string]string{"Nf3": bare("Nf3").Numbered(), "1.e4": move("e4", 0).Numbered(), "2 of 3 games": of(2, 3, "game").Numbered()})

	line, share := strings.Fields("e4 c5"), fact.NewShare(fact.Chance{P: 0.4, Lo: 0.3, Hi: 0.6}, 4, 10)
	u := &fact.Unanswered{Line: line, Reach: 0.4, Lo: 0.3, Hi: 0.6, SetUp: strings.Fields("d4")}
	o := fact.Order{Kind: fact.YourOrder, Line: line, Move: "Nf3", Other: "c3", Pet: "d6", Waits: "a6", Share: share}
	their := o
	their.Kind = fact.TheirOrder
	gap := fact.Task{Lead: fact.LeadAnswer, Kind: fact.ToLook, Moves: line, About: u}
	seen := fact.Task{Lead: fact.LeadAnswer, Kind: fact.ToLook, Moves: line, About: &fact.Unanswered{Line: line, Reach: 0.4, Share: share}}
	expect := fact.Task{Kind: fact.ToExpect, Lead: fact.LeadExpect, Moves: line, Often: reachOf(0.4, 1, 2)}
	choice := fact.Task{Kind: fact.ToExpect, Lead: fact.LeadExpect, Moves: line[:1], Choices: []fact.Choice{{Move: "c5", Share: &share}}}
	option := fact.Side{Options: []fact.Option{{Line: line, Move: "Nf3", Likeliest: "d6", Known: share, Character: fact.Sharp, Reasons: []string{fact.ByBook}}}}
	for _, c := range []struct {
		said Sentence
		of   string
	}{
		{Unanswered(u, false), "reach of 1.e4 c5"}, {Sentence{{HowLikely(u, false)}}, "reach of 1.e4 c5"}, {Task(&gap), "reach of 1.e4 c5"}, {Task(&seen), "reach of 1.e4 c5"},
		{Task(&expect), "reach of 1.e4 c5"}, {Expect(&expect, nil), "reach of 1.e4 c5"}, {Task(&choice), "share of 1.e4 c5"}, {Expect(&choice, nil), "share of 1.e4 c5"},
		{Order(&o), "share of 1.e4 c5 2.Nf3 d6"}, {Order(&their), "share of 1.e4 c5 2.Nf3 d6 3.c3"}, {Options(&option)[0], "share of 1.e4 c5 2.Nf3 d6"},
		{FirstChoices(&fact.Side{Partings: []fact.Parting{{Stem: line[:1], Branches: []fact.Branch{{Move: "c5", State: fact.NoAnswer, Share: share}}}}}), "share of 1.e4 c5"},
		{Mistake(&fact.Mistake{Line: strings.Fields("e4 c5 f3"), Often: reachOf(0.4, 1, 2)}, false), "reach of 1.e4 c5"},
		{Sentence{{MoveOdds(line, &fact.Branch{Share: share})}}, "share of 1.e4 c5"}, {ExitWhole(&fact.Exit{Line: line, Reach: 0.4}, "white"), "reach of 1.e4 c5"},
	} {
		found := false
		for _, span := range c.said.Spans() {
			found = found || span.Kind == Frequency && span.Of == c.of
		}
		if !found {
			t.Errorf("%s: nothing of %q", c.said, c.of)
		}
	}
	if s := (Sentence{}).And(nil, say("a"), Clause{}); len(s) != 1 {
		t.Errorf("%d clauses", len(s))
	}
	if c := say("%s%s%s", "", Clause{}, "a"); len(c) != 1 {
		t.Errorf("%+v", c)
	}
}

// What they can know of the user: from the first move, when last, and what was never shown.
func TestShown(t *testing.T) {
	shown := &fact.Shown{Games: 9, Choices: 1, Known: 0, Hidden: [][]string{strings.Fields("e4 e5 Nf3"), strings.Fields("e4 c5 c3")},
		Habits: []fact.Habit{{Move: "e4", N: 6, Of: 7, Last: pgn.ParseDate("2026.01.30")}, {Line: strings.Fields("e4 e5"), Move: "Bc4", N: 2, Of: 3, Book: "Nf3"}}}
	want := []string{"you opened 1.e4 in 6 of 7 games, last 30 Jan 2026", "after 1.e4 e5 you played 2.Bc4 in 2 of 3 games; your book's 2.Nf3 in 0",
		"of your 1 main choice on the lines to expect you have shown 0", "never shown: 1.e4 e5 2.Nf3", "never shown: 1.e4 c5 2.c3"}
	if got := Strings(Shown(shown, "black")); !reflect.DeepEqual(got, want) {
		t.Errorf("%q", got)
	}
	for mine, want := range map[string]string{"white": "no game of yours with White in the files: they can know nothing of it", "black": "no game of yours with Black in the files: they can know nothing of it"} {
		if got := Strings(Shown(&fact.Shown{Choices: 3}, mine)); len(got) != 1 || got[0] != want {
			t.Errorf("%q", got)
		}
	}
	if Shown(nil, "white") != nil || Instant(nil) != nil || Back(nil) != nil {
		t.Error("something is said of nothing")
	}
}

// Figures at the edges of their words.
func TestEdges(t *testing.T) {
	hardly := func(p float64, games, of int) string {
		o := fact.NewOften(fact.Chance{P: p, Lo: 0, Hi: 0.9}, games, of)
		o.TenLo = 0
		return Often(o)
	}
	share := fact.NewShare(fact.Chance{P: 0.4, Lo: 0.3, Hi: 0.6}, 4, 10)
	counted := func(side fact.Side) string { return Played(&side) }
	check(t, map[string]string{
		"nearly always": InN(0.95), "9 in 10": InN(0.949), "nearly every game": InGames(0.95), "9 in 10 games": InGames(0.949), "no game": InGames(0),
		"1 in 50": InN(1.0 / 50), "1 in 45": InN(1.0 / 47), "hardly known: in 4 of 9 games": hardly(0.4, 4, 9), "in 4 of 10 games": hardly(0.4, 4, 10), "4 in 10 games": hardly(0.4, 0, 0),
		"in 10 of 100 games, expect more": hardly(0.3, 10, 100), "hardly known how often": hardly(0.31, 10, 100), "in 40 of 100 games, expect less": hardly(0.1, 40, 100),
		"4 in 10": OddsIn(share), "4 in 10 (3–6)": Odds(share), "nearly always ": withTens("nearly always", 0.95, 8, 10) + " ", "2 in 10 (1–2)": withTens("2 in 10", 0.15, 1, 2), "1 in 7 (0–2)": withTens("1 in 7", 0.149, 0, 2),
		"1 in 7": withTens("1 in 7", 0.149, 0, 1), "2 in 10 (0–1)": withTens("2 in 10", 0.15, 0, 1), "not seen": Odds(fact.Share{Of: 3}),
		"else 3": Others(0.3, true), "": Others(0.29, true), "else 1 in 10": Others(0.1, false), " ": Others(0.09, false) + " ",
		"else 3/10": OthersCounted(3, 10, true), "  ": OthersCounted(2, 10, true) + "  ", "else 1 of 10 games": OthersCounted(1, 10, false), "   ": OthersCounted(1, 11, false) + "   ",
		"3 in 10 (1–4)": Tens(fact.Chance{P: 0.3, Lo: 0.1, Hi: 0.42}), "lines under 1 game in 50 are not followed: together 1 in 35 games": Rare(0.03, 0.02),
		"won": Pawns(1000), "lost": Pawns(-1000), "+10.0": Pawns(999), "0.0": Pawns(-4), "0.0 ": Pawns(4) + " ",
		"1,000": Thousands(1000), "999": Thousands(999), "123,456": Thousands(123456), "1 game of theirs came here": HowOften(&fact.Exit{Games: 1}, true), "7 games of theirs came here": HowOften(&fact.Exit{Games: 7}, true),
		"not in the games found": HowOften(&fact.Exit{}, true), "still in your book": Exit(&fact.Exit{Kind: fact.LimitInBook, Unseen: true}),
		"Evaluations in pawns, + is good for you, by Oracle 7, 999 k nodes each.":                        Engine(&fact.Engine{Name: "Oracle 7", Nodes: 999_000}),
		"Evaluations by Oracle 7, 1010 k nodes each: in commands from White's side, in words from yours": Evaluations(&fact.Engine{Name: "Oracle 7 ", Nodes: 1_010_000}),
		"look again: -0.9; better 1.d4 (+0.3)":                                                           LookAgain(&fact.Again{Played: fact.Evaluated{Moves: []string{"e4"}, Centipawns: -90}, Best: fact.Evaluated{Moves: []string{"d4"}, Centipawns: 30}}, "white"),
		"with Black 12 games, 5 fast":                                                                    counted(fact.Side{MyColor: "white", Aim: "black", Games: 12, Fast: 5, Slow: 0}),
		"with Black 12 games, 5 slow, 3 of unknown speed":                                                counted(fact.Side{MyColor: "white", Games: 12, Fast: 4, Slow: 5, NoSpeed: 3}),
		"with Black 12 games":                                                                            counted(fact.Side{MyColor: "white", Games: 12, Slow: 12, MaxPly: 4}),
		"with Black 12 games ":                                                                           counted(fact.Side{MyColor: "white", Games: 12, NoSpeed: 12}) + " ",
		"with White 12 games":                                                                            counted(fact.Side{MyColor: "black", Aim: "white", Games: 12, Fast: 12}),
		"Based on 9 games; with Black 7 games, your side made 1 of 3":                                    RestsOnLine(&fact.Basis{Games: 9}, &fact.Side{MyColor: "white", Games: 7, Score: fact.Score{Wins: 2, Losses: 1}}).String(),
		"Based on 9 games":                                                                               RestsOnLine(&fact.Basis{Games: 9}, &fact.Side{MyColor: "white"}).String(),
		"so far: " + Left(&fact.Left{Games: 3, You: 2, Never: 1, Move: 4}).String():                      SoFar(&fact.Left{Games: 3, You: 2, Never: 1, Move: 4}).String(),
		"of 3 games, the other side made a move that isn't yours in 2, 1 never left it; on average at move 4": Left(&fact.Left{Games: 3, You: 2, Never: 1, Move: 4}).String(),
		"    ": SoFar(&fact.Left{}).String() + "    ", " (20 games)": RestsOn(&fact.About{Kind: fact.AgainstLower, N: 20, Score: fact.Score{Wins: 6, Unknown: 14}}).String(),
		"     ": RestsOn(&fact.About{Kind: fact.InLongGames, N: 6, Score: fact.Score{Wins: 6}}).String() + "     ", "      ": RestsOn(&fact.About{Kind: fact.PlainRecord, N: 6}).String() + "      ",
		"did well in games of 50 moves or more: the other side made 2 of 6, expected about 3": About(&fact.About{Kind: fact.InLongGames, Above: true, N: 6, Limit: 50, Score: fact.Score{Wins: 4, Losses: 2}, Expected: 3}).String(),
		"       ": About(&fact.About{Kind: fact.LongCastling, K: 1, N: 40}).String() + "       ",
		"back in your book 8 in 10 (w.pgn:12), as far as is known of them": Back(&fact.Back{Chance: fact.Chance{P: 0.8}, Hardly: true, File: "x/w.pgn", FileLine: 12}).String(),
		"back in your book 8 in 10 (w.pgn)":                                Back(&fact.Back{Chance: fact.Chance{P: 0.8}, File: "w.pgn"}).String(),
		"position 8/8 ":                                                    Position("8/8") + " ", "        ": BranchEnds(&fact.Branch{State: fact.Answered, Next: 0, EndsWith: fact.BookEnds}, "white").String() + "        ",
	})
}

// A share told of the past counts from the games that say something, and the one nearest to
// one half is told; of nothing nothing is.
func TestPastEdges(t *testing.T) {
	bin := func(p float64, n int) hindsight.Bin { return hindsight.Bin{P: p, Observed: 1 - p, N: n} }
	r := &past.Result{Sheets: 1, Games: 9, First: past.Parting{N: 1, Told: []hindsight.Bin{bin(0.55, past.Enough-1), bin(0.3, past.Enough), bin(0.69, 99), bin(0.31, 99)}},
		Lines: []hindsight.Bin{bin(past.Seldom, past.Enough)}, Changes: past.Changes{Told: 2}}
	got := Past(r).Lines
	if len(got) != 3 || !strings.HasSuffix(got[0], "said 6.9 in 10, came 3.1") || !strings.HasPrefix(got[1], "lines, said and came in 10: ") || !strings.Contains(got[2], "2") {
		t.Errorf("%q", got)
	}
	if got := Past(&past.Result{Sheets: 1, Games: 9}).Lines; len(got) != 0 {
		t.Errorf("%q", got)
	}
	if got := Past(&past.Result{Sheets: 1, First: r.First}).Lines; len(got) != 0 {
		t.Errorf("without a game: %q", got)
	}
}
