package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// shells are those that completion is written for.
var shells = map[string]func(root *cobra.Command, w io.Writer) error{
	"bash": func(root *cobra.Command, w io.Writer) error { return root.GenBashCompletionV2(w, true) },
	"fish": func(root *cobra.Command, w io.Writer) error { return root.GenFishCompletion(w, true) },
	"zsh":  func(root *cobra.Command, w io.Writer) error { return root.GenZshCompletion(w) },
}

func (a *app) completionCommand() *cobra.Command {
	const names = "bash, fish or zsh"
	return &cobra.Command{
		Use:   "completion SHELL",
		Short: "print what lets a shell complete foreply's commands",
		Long: "completion prints a script for bash, fish or zsh. With it the tab key completes commands, " +
			"flags, the ids of your opponents, colours, clocks and needs. 'make install' puts all three " +
			"where the shells look; for the shell of this moment: source <(foreply completion bash)",
		ValidArgs: []cobra.Completion{"bash", "fish", "zsh"},
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return misuse("for which shell?", names)
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			write, ok := shells[args[0]]
			if !ok {
				return misuse(fmt.Sprintf("no completion for %q", args[0]), names)
			}
			return write(cmd.Root(), a.stdout)
		},
	}
}

// choices are what a flag may be given, with what it means where that is not plain.
var choices = map[string][]cobra.Completion{
	"my-color":    {"white", "black", "both\tnot known yet: a sheet for either"},
	"their-color": {"white", "black"},
	"need":        {"win", "draw", "any"},
	"paper":       {"a4", "letter"},
	"class":       {"classical", "rapid", "blitz", "bullet", "unknown"},
	"clock": {
		"classical", "rapid", "blitz", "bullet",
		"5400+30\t90 minutes, 30 seconds a move", "900+10\t15 minutes, 10 seconds a move", "180+2\t3 minutes, 2 seconds a move",
	},
}

// complete tells the shell what may stand at each place of each command.
func complete(root *cobra.Command) {
	for _, cmd := range root.Commands() {
		switch name, _, _ := strings.Cut(cmd.Use, " "); name {
		case "prep", "compare", "profile":
			cmd.ValidArgsFunction = completeID(1, cobra.ShellCompDirectiveNoFileComp)
		case "hindsight":
			cmd.ValidArgsFunction = completeID(1, cobra.ShellCompDirectiveDefault) // or a folder
		case "fetch":
			cmd.ValidArgsFunction = completeID(0, cobra.ShellCompDirectiveNoFileComp)
		case "version":
			cmd.ValidArgsFunction = cobra.NoFileCompletions
		}
		cmd.Flags().VisitAll(func(f *pflag.Flag) {
			// It fails only for flags that the command doesn't have, and second calls.
			_ = cmd.RegisterFlagCompletionFunc(f.Name, completeFlag(cmd, f))
		})
	}
}

// completeFlag goes by the word that stands for the value in the help.
func completeFlag(cmd *cobra.Command, f *pflag.Flag) cobra.CompletionFunc {
	known := choices[f.Name]
	if cmd.Name() == "check" && f.Name == "my-color" {
		known = known[:2]
	}
	directive := cobra.ShellCompDirectiveNoFileComp
	switch value, _ := pflag.UnquoteUsage(f); value {
	case "FILE", "FILES", "COMMAND":
		directive = cobra.ShellCompDirectiveDefault
	case "FOLDER":
		directive = cobra.ShellCompDirectiveFilterDirs
	}
	return cobra.FixedCompletions(known, directive)
}

// completeID offers the opponents of the configuration, up to most of them on one
// line; 0 is for any number.
func completeID(most int, otherwise cobra.ShellCompDirective) cobra.CompletionFunc {
	return func(cmd *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
		path, _ := cmd.Flags().GetString("config")
		if most > 0 && len(args) >= most {
			return nil, otherwise
		}
		var ids []cobra.Completion
		for _, o := range opponentsOf(path) {
			if o.ID != "" && !slices.Contains(args, o.ID) {
				ids = append(ids, cobra.CompletionWithDesc(o.ID, clean(o.asOpponent().Name)))
			}
		}
		return ids, otherwise
	}
}

// opponentsOf are those of the configuration, as far as it can be read: what is
// wrong with it is told when a command runs.
func opponentsOf(path string) []opponentConfig {
	file, text, _, err := findConfig(path)
	if err != nil {
		return nil
	}
	s := &settings{file: file}
	_ = s.decode(text)
	return s.Opponents
}

func completeCommand(cmd *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
	var names []cobra.Completion
	for _, c := range cmd.Root().Commands() {
		if c.IsAvailableCommand() && len(args) == 0 {
			names = append(names, cobra.CompletionWithDesc(c.Name(), c.Short))
		}
	}
	return names, cobra.ShellCompDirectiveNoFileComp
}
