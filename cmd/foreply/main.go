// Command foreply prepares a game of chess: from an opponent's games, the
// user's repertoire and the colour they will have it makes a sheet of one page.
//
// Files and flags come in; sheets, text and JSON go out. All the work is done
// in the packages fetch, profile, compare and pdf; this one reads the
// configuration, opens files, picks the output and says what went wrong. It
// alone writes to the terminal (say.go has the rules) and sets the exit code: 0
// done, 1 an error, 2 wrongly called, 130 interrupted.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log"
	"os"
	"os/signal"
	"syscall"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"foreply/fetch"
)

func main() {
	log.SetOutput(io.Discard) // net/http complains there about servers; say.go has the rules of stderr
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, func() { // a second interrupt ends at once; some programs send the first one twice
		time.Sleep(time.Second)
		stop()
	})
	os.Exit(run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// Exit codes beside 0.
const (
	exitError       = 1
	exitUsage       = 2
	exitInterrupted = 130
)

// app is what every command needs.
type app struct {
	ctx     context.Context
	stdin   io.Reader
	stdout  io.Writer
	say     *speaker
	force   bool     // files that are not ours may be overwritten
	writes  []string // files of this run, links followed
	started bool     // arguments and flags were accepted
	atEnd   []func()

	engineFailed bool // it gave nothing, and is not asked again
}

// run does what the arguments ask for and returns the exit code.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	out := &faithful{w: stdout}
	a := &app{ctx: ctx, stdin: &patient{ctx: ctx, r: stdin}, stdout: out, say: newSpeaker(stderr)}
	root := a.root()
	root.SetArgs(args)
	root.SetOut(out)
	root.SetErr(stderr)
	err := root.ExecuteContext(ctx)
	for _, end := range a.atEnd {
		end()
	}
	a.say.clear()
	switch {
	case err == nil && out.err != nil:
		a.say.fail(fmt.Errorf("writing to standard output: %w", fetch.Cause(out.err)))
		return exitError
	case err == nil:
		return 0
	case ctx.Err() != nil:
		a.say.note("interrupted")
		return exitInterrupted
	}
	a.say.fail(err)
	var m *mishap
	if !a.started || errors.As(err, &m) && m.usage {
		return exitUsage
	}
	return exitError
}

func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "foreply",
		Short: "A one-page sheet for the game to come",
		Long: "foreply forecasts an opponent's opening moves from their public games, compares them " +
			"with your repertoire and prints one page: what to expect, what to answer, what is missing.",
		SilenceErrors:      true,
		SilenceUsage:       true,
		DisableSuggestions: true,
		Args:               cobra.ArbitraryArgs,
		RunE:               a.noCommand,
		PersistentPreRun:   func(*cobra.Command, []string) { a.started = true },
		CompletionOptions:  cobra.CompletionOptions{DisableDefaultCmd: true},
	}
	root.Flags().Bool("version", false, "say which foreply this is")
	root.SetFlagErrorFunc(flagError)
	root.SetHelpFunc(func(cmd *cobra.Command, _ []string) { showHelp(a.stdout, cmd) })
	root.PersistentFlags().BoolVarP(&a.say.verbose, "verbose", "v", false, "tell every problem met in the games, and every name that may be theirs")
	root.AddCommand(a.prepCommand(), a.compareCommand(), a.profileCommand(), a.checkCommand(),
		a.hindsightCommand(), a.fetchCommand(), a.fieldCommand(), a.peersCommand(), a.initCommand(),
		a.completionCommand(), a.versionCommand())
	root.SetHelpCommand(a.helpCommand())
	complete(root)
	return root
}

// helpCommand is 'foreply help prep', for those who try that first.
func (a *app) helpCommand() *cobra.Command {
	return &cobra.Command{
		Use:               "help [COMMAND]",
		Short:             "explain a command",
		ValidArgsFunction: completeCommand,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return misuse(fmt.Sprintf("one command at a time, not %d", len(args)))
			}
			found, rest, err := cmd.Root().Find(args)
			if err != nil || len(rest) > 0 {
				return a.noCommand(cmd.Root(), args)
			}
			return found.Help()
		},
	}
}

// noCommand answers a call without a known command.
func (a *app) noCommand(cmd *cobra.Command, args []string) error {
	if version, _ := cmd.Flags().GetBool("version"); version {
		return a.version()
	}
	if len(args) == 0 {
		return cmd.Help()
	}
	var names []string
	for _, c := range cmd.Commands() {
		if c.IsAvailableCommand() {
			names = append(names, c.Name())
		}
	}
	hint := "'foreply --help' lists the commands"
	if near, ok := nearest(args[0], names); ok {
		hint = fmt.Sprintf("did you mean foreply %s?", near)
	}
	return misuse(fmt.Sprintf("there is no command %s", args[0]), hint)
}

// flagError puts the messages of the flag library in our words, with the nearest
// flag.
func flagError(cmd *cobra.Command, err error) error {
	hint := fmt.Sprintf("'%s --help' lists the flags", cmd.CommandPath())
	var (
		unknown *pflag.NotExistError
		invalid *pflag.InvalidValueError
		empty   *pflag.ValueRequiredError
	)
	switch {
	case errors.As(err, &empty):
		value, usage := pflag.UnquoteUsage(empty.GetFlag())
		return misuse(fmt.Sprintf("--%s needs a value", empty.GetFlag().Name), fmt.Sprintf("--%s %s: %s", empty.GetFlag().Name, value, usage))
	case errors.As(err, &invalid):
		wanted := "a whole number"
		if invalid.GetFlag().Value.Type() == "bool" {
			wanted = "true or false"
		}
		return misuse(fmt.Sprintf("--%s: %s is wanted, not %q", invalid.GetFlag().Name, wanted, invalid.GetValue()))
	case errors.As(err, &unknown):
		var flags []string
		cmd.Flags().VisitAll(func(f *pflag.Flag) { flags = append(flags, f.Name) })
		name := unknown.GetSpecifiedName()
		switch near, ok := nearest(name, flags); {
		case name == "my-color" && cmd.Flags().Lookup("their-color") != nil:
			hint = "here the colour is the opponent's: --their-color"
		case name == "their-color" && cmd.Flags().Lookup("my-color") != nil:
			hint = "here the colour is yours: --my-color; the opponent has the other one"
		case ok:
			hint = fmt.Sprintf("did you mean --%s?", near)
		}
	}
	return misuse(err.Error(), hint)
}

// atMostOne accepts an opponent's id or nothing.
func atMostOne(_ *cobra.Command, args []string) error {
	if len(args) < 2 {
		return nil
	}
	hint := "a name with spaces or a comma needs quotes and --opponent; files go behind --games"
	if _, err := os.Stat(args[0]); err == nil {
		hint = "a pattern needs quotes, as in --games 'games/*.pgn': without them the shell takes it apart"
	}
	return misuse(fmt.Sprintf("one opponent at a time, not %d: %q", len(args), args), hint)
}

// atLeastOne asks for what a command can't do without.
func atLeastOne(question, example string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		if len(args) == 0 {
			return misuse(question, example)
		}
		return nil
	}
}

// hinted turns the hint of package fetch into one of ours.
func hinted(err error) error {
	var e *fetch.Error
	if errors.As(err, &e) && e.Hint != "" {
		return advise(err, e.Hint)
	}
	return err
}

// faithful remembers that something could not be written: what prints the help doesn't
// say.
type faithful struct {
	w   io.Writer
	err error
}

func (f *faithful) Write(p []byte) (int, error) {
	n, err := f.w.Write(p)
	if f.err == nil {
		f.err = err
	}
	return n, err
}

// patient reads from a stream that may never end, a terminal for instance, and
// lets go of it when the context ends.
type patient struct {
	ctx  context.Context
	r    io.Reader
	got  chan read
	rest []byte
	err  error
}

type read struct {
	data []byte
	err  error
}

func (p *patient) Read(b []byte) (int, error) {
	for len(p.rest) == 0 {
		if p.err != nil {
			return 0, p.err
		}
		if p.got == nil {
			p.got = make(chan read)
			go p.pump()
		}
		select {
		case <-p.ctx.Done():
			return 0, context.Cause(p.ctx)
		case r := <-p.got:
			p.rest, p.err = r.data, r.err
		}
	}
	n := copy(b, p.rest)
	p.rest = p.rest[n:]
	return n, nil
}

func (p *patient) pump() {
	for {
		buf := make([]byte, 64<<10)
		n, err := p.r.Read(buf)
		select {
		case p.got <- read{buf[:n], err}:
		case <-p.ctx.Done():
			return
		}
		if err != nil {
			return
		}
	}
}
