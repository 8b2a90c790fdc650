package find

import (
	"slices"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile/board"
)

// Limits of what is expected.
const (
	expectFrom   = 0.3  // the expected line is told as far as its reach is at least this
	expectSecond = 0.15 // a second one from here
	firstsShown  = 3    // moves named where none is likely
	openFrom     = 0.5  // more of what comes next without an answer is told
)

// Expect makes the likeliest line as far as it is likely, what the user plays
// against it, and the likeliest other way.
func Expect(w *walk.Walk, games Games) []fact.Task {
	s, aside := w.Expect(expectFrom)
	if s.Ply == 0 {
		return openField(w)
	}
	stem := walk.NewTrack(s.Path())
	tasks := []fact.Task{{
		Kind: fact.ToExpect, Lead: fact.LeadExpect, Moves: stem.SANs, Need: s.Mass, Often: oftenAt(w, s, games), Name: stem.Opening().Name,
	}}
	tasks = append(tasks, play(w, stem, w.From(s.Pos, s.Ply).Depth())...)
	if aside != nil && aside.Mass >= expectSecond {
		tasks = append(tasks, otherwise(w, aside, stem.SANs, games))
	}
	return tasks
}

// GapFirst puts the likeliest move without an answer before a line that comes less often: what
// they most likely play is what to expect, answer or not. The line is then the other way. It
// stands out, too, where no move with an answer does.
func GapFirst(tasks []fact.Task, open []fact.Unanswered) []fact.Task {
	if len(tasks) == 0 || len(open) == 0 {
		return tasks
	}
	reach := 1.0 // of a count, and of anything
	switch first := &tasks[0]; {
	case first.Often != nil:
		reach = first.Often.P
	case len(first.Choices) > 0 && first.Of == 0:
		reach = expectFrom
	}
	if open[0].Reach <= reach {
		return tasks
	}
	often := open[0].Often()
	gap := fact.Task{
		Kind: fact.ToExpect, Lead: fact.LeadExpect, Moves: open[0].Line, Gap: open[0].Line, Need: open[0].Reach, Often: &often,
		Name: open[0].Name, Peers: tasks[0].Peers,
	}
	if tasks[0].Often == nil {
		return []fact.Task{gap}
	}
	line := tasks[0]
	line.Lead, line.From, line.Peers = fact.LeadOr, fact.Parts(line.Moves, gap.Moves), false
	for _, t := range tasks[1:] {
		if t.Lead == fact.LeadPlay {
			line.Answer = t.Moves[len(t.Moves)-1]
		}
	}
	return []fact.Task{gap, line}
}

// Gaps names behind each answer of the user's the likeliest line that the book has no answer
// to: how far it holds on average says nothing of that.
func Gaps(tasks []fact.Task, open []fact.Unanswered) {
	for i := range tasks {
		t := &tasks[i]
		behind := func(u fact.Unanswered) bool {
			return len(u.Line) > len(t.Moves) && slices.Equal(u.Line[:len(t.Moves)], t.Moves)
		}
		if at := slices.IndexFunc(open, behind); t.Lead == fact.LeadPlay && at >= 0 {
			t.Gap = open[at].Line
		}
	}
}

// Anything is what to expect where there is no game of theirs with a colour.
func Anything(theirs board.Color) []fact.Task {
	return []fact.Task{{Kind: fact.ToExpect, Lead: fact.LeadExpect, Need: 1, Color: theirs.String()}}
}

// otherwise is the second line: where it parts from the first, how often it
// comes, and the answer to it.
func otherwise(w *walk.Walk, s *walk.State, stem []string, games Games) fact.Task {
	t := walk.NewTrack(s.Path())
	task := fact.Task{
		Kind: fact.ToExpect, Lead: fact.LeadOr, Moves: t.SANs, From: fact.Parts(t.SANs, stem), Need: s.Mass, Often: oftenAt(w, s, games), Name: t.Opening().Name,
	}
	task.Answer = answerAt(w.Book, &t.End)
	return task
}

// openField is told when no first move of theirs is likely enough to name alone:
// the likeliest few.
func openField(w *walk.Walk) []fact.Task {
	s := w.Order[0]
	if s.Pos.Turn() == w.Book.Mine {
		if s, _ = walk.Likeliest(s, w.ByPlace()); s == nil {
			return nil
		}
	}
	var choices []fact.Choice
	for i := range s.Flows[:min(len(s.Flows), firstsShown)] {
		f := &s.Flows[i]
		share := shareAt(s, f.Likely.Range, f.Likely.N)
		choices = append(choices, fact.Choice{Move: s.Pos.SAN(f.Likely.Move), Share: &share})
	}
	return []fact.Task{{Kind: fact.ToExpect, Lead: fact.LeadExpect, Moves: walk.SAN(s.Path()), Need: 1, Choices: choices}}
}

// ExpectCounted tells where most of few games went that met the user's main
// choices, as a count.
func ExpectCounted(w *walk.Walk, games Games) []fact.Task {
	way := mostPlayed(w, games)
	task := fact.Task{Kind: fact.ToExpect, Lead: fact.LeadExpect, Need: 1, Of: way.base}
	if way.base == 0 {
		task.Unmet = walk.SAN(way.moves)
		return []fact.Task{task}
	}
	if way.last == 0 { // they all went different ways
		t := walk.NewTrack(way.moves[:way.from])
		task.Moves = t.SANs
		for _, e := range games.At(t.End.Key()).Edges {
			task.Choices = append(task.Choices, fact.Choice{Move: t.End.SAN(e.Move)})
		}
		return []fact.Task{task}
	}
	stem := walk.NewTrack(way.moves[:way.last])
	task.Moves, task.Played, task.First, task.Name = stem.SANs, way.games, way.from, stem.Opening().Name
	plays := play(w, stem, 0)
	for i := range plays {
		plays[i].Counted = true
	}
	return append([]fact.Task{task}, plays...)
}

// trodden is the way that most games took against the user's main choices.
type trodden struct {
	moves []board.Move
	from  int // plies before their first decision in it
	base  int // games that came there
	last  int // plies up to their last move in it, 0 for none
	games int // games with that move
}

// mostPlayed follows their commonest moves as far as two games went, or the only
// one.
func mostPlayed(w *walk.Walk, games Games) trodden {
	var way trodden
	pos := board.Start()
	for len(way.moves) < w.Opt.MaxPly {
		if pos.Turn() == w.Book.Mine {
			answers := w.Book.Answers(pos.Key())
			if len(answers) == 0 {
				break
			}
			way.moves = append(way.moves, answers[0])
		} else {
			n := games.At(pos.Key())
			if n != nil && way.base == 0 {
				way.from, way.base = len(way.moves), int(n.Games)
			}
			if n == nil || int(n.Edges[0].Games) < min(2, way.base) {
				break
			}
			way.moves = append(way.moves, n.Edges[0].Move)
			way.last, way.games = len(way.moves), int(n.Edges[0].Games)
		}
		pos.Play(way.moves[len(way.moves)-1])
	}
	return way
}

// play names the answer at the end of a line, to about which move it is
// prepared, with the note on it.
func play(w *walk.Walk, stem walk.Track, depth float64) []fact.Task {
	answers := w.Book.Answers(stem.End.Key())
	if len(answers) == 0 {
		return nil
	}
	t := stem.And(answers[0])
	if depth <= float64(len(t.SANs)/2+2) {
		depth = 0 // not worth a word
	}
	task := fact.Task{Kind: fact.ToPlay, Lead: fact.LeadPlay, Moves: t.SANs, From: len(t.SANs) - 1, Note: w.Book.Note(t.End.Key()), Need: 1, Depth: depth}
	task.File, task.Line = t.Spot(w.Book)
	if s := w.ByPlace()[walk.Key{Position: t.End.Key(), Ply: len(t.SANs)}]; s != nil && s.Mass > 0 && len(s.Flows) > 0 {
		if open := 1 - goesOn(s, w.Book)/s.Mass; open > openFrom {
			task.Open = open
		}
	}
	return []fact.Task{task}
}
