package sheet

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
)

// someSections have rows that name themselves, in any column.
func someSections(m *rand.Rand, n int) ([]Section, []int) {
	var list []Section
	rows := make([]int, n)
	for i := range n {
		rows[i] = 1 + m.IntN(5)
		lines := make([]int, rows[i])
		for j := range lines {
			lines[j] = m.IntN(30)
		}
		rank, most := m.IntN(9), 1+m.IntN(4)
		list = append(list, Section{Rank: rank, In: func(c *Column) Part {
			p := Part{Title: fmt.Sprintf("part%d", i)}
			for j, n := range lines {
				words := c.F.Own(fmt.Sprintf("row%d.%d ", i, j)+strings.Repeat("and so on ", n), Ink{Size: 9})
				p.Rows = append(p.Rows, Row{Most: most, Weight: 1, Set: func(lines int) Block { return c.F.Para(words, c.W, lines) }})
			}
			return p
		}})
	}
	return list, rows
}

// Whatever the sections and the rooms: no height is exceeded, every row stands once or is
// counted as lost, a lost section would have fitted nowhere, and in a room the lower rank
// stands first.
func TestPackKeepsItsWord(t *testing.T) {
	f := testFaces(t)
	for seed := range uint64(300) {
		m := rand.New(rand.NewPCG(seed, 2))
		sections, rows := someSections(m, 1+m.IntN(9))
		rooms := []Room{
			{&Column{F: f, W: 60 * MM, Size: 9, Leading: 11}, 500 * m.Float64()},
			{&Column{F: f, W: 121 * MM, Size: 9, Leading: 11}, 300 * m.Float64()},
		}
		packed, lost := Pack(rooms, sections, 6)
		text, least := "", make([]float64, len(rooms))
		for i, b := range packed {
			if b.H > rooms[i].H+0.1 {
				t.Fatalf("seed %d: %g high in %g", seed, b.H, rooms[i].H)
			}
			checkItems(t, b.Block, rooms[i].Column.W, rooms[i].H)
			text += strings.Join(runs(b.Items), " ") + " "
			last := -1
			for _, s := range runs(b.Items) {
				var n int
				if _, err := fmt.Sscanf(s, "part%d", &n); err == nil {
					p := rooms[i].Column.Measure(sections[n].In(rooms[i].Column))
					if sections[n].Rank < last {
						t.Fatalf("seed %d: rank %d stands behind %d", seed, sections[n].Rank, last)
					}
					last = sections[n].Rank
					least[i] += p.Least + 6
				}
			}
			lost = append(lost, b.Lost...)
		}
		gone := map[string]Loss{}
		for _, o := range lost {
			gone[o.Title] = o
		}
		for i, n := range rows {
			shown := 0
			for j := range n {
				shown += strings.Count(text, fmt.Sprintf("row%d.%d ", i, j))
			}
			o, some := gone[fmt.Sprintf("part%d", i)]
			missing := o.Count
			if some && o.Count == 0 {
				missing = n
				for k, r := range rooms {
					if p := r.Column.Measure(sections[i].In(r.Column)); least[k]+p.Least < r.H {
						t.Fatalf("seed %d: part%d is lost, but room %d holds it", seed, i, k)
					}
				}
			}
			if shown+missing != n {
				t.Fatalf("seed %d: part%d shows %d of %d rows, %d are named", seed, i, shown, n, missing)
			}
		}
	}
}

// All sit in their least height before the first grows, and the first grows first.
func TestPackShortBeforeLong(t *testing.T) {
	f := testFaces(t)
	c := &Column{F: f, W: 200, Size: 9, Leading: 11}
	section := func(rank int, name string) Section {
		return Section{Rank: rank, In: func(c *Column) Part {
			p := Part{Title: name}
			for i := range 4 {
				p.Rows = append(p.Rows, Row{Most: 1, Set: func(int) Block { return c.F.Para(c.F.Own(fmt.Sprint(name, i), Ink{Size: 9}), c.W, 1) }})
			}
			return p
		}}
	}
	one := c.Measure(section(1, "a").In(c))
	count := func(h float64) (a, b int) {
		packed, _ := Pack([]Room{{c, h}}, []Section{section(2, "b"), section(1, "a")}, 6)
		for _, s := range runs(packed[0].Items) {
			if len(s) == 2 && s[0] == 'a' {
				a++
			}
			if len(s) == 2 && s[0] == 'b' {
				b++
			}
		}
		return a, b
	}
	both := 2*one.Least + 6
	for _, tc := range []struct {
		h    float64
		a, b int
	}{{one.Least + 1, 1, 0}, {both + 1, 1, 1}, {both + 500, 4, 4}} {
		if a, b := count(tc.h); a != tc.a || b != tc.b {
			t.Errorf("height %g: %d and %d rows, want %d and %d", tc.h, a, b, tc.a, tc.b)
		}
	}
	if a, b := count(both - 1); a == 0 || b != 0 {
		t.Errorf("a second section stands with %d rows where only the first has room", b)
	}
	if a, b := count(both + 2*(one.Want-one.Least)/3 + 1); a != 3 || b != 1 {
		t.Errorf("with room for two rows more: %d and %d", a, b)
	}
}

// Ruled lines fill what height there is and are no ink.
func TestRuled(t *testing.T) {
	c := &Column{F: testFaces(t), W: 200, Size: 9, Leading: 11}
	p := c.Ruled("to write", 7*MM, 11*MM)
	for _, h := range []float64{p.Least, 100, 333} {
		b := p.At(h)
		lines := 0
		for _, it := range b.Items {
			if l, ok := it.(Line); ok && l.ToWrite {
				lines++
			}
		}
		if want := int((h - c.over()) / (7 * MM)); lines != want || b.H > h+0.1 {
			t.Errorf("height %g: %d lines, want %d, %g high", h, lines, want, b.H)
		}
	}
}

// checkItems wants items within a box, and no text on another.
func checkItems(t *testing.T, b Block, w, h float64) {
	t.Helper()
	var boxes []Box
	for _, it := range b.Items {
		o := it.Bounds()
		if o.X < -0.1 || o.Y < -0.1 || o.X+o.W > w+0.1 || o.Y+o.H > h+0.1 {
			t.Fatalf("outside of %gx%g: %s", w, h, it.Dump())
		}
		if _, ok := it.(Run); ok {
			for _, other := range boxes {
				if o.X+0.2 < other.X+other.W && other.X+0.2 < o.X+o.W && o.Y+0.2 < other.Y+other.H && other.Y+0.2 < o.Y+o.H {
					t.Fatalf("%s meets another text", it.Dump())
				}
			}
			boxes = append(boxes, o)
		}
	}
}

// runs are the texts of items.
func runs(items []Item) []string {
	var list []string
	for _, it := range items {
		if r, ok := it.(Run); ok {
			list = append(list, r.S)
		}
	}
	return list
}

// rowsNamed is a section of short rows, each a line.
func rowsNamed(rank int, name string, n int, set func(*Part)) Section {
	return Section{Rank: rank, In: func(c *Column) Part {
		p := Part{Title: name + " title"}
		for i := range n {
			p.Rows = append(p.Rows, Row{Most: 1, Set: func(int) Block { return c.F.Para(c.F.Own(fmt.Sprint(name, i), Ink{Size: 9}), c.W, 1) }})
		}
		set(&p)
		return p
	}}
}

// rowsIn counts the rows of a section that stand in a block.
func rowsIn(b Block, name string) int {
	n := 0
	for _, s := range runs(b.Items) {
		if len(s) == len(name)+1 && strings.HasPrefix(s, name) {
			n++
		}
	}
	return n
}

// The room that a section leaves for the next column is that of those which stay.
func TestRoomLeftIsUsed(t *testing.T) {
	c := &Column{F: testFaces(t), W: 200, Size: 9, Leading: 11}
	a, b := rowsNamed(1, "a", 4, func(*Part) {}), rowsNamed(2, "b", 4, func(*Part) {})
	least := c.Measure(a.In(c)).Least
	packed, lost := Pack([]Room{{c, 2*least + 6 + 1}, {c, 500}}, []Section{a, b}, 6)
	if len(lost) > 0 || rowsIn(packed[0].Block, "a") != 3 || rowsIn(packed[1].Block, "b") != 4 {
		t.Errorf("%d rows of the first section, %d of the second in the next room, lost %v", rowsIn(packed[0].Block, "a"), rowsIn(packed[1].Block, "b"), lost)
	}
}

// So many rows as are to stand do in any height; and where so many stand as are plenty nothing
// is lost with the others.
func TestRowsThatStand(t *testing.T) {
	c := &Column{F: testFaces(t), W: 200, Size: 9, Leading: 11}
	for plenty, want := range map[int]int{0: 3, 2: 0, 3: 3} {
		p := c.Measure(rowsNamed(1, "a", 5, func(p *Part) { p.Short, p.Plenty = 2, plenty }).In(c))
		for _, h := range []float64{0, p.Least} {
			b := p.At(h)
			lost := 0
			for _, o := range b.Lost {
				lost += o.Count
			}
			if rowsIn(b, "a") != 2 || lost != want {
				t.Errorf("plenty %d, %g high: %d rows stand, %d are lost, want 2 and %d", plenty, h, rowsIn(b, "a"), lost, want)
			}
		}
	}
}

// Of the last sections so many go to the next room as lose least: here the small one, though
// the long one beside it wants more than the room has, too.
func TestPackLosesLeast(t *testing.T) {
	f := testFaces(t)
	section := func(title string, rows int) Section {
		return Section{In: func(c *Column) Part {
			p := Part{Title: title, Short: 1}
			for i := range rows {
				p.Rows = append(p.Rows, Row{Most: 1, Set: func(int) Block { return c.F.Para(c.F.Own(fmt.Sprintf("%s%d", title, i), Ink{Size: 9}), c.W, 1) }})
			}
			return p
		}}
	}
	column := func() *Column { return &Column{F: f, W: 60 * MM, Size: 9, Leading: 11} }
	line, over := f.Para(f.Own("x", Ink{Size: 9}), 60*MM, 1).H, column().over()
	rooms := []Room{{column(), 2*over + 21.5*line + 2}, {column(), 2*over + 4*line + 4}}
	packed, lost := Pack(rooms, []Section{section("first", 1), section("long", 30), section("small", 2)}, 2)
	if n := lostIn(packed) + Lost(lost); n != 10 || fmt.Sprint(packed[0].Titles, packed[1].Titles) != "[first long] [small]" {
		t.Errorf("%d lost, %q and %q", n, packed[0].Titles, packed[1].Titles)
	}
}
