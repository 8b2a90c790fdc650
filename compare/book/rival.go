package book

import (
	"cmp"
	"maps"
	"slices"

	"foreply/profile"
	"foreply/profile/board"
)

// Rival is a position where two files give a first answer with equal right, so that
// only the order of the files makes one of them the main choice.
type Rival struct {
	Line          []string // SAN to the position, as the second file comes to it
	Ply           int      // of its first move
	First, Second Given
}

// Given is an answer with the place that gives it first.
type Given struct {
	SAN      string
	File     string
	FileLine int
}

// rival is a position where a file gave an answer after another file had.
type rival struct {
	pos  board.Position
	line []string
	ply  int
	nth  int // in order of the files
}

// noteRival remembers a position that has an answer of another file.
func (a *adder) noteRival(p *node, key uint64, pos *board.Position, n *profile.Node) {
	if len(p.answers) == 0 || p.answers[0].file == a.chapter.File || p.answers[0].move == n.Move {
		return
	}
	b := a.book
	if _, known := b.rivals[key]; !known {
		b.rivals[key] = rival{*pos, slices.Clone(a.sans), a.startPly, len(b.rivals)}
	}
}

// Rivals returns where the order of the files decided, the earliest positions first.
// What is settled by a role, by what the user wants first today, or within one file
// is not among them.
func (b *Book) Rivals() []Rival {
	var out []Rival
	for _, key := range b.inOrder() {
		r, answers := b.rivals[key], b.nodes[key].answers
		first := answers[0]
		at := slices.IndexFunc(answers, func(o answer) bool { return o.role == first.role && o.file != first.file })
		if at < 0 || first.role == ChosenRole {
			continue
		}
		out = append(out, Rival{r.line, r.ply, given(&r.pos, first), given(&r.pos, answers[at])})
	}
	return out
}

// inOrder are the positions with rivals, by depth and then in order of the files.
func (b *Book) inOrder() []uint64 {
	return slices.SortedFunc(maps.Keys(b.rivals), func(x, y uint64) int {
		one, two := b.rivals[x], b.rivals[y]
		return cmp.Or(cmp.Compare(one.ply+len(one.line), two.ply+len(two.line)), cmp.Compare(one.nth, two.nth))
	})
}

func given(pos *board.Position, a answer) Given { return Given{pos.SAN(a.move), a.file, a.line} }
