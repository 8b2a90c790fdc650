package sheet

import "slices"

// Room is a part of the page that sections are packed in, from the top.
type Room struct {
	Column *Column
	H      float64
}

// Section is something to say that can stand in any room.
type Section struct {
	Rank int // the lower is placed first, and grows first
	In   func(c *Column) Part
}

// Packed is what stands in a room.
type Packed struct {
	Block
	Titles []string // of the sections, from the top
}

// Pack places sections in the order of their ranks, each in its least height in the first
// room that still holds it; one that no room holds is lost. Only when all are placed do they
// grow in the room they have, in the same order: or some of them in the next room, where less
// is lost by that. So nothing useful goes while another says more than it must. Between
// sections there is air, and up to as much again where there is room. What is lost follows
// by rank; what a section itself leaves out stands in its room.
func Pack(rooms []Room, sections []Section, air float64) ([]Packed, []Loss) {
	sections = slices.Clone(sections)
	slices.SortStableFunc(sections, func(a, b Section) int { return a.Rank - b.Rank })
	placed := make([][]member, len(rooms))
	used := make([]float64, len(rooms))
	var lost []Loss
	for i, s := range sections {
		var p Part
		at := -1
		for k, r := range rooms {
			p = r.Column.Measure(s.In(r.Column))
			if p.Least <= 0 { // nothing to say
				break
			}
			if used[k]+p.Least+airBefore(placed[k], air) <= r.H+0.01 {
				at = k
				break
			}
		}
		switch {
		case at >= 0:
			used[at] += p.Least + airBefore(placed[at], air)
			placed[at] = append(placed[at], member{p, i})
		case p.Least > 0:
			lost = append(lost, p.losses()...)
		}
	}
	packed := filled(rooms, placed, used, air)
	for most := 1; len(lost) == 0; most++ {
		moved, taken := slices.Clone(placed), slices.Clone(used)
		if balance(rooms, sections, moved, taken, air, most) < most {
			break
		}
		if balanced := filled(rooms, moved, taken, air); lostIn(balanced) <= lostIn(packed) {
			packed = balanced
		}
	}
	return packed, lost
}

// filled are the rooms with the sections placed in them.
func filled(rooms []Room, placed [][]member, used []float64, air float64) []Packed {
	packed := make([]Packed, len(rooms))
	for i, r := range rooms {
		packed[i] = Packed{Block: fill(placed[i], r.H-used[i], air)}
		for _, m := range placed[i] {
			packed[i].Titles = append(packed[i].Titles, m.Title)
		}
	}
	return packed
}

// lostIn counts the rows and clauses that found no room.
func lostIn(packed []Packed) int {
	n := 0
	for i := range packed {
		n += Lost(packed[i].Lost)
	}
	return n
}

// Lost counts rows and clauses that found no room; a section counts as one.
func Lost(list []Loss) int {
	n := 0
	for _, o := range list {
		n += max(1, o.Count+o.Clauses)
	}
	return n
}

// member is a section placed in a room.
type member struct {
	Part
	section int
}

// balance moves the last sections of a room into the next one while the room has not what
// its sections want and the next one holds them, so many in all at most; it returns how many.
func balance(rooms []Room, sections []Section, placed [][]member, used []float64, air float64, most int) int {
	count := 0
	for k := len(rooms) - 2; k >= 0; k-- {
		next := rooms[k+1]
		var moved []member
		room := next.H - used[k+1]
		for n := len(placed[k]); n > 1 && count < most && wanted(placed[k], air) > rooms[k].H; n-- {
			last := placed[k][n-1]
			p := next.Column.Measure(sections[last.section].In(next.Column))
			if p.Least+air > room {
				break
			}
			room -= p.Least + air
			used[k+1] += p.Least + airBefore(append(moved, placed[k+1]...), air)
			used[k] -= last.Least + air
			moved = append(moved, member{p, last.section})
			placed[k] = placed[k][:n-1]
			count++
		}
		placed[k+1] = append(moved, placed[k+1]...)
		slices.SortStableFunc(placed[k+1], func(a, b member) int { return a.section - b.section })
	}
	return count
}

// wanted is the height of sections with all they have to say.
func wanted(list []member, air float64) float64 {
	sum := 0.0
	for i, p := range list {
		sum += airBefore(list[:i], air) + p.Want
	}
	return sum
}

// airBefore is the air before a further section.
func airBefore(placed []member, air float64) float64 {
	if len(placed) == 0 {
		return 0
	}
	return air
}

// fill sets parts under each other. What they don't need of the spare height beyond their
// least ones is shared between them as air.
func fill(parts []member, spare, air float64) Block {
	set := make([]Block, len(parts))
	for i, p := range parts {
		set[i] = p.At(p.Least)
		spare += p.Least - set[i].H
	}
	for i, p := range parts { // by rank
		if p.Want > set[i].H+0.01 && spare > 0 {
			before := set[i].H
			set[i] = p.At(before + spare)
			spare -= set[i].H - before
		}
	}
	if n := len(parts) - 1; n > 0 && spare > 0 {
		air += min(spare/float64(n), air)
	}
	var b Block
	for i := range set {
		if i > 0 {
			b.H += air
		}
		b.Put(set[i], 0, b.H)
		b.H += set[i].H
		b.Lost = append(b.Lost, set[i].Lost...)
	}
	return b
}
