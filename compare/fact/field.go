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
	Missing string  // why there is no sheet; empty if there is one
	Report  *Report // what the sheet says; nil where there is none
}

// Fill takes from a Report what the row prints.
func (r *FieldRow) Fill(rep *Report) {
	r.Games, r.Last, r.Report = rep.Basis.Games, rep.Basis.Last, rep
}
