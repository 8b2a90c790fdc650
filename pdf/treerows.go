package pdf

import (
	"fmt"
	"slices"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// treeRows makes the rows of the lines to expect: one for each move of theirs.
type treeRows struct {
	ranked
	side  *fact.Side
	rows  []sheet.TreeRow
	at    []at        // the branch of each row, fork -1 for none
	rowOf map[at]int  // and back
	notes map[int]int // rows whose note the margin prints, and its number
	mark  map[string]string
}

func newTreeRows(s *fact.Side) *treeRows {
	t := &treeRows{ranked: rank(s.Forks), side: s, rowOf: map[at]int{}, notes: map[int]int{}, mark: marks(s)}
	for n, root := range t.roots {
		parent := t.begin(root, n == 0)
		t.fork(root, parent)
	}
	return t
}

// marks are the letters of moves without an answer, by their line.
func marks(s *fact.Side) map[string]string {
	m := map[string]string{}
	for i, u := range s.Unanswered {
		m[strings.Join(u.Line, " ")] = key(i)
	}
	return m
}

func (t *treeRows) add(r sheet.TreeRow, a at) int {
	t.rows = append(t.rows, r)
	t.at = append(t.at, a)
	i := len(t.rows) - 1
	if a.fork >= 0 {
		t.rowOf[a] = i
	}
	return i
}

// begin is the row before a fork that hangs on none: how the game begins. It is the row
// that the fork's branches hang on; -1 where there is nothing to say.
func (t *treeRows) begin(root int, first bool) int {
	fk := t.forks[root]
	if len(fk.Stem) == 0 {
		return -1
	}
	stem := fk.Stem
	r := sheet.TreeRow{Parent: -1, Label: "you begin", Worth: 1}
	switch {
	case !first, t.side.MyColor == "black":
		r.Label, r.Bare = numberedLine(stem[:1], 0), true
		stem = stem[1:]
		if len(stem) > 0 && !first {
			break
		}
		if len(stem) > 0 {
			r.Bare, r.Box = false, numbered(stem[0], 1)
			stem = stem[1:]
		}
	default:
		r.Box = numbered(stem[0], 0)
		stem = stem[1:]
	}
	ply := len(fk.Stem) - len(stem)
	r.Text = func(sheet.TreeView) [][]sheet.Piece { return [][]sheet.Piece{t.movePieces(stem, ply)} }
	if first {
		t.add(r, at{-1, -1})
		return -1
	}
	return t.add(r, at{-1, -1})
}

func numberedLine(san []string, ply int) string {
	var list []string
	for i, m := range san {
		list = append(list, numbered(m, ply+i))
	}
	return strings.Join(list, " ")
}

// fork adds a fork's branches, each with what hangs on it.
func (t *treeRows) fork(i, parent int) {
	for j, br := range t.forks[i].Branches {
		a := at{i, j}
		r := sheet.TreeRow{Parent: parent, Label: numbered(br.Move, t.ply(a)), Weight: max(br.Reach, 1e-6), Share: max(br.Share.P, 1e-6)}
		if br.Answer != "" {
			r.Box = numbered(br.Answer, t.ply(a)+1)
		}
		r.Empty = br.State == fact.NoAnswer
		if br.Next < 0 {
			r.Worth = br.Reach
		}
		n := t.add(r, a)
		t.rows[n].Text = func(v sheet.TreeView) [][]sheet.Piece { return t.text(n, v) }
		t.rows[n].Aside = func(v sheet.TreeView) []sheet.Piece { return t.name(a, v) }
		if t.continues(a) {
			t.fork(br.Next, n)
		}
	}
}

// line is the whole line of a row: to the move of theirs, and to its end.
func (t *treeRows) line(a at) (move, end []string) {
	br := t.branch(a)
	move = append(slices.Clone(t.forks[a.fork].Stem), br.Move)
	end = slices.Clone(move)
	if br.Answer != "" {
		end = append(append(end, br.Answer), br.Then...)
	}
	return move, end
}

// text is what stands beside a row, most wanted first.
func (t *treeRows) text(n int, v sheet.TreeView) [][]sheet.Piece {
	a := t.at[n]
	br := t.branch(a)
	list := [][]sheet.Piece{{{S: words.Odds(br.Share), Whole: true}}}
	add := func(pieces ...sheet.Piece) {
		if len(pieces) > 0 {
			list = append(list, append([]sheet.Piece{{S: " · "}}, pieces...))
		}
	}
	add(t.goesOn(a, v)...)
	add(t.ends(a, v)...)
	if k := t.notes[n]; k > 0 {
		add(sheet.Piece{Look: sheet.Strong, S: fmt.Sprintf("note %d", k), Whole: true})
	}
	if s := words.Others(v.Others); s != "" {
		add(sheet.Piece{S: s, Whole: true})
	}
	return list
}

// name is the opening's that a row leads to, where it is another than before.
func (t *treeRows) name(a at, v sheet.TreeView) []sheet.Piece {
	if !t.continues(a) || v.Leaf {
		return nil
	}
	next := t.forks[t.branch(a).Next]
	if next.Name == "" || next.Name == t.forks[a.fork].Name {
		return nil
	}
	return []sheet.Piece{{S: " · "}, {Look: sheet.Faint, S: next.Name}}
}

// goesOn is the moves to the next parting, or to the end.
func (t *treeRows) goesOn(a at, v sheet.TreeView) []sheet.Piece {
	br := t.branch(a)
	ply := t.ply(a) + 2
	then := br.Then
	if t.continues(a) {
		then = t.forks[br.Next].Stem
		then = then[min(ply, len(then)):]
	}
	pieces := t.movePieces(then, ply)
	if to, ok := t.joined(a, v); ok {
		if len(pieces) > 0 {
			pieces = append(pieces, sheet.Piece{S: " · "})
		}
		pieces = append(pieces, sheet.Piece{S: "as after "}, sheet.Piece{S: t.rows[to].Label})
	}
	return pieces
}

// joined is the row that stands under which a branch goes on by another order of moves.
func (t *treeRows) joined(a at, v sheet.TreeView) (int, bool) {
	next := t.branch(a).Next
	if next < 0 || next >= len(t.forks) || t.continues(a) || t.parent[next].fork < 0 {
		return 0, false
	}
	to := t.rowOf[t.parent[next]]
	return to, v.Stands(to)
}

// movePieces sets moves, the user's own strong.
func (t *treeRows) movePieces(san []string, ply int) []sheet.Piece {
	var list []sheet.Piece
	mine := 0
	if t.side.MyColor == "black" {
		mine = 1
	}
	for i, m := range san {
		p := sheet.Piece{S: figurine(m), First: numbered(m, ply+i)}
		if i == 0 || (ply+i)%2 == 0 {
			p.S, p.First = p.First, ""
		}
		if (ply+i)%2 == mine {
			p.Look = sheet.Strong
		}
		if i > 0 {
			list = append(list, sheet.Piece{S: " "})
		}
		list = append(list, p)
	}
	return list
}

// ends says how the line of a row ends, with the letter of what has no answer.
func (t *treeRows) ends(a at, v sheet.TreeView) []sheet.Piece {
	br := t.branch(a)
	toMove, toEnd := t.line(a)
	letter, open := t.mark[strings.Join(toMove, " ")]
	if !open {
		letter, open = t.mark[strings.Join(toEnd, " ")]
	}
	switch {
	case open || br.State == fact.NoAnswer:
		pieces := []sheet.Piece{{Look: sheet.Strong, S: "no answer yet", Whole: true}}
		if open {
			pieces = append(pieces, sheet.Piece{S: " "}, sheet.Piece{Look: sheet.OnDisc, S: letter})
		}
		return pieces
	case br.Next >= 0:
		return nil
	}
	if s := ending(br, t.side.MyColor); s != "" {
		return []sheet.Piece{{Look: sheet.Strong, S: s, Whole: true}}
	}
	return nil
}

// mostNotes are the notes that the margin prints.
const mostNotes = 4

// number chooses the notes that the margin prints from the rows that stand, by what comes
// through the row, more where the line ends there, and numbers them in reading order.
func (t *treeRows) number(stands []bool, most int) []int {
	worth := func(n int) float64 {
		br := t.branch(t.at[n])
		if br.Next < 0 {
			return openWeight * br.Reach
		}
		return br.Reach
	}
	var list []int
	seen := map[string]bool{}
	for n, a := range t.at {
		if a.fork >= 0 && stands[n] && t.branch(a).Note != "" && !seen[t.branch(a).Note] {
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
