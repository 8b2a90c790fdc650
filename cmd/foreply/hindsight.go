package main

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"foreply/compare/fact"
	"foreply/compare/past"
	"foreply/fetch"
	"foreply/fetch/pgn"
	"foreply/pdf"
	"foreply/profile"
	"foreply/profile/hindsight"
)

// hindsightFlags are the flags of hindsight.
type hindsightFlags struct {
	flags
	predictions string
	last        int
}

func (a *app) hindsightCommand() *cobra.Command {
	f := &hindsightFlags{}
	cmd := &cobra.Command{
		Use:   "hindsight [OPPONENT-ID | FOLDER]",
		Short: "test the forecast on games that were already played",
		Long: "hindsight goes through an opponent's games in order of time, forecasts each of their opening " +
			"moves from the games that were certainly earlier, and says how the forecasts did: how far to " +
			"trust the sheet for this opponent. Given a FOLDER, or files without an opponent, it takes each " +
			"file for the games of one player, who bears a name of --opponent or the one that stands in most " +
			"of its games, and adds up what the files gave.",
		Example: "  foreply hindsight --games games --opponent 'Last, First' -o hindsight.pdf\n" +
			"  foreply hindsight careers --peers careers --json",
		Args: atMostOne,
		RunE: func(cmd *cobra.Command, args []string) error { return a.hindsight(cmd, f, args) },
	}
	fs := cmd.Flags()
	f.addGames(fs)
	f.addPeers(fs, "the first of their games")
	f.addRepertoire(fs)
	fs.IntVar(&f.last, "last", 0, "pretend that only the last `NUMBER` of earlier games of the colour exist (default: all)")
	fs.StringVarP(&f.out, "out", "o", "", "write a page with what was said against what came, a PDF `FILE`")
	fs.StringVar(&f.paper, "paper", "", "`SIZE`: a4 or letter (default: a4)")
	a.addForce(fs)
	fs.StringVar(&f.predictions, "predictions", "", "write every forecast with what came, a CSV `FILE`")
	fs.BoolVar(&f.json, "json", false, "print the figures as JSON")
	return cmd
}

func (a *app) hindsight(cmd *cobra.Command, f *hindsightFlags, args []string) error {
	if f.last < 0 {
		return misuse(fmt.Sprintf("--last: %d is no number of games", f.last))
	}
	tasks, byFile, err := a.hindsightTasks(cmd, f, args)
	if err != nil {
		return err
	}
	if err := a.hindsightBooks(tasks, f); err != nil {
		return err
	}
	outs, err := f.create(a, tasks)
	if err != nil {
		return err
	}
	defer outs.drop()
	all, err := a.testAll(tasks, f, outs)
	if err != nil {
		return err
	}
	if err := outs.keep(all, tasks[0].cfg.Sheet.Paper); err != nil {
		return err
	}
	if f.json {
		return writeJSON(a.stdout, all.json(byFile))
	}
	return all.print(a.stdout, f)
}

// hindsightTasks are the players to test: one, or one for each file.
func (a *app) hindsightTasks(cmd *cobra.Command, f *hindsightFlags, args []string) (tasks []*task, byFile bool, err error) {
	cfg, err := loadConfig(f.config, cmd.Flags())
	if err != nil {
		return nil, false, err
	}
	patterns := f.games
	if len(args) == 1 {
		_, known := cfg.opponentByID(args[0])
		switch {
		case !known && !isPath(args[0]):
			return nil, false, misuse(args[0]+" is neither an opponent of the configuration nor a folder", cfg.hinted(cfg.opponentHint())...)
		case !known && len(f.games) > 0:
			return nil, false, misuse("the games are given twice", "give either a folder or --games")
		case !known:
			patterns, args = args, nil
		}
	}
	byFile = len(args) == 0 && len(patterns) > 0 && !slices.Contains(patterns, "-") && (len(f.opponent) == 0 || len(f.games) == 0)
	if !byFile {
		t, err := a.task(cmd, &f.flags, args)
		return []*task{t}, false, err
	}
	tasks, err = fileTasks(cfg, patterns, f)
	return tasks, true, err
}

// hindsightBooks reads the repertoire that sheets are judged with, if there is one.
// Nobody asked for that of the configuration: if it can't be read the test goes on
// without.
func (a *app) hindsightBooks(tasks []*task, f *hindsightFlags) error {
	first := tasks[0]
	asked := len(f.both)+len(f.white)+len(f.black)+len(f.color) > 0
	if given := &first.cfg.Me.Repertoire; !asked && len(given.White)+len(given.Black) == 0 {
		return nil
	}
	if err := first.setColor(&f.flags); err != nil {
		return err
	}
	if err := first.setBooks(&f.flags); err != nil {
		return err
	}
	books, err := a.readBooks(first)
	switch {
	case err != nil && asked:
		return err
	case err != nil:
		a.say.note("your repertoire is not used here: %v", err)
		return nil
	}
	for _, t := range tasks {
		t.opened, t.books = books, first.books
	}
	return nil
}

// fileTasks takes each file for the games of one player.
func fileTasks(cfg *settings, patterns []string, f *hindsightFlags) ([]*task, error) {
	files, err := fetch.Files(fetch.Inputs(patterns...))
	if err != nil {
		return nil, hinted(err)
	}
	several := len(files) > 1
	switch {
	case noRating(f.rating):
		return nil, f.misrated()
	case several && f.rating > 0:
		return nil, misuse("--rating is that of one player", "leave it out: each has that of the first of their games")
	case several && slices.Contains(f.peers, "-"):
		return nil, misuse("--peers - can be read for one player only", "put the peers' games into a file")
	}
	var tasks []*task
	for _, file := range files {
		t := &task{cfg: cfg, inputs: []fetch.Input{{Pattern: file}}, rating: f.rating}
		if len(f.opponent) > 0 {
			_, t.who = calledOpponent(f.opponent)
		}
		if t.peers, err = peersBeside(f.peers, file); err != nil {
			return nil, err
		}
		tasks = append(tasks, t)
	}
	return tasks, nil
}

// isPath tells a folder or file, there or not, from the id of an opponent.
func isPath(arg string) bool {
	_, err := os.Stat(arg)
	return err == nil || strings.ContainsRune(arg, filepath.Separator)
}

// peersBeside are the files with peers' games but for the file under test:
// games in it that bear another spelling of the player's name are no peers'.
func peersBeside(patterns []string, file string) ([]fetch.Input, error) {
	files, err := fetch.Files(fetch.Inputs(patterns...))
	if err != nil {
		return nil, hinted(err)
	}
	tested, _ := os.Stat(file)
	var out []fetch.Input
	for _, peer := range files {
		if info, err := os.Stat(peer); err == nil && tested != nil && os.SameFile(info, tested) {
			continue
		}
		out = append(out, fetch.Input{Pattern: peer})
	}
	return out, nil
}

// testAll tests each player. Of several files, one without games of use is left
// out with a warning; one alone is an error.
func (a *app) testAll(tasks []*task, f *hindsightFlags, outs *hindsightOuts) (*tested, error) {
	all := &tested{last: f.last}
	opt := hindsight.Options{Last: f.last}
	if outs.rows != nil {
		opt.Each, opt.Shares = outs.rows.Write, true
	}
	for _, t := range tasks {
		one, err := a.testOne(t, opt)
		switch {
		case err == nil:
			all.players = append(all.players, *one)
		case a.ctx.Err() != nil || len(tasks) == 1:
			return nil, err
		default:
			a.say.warn("%s: left out: %v", inputNames(t.inputs), err)
		}
	}
	if len(all.players) == 0 {
		return nil, fmt.Errorf("none of the %d files has games to test", len(tasks))
	}
	all.pool()
	return all, nil
}

func (a *app) testOne(t *task, opt hindsight.Options) (*player, error) {
	if err := a.namePlayer(t); err != nil {
		return nil, err
	}
	found, err := a.readGames(t, 0)
	if err != nil {
		return nil, err
	}
	if len(found.profile.Games) == 0 {
		return nil, noGames(t, found)
	}
	if opt.Peers, err = a.openPeers(t, found.profile); err != nil {
		return nil, err
	}
	if opt.Peers != nil {
		rating := cmp.Or(t.rating, firstRating(found.profile))
		opt.Peers = opt.Peers.Near(rating, profile.UnknownClass, pgn.OneDay(opt.Peers.Span.Last+1))
	}
	opt.Progress = func(done, of int) { a.say.tickTest(t.opponent.Name, done, of) }
	r, err := hindsight.Test(a.ctx, found.profile, opt)
	if err != nil {
		return nil, err
	}
	sheets, err := past.Test(a.ctx, found.profile, past.Options{Peers: opt.Peers, Last: opt.Last, Books: t.opened})
	if err != nil {
		return nil, err
	}
	if err := opt.Peers.Err(); err != nil {
		return nil, badBook(inputNames(t.peers), err)
	}
	one := &player{File: inputNames(t.inputs), Opponent: t.opponent, Result: r, Sheet: sheets, Verdict: r.Verdict("this opponent")}
	if p := opt.Peers; p != nil {
		one.Peers = &peersTold{Games: p.Games, Own: p.Own, Undated: p.Undated, Twice: p.Twice, Unfit: p.Unfit}
	}
	one.newest = found.profile.Newest()
	return one, nil
}

// namePlayer finds who the player of a file is, unless it is known: the bearer
// of one of the given names, or else of the one that stands most often.
func (a *app) namePlayer(t *task) error {
	if t.opponent.Name != "" {
		return nil
	}
	games, err := fetch.Open(a.ctx, t.inputs, fetch.Options{Stdin: a.stdin})
	if err != nil {
		return hinted(err)
	}
	players := fetch.Players(games.All())
	if err := games.Err(); err != nil {
		return hinted(err)
	}
	if len(players) == 0 {
		return errors.New("no player is named in it")
	}
	var names []string
	if given := named(t.who); given != nil {
		for _, p := range players {
			if given(p.Name) {
				names = append(names, p.Name)
			}
		}
	}
	if len(names) == 0 {
		names = []string{players[0].Name}
	}
	t.who = fetch.Who{Names: names}
	t.opponent = fact.Opponent{Name: names[0], Names: names}
	return nil
}

// hindsightOuts are the files in the making; a nil one was not asked for.
type hindsightOuts struct {
	page, table *outFile
	buffer      *bufio.Writer
	rows        *hindsight.CSV
}

func (f *hindsightFlags) create(a *app, tasks []*task) (*hindsightOuts, error) {
	var reads []fetch.Input
	for _, t := range tasks {
		reads = append(reads, t.reads()...)
	}
	outs := &hindsightOuts{}
	var err error
	if f.out != "" {
		if outs.page, err = a.createOut(f.out, pdfHead, reads); err != nil {
			return nil, err
		}
	}
	if f.predictions != "" {
		if outs.table, err = a.createOut(f.predictions, csvHead, reads); err != nil {
			outs.drop()
			return nil, err
		}
		outs.buffer = bufio.NewWriter(outs.table)
		outs.rows = hindsight.NewCSV(outs.buffer)
	}
	return outs, nil
}

func (o *hindsightOuts) drop() {
	o.page.drop()
	o.table.drop()
}

// keep finishes the files and puts them in their places.
func (o *hindsightOuts) keep(all *tested, paper string) error {
	if o.table != nil {
		if err := o.rows.Close(); err != nil {
			return fmt.Errorf("writing %s: %w", o.table.path, fetch.Cause(err))
		}
		if err := o.buffer.Flush(); err != nil {
			return fmt.Errorf("writing %s: %w", o.table.path, fetch.Cause(err))
		}
	}
	if o.page != nil {
		err := o.page.fill(func(w io.Writer) error { return pdf.WriteTested(w, all.page(), pdf.Options{Paper: paper}) })
		if err != nil {
			return err
		}
	}
	for _, out := range []*outFile{o.table, o.page} {
		if out != nil {
			if err := out.keep(); err != nil {
				return err
			}
		}
	}
	return nil
}
