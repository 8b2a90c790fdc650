package find

import (
	"fmt"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/compare/words"
	"foreply/profile/board"
)

// pawns are one side's pawns by file and rank, as that side counts ranks: 0 is
// its own first.
type pawns [8][8]bool

// stock counts men by kind.
type stock [board.King + 1]int

var pointsOf = stock{board.Pawn: 1, board.Knight: 3, board.Bishop: 3, board.Rook: 5, board.Queen: 9}

func (s *stock) points() int {
	sum := 0
	for kind, n := range s {
		sum += n * pointsOf[kind]
	}
	return sum
}

// Structure reads the facts off the end of a line, for the side mine.
func Structure(t *walk.Track, mine board.Color) fact.Structure {
	var p [2]pawns
	var men [2]stock
	for s := range board.NoSquare {
		pc := t.End.At(s)
		if pc.Kind() == board.NoKind {
			continue
		}
		men[pc.Color()][pc.Kind()]++
		if pc.Kind() == board.Pawn {
			p[pc.Color()][s.File()][rankFor(s.Rank(), pc.Color())] = true
		}
	}
	out := fact.Structure{Open: []string{}, White: sideFacts(&p, board.White), Black: sideFacts(&p, board.Black)}
	for file := range 8 {
		if p[0].on(file)+p[1].on(file) == 0 {
			out.Open = append(out.Open, fileName(file))
		}
	}
	out.White.Material, out.Black.Material = men[board.White].points(), men[board.Black].points()
	white, black := men[board.White][board.Bishop] >= 2, men[board.Black][board.Bishop] >= 2
	out.White.Bishops, out.Black.Bishops = white && !black, black && !white
	out.White.King, out.Black.King = kings(t)
	out.Text = structureWords(&out, &men, mine)
	return out
}

// rankFor counts a rank from the side of c, and back.
func rankFor(rank int, c board.Color) int {
	if c == board.Black {
		return 7 - rank
	}
	return rank
}

func (p *pawns) on(file int) int {
	n := 0
	for _, stands := range p[file] {
		if stands {
			n++
		}
	}
	return n
}

func (p *pawns) between(from, to int) int {
	n := 0
	for file := from; file <= to; file++ {
		n += p.on(file)
	}
	return n
}

// beside reports whether a pawn on the files next to file stands on one of the
// ranks from..to.
func (p *pawns) beside(file, from, to int) bool {
	for _, f := range [...]int{file - 1, file + 1} {
		if f >= 0 && f < 8 && p.stands(f, from, to) {
			return true
		}
	}
	return false
}

func (p *pawns) stands(file, from, to int) bool {
	for rank := max(from, 0); rank <= min(to, 7); rank++ {
		if p[file][rank] {
			return true
		}
	}
	return false
}

func sideFacts(p *[2]pawns, c board.Color) fact.SideFacts {
	own, other := &p[c], &p[c.Other()]
	f := fact.SideFacts{
		QueenSide: own.between(0, 3), KingSide: own.between(4, 7),
		Isolated: []string{}, Doubled: []string{}, Backward: []string{}, Passed: []string{}, HalfOpen: []string{},
	}
	for file := range 8 {
		if own.on(file) > 1 {
			f.Doubled = append(f.Doubled, fileName(file))
		}
		if own.on(file) == 0 && other.on(file) > 0 {
			f.HalfOpen = append(f.HalfOpen, fileName(file))
		}
		for rank := range 8 {
			if !own[file][rank] {
				continue
			}
			name := fileName(file) + string(rune('1'+rankFor(rank, c)))
			if !own.beside(file, 0, 7) {
				f.Isolated = append(f.Isolated, name)
			} else if backward(own, other, file, rank) {
				f.Backward = append(f.Backward, name)
			}
			// The other side's ranks run the other way: what is before our rank r
			// stands on its ranks 0 to 6-r.
			if !other.stands(file, 0, 6-rank) && !other.beside(file, 0, 6-rank) {
				f.Passed = append(f.Passed, name)
			}
		}
	}
	return f
}

// backward: all own pawns on the files beside stand further forward, and a pawn
// of the other side guards the square in front. A pawn that has not moved yet is
// not called so: what becomes of it is open.
func backward(own, other *pawns, file, rank int) bool {
	if rank == 1 || own.beside(file, 0, rank) {
		return false
	}
	front := 7 - (rank + 1) // the square in front, as the other side counts
	return other.beside(file, front-1, front-1)
}

func fileName(file int) string { return string(rune('a' + file)) }

// kings tells what became of castling along the line.
func kings(t *walk.Track) (white, black string) {
	words := [2]string{}
	pos := board.Start()
	for _, m := range t.Moves {
		if pos.At(m.From()).Kind() == board.King {
			switch m.To().File() - m.From().File() {
			case 2:
				words[pos.Turn()] = fact.CastledShort
			case -2:
				words[pos.Turn()] = fact.CastledLong
			}
		}
		pos.Play(m)
	}
	rights := strings.Fields(t.End.EPD())[2]
	for c, letters := range [...]string{board.White: "KQ", board.Black: "kq"} {
		switch {
		case words[c] != "":
		case strings.ContainsAny(rights, letters):
			words[c] = fact.MayCastle
		default:
			words[c] = fact.LostCastling
		}
	}
	return words[board.White], words[board.Black]
}

// words tells what is uneven, from the side of mine: material, majorities, weak
// and strong pawns, bishops, kings.
func structureWords(s *fact.Structure, men *[2]stock, mine board.Color) string {
	own, other := &s.White, &s.Black
	if mine == board.Black {
		own, other = other, own
	}
	parts := nonEmpty(balance(&men[mine], &men[mine.Other()]), majorities(own, other))
	if text := sideFactWords(own); text != "" {
		parts = append(parts, "yours: "+text)
	}
	if text := sideFactWords(other); text != "" {
		parts = append(parts, "theirs: "+text)
	}
	parts = append(parts, nonEmpty(squares("open", s.Open))...)
	if men[0][board.Queen]+men[1][board.Queen] == 0 {
		parts = append(parts, "queens off")
	}
	if castled(own) && castled(other) && own.King != other.King {
		parts = append(parts, "castled on opposite sides")
	}
	return strings.Join(parts, "; ")
}

// balance tells the men that one side has more of.
func balance(mine, theirs *stock) string {
	var more, less []string
	for kind := board.Queen; kind >= board.Pawn; kind-- {
		switch d := mine[kind] - theirs[kind]; {
		case d > 0:
			more = append(more, menWords(d, kind))
		case d < 0:
			less = append(less, menWords(-d, kind))
		}
	}
	switch {
	case len(more)+len(less) == 0:
		return ""
	case len(less) == 0:
		return "you are up " + strings.Join(more, " and ")
	case len(more) == 0:
		return "you are down " + strings.Join(less, " and ")
	}
	return "you have " + strings.Join(more, " and ") + " for " + strings.Join(less, " and ")
}

func menWords(n int, kind board.Kind) string {
	name := [...]string{board.Pawn: "pawn", board.Knight: "knight", board.Bishop: "bishop", board.Rook: "rook", board.Queen: "queen"}[kind]
	if n == 1 {
		return "a " + name
	}
	return words.Plural(n, name)
}

func castled(f *fact.SideFacts) bool {
	return f.King == fact.CastledShort || f.King == fact.CastledLong
}

// majorities tells where a side has more pawns than the other.
func majorities(own, other *fact.SideFacts) string {
	var yours, others []string
	for _, w := range []struct {
		name         string
		yours, other int
	}{{"queen's side", own.QueenSide, other.QueenSide}, {"king's side", own.KingSide, other.KingSide}} {
		a, b := w.yours, w.other
		switch {
		case a > b:
			yours = append(yours, fmt.Sprintf("%d to %d on the %s", a, b, w.name))
		case b > a:
			others = append(others, fmt.Sprintf("%d to %d on the %s", b, a, w.name))
		}
	}
	var parts []string
	if len(yours) > 0 {
		parts = append(parts, "your majority "+strings.Join(yours, " and "))
	}
	if len(others) > 0 {
		parts = append(parts, "theirs "+strings.Join(others, " and "))
	}
	text := strings.Join(parts, ", ")
	if len(yours) == 0 && text != "" {
		return "their majority " + strings.TrimPrefix(text, "theirs ")
	}
	return text
}

func sideFactWords(f *fact.SideFacts) string {
	parts := nonEmpty(
		squares("passed", f.Passed), squares("isolated", f.Isolated), squares("backward", f.Backward), squares("doubled on", f.Doubled),
		squares("half-open", f.HalfOpen),
	)
	if f.Bishops {
		parts = append(parts, "bishop pair")
	}
	if f.King == fact.LostCastling {
		parts = append(parts, "castling lost")
	}
	return strings.Join(parts, ", ")
}

func squares(what string, list []string) string {
	if len(list) == 0 {
		return ""
	}
	return what + " " + strings.Join(list, " ")
}

func nonEmpty(list ...string) []string {
	var out []string
	for _, s := range list {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}
