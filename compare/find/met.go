package find

import (
	"cmp"
	"math"
	"slices"

	"foreply/compare/fact"
	"foreply/profile"
	"foreply/profile/board"
)

const (
	othersShown = 3    // answers of others that are told
	goesOnFrom  = 6    // games from which it is told how they went on
	goesOnPlies = 4    // plies behind the answer that are told
	metLeast    = 6    // games with a result from which an answer is weighed against the others
	metByChance = 0.05 // chance, among all the answers that are weighed, from which nothing separates them
)

// gap is a position that the book has nothing for, with the games that came there.
type gap struct {
	pos   *board.Position
	games Games
}

// tellOthers fills in how the other players went on where the book has nothing: their
// answers, what came of each against what was to be expected, how the games went on,
// and which answer is set apart by more than chance. What the user usually plays is no
// hint where it is the answer that did worst.
func tellOthers(u *fact.Unanswered, pos *board.Position, games Games) {
	n := games.At(pos.Key())
	if n == nil {
		return
	}
	g := gap{pos, games}
	all := make([]fact.Met, len(n.Edges))
	for i := range n.Edges {
		all[i] = g.met(n.Edges[i].Move)
	}
	best, worst := apartMet(all, g.spread(n.Visits))
	if worst >= 0 {
		u.SetUp = slices.DeleteFunc(u.SetUp, func(san string) bool { return san == withoutCheck(all[worst].Move) })
	}
	u.Others, u.Apart = slices.Clone(all[:min(len(all), othersShown)]), best >= 0
}

// met is an answer of others.
func (g *gap) met(m board.Move) fact.Met {
	visits := g.games.With(g.pos.Key(), m)
	out := fact.Met{Move: g.pos.SAN(m), Score: g.games.Score(visits), Expected: g.games.Expected(visits)}
	out.Games = out.Score.Games()
	at := *g.pos
	at.Play(m)
	for plies := int16(1); len(out.Then) < goesOnPlies; plies++ {
		next, of := g.commonest(visits, plies)
		if of < goesOnFrom || len(next) < 2 {
			break
		}
		m := g.games.All[next[0].Game].Moves[next[0].Ply+plies]
		out.Then = append(out.Then, fact.GoesOn{
			Move: at.SAN(m), Games: len(next), Of: of, Score: g.games.Score(next), Expected: g.games.Expected(next),
		})
		at.Play(m)
		visits, out.EPD = next, at.EPD()
	}
	return out
}

// commonest are the visits whose games went on, so many plies later, with the move
// that most did; of so many that went on at all. A game counts once.
func (g *gap) commonest(visits []profile.Visit, plies int16) (most []profile.Visit, of int) {
	by := map[board.Move][]profile.Visit{}
	for i, v := range visits {
		moves := g.games.All[v.Game].Moves
		if i > 0 && visits[i-1].Game == v.Game || int(v.Ply+plies) >= len(moves) {
			continue
		}
		of++
		m := moves[v.Ply+plies]
		by[m] = append(by[m], v)
	}
	var first board.Move
	for m, list := range by {
		if c := cmp.Or(cmp.Compare(len(list), len(most)), cmp.Compare(first, m)); c > 0 {
			most, first = list, m
		}
	}
	return most, of
}

// spread is the variance of a result in the games of visits.
func (g *gap) spread(visits []profile.Visit) float64 {
	sum, squares, n := 0.0, 0.0, 0.0
	for game := range g.games.Of(visits) {
		if game.Result != profile.NoResult {
			p := ResultPoints(game.Result)
			sum, squares, n = sum+p, squares+p*p, n+1
		}
	}
	if n < 2 {
		return 0
	}
	return (squares - sum*sum/n) / (n - 1)
}

// edge is how much better than expected the user's side did with an answer, a game,
// and in how many games with a result.
func edge(m *fact.Met) (mean, games float64) {
	games = float64(m.Score.Games() - m.Score.Unknown)
	if games == 0 {
		return 0, 0
	}
	return (m.Expected - float64(m.Score.Wins) - float64(m.Score.Draws)/2) / games, games
}

// apartMet finds the answer that did better, against expectation, than all others
// together by more than chance, and the one that did worst; -1 where there is none.
// Several answers are tried, so the chance is that times as many (Bonferroni).
func apartMet(all []fact.Met, spread float64) (best, worst int) {
	best, worst = -1, -1
	sum, total, tried := 0.0, 0.0, 0
	for i := range all {
		mean, games := edge(&all[i])
		sum, total = sum+mean*games, total+games
		if games < metLeast {
			continue
		}
		tried++
		if best < 0 || mean > first(edge(&all[best])) {
			best = i
		}
		if worst < 0 || mean < first(edge(&all[worst])) {
			worst = i
		}
	}
	if tried < 2 {
		return -1, -1
	}
	mean, games := edge(&all[best])
	rest := total - games
	if spread <= 0 || rest < metLeast {
		return -1, worst
	}
	z := (mean - (sum-mean*games)/rest) / math.Sqrt(spread*(1/games+1/rest))
	if 2*normalTail(z)*float64(tried) > metByChance {
		return -1, worst
	}
	return best, worst
}

func first(a, _ float64) float64 { return a }
