package main

import (
	"github.com/spf13/cobra"

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
			return pdf.Text(a.stdout, report, pdf.TextOptions{})
		},
	}
	f.addGames(cmd.Flags())
	f.addBook(cmd.Flags())
	cmd.Flags().BoolVar(&f.json, "json", false, "print the report as JSON")
	return cmd
}
