package sheet

// Row is one thing a part says. It can be set in fewer lines than the most it takes.
type Row struct {
	Most   int
	Fewest int     // lines in which it still makes sense; 0: one
	Weight float64 // what is lost with it, for who names it
	Set    func(lines int) Block
}

func (r Row) whole() Block { return r.Set(max(1, r.Most)) }

func (r Row) fewest() int { return min(max(1, r.Fewest), max(1, r.Most)) }

// Part is one part of a column: rows to be set, or something that draws itself.
// Heights include its rule and its title.
type Part struct {
	Title  string
	Asides []string // what the title is read with, in the type of the text: the first that fits

	Rows   []Row
	Short  int  // so many rows stand in the least height; 0: one
	Plenty int  // from so many rows on nothing is lost with the others; 0: something is with each
	Silent bool // nothing is lost with it

	Least float64 // height under which it makes no sense; 0: nothing to say
	Want  float64 // height with all it has to say
	Out   []Loss  // what is lost with it; nil: it by its title
	At    func(h float64) Block
}

// Loss is something that found no room.
type Loss struct {
	Half    int // 1 or 2 for a half of the page, 0 for all of it
	Title   string
	Count   int     // so many rows of it; 0: all of it, unless clauses are named
	Weight  float64 // of the rows together
	Clauses int     // so many clauses of a row that stands
}

// losses are what is lost where a part finds no room.
func (p Part) losses() []Loss {
	switch {
	case p.Silent:
		return nil
	case p.Out != nil:
		return p.Out
	}
	return []Loss{{Title: p.Title}}
}
