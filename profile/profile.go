package profile

import (
	"cmp"
	"iter"
	"slices"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// Options of Build. Them is required.
type Options struct {
	// Them tells which colour the opponent had; false leaves the game out.
	Them func(*pgn.Game) (board.Color, bool)
	// MaxPly is how deep the trees go, in plies; 0 means DefaultMaxPly.
	MaxPly int
}

// DefaultMaxPly is deep enough for any sheet, in plies.
const DefaultMaxPly = 60

// Profile is an opponent's games, in order of time, and a tree for each of
// their colours.
type Profile struct {
	Games    []Game
	SetUps   int           // games left out: they begin with another position
	NoMoves  int           // games left out: no legal move
	NullMove int           // games left out: null moves in the main line, a lesson and no game
	Problems []pgn.Problem // of reading and replaying, in order of the games
	trees    [2]*Tree
}

// Build replays the games and grows both trees. Games that do not begin with
// the usual position, have no moves, or pass a turn are left out and counted.
// An illegal move ends its game's replay: what came before it counts.
func Build(games iter.Seq[*pgn.Game], opt Options) *Profile {
	maxPly := cmp.Or(opt.MaxPly, DefaultMaxPly)
	p, counts := &Profile{}, [2]*Counts{NewCounts(maxPly), NewCounts(maxPly)}
	for g := range games {
		p.add(g, opt, &counts)
	}
	slices.SortStableFunc(p.Games, func(a, b Game) int { return older(&a, &b) })
	for _, c := range [...]board.Color{board.White, board.Black} {
		p.trees[c] = counts[c].tree(p.Games, c)
	}
	return p
}

func (p *Profile) add(g *pgn.Game, opt Options, counts *[2]*Counts) {
	theirs, ok := opt.Them(g)
	if !ok {
		return
	}
	p.Problems = append(p.Problems, g.Problems...)
	if g.Header().Start != pgn.UsualStart {
		p.SetUps++
		return
	}
	moves, problem := counts[theirs].replay(g, len(g.Moves))
	if problem != nil {
		p.Problems = append(p.Problems, *problem)
	}
	switch {
	case len(moves) == 0:
		p.NoMoves++
	case slices.Contains(moves, board.NullMove):
		p.NullMove++
	default:
		own := newGame(g, theirs, slices.Clone(moves))
		counts[theirs].count(g, own.Result, own.Date.Number())
		p.Games = append(p.Games, own)
	}
}

// Tree returns the tree of the games in which the opponent had colour c.
func (p *Profile) Tree(c board.Color) *Tree { return p.trees[c] }

// TreeTo grows the tree of a colour anew, of the first plies of its games alone.
func (p *Profile) TreeTo(c board.Color, plies int) *Tree { return grow(p.Games, c, plies) }

// With yields the games in which the opponent had colour c, oldest first.
func (p *Profile) With(c board.Color) iter.Seq[*Game] {
	return func(yield func(*Game) bool) {
		for i := range p.Games {
			if p.Games[i].Theirs == c && !yield(&p.Games[i]) {
				return
			}
		}
	}
}

// Count returns the number of games with colour c.
func (p *Profile) Count(c board.Color) int {
	n := 0
	for range p.With(c) {
		n++
	}
	return n
}

// Newest returns the latest possible day of the newest game, 0 if none has a date.
func (p *Profile) Newest() pgn.Day {
	var newest pgn.Day
	for i := range p.Games {
		newest = max(newest, p.Games[i].Span.Last)
	}
	return newest
}

// NextDay is the day after the newest game, on which a game is taken to be of
// which the day is not known; not known either if no game has a date.
func (p *Profile) NextDay() Span {
	if newest := p.Newest(); newest > 0 {
		return pgn.OneDay(newest + 1)
	}
	return Span{}
}

// Only returns a profile of the games that keep wants, with trees of their own.
func (p *Profile) Only(keep func(*Game) bool) *Profile {
	var games []Game
	for i := range p.Games {
		if keep(&p.Games[i]) {
			games = append(games, p.Games[i])
		}
	}
	return ofGames(games, p.trees[0].MaxPly)
}

// ofGames makes a profile of games in order of time.
func ofGames(games []Game, maxPly int) *Profile {
	p := &Profile{Games: games}
	for _, c := range [...]board.Color{board.White, board.Black} {
		p.trees[c] = grow(games, c, maxPly)
	}
	return p
}
