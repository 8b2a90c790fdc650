package main

import (
	"bufio"
	"errors"
	"fmt"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"foreply/compare"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
	"foreply/profile/referee"
)

func (a *app) checkCommand() *cobra.Command {
	var color string
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "check FILE...",
		Short: "read a repertoire alone and say what is wrong with it",
		Long: "check reads repertoire files and lists their chapters and what there is to mend: moves that\n" +
			"can't be played, with their place; with --my-color also lines that stop before your answer.\n" +
			"The exit code is 1 if a move can't be played.",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return misuse("which file?", "foreply check white.pgn black.pgn")
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if asJSON {
				return a.checkJSON(args)
			}
			return a.check(args, color)
		},
	}
	cmd.Flags().StringVar(&color, "my-color", "", "white or black: judge lines that stop before your answer")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print what was read as JSON")
	return cmd
}

// errBroken ends a check that found moves to mend; they are printed by then.
var errBroken = errors.New("the repertoire has moves that can't be played")

func (a *app) check(files []string, color string) error {
	mine, judged := board.White, color != ""
	switch color {
	case "", "white":
	case "black":
		mine = board.Black
	default:
		return misuse(fmt.Sprintf("--my-color: %q is no colour", color), "white or black")
	}
	broken := false
	w := bufio.NewWriter(a.stdout)
	defer w.Flush()
	for _, file := range files {
		c := newChecker(mine)
		stray, err := a.readChapters([]string{file}, c.add)
		if err := errors.Join(err, c.err); err != nil {
			return err
		}
		c.book.Problems = append(c.book.Problems, stray...)
		c.print(w, file, judged)
		if err := w.Flush(); err != nil {
			return err
		}
		broken = a.tellProblems(c.book.Problems) || broken
	}
	if broken {
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
	book      *compare.Book
	positions map[uint64]bool
	notes     int
	err       error // our rules and the library's disagree
}

func newChecker(mine board.Color) *checker {
	return &checker{book: compare.NewBook(mine), positions: map[uint64]bool{}}
}

func (c *checker) add(g *pgn.Game) {
	if p := notChess(g); p != nil {
		c.book.Problems = append(c.book.Problems, *p)
		return
	}
	c.book.Add(g)
	start, err := profile.Start(g.Tags)
	if err != nil {
		return // the book has it among its problems
	}
	line, _ := profile.Replay(g, start)
	fen := ""
	if !profile.FromStart(g.Tags) {
		fen = start.FEN()
	}
	c.line(fen, line, start, nil)
}

// line counts positions and notes, and replays the line through the rules
// library.
func (c *checker) line(fen string, line *profile.Line, pos board.Position, sans []string) {
	c.notes += words(line.Comments)
	for i := range line.Moves {
		n := &line.Moves[i]
		for _, v := range n.Variations {
			c.line(fen, v, pos, sans[:len(sans):len(sans)])
		}
		c.positions[pos.Key()] = true
		c.notes += words(n.Comments)
		sans = append(sans, n.SAN)
		pos.Play(n.Move)
	}
	if err := referee.Line(fen, sans); err != nil && c.err == nil {
		c.err = advise(fmt.Errorf("our rules and the library's differ: %w", err), "please report this with the file")
	}
}

func words(comments []string) int {
	n := 0
	for _, c := range comments {
		if pgn.PlainComment(c) != "" {
			n++
		}
	}
	return n
}

func (c *checker) print(w *bufio.Writer, file string, judged bool) {
	b := c.book
	fmt.Fprintf(w, "%s: %s, %s with a move, %s\n", clean(file), plural(len(b.Chapters), "chapter"),
		plural(len(c.positions), "position"), plural(c.notes, "note"))
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, ch := range b.Chapters {
		fmt.Fprintf(t, "  %d\t%s\t%s%s\n", ch.Game, clean(ch.Name), plural(ch.Moves, "move"), about(&ch))
	}
	t.Flush()
	if judged {
		c.printStops(w)
	}
}

// about says what is special about a chapter.
func about(ch *compare.Chapter) string {
	var parts []string
	switch ch.Role {
	case compare.SurpriseRole:
		parts = append(parts, "surprise")
	case compare.RestRole:
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

// printStops lists the lines that end on the opponent's move.
func (c *checker) printStops(w *bufio.Writer) {
	b := c.book
	fmt.Fprintf(w, "  with %s: %s with an answer\n", b.Mine, plural(b.Positions(), "position"))
	for _, ch := range b.Chapters {
		for _, stop := range ch.StopsAt {
			fmt.Fprintf(w, "  line %d: no answer to %s\n", stop.FileLine, compare.Movetext(stop.Line, 0))
		}
	}
}
