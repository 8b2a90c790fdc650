package find

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
	"foreply/profile/profiletest"
)

// today is the day of the game to come, in every test.
var today = profiletest.Today

var repeated = profiletest.Repeated

// gamesOf makes a profile of games of 'Them' with Black.
func gamesOf(t testing.TB, rows ...string) *profile.Profile {
	t.Helper()
	return profiletest.Judged(t, rows...)
}

// gamesAs makes a profile of games of 'Them' with a colour against Elm, as 'date result
// control: moves'.
func gamesAs(t testing.TB, theirs board.Color, rows ...string) *profile.Profile {
	t.Helper()
	names := [2]string{"Elm", "Elm"}
	names[theirs] = "Them"
	var text strings.Builder
	for _, row := range rows {
		head, moves, _ := strings.Cut(row, ":")
		f := strings.Fields(head)
		text.WriteString("[White \"" + names[0] + "\"]\n[Black \"" + names[1] + "\"]\n[Date \"" + f[0] + "\"]\n[Result \"" + f[1] + "\"]\n[TimeControl \"" + f[2] + "\"]\n\n" + moves + " " + f[1] + "\n\n")
	}
	r := pgn.NewReader(strings.NewReader(text.String()), pgn.Options{File: "games.pgn"})
	return profile.Build(r.All(), profile.Options{Them: func(*pgn.Game) (board.Color, bool) { return theirs, true }})
}

// bookOf is a book of White's of chapters in PGN.
func bookOf(t testing.TB, chapters ...string) *book.Book {
	t.Helper()
	return bookAs(t, board.White, chapters...)
}

// bookAs is a book of chapters in PGN.
func bookAs(t testing.TB, mine board.Color, chapters ...string) *book.Book {
	t.Helper()
	b := book.New(mine)
	for _, text := range chapters {
		for g := range pgn.NewReader(strings.NewReader(text), pgn.Options{File: "book.pgn", Variations: true}).All() {
			b.Add(g)
		}
	}
	for _, p := range b.Problems {
		if p.Severity == pgn.Error {
			t.Fatalf("the test's own book: %v", p)
		}
	}
	return b
}

// compared is a walk of a book against games, and what findings take beside it.
type compared struct {
	w     *walk.Walk
	games Games
	look  *profile.Outlook
	p     *profile.Profile
}

func compare(t testing.TB, p *profile.Profile, chapters ...string) compared {
	t.Helper()
	look := profile.NewForecast(p, board.Black, profile.ForecastOptions{}).On(today)
	w := walk.New(bookOf(t, chapters...), look, walk.Options{MaxPly: 40, Threshold: 0.01})
	w.Run(board.Start(), 0)
	return compared{w, Games{All: p.Games, Tree: p.Tree(board.Black)}, look, p}
}

// chances is a forecast by hand: behind a line their moves, each with its probability in
// hundredths and the games it was seen in: 'e5 50 8 c5 30 3'. What isn't named isn't played.
// The interval is from a tenth below to two tenths above, the strength 10.
type chances map[string]string

func (c chances) At(pos *board.Position) profile.Expected {
	e := profile.Expected{Strength: 10}
	for way, said := range c {
		at := lineOf(way).End
		if at.Key() != pos.Key() {
			continue
		}
		f := strings.Fields(said)
		for i := 0; i < len(f); i += 3 {
			m, err := at.Resolve([]byte(f[i]))
			if err != nil {
				panic(err)
			}
			p, n := float64(number(f[i+1]))/100, number(f[i+2])
			e.Moves = append(e.Moves, profile.Likely{Move: m, Range: profile.Range{P: p, Lo: p - 0.1, Hi: p + 0.2}, N: n})
			e.Visits += n
		}
	}
	return e
}

func (c chances) Shares(pos *board.Position) profile.Expected { return c.At(pos) }

// number is a whole number in decimal.
func number(text string) int {
	n, err := strconv.Atoi(text)
	if err != nil {
		panic(err)
	}
	return n
}

// walked is the walk of a book by a forecast made by hand, to a reach of one in a hundred.
func walked(b *book.Book, c chances) *walk.Walk {
	w := walk.New(b, c, walk.Options{MaxPly: 40, Threshold: 0.01})
	w.Run(board.Start(), 0)
	return w
}

// line is moves as one string.
func line(sans []string) string { return strings.Join(sans, " ") }

// fields are the moves of a line.
func fields(line string) []string { return strings.Fields(line) }

// lineOf plays a line, for its end and its opening.
func lineOf(line string) walk.Track { return walk.Resolved(fields(line)) }

// small is a walk by hand with eleven games: 1...e5 comes in 80 of 100, then 2...Nc6 in 70,
// 2...d6, which is not in the book, in 20, and 2...a6, never seen, in 10; 1...c5 in 20, which
// the book has without an answer.
func small(t *testing.T) (*walk.Walk, Games) {
	t.Helper()
	p := gamesOf(t, slices.Concat(
		repeated(7, "1-0 300 2000: e4 e5 Nf3 Nc6 Bb5 a6"),
		[]string{"2026.02.01 0-1 5400 2000: e4 e5 Nf3 d6 d4", "2026.02.02 1/2-1/2 5400 2000: e4 e5 Nf3 d6 Bc4", "2026.03.01 1-0 300 2000: e4 c5 Nf3", "2026.03.02 0-1 300 2000: e4 c5 Nf3"},
	)...)
	w := walked(bookOf(t, "{ Head. }\n1. e4 e5 (1... c5)\n2. Nf3 { Castle. } Nc6\n3. Bb5 *"),
		chances{"e4": "e5 80 9 c5 20 2", "e4 e5 Nf3": "Nc6 70 7 d6 20 2 a6 10 0"})
	return w, Games{All: p.Games, Tree: p.Tree(board.Black)}
}

func refs(class string, games ...string) (out []fact.Ref) {
	for _, g := range games {
		n, day, _ := strings.Cut(g, " ")
		out = append(out, fact.Ref{File: "games.pgn", Game: number(n), Date: pgn.ParseDate(day), Class: class})
	}
	return out
}

// shareOf is a share by the chances of small.
func shareOf(p float64, seen, of int) fact.Share {
	return fact.NewShare(fact.Chance{P: p, Lo: p - 0.1, Hi: p + 0.2}, seen, of)
}
