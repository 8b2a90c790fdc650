package pdf

import (
	"strings"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
)

// The Reports of the tests. Names, events and games are invented; the moves
// are a well-known opening, so that the boards can be read by eye.

func san(s string) []string { return strings.Fields(s) }

func share(ten, lo, hi, seen, of int) fact.Share {
	return fact.Share{
		P: float64(ten) / 10, Lo: float64(lo) / 10, Hi: float64(hi) / 10,
		Seen: seen, Of: of, Ten: ten, TenLo: lo, TenHi: hi,
	}
}

func oftenOf(p float64, lo, hi int) *fact.Often {
	return &fact.Often{Chance: fact.Chance{P: p, Lo: float64(lo) / 10, Hi: float64(hi) / 10}, TenLo: lo, TenHi: hi}
}

// richReport is a page with something in every section: one side.
func richReport() *fact.Report {
	r := &fact.Report{
		Version: fact.ReportVersion,
		Opponent: fact.Opponent{
			Name: "Ondřej Dvořák-Ağaoğlu", Names: []string{"Dvořák-Ağaoğlu, Ondřej", "river_knight77"},
			Unsure:  []string{"river_knight77"},
			Ratings: []fact.Rating{{List: "over the board", Value: 2043, Date: pgn.ParseDate("2026-11")}, {List: "online-a", Value: 2187, Date: pgn.ParseDate("2026-10-28")}},
		},
		Heading: fact.Heading{Me: "Łukasz Þórsson", Event: "Winter Team League, Second Division", Round: "4"},
		Basis: fact.Basis{
			Games: 244, Slow: 34, Fast: 210, Less: 210, Class: "classical", LastSlow: pgn.ParseDate("2026-11-02"), LastFast: pgn.ParseDate("2026-10-30"), AsOf: pgn.ParseDate("2026-11-05"),
			Sources:  []fact.SourceCount{{Name: "otb-games.pgn", Games: 34, Read: 1204}, {Name: "online-a.pgn", Games: 221, Read: 221}},
			LeftOut:  []fact.LeftOut{{Reason: "correspondence", Games: 6}, {Reason: "the same game twice", Games: 5}},
			Meetings: []fact.GameRow{{Score: "½"}, {Score: "0"}},
			Warnings: 3, Unread: []fact.Unread{{File: "online-b.pgn", Partly: true}},
		},
		About: []fact.About{
			{Kind: fact.PlainRecord, N: 128, Color: "black", Score: fact.Score{Wins: 50, Draws: 37, Losses: 41}},
			{Kind: fact.AtOnce, N: 21, Above: true, Move: 12, UsualMove: 6},
			{Kind: fact.AgainstLower, N: 16, Score: fact.Score{Draws: 9, Losses: 7}, Expected: 6.2, Limit: 200},
		},
	}
	r.Sides = []fact.Side{whiteSide()}
	return r
}

const stem = "e4 c5 Nf3 d6 d4 cxd4 Nxd4 Nf6 Nc3"

func whiteSide() fact.Side {
	s := fact.Side{
		MyColor: "white", Games: 128, Slow: 17, Fast: 111, Last: pgn.ParseDate("2026.11.02"),
		Score: fact.Score{Wins: 58, Draws: 21, Losses: 49}, MaxPly: 40, Threshold: 0.01, Other: 0.04,
		Book: fact.BookFacts{Files: []string{"white.pgn"}, Chapters: 6, Positions: 212, Notes: 40},
		Tonight: []fact.Task{
			{Kind: "expect", Lead: "expect", Moves: san(stem + " a6"), Often: oftenOf(0.44, 3, 6), Name: "Sicilian Defence"},
			{Kind: "expect", Lead: "or", Moves: san(stem + " Nc6"), Often: oftenOf(0.19, 1, 4), Answer: "Bg5"},
			{Kind: "play", Lead: "play", Moves: san(stem + " a6 Be3"), Depth: 8.4, Note: "Nd5 is the idea; keep the dark bishop", File: "book/white.pgn", Line: 40},
			{Kind: "look", Lead: "answer", Moves: san(stem + " a6 Be3 h5"), From: 11, About: &fact.Unanswered{Reach: 0.085}, File: "book/white.pgn", Line: 88},
			{Kind: "look", Lead: "answer", Moves: san(stem + " Nc6 Bg5 Bd7"), From: 11, About: &fact.Unanswered{Reach: 0.03}, File: "book/white.pgn", Line: 131},
		},
		Partings: whitePartings(),
		Coverage: []fact.Coverage{
			{Move: 5, P: 0.99, Of100: 99}, {Move: 6, P: 0.93, Of100: 93}, {Move: 7, P: 0.84, Of100: 84}, {Move: 8, P: 0.71, Of100: 71}, {Move: 9, P: 0.46, Of100: 46},
		},
		Options: []fact.Option{
			{Line: san(stem + " a6"), Move: "Be3", Main: true, Reach: 0.48, Covered: 0.8, CoveredLo: 0.8, CoveredHi: 0.8, Depth: 10, Familiar: 41, Score: fact.Share{P: 0.52, Lo: 0.48, Hi: 0.56}},
			{Line: san(stem + " a6"), Move: "Bg5", Reach: 0.48, Covered: 0.6, CoveredLo: 0.6, CoveredHi: 0.6, Depth: 8, Familiar: 9, Score: fact.Share{P: 0.51, Lo: 0.46, Hi: 0.55}},
		},
		Surprise: fact.Surprise{
			Note: "Against the early ...h5 stay flexible: Bg5, Qd2, castle long only when the h-pawn is fixed.", NoteLine: san(stem + " a6 Be3 e5"),
			SetUp: san("Nf3 d4 Nc3 Be3 Qd2 f3"), Returns: []fact.WayBack{{Line: san("e4 c5 Nf3 a6"), Back: fact.Back{Chance: fact.Chance{P: 0.8, Lo: 0.7, Hi: 0.9}, Into: san("c4 e6"), Answer: "d4", File: "book/white.pgn", FileLine: 17}}},
		},
		Left: fact.Left{
			Games: 128, Them: 71, You: 20, Book: 37, Move: 7.4,
		},
		KnowOfYou: &fact.Shown{
			Games: 61, Choices: 9, Known: 4,
			Habits: []fact.Habit{{Move: "e4", N: 58, Of: 61, Last: pgn.ParseDate("2026.05.03")}},
		},
		Mistakes: []fact.Mistake{
			{Line: san(stem + " a6 Be3 Ng4 Bg5 Qb6"), Games: 2, Reached: 3, Last: pgn.ParseDate("2025.05.10"), Note: "lost twice to 8.Bb5+; may have repaired it"},
		},
	}
	s.Unanswered = []fact.Unanswered{
		{
			Line: san(stem + " a6 Be3 h5"), Share: share(2, 1, 4, 7, 41), Reach: 0.085, Last: pgn.ParseDate("2026.10.03"),
			Score:  fact.Score{Wins: 4, Draws: 1, Losses: 2},
			Others: []fact.Met{{Move: "Bg5", Games: 4}, {Move: "f3", Games: 2}},
		},
		{
			Line: san(stem + " Nc6 Bg5 Bd7"), Share: share(1, 0, 3, 2, 24), Reach: 0.031, Last: pgn.ParseDate("2026.08.21"),
			Note: "Keep the tension, see chapter 4.",
		},
	}
	s.Boards = whiteBoards()
	for _, f := range s.Partings {
		for _, b := range f.Branches {
			if b.Next < 0 {
				line := append(append([]string{}, f.Stem...), b.Move)
				s.Exits = append(s.Exits, fact.Exit{Kind: b.EndsWith, Reach: b.Reach, Line: line})
			}
		}
	}
	return s
}

func whitePartings() []fact.Parting {
	return []fact.Parting{
		{
			Stem: san(stem), Reach: 0.81, Visits: 104, From: -1, ECO: "B50", Name: "Sicilian Defence",
			Branches: []fact.Branch{
				{Move: "a6", Share: share(5, 4, 7, 54, 104), Reach: 0.44, State: fact.Answered, Answer: "Be3", Next: 1, Last: pgn.ParseDate("2026.11.02")},
				{Move: "Nc6", Share: share(2, 1, 4, 24, 104), Reach: 0.19, State: fact.Answered, Answer: "Bg5", Next: 2, Last: pgn.ParseDate("2026.09.12"), Note: "Bishop first, then Qd2 and long castling."},
				{Move: "g6", Share: share(2, 0, 3, 17, 104), Reach: 0.12, State: fact.Answered, Answer: "Be3", Then: san("Bg7 f3 O-O Qd2"), Next: -1, EndsWith: fact.BookEnds, Last: pgn.ParseDate("2025.12.06"), Note: "h4-h5 only after they castle."},
				{Move: "e6", Share: share(1, 0, 2, 9, 104), Reach: 0.06, State: fact.Answered, Answer: "g4", Then: san("h6 h4"), Next: -1, EndsWith: fact.TheyLeave, Last: pgn.ParseDate("2024.03.02")},
			},
			Rest: share(0, 0, 1, 0, 104),
		},
		{
			Stem: san(stem + " a6 Be3"), Reach: 0.44, Visits: 41, From: 0, ECO: "B90", Name: "Sicilian Defence, Najdorf",
			Branches: []fact.Branch{
				{Move: "e5", Share: share(5, 3, 7, 20, 41), Reach: 0.22, State: fact.Answered, Answer: "Nb3", Then: san("Be6 f3 Be7 Qd2 O-O O-O-O"), Next: -1, EndsWith: fact.BookEnds, Last: pgn.ParseDate("2026.11.02"), Note: "Nd5 is the idea; keep the dark bishop. If ...a5 then a4."},
				{Move: "e6", Share: share(2, 1, 4, 9, 41), Reach: 0.1, State: fact.Answered, Answer: "f3", Then: san("b5 Qd2 Nbd7 g4"), Next: -1, EndsWith: fact.BookEnds, Last: pgn.ParseDate("2026.07.14")},
				{Move: "h5", Share: share(2, 1, 4, 7, 41), Reach: 0.085, State: fact.NoAnswer, Next: -1, EndsWith: fact.TheyLeave, Last: pgn.ParseDate("2026.10.03")},
				{Move: "Ng4", Share: share(1, 0, 3, 5, 41), Reach: 0.04, State: fact.Answered, Answer: "Bg5", Then: san("h6 Bh4"), Next: -1, EndsWith: fact.BookEnds, Last: pgn.ParseDate("2025.05.10"), Note: "Lost here twice (blitz)."},
			},
			Rest: share(0, 0, 1, 0, 41),
		},
		{
			Stem: san(stem + " Nc6 Bg5"), Reach: 0.19, Visits: 24, From: 0, ECO: "B60", Name: "Sicilian Defence, Richter-Rauzer",
			Branches: []fact.Branch{
				{Move: "e6", Share: share(7, 5, 9, 17, 24), Reach: 0.13, State: fact.Answered, Answer: "Qd2", Then: san("a6 O-O-O Bd7 f4"), Next: -1, EndsWith: fact.BookEnds, Last: pgn.ParseDate("2026.09.12")},
				{Move: "Bd7", Share: share(1, 0, 3, 2, 24), Reach: 0.03, State: fact.NoAnswer, Next: -1, EndsWith: fact.TheyLeave, Last: pgn.ParseDate("2026.08.21")},
				{Move: "g6", Share: share(1, 0, 2, 0, 24), Reach: 0.015, State: fact.Returns, Answer: "Bxf6", Next: -1, EndsWith: fact.BookEnds},
			},
			Rest: share(1, 0, 2, 5, 24),
		},
	}
}

func whiteBoards() []fact.Diagram {
	return []fact.Diagram{
		{Line: san(stem + " a6 Be3 e5 Nb3 Be7 f3 Be6 Qd2 O-O"), Why: fact.BoardBookEnds, EPD: "rn1q1rk1/1p2bppp/p2pbn2/4p3/4P3/1NN1BP2/PPPQ2PP/R3KB1R w KQ -", View: "white", Origin: "e8", Arrow: "e1c1", Reach: 0.22},
		{Line: san(stem + " a6 Be3 h5"), Why: fact.BoardNoAnswer, EPD: "rnbqkb1r/1p2ppp1/p2p1n2/7p/3NP3/2N1B3/PPP2PPP/R2QKB1R w KQkq -", View: "white", Origin: "h7", Reach: 0.085},
		{Line: san(stem + " Nc6 Bg5 e6 Qd2 a6 O-O-O Bd7"), Why: fact.BoardBookEnds, EPD: "r2qkb1r/1p1b1ppp/p1nppn2/6B1/3NP3/2N5/PPPQ1PPP/2KR1B1R w kq -", View: "white", Origin: "c8", Arrow: "f2f4", Reach: 0.13},
		{Line: san(stem + " Nc6 Bg5 Bd7"), Why: fact.BoardNoAnswer, EPD: "r2qkb1r/pp1bpppp/2np1n2/6B1/3NP3/2N5/PPP2PPP/R2QKB1R w KQkq -", View: "white", Origin: "c8", Reach: 0.03},
	}
}

// blackSide is the other colour: a smaller book, few games behind it.
func blackSide() fact.Side {
	s := fact.Side{
		MyColor: "black", Games: 116, Slow: 17, Fast: 99, Last: pgn.ParseDate("2026.10.25"),
		Score: fact.Score{Wins: 51, Draws: 24, Losses: 41}, Other: 0.06,
		Tonight: []fact.Task{
			{Kind: "expect", Lead: "expect", Moves: san("d4 Nf6 Bf4"), Often: oftenOf(0.41, 2, 6)},
			{Kind: "look", Lead: "answer", Moves: san("d4 Nf6 Nc3"), From: 2, About: &fact.Unanswered{Reach: 0.19}},
		},
		Surprise:  fact.Surprise{SetUp: san("Nf6 g6 Bg7 O-O d6")},
		KnowOfYou: &fact.Shown{Games: 31, Choices: 12, Known: 7},
	}
	s.Partings = []fact.Parting{
		{
			Stem: nil, Reach: 1, Visits: 116, From: -1,
			Branches: []fact.Branch{
				{Move: "d4", Share: share(7, 6, 9, 83, 116), Reach: 0.7, State: fact.Answered, Answer: "Nf6", Next: 1, Last: pgn.ParseDate("2026.10.25")},
				{Move: "Nf3", Share: share(2, 1, 3, 20, 116), Reach: 0.17, State: fact.Answered, Answer: "g6", Then: san("d4 Nf6"), Next: -1, EndsWith: fact.BookEnds, Last: pgn.ParseDate("2026.04.11")},
				{Move: "b3", Share: share(1, 0, 2, 11, 116), Reach: 0.1, State: fact.NoAnswer, Next: -1, EndsWith: fact.TheyLeave, Last: pgn.ParseDate("2026.02.01")},
			},
		},
		{
			Stem: san("d4 Nf6"), Reach: 0.7, Visits: 83, From: 0, ECO: "A45", Name: "Queen's Pawn Game",
			Branches: []fact.Branch{
				{Move: "Bf4", Share: share(6, 4, 8, 49, 83), Reach: 0.41, State: fact.Answered, Answer: "g6", Then: san("e3 Bg7 Nf3 d6"), Next: -1, EndsWith: fact.BookEnds, Last: pgn.ParseDate("2026.10.25"), Note: "...c5 and ...Qb6 before they castle."},
				{Move: "Nc3", Share: share(3, 1, 5, 22, 83), Reach: 0.19, State: fact.NoAnswer, Next: -1, EndsWith: fact.TheyLeave, Last: pgn.ParseDate("2026.10.11")},
				{Move: "Nf3", Share: share(1, 0, 2, 9, 83), Reach: 0.08, State: fact.Returns, Answer: "g6", Next: -1, EndsWith: fact.BookEnds, Last: pgn.ParseDate("2025.09.19")},
			},
		},
	}
	s.Boards = []fact.Diagram{
		{Line: san("d4 Nf6 Nc3"), Why: fact.BoardNoAnswer, EPD: "rnbqkb1r/pppppppp/5n2/8/3P4/2N5/PPP1PPPP/R1BQKBNR b KQkq -", View: "black", Origin: "b1", Reach: 0.19},
		{Line: san("d4 Nf6 Bf4 g6 e3 Bg7 Nf3"), Why: fact.BoardBookEnds, EPD: "rnbqk2r/ppppppbp/5np1/8/3P1B2/4PN2/PPP2PPP/RN1QKB1R b KQkq -", View: "black", Origin: "g1", Arrow: "d7d6", Reach: 0.41},
	}
	s.Unanswered = []fact.Unanswered{
		{Line: san("d4 Nf6 Nc3"), Share: share(3, 1, 5, 22, 83), Reach: 0.19, Last: pgn.ParseDate("2026.10.11")},
		{Line: san("b3"), Share: share(1, 0, 2, 11, 116), Reach: 0.1, Last: pgn.ParseDate("2026.02.01")},
	}
	return s
}

// bothReport has two sides.
func bothReport() *fact.Report {
	r := richReport()
	r.Sides = []fact.Side{whiteSide(), blackSide()}
	return r
}

// fewReport lists games instead of counting them.
func fewReport() *fact.Report {
	r := richReport()
	s := whiteSide()
	s.Few, s.Games, s.Partings, s.Exits, s.Unanswered = true, 5, nil, nil, nil
	s.Score = fact.Score{Wins: 2, Draws: 1, Losses: 2}
	for i, yours := range []string{"0", "1", "½", "0", "1"} {
		s.FewGames = append(s.FewGames, fact.PlayedGame{
			Date: pgn.Date{Year: 2026, Month: 9 - i, Day: 10 + i}, Rival: "Novák, Jiří", RivalElo: 1987 + 23*i, Yours: yours, ECO: "B90", Opening: "Sicilian Defence, Najdorf", Speed: "classical",
			Moves: san(stem + " a6 Be3 e5 Nb3 Be6 f3 Be7"), Plies: 60, Telling: 12, LeftBy: "them", LeftPly: 11,
		})
	}
	r.Sides = []fact.Side{s}
	return r
}

// gamesReport lists n games.
func gamesReport(n int) *fact.Report {
	r := fewReport()
	s := &r.Sides[0]
	played := s.FewGames[0]
	s.Games, s.FewGames = n, nil
	for i := range n {
		played.Date, played.RivalElo, played.Yours = pgn.Date{Year: 2026, Month: 12 - i, Day: i + 1}, 1900+17*i, []string{"1", "½", "0"}[i%3]
		s.FewGames = append(s.FewGames, played)
	}
	return r
}

// longReport has names that are long, from all over Europe, and in letters that
// the font lacks.
func longReport() *fact.Report {
	r := richReport()
	r.Opponent.Name = "Guðmundsdóttir-Wojciechowska-Nagyszentmiklósi, Þórhildur Świętosława Őrsi"
	r.Opponent.Names = []string{
		"Ďuriš-Kľačanská, Ľubica", "Şükrüoğlu, İpek", "Ħaż-Żebbuġ, Ġorġ", "Ķēniņš-Šķēle, Ģirts", "Ųžtupaitė, Živilė",
		"Țepeș-Ștefănescu, Ană", "Çelà-Ëndërr, Ç.", "Ô Súilleabháin-Mac Giolla Phádraig, Caoimhín", "Nuñez y Peña, Íñigo",
		"Παπαδημητρακοπούλου, Ευθυμία", "Щербаківський-Ґалаґан, Їжак", "Ђорђевић-Љубојевић, Њеґош", "Աբրահամյան, Գայանե",
		"ქართველიშვილი, ნინო", "日本 太郎", "मराठे, सई", "\U0001D50A\U0001F642", "e\u0301\u0323o\u0308\u0304 \u202eabc\u202c",
	}
	r.Opponent.Unsure = nil
	r.Heading = fact.Heading{
		Event: "Põhja-Eesti ja Łódź-Žďár nad Sázavou Mälestusturniir, Őszi Nyílt Bajnokság, A-csoport", Round: "11 of 13",
		Board: "table 104", Date: pgn.ParseDate("2026-11-05"), Clock: "40/6000:20/3000:900+30",
	}
	r.Sides[0].Partings[0].Name = "Queen's Pawn Game: Nimzowitsch-Larsen, Double Fianchetto Deferred with Reversed Colours"
	return r
}

// oneLineReport has a single line to expect and nothing to say about it.
func oneLineReport() *fact.Report {
	return &fact.Report{
		Opponent: fact.Opponent{Name: "Ægir Þórsson"},
		Basis:    fact.Basis{Games: 14, Slow: 14, Last: pgn.ParseDate("2026-11-02"), AsOf: pgn.ParseDate("2026-11-05")},
		Sides: []fact.Side{{
			MyColor: "white", Games: 14,
			Tonight: []fact.Task{{Kind: "expect", Lead: "expect", Moves: san("e4 e5 Nf3 Nc6 Bb5 a6 Ba4 Nf6"), Often: oftenOf(0.99, 9, 10)}},
			Exits:   []fact.Exit{{Kind: fact.BookEnds, Reach: 0.99, Line: san("e4 e5 Nf3 Nc6 Bb5 a6 Ba4 Nf6 O-O"), Games: 14}},
		}},
	}
}

// emptyReport is what an opponent without a game gives.
func emptyReport() *fact.Report {
	return &fact.Report{Sides: []fact.Side{{MyColor: "black"}}}
}

// manyReport has n lines to expect: partings of six branches, of which the first
// two lead on, as in a tree that spreads.
func manyReport(n int) *fact.Report {
	r := richReport()
	s := whiteSide()
	s.Partings, s.Exits = nil, nil
	moves := []string{"a6", "Nc6", "g6", "e6", "Nbd7", "h5"}
	shares := []float64{0.4, 0.25, 0.15, 0.1, 0.06, 0.04}
	type open struct {
		line   []string
		reach  float64
		parent at
	}
	queue := []open{{line: san(stem), reach: 0.9, parent: at{-1, -1}}}
	for lines := 0; len(queue) > 0 && lines < n; queue = queue[1:] {
		o := queue[0]
		i := len(s.Partings)
		f := fact.Parting{Stem: o.line, Reach: o.reach, Visits: 400 / (i + 1), From: o.parent.parting}
		if o.parent.parting >= 0 {
			s.Partings[o.parent.parting].Branches[o.parent.branch].Next = i
			lines--
		}
		for j := 0; j < len(moves) && lines < n; j++ {
			reach := o.reach * shares[j]
			f.Branches = append(f.Branches, fact.Branch{
				Move: moves[j], Reach: reach,
				Share: fact.Share{P: shares[j], Seen: 9 - j, Of: 30, Ten: int(shares[j]*10 + 0.5), TenLo: 0, TenHi: 6 - j},
				State: fact.Answered, Answer: "Be3", Next: -1, EndsWith: fact.BookEnds, Last: pgn.ParseDate("2026.03.01"),
				Note: "A note of some length that says what to do here and why it should be done at once.",
			})
			lines++
			if j < 2 {
				line := append(o.line[:len(o.line):len(o.line)], moves[j], "Qd2")
				queue = append(queue, open{line, reach, at{i, j}})
			}
		}
		s.Partings = append(s.Partings, f)
	}
	for _, f := range s.Partings {
		for _, b := range f.Branches {
			if b.Next < 0 {
				line := append(f.Stem[:len(f.Stem):len(f.Stem)], b.Move)
				s.Exits = append(s.Exits, fact.Exit{Kind: b.EndsWith, Reach: b.Reach, Line: line})
			}
		}
	}
	r.Sides = []fact.Side{s}
	return r
}
