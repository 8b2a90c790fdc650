package fetch

import (
	"fmt"
	"math/rand/v2"
	"strings"
)

// career is the player of the invented collections.
const career = "Elder, Mina"

// plainGame is a game before a collection spells it in its way. The tag TestId
// stays with it, so that a test can tell which games were joined.
type plainGame struct {
	id             int
	rival          string // 'Last, First'
	theirs         bool   // the player has white
	y, m, d, round int
	result         string
	moves          []string
}

// dayless games have only a year.
func (g *plainGame) date() string {
	if g.d == 0 {
		return fmt.Sprintf("%d.??.??", g.y)
	}
	return fmt.Sprintf("%d.%02d.%02d", g.y, g.m, g.d)
}

func (g *plainGame) write(own, rival, date, round, result string, moves []string, event string) string {
	white, black := own, rival
	if !g.theirs {
		white, black = rival, own
	}
	var text strings.Builder
	for i, m := range moves {
		if i%2 == 0 {
			fmt.Fprintf(&text, "%d. ", i/2+1)
		}
		text.WriteString(m + " ")
	}
	return game(white, black, strings.TrimSpace(text.String()), result,
		"Event", event, "Date", date, "Round", round, "TestId", fmt.Sprint(g.id))
}

// first is the spelling of the first collection.
func (g *plainGame) first() string {
	return g.write(career, g.rival, g.date(), fmt.Sprint(g.round), g.result, g.moves, "Open of the year")
}

// second is that of the other: names by initials, by another transcription, the
// other way round or as a handle; dates by the year, by the first day of the
// event or missing; rounds with the board or missing; signs behind moves, zeros
// in castling, needless squares of origin; ends missing; some results other.
func (g *plainGame) second() string {
	return g.write("Elder,M", g.otherRival(), g.otherDate(), g.otherRound(), g.otherResult(), g.otherMoves(), "?")
}

func (g *plainGame) otherRival() string {
	last, given, _ := strings.Cut(g.rival, ",")
	given = strings.TrimSpace(given)
	switch {
	case g.id%97 == 5 && g.d > 0 && len(g.moves) >= 100:
		return fmt.Sprintf("rook%d", g.id)
	case given == "" || g.id%5 == 0:
		return g.rival
	case g.id%5 == 1 && len(last) >= 5:
		return last[:1] + "j" + last[1:] + ", " + given // 'Brjook, Tomas'
	case g.id%5 == 2:
		return strings.ToUpper(given + " " + last)
	}
	return last + "," + given[:1]
}

func (g *plainGame) otherDate() string {
	switch {
	case g.id%41 == 7 && len(g.moves) >= 60:
		return "????.??.??"
	case g.id%4 == 1:
		return fmt.Sprintf("%d.??.??", g.y)
	case g.id%4 == 2 && g.d > g.round && len(g.moves) >= 60:
		return fmt.Sprintf("%d.%02d.%02d", g.y, g.m, g.d-g.round+1)
	}
	return g.date()
}

func (g *plainGame) otherRound() string {
	switch g.id % 3 {
	case 0:
		return "?"
	case 1:
		return fmt.Sprintf("%d.%d", g.round, g.id%7+1)
	}
	return fmt.Sprint(g.round)
}

func (g *plainGame) otherResult() string {
	if g.id%211 == 3 && len(g.moves) >= 60 {
		return map[string]string{"1-0": "0-1", "0-1": "1/2-1/2", "1/2-1/2": "1-0"}[g.result]
	}
	if g.id%53 == 4 {
		return "*"
	}
	return g.result
}

func (g *plainGame) otherMoves() []string {
	moves := g.moves
	if g.id%11 == 6 && g.id%211 != 3 && len(moves) >= 90 {
		moves = moves[:len(moves)-7]
	}
	out := make([]string, len(moves))
	for i, m := range moves {
		switch {
		case strings.HasPrefix(m, "O-O"):
			out[i] = strings.ReplaceAll(m, "O", "0")
		case i%17 == 3 && len(m) == 3 && m[0] == 'N':
			out[i] = "Nb" + m[1:]
		case i%23 == 5:
			out[i] = m + "+!?"
		default:
			out[i] = m
		}
	}
	return out
}

// careerGames invents games. Moves are squares drawn at random behind a few
// openings, since this package knows no chess. Among them are the dangers: draws
// in ten moves and won traps of nine, each played twice against the same player.
func careerGames(seed uint64, n int) []plainGame {
	var (
		r        = rand.New(rand.NewPCG(seed, 5))
		openings [12][]string
		out      []plainGame
	)
	for i := range openings {
		openings[i] = anyMovesOf(r, 16)
	}
	for i := range n {
		g := plainGame{
			id: i, rival: fmt.Sprintf("%s%c, %s", pick(r, surnames), 'a'+rune(r.IntN(4)), pick(r, given)),
			theirs: r.IntN(2) == 0, y: 1985 + i/50, m: 1 + r.IntN(12), d: 1 + r.IntN(28), round: 1 + r.IntN(11),
			result: pick(r, []string{"1-0", "1/2-1/2", "0-1"}),
			moves:  append(append([]string{}, openings[r.IntN(len(openings))]...), anyMovesOf(r, 10+r.IntN(110))...),
		}
		if i%4 == 3 && len(g.moves) >= 60 {
			g.d = 0
		}
		if i%40 == 20 { // the same again, another year and round
			old := out[i-3*20/4]
			g.rival, g.theirs = old.rival, old.theirs
			g.moves, g.result = old.moves[:20], "1/2-1/2"
			if i%80 == 20 {
				g.moves, g.result = old.moves[:18], "1-0"
			}
			g.d = max(1, g.d)
			out[i-15].moves, out[i-15].result, out[i-15].d = g.moves, g.result, max(1, old.d)
			out[i-15].y, g.round = g.y-1, old.round%11+1
		}
		out = append(out, g)
	}
	return out
}

var (
	surnames = []string{"Brook", "Crane", "Dalewood", "Elmhurst", "Fenwick", "Garth", "Hazelton", "Ives", "Juniper", "Kestrel"}
	given    = []string{"Tomas", "Ursula", "Viktor", "Wanda", "Xaver", "Yvonne"}
)

func pick[T any](r *rand.Rand, from []T) T { return from[r.IntN(len(from))] }

func anyMovesOf(r *rand.Rand, n int) []string {
	out := make([]string, n)
	for i := range out {
		square := fmt.Sprintf("%c%d", 'a'+rune(r.IntN(8)), 1+r.IntN(8))
		out[i] = pick(r, []string{"", "N", "B", "R", "Q", "K"}) + square
		if r.IntN(30) == 0 {
			out[i] = "O-O"
		}
	}
	return out
}

// The sizes of two collections of one career, as the task has them.
const (
	inFirst, inSecond, inBoth = 1344, 1389, 1280
	inAll                     = inFirst + inSecond - inBoth
)

// twoCollections writes both.
func twoCollections(seed uint64) (first, second string) {
	var one, two strings.Builder
	for i, g := range careerGames(seed, inAll) {
		// Games in only one of them are spread over the years.
		onlyFirst := i%22 == 0 && i/22 < inFirst-inBoth
		onlySecond := i%12 == 1 && i/12 < inSecond-inBoth
		if !onlySecond {
			one.WriteString(g.first())
		}
		if !onlyFirst {
			two.WriteString(g.second())
		}
	}
	return one.String(), two.String()
}
