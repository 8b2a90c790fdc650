package find

import (
	"cmp"
	"slices"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/analysis"
	"foreply/profile/board"
)

const (
	trapsShown = 6 // traps that a side tells
	offShown   = 1 // of these, traps that the book cannot reach
	comesAgain = 2 // games from which a wrong move off the lines to expect is one that comes again
	// paysFrom is how many centipawns more a trap behind a move that no book has must
	// bring than the best move there: less is what a longer look changes.
	paysFrom = 30
)

// Weights of a trap in the ranking.
const (
	repairedWeighs = 0.5 // they went another way since
	yoursWeighs    = 2   // the book itself walks into it
)

var whereOrder = []string{fact.InBook, fact.PastBook, fact.OtherAnswer, fact.OffBook}

// Traps lists where they, or others against them, went wrong, out of their slips:
// what the book can reach first, what matters most first of these.
func Traps(w *walk.Walk, slips []profile.Slip, engine *analysis.Found, games Games) []fact.Trap {
	f := trapFinder{w: w, engine: engine, games: games}
	f.reach, f.at = w.ByPosition()
	var out []fact.Trap
	for i := range slips {
		slip := &slips[i]
		if sp := f.place(slip); f.worthTelling(slip, &sp) {
			out = append(out, f.trap(slip, sp))
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
	return out[:min(len(out), trapsShown)]
}

// trapFinder is what the traps of a side are found with.
type trapFinder struct {
	w      *walk.Walk
	engine *analysis.Found
	games  Games
	reach  map[uint64]float64
	at     map[uint64]*walk.State
}

// trapSpot is where a trap lies on the user's way.
type trapSpot struct {
	where string
	reach float64 // of the position
	line  []board.Move
	// share is how likely the wrong move is once the position is reached, where
	// the forecast tells; else 1.
	share float64
}

// worthTelling: on the lines to expect what they did wrong and are likely enough to do
// again; elsewhere what came more than once besides. What others of the user's side did
// wrong is of use only where the book does the same or has nothing.
func (f *trapFinder) worthTelling(slip *profile.Slip, sp *trapSpot) bool {
	if slip.By() == f.w.Book.Mine && !f.warns(slip) {
		return false
	}
	switch sp.where {
	case fact.InBook:
		return slip.By() == f.w.Book.Mine || sp.reach*sp.share >= f.w.Opt.Threshold
	case fact.PastBook:
		return len(slip.Games) >= comesAgain && sp.reach*sp.share >= f.w.Opt.Threshold && f.pays(slip, sp)
	}
	return len(slip.Games) >= comesAgain && slip.By() == f.games.Tree.Theirs && f.pays(slip, sp)
}

// warns reports whether a slip of the user's side is one that the book makes, too, or
// lies where it has no answer. What an engine finds wrong with the book's own move is
// told as a move to look at again.
func (f *trapFinder) warns(slip *profile.Slip) bool {
	answers := f.w.Book.Answers(slip.Position.Key())
	return len(answers) == 0 || !slip.Judged && answers[0] == slip.Move
}

// pays: a trap is none if the way to it goes through a move of the user's that is no
// answer of the book, where an engine has a better one that brings about as much.
func (f *trapFinder) pays(slip *profile.Slip, sp *trapSpot) bool {
	mine := f.w.Book.Mine
	if slip.By() == mine {
		return true
	}
	pos := board.Start()
	for _, m := range sp.line {
		lines := f.engine.Lines(&pos)
		free := pos.Turn() == mine && !slices.Contains(f.w.Book.Answers(pos.Key()), m)
		if free && len(lines) > 0 && lines[0].Moves[0] != m && lines[0].Score.For(mine).Value()+paysFrom > -slip.After {
			return false
		}
		pos.Play(m)
	}
	return true
}

// place finds where a slip lies, by that of its games which the user can follow
// furthest.
func (f *trapFinder) place(slip *profile.Slip) trapSpot {
	best := trapSpot{where: fact.OffBook}
	for _, i := range slices.Backward(slip.Games) {
		sp := f.follow(&f.games.All[i], slip)
		if best.line == nil || nearer(&sp, &best) {
			best = sp
		}
	}
	return best
}

func nearer(a, b *trapSpot) bool {
	i, j := slices.Index(whereOrder, a.where), slices.Index(whereOrder, b.where)
	return i < j || i == j && a.reach > b.reach
}

// follow goes with a game up to the slip, as far as the walk went.
func (f *trapFinder) follow(g *profile.Game, slip *profile.Slip) trapSpot {
	pos, target := board.Start(), slip.Position.Key()
	sp := trapSpot{where: fact.InBook, share: 1}
	last := uint64(0) // the last position that the walk came to
	for i, m := range g.Moves {
		key := pos.Key()
		s := f.at[key]
		switch {
		case sp.where != fact.InBook: // parted before
		case s != nil:
			sp.reach, last = f.reach[key], key
		default:
			sp.where = howParted(f.w.Book, g.Moves[:i])
		}
		if key == target {
			sp.line = append(slices.Clone(g.Moves[:i]), slip.Move)
			f.weigh(&sp, slip, s, f.games.At(last))
			return sp
		}
		pos.Play(m)
	}
	return trapSpot{where: fact.OffBook}
}

// weigh tells how likely the wrong move is at the position of s, and, behind the
// book, how likely the position is, by how the games went on from the last
// position of the walk.
func (f *trapFinder) weigh(sp *trapSpot, slip *profile.Slip, s *walk.State, from *profile.TreeNode) {
	sp.share = float64(len(slip.Games)) / float64(slip.Visits)
	switch {
	case sp.where != fact.InBook && from != nil:
		sp.reach *= min(1, float64(slip.Visits)/float64(from.Games))
	case sp.where == fact.InBook && slip.By() == f.games.Tree.Theirs && len(s.Expected.Moves) > 0:
		l, _ := s.Expected.Of(slip.Move)
		sp.share = l.P
	}
}

// howParted tells how a game left the walk with the last of its moves so far.
func howParted(b *book.Book, moves []board.Move) string {
	pos := board.Start()
	last := len(moves) - 1
	for _, m := range moves[:last] {
		pos.Play(m)
	}
	answers := b.Answers(pos.Key())
	switch {
	case pos.Turn() != b.Mine || len(answers) == 0:
		return fact.PastBook
	case slices.Contains(answers, moves[last]):
		return fact.OtherAnswer
	}
	return fact.OffBook
}

func (f *trapFinder) trap(slip *profile.Slip, sp trapSpot) fact.Trap {
	t := fact.Trap{
		Kind: fact.TheirSlip, Line: walk.SAN(sp.line), Where: sp.where, Reach: sp.reach, Need: sp.reach * sp.share,
		Before: slip.Before, After: slip.After, Engine: slip.Judged,
		Games: len(slip.Games), Of: slip.Visits, Since: len(slip.Since),
	}
	if slip.By() == f.w.Book.Mine {
		t.Kind = fact.OthersSlip
		if t.Yours = len(f.w.Book.Answers(slip.Position.Key())) > 0; t.Yours { // f.warns
			t.Need *= yoursWeighs
		}
	}
	if t.Since > 0 {
		t.Then, t.ThenPly = slip.Position.SAN(slip.Instead), len(t.Line)-1
		if t.Repaired = t.Kind == fact.TheirSlip; t.Repaired {
			t.Need *= repairedWeighs
		}
	}
	after := walk.Played(slip.Position, slip.Move)
	if best := Best(f.engine, after, 1); best != nil {
		t.Best = &best[0]
		t.Prepared = answerAt(f.w.Book, &after) == t.Best.Moves[0]
	}
	f.games.citeTrap(&t, slip.Games)
	line := walk.NewTrack(sp.line)
	t.File, t.FileLine = line.Spot(f.w.Book)
	return t
}

// citeTrap fills in what games tell, given by their place among all, oldest first.
func (g Games) citeTrap(t *fact.Trap, places []int32) {
	for _, i := range slices.Backward(places) {
		game := &g.All[i]
		AddResult(&t.Score, game.Result)
		if !t.Last.Known() {
			t.Last = game.Date
		}
		if len(t.Newest) < newest {
			t.Newest = append(t.Newest, refTo(game))
		}
		speed := game.Speed.Pace()
		if !slices.Contains(t.Speeds, speed) {
			t.Speeds = append(t.Speeds, speed)
		}
	}
	visits := make([]profile.Visit, len(places))
	for i, at := range places {
		visits[i].Game = at
	}
	t.Expected = g.Expected(visits)
}

// Mark points at the traps from the branches of partings where their move there went
// wrong before.
func Mark(partings []fact.Parting, traps []fact.Trap) {
	keys := make([]uint64, len(partings))
	for i := range partings {
		stem := walk.Resolved(partings[i].Stem)
		keys[i] = stem.End.Key()
	}
	for i := range traps {
		t := &traps[i]
		if t.Kind != fact.TheirSlip {
			continue
		}
		before := len(t.Line) - 1
		key := walk.Resolved(t.Line).Keys[before]
		for j := range partings {
			if keys[j] != key {
				continue
			}
			for k := range partings[j].Branches {
				if b := &partings[j].Branches[k]; b.Move == t.Line[before] {
					b.Trap = t
				}
			}
		}
	}
}

// The cut of evaluations is one for the facts and the games they come from.
var _ = [1]struct{}{}[fact.MostEval-profile.MostEval]
