package compare

// mistakes lists the moves the book marks as mistakes, of either side, whose
// position they have reached or are expected to, in the order of the book.
func (c *comparison) mistakes(w *walk) []Mistake {
	reach := map[uint64]float64{}
	for _, s := range w.order {
		reach[s.key] += s.mass
	}
	var out []Mistake
	for i := range c.book.Mistakes {
		m := &c.book.Mistakes[i]
		made := visitsWith(c.tree.At(m.Key), m.Move)
		if c.tree.At(m.Key) == nil && reach[m.Key] == 0 {
			continue
		}
		mistake := Mistake{Line: m.SAN, Whose: "theirs", Reach: reach[m.Key], Note: m.Note}
		if m.Mine {
			mistake.Whose = "yours"
		}
		mistake.Games, mistake.Last, _ = c.cite(made)
		mistake.Reached, _, _ = c.cite(nodeVisits(c.tree.At(m.Key)))
		out = append(out, mistake)
	}
	return out
}
