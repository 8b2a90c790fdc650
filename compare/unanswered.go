package compare

import (
	"fmt"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/compare/words"
	"foreply/profile/board"
)

// othersShown and returnsShown limit what is told of an unanswered move.
const (
	othersShown  = 3
	returnsShown = 3
)

// unanswered lists the moves of theirs worth following after which the book has
// nothing, likeliest first.
func (c *comparison) unanswered(w *walk.Walk) []fact.Unanswered {
	var out []fact.Unanswered
	for _, e := range w.Sorted() {
		noAnswer := e.Kind == fact.BookEnds && e.At.Ply > 0 && e.At.Pos.Turn() == c.book.Mine
		if e.Kind == fact.TheyLeave && !e.Unseen || noAnswer {
			// Few games tell what they did, not what they will do.
			if u := c.unansweredAt(e); !c.counted || u.Games > 0 {
				out = append(out, u)
			}
		}
	}
	told := map[string]bool{}
	for i := range out { // a note that several share is told once
		if told[out[i].Note] {
			out[i].Note, out[i].NotePly = "", 0
		}
		told[out[i].Note] = true
	}
	return out
}

func (c *comparison) unansweredAt(e *walk.End) fact.Unanswered {
	from, likely := e.At, e.Likely
	t := walk.NewTrack(e.At.Path())
	if e.Kind == fact.TheyLeave {
		t = t.And(e.Leave)
	} else {
		from = e.At.Via
		likely, _ = from.Expected.Of(e.At.Move)
	}
	visits := visitsWith(c.tree.At(from.Key), likely.Move)
	lo, hi := e.Interval()
	u := fact.Unanswered{
		Line: t.SANs, Reach: e.Mass, Lo: lo, Hi: hi, EPD: t.End.EPD(), Name: t.Opening().Name,
		Share: shareAt(from, likely.Range, likely.N),
		Score: c.score(visits), Others: c.othersMet(&t.End), Return: c.returns(&t.End),
	}
	_, u.Last, _ = c.cite(visits)
	u.Games = max(u.Score.Games(), c.passed(&t.End))
	u.Note, u.NotePly = t.Note(c.book)
	u.SetUp, u.SetUpPly = c.setUpNear(from, t.SANs)
	u.Text = c.unansweredText(&u, e)
	u.Best = bestLines(c.in.Engine, t.End, bestShown)
	return u
}

// passed counts the games that went on from a position.
func (c *comparison) passed(pos *board.Position) int {
	if n := c.tree.At(pos.Key()); n != nil {
		return int(n.Games)
	}
	return 0
}

func (c *comparison) unansweredText(u *fact.Unanswered, e *walk.End) string {
	text := words.Seen(u)
	if u.Games > u.Share.Seen && u.Share.Seen > 0 {
		text += fmt.Sprintf(" (%d by any move order)", u.Games)
	}
	if !c.counted {
		text = words.Often(e.Often()) + "; " + text
	}
	if u.Last != "" {
		text += "; last " + words.Date(u.Last)
	}
	return text
}

// othersMet tells how the other players went on at pos.
func (c *comparison) othersMet(pos *board.Position) []fact.Met {
	n := c.tree.At(pos.Key())
	if n == nil {
		return nil
	}
	var met []fact.Met
	for i := range n.Edges[:min(len(n.Edges), othersShown)] {
		e := &n.Edges[i]
		met = append(met, fact.Met{Move: pos.SAN(e.Move), Games: int(e.Games), Score: ScoreOf(&e.Count)})
	}
	return met
}

// returns lists the user's moves at pos after which the book goes on.
func (c *comparison) returns(pos *board.Position) []string {
	var found []string
	for _, m := range pos.Legal(nil) {
		after := *pos
		after.Play(m)
		if len(c.book.Covered(after.Key())) > 0 && len(found) < returnsShown {
			found = append(found, pos.SAN(m))
		}
	}
	return found
}

// surprise gathers what helps when they leave early: the note nearest to the
// likeliest unanswered move, else the first one of the book, the user's usual
// moves, and ways back.
func (c *comparison) surprise(unanswered []fact.Unanswered) fact.Surprise {
	start := c.fine.Order[0]
	s := fact.Surprise{}
	if usual := c.usualMoves(start, 1, nil); len(usual) >= setUpLeast {
		s.SetUp = usual
	}
	for _, u := range unanswered {
		if s.Note == "" && u.Note != "" {
			s.Note, s.NoteAt = u.Note, words.NoteAt(u.Line, u.NotePly)
		}
		if len(u.Return) > 0 && len(s.Returns) < returnsShown {
			s.Returns = append(s.Returns, fmt.Sprintf("after %s, %s is back in your book",
				words.Movetext(u.Line, 0), words.Alternatives(u.Return, len(u.Line))))
		}
	}
	if note := c.book.Note(start.Key); s.Note == "" && note != "" {
		s.Note, s.NoteAt = note, words.NoteAt(nil, 0)
	}
	return s
}
