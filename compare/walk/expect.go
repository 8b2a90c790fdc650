package walk

// rareChoice is the part of the games at their first choice from which a later one of a
// line to expect has too few for who has many: the user's moves led where they hardly were.
// Only of so many is one in twenty a count.
const (
	rareChoice = 0.05
	manyGames  = 1 / rareChoice
)

// Expect follows the likeliest moves as far as their reach is at least from, but not to where
// hardly any of many games were. It returns the place where the opponent has made the last
// of them, or where the walk began, and the likeliest other way off this line, nil for none.
func (w *Walk) Expect(from float64) (s, aside *State) {
	next := w.ByPlace()
	s = w.Order[0]
	first := -1 // games of theirs at their first choice
	for {
		best, second := Likeliest(s, next)
		if s.Pos.Turn() != w.Book.Mine {
			if first < 0 {
				first = s.Expected.Visits
			} else if first >= manyGames && float64(s.Expected.Visits) < rareChoice*float64(first) && best != nil && best.hardly() {
				break
			}
		}
		if second != nil && (aside == nil || second.Mass > aside.Mass) {
			aside = second
		}
		if best == nil || best.Mass < from {
			break
		}
		s = best
	}
	if s.Via != nil && s.Pos.Turn() != w.Book.Mine { // what the user plays is told apart
		s = s.Via
	}
	return s, aside
}

// Likeliest returns the two heaviest states that s leads to, of those by place.
func Likeliest(s *State, next map[Key]*State) (best, second *State) {
	for i := range s.Flows {
		to := next[Key{Position: s.Flows[i].To, Ply: s.Ply + 1}]
		switch {
		case to == nil || !s.Flows[i].GoesOn() || to.Via != s:
		case best == nil || to.Mass > best.Mass:
			best, second = to, best
		case second == nil || to.Mass > second.Mass:
			second = to
		}
	}
	return best, second
}
