package pgn

import (
	"bytes"
	"slices"
	"strings"
)

// ForeignLetters is the kind of games with the piece letters of another language.
const ForeignLetters Kind = "piece letters of another language"

// Language is a set of piece letters that is not the English one.
type Language struct {
	Name    string
	letters string // for knight, bishop, rook, queen and king
}

// languages are those with other letters (a table of the PGN standard, 8.2.3.2, from
// memory). Where several fit what there is, the first counts: they stand in the
// order of how many files there are.
var languages = []Language{
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

// String says which letters stand for ours.
func (l Language) String() string { return l.Name + ": " + l.letters + " for " + english }

// letterCount is how often each piece letter is used. A P before some pawns' moves
// and not before others is no pawn's.
type letterCount struct {
	used [256]int
	bare int // moves of pawns without a letter
}

func (c *letterCount) add(san []byte) {
	letters := 0
	exchange(san, func(letter byte) byte {
		c.used[letter]++
		letters++
		return letter
	})
	if letters == 0 && len(san) > 0 && san[0]-'a' < 8 {
		c.bare++
	}
}

// knightsP reports whether P must be a piece.
func (c *letterCount) knightsP() bool { return c.used['P'] > 0 && c.bare > 0 }

// languages returns those that have all the letters, likeliest first; nil when
// English does.
func (c *letterCount) languages() []Language {
	ours := c.covered(english)
	if ours && !c.knightsP() {
		return nil
	}
	var found []Language
	for _, l := range languages {
		switch {
		case !c.covered(l.letters):
		case l.letters[0] == 'P' && c.knightsP():
			return []Language{l}
		case !ours:
			found = append(found, l)
		}
	}
	return found
}

// covered reports whether the letters are all there is; a P may stand before a
// pawn's move.
func (c *letterCount) covered(letters string) bool {
	for letter, n := range c.used {
		if n > 0 && letter != 'P' && strings.IndexByte(letters, byte(letter)) < 0 {
			return false
		}
	}
	return true
}

// Languages returns the languages whose piece letters the trees of games may have
// if all are of one, likeliest first; nil when the letters are English, or of
// several languages.
func Languages(games ...*Game) []Language {
	var c letterCount
	for _, g := range games {
		if g.Tree != nil {
			g.Tree.each(func(n *Node) { c.add([]byte(n.SAN)) })
		}
	}
	return c.languages()
}

// Translate puts a copy with English letters in place of a game's tree; Token still tells what
// stands in the text.
func (l Language) Translate(g *Game) {
	if g.Tree == nil {
		return
	}
	g.foreign = map[[2]int]string{}
	g.Tree.each(func(n *Node) {
		if string(exchange([]byte(n.SAN), l.english)) != n.SAN {
			g.foreign[[2]int{n.Line, n.Column}] = n.SAN
		}
	})
	g.Tree = l.Line(g.Tree)
}

// Token is a move of the tree as it stands in the text, for who reads it there.
func (g *Game) Token(n *Node) string {
	if token, ok := g.foreign[[2]int{n.Line, n.Column}]; ok {
		return token
	}
	return n.SAN
}

// Line returns a copy of a line with English letters in place of those of the
// language. The copy shares all else.
func (l Language) Line(from *Line) *Line {
	if from == nil {
		return nil
	}
	to := &Line{Comments: from.Comments, Moves: slices.Clone(from.Moves)}
	for i := range to.Moves {
		n := &to.Moves[i]
		n.SAN = string(exchange([]byte(n.SAN), l.english))
		n.Variations = slices.Clone(n.Variations)
		for k, v := range n.Variations {
			n.Variations[k] = l.Line(v)
		}
	}
	return to
}

func (l Language) english(c byte) byte {
	if k := strings.IndexByte(l.letters, c); k >= 0 {
		return english[k]
	}
	return c
}

// Foreign is the problem that a game's letters were read as those of a language, at
// the first of them that is not English; false when it has none.
func (l Language) Foreign(g *Game) (p Problem, found bool) {
	if g.Tree == nil {
		return p, false
	}
	g.Tree.each(func(n *Node) {
		if !found && string(exchange([]byte(n.SAN), l.english)) != n.SAN {
			p, found = g.Locate(Problem{Line: n.Line, Column: n.Column}), true
			p.Token = n.SAN
		}
	})
	p.Kind, p.Severity, p.Message, p.Hint = ForeignLetters, Warning, "piece letters read as "+l.String(), "in PGN they are "+english
	return p, found
}

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

// isForeign reports whether a move has a piece letter that is none of ours. A P may
// be a pawn's.
func isForeign(san []byte) bool {
	foreign := false
	if !hasSquare(san) {
		return false
	}
	exchange(san, func(c byte) byte {
		foreign = foreign || !isPiece(c)
		return c
	})
	return foreign
}

// translate turns piece letters of another language in the main line into ours, if
// all that the game has are of one language. at is the first of them. Trees are
// translated by who knows the whole file.
func (p *parser) translate(at token) {
	var c letterCount
	for i := range p.game.Moves {
		c.add(p.game.Moves[i].SAN)
	}
	fit := c.languages()
	if len(fit) == 0 {
		return
	}
	for i := range p.game.Moves {
		p.game.Moves[i].SAN = exchange(p.game.Moves[i].SAN, fit[0].english)
	}
	p.report(Problem{Kind: ForeignLetters, Severity: Warning, Ply: noPly,
		Message: "piece letters read as " + fit[0].String(), Hint: "in PGN they are " + english}, at)
}

// each visits every move, its variations behind it.
func (l *Line) each(visit func(*Node)) {
	for i := range l.Moves {
		n := &l.Moves[i]
		visit(n)
		for _, v := range n.Variations {
			v.each(visit)
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
