package profile

import (
	"slices"

	"foreply/fetch/pgn"
	"foreply/profile/stat"
)

// halfLives is how many half-lives by games are tried.
const halfLives = 3

// weighing holds what each game of the colour counts on one day, its time class
// left aside.
type weighing struct {
	when   Span
	weight [][halfLives]float64 // by game; the first is negative where the game is not known
	age    []float64            // in days, by game
	known  int                  // games of the colour that are known
	end    int                  // all known games stand before this index
}

// weigh gives each game of the colour its weight
// 2^(-a/HalfLifeDays) * 2^(-g/h) for each half-life h, a its age in days from
// the middle of its possible dates, g the known games of the colour after it.
// An undated game is as old as the oldest dated one.
//
// Games of one day don't know each other, but for the tuning: with upTo above 0
// a game of that very day is known if it stands before that index.
func (f *Forecast) weigh(when Span, upTo int) *weighing {
	games := f.profile.Games
	w := &weighing{when: when, weight: make([][halfLives]float64, len(games)), age: make([]float64, len(games))}
	oldest, byAge, agedAt := 0.0, 1.0, 0.0
	oneDay := when.First == when.Last
	for i := range slices.Backward(games) {
		g := &games[i]
		w.weight[i][0] = -1
		sameDay := oneDay && i < upTo && g.Span == when
		if g.Theirs != f.tree.Theirs || !sameDay && !g.knownOn(when) {
			continue
		}
		if g.Span.Known() {
			oldest = when.Middle() - g.Span.Middle()
		}
		if oldest != agedAt { // games of a day share their age
			byAge, agedAt = stat.HalfLife(oldest, f.model.HalfLifeDays), oldest
		}
		w.age[i] = oldest
		for h := range halfLives {
			w.weight[i][h] = byAge * f.fading[h][w.known]
		}
		w.known++
		w.end = max(w.end, i+1)
	}
	return w
}

// fadings tabulates 2^(-g/h) for each half-life h.
func fadings(m *Model, games int) (table [halfLives][]float64) {
	for h, halfLife := range m.HalfLifeGames {
		table[h] = make([]float64, games)
		for g := range table[h] {
			table[h][g] = stat.HalfLife(float64(g), halfLife)
		}
	}
	return table
}

// classWeights gives the weight of a visit by its class, for a game of class
// coming: 1 for the same class or where one of the two is unknown.
func (m *Model) classWeights(coming Class) (z [pgn.Speeds]float64) {
	for c := range z {
		z[c] = 1
		if coming != UnknownClass && Class(c) != UnknownClass && Class(c) != coming {
			z[c] = m.OtherClass
		}
	}
	return z
}
