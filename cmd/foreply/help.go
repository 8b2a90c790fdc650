package main

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// flagGroups are the headings under which the help lists flags, in order; what
// stands in none comes under the last.
var flagGroups = []struct {
	title string
	names []string
}{
	{"whose games", []string{"games", "opponent", "peers", "rating", "last", "their-color", "ratings", "class", "since", "plies", "least", "memory"}},
	{"you and your repertoire", []string{"my-color", "repertoire", "white-repertoire", "black-repertoire", "main", "strict", "me", "my-games"}},
	{"the game to come", []string{"date", "clock", "need", "double-round", "minutes", "event", "round", "board"}},
	{"what is written", []string{"out", "paper", "large", "half", "one-page", "pgn", "epd", "predictions", "json", "force"}},
	{"an engine at home", []string{"engine", "engine-time"}},
	{"where things are", []string{"config", "cache"}},
	{"more", nil},
}

// showHelp prints what a command does, how it is called and its flags, as wide as
// text is set.
func showHelp(out io.Writer, cmd *cobra.Command) {
	cmd.InitDefaultHelpFlag() // else it depends on the way one came here
	var b bytes.Buffer
	wrap(&b, "", "", strings.Fields(cmp.Or(cmd.Long, cmd.Short)))
	line := "foreply COMMAND [flags]"
	if cmd.HasParent() {
		line = cmd.UseLine()
	}
	fmt.Fprintf(&b, "\n  %s\n", line)
	if cmd.Example != "" {
		fmt.Fprintf(&b, "\nfor instance\n%s\n", cmd.Example)
	}
	if cmd.HasAvailableSubCommands() {
		listCommands(&b, cmd)
	}
	listFlags(&b, cmd)
	out.Write(b.Bytes()) // whether it came out is seen by run
}

// listCommands lists them in the order in which one meets them.
func listCommands(b *bytes.Buffer, root *cobra.Command) {
	order := []string{"prep", "compare", "profile", "field", "check", "hindsight", "fetch", "peers", "init", "completion", "version"}
	list := slices.DeleteFunc(slices.Clone(root.Commands()), func(c *cobra.Command) bool { return !c.IsAvailableCommand() })
	slices.SortStableFunc(list, func(x, y *cobra.Command) int {
		return slices.Index(order, x.Name()) - slices.Index(order, y.Name())
	})
	b.WriteByte('\n')
	for _, c := range list {
		fmt.Fprintf(b, "  %-11s %s\n", c.Name(), c.Short)
	}
	b.WriteString("\n'foreply help COMMAND' explains one.\n")
}

// listFlags lists the flags of a command under their headings.
func listFlags(b *bytes.Buffer, cmd *cobra.Command) {
	rest := map[string]*pflag.Flag{}
	all := func(f *pflag.Flag) {
		if !f.Hidden {
			rest[f.Name] = f
		}
	}
	cmd.Flags().VisitAll(all)
	cmd.InheritedFlags().VisitAll(all)
	for i, group := range flagGroups {
		names := group.names
		if i == len(flagGroups)-1 {
			names = restOf(cmd, rest)
		}
		title := group.title
		for _, name := range names {
			if f := rest[name]; f != nil {
				if title != "" {
					fmt.Fprintf(b, "\n%s\n", title)
				}
				title = ""
				describe(b, f)
				delete(rest, name)
			}
		}
	}
}

// restOf are the flags that are left, the command's own before those of all.
func restOf(cmd *cobra.Command, rest map[string]*pflag.Flag) []string {
	var own, common []string
	for name := range rest {
		if name == "help" || cmd.InheritedFlags().Lookup(name) != nil {
			common = append(common, name)
		} else {
			own = append(own, name)
		}
	}
	slices.Sort(own)
	slices.Sort(common)
	return append(own, common...)
}

// describe prints a flag: its name on the left, and beside it what it is for.
func describe(b *bytes.Buffer, f *pflag.Flag) {
	value, usage := pflag.UnquoteUsage(f)
	head := "      --" + f.Name
	if f.Shorthand != "" {
		head = "  -" + f.Shorthand + ", --" + f.Name
	}
	if value != "" {
		head += " " + value
	}
	switch {
	case f.Name == "help":
		usage = "this text"
	case !slices.Contains([]string{"", "0", "false", "[]"}, f.DefValue):
		usage += " (default: " + f.DefValue + ")"
	}
	const beside = 28
	if len(head) > beside-2 {
		fmt.Fprintln(b, head)
		head = ""
	}
	wrap(b, fmt.Sprintf("%-*s", beside, head), strings.Repeat(" ", beside), strings.Fields(usage))
}
