package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"
	"time"

	"github.com/spf13/cobra"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch"
	"foreply/fetch/pgn"
	"foreply/pdf"
	"foreply/profile"
)

const defaultField = "field"

func (a *app) fieldCommand() *cobra.Command {
	f := &flags{}
	cmd := &cobra.Command{
		Use:   "field ENTRIES",
		Short: "make the sheets for a whole entry list",
		Long: "field reads an entry list (a player a line: name, and if known ID, rating and board; text " +
			"or CSV) and makes a sheet for each player into a folder, with a page that sums them up and " +
			"one for each board with several candidates. The players' games are kept in the folder: at " +
			"the pairing, 'foreply prep OPPONENT-ID' in it needs no other file but your repertoire.",
		Example: "  foreply field entries.csv --games archive.pgn --white-repertoire white.pgn \\\n" +
			"    --black-repertoire black.pgn -o tonight",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return misuse("which entry list?", "foreply field entries.txt, or - for standard input")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return a.field(cmd, f, args[0]) },
	}
	fs := cmd.Flags()
	fs.StringArrayVar(&f.games, "games", nil, "`FILES` with the players' games: file, glob or folder (repeatable)")
	fs.StringVar(&f.config, "config", "", "configuration `FILE` (default: ./"+configName+", then your configuration folder)")
	f.addPeerFiles(fs) // each player has a rating of their own
	f.addBook(fs)
	fs.StringVarP(&f.out, "out", "o", defaultField, "`FOLDER` for the sheets")
	a.addForce(fs)
	f.addSheet(fs)
	f.addEngine(fs)
	fs.StringVar(&f.event, "event", "", "`EVENT`, for the heads of the sheets")
	fs.StringVar(&f.round, "round", "", "`ROUND`, for the heads of the sheets")
	return cmd
}

// fieldRun makes the sheets of one entry list.
type fieldRun struct {
	*app
	flags    *flags
	folder   string
	sources  []sourceConfig // of the players' games, and of the folder
	home     *settings      // the user's configuration
	away     *settings      // the folder's
	books    []*book.Book
	entrants []entrant
	told     map[string]bool // what is wrong with files, each told once
	// suggested: names were told that may be those of a player
	suggested bool
	rows      []fact.FieldRow
	failed    []failure
}

func (a *app) field(cmd *cobra.Command, f *flags, list string) error {
	r := &fieldRun{app: a, flags: f, folder: f.out, told: map[string]bool{}}
	var err error
	if r.home, err = loadConfig(f.config, cmd.Flags()); err != nil {
		return err
	}
	a.tellHeld(r.home)
	a.tellClock(r.home)
	if err := r.readEntrants(list); err != nil {
		return err
	}
	if err := r.setUp(cmd); err != nil {
		return err
	}
	for i := range r.entrants {
		if a.ctx.Err() != nil {
			a.say.note("%d of %s done; their sheets are in %s", i, words.Plural(len(r.entrants), "player"), r.folder)
			return a.ctx.Err()
		}
		a.say.step(i, len(r.entrants), r.entrants[i].Name)
		r.prepare(&r.entrants[i])
	}
	return r.sumUp()
}

// setUp makes the folder with its configuration. The sheets are made by that
// configuration, so that 'prep' in the folder says the same at the pairing.
func (r *fieldRun) setUp(cmd *cobra.Command) error {
	shared := &task{cfg: r.home}
	if err := shared.setGame(r.flags); err != nil {
		return err
	}
	if err := r.setSources(); err != nil {
		return err
	}
	var err error
	if r.books, err = r.readBooks(shared); err != nil {
		return err
	}
	if err := os.MkdirAll(r.folder, 0o755); err != nil {
		return advise(fmt.Errorf("making the folder %s: %w", r.folder, fetch.Cause(err)), "give another place with -o")
	}
	path := filepath.Join(r.folder, configName)
	if err := r.writeConfig(path, shared); err != nil {
		return err
	}
	if r.away, err = loadConfig(path, cmd.Flags()); err != nil {
		return fmt.Errorf("reading back what was written: %w", err)
	}
	return nil
}

// prepare imports a player's games and makes the sheet. What goes wrong is kept
// for the end: one player doesn't stop the others.
func (r *fieldRun) prepare(e *entrant) {
	r.say.about = e.who.ID
	defer func() { r.say.about = "" }()
	row := fact.FieldRow{Name: e.Name, ID: e.who.ID, Board: e.Board, Rating: e.Rating}
	report, err := r.sheet(e)
	var none *noGamesError
	switch {
	case err == nil:
		row.Fill(report)
	case errors.As(err, &none):
		row.Missing = err.Error()
	default:
		row.Missing = err.Error()
		r.fail(e.Name, err)
	}
	r.rows = append(r.rows, row)
}

// failure is an error with those whose sheet it cost.
type failure struct {
	err   error
	names []string
}

// fail keeps an error. The same one of several players, such as that of a file, is
// kept once.
func (r *fieldRun) fail(name string, err error) {
	for i := range r.failed {
		if r.failed[i].err.Error() == err.Error() {
			r.failed[i].names = append(r.failed[i].names, name)
			return
		}
	}
	r.failed = append(r.failed, failure{err, []string{name}})
}

func (r *fieldRun) failures() error {
	var errs []error
	for _, f := range r.failed {
		who := f.names[0]
		if more := len(f.names) - 1; more > 0 {
			who += fmt.Sprintf(" and %d more", more)
		}
		errs = append(errs, fmt.Errorf("%s: %w", who, f.err))
	}
	return errors.Join(errs...)
}

func (r *fieldRun) sheet(e *entrant) (*fact.Report, error) {
	t := &task{cfg: r.away, class: profile.Classical, opened: r.books}
	if err := errors.Join(t.setOpponent(&flags{}, []string{e.who.ID}), t.setGame(r.flags)); err != nil {
		return nil, err
	}
	t.peers = patterns(nil, r.away.Peers)
	var err error
	var near []fetch.Suggestion
	if t.inputs, near, err = r.importGames(t, e); err != nil {
		return nil, err
	}
	report, _, err := r.makeReport(t)
	if err != nil {
		return nil, err
	}
	report.Basis.Maybe = maybe(near) // what is imported has none but theirs
	out, err := r.createOut(filepath.Join(r.folder, e.who.ID+".pdf"), pdfHead, nil)
	if err != nil {
		return nil, err
	}
	defer out.drop()
	return report, writeSheet(out, report, t.cfg.Sheet.options())
}

// importGames copies a player's games into the folder and returns where they
// are now, and which names may be theirs. Problems in games are told when they are read
// for the sheet, those of files once.
func (r *fieldRun) importGames(t *task, e *entrant) ([]fetch.Input, []fetch.Suggestion, error) {
	if len(r.flags.games) == 0 {
		r.tellMissing(r.home, e.who.ID)
		r.once(func() {
			r.tellGone(slices.DeleteFunc(r.home.gone(e.who.ID), r.again))
		})
	}
	var inputs []fetch.Input
	found := &findings{}
	for i := range r.sources {
		kept, err := r.importFrom(i, t, e, found)
		if err != nil {
			return nil, nil, hinted(err)
		}
		inputs = append(inputs, kept...)
	}
	near := found.summary.Suggestions
	r.suggest(near)
	switch {
	case len(inputs) > 0 || t.byPeers():
		return inputs, near, nil
	case found.summary.Games == 0:
		return nil, nil, &noGamesError{errors.New("no games in the sources")}
	}
	return nil, nil, noGames(t, found)
}

// importFrom copies the games of one source, and adds to what was found.
func (r *fieldRun) importFrom(i int, t *task, e *entrant, found *findings) ([]fetch.Input, error) {
	source := &r.sources[i]
	store, err := r.away.store()
	if err != nil {
		return nil, err
	}
	inputs := source.inputs(&e.who)
	if len(r.flags.games) == 0 {
		inputs = r.home.inputsAt(&r.home.Sources[i], e.who.ID, &e.who)
		if err := r.home.thereAre(inputs); err != nil {
			return nil, err
		}
	}
	read, kept := importOf(source.inputs(&e.who), &e.who, time.Now()), 0
	if len(inputs) > 0 {
		games, err := fetch.Open(r.ctx, inputs, fetch.Options{Who: t.who, With: fetch.Kinds, Stdin: r.stdin})
		if err != nil {
			return nil, err
		}
		_, kept, err = store.Update(r.ctx, source.ID, e.who.ID, games.All())
		if err := errors.Join(err, games.Err()); err != nil {
			return nil, err
		}
		summary := games.Summary()
		found.summary.Games += summary.Games
		found.summary.Suggestions = append(found.summary.Suggestions, summary.Suggestions...)
		r.tellOnce(summary.Problems)
	}
	path := store.Path(source.ID, e.who.ID)
	if kept == 0 {
		return nil, read.keep(path)
	}
	return []fetch.Input{source.input(path, &e.who)}, read.keep(path)
}

// suggest names spellings that may be the player's and were not counted.
func (r *fieldRun) suggest(near []fetch.Suggestion) {
	if near = likely(near); len(near) > 0 {
		r.say.note("not counted, but maybe theirs: %s", r.spellings(near))
		r.suggested = true
	}
}

func (r *fieldRun) tellOnce(problems []pgn.Problem) {
	r.once(func() {
		r.reportFiles(slices.DeleteFunc(slices.Clone(problems), func(p pgn.Problem) bool {
			return r.again(p.String()) || p.Game > 0
		}))
	})
}

// once tells what is about no player alone.
func (r *fieldRun) once(tell func()) {
	about := r.say.about
	r.say.about = ""
	defer func() { r.say.about = about }()
	tell()
}

// again reports whether a text was told before; from now on it was.
func (r *fieldRun) again(text string) bool {
	told := r.told[text]
	r.told[text] = true
	return told
}

// sumUp writes the pages that stand beside the sheets, and prints the table.
func (r *fieldRun) sumUp() error {
	r.say.clear()
	if r.suggested {
		r.say.hint("to count them, give an opponent in %s all their names, and call field again", cmp.Or(r.home.file, configName))
	}
	if err := r.writePages(); err != nil {
		return errors.Join(r.failures(), err)
	}
	t := tabwriter.NewWriter(r.stdout, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "board\tplayer\tgames\tlast\tsheet")
	made := 0
	for _, row := range r.rows {
		sheet := row.ID + ".pdf"
		if row.Missing != "" {
			sheet = "none: " + row.Missing
		} else {
			made++
		}
		fmt.Fprintf(t, "%s\t%s\t%d\t%s\t%s\n", orDash(row.Board), clean(row.Name), row.Games, lastWords(row.Last), clean(sheet))
	}
	if err := t.Flush(); err != nil {
		return err
	}
	if before := r.pagesBefore(r.folder); len(before) > 0 {
		r.say.note("of an earlier run, and not made anew: %s", strings.Join(before, ", "))
		r.say.hint("delete what nobody needs: it knows neither new games nor who withdrew")
	}
	fmt.Fprintf(r.stdout, "\nmade %s of %s in %s; %s sums them up\n",
		words.Plural(made, "sheet"), words.Plural(len(r.rows), "player"), r.folder, summaryName+".pdf")
	return r.failures()
}

// writePages writes the page of the whole field, and one for each board that
// several players may sit at.
func (r *fieldRun) writePages() error {
	title := "The field"
	if event := r.home.Sheet.Event; event != "" {
		title += ": " + event
	}
	if err := r.writePage(summaryName, title, r.rows, pdf.WriteField); err != nil {
		return err
	}
	boards := map[int][]fact.FieldRow{}
	for _, row := range r.rows {
		if row.Board > 0 {
			boards[row.Board] = append(boards[row.Board], row)
		}
	}
	for _, n := range slices.Sorted(maps.Keys(boards)) {
		if rows := boards[n]; len(rows) > 1 {
			if err := r.writePage(boardName(n), fmt.Sprintf("Board %d: %s", n, candidates(rows)), rows, pdf.WriteCandidates); err != nil {
				return err
			}
		}
	}
	return nil
}

// candidates names those who may sit at a board.
func candidates(rows []fact.FieldRow) string {
	var names []string
	for _, row := range rows {
		names = append(names, words.Surname(row.Name))
	}
	return strings.Join(names, " or ")
}

func (r *fieldRun) writePage(name, title string, rows []fact.FieldRow, write func(io.Writer, pdf.Field, pdf.Options) error) error {
	out, err := r.createOut(filepath.Join(r.folder, name+".pdf"), pdfHead, nil)
	if err != nil {
		return err
	}
	defer out.drop()
	field := pdf.Field{Title: title, AsOf: pgn.ParseDate(r.home.Sheet.Date), Rows: rows}
	if err := out.fill(func(w io.Writer) error { return write(w, field, pdf.Options{Paper: r.home.Sheet.Paper}) }); err != nil {
		return err
	}
	return out.keep()
}

func lastWords(date pgn.Date) string {
	if !date.Known() {
		return "-"
	}
	return words.Date(date)
}

func orDash(n int) string {
	if n == 0 {
		return "-"
	}
	return strconv.Itoa(n)
}
