package rank

import (
	"cmp"
	"slices"

	"foreply/compare/fact"
)

// What there is to look at takes so many minutes: our own guesses, by which the
// time at hand is dealt out.
const (
	answerMinutes = 8 // to find an answer that the book lacks
	goOnMinutes   = 6 // to go on where the book ends early
	chooseMinutes = 4 // to make up one's mind between two answers
	againMinutes  = 4 // to go over a line
	trapMinutes   = 3 // to see a trap
	orderMinutes  = 4 // to see what another order of moves allows
)

const (
	earlyPly    = 16   // a book that ends before this ply ends early
	earlyReach  = 0.04 // and is told from this reach
	changeReach = 0.1  // reach from which a change is told
	againShown  = 1    // lines not met for long that are told
	// A move of the book that loses so many centipawns is as bad as none.
	doubtWeighs = 200
	mostLooks   = 6 // even with time for more: the page has room for no more
)

// Tonight is what to expect, what to play and what to look at in so many minutes.
// The expected line is given; what follows is told from where it parts from it.
func Tonight(s *fact.Side, expected []fact.Task, minutes int) []fact.Task {
	if s.Games == 0 && !s.PeersOnly {
		return expected
	}
	out := append(slices.Clone(expected), changes(s.Changes)...)
	looks := study(s, minutes)
	var stem []string
	for _, t := range expected {
		if t.Lead == fact.LeadExpect || t.Lead == fact.LeadPlay {
			stem = t.Moves
		}
	}
	for i := range looks {
		looks[i].From = fact.Parts(looks[i].Moves, stem)
	}
	return append(out, looks...)
}

// changes are the changes that the user is likely to meet.
func changes(list []fact.Change) []fact.Task {
	for i := range list {
		if ch := &list[i]; ch.Reach >= changeReach {
			return []fact.Task{{Kind: fact.ToExpect, Lead: fact.LeadChanged, Moves: ch.Line, Need: ch.Reach, About: ch}}
		}
	}
	return nil
}

// study deals the time at hand out to what wants work, by need: what comes often
// and what is missing most. As many things are told as there would be time for answers,
// since many small things tire like a large one; one there is always time for. An answer
// that two reasons speak for is told once, by the weightier.
func study(s *fact.Side, minutes int) []fact.Task {
	all := slices.Concat(answers(s), goOn(s), traps(s), doubts(s), choices(s.Options), labelled(s), orders(s.Orders), again(s))
	slices.SortStableFunc(all, func(a, b fact.Task) int { return cmp.Compare(b.Need, a.Need) })
	var out []fact.Task
	most := max(1, min(minutes/answerMinutes, mostLooks))
	for _, task := range all {
		told := slices.ContainsFunc(out, func(o fact.Task) bool { return o.Lead == task.Lead && slices.Equal(o.Moves, task.Moves) })
		if told || len(out) == most {
			continue
		}
		task.Kind = fact.ToLook
		out = append(out, task)
	}
	return out
}

// answers are moves the book has nothing for, by their reach.
func answers(s *fact.Side) []fact.Task {
	var tasks []fact.Task
	for i := range s.Unanswered {
		u := &s.Unanswered[i]
		task := fact.Task{
			Lead: fact.LeadAnswer, Moves: u.Line, Need: u.Reach, Minutes: answerMinutes, About: u, Counted: s.Counted(), File: u.File, Line: u.FileLine,
		}
		if len(u.Best) > 0 {
			best := u.Best[0]
			best.Moves = best.Moves[:1]
			task.Best = &best
		}
		tasks = append(tasks, task)
	}
	return tasks
}

// goOn are lines of the book that end early though they are likely.
func goOn(s *fact.Side) []fact.Task {
	var tasks []fact.Task
	for i := range s.Exits {
		x := &s.Exits[i]
		if x.Kind == fact.BookEnds && !x.YourMove && len(x.Line) < earlyPly && x.Reach >= earlyReach && !s.Counted() {
			tasks = append(tasks, fact.Task{Lead: fact.LeadGoOn, Moves: x.Line, Need: x.Reach / 2, Minutes: goOnMinutes, About: x, File: x.File, Line: x.FileLine})
		}
	}
	return tasks
}

// traps are those worth a look.
func traps(s *fact.Side) []fact.Task {
	var tasks []fact.Task
	for i := range s.Traps {
		t := &s.Traps[i]
		if (t.Where == fact.InBook || t.Where == fact.PastBook) && !atGap(t, s.Unanswered) {
			tasks = append(tasks, fact.Task{Lead: fact.LeadTrap, Moves: t.Line, Need: t.Need, Minutes: trapMinutes, About: t, File: t.File, Line: t.FileLine})
		}
	}
	return tasks
}

// atGap: others went wrong where the user has no answer, and the task to find one
// tells the best by the engine.
func atGap(t *fact.Trap, gaps []fact.Unanswered) bool {
	return t.Kind == fact.OthersSlip && slices.ContainsFunc(gaps, func(u fact.Unanswered) bool {
		return len(u.Best) > 0 && slices.Equal(u.Line, t.Line[:len(t.Line)-1])
	})
}

// doubts are moves of the book that an engine finds much worse than the best.
func doubts(s *fact.Side) []fact.Task {
	var tasks []fact.Task
	for i := range s.Again {
		a := &s.Again[i]
		tasks = append(tasks, fact.Task{
			Lead: fact.LeadLook, Moves: slices.Concat(a.Line, a.Played.Moves[:1]), Need: a.Reach * float64(a.Loss) / doubtWeighs,
			Minutes: againMinutes, About: a, File: a.File, Line: a.FileLine,
		})
	}
	return tasks
}

// choices are places where another answer than the main one is recommended.
func choices(options []fact.Option) []fact.Task {
	var tasks []fact.Task
	for i := range options {
		if o := &options[i]; len(o.Reasons) > 0 && !o.Main {
			tasks = append(tasks, choose(o, o.Reach/3))
		}
	}
	return tasks
}

func choose(o *fact.Option, need float64) fact.Task {
	return fact.Task{Lead: fact.LeadChoose, Moves: slices.Concat(o.Line, []string{o.Move}), Need: need, Minutes: chooseMinutes, About: o}
}

// labelled are the places where what the game is for asks for another answer than
// the main choice: only where the user's own labels say so.
func labelled(s *fact.Side) []fact.Task {
	wanted := map[string]string{fact.ForWin: fact.Sharp, fact.ForDraw: fact.Solid}[s.Aim]
	var tasks []fact.Task
	for i := range s.Options {
		o := &s.Options[i]
		firstHere := i == 0 || !slices.Equal(s.Options[i-1].Line, o.Line)
		if wanted != "" && firstHere && !o.Main && o.Character == wanted {
			task := choose(o, o.Reach/2)
			task.Aim = s.Aim
			tasks = append(tasks, task)
		}
	}
	return tasks
}

// orders are the orders of the user's own moves worth a look.
func orders(list []fact.Order) []fact.Task {
	var tasks []fact.Task
	for i := range list {
		if o := &list[i]; o.Kind == fact.YourOrder {
			tasks = append(tasks, fact.Task{Lead: fact.LeadOrder, Moves: slices.Concat(o.Line, []string{o.Move}), Need: o.Matters() / 2, Minutes: orderMinutes, About: o})
		}
	}
	return tasks
}

// again are likely lines that the user has not had for long.
func again(s *fact.Side) []fact.Task {
	var tasks []fact.Task
	for i := range s.Unpractised {
		u := &s.Unpractised[i]
		if len(tasks) < againShown && !s.Counted() {
			tasks = append(tasks, fact.Task{Lead: fact.LeadAgain, Moves: u.Line, Need: u.Reach / 4, Minutes: againMinutes, About: u, File: u.File, Line: u.FileLine})
		}
	}
	return tasks
}
