package main

import (
	_ "embed"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"github.com/spf13/cobra"
)

//go:embed template.yaml
var template []byte

func (a *app) initCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "init [FILE]",
		Short: "write a configuration with comments to start from",
		Long: "init writes a commented configuration to FILE, by default " + configName + " in the working folder.\n" +
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
	f, err := os.OpenFile(file, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
	switch {
	case errors.Is(err, fs.ErrExist):
		return advise(fmt.Errorf("writing %s: the file is there already", file), "'foreply init OTHER.yaml' writes to another place")
	case errors.Is(err, fs.ErrNotExist):
		return advise(fmt.Errorf("writing %s: %w", file, cause(err)), "make the folder first")
	case err != nil:
		return fmt.Errorf("writing %s: %w", file, cause(err))
	}
	_, err = f.Write(template)
	if e := f.Close(); err == nil {
		err = e
	}
	if err != nil {
		os.Remove(file)
		return fmt.Errorf("writing %s: %w", file, cause(err))
	}
	fmt.Fprintf(a.stdout, "wrote %s; fill in your names and files, then: foreply prep OPPONENT-ID --my-color white\n", file)
	return nil
}
