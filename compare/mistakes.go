package compare

// mistakes lists the moves the book marks as mistakes of the opponent that they
// have made, or whose position they have reached, the likeliest first as the
// book has them; and those of the user's whose position is on a line to expect.
func (c *comparison) mistakes(w *walk) []Mistake {
	reach := map[uint64]float64{}
	for _, s := range w.order {
		reach[s.key] += s.mass
	}
	var out []Mistake
	for i := range c.book.Mistakes {
		m := &c.book.Mistakes[i]
		made := visitsWith(c.tree.At(m.Key), m.Move)
		if len(made) == 0 && reach[m.Key] == 0 {
			continue
		}
		mistake := Mistake{Line: m.SAN, Whose: "theirs", Reach: reach[m.Key], Note: m.Note}
		if m.Mine {
			mistake.Whose = "yours"
		}
		mistake.Games, mistake.Last, _ = c.cite(made)
		out = append(out, mistake)
	}
	return out
}
