// Package lines writes the lines of a Report for other programs. In come the Report
// and the books it was made from, out go PGN and EPD: the lines to expect with the
// user's own notes, how often each comes and why it ends.
package lines

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// WritePGN writes the lines to expect of every side as PGN, a game for each:
// the likeliest line is the main line, the others are variations, with the
// user's own notes and glyphs and, where a line ends, how often it comes and
// why it ends.
func WritePGN(r *fact.Report, w io.Writer, books []*book.Book) error {
	for i := range r.Sides {
		s := &r.Sides[i]
		if err := pgn.WriteLine(w, lineTags(r, s), Tree(r.Engine, s, books[i]), "*"); err != nil {
			return err
		}
	}
	return nil
}

func lineTags(r *fact.Report, s *fact.Side) pgn.Tags {
	white, black := r.Heading.Me, r.Opponent.Name
	if s.MyColor == board.Black.String() {
		white, black = black, white
	}
	return pgn.Tags{
		{Name: "Event", Value: words.LinesTitle}, {Name: "Date", Value: r.Basis.AsOf.Tag()},
		{Name: "White", Value: named(white)}, {Name: "Black", Value: named(black)},
		{Name: "Annotator", Value: "foreply"},
	}
}

func named(s string) string {
	if s == "" {
		return "?"
	}
	return s
}

// branch is the lines to expect as a tree by moves.
type branch struct {
	san      string
	reach    float64 // of the exits it leads to, or as a parting tells it: with what was cut
	comments []string
	glyphs   []int
	next     []*branch
}

// Tree are the lines to expect of a side as one tree: the likeliest is the main line.
func Tree(engine *fact.Engine, s *fact.Side, book *book.Book) *pgn.Line {
	root := &branch{}
	if engine != nil {
		root.comments = []string{words.Evaluations(engine)}
	}
	for i := range s.Exits {
		x := &s.Exits[i]
		at, t := root, walk.Resolved(x.Line)
		for j, m := range t.Moves {
			at = at.child(t.SANs[j], func(b *branch) {
				b.glyphs = book.Glyphs(t.Keys[j], m)
				if note := book.Note(t.Keys[j+1]); note != "" {
					b.comments = append(b.comments, note)
				}
			})
			at.reach += x.Reach
		}
		at.comments = append(at.comments, words.Exit(x)+": "+words.HowOften(x, s.Counted()))
		if x.Best != nil {
			at.comments = append(at.comments, words.EvalCommand(x.Best))
		}
	}
	root.judge(s)
	for i := range s.Partings {
		root.tell(&s.Partings[i])
	}
	root.sort()
	return &pgn.Line{Comments: root.comments, Moves: root.moves()}
}

// judge adds what an engine found to the moves it is about: the best answers at a
// gap, moves of the book to look at again, and how to punish theirs.
func (b *branch) judge(s *fact.Side) {
	add := func(line []string, text string) {
		if at := b.find(line); at != nil && text != "" {
			at.comments = append(at.comments, text)
		}
	}
	for i := range s.Unanswered {
		u := &s.Unanswered[i]
		add(u.Line, words.Best(u.Best, len(u.Line), s.MyColor))
	}
	for i := range s.Again {
		a := &s.Again[i]
		add(slices.Concat(a.Line, a.Played.Moves[:1]), words.LookAgain(a, s.MyColor))
	}
	for i := range s.Traps {
		if t := &s.Traps[i]; t.Best != nil {
			add(t.Line, words.Trap(t).String())
		}
	}
}

func (b *branch) child(san string, fill func(*branch)) *branch {
	if n := b.find([]string{san}); n != nil {
		return n
	}
	n := &branch{san: san}
	fill(n)
	b.next = append(b.next, n)
	return n
}

// find follows a line; nil if it is not there.
func (b *branch) find(line []string) *branch {
	for _, san := range line {
		i := slices.IndexFunc(b.next, func(n *branch) bool { return n.san == san })
		if i < 0 {
			return nil
		}
		b = b.next[i]
	}
	return b
}

// tell takes the reach of moves from the parting they stand at.
func (b *branch) tell(f *fact.Parting) {
	at := b.find(f.Stem)
	if at == nil {
		return
	}
	for i := range f.Branches {
		if n := at.find([]string{f.Branches[i].Move}); n != nil {
			n.reach = max(n.reach, f.Branches[i].Reach)
		}
	}
}

// sort puts the likeliest moves first.
func (b *branch) sort() {
	slices.SortStableFunc(b.next, func(x, y *branch) int { return cmp.Compare(y.reach, x.reach) })
	for _, n := range b.next {
		n.sort()
	}
}

// moves turns the tree into a line: the first child goes on, the others are
// variations of it.
func (b *branch) moves() []pgn.Node {
	var nodes []pgn.Node
	for len(b.next) > 0 {
		first := b.next[0]
		node := first.node()
		for _, other := range b.next[1:] {
			alt := append([]pgn.Node{other.node()}, other.moves()...)
			node.Variations = append(node.Variations, &pgn.Line{Moves: alt})
		}
		nodes = append(nodes, node)
		b = first
	}
	return nodes
}

func (b *branch) node() pgn.Node {
	return pgn.Node{SAN: b.san, NAGs: slices.Clone(b.glyphs), Comments: b.comments}
}

// WriteEPD writes the exits of every side as EPD (PGN standard 16.2), a line
// each: the opcode id says where the line ends, c0 the moves, c1 the reach, and c2
// to c9 the moves for which c0 is too short.
func WriteEPD(r *fact.Report, w io.Writer) error {
	for i := range r.Sides {
		for j := range r.Sides[i].Exits {
			x := &r.Sides[i].Exits[j]
			moves := chunks(words.Movetext(x.Line, 0))
			text := fmt.Sprintf("%s id %s; c0 %s; c1 %s;", x.EPD, quoted(words.Exit(x)), quoted(moves[0]), quoted(fmt.Sprintf("reach %.4f", x.Reach)))
			for k, more := range moves[1:min(len(moves), 9)] {
				text += fmt.Sprintf(" c%d %s;", k+2, quoted(more))
			}
			if _, err := io.WriteString(w, text+"\n"); err != nil {
				return err
			}
		}
	}
	return nil
}

// longestString is how many characters a string has at most (PGN standard 7).
const longestString = 255

// chunks cuts a text between words into pieces that are short enough for a string.
func chunks(text string) []string {
	var out []string
	for len(text) > longestString {
		cut := strings.LastIndexByte(text[:longestString+1], ' ')
		out = append(out, text[:cut])
		text = text[cut+1:]
	}
	return append(out, text)
}

// quoted is an EPD string operand, which has no escapes.
func quoted(s string) string { return `"` + strings.ReplaceAll(s, `"`, "'") + `"` }
