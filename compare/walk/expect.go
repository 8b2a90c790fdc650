package walk

// expectGames is how many games of theirs at a choice let a line follow it though its reach
// is hardly known: the count is worth telling then.
const expectGames = 10

// Expect follows the likeliest moves as far as their reach is at least from, and not from
// where many games of theirs are known to where hardly any are. It returns the place where
// the opponent has made the last of them, or where the walk began, and the likeliest other
// way off this line, nil for none.
func (w *Walk) Expect(from float64) (s, aside *State) {
	next := w.ByPlace()
	s = w.Order[0]
	many := false // whether many games of theirs chose on the way
	for {
		best, second := Likeliest(s, next)
		if theirs := s.Pos.Turn() != w.Book.Mine; theirs && s.Expected.Visits >= expectGames {
			many = true
		} else if theirs && many && best != nil && best.hardly() {
			break
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
