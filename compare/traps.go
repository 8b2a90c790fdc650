package compare

import (
	"cmp"
	"slices"

	"foreply/compare/fact"
	"foreply/compare/find"
	"foreply/compare/walk"
	"foreply/compare/words"
	"foreply/profile"
	"foreply/profile/board"
)

const (
	trapsShown = 6 // traps that a side tells
	offShown   = 1 // of these, traps that the book cannot reach
	comesAgain = 2 // games from which a position behind the book is one that comes again
)

// spot is where a trap lies on the user's way.
type spot struct {
	where string
	reach float64 // of the position
	line  []board.Move
	// share is how likely the wrong move is once the position is reached, where
	// the forecast tells; else 1.
	share float64
}

var whereOrder = []string{fact.InBook, fact.PastBook, fact.OtherAnswer, fact.OffBook}

// traps lists where they, or others against them, went wrong, what the book can
// reach first; then where they score.
func (c *comparison) traps(w *walk.Walk) []fact.Trap {
	reach, at := w.ByPosition()
	var out []fact.Trap
	for _, slip := range c.in.Profile.Slips(c.tree.Theirs, find.JudgeBy(c.in.Engine)) {
		sp := c.place(&slip, at, reach)
		if c.worthTelling(&slip, &sp) {
			out = append(out, c.trap(&slip, sp))
		}
	}
	slices.SortStableFunc(out, func(a, b fact.Trap) int {
		return cmp.Or(
			cmp.Compare(slices.Index(whereOrder, a.Where), slices.Index(whereOrder, b.Where)),
			cmp.Compare(b.Need, a.Need), cmp.Compare(b.Games, a.Games),
		)
	})
	off := 0
	out = slices.DeleteFunc(out, func(t fact.Trap) bool {
		if t.Where == fact.OffBook {
			off++
		}
		return t.Where == fact.OffBook && off > offShown
	})
	out = out[:min(len(out), trapsShown)]
	return append(out, c.scores(w)...)
}

// worthTelling: on the lines to expect all that went wrong; elsewhere what came
// more than once, and is likely enough to come again; where the book never comes
// their own errors only.
func (c *comparison) worthTelling(slip *profile.Slip, sp *spot) bool {
	switch sp.where {
	case fact.InBook: // what an engine finds wrong with the book's own move is told as a move to look at again
		answers := c.book.Answers(slip.Position.Key())
		return !slip.Judged || len(answers) == 0 || answers[0] != slip.Move
	case fact.PastBook:
		return slip.Visits >= comesAgain && sp.reach*sp.share >= c.opt.Threshold
	}
	return slip.Visits >= comesAgain && slip.By() == c.tree.Theirs
}

// place finds where a slip lies, by that of its games which the user can follow
// furthest.
func (c *comparison) place(slip *profile.Slip, at map[uint64]*walk.State, reach map[uint64]float64) spot {
	best := spot{where: fact.OffBook}
	for _, i := range slices.Backward(slip.Games) {
		sp := c.follow(&c.in.Profile.Games[i], slip, at, reach)
		if best.line == nil || c.nearer(&sp, &best) {
			best = sp
		}
	}
	return best
}

func (c *comparison) nearer(a, b *spot) bool {
	i, j := slices.Index(whereOrder, a.where), slices.Index(whereOrder, b.where)
	return i < j || i == j && a.reach > b.reach
}

// follow goes with a game up to the slip, as far as the walk went.
func (c *comparison) follow(g *profile.Game, slip *profile.Slip, at map[uint64]*walk.State, reach map[uint64]float64) spot {
	pos, target := board.Start(), slip.Position.Key()
	sp := spot{where: fact.InBook, share: 1}
	last := uint64(0) // the last position that the walk came to
	for i, m := range g.Moves {
		key := pos.Key()
		s := at[key]
		switch {
		case sp.where != fact.InBook: // parted before
		case s != nil:
			sp.reach, last = reach[key], key
		default:
			sp.where = c.parting(g.Moves[:i])
		}
		if key == target {
			sp.line = append(slices.Clone(g.Moves[:i]), slip.Move)
			c.weigh(&sp, slip, s, c.tree.At(last))
			return sp
		}
		pos.Play(m)
	}
	return spot{where: fact.OffBook}
}

// weigh tells how likely the wrong move is at the position of s, and, behind the
// book, how likely the position is, by how the games went on from the last
// position of the walk.
func (c *comparison) weigh(sp *spot, slip *profile.Slip, s *walk.State, from *profile.TreeNode) {
	sp.share = float64(len(slip.Games)) / float64(slip.Visits)
	switch {
	case sp.where != fact.InBook && from != nil:
		sp.reach *= min(1, float64(slip.Visits)/float64(from.Games))
	case sp.where == fact.InBook && slip.By() == c.tree.Theirs && len(s.Expected.Moves) > 0:
		l, _ := s.Expected.Of(slip.Move)
		sp.share = l.P
	}
}

// parting tells how a game left the walk with the last of the moves.
func (c *comparison) parting(moves []board.Move) string {
	pos := board.Start()
	last := len(moves) - 1
	for _, m := range moves[:last] {
		pos.Play(m)
	}
	answers := c.book.Answers(pos.Key())
	switch {
	case pos.Turn() != c.book.Mine || len(answers) == 0:
		return fact.PastBook
	case slices.Contains(answers, moves[last]):
		return fact.OtherAnswer
	}
	return fact.OffBook
}

// Weights of a trap in the ranking.
const (
	repairedWeighs = 0.5 // they went another way since
	yoursWeighs    = 2   // the book itself walks into it
)

func (c *comparison) trap(slip *profile.Slip, sp spot) fact.Trap {
	line := walk.NewTrack(sp.line)
	t := fact.Trap{
		Kind: fact.TheirSlip, Line: line.SANs, Where: sp.where, Reach: sp.reach, Before: slip.Before, After: slip.After,
		Games: len(slip.Games), Of: slip.Visits, Since: len(slip.Since),
	}
	t.Need = sp.reach * sp.share
	if slip.By() == c.book.Mine {
		t.Kind = fact.OthersSlip
		if answers := c.book.Answers(slip.Position.Key()); len(answers) > 0 {
			t.Answer = slip.Position.SAN(answers[0])
			if t.Yours = answers[0] == slip.Move; t.Yours {
				t.Need *= yoursWeighs
			}
		}
	}
	if t.Since > 0 {
		t.Then = slip.Position.SAN(slip.Instead)
		if t.Kind == fact.TheirSlip {
			t.Need *= repairedWeighs
		}
	}
	t.Engine = slip.Judged
	after := slip.Position
	after.Play(slip.Move)
	if best := find.Best(c.in.Engine, after, 1); best != nil {
		answers := c.book.Answers(after.Key())
		t.Best = &best[0]
		t.Prepared = len(answers) > 0 && after.SAN(answers[0]) == t.Best.Moves[0]
	}
	c.citeTrap(&t, slip.Games)
	t.Text = words.Trap(&t)
	return t
}

// citeTrap fills in what its games tell.
func (c *comparison) citeTrap(t *fact.Trap, games []int32) {
	for _, i := range slices.Backward(games) {
		g := &c.in.Profile.Games[i]
		find.AddResult(&t.Score, g.Result)
		if !t.Last.Known() {
			t.Last = g.Date
		}
		if len(t.Newest) < newest {
			t.Newest = append(t.Newest, fact.Ref{File: g.File, Game: g.Index, Date: g.Date, Class: g.Class.String()})
		}
		if !slices.Contains(t.Speeds, g.Class.Pace()) {
			t.Speeds = append(t.Speeds, g.Class.Pace())
		}
	}
}

// markTraps tells at the branches of the forks where their move there went wrong
// before.
func markTraps(forks []fact.Fork, traps []fact.Trap) {
	keys := make([]uint64, len(forks))
	for i := range forks {
		stem := walk.Resolved(forks[i].Stem)
		keys[i] = stem.End.Key()
	}
	for i := range traps {
		t := &traps[i]
		before, move := len(t.Line)-1, t.Line[len(t.Line)-1]
		key := walk.Resolved(t.Line).Keys[before]
		for j := range forks {
			if t.Kind != fact.TheirSlip || keys[j] != key {
				continue
			}
			for k := range forks[j].Branches {
				if b := &forks[j].Branches[k]; b.Move == move {
					b.Trap = t.Text
				}
			}
		}
	}
}

// trapTasks are the traps worth a look, ranked with all else.
func (c *comparison) trapTasks(traps []fact.Trap, stem []string) []fact.Task {
	var tasks []fact.Task
	for i := range traps {
		t := &traps[i]
		if t.Kind == fact.TheyScore || t.Kind == fact.TheyFail || t.Where != fact.InBook && t.Where != fact.PastBook {
			continue
		}
		file, line := walk.Resolved(t.Line).Spot(c.book)
		tasks = append(tasks, fact.Task{
			Kind: "look", Lead: "trap", Moves: t.Line, Need: t.Need, Minutes: trapMinutes, File: file, Line: line,
			Text: words.Parted(t.Line, stem) + ": " + t.Text,
		})
	}
	return tasks
}

// The cut of evaluations is one for the facts and the games they come from.
var _ = [1]struct{}{}[fact.MostEval-profile.MostEval]
