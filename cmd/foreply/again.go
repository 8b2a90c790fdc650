package main

import (
	"bufio"
	"cmp"
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"foreply/compare/fact"
	"foreply/compare/find"
	"foreply/compare/words"
	"foreply/profile"
	"foreply/profile/analysis"
	"foreply/profile/board"
)

// answers are the moves of a side in a repertoire, each of a position once, in
// order of the files.
type answers struct {
	mine board.Color
	list []answer
	seen map[answerKey]bool
}

type answer struct {
	pos      board.Position
	move     board.Move
	line     []string // SAN, to the move
	file     string
	fileLine int
}

type answerKey struct {
	key  uint64
	move board.Move
}

// add takes a move of the user's that a way came to, but no known mistake.
func (a *answers) add(w *way, n *profile.Node, pos board.Position, line []string) {
	at := answerKey{pos.Key(), n.Move}
	if pos.Turn() != a.mine || w.mistaken || n.Move == board.NullMove || a.seen[at] {
		return
	}
	a.seen[at] = true
	a.list = append(a.list, answer{pos, n.Move, slices.Clone(line), w.file, n.FileLine})
}

// positions are what an engine must look at to judge the answers: the earliest
// first, since most lines go through them.
func (a *answers) positions() []board.Position {
	list := slices.Clone(a.list)
	slices.SortStableFunc(list, func(x, y answer) int { return cmp.Compare(x.pos.Ply(), y.pos.Ply()) })
	var out []board.Position
	for _, p := range list {
		after := p.pos
		after.Play(p.move)
		out = append(out, p.pos, after)
	}
	return out
}

// checkEngine is the engine of --engine, nil for none. How it is asked may stand
// in the configuration.
func (a *app) checkEngine(cmd *cobra.Command, f *flags, judged bool) (*engineConfig, error) {
	if f.engine == "" {
		return nil, nil
	}
	if !judged {
		return nil, misuse("--engine judges your moves: which are they?", "add --my-color white or black")
	}
	cfg, err := loadConfig(f.config, cmd.Flags())
	if err != nil {
		return nil, err
	}
	a.tellHeld(cfg)
	return &cfg.Engine, nil
}

// lookAgain lists the user's moves that an engine finds much worse than the best
// ones.
func (a *app) lookAgain(engine *engineConfig, c *checker) error {
	if engine == nil {
		return nil
	}
	found, err := a.look(engine, c.answers.positions())
	if err != nil || found == nil {
		return err
	}
	w := bufio.NewWriter(a.stdout)
	lost, judged := c.answers.lost(found)
	fmt.Fprintf(w, "\nlook again (0.8 or more lost): %d of %s, %s\n", len(lost), words.Plural(judged, "answer"), clean(words.ByEngine(find.EngineOf(found))))
	for i := range lost {
		fmt.Fprintf(w, "  %s\n", lost[i].text(c.book.Mine))
	}
	return w.Flush()
}

// lostAnswer is an answer that loses against the best move.
type lostAnswer struct {
	fact.Again
	answer
	start int // plies before the first move of its line
}

// text is where the answer stands, after which moves, and what it loses.
func (l *lostAnswer) text(mine board.Color) string {
	head := fmt.Sprintf("%s:%d:", clean(l.file), l.fileLine)
	if len(l.Line) > 0 {
		head += fmt.Sprintf(" after %s:", words.Movetext(l.Line, l.start))
	}
	return head + " " + words.Again(&l.Again, l.start+len(l.Line), mine.String())
}

// lost are the answers to look at again, the worst first, and how many could be
// judged.
func (a *answers) lost(found *analysis.Found) (list []lostAnswer, judged int) {
	for _, p := range a.list {
		before := p.line[:len(p.line)-1]
		again, ok, known := find.Again(found, before, &p.pos, p.move)
		if known {
			judged++
		}
		if ok {
			list = append(list, lostAnswer{again, p, p.pos.Ply() - len(before)})
		}
	}
	slices.SortStableFunc(list, func(x, y lostAnswer) int { return cmp.Compare(y.Loss, x.Loss) })
	return list, judged
}
