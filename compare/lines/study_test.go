package lines

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// evening is a Report of a side of White's with all that a study tells, and its book.
func evening(t *testing.T) (*fact.Report, []*book.Book) {
	t.Helper()
	best := &fact.Evaluated{Moves: strings.Fields("Nxe5 Qf6"), Centipawns: 110, Depth: 18}
	side := fact.Side{
		MyColor: "white", Aim: "black", Games: 20,
		Exits: []fact.Exit{
			{Kind: fact.TheyLeave, Line: strings.Fields("e4 e5 Nf3 f5"), Reach: 0.4, Lo: 0.3, Hi: 0.5, Came: 8, Of: 20, ECO: "C40", Name: "Their Gambit", EPD: "epd1"},
			{Kind: fact.TheyLeave, Line: strings.Fields("e4 e5 Nf3"), Reach: 0.2, Lo: 0.1, Hi: 0.3, Unseen: true, EPD: "epd2"},
			{Kind: fact.BookEnds, Line: strings.Fields("e4 c5 c3"), Reach: 0.25, Lo: 0.2, Hi: 0.3, Came: 5, Of: 20, EPD: "epd3", Best: &fact.Evaluated{Moves: strings.Fields("d5"), Centipawns: -20, Depth: 17}},
			{Kind: fact.TheyLeave, Unseen: true, Reach: 0.05, EPD: "epd4"},
			{Kind: fact.TheyLeave, Line: strings.Fields("e4 e6"), Reach: 0.1, Lo: 0.05, Hi: 0.2, Unseen: true, EPD: "epd5"}, // no other line goes on from it
		},
		Unanswered: []fact.Unanswered{{
			Line: strings.Fields("e4 e5 Nf3 f5"), Reach: 0.4, Apart: true, Best: []fact.Evaluated{*best, {Moves: strings.Fields("exf5"), Centipawns: 40}},
			Others: []fact.Met{
				{Move: "Nxe5", Games: 7, Score: fact.Score{Wins: 1, Draws: 2, Losses: 4}, Expected: 2.5, Then: []fact.GoesOn{
					{Move: "Qf6", Games: 5, Of: 7, Score: fact.Score{Draws: 2, Losses: 3}, Expected: 2.5}, {Move: "d4", Games: 3, Of: 5, Score: fact.Score{Losses: 3}, Expected: 1.5},
				}},
				{Move: "d4", Games: 1, Score: fact.Score{Wins: 1}, Expected: 0.5}, {Move: "Bc4", Games: 1, Score: fact.Score{Losses: 1}, Expected: 0.5},
			},
		}},
		Again: []fact.Again{{Line: strings.Fields("e4 c5"), Played: fact.Evaluated{Moves: strings.Fields("c3 d5"), Centipawns: -30}, Best: fact.Evaluated{Moves: strings.Fields("Nf3 d6"), Centipawns: 60}, Loss: 90}},
		Traps: []fact.Trap{
			{Kind: fact.TheirSlip, Line: strings.Fields("e4 e5 Nf3 f5"), Games: 3, Of: 5, Speeds: []string{"blitz"}, Before: -20, After: -110, Best: best, Engine: true, Score: fact.Score{Losses: 3}},
			{Kind: fact.TheirSlip, Line: strings.Fields("e4 c5 c3 d6"), Games: 3, Of: 5, Best: best},
		},
		ModelGames: []fact.ModelGames{
			{Games: []fact.ModelGame{{PlayedGame: fact.PlayedGame{
				Date: pgn.ParseDate("2026.03.05"), Rival: "Elm, F", RivalElo: 1900, Elo: 2010, Event: "Open", Site: "Town", Round: "3", Result: "0-1", Yours: "0",
				ECO: "C40", Opening: "Their Gambit", Moves: strings.Fields("e4 e5 Nf3 f5 d4"), LeftBy: fact.LeftByThem, LeftPly: 3, File: "dir/games.pgn", FileLine: 7,
			}}}},
			{Games: []fact.ModelGame{{PlayedGame: fact.PlayedGame{Rival: "Oak", Result: "1-0", Yours: "1", Moves: strings.Fields("e4 c5 d4"), LeftBy: fact.LeftByYou, LeftPly: 2, Answer: "c3", File: "more.pgn", FileLine: 9}},
				{PlayedGame: fact.PlayedGame{Rival: "Ash", Result: "*", Moves: strings.Fields("e4 c5"), LeftBy: fact.GameEnded, LeftPly: 2, File: "more.pgn", FileLine: 19}}}},
		},
	}
	r := &fact.Report{
		Opponent: fact.Opponent{Name: "Quist, Ola"}, Heading: fact.Heading{Me: "Alder, Mina"}, Basis: fact.Basis{AsOf: pgn.ParseDate("2026.11.02")},
		Engine: &fact.Engine{Name: "Oracle 7", Nodes: 400_000, Positions: 5, Wanted: 5}, Sides: []fact.Side{side},
	}
	b := book.New(board.White)
	for g := range pgn.NewReader(strings.NewReader("1. e4! {King's pawn.} e5 (1... c5 {Theirs.} 2. c3) (1... e6 2. d4 {King's pawn.}) 2. Nf3!? *"), pgn.Options{Variations: true}).All() {
		b.Add(g)
	}
	return r, []*book.Book{b}
}

// studied is the evening: a chapter for each line but the one that another goes on from, with
// the notes, what the engine found and what others answered, then the games.
const studied = `[Event "Lines to expect"]
[Site "?"]
[Date "2026.11.02"]
[Round "1"]
[White "Alder, Mina"]
[Black "Quist, Ola"]
[Result "*"]
[Annotator "foreply"]
[ECO "C40"]
[Opening "Their Gambit"]

{Evaluations by Oracle 7, 400 k nodes each: in commands from White's side, in
words from yours} 1. e4 $1 {King's pawn.} 1... e5 2. Nf3 $5 f5 {wrong in 3 of 5
games here (blitz; for you from +0.2 to +1.1 by the engine); not here again
since; best then 3.Nxe5 Qf6 (+1.1)} {they leave your book: 4 in 10 games (3–5)}
{best 3.Nxe5 Qf6 (+1.1) or 3.exf5 (+0.4)} {most have played 3.Nxe5} 3. Nxe5 {7
games: your side made 5, 4.5 expected} (3. d4 {1 game: your side made 0, 0.5
expected}) (3. Bc4 {1 game: your side made 1, 0.5 expected}) 3... Qf6 {5 of 7
games} 4. d4 {3 of 5 games: your side made 3} *

[Event "Lines to expect"]
[Site "?"]
[Date "2026.11.02"]
[Round "2"]
[White "Alder, Mina"]
[Black "Quist, Ola"]
[Result "*"]
[Annotator "foreply"]

1. e4 $1 c5 {Theirs.} 2. c3 {look again: 2...d5 (-0.3); better 2.Nf3 d6 (+0.6)}
{your book ends: 3 in 10 games (2–3)} {[%eval -0.20,17]} *

[Event "Lines to expect"]
[Site "?"]
[Date "2026.11.02"]
[Round "3"]
[White "Alder, Mina"]
[Black "Quist, Ola"]
[Result "*"]
[Annotator "foreply"]

1. e4 $1 e6 {they leave your book by a move not seen from them: 1 in 10 games
(1–2)} *

[Event "Open"]
[Site "Town"]
[Date "2026.03.05"]
[Round "3"]
[White "Elm, F"]
[Black "Quist, Ola"]
[Result "0-1"]
[BlackElo "2010"]
[ECO "C40"]
[Opening "Their Gambit"]
[Source "games.pgn:7"]
[WhiteElo "1900"]

1. e4 e5 2. Nf3 f5 {2...f5 is not in your book} 3. d4 0-1

[Event "?"]
[Site "?"]
[Date "????.??.??"]
[Round "?"]
[White "Oak"]
[Black "Quist, Ola"]
[Result "1-0"]
[Source "more.pgn:9"]

1. e4 c5 2. d4 {your book has 2.c3} 1-0

[Event "?"]
[Site "?"]
[Date "????.??.??"]
[Round "?"]
[White "Ash"]
[Black "Quist, Ola"]
[Result "*"]
[Source "more.pgn:19"]

1. e4 c5 *

`

// What stands in a study: of who has which colour, how often a line comes and why it ends, each
// comment once, an engine's word at the move it is about, others' answers as variations, and
// the games whole with their own tags.
func TestStudy(t *testing.T) {
	r, books := evening(t)
	var out strings.Builder
	if err := WritePGN(r, &out, books); err != nil {
		t.Fatal(err)
	}
	if got := out.String(); got != studied {
		t.Errorf("got\n%s\nwant\n%s", got, studied)
	}
}

// failing is a writer that fails after so many writes.
type failing struct{ left int }

var errFull = errors.New("disk full")

func (f *failing) Write(b []byte) (int, error) {
	if f.left--; f.left < 0 {
		return 0, errFull
	}
	return len(b), nil
}

// Of each line there is where it ends, why, its moves and its reach; what is too long for a
// string goes on in the next.
func TestEPD(t *testing.T) {
	r, _ := evening(t)
	long := slices.Repeat(strings.Fields("Nf3 Nf6 Ng1 Ng8"), 20) // 390 characters to 40...Ng8
	r.Sides = append(r.Sides, fact.Side{MyColor: "black", Exits: []fact.Exit{{Kind: fact.BookEnds, Line: long, Reach: 0.12345, EPD: "epd9"}}})
	var out strings.Builder
	if err := WriteEPD(r, &out); err != nil {
		t.Fatal(err)
	}
	whole := words.Movetext(long, 0)
	at := strings.LastIndexByte(whole[:256], ' ')
	want := `epd1 id "they leave your book"; c0 "1.e4 e5 2.Nf3 f5"; c1 "reach 0.4000";
epd2 id "they leave your book by a move not seen from them"; c0 "1.e4 e5 2.Nf3"; c1 "reach 0.2000";
epd3 id "your book ends"; c0 "1.e4 c5 2.c3"; c1 "reach 0.2500";
epd4 id "they leave your book by a move not seen from them"; c0 ""; c1 "reach 0.0500";
epd5 id "they leave your book by a move not seen from them"; c0 "1.e4 e6"; c1 "reach 0.1000";
epd9 id "your book ends"; c0 "` + whole[:at] + `"; c1 "reach 0.1235"; c2 "` + whole[at+1:] + `";
`
	if got := out.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if got := quoted(`a "b" c`); got != `"a 'b' c"` {
		t.Errorf("%s", got)
	}
	exact := strings.Repeat("abcd ", 51) // 255 signs with the space
	if got := chunks(exact[:254] + "e"); len(got) != 1 {
		t.Errorf("255 signs in %d strings", len(got))
	}
	if err := WriteEPD(r, &failing{2}); !errors.Is(err, errFull) {
		t.Errorf("%v", err)
	}
	if err := WritePGN(r, &failing{0}, []*book.Book{book.New(board.White), book.New(board.Black)}); !errors.Is(err, errFull) {
		t.Errorf("%v", err)
	}
}

// A side without a line to expect has no chapter to say of the engine in; a line that ends
// where another goes on is left out only if it ends by what is not seen, and a game without a
// move has no place for a comment.
func TestStudyOfLittle(t *testing.T) {
	r := &fact.Report{Engine: &fact.Engine{Name: "Oracle 7"}}
	game := fact.ModelGame{PlayedGame: fact.PlayedGame{LeftBy: fact.LeftByThem}}
	s := &fact.Side{MyColor: "white", Exits: []fact.Exit{{Unseen: true}}, ModelGames: []fact.ModelGames{{Games: []fact.ModelGame{game}}}}
	if got := Chapters(r, s, book.New(board.White)); len(got) != 1 || len(got[0].Line.Moves) != 0 || len(got[0].Line.Comments) != 0 {
		t.Errorf("%+v", got)
	}
	s = &fact.Side{MyColor: "white", Exits: []fact.Exit{{Line: strings.Fields("e4 e5")}, {Line: strings.Fields("e4 e5 Nf3")}, {Line: strings.Fields("e4"), Unseen: true}}}
	if got := Chapters(r, s, book.New(board.White)); len(got) != 2 || len(got[0].Line.Moves) != 2 {
		t.Errorf("%+v", got)
	}
}
