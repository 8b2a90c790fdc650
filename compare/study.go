package compare

import (
	"cmp"
	"fmt"
	"slices"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/compare/words"
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
	earlyPly   = 16   // a book that ends before this ply ends early
	earlyReach = 0.04 // and is told from this reach
	againReach = 0.05 // a line not met for long is told from this reach
	againDays  = 365  // long
	againMove  = 4    // lines are told apart at your move of this number
	againShown = 1
	// A move of the book that loses so many centipawns is as bad as none.
	doubtWeighs = 200
	mostLooks   = 6 // even with time for more: the page has room for no more
)

// study deals the time at hand out to what wants work, by need: what comes often
// and what is missing most. What no longer fits is passed over for what still
// does; one thing there is always time for. An answer that two reasons speak for is
// told once, by the weightier.
func (c *comparison) study(w *walk.Walk, s *fact.Side, stem []string) []fact.Task {
	all := slices.Concat(c.unansweredTasks(s, stem), c.goOnTasks(s, stem), c.trapTasks(s.Traps, s.Unanswered, stem),
		doubtTasks(s, stem), chooseTasks(s.Options, stem), situationTasks(s.Options, c.opt.Need, stem), orderTasks(s.Orders, stem), c.againTasks(w, stem))
	slices.SortStableFunc(all, func(a, b fact.Task) int { return cmp.Compare(b.Need, a.Need) })
	var out []fact.Task
	left := c.opt.Minutes
	most := min(left/answerMinutes, mostLooks) // many small things tire like a large one
	for _, task := range all {
		told := slices.ContainsFunc(out, func(o fact.Task) bool { return o.Lead == task.Lead && slices.Equal(o.Moves, task.Moves) })
		if told || len(out) > 0 && (task.Minutes > left || len(out) >= most) {
			continue
		}
		out = append(out, task)
		left -= task.Minutes
	}
	return out
}

// unansweredTasks are moves the book has nothing for, by their reach.
func (c *comparison) unansweredTasks(s *fact.Side, stem []string) []fact.Task {
	var tasks []fact.Task
	for i := range s.Unanswered {
		u := &s.Unanswered[i]
		how := words.OneIn(u.Reach)
		if c.counted {
			how = words.Seen(u).Text
		} else if u.Share.Of > 0 {
			how += ", " + words.Seen(u).Text
		}
		file, line := walk.Resolved(u.Line).Spot(c.book)
		task := fact.Task{
			Kind: "look", Lead: "answer", Moves: u.Line, Need: u.Reach, Minutes: answerMinutes, File: file, Line: line,
			Text: fmt.Sprintf("%s: %s", words.Parted(u.Line, stem), how),
		}
		if len(u.Best) > 0 {
			best := u.Best[0]
			best.Moves = best.Moves[:1]
			task.Best = &best
			task.Text += "; best " + words.Evaluated(&best, len(u.Line), s.MyColor)
		}
		tasks = append(tasks, task)
	}
	return tasks
}

// goOnTasks are lines of the book that end early though they are likely.
func (c *comparison) goOnTasks(s *fact.Side, stem []string) []fact.Task {
	var tasks []fact.Task
	for i := range s.Exits {
		x := &s.Exits[i]
		if x.Kind != fact.BookEnds || x.YourMove || len(x.Line) >= earlyPly || x.Reach < earlyReach || c.counted {
			continue
		}
		tasks = append(tasks, fact.Task{
			Kind: "look", Lead: "go on", Moves: x.Line, Need: x.Reach / 2, Minutes: goOnMinutes, File: x.File, Line: x.FileLine,
			Text: fmt.Sprintf("from %s, where your book ends: %s", words.Parted(x.Line, stem), words.OneIn(x.Reach)),
		})
	}
	return tasks
}

// doubtTasks are moves of the book that an engine finds much worse than the best.
func doubtTasks(s *fact.Side, stem []string) []fact.Task {
	var tasks []fact.Task
	for i := range s.Again {
		a := &s.Again[i]
		line := slices.Concat(a.Line, a.Played.Moves[:1])
		tasks = append(tasks, fact.Task{
			Kind: "look", Lead: "look", Moves: line, Need: a.Reach * float64(a.Loss) / doubtWeighs, Minutes: againMinutes,
			File: a.File, Line: a.FileLine,
			Text: fmt.Sprintf("again at %s: %s", words.Parted(line, stem), words.AgainTail(a, s.MyColor)),
		})
	}
	return tasks
}

// chooseTasks are places where another answer than the main one is recommended.
func chooseTasks(options []fact.Option, stem []string) []fact.Task {
	var tasks []fact.Task
	for i := range options {
		o := &options[i]
		if len(o.Reasons) == 0 || o.Main {
			continue
		}
		line := slices.Concat(o.Line, []string{o.Move})
		tasks = append(tasks, fact.Task{
			Kind: "look", Lead: "choose", Moves: line, Need: o.Reach / 3, Minutes: chooseMinutes,
			Text: fmt.Sprintf("%s: %s", words.Parted(line, stem), words.Recommended(o)),
		})
	}
	return tasks
}

// againTasks are likely lines of the book that the user's own games have not had
// for long.
func (c *comparison) againTasks(w *walk.Walk, stem []string) []fact.Task {
	if c.in.Own == nil || c.counted {
		return nil
	}
	tree := c.in.Own.Tree(c.book.Mine)
	var tasks []fact.Task
	for _, s := range w.Order {
		if s.Mass < againReach || s.Pos.Turn() != c.book.Mine || len(s.Flows) == 0 || s.Ply/2 != againMove-1 {
			continue
		}
		when := "not in your games"
		if n := tree.At(s.Key); n != nil {
			g := &c.in.Own.Games[n.Visits[len(n.Visits)-1].Game]
			if !g.Date.Known() || c.opt.When.Known() && g.Span.Last+againDays >= c.opt.When.First {
				continue
			}
			when = "you last had it " + words.Date(g.Date)
		}
		t := walk.NewTrack(s.Path()).And(s.Flows[0].Likely.Move)
		file, line := t.Spot(c.book)
		tasks = append(tasks, fact.Task{
			Kind: "look", Lead: "again", Moves: t.SANs, Need: s.Mass / 4, Minutes: againMinutes, File: file, Line: line,
			Text: fmt.Sprintf("%s: %s; %s", words.Parted(t.SANs, stem), when, words.OneIn(s.Mass)),
		})
	}
	slices.SortStableFunc(tasks, func(a, b fact.Task) int { return cmp.Compare(b.Need, a.Need) })
	return tasks[:min(len(tasks), againShown)]
}

// changeReach is the reach from which a change is told among what to do tonight.
const changeReach = 0.1

// changeTasks are the changes that you are likely to meet.
func changeTasks(changes []fact.Change) []fact.Task {
	for i := range changes {
		if ch := &changes[i]; ch.Reach >= changeReach {
			return []fact.Task{{Kind: "expect", Lead: "changed", Moves: ch.Line, Text: words.Change(ch).String(), Need: ch.Reach}}
		}
	}
	return nil
}

// orderTasks are the orders of your own moves worth a look.
func orderTasks(orders []fact.Order, stem []string) []fact.Task {
	var tasks []fact.Task
	for i := range orders {
		o := &orders[i]
		if o.Kind != fact.YourOrder {
			continue
		}
		tasks = append(tasks, fact.Task{
			Kind: "look", Lead: "order", Moves: slices.Concat(o.Line, []string{o.Move}), Need: o.Matters() / 2, Minutes: orderMinutes,
			Text: words.OrderTask(o, stem).String(),
		})
	}
	return tasks
}

// trapTasks are the traps worth a look, ranked with all else.
func (c *comparison) trapTasks(traps []fact.Trap, gaps []fact.Unanswered, stem []string) []fact.Task {
	var tasks []fact.Task
	for i := range traps {
		t := &traps[i]
		if t.Kind == fact.TheyScore || t.Kind == fact.TheyFail || t.Where != fact.InBook && t.Where != fact.PastBook || atGap(t, gaps) {
			continue
		}
		file, line := walk.Resolved(t.Line).Spot(c.book)
		tasks = append(tasks, fact.Task{
			Kind: "look", Lead: "trap", Moves: t.Line, Need: t.Need, Minutes: trapMinutes, File: file, Line: line,
			Text: words.Parted(t.Line, stem) + ": " + words.Trap(t).String(),
		})
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

// situationTasks are the places where the situation asks for another answer than
// the main choice: only where the user's own labels say so.
func situationTasks(options []fact.Option, need fact.Need, stem []string) []fact.Task {
	wanted := [...]string{fact.NeedWin: fact.Sharp, fact.NeedDraw: fact.Solid}
	if need == fact.AnyResult {
		return nil
	}
	var tasks []fact.Task
	for i := range options {
		o := &options[i]
		firstHere := i == 0 || !slices.Equal(options[i-1].Line, o.Line)
		if !firstHere || o.Main || o.Character != wanted[need] {
			continue
		}
		line := slices.Concat(o.Line, []string{o.Move})
		tasks = append(tasks, fact.Task{
			Kind: "look", Lead: "choose", Moves: line, Need: o.Reach / 2, Minutes: chooseMinutes,
			Text: fmt.Sprintf("%s for a %s: you call it %s", words.Parted(line, stem), need, o.Character),
		})
	}
	return tasks
}
