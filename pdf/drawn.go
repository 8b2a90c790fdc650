package pdf

import (
	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// drawn is what of a Report stands on a page, while it is made.
type drawn struct{ fact.Page }

func (d *drawn) leftOut(lost []sheet.Loss) {
	d.LeftOut = []fact.NotTold{}
	for _, o := range together(lost) {
		d.LeftOut = append(d.LeftOut, fact.NotTold{Section: o.Title, Count: o.Count, Reach: o.Weight, Details: o.Clauses})
	}
}

// add puts what two colours show on one page together; the share is that of both.
func (d *drawn) add(other drawn) {
	if len(d.Sections) > 0 {
		d.Shown = (d.Shown + other.Shown) / 2
	} else {
		d.Shown = other.Shown
	}
	d.Rows += other.Rows
	d.Sections = append(d.Sections, other.Sections...)
}

// ofTree tells which rows of the lines to expect stand, and what share of all exits ends
// in one of them.
func ofTree(t *treeRows, stands []bool) drawn {
	d := drawn{fact.Page{Sections: []string{words.LinesToExpect}}}
	all, whole := 0.0, 0.0
	for i, r := range t.rows {
		all += r.Worth
		if stands[i] {
			whole += r.Worth
		}
		if stands[i] && r.Weight > 0 { // not how the game begins
			d.Rows++
		}
	}
	if all > 0 {
		d.Shown = whole / all
	}
	return d
}
