package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"text/tabwriter"
	"time"

	"github.com/spf13/cobra"

	"foreply/fetch"
	"foreply/fetch/web"
)

func (a *app) fetchCommand() *cobra.Command {
	f := &flags{}
	cmd := &cobra.Command{
		Use:   "fetch [OPPONENT-ID...]",
		Short: "get games from the configured sources: servers and files",
		Long: "fetch gets the opponents' games from the configured servers, and copies them out of the " +
			"configured files, so that prep need not search a large archive again. It asks servers only " +
			"for what is new; a game once kept stays. prep reads what was kept, and files that are new or changed since. " +
			"Without ids it gets the games of all opponents of the configuration.",
		RunE: func(cmd *cobra.Command, args []string) error { return a.fetch(cmd, f, args) },
	}
	fs := cmd.Flags()
	fs.StringVar(&f.config, "config", "", "configuration `FILE` (default: ./"+configName+", then your configuration folder)")
	fs.StringVar(&f.cache, "cache", "", "`FOLDER` to keep the games in")
	fs.BoolVar(&f.dryRun, "dry-run", false, "print the addresses that would be asked for, and ask for none")
	fs.BoolVar(&f.full, "full", false, "ask servers for everything again; what was kept stays")
	fs.StringVar(&f.date, "date", "", "`DAY` up to which servers are asked, YYYY-MM-DD (default: today)")
	return cmd
}

// fetchRun is one run of the command.
type fetchRun struct {
	*app
	cfg     *settings
	store   fetch.Store
	table   *tabwriter.Writer
	servers map[string]*web.Server // by id of the source
	rows    int
	errs    []error
}

func (a *app) fetch(cmd *cobra.Command, f *flags, ids []string) error {
	cfg, err := loadConfig(f.config, cmd.Flags())
	if err != nil {
		return err
	}
	opponents, err := cfg.chosen(ids)
	if err != nil {
		return err
	}
	if len(cfg.Sources) == 0 {
		return misuse("no sources in the configuration", cfg.hinted("list files or servers under sources in "+configName+"; 'foreply init' writes an example")...)
	}
	store, err := cfg.store()
	if err != nil {
		return err
	}
	r := &fetchRun{app: a, cfg: cfg, store: store, table: tabwriter.NewWriter(a.stdout, 0, 0, 2, ' ', 0)}
	if r.servers, err = a.servers(cfg, f); err != nil {
		return err
	}
	if f.dryRun {
		return r.plan(opponents)
	}
	// What is remembered of each game until its file is written adds up to megabytes
	// without pointers: collecting more often costs next to nothing, and keeps a
	// gigabyte of games under 64 MB (797 000 of them took 51 MB instead of 66).
	defer debug.SetGCPercent(debug.SetGCPercent(40))
	return r.all(opponents)
}

// all goes through the opponents and sources. What fails is told at the end, and
// stops nothing else.
func (r *fetchRun) all(opponents []opponentConfig) error {
	r.row("source", "opponent", "requests", "bytes", "games", "theirs", "new", "kept", "warnings")
	r.errs = r.cfg.tokenHeld(opponents)
	for _, o := range opponents {
		for _, source := range r.cfg.Sources {
			if r.ctx.Err() == nil {
				r.one(&source, &o)
			}
		}
	}
	if r.rows == 1 && len(r.errs) == 0 {
		return nothingToFetch(opponents)
	}
	return errors.Join(append([]error{r.table.Flush()}, r.errs...)...)
}

// one gets the games of an opponent from a source.
func (r *fetchRun) one(source *sourceConfig, o *opponentConfig) {
	if source.URL == "" {
		if o.unknownAt(source.ID) {
			return
		}
		if err := r.cfg.thereAre(source.inputs(o)); err != nil {
			r.errs = append(r.errs, err)
		} else if err := r.importGames(source, o); err != nil {
			r.errs = append(r.errs, atSource(source.ID, err))
		}
		return
	}
	if r.cfg.tokensHeld[source.ID] != "" {
		return // told before
	}
	for _, handle := range o.at(source.ID) {
		if err := r.ask(source, o, handle); err != nil {
			r.errs = append(r.errs, atSource(source.ID+", "+called(o, handle), err))
		}
	}
}

func nothingToFetch(opponents []opponentConfig) error {
	var ids []string
	for _, o := range opponents {
		ids = append(ids, o.ID)
	}
	return misuse("no handle of "+strings.Join(ids, ", ")+" at any server",
		"add to the opponent: handles: [{source: ID, handle: NAME}]")
}

// row prints a line of the summary.
func (r *fetchRun) row(cells ...any) {
	r.rows++
	for i, c := range cells {
		if i > 0 {
			fmt.Fprint(r.table, "\t")
		}
		fmt.Fprint(r.table, clean(fmt.Sprint(c))) // addresses of a list come from a server
	}
	fmt.Fprintln(r.table)
}

// chosen are the opponents with the given ids; without ids, all.
func (s *settings) chosen(ids []string) ([]opponentConfig, error) {
	if len(s.Opponents) == 0 {
		return nil, misuse("no opponents in the configuration", s.hinted(append(s.notFound(), "'foreply init' writes an example")...)...)
	}
	if len(ids) == 0 {
		return s.Opponents, nil
	}
	var out []opponentConfig
	for _, id := range ids {
		o, ok := s.opponentByID(id)
		if !ok {
			return nil, misuse(fmt.Sprintf("no opponent %s in the configuration", id), s.opponentHint())
		}
		out = append(out, o)
	}
	return out, nil
}

// store is where imported games are kept.
func (s *settings) store() (fetch.Store, error) {
	if s.Cache != "" {
		return fetch.Store{Folder: s.Cache}, nil
	}
	folder, err := os.UserCacheDir()
	if err != nil {
		return fetch.Store{}, advise(fmt.Errorf("no folder for imported games: %w", err), "name one with --cache")
	}
	return fetch.Store{Folder: filepath.Join(folder, "foreply", "games")}, nil
}

// importGames brings one opponent's games from files into the store and prints
// what came. All kinds of games are kept; prep sorts them out.
func (r *fetchRun) importGames(source *sourceConfig, o *opponentConfig) error {
	inputs := source.inputs(o)
	read := importOf(inputs, o, time.Now())
	games, err := fetch.Open(r.ctx, inputs, fetch.Options{
		Who: o.who(), With: fetch.Kinds, Stdin: r.stdin,
		Progress: r.say.reading("reading", true),
	})
	if err != nil {
		return err
	}
	added, total, err := r.store.Update(r.ctx, source.ID, o.ID, games.All())
	if err := errors.Join(err, games.Err()); err != nil {
		return err
	}
	summary := games.Summary()
	problems := r.reportFiles(summary.Problems)
	r.say.problems(problems, summary.Theirs)
	if near := likely(summary.Suggestions); len(near) > 0 {
		r.say.note("%s, %s: not counted, but maybe theirs: %s", source.ID, o.ID, r.spellings(near))
		r.say.hint("add what is theirs to the names of %s in %s, and fetch again", o.ID, r.cfg.file)
	}
	r.row(source.ID, o.ID, "-", "-", summary.Games, summary.Theirs, added, total, len(worth(summary.Problems)))
	return read.keep(r.store.Path(source.ID, o.ID))
}

func atSource(id string, err error) error {
	var e *fetch.Error
	if errors.As(err, &e) && e.Hint != "" {
		return advise(fmt.Errorf("source %s: %w", id, err), e.Hint)
	}
	return fmt.Errorf("source %s: %w", id, err)
}

// inputs are the files of a source for an opponent.
func (s *sourceConfig) inputs(o *opponentConfig) []fetch.Input {
	var out []fetch.Input
	for _, pattern := range s.Files {
		out = append(out, s.input(pattern, o))
	}
	return out
}

// input is a file of the source. Ratings of a source are of one list; in a mixed
// one each game tells.
func (s *sourceConfig) input(pattern string, o *opponentConfig) fetch.Input {
	in := fetch.Input{Source: s.ID, Pattern: pattern, Handles: o.at(s.ID)}
	if s.Mixed {
		in.Source = ""
	}
	return in
}

// sourceInputs is what an opponent's games are read from: for each source what
// was kept from it and its files that weren't read then, or else all its files. If no
// source had any, all are searched again, for names that are like theirs.
func sourceInputs(cfg *settings, opponent string) []fetch.Input {
	var out, all []fetch.Input
	o, found := cfg.opponentByID(opponent)
	for _, source := range cfg.Sources {
		if !found || !o.unknownAt(source.ID) {
			out = append(out, cfg.inputsAt(&source, opponent, &o)...)
			all = append(all, source.inputs(&o)...)
		}
	}
	if len(out) == 0 {
		return all
	}
	return out
}

// inputsAt are those of one source. Files come before what was kept from them: of two copies
// that are equally full the first counts, and a file that changed may correct the other.
func (s *settings) inputsAt(source *sourceConfig, opponent string, o *opponentConfig) []fetch.Input {
	kept, info := s.kept(source.ID, opponent)
	if info == nil {
		return source.inputs(o)
	}
	var out []fetch.Input
	for _, path := range importedInto(kept).unread(source.inputs(o), o) {
		out = append(out, source.input(path, o))
	}
	if info.Size() > 0 {
		out = append(out, source.input(kept, o))
	}
	return out
}

// unknownAt reports whether there is nothing to find the opponent's games by in
// the files of a source.
func (o *opponentConfig) unknownAt(source string) bool {
	return o.who().IsZero() && len(o.at(source)) == 0
}

// lacking are the servers where an opponent has a handle and nothing was got from yet, each with
// the handle where another one was asked for; and those, with the handle, whose last fetch didn't
// come to its end.
func (s *settings) lacking(opponent string) (unfetched, brokenOff []string) {
	o, _ := s.opponentByID(opponent)
	for _, source := range s.Sources {
		handles := o.at(source.ID)
		if source.URL == "" || len(handles) == 0 {
			continue
		}
		kept, info := s.kept(source.ID, opponent)
		if info == nil {
			unfetched = append(unfetched, source.ID)
			continue
		}
		for _, handle := range handles {
			switch as := source.ID + " as " + handle; web.FetchOf(kept, handle) {
			case web.Never:
				unfetched = append(unfetched, as)
			case web.BrokenOff:
				brokenOff = append(brokenOff, as)
			}
		}
	}
	return unfetched, brokenOff
}

// gone says which files of sources are named and not there, of which an opponent's games were kept.
func (s *settings) gone(opponent string) []string {
	var out []string
	o, _ := s.opponentByID(opponent)
	for _, source := range s.Sources {
		if _, info := s.kept(source.ID, opponent); info == nil {
			continue
		}
		if err := s.thereAre(source.inputs(&o)); err != nil {
			out = append(out, err.Error())
		}
	}
	return out
}

// tellMissing says which games of an opponent a sheet goes without, for want of a fetch.
func (a *app) tellMissing(cfg *settings, opponent string) {
	unfetched, brokenOff := cfg.lacking(opponent)
	if len(unfetched) > 0 {
		a.say.note("nothing got from %s yet; 'foreply fetch %s' asks there", strings.Join(unfetched, ", "), opponent)
	}
	if len(brokenOff) > 0 {
		a.say.note("the last fetch from %s failed, and games may be missing; 'foreply fetch %s' tries again", strings.Join(brokenOff, ", "), opponent)
	}
}

// tellGone says of what is gone that what was kept from it counts.
func (a *app) tellGone(gone []string) {
	for _, text := range gone {
		a.say.note("%s; what was kept from there before counts", text)
	}
}

// kept is the file of imported games; without info there is none.
func (s *settings) kept(source, opponent string) (string, fs.FileInfo) {
	store, err := s.store()
	if err != nil || opponent == "" {
		return "", nil
	}
	path := store.Path(source, opponent)
	info, err := os.Stat(path)
	if err != nil {
		return "", nil
	}
	return path, info
}
