package find

import (
	"strings"

	"foreply/compare/fact"
	"foreply/compare/walk"
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

func (s *stock) men() fact.Men {
	return fact.Men{Queens: s[board.Queen], Rooks: s[board.Rook], Bishops: s[board.Bishop], Knights: s[board.Knight], Pawns: s[board.Pawn]}
}

// Structure reads the facts off the end of a line.
func Structure(t *walk.Track) fact.Structure {
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
	out.White.Men, out.Black.Men = men[board.White].men(), men[board.Black].men()
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
	castled := [2]string{}
	pos := board.Start()
	for _, m := range t.Moves {
		if pos.At(m.From()).Kind() == board.King {
			switch m.To().File() - m.From().File() {
			case 2:
				castled[pos.Turn()] = fact.CastledShort
			case -2:
				castled[pos.Turn()] = fact.CastledLong
			}
		}
		pos.Play(m)
	}
	rights := strings.Fields(t.End.EPD())[2]
	for c, letters := range [...]string{board.White: "KQ", board.Black: "kq"} {
		switch {
		case castled[c] != "":
		case strings.ContainsAny(rights, letters):
			castled[c] = fact.MayCastle
		default:
			castled[c] = fact.LostCastling
		}
	}
	return castled[board.White], castled[board.Black]
}
