package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"foreply/compare/book"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
	"foreply/profile/referee"
)

func (a *app) checkCommand() *cobra.Command {
	var color string
	var asJSON bool
	f := &flags{}
	cmd := &cobra.Command{
		Use:   "check FILE...",
		Short: "read a repertoire alone and say what is wrong with it",
		Long: "check reads repertoire files and lists their chapters and what there is to mend: moves that " +
			"can't be played, with their place; with --my-color also lines that stop before your answer. " +
			"The exit code is 1 if a move can't be played. With --engine your own moves are listed that " +
			"lose 0.8 or more against the best, the worst first.",
		Args: atLeastOne("which file?", "foreply check white.pgn black.pgn"),
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case asJSON && f.engine != "":
				return misuse("--json prints what was read, which no engine changes", "leave --json or --engine out")
			case asJSON:
				return a.checkJSON(args)
			}
			return a.check(cmd, f, args, color)
		},
	}
	cmd.Flags().StringVar(&color, "my-color", "", "your `COLOUR` in these files, white or black: lists also lines that stop before your answer, and where you have a choice")
	f.addEngine(cmd.Flags())
	cmd.Flags().Lookup("engine").Usage = "`COMMAND` of a UCI engine on your machine: judges your moves"
	cmd.Flags().StringVar(&f.config, "config", "", "configuration `FILE`, for how the engine is asked")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print what was read as JSON")
	return cmd
}

// errBroken ends a check that found moves to mend; they are printed by then.
var errBroken = errors.New("the repertoire has moves that can't be played")

func (a *app) check(cmd *cobra.Command, f *flags, files []string, color string) error {
	mine, judged := board.White, color != ""
	switch strings.ToLower(color) {
	case "", "white":
	case "black":
		mine = board.Black
	default:
		return misuse(fmt.Sprintf("--my-color: %q is no colour", color), "white or black")
	}
	engine, err := a.checkEngine(cmd, f, judged)
	if err != nil {
		return err
	}
	c := newChecker(mine)
	stray, err := a.readChapters(files, c.add)
	if err := errors.Join(err, c.err); err != nil {
		return err
	}
	if err := c.print(a.stdout, judged); err != nil {
		return err
	}
	if err := a.lookAgain(engine, c); err != nil {
		return err
	}
	if len(c.book.Chapters) == 0 {
		a.say.warn("no games in %s", strings.Join(files, ", "))
	}
	if a.tellProblems(append(stray, c.book.Problems...)) {
		return errBroken
	}
	return nil
}

// tellProblems prints what is to be mended, errors first, and reports whether
// there are any.
func (a *app) tellProblems(list []pgn.Problem) bool {
	by := map[pgn.Severity][]pgn.Problem{}
	for _, p := range list {
		by[p.Severity] = append(by[p.Severity], p)
	}
	a.say.excerpts("error", by[pgn.Error], len(list))
	a.say.excerpts("warning", by[pgn.Warning], len(list))
	if a.say.verbose {
		a.say.excerpts("note", by[pgn.Note], len(list))
	}
	return len(by[pgn.Error]) > 0
}

// checker sums up a repertoire file.
type checker struct {
	book      *book.Book
	positions map[uint64]bool
	notes     int
	answers   answers
	err       error // our rules and the library's disagree
}

func newChecker(mine board.Color) *checker {
	return &checker{book: book.New(mine), positions: map[uint64]bool{}, answers: answers{mine: mine, seen: map[answerKey]bool{}}}
}

func (c *checker) add(g *pgn.Game) {
	if p := notChess(g); p != nil {
		c.book.Problems = append(c.book.Problems, *p)
		return
	}
	c.book.Add(g)
	start, err := profile.Start(g.Header())
	if err != nil {
		return // the book has it among its problems
	}
	line, _ := profile.Replay(g, start)
	w := way{file: g.File}
	if g.Header().Start != pgn.UsualStart {
		w.fen = start.FEN()
	}
	c.line(w, line, start, nil)
}

// way is how a line came about.
type way struct {
	fen, file string
	mistaken  bool // by a move that the book marks as the user's mistake
}

// line counts positions and notes, gathers answers, and replays the line through
// the rules library.
func (c *checker) line(w way, line *profile.Line, pos board.Position, sans []string) {
	c.notes += withWords(line.Comments)
	for i := range line.Moves {
		n := &line.Moves[i]
		for _, v := range n.Variations {
			c.line(w, v, pos, sans[:len(sans):len(sans)])
		}
		c.positions[pos.Key()] = true
		c.notes += withWords(n.Comments)
		sans = append(sans, n.SAN)
		w.mistaken = w.mistaken || pos.Turn() == c.book.Mine && (slices.Contains(n.NAGs, 2) || slices.Contains(n.NAGs, 4))
		c.answers.add(&w, n, pos, sans)
		pos.Play(n.Move)
	}
	if err := referee.Line(w.fen, sans); err != nil && c.err == nil {
		c.err = advise(fmt.Errorf("our rules and the library's differ: %w", err), "please report this with the file")
	}
}

func withWords(comments []string) int {
	n := 0
	for _, c := range comments {
		if pgn.PlainComment(c) != "" {
			n++
		}
	}
	return n
}

// print lists the chapters, file by file, and what there is in all.
func (c *checker) print(out io.Writer, judged bool) error {
	w := bufio.NewWriter(out)
	chapters := c.book.Chapters
	for len(chapters) > 0 {
		file, n := chapters[0].File, 1
		for n < len(chapters) && chapters[n].File == file {
			n++
		}
		fmt.Fprintf(w, "%s\n", clean(file))
		t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
		for _, ch := range chapters[:n] {
			fmt.Fprintf(t, "  %d\t%s\t%s%s\n", ch.Game, clean(ch.Name), words.Plural(ch.Moves, "move"), about(&ch))
		}
		t.Flush()
		chapters = chapters[n:]
	}
	fmt.Fprintf(w, "%s, %s, %s\n", words.Plural(len(c.book.Chapters), "chapter"),
		words.Plural(len(c.positions), "position"), words.Plural(c.notes, "note"))
	if judged {
		c.printReview(w)
	}
	return w.Flush()
}

// about says what is special about a chapter.
func about(ch *book.Chapter) string {
	var parts []string
	switch ch.Role {
	case book.SurpriseRole:
		parts = append(parts, "surprise")
	case book.RestRole:
		parts = append(parts, "rest: not walked")
	}
	if ch.SetUp {
		parts = append(parts, "from a set-up position")
	}
	if len(parts) == 0 {
		return ""
	}
	return "  (" + strings.Join(parts, ", ") + ")"
}

// printReview lists what there is to work on: lines that end on the opponent's
// move, positions with several answers, chapters that nothing leads to.
func (c *checker) printReview(w *bufio.Writer) {
	b, r := c.book, c.book.Review()
	fmt.Fprintf(w, "\nfor your games with %s: %s with an answer\n", b.Mine, words.Plural(b.Positions(), "position"))
	for _, stop := range r.Stops {
		fmt.Fprintf(w, "  %s:%d: no answer to %s\n", clean(stop.File), stop.FileLine, words.Movetext(stop.Line, stop.Ply))
	}
	for _, ch := range r.Unreached {
		fmt.Fprintf(w, "  %s:%d: no line from the first move leads to chapter %q\n", clean(ch.File), ch.Line, clean(ch.Name))
	}
	for _, o := range r.Choices {
		at := "at the first move"
		if len(o.Line) > 0 {
			at = "after " + words.Movetext(o.Line, 0)
		}
		fmt.Fprintf(w, "  %s you have %s\n", at, words.Alternatives(o.Moves, len(o.Line)))
	}
}
