package main

import (
	"fmt"

	"foreply/profile"
)

// choice is a number of the model, or a few that belong together, with the
// values that are tried against the published one.
type choice struct {
	name   string
	values []value
}

type value struct {
	name string
	set  func(*profile.Model)
}

// published are the numbers that others fitted on thirteen players, none of
// whose careers is at hand here.
func published() profile.Model {
	m := profile.DefaultModel()
	m.NaturalPower, m.Rivals, m.EachNew = 0, false, true
	m.HalfLifeDays, m.HalfLifeGames, m.OtherClass = 2200, [3]float64{150, 600, 0}, 0.4
	m.SetUpPrior, m.ShortVisits, m.ShortPriors = 8, 4, [3]float64{2.4, 8, 24}
	m.Discount, m.Concentration, m.Scales, m.Heat = 0.3, 0.05, [3]float64{0.4, 1, 2}, 0.2
	m.HeatMoves, m.RankMoves = 0, 0
	m.PeerDiscount, m.PeerPrior, m.PeerHalf, m.PeerScales, m.PeerClassic = 0.3, 0.5, 10, [3]float64{0.3, 1, 3}, 2
	m.PeerDoubt = 0
	return m
}

// choices are tried in this order, each with those before it decided.
func choices() []choice {
	return []choice{
		one("NaturalPower", func(m *profile.Model) *float64 { return &m.NaturalPower }, 0.7, 1),
		yes("rivals as peers", func(m *profile.Model) { m.Rivals = true }),
		yes("tuning by 'something new'", func(m *profile.Model) { m.EachNew = false }),
		three("HalfLifeGames", func(m *profile.Model) *[3]float64 { return &m.HalfLifeGames },
			[3]float64{100, 400, 0}, [3]float64{60, 250, 0}, [3]float64{60, 250, 1000}, [3]float64{40, 200, 1000}),
		one("SetUpPrior", func(m *profile.Model) *float64 { return &m.SetUpPrior }, 3, 5, 12),
		one("ShortVisits", func(m *profile.Model) *float64 { return &m.ShortVisits }, 2, 3, 6),
		three("ShortPriors", func(m *profile.Model) *[3]float64 { return &m.ShortPriors },
			[3]float64{1.5, 5, 15}, [3]float64{4, 12, 36}, [3]float64{2.4, 8, 100}),
		one("Heat", func(m *profile.Model) *float64 { return &m.Heat }, 0.1, 0.4, 0.8),
		one("PeerHalf", func(m *profile.Model) *float64 { return &m.PeerHalf }, 3, 30),
		three("PeerScales", func(m *profile.Model) *[3]float64 { return &m.PeerScales },
			[3]float64{0.15, 0.5, 1.5}, [3]float64{0.6, 2, 6}, [3]float64{0.3, 2, 10}),
		one("PeerPrior", func(m *profile.Model) *float64 { return &m.PeerPrior }, 1.5, 4),
		one("PeerDiscount", func(m *profile.Model) *float64 { return &m.PeerDiscount }, 0.15, 0.6),
		one("Discount", func(m *profile.Model) *float64 { return &m.Discount }, 0.2, 0.4),
		one("Concentration", func(m *profile.Model) *float64 { return &m.Concentration }, 0.1, 0.2),
		three("Scales", func(m *profile.Model) *[3]float64 { return &m.Scales }, [3]float64{0.2, 1, 4}, [3]float64{0.6, 1, 1.6}),
		one("OtherClass", func(m *profile.Model) *float64 { return &m.OtherClass }, 0.2, 0.6),
		one("HalfLifeDays", func(m *profile.Model) *float64 { return &m.HalfLifeDays }, 1100, 4400),
	}
}

func yes(name string, set func(*profile.Model)) choice {
	return choice{name, []value{{"yes", set}}}
}

func one(name string, field func(*profile.Model) *float64, values ...float64) choice {
	c := choice{name: name}
	for _, v := range values {
		c.values = append(c.values, value{fmt.Sprint(v), func(m *profile.Model) { *field(m) = v }})
	}
	return c
}

func three(name string, field func(*profile.Model) *[3]float64, values ...[3]float64) choice {
	c := choice{name: name}
	for _, v := range values {
		c.values = append(c.values, value{fmt.Sprint(v), func(m *profile.Model) { *field(m) = v }})
	}
	return c
}
