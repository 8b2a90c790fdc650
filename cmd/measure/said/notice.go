package main

import (
	"cmp"
	"slices"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/board"
)

// notice is a thing said with a number, and what tells that number in a game to come.
type notice struct {
	row    string // of the table
	key    string // what it is about
	theirs board.Color
	at     uint64 // the position that games are looked for at; 0: all games
	few    bool   // only the next ten judge it
	said   float64
	silent float64 // what one would go by without it
	value  func(g *profile.Game, m board.Move) (v float64, ok bool)
}

func (n *notice) most() int {
	if n.few {
		return soon
	}
	return following
}

// notices are those of the Reports of one day.
type notices struct {
	theirs board.Color
	usual  float64 // what they usually score
	list   []notice
}

func (n *notices) add(x notice) {
	for i := range n.list { // another book says the same
		if n.list[i].row == x.row && n.list[i].key == x.key {
			return
		}
	}
	n.list = append(n.list, x)
}

func (n *notices) of(r *fact.Report) {
	for i := range r.Sides {
		s := &r.Sides[i]
		for k := range s.Unanswered {
			n.gap(&s.Unanswered[k])
		}
		for k := range s.Traps {
			n.trap(&s.Traps[k])
		}
		for k := range s.Changes {
			n.change(&s.Changes[k])
		}
		for k := range s.Orders {
			n.order(&s.Orders[k])
		}
		for k := range s.Options {
			n.option(&s.Options[k])
		}
	}
	for i := range r.About {
		n.about(&r.About[i])
	}
}

// edge tells a game's points beyond expectation, of games with a move that fits.
func (n *notices) edge(fits func(board.Move) bool) func(*profile.Game, board.Move) (float64, bool) {
	usual := n.usual
	return func(g *profile.Game, m board.Move) (float64, bool) {
		if !fits(m) {
			return 0, false
		}
		return edge(g, usual, 1)
	}
}

// share tells 1 for games with a move.
func share(want board.Move) func(*profile.Game, board.Move) (float64, bool) {
	return func(_ *profile.Game, m board.Move) (float64, bool) {
		if m == want {
			return 1, true
		}
		return 0, true
	}
}

func anyMove(board.Move) bool { return true }

// beyond is the edge of the user's side in past games.
func beyond(s fact.Score, expected float64) float64 {
	n := float64(s.Games() - s.Unknown)
	if n == 0 {
		return 0
	}
	return (expected - float64(s.Wins) - float64(s.Draws)/2) / n
}

// gap judges the answer that most others gave, and the one that did best where one is set
// apart by more than chance: neither is put forward.
func (n *notices) gap(u *fact.Unanswered) {
	if len(u.Others) == 0 {
		return
	}
	n.answer(u, &u.Others[0], "most played answer")
	if u.Apart {
		best := slices.MaxFunc(u.Others, func(a, b fact.Met) int { return cmp.Compare(beyond(a.Score, a.Expected), beyond(b.Score, b.Expected)) })
		if beyond(best.Score, best.Expected) > 0 { // else it is none of the few that are told
			n.answer(u, &best, "answer set apart")
		}
	}
}

func (n *notices) answer(u *fact.Unanswered, m *fact.Met, row string) {
	t := walk.Resolved(u.Line)
	at := t.End.Key()
	move := moveAfter(u.Line, m.Move)
	key := strings.Join(append(u.Line[:len(u.Line):len(u.Line)], m.Move), " ")
	n.add(notice{
		row: row + ": your score", key: key, theirs: n.theirs, at: at, said: beyond(m.Score, m.Expected),
		value: n.edge(func(x board.Move) bool { return x == move }),
	})
	n.add(notice{row: row + ": your score with the others", key: key, theirs: n.theirs, at: at, value: n.edge(func(x board.Move) bool { return x != move })})
}

func (n *notices) trap(t *fact.Trap) {
	line := walk.Resolved(t.Line)
	key := strings.Join(t.Line, " ")
	last := len(t.Line) - 1
	n.add(notice{
		row: t.Kind + ": made again", key: key, theirs: n.theirs, at: line.Keys[last],
		said: float64(t.Games) / float64(t.Of), value: share(line.Moves[last]),
	})
	n.add(notice{row: t.Kind + ": your score behind it", key: key, theirs: n.theirs, at: line.End.Key(), said: beyond(t.Score, t.Expected), value: n.edge(anyMove)})
}

func (n *notices) change(c *fact.Change) {
	line := walk.Resolved(c.Line)
	move := moveAfter(c.Line, c.Move)
	row := "dropped"
	if c.Up {
		row = "taken up"
	}
	before := float64(c.PastN) / float64(c.PastOf)
	group := c.Speed
	if group == "" || group == "unknown" {
		group = "slow"
	}
	of := func(row string, said float64) {
		n.add(notice{
			row: row, key: strings.Join(append(c.Line[:len(c.Line):len(c.Line)], c.Move), " ") + " " + c.Speed, theirs: n.theirs, at: line.End.Key(),
			few: true, said: said, silent: before,
			value: func(g *profile.Game, m board.Move) (float64, bool) {
				v, _ := share(move)(g, m)
				return v, g.Speed.Group() == group
			},
		})
	}
	of(row+": share since", float64(c.N)/float64(c.Of))
	if c.Share != nil && c.Told() == c.Move {
		of(row+": the forecast's share", c.Share.P)
	}
}

func (n *notices) order(o *fact.Order) {
	line, pet := slices.Concat(o.Line, []string{o.Move}), o.Pet
	if o.Kind == fact.TheirOrder {
		line, pet = append(line, o.Pet), o.Other
	}
	n.add(notice{
		row: o.Kind + ": their move", key: strings.Join(line, " ") + " " + pet, theirs: n.theirs, at: keyAfter(line),
		said: o.Share.P, value: share(moveAfter(line, pet)),
	})
}

// option judges what is recommended for their results against it.
func (n *notices) option(o *fact.Option) {
	if !slices.Contains(o.Reasons, fact.ByResults) {
		return
	}
	line := slices.Concat(o.Line, []string{o.Move})
	n.add(notice{
		row: "recommended by results: your score", key: strings.Join(line, " "), theirs: n.theirs, at: keyAfter(line),
		said: o.Score.P - (1 - n.usual), value: n.edge(anyMove),
	})
}

// moveAfter is a move behind a line.
func moveAfter(line []string, san string) board.Move {
	t := walk.Resolved(slices.Concat(line, []string{san}))
	return t.Moves[len(line)]
}

func keyAfter(line []string) uint64 {
	t := walk.Resolved(line)
	return t.End.Key()
}
