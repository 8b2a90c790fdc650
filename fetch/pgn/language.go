package pgn

import (
	"bytes"
	"fmt"
	"strings"
)

// ForeignLetters is the kind of games with the piece letters of another language.
const ForeignLetters Kind = "piece letters of another language"

// languages are the letters for knight, bishop, rook, queen and king where they
// are not the English ones (a table of the PGN standard, 8.2.3.2, from memory).
// Where several languages fit what a game has, the first counts: they stand in
// the order of how many files there are.
var languages = []struct{ name, letters string }{
	{"German", "SLTDK"}, // and Danish, Norwegian, Swedish
	{"French", "CFTDR"},
	{"Spanish or Italian", "CATDR"},
	{"Dutch", "PLTDK"},
	{"Polish", "SGWHK"},
	{"Portuguese", "CBTDR"},
	{"Czech", "JSVDK"},
	{"Hungarian", "HFBVK"},
	{"Finnish", "RLTDK"},
	{"Romanian", "CNTDR"},
	{"Icelandic", "RBHDK"},
	{"Estonian", "ROVLK"},
}

const english = "NBRQK"

// lookForeign remembers the first move with a piece letter that is none of ours.
func (p *parser) lookForeign(t token) {
	san := p.b[t.start:t.end]
	if t.fixed {
		san = p.sc.fixed
	}
	if p.foreign.end == 0 && isForeign(san) {
		p.foreign = t
	}
}

// isForeign reports whether a move has a piece letter that is none of ours.
func isForeign(san []byte) bool {
	foreign := false
	if !hasSquare(san) {
		return false
	}
	exchange(san, func(c byte) byte {
		foreign = foreign || !isPiece(c) && c != 'P'
		return c
	})
	return foreign
}

// translate turns piece letters of another language into ours, if all that the
// game has are of one language. at is the first of them.
func (p *parser) translate(at token) {
	var used [256]bool
	each(&p.game, func(c byte) byte {
		used[c] = true
		return c
	})
	for _, l := range languages {
		if !covers(l.letters, &used) {
			continue
		}
		each(&p.game, func(c byte) byte {
			if k := strings.IndexByte(l.letters, c); k >= 0 {
				return english[k]
			}
			return c
		})
		p.report(Problem{Kind: ForeignLetters, Severity: Warning, Ply: noPly,
			Message: fmt.Sprintf("piece letters read as %s: %s for %s", l.name, l.letters, english),
			Hint:    "in PGN they are " + english}, at)
		return
	}
}

// covers reports whether a language has all the letters; a P may stand before a
// pawn's move.
func covers(letters string, used *[256]bool) bool {
	for c := range used {
		if used[c] && c != 'P' && strings.IndexByte(letters, byte(c)) < 0 {
			return false
		}
	}
	return true
}

// each hands out the piece letter of every move and of what its pawn becomes, and
// puts in its place what it gets.
func each(g *Game, letter func(byte) byte) {
	for i := range g.Moves {
		g.Moves[i].SAN = exchange(g.Moves[i].SAN, letter)
	}
	if g.Tree != nil {
		g.Tree.each(letter)
	}
}

func (l *Line) each(letter func(byte) byte) {
	for i := range l.Moves {
		n := &l.Moves[i]
		n.SAN = string(exchange([]byte(n.SAN), letter))
		for _, v := range n.Variations {
			v.each(letter)
		}
	}
}

// becomes reports whether a piece behind the move is what its pawn becomes.
func becomes(san []byte) bool {
	n := len(san)
	return n > 1 && strings.IndexByte("18=/:(", san[n-1]) >= 0
}

// exchange puts other piece letters into a move: the one it starts with, and the
// one that ends it, which its pawn becomes. san itself stays as it is.
func exchange(san []byte, letter func(byte) byte) []byte {
	if castling(san) > 0 || string(san) == "Z0" {
		return san
	}
	out := san
	last := len(bytes.TrimRight(san, "+#")) - 1
	for _, i := range [...]int{0, last} {
		if i < 0 || san[i] < 'A' || san[i] > 'Z' || i > 0 && !becomes(san[:i]) {
			continue
		}
		if c := letter(san[i]); c != out[i] {
			if &out[0] == &san[0] {
				out = bytes.Clone(san)
			}
			out[i] = c
		}
	}
	return out
}
