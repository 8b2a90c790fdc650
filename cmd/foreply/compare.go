package main

import (
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/lines"
	"foreply/fetch"
	"foreply/pdf"
)

func (a *app) compareCommand() *cobra.Command {
	f := &flags{}
	cmd := &cobra.Command{
		Use:   "compare [OPPONENT-ID]",
		Short: "print what to expect from an opponent, without a sheet",
		Long: "compare does all that prep does but the page: it prints the lines to expect, where they " +
			"leave your repertoire and what has no answer yet.",
		Example: "  foreply compare wetherby --my-color black --pgn lines.pgn",
		Args:    atMostOne,
		RunE: func(cmd *cobra.Command, args []string) error {
			t, err := a.gameTask(cmd, f, args)
			if err != nil {
				return err
			}
			return a.compare(t, f)
		},
	}
	f.addGames(cmd.Flags())
	f.addPeers(cmd.Flags(), newestOfTheirs)
	f.addBook(cmd.Flags())
	f.addEngine(cmd.Flags())
	cmd.Flags().BoolVar(&f.json, "json", false, "print the report as JSON")
	cmd.Flags().StringVar(&f.pgn, "pgn", "", "`FILE` to write a study to, as PGN: a chapter for each line to expect, with your notes and what others answered, and games of theirs")
	cmd.Flags().StringVar(&f.epd, "epd", "", "`FILE` to write the ends of the lines to, as EPD with their reach")
	a.addForce(cmd.Flags())
	return cmd
}

func (a *app) compare(t *task, f *flags) error {
	var report *fact.Report
	var books []*book.Book
	outs := []struct {
		path, head string
		write      func(io.Writer) error
		file       *outFile
	}{
		{path: f.pgn, head: pgnHead, write: func(w io.Writer) error { return lines.WritePGN(report, w, books) }},
		{path: f.epd, head: epdHead, write: func(w io.Writer) error { return lines.WriteEPD(report, w) }},
	}
	var err error
	for i := range outs {
		if o := &outs[i]; o.path != "" {
			if o.file, err = a.createOut(o.path, o.head, t.reads()); err != nil {
				return err
			}
			defer o.file.drop()
		}
	}
	if report, books, err = a.makeReport(t); err != nil {
		return err
	}
	for _, o := range outs {
		if o.file == nil {
			continue
		}
		if err := o.write(o.file); err != nil {
			return fmt.Errorf("writing %s: %w", o.path, fetch.Cause(err))
		}
		if err := o.file.keep(); err != nil {
			return err
		}
	}
	if f.json {
		return writeJSON(a.stdout, report)
	}
	return pdf.Text(a.stdout, report, textOptions(a.stdout))
}

// widest is how wide text is set on a terminal that is wider.
const widest = 100

// textOptions fits the text to a terminal; to a file it goes plain and 80
// columns wide. NO_COLOR asks for plain text too (common practice).
func textOptions(out io.Writer) pdf.TextOptions {
	f, ok := out.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return pdf.TextOptions{}
	}
	opt := pdf.TextOptions{Style: os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"}
	if width, _, err := term.GetSize(int(f.Fd())); err == nil {
		opt.Columns = min(width, widest)
	}
	return opt
}
