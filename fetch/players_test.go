package fetch

import (
	"slices"
	"testing"

	"foreply/fetch/pgn"
)

func TestPlayers(t *testing.T) {
	for _, c := range []struct {
		quirk string
		pairs [][2]string // White and Black of each game
		want  []NameCount
	}{
		{"no games", nil, nil},
		{"nobody is named", [][2]string{{"?", ""}, {"", "NN"}}, nil},
		{"either colour", [][2]string{{"Alder, Mina", "Brook, T"}, {"Fenn, R", "Alder, Mina"}},
			[]NameCount{{"Alder, Mina", 2}, {"Brook, T", 1}, {"Fenn, R", 1}}},
		{"placeholders do not count", [][2]string{{"?", "tide"}, {"?", "?"}, {"N.N.", "N, N"}, {"nn", "Unknown"}, {"-", " "}}, []NameCount{{"tide", 1}}},
		{"as many games: the first met", [][2]string{{"tide", "ebb"}, {"ebb", "tide"}}, []NameCount{{"tide", 2}, {"ebb", 2}}},
		{"spellings of one name together, the usual one is told",
			[][2]string{{"mina ALDER", "x"}, {"Alder, Mina", "?"}, {"Alder, Mina", "x"}}, []NameCount{{"Alder, Mina", 3}, {"x", 2}}},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			var games []*pgn.Game
			for _, p := range c.pairs {
				games = append(games, tagged(tags("White", p[0], "Black", p[1])))
			}
			if got := Players(slices.Values(games)); !slices.Equal(got, c.want) {
				t.Errorf("%v, want %v", got, c.want)
			}
		})
	}
}
