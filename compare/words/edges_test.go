package words

import (
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/past"
	"foreply/fetch/pgn"
	"foreply/profile/hindsight"
)

// whole reports what two tellings of a table differ in.
func whole(t *testing.T, told [][2]string) {
	t.Helper()
	for _, c := range told {
		if c[0] != c[1] {
			t.Errorf("got  %q\nwant %q", c[0], c[1])
		}
	}
}

func text(list []Sentence) string { return strings.Join(Strings(list), " | ") }

// Figures at their edges: nothing, one, two; a thousand thousands; half a thing, a tenth more.
func TestFiguresAtTheirEdges(t *testing.T) {
	skewed := fact.Chance{P: 0.12, Lo: 0.16, Hi: 0.38}
	whole(t, [][2]string{
		{Times(1), "once"}, {Times(2), "twice"}, {Times(3), "3 times"}, {Plural(0, "game"), "0 games"}, {Plural(1, "game"), "1 game"}, {Plural(2, "game"), "2 games"},
		{Thousands(999), "999"}, {Thousands(1000), "1,000"}, {Thousands(12345678), "12,345,678"}, {Found(0, pgn.Date{}), "0 games"}, {Found(1, pgn.ParseDate("2026.11.02")), "1 game, last 2 Nov 2026"},
		{Date(pgn.ParseDate("2026.11.01")), "1 Nov 2026"}, {LastMove([]string{"e4", "c5"}), "1...c5"}, {LastMove([]string{"e4", "c5", "Nf3"}), "2.Nf3"}, {LastMove(nil), "the first move"},
		{Movetext([]string{"c5", "Nf3", "d6"}, 1), "1...c5 2.Nf3 d6"}, {Movetext([]string{"d6", "d4"}, 3), "2...d6 3.d4"}, {Span{Kind: Move, Text: "e4", SAN: "e4"}.Numbered(), "1.e4"}, {bare("Nf3").Numbered(), "Nf3"},
		{Tens(fact.Chance{P: 0.62, Lo: 0.41, Hi: 0.79}), "6 in 10 (4–8)"}, {Tens(skewed), "1 in 8 (1–4)"}, {Tens(fact.Chance{P: 0.88, Lo: 0.62, Hi: 0.78}), "9 in 10 (6–9)"}, {Tens(fact.Chance{P: 0.5, Lo: 0.2, Hi: 0.71}), "hardly known"},
		{Players(1, 1, 1), "1 player"}, {Players(9, 1, 2), "9 players, page 1 of 2"}, {Class("slow"), "slow"}, {Class("bullet"), "bullet"}, {Class("unknown"), ""},
		{Capital("éclair"), "Éclair"}, {Capital(""), ""}, {AsSentence(" is it? "), "Is it?"}, {AsSentence("it is"), "It is."}, {AsSentence(""), ""}, {AsSentence("yes!"), "Yes!"},
		{LinesLeft(0, 0), ""}, {LinesLeft(1, 0.2), "1 more line, 2 in 10 games, left out"}, {LinesLeft(1200, 0.4), "1,200 more lines, together 4 in 10 games, left out"},
		{LeftOut(""), ""}, {LeftOut("boards"), "Left out for want of room: boards."}, {SheetTitle(""), "Preparation"}, {SheetTitle("Elm"), "Preparation for Elm"}, {WithColourOf("black", "ready"), "with Black: ready"},
		{Lost("boards", 0, 0, 3), "boards (3 details)"}, {Lost("boards", 2, 0, 3), "boards (2 more)"}, {Lost("boards", 0, 0.5, 0), "boards"}, {Lost(MoreLines, 1, 0.3, 0), "1 move (lines together 3 in 10 games)"}, {Lost("gaps", 4, 0.3, 0), "gaps (4 more, together 3 in 10 games)"},
		{placed(" (%s)", "", 3).String(), ""}, {placed(" (%s)", "a/white.pgn", 3).String(), " (white.pgn:3)"}, {placed(" (%s)", "white.pgn", 0).String(), " (white.pgn)"},
		{either([]string{"d4", "c3"}, 6).String(), "4.d4 or 4.c3"}, {Alternatives([]string{"c5", "e5", "e6"}, 1), "1...c5 or 1...e5 or 1...e6"},
		{UndatedRating(fact.Rating{Value: 1800, List: pgn.Online, Speed: "blitz"}), "1800 online blitz"}, {UndatedRating(fact.Rating{Value: 1800, List: pgn.OverTheBoard}), "1800 over the board"}, {UndatedRating(fact.Rating{Value: 1700, List: "club"}), "1700 club"},
	})
	for lead, want := range map[string]string{fact.LeadExpect: "expect", fact.LeadOr: "or", fact.LeadPlay: "play", fact.LeadChanged: "changed", fact.LeadAnswer: "gap", fact.LeadGoOn: "go on", fact.LeadTrap: "trap", fact.LeadLook: "look", fact.LeadOrder: "order", fact.LeadChoose: "choose", fact.LeadAgain: "again"} {
		if got := Lead(lead); got != want {
			t.Errorf("%s: %q", lead, got)
		}
	}
}

// What a report rests on: of players like them alone, of those that count less, of none; each
// clause said where its facts are, and not where another says them.
func TestRestsOnAtItsEdges(t *testing.T) {
	peers := fact.PeersUsed{Games: 2000, Before: 1500, MinRating: 1600, MaxRating: 5000}
	unrated := fact.PeersUsed{Games: 1, Before: 1, MinRating: 0}
	met := []fact.GameRow{{}, {}}
	one := fact.Side{MyColor: "black", Games: 3}
	whole(t, [][2]string{
		{Basis(&fact.Basis{Meetings: met, Met: fact.Score{Wins: 1, Losses: 1}}).String(), "no games of theirs found"},
		{Basis(&fact.Basis{Peers: &fact.PeersUsed{Games: 9}}).String(), "no games of theirs found"},
		{Basis(&fact.Basis{Peers: &peers}).String(), "no games of theirs found: this is what players like them play, from 2,000 games of peers rated 1600 and up, 1,500 dated before the game"},
		{Basis(&fact.Basis{Games: 2, Fast: 2, Age: 5}).String(), "based on 2 games; the newest is 5 years old"}, {peerGames(&fact.PeersUsed{Games: 2, Speed: "rapid", MinRating: 1600, MaxRating: 1799}), "2 rapid games of peers rated 1600 to 1799"}, {leftOut("by hand"), "by hand"},
		{peerGames(&unrated), "1 game of peers of any rating"}, {peerGames(&fact.PeersUsed{Games: 2, MinRating: 1, MaxRating: 1899}), "2 games of peers rated under 1900"},
		{Basis(&fact.Basis{Games: 9, Slow: 4, Fast: 5, Less: 5, Class: "classical"}).String(), "based on 4 slow games; 5 fast ones count less"},
		{Basis(&fact.Basis{Games: 9, Slow: 4, Fast: 5, Less: 5, Class: "blitz"}).String(), "based on 4 slow games; 5 fast ones; 5 of another speed than yours count less"},
		{Basis(&fact.Basis{Games: 9, Slow: 4, Fast: 5, Less: 3, Class: "classical"}).String(), "based on 4 slow games; 5 fast ones; 3 of another speed than yours count less"},
		{Basis(&fact.Basis{Games: 5, Fast: 5, Less: 5, Class: "classical"}).String(), "based on 5 games"},
		{Basis(&fact.Basis{Games: 9, Fast: 5, NoSpeed: 4, Less: 5, Class: "classical"}).String(), "based on 9 games; 5 of them fast; 4 of unknown speed; 5 of another speed than yours count less"},
		{RestsOnLine(&fact.Basis{Games: 9, Fast: 5, NoSpeed: 4, Less: 3, Class: "rapid"}, &one).String(), "Based on 9 games; 5 of them fast; with White 3 games; 4 of unknown speed; 3 of another speed than yours count less"},
		{PeersLeftOut(&fact.PeersUsed{Own: 1200, Unfit: 2}), "of the peers' games not used: 1,200 of the opponent's own, 2 set up, with null moves or under six half-moves"}, {PeersLeftOut(&fact.PeersUsed{}), ""},
		{Unread(&fact.BookFacts{Unread: 1, File: "a.pgn", FileLine: 7}), "a move of your repertoire can't be played: its line is missing here (a.pgn:7)"},
		{Unread(&fact.BookFacts{Unread: 2, File: "a.pgn", FileLine: 7}), "2 moves of your repertoire can't be played: their lines are missing here (first a.pgn:7)"},
		{RestsOn(&fact.About{Kind: fact.InLongGames, N: 9, Score: fact.Score{Wins: 7, Unknown: 2}}).String(), " (9 games)"}, {RestsOn(&fact.About{Kind: fact.InLongGames, N: 7, Score: fact.Score{Wins: 7}}).String(), ""},
		{Played(&fact.Side{MyColor: "white"}), "with Black 0 games"}, {Played(&fact.Side{MyColor: "black", Games: 1, Slow: 1}), "with White 1 game"}, {Played(&fact.Side{MyColor: "black", Games: 5, Fast: 3, NoSpeed: 2}), "with White 5 games, 3 fast, 2 of unknown speed"},
	})
	notes := text(Footnotes(&fact.Report{
		Opponent: fact.Opponent{Unsure: []string{"elm7"}}, Basis: fact.Basis{Peers: &fact.PeersUsed{Games: 3}}, Faults: []string{"one", "two"},
	}))
	want := "the forecast assumes that they did not prepare for you | not certain to be theirs: elm7 | please report this: our rules and the library's differ: one | please report this: our rules and the library's differ: two"
	if notes != want {
		t.Errorf("%q", notes)
	}
}

// How far a book goes: the four first moves at which an answer fails, from 97 of a hundred down,
// and what was too rare.
func TestCoverageSaid(t *testing.T) {
	side := fact.Side{Threshold: 0.01, Other: 0.05, Coverage: []fact.Coverage{{Move: 1, Of100: 100}, {Move: 2, Of100: 98}, {Move: 3, Of100: 97}, {Move: 4, Of100: 80}, {Move: 5, Of100: 60}, {Move: 6, Of100: 40}, {Move: 7, Of100: 20}}}
	const rare = "lines under 1 game in 100 are not followed: together 1 in 20 games"
	full := fact.Side{Threshold: 0.01, Other: 0.05, Coverage: side.Coverage[:2]}
	whole(t, [][2]string{
		{Coverage(&side).String(), "you still have an answer at move 3 in 97 of 100 such games, at 4 in 80, at 5 in 60, at 6 in 40; " + rare}, {Coverage(&full).String(), rare}, {Coverage(&fact.Side{}).String(), ""},
		{Rare(0.03, 0.02), "lines under 1 game in 50 are not followed: together 1 in 35 games"}, {Rare(0.0299, 0.02), ""},
	})
}

// What helps when they surprise: a set-up, be it of one move; each way back; the note, with its
// place or at the head of the chapter.
func TestSurprisedWhole(t *testing.T) {
	back := func(line, into string) fact.WayBack {
		return fact.WayBack{Line: strings.Fields(line), Back: fact.Back{Chance: fact.Chance{P: 0.9}, Into: strings.Fields(into), File: "w.pgn", FileLine: 12}}
	}
	got := text(Surprised(&fact.Surprise{SetUp: []string{"Nf3"}, Returns: []fact.WayBack{back("d4 e6", "c4 d5"), back("d4 c6 c4 b5", "e3 a6")}, Note: "Slowly.", NoteLine: []string{"e4"}}))
	whole(t, [][2]string{
		{got, "Your usual set-up: Nf3 | after 1.d4 e6, 2.c4: back in your book 9 in 10 (w.pgn:12) | after 1.d4 c6 2.c4 b5, 3.e3: back in your book 9 in 10 (w.pgn:12) | Your note at 1.e4: Slowly."},
		{text(Surprised(&fact.Surprise{Note: "Slowly."})), "Your note at the head of the chapter: Slowly."}, {text(Surprised(&fact.Surprise{})), ""}, {text(Surprised(&fact.Surprise{Note: "So.", NoteLine: []string{"e4", "c5"}})), "Your note at 1...c5: So."}, {WayBack(&fact.WayBack{}).String(), ""},
		{Back(&fact.Back{Chance: fact.Chance{P: 0.5}, Hardly: true}).String(), "back in your book 5 in 10, as far as is known of them"},
	})
}

// Games beside the book: what it has where the user left it, at its ply; the board after eight
// moves with the year alone; which are worth playing through.
func TestGamesSaid(t *testing.T) {
	moves := strings.Fields("e4 e5 Nf3 Nc6 Bb5 a6 Ba4 Nf6 O-O Be7 Re1 b5 Bb3 d6 c3 O-O h3 Nb8")
	row := fact.GameRow{Theirs: "black", Score: "1", Date: pgn.ParseDate("2025.03.01"), Moves: moves[:6], LeftBy: fact.LeftByYou, LeftPly: 2, Answer: "d4"}
	them := fact.GameRow{LeftBy: fact.LeftByThem, Moves: moves[:2], LeftPly: 1}
	deep := fact.GameRow{LeftBy: fact.BookOver, Moves: moves[:6], LeftPly: 4}
	game := fact.PlayedGame{Date: pgn.ParseDate("2026.03.05"), Rival: "Elm, A", Yours: "½", Moves: moves, Plies: 18, LeftBy: fact.LeftByYou, LeftPly: 3, Answer: "Nf6"}
	short, nobody := game, game
	short.Moves, short.Plies, nobody.Rival, nobody.Date = moves[:5], 5, "?", pgn.Date{}
	silent := game
	silent.Answer = ""
	late := game
	late.LeftBy, late.LeftPly = fact.BookOver, 30
	model := func(file string, n, deep int) fact.ModelGame {
		return fact.ModelGame{PlayedGame: fact.PlayedGame{File: file, Game: n, Rival: "Elm, A", Date: pgn.ParseDate("2026.03.05")}, Deep: deep}
	}
	models := fact.ModelGames{Games: []fact.ModelGame{model("x/a.pgn", 7, 9), model("x/a.pgn", 8, 8), model("x/a.pgn", 3, 9), model("b.pgn", 4, 9)}}
	again := fact.Again{Line: moves[:2], Played: fact.Evaluated{Moves: []string{"Qh5"}, Centipawns: -90}, Best: fact.Evaluated{Moves: []string{"Nf3"}, Centipawns: 30}, Often: fact.NewOften(fact.Chance{P: 0.4, Lo: 0.3, Hi: 0.5}, 4, 9)}
	doubted := BookDoubted(&again, "white")
	whole(t, [][2]string{
		{Meeting(&row).String(), "0 with White, 1 Mar 2025: – your book has 2.d4"}, {HowLeft(&them).String(), "they left your book with 1...e5"}, {HowLeft(&deep).String(), "your book ended before 3.Bb5"},
		{PlayedTo(&game).String(), "8...O-O Elm, A, 2026: ½"}, {PlayedTo(&short).String(), "3.Bb5 Elm, A, 2026: ½"}, {PlayedTo(&nobody).String(), "8...O-O: ½"},
		{PlayedLeft(&game).String(), "your book has 2...Nf6"}, {PlayedLeft(&silent).String(), ""}, {PlayedLeft(&late).String(), "your book ends before 9...Nb8"}, {PlayedLeft(&fact.PlayedGame{LeftBy: fact.LeftByThem}).String(), ""},
		{PlayThrough(&models, true).String(), " a 7, Mar 2026, Elm; 3, Mar 2026, Elm; b 4, Mar 2026, Elm"}, {PlayThrough(&models, false).String(), " a 7, Mar 2026; 3, Mar 2026; b 4, Mar 2026"},
		{doubted.String(), "is your book's move: -0.9; better 2.Nf3 (+0.3) (4 in 10 games)"}, {doubted.Spans()[len(doubted.Spans())-2].Of, "reach of 1.e4 e5"},
	})
}

// Tonight's words at their edges: a line told from where it parts from another; peers beside the
// first line; what is open behind an answer, joined as the place asks; labels that ask for a move.
func TestTasksAtTheirEdges(t *testing.T) {
	line := strings.Fields("e4 e5 Nf3 f5")
	often := fact.NewOften(fact.Chance{P: 0.4, Lo: 0.3, Hi: 0.5}, 4, 9)
	option := fact.Option{Line: line[:2], Move: "Nf3", Character: "solid"}
	gap := fact.Task{Lead: fact.LeadExpect, Moves: line, Gap: line, Often: &often}
	whole(t, [][2]string{
		{Expect(&fact.Task{Moves: line[:2], Often: &often}, line[:1]).String(), "1...e5 · 4 in 10 games (3–5)"}, {Expect(&fact.Task{Moves: line[:2], Often: &often, Peers: true}, nil).String(), "1.e4 e5 · 4 in 10 games (3–5) · as players like them do"},
		{Play(&fact.Task{Moves: line[:3], Open: 0.95}).String(), "2.Nf3 · then your book ends"}, {Play(&fact.Task{Moves: line[:3], Counted: true}).String(), "2.Nf3"}, {Play(&fact.Task{Moves: line[:3], Counted: true, Open: 0.6}).String(), "2.Nf3 · most of what comes next is not in your book"},
		{Task(&fact.Task{Lead: fact.LeadPlay, Moves: line[:3], Open: 0.95}).String(), "2.Nf3, then your book ends"}, {Task(&fact.Task{Lead: fact.LeadPlay, Moves: line[:3], Open: 0.7}).String(), "2.Nf3, your book answers 3 in 10 of what comes next"},
		{Task(&gap).String(), "1.e4 e5 2.Nf3 f5: 4 in 10 games (3–5), no answer yet"}, {Task(&fact.Task{Lead: fact.LeadChoose, Moves: line[:3], From: 2, Aim: "draw", About: &option}).String(), "2.Nf3 for a draw: you call it solid"},
		{Expect(&fact.Task{Moves: line[:2], Name: "Open Game"}, line[:1]).String(), "1...e5 · Open Game"}, {parted(line[:2], []string{"e4", "c5", "Nf3"}).String(), "1...e5"}, {Task(&fact.Task{Lead: fact.LeadOr, Moves: line[:2], From: 1, Answer: "Nf3"}).String(), "1...e5: ; you play 2.Nf3"},
		{Task(&fact.Task{Lead: fact.LeadExpect, Unmet: []string{"e4", "e5"}}).String(), "the unknown: no game of theirs met 1.e4 e5; go through your main lines"},
		{Task(&fact.Task{Lead: fact.LeadGoOn, Moves: line[:2], From: 1, About: &fact.Exit{Line: line[:2], Reach: 0.4, Lo: 0.3, Hi: 0.5, Came: 4, Of: 9}}).String(), "from 1...e5, where your book ends: 4 in 10 games (3–5)"},
		{MoreToAnswer(0).String(), ""}, {MoreToAnswer(1).String(), " · 1 more"},
	})
	if got := BranchEnds(&fact.Branch{State: fact.NoAnswer, Next: -1, Best: &fact.Evaluated{Centipawns: 40}}, "black").String(); got != "no answer yet at -0.4" {
		t.Errorf("%q", got)
	}
	if got := Best([]fact.Evaluated{{Moves: []string{"d4"}, Centipawns: 30}, {Moves: []string{"Nc3"}, Centipawns: 20}}, 4, "white"); got != "best 3.d4 (+0.3) or 3.Nc3 (+0.2)" {
		t.Errorf("%q", got)
	}
	habit := fact.Change{Line: []string{"e4"}, Habit: true, Move: "e5", Now: "c5", Former: "e5", NowN: 8, N: 0, Of: 8, FormerN: 20, PastOf: 20, AllOf: 20, Since: pgn.ParseDate("2026.02.??")}
	if got := Change(&habit).String(); got != "against 1.e4, since Feb 2026: 1...c5 in the last 8; before that 1...e5 in all 20" {
		t.Errorf("%q", got)
	}
	if got := Left(&fact.Left{Games: 2, Them: 2, Back: 1, Move: 6.6}).String(); got != "of 2 games, they left in 2; on average at move 7; 1 came back by another move order" {
		t.Errorf("%q", got)
	}
}

// Options say what their position is ordered for and what sets one of its own apart; what a
// situation changed comes first.
func TestOptionsOfTwoPlaces(t *testing.T) {
	of := func(line, move string, reasons ...string) fact.Option {
		return fact.Option{Line: strings.Fields(line), Move: move, Depth: 5, Familiar: 1, Reasons: reasons, Score: fact.Share{Seen: 30}, Style: fact.Style{Of: 1, QueensOff: 1}}
	}
	side := fact.Side{Few: true, Aim: fact.ForWin, Situation: &fact.Situation{Aim: fact.ForWin, Places: 1, First: [][]string{{"e4", "e5", "Nc3"}}},
		Options: []fact.Option{of("e4 e5", "Nf3"), of("e4 e5", "Nc3", fact.ByResults), of("e4 c5", "Nf3"), of("e4 c5", "c3")}}
	const met, style = ": prepared to about move 5; they have met it in 1 game", "; in 1 game: queens off by move 20 in 1, drawn before move 25 in 0, opposite castling in 0"
	want := []string{
		"needing a win puts 2.Nc3 before your main choice", "for a win: after 1.e4 e5, 2.Nf3" + met + style, "or 2.Nc3" + met + style + "; 2.Nc3 is recommended: their results against it are worse than chance and ratings explain (30 games)",
		"for a win: after 1.e4 c5, 2.Nf3" + met + style, "or 2.c3" + met + style + "; results don't separate these: play what you know best",
	}
	if got := Strings(Options(&side)); !slices.Equal(got, want) {
		t.Errorf("got\n  %q\nwant\n  %q", got, want)
	}
	if got := text(Situation(&fact.Situation{Aim: fact.ForDraw, Places: 1})); got != "needing a draw changes nothing: your main choices come first as they are" {
		t.Errorf("%q", got)
	}
}

// What the user can know of unanswered moves, traps and structures at the edges of their words.
func TestGapsTrapsAndStructures(t *testing.T) {
	line := strings.Fields("e4 e5 Nf3 f5")
	u := fact.Unanswered{Line: line, Reach: 0.4, Lo: 0.3, Hi: 0.5, Games: 1, Of: 9, Share: fact.Share{Of: 9, P: 0.4}}
	open := fact.Met{Move: "d4", Games: 2, Score: fact.Score{Unknown: 2}}
	slip := fact.Trap{Kind: fact.OthersSlip, Line: line[:3], Games: 1, Of: 2, Best: &fact.Evaluated{Moves: []string{"d6"}}, Score: fact.Score{Unknown: 1}, Speeds: []string{"blitz"}, Before: 20, After: -200}
	white, black := fact.SideFacts{King: fact.CastledLong, Men: fact.Men{Queens: 0}}, fact.SideFacts{King: fact.CastledShort, Men: fact.Men{Queens: 1}}
	queens := fact.Structure{White: white, Black: black, Open: []string{"c", "d"}}
	may := fact.Structure{White: fact.SideFacts{King: fact.MayCastle, Men: fact.Men{Queens: 1}}, Black: fact.SideFacts{King: fact.CastledShort, Men: fact.Men{Queens: 1}}}
	whole(t, [][2]string{
		{Gap(&u, true, "white").String(), "1 game of theirs came here by another order"}, {Seen(&fact.Unanswered{Share: fact.Share{Of: 3}}).Text, "not seen from them"},
		{Met([]fact.Met{open}, 4).String(), "others played 3.d4 in 2 games (your side made 0)"}, {madeOf(fact.Score{Losses: 60, Wins: 40}).Text, "60 in 100"}, {madeOf(fact.Score{Losses: 60, Wins: 39}).Text, "60"},
		{SetUp(&fact.Unanswered{Line: line, SetUp: []string{"Nc3"}, SetUpPly: 3}).String(), "you usually play Nc3 after 2.Nf3"}, {SetUp(&fact.Unanswered{Line: line, SetUp: []string{"Nc3", "d3"}, SetUpPly: 4}).String(), "your usual set-up after 2...f5: Nc3, d3"},
		{Trap(&slip).String(), "others went wrong in 1 of 2 games here (blitz; for you from +0.2 to -2.0 by the games' comments)"},
		{Structure(&queens, "white").String(), "you are down a queen; open c d; castled on opposite sides"}, {Structure(&may, "white").String(), ""},
		{Odds(fact.Share{P: 0.3, Of: 0}), "not seen; other players 3 in 10"}, {Odds(fact.Share{P: 0.3, Of: 0, Hardly: true}), "not seen; other players 3 in 10"},
		{Often(fact.NewOften(fact.Chance{P: 0.05, Lo: 0, Hi: 0.6}, 1, 90)), "in 1 of 90 games"}, {habit(&fact.Habit{Line: line[:1], Move: "c5", N: 1, Of: 2}).String(), "after 1.e4 you played 1...c5 in 1 of 2 games"},
	})
}

// A test of the past is told from one sheet and one case on; of the shares told enough, the one
// nearest to a half.
func TestPastAtItsEdges(t *testing.T) {
	told := []hindsight.Bin{{P: 0.9, Observed: 0.8, N: 99}, {P: 0.45, Observed: 0.4, N: past.Enough}, {P: 0.52, Observed: 0.6, N: past.Enough - 1}, {P: 0.2, Observed: 0.1, N: 99}}
	whole(t, [][2]string{
		{partingWords(&past.Parting{N: 9, Right: 4, Told: told}, "first choice"), "first choice: likeliest move right in 4 of 9; said 4.5 in 10, came 4.0"}, {partingWords(&past.Parting{N: 9, Right: 4, Told: told[2:3]}, "x"), "x: likeliest move right in 4 of 9"},
		{sheetsOf(&past.Result{}), "too few games to make one and see what came after it"}, {sheetsOf(&past.Result{Sheets: 1}), "1 by their rivals' usual moves; no later game came into it"},
		{sheetsOf(&past.Result{Sheets: 3, Games: 1, Decided: 1, Given: true}), "3 by your repertoire, 1 game, 1 to a line's end"}, {heldWords(&past.Changes{Told: 2, Judged: 1}), "of 1 change told 0 went on so"}, {heldWords(&past.Changes{Told: 2}), "2 changes told, with too few games after"},
	})
}
