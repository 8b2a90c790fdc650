package profile

import (
	"fmt"
	"slices"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// Repertoires are typed by hand: line below line, each with the number it goes on
// from; brackets before their move; numbers without their dots. What a move belongs
// to is told by three things: where it stands, its number, and which moves can be
// played. Where only one reading can be played, that is it. Where several can, the
// number counts, and a problem says that it was a guess.

// strand is a line being put together, with its positions.
type strand struct {
	line    *Line
	first   int              // half-move of its first move
	read    int              // moves read of it, those that could not be played too
	before  []board.Position // before each of its moves, and behind the last
	lost    bool             // a move in it could not be played
	shift   int              // what numbers tell more than half-moves count
	parent  *strand          // the line that it leaves; nil for the main line
	bracket bool             // it was put into brackets
}

// mostKept is how many positions of a line are kept to go back to: further than
// move numbers reach.
const mostKept = 2000

// deepest is how many lines up a number is looked for.
const deepest = 64

// farAhead is how many moves are tried to judge a reading.
const farAhead = 40

// next is the half-move that comes next.
func (s *strand) next() int { return s.first + s.read }

// end is the position behind the last move.
func (s *strand) end() *board.Position { return &s.before[len(s.before)-1] }

// at returns the position before a half-move of the line, nil when it isn't known.
func (s *strand) at(ply int) *board.Position {
	if i := ply - s.first; i >= 0 && i < len(s.before) && i < mostKept {
		return &s.before[i]
	}
	return nil
}

// find returns the line that a number fits into, and the half-move there: the
// line being read or, further up, one that it left. Those outside of the brackets
// can't be gone on with, only left elsewhere.
func (s *strand) find(told int) (host *strand, ply int) {
	outside := false
	for depth := 0; s != nil && depth < deepest; depth++ {
		q := told - s.shift
		if q >= s.first && (q > s.first || s.parent == nil) && (q < s.next() || q == s.next() && !outside) {
			return s, q
		}
		outside = outside || s.bracket
		s = s.parent
	}
	return nil, 0
}

// leave begins another line at a half-move of this one.
func (s *strand) leave(ply int, bracket bool) *strand {
	v := &strand{line: &Line{}, first: ply, shift: s.shift, parent: s, bracket: bracket, lost: true}
	pos := s.at(ply)
	if pos == nil {
		return v // behind a move that can't be played
	}
	if i := ply - s.first; i < len(s.line.Moves) {
		n := &s.line.Moves[i]
		n.Variations = append(n.Variations, v.line)
		v.before, v.lost = []board.Position{*pos}, false
		return v
	}
	back := *s // in place of the move that could not be played
	back.read, back.lost = len(s.line.Moves), false
	return &back
}

// run adds moves and what hangs on them to a line. placed says that the first of
// them surely belongs there.
func (r *replayer) run(moves []pgn.Node, top *strand, placed bool) {
	var early []*pgn.Line // variations before their move
	for i := range moves {
		if i > 0 || !placed {
			top = r.place(moves[i:], top)
		}
		r.add(moves[i:], top)
		if top.lost {
			early = nil
			continue
		}
		for _, v := range early {
			r.variation(v, top, top.next()-1, top.shift)
		}
		early = nil
		for _, v := range moves[i].Variations {
			if r.bracket(v, moves[i+1:], top) {
				early = append(early, v)
			}
		}
	}
}

// reading is a place that moves may belong to.
type reading struct {
	host *strand
	ply  int  // of the first of them there
	told int  // the number that it then should have
	slip bool // which is not the one it has
	n    int  // how many of them can be played
	all  bool // none of them can't
}

// readings lists the places that moves may belong to, the likeliest first: where
// their number puts them; where it would with the dots of Black's moves, which are
// often forgotten; where they stand, which is half-move here of top.
func (r *replayer) readings(moves []pgn.Node, top *strand, here int) []reading {
	var list []reading
	told, stands := moves[0].Told, false
	for t := told; t <= told+told%2; t++ {
		if host, ply := top.find(t); host != nil {
			stands = stands || host == top && ply == here
			list = append(list, reading{host: host, ply: ply, told: t})
		}
	}
	if !stands && !top.lost {
		list = append(list, reading{host: top, ply: here, told: told, slip: true})
	}
	for i := range list {
		x := &list[i]
		x.n, x.all = r.playable(x.host.at(x.ply), moves, x.told)
	}
	return list
}

// best picks the reading in which most can be played. sure says that no other can
// be played to its end.
func best(list []reading) (x reading, sure bool) {
	x, sure = list[0], true
	for _, y := range list[1:] {
		switch {
		case y.all && !x.all, y.all == x.all && y.n > x.n:
			sure = !x.all && (y.all || x.n == 0)
			x = y
		default:
			sure = sure && !y.all && (x.all || y.n == 0)
		}
	}
	return x, sure && !x.slip
}

// place returns the line that the first of the moves belongs to.
func (r *replayer) place(rest []pgn.Node, top *strand) *strand {
	n := &rest[0]
	if n.Told == 0 || n.Told-top.shift == top.next() {
		return top
	}
	list := r.readings(rest, top, top.next())
	if len(list) == 0 {
		return top // behind a move that could not be played
	}
	x, sure := best(list)
	switch {
	case x.slip:
		r.guess(n, x, fmt.Sprintf("move number %s where %s was to come; read on", number(n.Told), number(x.ply+top.shift)))
		top.shift = n.Told - x.ply
	case !sure && x.host == top && x.ply == top.next():
		r.guess(n, x, fmt.Sprintf("read on as %s; its number says %s", number(x.told), number(n.Told)))
	case !sure:
		r.guess(n, x, fmt.Sprintf("read as another line from %s on, by its number; it could belong elsewhere too", number(x.told)))
	}
	if x.ply == x.host.next() && !x.host.lost {
		return x.host
	}
	return x.host.leave(x.ply, false)
}

// number words the place of a half-move: 3. for White's, 3... for Black's.
func number(ply int) string {
	if ply%2 == 1 {
		return fmt.Sprintf("%d.", (ply+1)/2)
	}
	return fmt.Sprintf("%d...", ply/2)
}

func (r *replayer) guess(n *pgn.Node, x reading, message string) {
	r.report(pgn.Problem{
		Kind: pgn.Guess, Severity: pgn.Warning, Line: n.Line, Column: n.Column, Ply: x.ply, Token: r.game.Token(n),
		Message: message, Hint: "put variations between ( and ), behind the move that they replace",
	})
}

// bracket reads a variation that stands behind the last move of a line. It belongs
// to that move, or to another by its number. True: it belongs to the one that
// follows, which is not read yet.
func (r *replayer) bracket(v *pgn.Line, rest []pgn.Node, top *strand) (early bool) {
	ply := top.next() - 1
	if len(v.Moves) == 0 || v.Moves[0].Told == 0 || v.Moves[0].Told-top.shift == ply && r.fits(v, top.at(ply)) {
		r.variation(v, top, ply, top.shift)
		return false
	}
	n := &v.Moves[0]
	x, sure := best(r.readings(v.Moves, top, ply))
	ahead := x.host == top && x.ply > ply && len(rest) > 0
	switch {
	case x.slip:
		r.guess(n, x, fmt.Sprintf("the variation has number %s, read as one to the move before, %s", number(n.Told), number(ply+top.shift)))
	case !sure && !(ahead && (rest[0].Told == n.Told || rest[0].Told == x.told)):
		r.guess(n, x, fmt.Sprintf("the variation is read as one to %s, by its number; it could be one to the move before", number(x.told)))
	}
	switch {
	case x.ply < x.host.next():
		r.variation(v, x.host, x.ply, x.told-x.ply)
	case ahead && (rest[0].Told == 0 || rest[0].Told == n.Told || rest[0].Told == x.told):
		return true
	default:
		r.goOn(v, x.host)
	}
	return false
}

// fits reports whether the first move of a variation can be played from a position.
func (r *replayer) fits(v *pgn.Line, from *board.Position) bool {
	if from == nil {
		return false
	}
	_, err := resolveTyped(from, []byte(v.Moves[0].SAN))
	return err == nil
}

// variation reads an alternative to a half-move of a line.
func (r *replayer) variation(v *pgn.Line, host *strand, ply, shift int) {
	s := host.leave(ply, true)
	s.shift = shift
	s.line.Comments = v.Comments
	r.run(v.Moves, s, true)
}

// goOn reads what stands in brackets behind the last move of a line, and by its
// number goes on from there.
func (r *replayer) goOn(v *pgn.Line, top *strand) {
	if n := len(top.line.Moves); n > 0 {
		last := &top.line.Moves[n-1]
		last.Comments = slices.Concat(last.Comments, v.Comments)
	}
	r.run(v.Moves, top, true)
}

// playable counts how many moves can be played one after another from a position,
// up to the first whose number tells another place than the one behind told; all
// says that none of these could not be played.
func (r *replayer) playable(from *board.Position, moves []pgn.Node, told int) (n int, all bool) {
	if from == nil {
		return 0, false
	}
	pos := *from
	for i := range moves[:min(len(moves), farAhead)] {
		if i > 0 && moves[i].Told > 0 && moves[i].Told != told {
			return n, true
		}
		found, err := resolveTyped(&pos, []byte(moves[i].SAN))
		if err != nil {
			return n, false
		}
		for _, m := range found {
			pos.Play(m)
		}
		told += len(found)
		n++
	}
	return n, true
}

// add plays the first of the moves at the end of a line.
func (r *replayer) add(rest []pgn.Node, top *strand) {
	top.read++
	if top.lost {
		return
	}
	n, ply := &rest[0], top.next()-1
	found, err := r.resolve(rest, top)
	if err != nil {
		top.lost = true
		r.report(moveProblem(r.game.Token(n), n.SAN, ply, n.Line, n.Column, top.end(), err))
		return
	}
	for i, m := range found {
		pos := *top.end()
		node := Node{Ply: ply + i, Move: m, SAN: pos.SAN(m), FileLine: n.Line, Column: n.Column}
		if i == len(found)-1 {
			node.NAGs, node.Comments = n.NAGs, n.Comments
		}
		top.line.Moves = append(top.line.Moves, node)
		pos.Play(m)
		if len(top.before) > mostKept {
			top.before[len(top.before)-1] = pos
		} else {
			top.before = append(top.before, pos)
		}
	}
	top.read += len(found) - 1
}

// resolve finds the move that the first of the moves means; two where two pawns'
// moves are glued together.
func (r *replayer) resolve(rest []pgn.Node, top *strand) ([]board.Move, error) {
	n := &rest[0]
	found, err := resolveTyped(top.end(), []byte(n.SAN))
	if err != nil || !r.small || n.SAN[0] != 'b' || top.end().At(found[0].From()).Kind() != board.Pawn {
		return found, err
	}
	bishop, err := top.end().Resolve([]byte("B" + n.SAN[1:]))
	if err != nil {
		return found, nil
	}
	var far [2]int
	for i, m := range [...]board.Move{found[0], bishop} {
		pos := *top.end()
		pos.Play(m)
		far[i], _ = r.playable(&pos, rest[1:], top.next()+top.shift)
	}
	if far[1] > far[0] {
		found[0] = bishop
	}
	r.report(pgn.Problem{
		Kind: pgn.Guess, Severity: pgn.Warning, Line: n.Line, Column: n.Column, Ply: top.next() - 1, Token: r.game.Token(n),
		Message: fmt.Sprintf("%s may be the pawn's or the bishop's; read as %s", r.game.Token(n), top.end().SAN(found[0])),
		Hint:    "write the bishop as B",
	})
	return found, nil
}

// resolveTyped is Resolve for what is typed by hand: two moves of pawns without a
// blank between them, as in 1.e4e5; a bishop's small letter before the b-file, which
// no pawn's move has.
func resolveTyped(pos *board.Position, san []byte) ([]board.Move, error) {
	if len(san) > 2 && san[0] == 'b' && san[1] == 'b' {
		if m, err := pos.Resolve(append([]byte("B"), san[1:]...)); err == nil {
			return []board.Move{m}, nil
		}
	}
	m, err := pos.Resolve(san)
	if err == nil || len(san) < 4 || san[0]-'a' > 7 || san[2]-'a' > 7 {
		return []board.Move{m}, err
	}
	first, e1 := pos.Resolve(san[:2])
	if e1 != nil {
		return nil, err
	}
	after := *pos
	after.Play(first)
	second, e2 := after.Resolve(san[2:])
	if e2 != nil {
		return nil, err
	}
	return []board.Move{first, second}, nil
}

// smallLetters reports whether the pieces of a tree are written in small letters.
func smallLetters(l *pgn.Line) bool {
	small, capital := pieceCase(l)
	return small && !capital
}

// pieceCase looks for pieces written in small letters and in capitals. What starts
// with a small b is a bishop's where no pawn of the b-file gets to.
func pieceCase(l *pgn.Line) (small, capital bool) {
	for i := range l.Moves {
		n := &l.Moves[i]
		if len(n.SAN) > 1 {
			switch c := n.SAN[0]; {
			case c == 'n' || c == 'r' || c == 'q' || c == 'k' || c == 'b' && n.SAN[1] >= 'd' && n.SAN[1] <= 'h':
				small = true
			case c >= 'A' && c <= 'Z' && c != 'O' && c != 'Z' && c != 'P':
				capital = true
			}
		}
		for _, v := range n.Variations {
			s, c := pieceCase(v)
			small, capital = small || s, capital || c
		}
	}
	return small, capital
}
