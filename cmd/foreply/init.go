package main

import (
	_ "embed"
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"foreply/fetch"
)

//go:embed template.yaml
var template []byte

func (a *app) initCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "init [FILE]",
		Short: "write a configuration with comments to start from",
		Long: "init writes a commented configuration to FILE, by default " + configName + " in the working folder. " +
			"A file that is there already is left alone.",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 1 {
				return misuse(fmt.Sprintf("one file at a time, not %d", len(args)))
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			file := configName
			if len(args) == 1 {
				file = args[0]
			}
			return a.init(file)
		},
	}
}

func (a *app) init(file string) error {
	if _, err := os.Lstat(file); err == nil {
		return advise(fmt.Errorf("writing %s: the file is there already", file), "'foreply init OTHER.yaml' writes to another place")
	}
	out, err := a.createOut(file, configHead, nil)
	if err != nil {
		return err
	}
	defer out.drop()
	if _, err := out.Write(template); err != nil {
		return fmt.Errorf("writing %s: %w", file, fetch.Cause(err))
	}
	if err := out.keep(); err != nil {
		return err
	}
	fmt.Fprintf(a.stdout, "wrote %s; fill in your names and files, then: foreply prep OPPONENT-ID --my-color white\n", file)
	return nil
}
