package fact

import "foreply/fetch/pgn"

// FieldRow is a player of an entry list in the page that sums up a field, or in
// the page of a board with several candidates.
type FieldRow struct {
	Name    string
	ID      string
	Board   int // 0 when not known
	Rating  int // as the entry list has it, 0 when it has none
	Games   int // found
	Last    pgn.Date
	Basis   Basis       // what the sheet rests on
	Sides   []FieldSide // the user's colours
	Missing string      // why there is no sheet; empty if there is one
}

// FieldSide is what to do about a player with one colour of the user's.
type FieldSide struct {
	MyColor string
	Tasks   []Task // tonight's, most wanted first
}

// Fill takes from a Report what the row prints.
func (r *FieldRow) Fill(rep *Report) {
	r.Games, r.Last, r.Basis = rep.Basis.Games, rep.Basis.Last, rep.Basis
	for i := range rep.Sides {
		s := &rep.Sides[i]
		r.Sides = append(r.Sides, FieldSide{s.MyColor, s.Tonight})
	}
}
