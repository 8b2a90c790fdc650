package find

import (
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile"
)

// peersTell is how many games of peers tell how a move is met: what fewer did is
// chance (our choice).
const peersTell = 10

// PeersMet adds to the moves without an answer how players like the opponent met them
// when they sat where the user will, in games over before a day.
func PeersMet(peers *profile.Peers, s *fact.Side, when profile.Span) {
	for i := range s.Unanswered {
		u := &s.Unanswered[i]
		end := walk.Resolved(u.Line).End
		played := peers.Record(end.Key(), end.Turn(), when)
		all := 0
		for k := range played {
			all += int(played[k].Games)
		}
		if all < peersTell {
			continue
		}
		u.PeerGames = all
		for k := range played[:min(len(played), othersShown)] {
			p := &played[k]
			theirs := fact.Score{Wins: int(p.Losses), Draws: int(p.Draws), Losses: int(p.Wins), Unknown: int(p.Unknown)}
			u.Peers = append(u.Peers, fact.Met{Move: end.SAN(p.Move), Games: int(p.Games), Score: theirs})
		}
	}
}

// Unanswered lists the moves of theirs worth following after which the book has
// nothing, likeliest first; few games tell what they did, not what they will do.
func Unanswered(w *walk.Walk, fine *Fine, games Games, few bool) []fact.Unanswered {
	var out []fact.Unanswered
	for _, e := range w.Sorted() {
		noAnswer := e.Kind == fact.BookEnds && e.At.Ply > 0 && e.At.Pos.Turn() == w.Book.Mine
		if e.Kind == fact.TheyLeave && !e.Unseen || noAnswer {
			if u := unansweredAt(e, w, fine, games); !few || u.Games > 0 {
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
	sameGaps(out)
	return out
}

// sameGaps marks where games went on from a move without an answer into the position of
// another one: whoever answers that has answered both.
func sameGaps(open []fact.Unanswered) {
	number := map[uint64]int{}
	for i := range open {
		end := walk.Resolved(open[i].Line).End
		if number[end.Key()] == 0 {
			number[end.Key()] = i + 1
		}
	}
	for i := range open {
		for k := range open[i].Others {
			m := &open[i].Others[k]
			keys := walk.Resolved(m.On(open[i].Line)).Keys
			for n := range m.Then {
				m.Then[n].Gap = number[keys[len(open[i].Line)+2+n]]
			}
		}
	}
}

func unansweredAt(e *walk.End, w *walk.Walk, fine *Fine, games Games) fact.Unanswered {
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
		Score: games.Score(visits),
	}
	_, u.Last, _ = games.Cite(visits)
	u.Games = cameBy(from, likely.Move, games)
	u.Of, u.AnyOrder = firstChoice(w, from, games), anyOrder(e.Mass, w.Way(e))
	u.Reach = e.Mass
	u.Lo, u.Hi = e.Interval()
	u.Note, u.NotePly = t.Note(fine.Book)
	u.File, u.FileLine = t.Spot(fine.Book)
	u.SetUp, u.SetUpPly = setUpNear(from, t.SANs, fine)
	tellOthers(&u, &t.End, games)
	return u
}
