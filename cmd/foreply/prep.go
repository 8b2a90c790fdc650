package main

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf"
)

const defaultOut = "sheet.pdf"

func (a *app) prepCommand() *cobra.Command {
	f := &flags{}
	cmd := &cobra.Command{
		Use:   "prep [OPPONENT-ID]",
		Short: "make the sheet for a game",
		Long: "prep reads the opponent's games and your repertoire and writes the sheet, a PDF of one " +
			"page. The opponent is an id of the configuration, or a name given by --opponent.",
		Example: "  foreply prep --games 'games/*.pgn' --opponent 'Last, First' \\\n" +
			"    --opponent handle --repertoire black.pgn --my-color black -o sheet.pdf\n" +
			"  foreply prep wetherby --my-color black --clock 5400+30 --round 4",
		Args: atMostOne,
		RunE: func(cmd *cobra.Command, args []string) error { return a.prep(cmd, f, args) },
	}
	fs := cmd.Flags()
	f.addGames(fs)
	f.addPeers(fs, newestOfTheirs)
	f.addBook(fs)
	fs.StringVarP(&f.out, "out", "o", "", "the sheet to write, a `FILE` (default: "+defaultOut+"; with --json: none)")
	a.addForce(fs)
	f.addSheet(fs)
	f.addEngine(fs)
	fs.StringVar(&f.event, "event", "", "`EVENT`, for the head of the sheet")
	fs.StringVar(&f.round, "round", "", "`ROUND`, for the head of the sheet")
	fs.StringVar(&f.board, "board", "", "`BOARD`, for the head of the sheet")
	fs.BoolVar(&f.json, "json", false, "print the report as JSON")
	return cmd
}

func (a *app) prep(cmd *cobra.Command, f *flags, args []string) error {
	t, err := a.gameTask(cmd, f, args)
	if err != nil {
		return err
	}
	if f.out == "" && !f.json {
		f.out = defaultOut
	}
	var out *outFile
	if f.out != "" {
		if out, err = a.createOut(f.out, pdfHead, t.reads()); err != nil {
			return err
		}
		defer out.drop()
	}
	report, _, err := a.makeReport(t)
	if err != nil {
		return err
	}
	if out != nil {
		if err := writeSheet(out, report, t.cfg.Sheet.options()); err != nil {
			return err
		}
	}
	if f.json {
		if out == nil {
			if _, report.Pages, err = pdf.Layout(report, t.cfg.Sheet.options()); err != nil {
				return err
			}
		}
		return writeJSON(a.stdout, report)
	}
	return a.tellSheet(report, f.out)
}

// options are how the sheet is printed.
func (s *sheetConfig) options() pdf.Options {
	return pdf.Options{Paper: s.Paper, Half: s.Half, Large: s.Large, OnePage: s.OnePage}
}

func writeSheet(out *outFile, report *fact.Report, opt pdf.Options) error {
	err := out.fill(func(w io.Writer) (err error) {
		report.Pages, err = pdf.Write(w, report, opt)
		return err
	})
	if err != nil {
		return err
	}
	return out.keep()
}

// place says where a task stands in the repertoire, for who opens the file now.
func place(task *fact.Task) string {
	if task.Kind != fact.ToLook || task.File == "" {
		return ""
	}
	return fmt.Sprintf(" [%s:%d]", task.File, task.Line)
}

// tellSheet says what was made, and the lines that matter most.
func (a *app) tellSheet(r *fact.Report, path string) error {
	w := bufio.NewWriter(a.stdout)
	wrap(w, "", "  ", strings.Fields(clean(r.Opponent.Name+": "+words.Basis(&r.Basis).String())))
	for i := range r.Sides {
		side := &r.Sides[i]
		fmt.Fprintf(w, "\ntonight, for your game with %s:\n", side.MyColor)
		for _, task := range side.Tonight {
			wrap(w, fmt.Sprintf("  %-7s ", words.Lead(task.Lead)), strings.Repeat(" ", 10), strings.Fields(clean(words.Task(&task).String()+place(&task))))
		}
	}
	fmt.Fprintf(w, "\nwrote %s\n", path)
	return w.Flush()
}
