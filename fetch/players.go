package fetch

import (
	"cmp"
	"iter"
	"slices"

	"foreply/fetch/pgn"
)

// Players counts the games of each player, most first, of as many the one met
// first. Spellings are taken together as Fold has them; the one that comes most
// often is told. Placeholders for a name are nobody.
func Players(games iter.Seq[*pgn.Game]) []NameCount {
	index := map[string]int{}
	var spellings [][]NameCount
	for g := range games {
		white, black := g.Players()
		for _, name := range [...]string{white.Name, black.Name} {
			folded := Fold(name)
			if nameless(folded) {
				continue
			}
			i, met := index[folded]
			if !met {
				i = len(spellings)
				index[folded] = i
				spellings = append(spellings, nil)
			}
			spellings[i] = countName(spellings[i], name)
		}
	}
	out := make([]NameCount, len(spellings))
	for i, list := range spellings {
		for _, c := range list {
			out[i].Games += c.Games
		}
		out[i].Name = slices.MaxFunc(list, func(a, b NameCount) int { return cmp.Compare(a.Games, b.Games) }).Name
	}
	slices.SortStableFunc(out, func(a, b NameCount) int { return cmp.Compare(b.Games, a.Games) })
	return out
}

func countName(list []NameCount, name string) []NameCount {
	for i := range list {
		if list[i].Name == name {
			list[i].Games++
			return list
		}
	}
	return append(list, NameCount{name, 1})
}
