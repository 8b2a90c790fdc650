package fact

// Page tells what of a Report stands on a printed page, for who checks it or ranks
// pages.
type Page struct {
	Shown    float64   `json:"shown"`    // share of the exits' reach whose line stands whole on the page, 0..1
	Rows     int       `json:"rows"`     // of the lines to expect
	Sections []string  `json:"sections"` // titles of those that stand, in reading order
	LeftOut  []NotTold `json:"left_out"`
	Blank    float64   `json:"blank"` // share of the page's squares of 6 mm without ink, 0..1; lines to write on are no ink
}

// NotTold is what found no room on a page.
type NotTold struct {
	Section string  `json:"section"`           // its title on the page
	Count   int     `json:"count,omitempty"`   // rows of it; 0: all of it, unless details are named
	Reach   float64 `json:"reach,omitempty"`   // of the rows together
	Details int     `json:"details,omitempty"` // clauses of rows that stand
}
