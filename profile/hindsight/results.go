package hindsight

import (
	"foreply/profile"
	"foreply/profile/board"
	"foreply/profile/stat"
)

// ResultFigures measure the forecast of results, in bits: the mean of -log2 of
// the probability given to the result that came.
type ResultFigures struct {
	Games   int     `json:"games"`
	Raw     float64 `json:"raw_bits"`     // the plain record at the last position met before
	Overall float64 `json:"overall_bits"` // the record of the colour
	Elo     float64 `json:"elo_bits"`     // the ratings alone, with the usual share of draws
	Shrunk  float64 `json:"shrunk_bits"`  // shrunk along the line
	Tilted  float64 `json:"tilted_bits"`  // and tilted to the ratings
}

// rawResult is what each outcome counts in the plain record beside what
// happened, so that nothing is impossible: one third of a game.
const rawResult = 1. / 3

// TestResults runs the walk-forward test of the results: for each game with a
// result and both ratings, as it stood at the last position within 24 plies that
// a known game had passed. Known and undated games are as in Test.
func TestResults(p *profile.Profile, known int) ResultFigures {
	p = p.Only(func(g *profile.Game) bool { return g.Span.Known() && len(g.Moves) >= shortest })
	var f ResultFigures
	for _, c := range [...]board.Color{board.White, board.Black} {
		forecast := profile.NewForecast(p, c, profile.ForecastOptions{Untuned: true})
		for i := range p.Games {
			g := &p.Games[i]
			look := forecast.On(g.Span)
			if g.Theirs == c && g.Result != profile.NoResult && g.Elo > 0 && g.RivalElo > 0 && look.Known() >= max(known, 1) {
				f.add(g, look)
			}
		}
	}
	n := float64(max(f.Games, 1))
	for _, sum := range [...]*float64{&f.Raw, &f.Overall, &f.Elo, &f.Shrunk, &f.Tilted} {
		*sum /= n
	}
	return f
}

func (f *ResultFigures) add(g *profile.Game, look *profile.Outlook) {
	keys := pathOf(g, look)
	here := look.Results(keys)
	f.Games++
	f.Raw += stat.Bits(rawShare(look.Record(keys[len(keys)-1]), g.Result))
	overall := look.Results(keys[:1])
	f.Overall += stat.Bits(share(overall, g.Result))
	f.Elo += stat.Bits(share(byRatings(g, overall.Draw), g.Result))
	f.Shrunk += stat.Bits(share(here, g.Result))
	f.Tilted += stat.Bits(share(look.Against(here, float64(g.Elo-g.RivalElo)), g.Result))
}

// byRatings expects what the ratings say, with a share of draws as far as the
// expectation leaves room for it.
func byRatings(g *profile.Game, draws float64) profile.Results {
	e := stat.EloExpectation(float64(g.Elo - g.RivalElo))
	d := min(draws, e, 1-e)
	return profile.Results{Win: e - d/2, Draw: d, Loss: 1 - e - d/2}
}

// pathOf lists the keys of a game's positions as long as known games passed.
func pathOf(g *profile.Game, look *profile.Outlook) []uint64 {
	pos := board.Start()
	keys := []uint64{pos.Key()}
	for _, m := range g.Moves[:min(len(g.Moves), profile.ScoredPlies)] {
		pos.Play(m)
		if n := look.Record(pos.Key()); n.Games == 0 {
			break
		}
		keys = append(keys, pos.Key())
	}
	return keys
}

func share(r profile.Results, came profile.Result) float64 {
	switch came {
	case profile.Win:
		return r.Win
	case profile.Draw:
		return r.Draw
	}
	return r.Loss
}

func rawShare(c profile.Count, came profile.Result) float64 {
	n := map[profile.Result]int32{profile.Win: c.Wins, profile.Draw: c.Draws, profile.Loss: c.Losses}[came]
	return (float64(n) + rawResult) / (float64(c.Wins+c.Draws+c.Losses) + 3*rawResult)
}
