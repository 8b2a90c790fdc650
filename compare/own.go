package compare

import (
	"fmt"
	"slices"
	"strings"

	"foreply/profile"
	"foreply/profile/board"
)

// What they can know of you is told for positions of at least ownReach, in up
// to ownShown sentences of each sort.
const (
	ownReach = 0.1
	ownShown = 2
)

// knowOfYou tells what the opponent would find in the user's own games: how
// often the user chose what where the lines to expect pass, and which of the
// book's main choices have never been shown.
func (c *comparison) knowOfYou(w *walk) []string {
	if c.in.Own == nil {
		return nil
	}
	tree := c.in.Own.Tree(c.book.Mine)
	start := board.Start()
	if tree.At(start.Key()) == nil {
		return []string{fmt.Sprintf("no game of yours with %s in the files: they can know nothing of it", colourWord(c.book.Mine))}
	}
	var shown, hidden []string
	for _, s := range w.order {
		if s.pos.Turn() != c.book.Mine || s.mass < ownReach || len(s.flows) == 0 {
			continue
		}
		m := s.flows[0].likely.Move
		switch n := tree.At(s.key); {
		case n != nil && len(shown) < ownShown:
			shown = append(shown, ownHabit(s, n))
		case (n == nil || n.Edge(m) == nil) && len(hidden) < ownShown:
			hidden = append(hidden, "never shown: "+Movetext(newTrack(s.path()).and(m).sans, 0))
		}
	}
	return append(shown, hidden...)
}

func ownHabit(s *state, n *profile.TreeNode) string {
	at := "you opened"
	if s.ply > 0 {
		at = "after " + Movetext(newTrack(s.path()).sans, 0) + " you played"
	}
	e := n.Edges[0]
	return fmt.Sprintf("%s %s in %d of %s", at, Movetext([]string{s.pos.SAN(e.Move)}, s.ply), e.Games, plural(int(n.Games), "game"))
}

// meetings returns the games between the two, newest first: those among the
// opponent's games, and those that only the user's own files have.
func meetings(in *Input, opt Options) []GameRow {
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
	rows := make([]GameRow, len(found))
	for i, g := range found {
		rows[i] = gameRow(g)
		rows[i].Moves = newTrack(g.Moves[:min(len(g.Moves), rowMoves)]).sans
		if i >= theirs { // read from the user's side
			rows[i].Theirs, rows[i].Score, rows[i].Elo = g.Theirs.Other().String(), yourPoints(rows[i].Score), g.Elo
		}
	}
	slices.SortStableFunc(rows, func(a, b GameRow) int { return compareDates(b.Date, a.Date) })
	return rows
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
