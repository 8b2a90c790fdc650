package compare

import (
	"fmt"
	"slices"
	"strings"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/compare/words"
	"foreply/profile"
	"foreply/profile/board"
)

// What they can know of you is told for positions of at least ownReach, in up
// to ownShown sentences of habits and hiddenShown of what was never shown.
const (
	ownReach    = 0.1
	ownShown    = 3
	hiddenShown = 2
)

// knowOfYou tells what the opponent would find in the user's own games: how
// often the user chose what where the lines to expect pass, and which of the
// book's main choices there have never been shown.
func (c *comparison) knowOfYou(w *walk.Walk) []string {
	if c.in.Own == nil {
		return nil
	}
	tree := c.in.Own.Tree(c.book.Mine)
	start := board.Start()
	if tree.At(start.Key()) == nil {
		return []string{fmt.Sprintf("no game of yours with %s in the files: they can know nothing of it", colourWord(c.book.Mine))}
	}
	var habits, hidden []string
	choices, shown := 0, 0
	for _, s := range w.Order {
		if s.Pos.Turn() != c.book.Mine || len(s.Flows) == 0 {
			continue
		}
		m, n := s.Flows[0].Likely.Move, tree.At(s.Key)
		choices++
		switch {
		case n != nil && n.Edge(m) != nil:
			shown++
		case s.Mass >= ownReach && len(hidden) < hiddenShown:
			hidden = append(hidden, "never shown: "+words.Movetext(walk.NewTrack(s.Path()).And(m).SANs, 0))
		}
		if n != nil && s.Mass >= ownReach && len(habits) < ownShown {
			habits = append(habits, ownHabit(s, n))
		}
	}
	all := fmt.Sprintf("of your %s on the lines to expect you have shown %d", words.Plural(choices, "main choice"), shown)
	return append(append(habits, all), hidden...)
}

// ownHabit tells what the user mostly played at a position, and how often the
// book's move if that is another.
func ownHabit(s *walk.State, n *profile.TreeNode) string {
	at := "you opened"
	if s.Ply > 0 {
		at = "after " + words.Parted(walk.NewTrack(s.Path()).SANs, nil) + " you played"
	}
	text := at + " " + playedText(&s.Pos, n, 1)
	if e := &n.Edges[0]; e.LastDate > 0 {
		text += ", last " + words.Date(profile.DateText(e.LastDate))
	}
	if m := s.Flows[0].Likely.Move; m != n.Edges[0].Move {
		games := 0
		if e := n.Edge(m); e != nil {
			games = int(e.Games)
		}
		text += fmt.Sprintf("; your book's %s in %d", words.Movetext([]string{s.Pos.SAN(m)}, s.Ply), games)
	}
	return text
}

// meetings returns all games between the two, newest first: those among the
// opponent's games, and those that only the user's own files have.
func meetings(in *Input, opt Options) []fact.GameRow {
	var found []*profile.Game
	add := func(p *profile.Profile, rival func(string) bool) {
		if p == nil || rival == nil {
			return
		}
		for i := range p.Games {
			g := &p.Games[i]
			if rival(other(g)) && !slices.ContainsFunc(found, func(o *profile.Game) bool { return sameMeeting(o, g) }) {
				found = append(found, g)
			}
		}
	}
	add(in.Profile, opt.Me)
	theirs := len(found)
	add(in.Own, opt.Them)
	rows := make([]fact.GameRow, len(found))
	for i, g := range found {
		fromYou := i >= theirs // read from the user's side
		rows[i] = meeting(in, g, fromYou)
	}
	slices.SortStableFunc(rows, func(a, b fact.GameRow) int { return compareDates(b.Date, a.Date) })
	return rows
}

// meeting is the row of a game between the two, beside today's book for the
// colour the user had; fromYou says that the game's own side is the user.
func meeting(in *Input, g *profile.Game, fromYou bool) fact.GameRow {
	mine := g.Theirs.Other()
	if fromYou {
		mine = g.Theirs
	}
	row := NewGameRow(g)
	if i := slices.IndexFunc(in.Books, func(b *book.Book) bool { return b.Mine == mine }); i >= 0 {
		row = rowOf(in.Books[i], g, "you")
	}
	if fromYou {
		row.Theirs, row.Score, row.Elo = mine.Other().String(), words.YourPoints(row.Score), g.Elo
	}
	return row
}

func other(g *profile.Game) string {
	if g.Theirs == board.White {
		return g.Black
	}
	return g.White
}

// sameMeeting takes two records of one game for one: the same moves as far as
// both go, and no contradiction of the dates.
func sameMeeting(a, b *profile.Game) bool {
	n := min(len(a.Moves), len(b.Moves))
	apart := a.Dated && b.Dated && (a.Span.Before(b.Span) || b.Span.Before(a.Span))
	return slices.Equal(a.Moves[:n], b.Moves[:n]) && !apart
}

// compareDates orders Date tags, unknown digits first (PGN standard 12).
func compareDates(a, b string) int {
	known := func(s string) string {
		out := []byte(s)
		for i := range out {
			if out[i] == '?' {
				out[i] = '0'
			}
		}
		return string(out)
	}
	return strings.Compare(known(a), known(b))
}
