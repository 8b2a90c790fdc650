package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"text/tabwriter"
	"time"

	"github.com/spf13/cobra"

	"foreply/fetch"
)

func (a *app) fetchCommand() *cobra.Command {
	f := &flags{}
	cmd := &cobra.Command{
		Use:   "fetch [OPPONENT-ID...]",
		Short: "import games from the configured sources",
		Long: "fetch copies the opponents' games out of the configured sources, so that prep need not\n" +
			"search a large archive again; a game once imported stays. prep reads what was imported and\n" +
			"files that are newer. Without ids it imports for all opponents of the configuration.",
		RunE: func(cmd *cobra.Command, args []string) error { return a.fetch(cmd, f, args) },
	}
	cmd.Flags().StringVar(&f.config, "config", "", "configuration `FILE` (default: ./"+configName+", then your configuration folder)")
	cmd.Flags().StringVar(&f.cache, "cache", "", "`FOLDER` to import the games to")
	return cmd
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
		return misuse("no sources in the configuration", "list files under sources in "+configName+"; 'foreply init' writes an example")
	}
	store, err := cfg.store()
	if err != nil {
		return err
	}
	t := tabwriter.NewWriter(a.stdout, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "source\topponent\tgames read\ttheirs\tnew\tkept")
	var errs []error
	for _, o := range opponents {
		for _, source := range cfg.Sources {
			if err := a.importGames(t, store, &source, &o); err != nil {
				errs = append(errs, err)
			}
			if a.ctx.Err() != nil {
				return errors.Join(append(errs, t.Flush())...)
			}
		}
	}
	return errors.Join(append(errs, t.Flush())...)
}

// chosen are the opponents with the given ids; without ids, all.
func (s *settings) chosen(ids []string) ([]opponentConfig, error) {
	if len(s.Opponents) == 0 {
		return nil, misuse("no opponents in the configuration", "'foreply init' writes an example")
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

// importGames brings one opponent's games from one source into the store and
// prints what came. All kinds of games are kept; prep sorts them out.
func (a *app) importGames(t *tabwriter.Writer, store fetch.Store, source *sourceConfig, o *opponentConfig) error {
	begun := time.Now()
	games, err := fetch.Open(a.ctx, source.inputs(), fetch.Options{
		Who: o.who(), With: fetch.Kinds, Stdin: a.stdin,
		Progress: a.say.reading("reading", true),
	})
	if err != nil {
		return atSource(source.ID, err)
	}
	added, total, err := store.Update(a.ctx, source.ID, o.ID, games.All())
	if err := errors.Join(err, games.Err()); err != nil {
		return atSource(source.ID, err)
	}
	summary := games.Summary()
	a.say.problems(a.reportFiles(summary.Problems), summary.Theirs)
	fmt.Fprintf(t, "%s\t%s\t%d\t%d\t%d\t%d\n", source.ID, o.ID, summary.Games, summary.Theirs, added, total)
	return mark(store.Path(source.ID, o.ID), begun)
}

func atSource(id string, err error) error {
	var e *fetch.Error
	if errors.As(err, &e) && e.Hint != "" {
		return advise(fmt.Errorf("source %s: %w", id, err), e.Hint)
	}
	return fmt.Errorf("source %s: %w", id, err)
}

// coarse is how far the times of two files may be off on common file systems.
const coarse = 2 * time.Second

// mark dates the kept file, also when nothing new came: files of the source
// that change after the import began are newer.
func mark(path string, begun time.Time) error {
	begun = begun.Add(-coarse)
	if err := os.Chtimes(path, begun, begun); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("dating %s: %w", path, cause(err))
	}
	return nil
}

func (s *sourceConfig) inputs() []fetch.Input {
	var out []fetch.Input
	for _, pattern := range s.Files {
		out = append(out, fetch.Input{Source: s.ID, Pattern: pattern})
	}
	return out
}

// sourceInputs is what an opponent's games are read from: for each source what
// was imported from it and its files that are newer, or else all its files.
func sourceInputs(cfg *settings, opponent string) []fetch.Input {
	var out []fetch.Input
	for _, source := range cfg.Sources {
		kept, info := cfg.kept(source.ID, opponent)
		if info == nil {
			out = append(out, source.inputs()...)
			continue
		}
		for _, path := range append([]string{kept}, newer(source.Files, info.ModTime())...) {
			out = append(out, fetch.Input{Source: source.ID, Pattern: path})
		}
	}
	return out
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

// newer lists the files of the patterns that changed after a time, and the
// folders with such a file.
func newer(patterns []string, than time.Time) []string {
	var out []string
	for _, pattern := range patterns {
		matches, err := filepath.Glob(pattern)
		if err != nil {
			continue // what can't be read can't be newer: the import tells of it
		}
		for _, match := range matches {
			if changedAfter(match, than) {
				out = append(out, match)
			}
		}
	}
	return out
}

func changedAfter(path string, than time.Time) bool {
	found := errors.New("found")
	err := filepath.WalkDir(path, func(_ string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return nil
		}
		if info, err := entry.Info(); err == nil && info.ModTime().After(than) {
			return found
		}
		return nil
	})
	return err == found
}
