package main

import (
	"io"
	"os"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"foreply/pdf"
)

func (a *app) compareCommand() *cobra.Command {
	f := &flags{}
	cmd := &cobra.Command{
		Use:   "compare [OPPONENT-ID]",
		Short: "print what to expect from an opponent, without a sheet",
		Long: "compare does all that prep does but the page: it prints the lines to expect, where they\n" +
			"leave your repertoire and what has no answer yet.",
		Args: atMostOne,
		RunE: func(cmd *cobra.Command, args []string) error {
			t, err := a.task(cmd, f, args)
			if err != nil {
				return err
			}
			if err := t.setGame(f); err != nil {
				return err
			}
			report, err := a.makeReport(t)
			if err != nil {
				return err
			}
			if f.json {
				return writeJSON(a.stdout, report)
			}
			return pdf.Text(a.stdout, report, textOptions(a.stdout))
		},
	}
	f.addGames(cmd.Flags())
	f.addBook(cmd.Flags())
	cmd.Flags().BoolVar(&f.json, "json", false, "print the report as JSON")
	return cmd
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
