package rank

import (
	"strings"

	"foreply/compare/fact"
)

// boardsWanted is how many diagrams a side offers; the page takes what fits.
const boardsWanted = 4

// Boards picks positions worth a diagram from move 4 on: the worst unanswered move
// first, then the likeliest exits, then what else the user must answer; of two that
// share all but the last half-move one is enough.
func Boards(s *fact.Side) []fact.Diagram {
	p := picked{have: map[string]bool{}}
	for i := range s.Unanswered[:min(1, len(s.Unanswered))] {
		p.gap(s, &s.Unanswered[i])
	}
	p.exits(s, func(x *fact.Exit) bool { return x.Kind != fact.TheyLeave })
	for i := range s.Unanswered {
		p.gap(s, &s.Unanswered[i])
	}
	p.exits(s, func(x *fact.Exit) bool { return x.Unseen })
	return p.list
}

// picked are the boards so far, and the positions and stems they have.
type picked struct {
	list []fact.Diagram
	have map[string]bool
}

func (p *picked) add(d fact.Diagram) {
	if len(p.list) == boardsWanted || len(d.Line) < fact.BoardPlies {
		return
	}
	stem := strings.Join(d.Line[:len(d.Line)-1], " ")
	if p.have[d.EPD] || p.have[stem] {
		return
	}
	p.have[d.EPD], p.have[stem] = true, true
	p.list = append(p.list, d)
}

func (p *picked) gap(s *fact.Side, u *fact.Unanswered) {
	p.add(fact.Diagram{Line: u.Line, Why: fact.BoardNoAnswer, EPD: u.EPD, View: s.MyColor, Reach: u.Reach, Lo: u.Lo, Hi: u.Hi, AnyOrder: u.AnyOrder, Games: u.Games, Came: u.Games, Of: u.Of, Counted: s.Counted()})
}

func (p *picked) exits(s *fact.Side, which func(*fact.Exit) bool) {
	for i := range s.Exits {
		if x := &s.Exits[i]; which(x) && (!s.Counted() || x.Games > 0) {
			p.add(fact.Diagram{Line: x.Line, Why: why(x), EPD: x.EPD, View: s.MyColor, Reach: x.Reach, Lo: x.Lo, Hi: x.Hi, AnyOrder: x.AnyOrder, Games: x.Games, Came: x.Came, Of: x.Of, Counted: s.Counted()})
		}
	}
}

func why(x *fact.Exit) string {
	switch {
	case x.Unseen:
		return fact.BoardUnseen
	case x.YourMove && x.Kind == fact.BookEnds:
		return fact.BoardNoAnswer
	case x.Kind == fact.LimitInBook:
		return fact.BoardInBook
	case x.Kind == fact.GameOver:
		return fact.BoardGameOver
	}
	return fact.BoardBookEnds
}
