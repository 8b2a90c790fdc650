package words

import (
	"testing"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
)

func check(t *testing.T, said map[string]string) {
	t.Helper()
	for want, got := range said {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Why a line ends: your turn without an answer is another thing than a book that stops
// before theirs.
func TestExit(t *testing.T) {
	check(t, map[string]string{
		"your book ends":               Exit(&fact.Exit{Kind: fact.BookEnds}),
		"your book has no answer here": Exit(&fact.Exit{Kind: fact.BookEnds, YourMove: true}),
		"still in your book":           Exit(&fact.Exit{Kind: fact.LimitInBook, YourMove: true}),
		"the game is over":             Exit(&fact.Exit{Kind: fact.GameOver}),
	})
	for state, want := range map[string]string{fact.NoAnswer: "no answer yet", fact.Returns: "back in book", fact.BookIsOver: "book had ended", fact.Answered: ""} {
		if got := BranchEnds(&fact.Branch{State: state, Next: 1}, "white").String(); got != want {
			t.Errorf("%s: %q, want %q", state, got, want)
		}
	}
	for kind, want := range map[string]string{fact.TheyLeave: "they leave your book", fact.BookEnds: "book ends", fact.LimitInBook: "still in book", fact.GameOver: "game over"} {
		if got := BranchEnds(&fact.Branch{State: fact.Answered, EndsWith: kind, Next: -1}, "white").String(); got != want {
			t.Errorf("%s: %q, want %q", kind, got, want)
		}
	}
}

// With your White they have Black, and what is counted is theirs with Black; the points are
// your side's.
func TestColours(t *testing.T) {
	white := &fact.Side{MyColor: "white", Games: 12, Slow: 7, Score: fact.Score{Wins: 5, Draws: 3, Losses: 2, Unknown: 2}, Last: pgn.Date{Year: 2026, Month: 3}}
	black := &fact.Side{MyColor: "black", Games: 1, Score: fact.Score{Unknown: 1}}
	check(t, map[string]string{
		"with Black 12 games, 7 slow, last Mar 2026":           Played(white),
		"with White 1 game":                                    Played(black),
		"no game of theirs with Black was found":               NoGames(white),
		"all their games with White":                           AllGames(black),
		"12 games, your side 3½ of 10":                         YourRecord(white).String(),
		"1 game":                                               YourRecord(black).String(),
		"with Black 12 games, your side made 3½ of 10":         WithColour(white).String(),
		"with White 1 game ":                                   WithColour(black).String() + " ",
		"1 with Black, 9 Jan 2026:":                            Meeting(&fact.GameRow{Theirs: "white", Score: "0", Date: pgn.Date{Year: 2026, Month: 1, Day: 9}}).String(),
		"½ with White:":                                        Meeting(&fact.GameRow{Theirs: "black", Score: "½"}).String(),
		"9 Jan 2026   1 with Black":                            MeetingColumns(&fact.GameRow{Theirs: "white", Score: "0", Date: pgn.Date{Year: 2026, Month: 1, Day: 9}}),
		"             0 with White":                            MeetingColumns(&fact.GameRow{Theirs: "black", Score: "1"}),
		"with White they opened 1.e4 in 4 of 6 games":          Hint(&fact.Hint{Moves: []fact.Played{{Move: "e4", Games: 4}}, Games: 6}).String(),
		"with Black they met 1.e4 with 1...c5 in 3 of 5 games": Hint(&fact.Hint{Line: []string{"e4"}, Moves: []fact.Played{{Move: "c5", Games: 3}}, Games: 5}).String(),
	})
}

// A game of theirs: what your side made of it, and where it left your book.
func TestPlayedGame(t *testing.T) {
	moves := []string{"e4", "c5", "Nf3", "a6", "c3"}
	left := func(by, answer string, ply int) string {
		return PlayedLeft(&fact.PlayedGame{Moves: moves, LeftBy: by, LeftPly: ply, Answer: answer}).String()
	}
	check(t, map[string]string{
		"½ 2 Nov 2026, Birch, Ada 1740:": PlayedHead(&fact.PlayedGame{Yours: "½", Date: pgn.Date{Year: 2026, Month: 11, Day: 2}, Rival: "Birch, Ada", RivalElo: 1740}).String(),
		"0 Birch, Ada:":                  PlayedHead(&fact.PlayedGame{Yours: "0", Rival: "Birch, Ada"}).String(),
		"your book ends before 2...a6":   left(fact.BookOver, "", 3),
		"2...a6 is not in your book":     left(fact.LeftByThem, "", 3),
		"your book has 3.d4":             left(fact.LeftByYou, "d4", 4),
		"":                               left(fact.GameEnded, "d4", 4),
		" club 17, Nov 2026; 12; old 3":  PlayThrough(&fact.ModelGames{Line: moves[:3], Games: []fact.ModelGame{modelGame("a/club.pgn", 17, pgn.Date{Year: 2026, Month: 11, Day: 2}), modelGame("a/club.pgn", 12, pgn.Date{}), modelGame("old.pgn", 3, pgn.Date{})}}, true).String(),
		" club 1, Nov 2026, Elm; 2, Birch": PlayThrough(&fact.ModelGames{Line: moves[:3], Games: []fact.ModelGame{
			{PlayedGame: fact.PlayedGame{File: "club.pgn", Game: 1, Rival: "Elm", Date: pgn.Date{Year: 2026, Month: 11}}},
			{PlayedGame: fact.PlayedGame{File: "club.pgn", Game: 2, Rival: "Birch, Ada"}},
		}}, true).String(),
		" club 3, Nov 2026": PlayThrough(&fact.ModelGames{Line: moves[:3], Games: []fact.ModelGame{
			{PlayedGame: fact.PlayedGame{File: "club.pgn", Game: 3, Rival: "Elm", Date: pgn.Date{Year: 2026, Month: 11}}}}}, false).String(),
		" club 17; club 12": PlayThrough(&fact.ModelGames{Line: moves[:3], Games: []fact.ModelGame{modelGame("a/club.pgn", 17, pgn.Date{}), modelGame("b/club.pgn", 12, pgn.Date{})}}, true).String(),
		"1:":                PlayedHead(&fact.PlayedGame{Yours: "1", Rival: "?"}).String(),
		"½ 2026 1900:":      PlayedHead(&fact.PlayedGame{Yours: "½", RivalElo: 1900, Date: pgn.Date{Year: 2026}}).String(),
		"½ 2026, Elm 1900:": PlayedHead(&fact.PlayedGame{Yours: "½", Rival: "Elm", RivalElo: 1900, Date: pgn.Date{Year: 2026}}).String(),
		"1...c5: 0":         PlayedTo(&fact.PlayedGame{Yours: "0", Moves: moves[:2], Plies: 2}).String(),
		" club 18":          PlayThrough(&fact.ModelGames{Line: moves[:3], Games: []fact.ModelGame{modelGame("club.pgn", 18, pgn.Date{})}}, true).String(),
	})
}

// A clock as players say it; what is more than minutes and a gain a move stays as it is written.
func TestClock(t *testing.T) {
	for text, want := range map[string]string{
		"5400+30": "90 min + 30 s", "900+10": "15 min + 10 s", "3600": "60 min", "300+0": "5 min", "60+1": "1 min + 1 s",
		"": "", "rapid": "rapid", "45+1": "45 s + 1 s", "90+30": "90 s + 30 s", "90": "90 s", "40/7200:3600": "40/7200:3600", "90m+30": "90m+30",
	} {
		if got := Clock(text); got != want {
			t.Errorf("%q is told as %q, want %q", text, got, want)
		}
	}
}

// What is left out is told from one on.
func TestLeftOut(t *testing.T) {
	check(t, map[string]string{
		" · 1 more":       MoreToAnswer(1).String(),
		"":                MoreToAnswer(0).String(),
		"boards":          Lost(Boards, 0, 0, 0),
		"boards (1 more)": Lost(Boards, 1, 0, 0),
		"no answer yet (2 more, together 1 in 20 games)":                                 Lost(NoAnswer, 2, 0.05, 0),
		"1 move (lines together 1 in 10 games)":                                          Lost(MoreLines, 1, 0.1, 0),
		"about them (3 details)":                                                         Lost(AboutThem, 0, 0.5, 3),
		"1 more line, 1 in 20 games, left out":                                           LinesLeft(1, 0.05),
		"1,200 more lines, together 1 in 10 games, left out":                             LinesLeft(1200, 0.1),
		"not counted, but maybe theirs: A (1 game), B (2 games), C (3 games) and 1 more": Maybe([]fact.Maybe{{Name: "A", Games: 1}, {Name: "B", Games: 2}, {Name: "C", Games: 3}, {Name: "D", Games: 4}}, 3).String(),
		"1 problem met while reading the games":                                          Footnotes(&fact.Report{Basis: fact.Basis{Warnings: 1}})[1].String(),
	})
}

// Whether all of the peers' games are earlier ones, some, or none.
func TestPeers(t *testing.T) {
	check(t, map[string]string{
		"beside them 40 games of peers rated 1600 to 1899, not known to be fast, all dated before the game": Peers(&fact.PeersUsed{Games: 40, Before: 40, Speed: "slow", MinRating: 1600, MaxRating: 1899}),
		"beside them 40 games of peers rated under 1400, 39 dated before the game":                          Peers(&fact.PeersUsed{Games: 40, Before: 39, MinRating: 1, MaxRating: 1399}),
		"beside them 1 game of peers of any rating, none dated before the game: not used":                   Peers(&fact.PeersUsed{Games: 1}),
	})
}

// Tens are rounded, not cut or raised, and hold the share between their ends.
func TestTens(t *testing.T) {
	check(t, map[string]string{
		"3 in 10 (2–5)":  Tens(fact.Chance{P: 0.34, Lo: 0.22, Hi: 0.48}),
		"4 in 10 (2–5) ": Tens(fact.Chance{P: 0.36, Lo: 0.22, Hi: 0.48}) + " ",
		"8 in 10":        Tens(fact.Chance{P: 0.81, Lo: 0.78, Hi: 0.84}),
		"hardly known":   Tens(fact.Chance{P: 0.5, Lo: 0.1, Hi: 0.9}),
	})
}

func modelGame(file string, number int, date pgn.Date) fact.ModelGame {
	return fact.ModelGame{PlayedGame: fact.PlayedGame{File: file, Game: number, Date: date}}
}
