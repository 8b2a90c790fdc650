package find

import (
	"cmp"
	"math"
	"slices"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

const (
	newestGames = 12 // newest games that are told
	newestPlies = 24 // plies of each
	fewestAlong = 3  // that keep to the book are told without the others

	modelLines = 6    // lines to expect that get games to play through
	modelReach = 0.02 // from this reach
	modelGames = 2    // of each
	modelLeast = 5    // plies of the line that a game must have, of a shorter line all
	modelYears = 2.0  // in which the worth of a game by its age halves
)

// played tells of games beside the book.
type played struct {
	book  *book.Book
	ways  *walk.Ways
	games Games
}

// Newest are the newest games with the tree's colour, newest first; along says that only
// those are among them in which the other player kept to the book as long as it went. So
// it is where enough of them are: a game of another opening says nothing about tonight.
func Newest(b *book.Book, ways *walk.Ways, games Games) (list []fact.PlayedGame, along bool) {
	p := played{b, ways, games}
	all := slices.Collect(games.Theirs())
	kept := slices.DeleteFunc(slices.Clone(all), func(g *profile.Game) bool { return !p.along(g) })
	if len(kept) == len(all) || len(kept) < fewestAlong {
		return p.newest(all), false
	}
	return p.newest(kept), true
}

// along reports whether the other player of a game kept to the book as long as it went.
func (p *played) along(g *profile.Game) bool {
	by, _ := follow(p.book, p.ways, g)
	return by != fact.LeftByYou
}

func (p *played) newest(list []*profile.Game) []fact.PlayedGame {
	var out []fact.PlayedGame
	for _, g := range slices.Backward(list[max(0, len(list)-newestGames):]) {
		out = append(out, p.game(g, newestPlies))
	}
	return out
}

// Whole are all games with the tree's colour with all their moves, newest first.
func Whole(b *book.Book, ways *walk.Ways, games Games) []fact.PlayedGame {
	p := played{b, ways, games}
	var out []fact.PlayedGame
	for _, g := range slices.Backward(slices.Collect(games.Theirs())) {
		out = append(out, p.game(g, len(g.Moves)))
	}
	return out
}

// game tells so many plies of a game.
func (p *played) game(g *profile.Game, plies int) fact.PlayedGame {
	row := Row(g)
	by, left := follow(p.book, p.ways, g)
	t, board := walk.NewTrack(g.Moves), walk.NewTrack(g.Moves[:min(fact.ShownPlies, len(g.Moves))])
	out := fact.PlayedGame{
		Date: g.Date, Rival: g.Rival().Name, RivalElo: g.RivalElo, Elo: g.Elo, Event: g.Event, Site: g.Site, Round: g.Round, Result: row.Result, Yours: otherPoints(row.Score), Speed: g.Speed.String(),
		ECO: row.ECO, Opening: row.Opening, Moves: t.SANs[:min(plies, len(t.SANs))], Plies: len(g.Moves),
		EPD: board.End.EPD(), LeftBy: by, LeftPly: left,
		File: g.File, FileLine: g.Line, Game: g.Index,
	}
	out.Telling = min(len(g.Moves), max(fact.ShownPlies, left+1, p.lastChoice(&t)))
	if left < len(out.Moves) {
		out.Answer = answerTo(p.book, g, by, left)
	}
	return out
}

// lastChoice is the ply up to which a game has choices of theirs: moves where
// another game of theirs went another way.
func (p *played) lastChoice(t *walk.Track) int {
	last := 0
	for i := range t.Moves {
		n := p.games.At(t.Keys[i])
		if n != nil && n.ToMove == p.games.Tree.Theirs && len(n.Edges) > 1 {
			last = i + 1
		}
	}
	return last
}

// Models are games to play through for the likeliest lines to expect: of those that
// came far into the line the recent ones, of the speed of the game to come, decided
// and long enough to show a plan. A game is told for one line.
func Models(exits []fact.Exit, b *book.Book, ways *walk.Ways, games Games, when pgn.Span, class profile.Class) []fact.ModelGames {
	p := played{b, ways, games}
	told := map[*profile.Game]bool{}
	var out []fact.ModelGames
	for i := range exits {
		x := &exits[i]
		if x.Reach < modelReach || len(out) == modelLines {
			break
		}
		if len(x.Line) == 0 {
			continue // something not seen yet, at their first move
		}
		m := fact.ModelGames{Line: x.Line, Reach: x.Reach}
		for _, c := range p.candidates(x.Line, when, class) {
			if !told[c.game] && len(m.Games) < modelGames {
				told[c.game] = true
				m.Games = append(m.Games, fact.ModelGame{PlayedGame: p.game(c.game, len(c.game.Moves)), Deep: c.deep})
			}
		}
		if len(m.Games) > 0 {
			out = append(out, m)
		}
	}
	return out
}

// model is a game with how far it came into a line.
type model struct {
	game  *profile.Game
	deep  int
	worth float64
}

// candidates are the games that came far into a line, the most useful first.
func (p *played) candidates(line []string, when pgn.Span, class profile.Class) []model {
	t := walk.Resolved(line)
	at := map[uint64]int{}
	for i, key := range t.Keys {
		at[key] = i
	}
	var out []model
	for g := range p.games.Theirs() {
		m := model{game: g}
		pos := board.Start()
		for _, move := range g.Moves[:min(len(g.Moves), len(line)+4)] {
			pos.Play(move)
			m.deep = max(m.deep, at[pos.Key()])
		}
		if m.deep < min(modelLeast, len(line)) || 2*m.deep < len(line) {
			continue
		}
		m.worth = worth(g, float64(m.deep)/float64(len(line)), when, class)
		out = append(out, m)
	}
	slices.SortStableFunc(out, func(a, b model) int {
		return cmp.Or(cmp.Compare(b.worth, a.worth), b.game.Date.Compare(a.game.Date), cmp.Compare(a.game.File, b.game.File), cmp.Compare(a.game.Index, b.game.Index))
	})
	return out
}

// worth is how useful a game is to play through: how deep it came (doubled, since a
// game of another line teaches less than an old one), how recent it is, and whether it
// is of the usual speed, decided, and at least twenty moves long. Our own choice.
func worth(g *profile.Game, deep float64, when pgn.Span, class profile.Class) float64 {
	sum := 2 * deep
	if when.Known() && g.Span.Known() {
		sum += math.Pow(0.5, float64(max(0, when.First-g.Span.Last))/(365*modelYears))
	}
	if g.Speed.Group() == class.Group() {
		sum += 0.75
	}
	if g.Result == profile.Win || g.Result == profile.Loss {
		sum += 0.5
	}
	if len(g.Moves) >= 40 {
		sum += 0.25
	}
	return sum
}
