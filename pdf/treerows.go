package pdf

import (
	"slices"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// treeRows makes the rows of the lines to expect: one for each move of theirs.
type treeRows struct {
	forest
	side   *fact.Side
	narrow bool
	rows   []sheet.TreeRow
	at     []at        // the branch of each row, parting -1 for none
	rowOf  map[at]int  // and back
	notes  map[int]int // rows whose note a section prints, and its number
	mark   map[string]string
}

func newTreeRows(s *fact.Side, narrow bool) *treeRows { return rowsOf(s, lineTree(s), narrow) }

// rowsOf are the rows of a tree of partings.
func rowsOf(s *fact.Side, partings []fact.Parting, narrow bool) *treeRows {
	t := &treeRows{forest: grown(partings), side: s, narrow: narrow, rowOf: map[at]int{}, notes: map[int]int{}, mark: marks(s)}
	for n, root := range t.roots {
		parent := t.begin(root, n == 0)
		t.parting(root, parent)
	}
	return t
}

// lineTree is the partings of a side. Where its lines never part each line is one of its
// own, from the first move of theirs.
func lineTree(s *fact.Side) []fact.Parting {
	for _, f := range s.Partings {
		if len(f.Branches) > 0 {
			return s.Partings
		}
	}
	var list []fact.Parting
	first := 0 // plies before their first move
	if s.MyColor == "white" {
		first = 1
	}
	for _, x := range s.Exits {
		if len(x.Line) <= first {
			continue
		}
		br := fact.Branch{Move: x.Line[first], Share: fact.Share{P: x.Reach, Lo: x.Lo, Hi: x.Hi}, Reach: x.Reach, Next: -1, EndsWith: x.Kind, Note: x.Note, Best: x.Best}
		if rest := x.Line[first+1:]; len(rest) > 0 {
			br.State, br.Answer, br.Then = fact.Answered, rest[0], rest[1:]
		} else if x.Kind == fact.TheyLeave {
			br.State = fact.NoAnswer
		}
		list = append(list, fact.Parting{Stem: x.Line[:first], Reach: x.Reach, From: -1, Branches: []fact.Branch{br}})
	}
	return list
}

// marks are the letters of moves without an answer, by their line.
func marks(s *fact.Side) map[string]string {
	m := map[string]string{}
	for i, u := range s.Unanswered {
		m[strings.Join(u.Line, " ")] = letter(i)
	}
	return m
}

func (t *treeRows) add(r sheet.TreeRow, a at) int {
	t.rows = append(t.rows, r)
	t.at = append(t.at, a)
	i := len(t.rows) - 1
	if a.parting >= 0 {
		t.rowOf[a] = i
	}
	return i
}

// begin is the row before a parting that hangs on none: how the game begins. It is the row
// that the parting's branches hang on; -1 where there is nothing to say.
func (t *treeRows) begin(root int, first bool) int {
	stem := t.partings[root].Stem
	if len(stem) == 0 {
		return -1
	}
	r := sheet.TreeRow{Parent: -1, Label: words.YouBegin}
	if first && t.side.MyColor != "black" {
		r.Box = numbered(stem[0], 0)
		stem = stem[1:]
	} else {
		r.Label, r.Bare = numbered(stem[0], 0), true
		stem = stem[1:]
		if len(stem) > 0 && first {
			r.Bare, r.Box = false, numbered(stem[0], 1)
			stem = stem[1:]
		}
	}
	ply := len(t.partings[root].Stem) - len(stem)
	r.Text = func(sheet.TreeView) [][]sheet.Piece { return [][]sheet.Piece{t.movePieces(stem, ply)} }
	i := t.add(r, at{-1, -1})
	if first {
		return -1
	}
	return i
}

// parting adds a parting's branches, each with what hangs on it.
func (t *treeRows) parting(i, parent int) {
	for j := range t.partings[i].Branches {
		br := &t.partings[i].Branches[j]
		a := at{i, j}
		r := sheet.TreeRow{Parent: parent, Label: numbered(br.Move, t.ply(a)), Weight: max(br.Reach, 1e-6), Share: max(br.Share.P, 1e-6)}
		if br.Answer != "" {
			r.Box = numbered(br.Answer, t.ply(a)+1)
		}
		r.Empty = br.State == fact.NoAnswer
		if br.Next < 0 {
			r.Worth = br.Reach
		}
		_, r.Twice = t.letterOf(a) // tonight's work
		n := t.add(r, a)
		t.rows[n].Text = func(v sheet.TreeView) [][]sheet.Piece { return t.text(n, v) }
		t.rows[n].Aside = func(v sheet.TreeView) []sheet.Piece { return t.name(a, v) }
		if t.continues(a) {
			t.parting(br.Next, n)
		}
	}
}

// toMove is the line of a row to the move of theirs, toEnd to where it ends.
func (t *treeRows) toMove(a at) []string {
	return append(slices.Clone(t.partings[a.parting].Stem), t.branch(a).Move)
}

func (t *treeRows) toEnd(a at) []string {
	line := t.toMove(a)
	if br := t.branch(a); br.Answer != "" {
		line = append(append(line, br.Answer), br.Then...)
	}
	return line
}

// endOf is the line to where the note of a row stands: to the answer, if there is one.
func (t *treeRows) endOf(n int) []string {
	line := t.toMove(t.at[n])
	if br := t.branch(t.at[n]); br.Answer != "" {
		line = append(line, br.Answer)
	}
	return line
}

// text is what stands beside a row, most wanted first.
func (t *treeRows) text(n int, v sheet.TreeView) [][]sheet.Piece {
	a := t.at[n]
	br := t.branch(a)
	list := [][]sheet.Piece{{{S: words.MoveOdds(t.toMove(a), &br).Text, Whole: true}}}
	add := func(pieces ...sheet.Piece) {
		if len(pieces) > 0 {
			list = append(list, append([]sheet.Piece{{S: " · "}}, pieces...))
		}
	}
	letter, open := t.letterOf(a)
	if open { // before anything that may go
		add(t.noAnswer(letter)...)
	}
	if back := words.Back(br.Back); len(back) > 0 {
		add(clausePieces(back[0])...)
	}
	if k := t.notes[n]; k > 0 {
		add(sheet.Piece{Look: sheet.Strong, S: words.NoteMark(k).Text, Whole: true})
	}
	goes, ends := t.goesOn(a, v), t.ends(a, open)
	switch {
	case open && len(goes) > 0: // the letter stands behind the line it is about
		list = slices.Insert(list, 1, append([]sheet.Piece{{S: " · "}}, goes...))
	default:
		add(goes...)
	}
	add(ends...)
	if s := t.others(a, v); s != "" {
		add(sheet.Piece{S: s, Whole: true})
	}
	return list
}

// others says how often the moves come that don't stand, behind the last that does: in games
// where all that stand are counted, since the forecast's part of them would not fit beside.
func (t *treeRows) others(a at, v sheet.TreeView) string {
	said := words.Others(v.Others, t.narrow)
	if said == "" {
		return ""
	}
	left, of := 0, 0
	for j := range t.partings[a.parting].Branches {
		sister := at{a.parting, j}
		if row, known := t.rowOf[sister]; !known || !v.Stands(row) {
			continue
		}
		share := t.branch(sister).Share
		if !share.Counted() {
			return said
		}
		if of == 0 {
			left, of = share.Of, share.Of
		}
		left -= share.Seen
	}
	if of == 0 {
		return said
	}
	return words.OthersCounted(max(0, left), of, t.narrow)
}

// noAnswer says that a move has no answer, and its letter in the same word; one without is
// too rare to be tonight's work.
func (t *treeRows) noAnswer(letter string) []sheet.Piece {
	list := []sheet.Piece{{Look: sheet.Strong, S: words.NoAnswer, Whole: true}}
	if t.narrow {
		list[0].S = words.NoAnswerShort
	}
	if letter == "" {
		list[0].S = words.NoAnswerRare
		return list
	}
	list[0].Tied = true
	return append(list, sheet.Piece{Look: sheet.OnDisc, S: letter})
}

// letterOf is the letter of the move without an answer that a row or its line ends with.
func (t *treeRows) letterOf(a at) (string, bool) {
	letter, open := t.mark[strings.Join(t.toMove(a), " ")]
	if !open && t.branch(a).Next < 0 {
		letter, open = t.mark[strings.Join(t.toEnd(a), " ")]
	}
	return letter, open
}

// name is the opening's that a row leads to, where it is another than before.
func (t *treeRows) name(a at, v sheet.TreeView) []sheet.Piece {
	if !t.continues(a) || v.Leaf || t.narrow {
		return nil
	}
	next := t.partings[t.branch(a).Next]
	if next.Name == "" || next.Name == t.partings[a.parting].Name {
		return nil
	}
	return []sheet.Piece{{S: " · "}, {Look: sheet.Faint, S: next.Name}}
}

// goesOn is the moves to the next parting, or to the end.
func (t *treeRows) goesOn(a at, v sheet.TreeView) []sheet.Piece {
	br := t.branch(a)
	ply := t.ply(a) + 2
	pieces := t.movePieces(br.Then, ply) // the next parting's stem may be that of another order
	if to, ok := t.joins(a, v); ok {
		if len(pieces) > 0 {
			pieces = append(pieces, sheet.Piece{S: " · "})
		}
		pieces = append(pieces, clausePieces(words.AsAfter(t.rows[to].Label))...)
	}
	return pieces
}

// joins is the row that stands under which a branch goes on by another order of moves.
func (t *treeRows) joins(a at, v sheet.TreeView) (int, bool) {
	next := t.branch(a).Next
	if next < 0 || next >= len(t.partings) || t.continues(a) || t.parent[next].parting < 0 {
		return 0, false
	}
	to := t.rowOf[t.parent[next]]
	return to, v.Stands(to)
}

// movePieces sets moves, the user's own strong.
func (t *treeRows) movePieces(san []string, ply int) []sheet.Piece {
	mine := 0
	if t.side.MyColor == "black" {
		mine = 1
	}
	return lineOf(san, ply, func(ply int) bool { return ply%2 == mine })
}

// ends says how the line of a row ends; a move without an answer says so before.
func (t *treeRows) ends(a at, open bool) []sheet.Piece {
	br := t.branch(a)
	switch {
	case open:
		return nil
	case br.State == fact.NoAnswer:
		return t.noAnswer("")
	}
	list := clausePieces(words.BranchEnds(&br, t.side.MyColor))
	for i := range list {
		list[i].Look = sheet.Strong
	}
	return list
}

// mostNotes are the notes that a section prints.
const mostNotes = 4

// lineEnds is how much more a note is worth where the line ends.
const lineEnds = 4.0

// all numbers every row with a note, if notes are printed at all.
func (t *treeRows) all(most int) {
	for n, a := range t.at {
		if a.parting >= 0 && most > 0 && t.branch(a).Note != "" {
			t.notes[n] = mostNotes
		}
	}
}

// number chooses the notes that a section prints from the rows that stand, by what comes
// through the row, more where the line ends there, and numbers them in reading order.
func (t *treeRows) number(stands []bool, most int) []int {
	worth := func(n int) float64 {
		br := t.branch(t.at[n])
		if br.Next < 0 {
			return lineEnds * br.Reach
		}
		return br.Reach
	}
	var list []int
	seen := map[string]bool{}
	for n, a := range t.at {
		if a.parting >= 0 && stands[n] && t.branch(a).Note != "" && !seen[t.branch(a).Note] {
			list = append(list, n)
			seen[t.branch(a).Note] = true
		}
	}
	slices.SortStableFunc(list, func(a, b int) int {
		switch wa, wb := worth(a), worth(b); {
		case wa > wb:
			return -1
		case wa < wb:
			return 1
		}
		return 0
	})
	list = list[:min(len(list), most)]
	slices.Sort(list)
	for k, n := range list {
		t.notes[n] = k + 1
	}
	return list
}
