package find

import (
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile/board"
)

// othersShown limits what is told of an unanswered move.
const othersShown = 3

// Unanswered lists the moves of theirs worth following after which the book has
// nothing, likeliest first; few games tell what they did, not what they will do.
func Unanswered(w *walk.Walk, fine *Fine, games Games, few bool) []fact.Unanswered {
	var out []fact.Unanswered
	for _, e := range w.Sorted() {
		noAnswer := e.Kind == fact.BookEnds && e.At.Ply > 0 && e.At.Pos.Turn() == w.Book.Mine
		if e.Kind == fact.TheyLeave && !e.Unseen || noAnswer {
			if u := unansweredAt(e, fine, games); !few || u.Games > 0 {
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

func unansweredAt(e *walk.End, fine *Fine, games Games) fact.Unanswered {
	from, likely := e.At, e.Likely
	t := walk.NewTrack(e.At.Path())
	if e.Kind == fact.TheyLeave {
		t = t.And(e.Leave)
	} else {
		from = e.At.Via
		likely, _ = from.Expected.Of(e.At.Move)
	}
	visits := games.With(from.Key, likely.Move)
	u := fact.Unanswered{
		Line: t.SANs, EPD: t.End.EPD(), Name: t.Opening().Name,
		Share: shareAt(from, likely.Range, likely.N),
		Score: games.Score(visits), Others: othersMet(&t.End, games),
	}
	_, u.Last, _ = games.Cite(visits)
	u.Games = max(u.Score.Games(), passed(&t.End, games))
	often := e.Often(u.Games, u.Share.Of)
	u.Reach, u.Lo, u.Hi, u.TenLo, u.TenHi, u.Hardly = often.P, often.Lo, often.Hi, often.TenLo, often.TenHi, often.Hardly
	u.Note, u.NotePly = t.Note(fine.Book)
	u.SetUp, u.SetUpPly = setUpNear(from, t.SANs, fine)
	return u
}

// passed counts the games that went on from a position.
func passed(pos *board.Position, games Games) int {
	if n := games.At(pos.Key()); n != nil {
		return int(n.Games)
	}
	return 0
}

// othersMet tells how the other players went on at pos.
func othersMet(pos *board.Position, games Games) []fact.Met {
	n := games.At(pos.Key())
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
