package main

import (
	"bufio"
	"encoding/json"
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

	"foreply/compare"
	"foreply/fetch"
	"foreply/fetch/pgn"
	"foreply/pdf"
	"foreply/profile"
	"foreply/profile/board"
)

const defaultField = "field"

func (a *app) fieldCommand() *cobra.Command {
	f := &flags{}
	cmd := &cobra.Command{
		Use:   "field ENTRIES",
		Short: "make the sheets for a whole entry list",
		Long: "field reads an entry list (a player a line: name, and if known ID, rating and board; text\n" +
			"or CSV) and makes a sheet for each player into a folder, with a page that sums them up and\n" +
			"one for each board with several candidates. The players' games are kept in the folder: at\n" +
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
	fs.SortFlags = false
	fs.StringArrayVar(&f.games, "games", nil, "`FILES` with the players' games: file, glob or folder (repeatable)")
	fs.StringVar(&f.config, "config", "", "configuration `FILE` (default: ./"+configName+", then your configuration folder)")
	f.addPeers(fs)
	f.addBook(fs)
	fs.StringVarP(&f.out, "out", "o", defaultField, "`FOLDER` for the sheets")
	f.addSheet(fs)
	fs.StringVar(&f.event, "event", "", "`EVENT`, for the heads of the sheets")
	fs.StringVar(&f.round, "round", "", "`ROUND`, for the heads of the sheets")
	return cmd
}

// entrant is a player of the entry list as the folder's configuration has them.
type entrant struct {
	fetch.Entry
	who opponentConfig
}

// fieldRun makes the sheets of one entry list.
type fieldRun struct {
	*app
	flags    *flags
	folder   string
	inputs   []fetch.Input // the players' games; nil leaves it to the configured sources
	home     *settings     // the user's configuration
	away     *settings     // the folder's
	books    []*compare.Book
	entrants []entrant
	told     map[string]bool // problems of files, each told once
	rows     []compare.FieldRow
	failed   []error
}

func (a *app) field(cmd *cobra.Command, f *flags, list string) error {
	r := &fieldRun{app: a, flags: f, folder: f.out, told: map[string]bool{}}
	var err error
	if r.home, err = loadConfig(f.config, cmd.Flags()); err != nil {
		return err
	}
	if err := r.readEntrants(list); err != nil {
		return err
	}
	if err := r.setUp(cmd); err != nil {
		return err
	}
	for i := range r.entrants {
		if a.ctx.Err() != nil {
			a.say.note("%d of %s done; the same command goes on from there", i, compare.Plural(len(r.entrants), "player"))
			return a.ctx.Err()
		}
		a.say.step(i, len(r.entrants), r.entrants[i].Name)
		r.prepare(&r.entrants[i])
	}
	return r.sumUp()
}

// readEntrants reads the entry list and finds out who of it is known already.
func (r *fieldRun) readEntrants(list string) error {
	in, name := io.NopCloser(r.stdin), "standard input"
	if list != "-" {
		file, err := os.Open(list)
		if err != nil {
			return advise(fmt.Errorf("reading %s: %w", list, cause(err)), "the entry list is a text file with a player a line")
		}
		in, name = file, list
	}
	defer in.Close()
	entries, problems, err := fetch.ReadEntries(in, name)
	if err != nil {
		return err
	}
	r.say.excerpts("warning", problems, mostShown)
	if len(entries) == 0 {
		return advise(fmt.Errorf("no player in %s", name), "the entry list has a player a line: name, and if known ID, rating and board")
	}
	taken := map[string]bool{summaryName: true}
	for _, e := range entries {
		r.entrants = append(r.entrants, entrant{e, r.home.entrant(e, taken)})
	}
	return nil
}

// summaryName and boardName are the pages beside the sheets, whose names no
// player's id may take.
const summaryName = "field"

func boardName(n int) string { return fmt.Sprintf("board-%d", n) }

// entrant returns the configured opponent that an entry means, or a new one.
func (s *settings) entrant(e fetch.Entry, taken map[string]bool) opponentConfig {
	out := opponentConfig{Name: e.Name, Names: []string{e.Name}}
	if e.ID != "" {
		out.FideIDs = []string{e.ID}
	}
	for _, o := range s.Opponents {
		if meansEntry(&o, e) {
			out = o
			for _, h := range o.Handles { // the folder has no such sources
				out.Names = append(slices.Clip(out.Names), h.Handle)
			}
			out.Handles = nil
			break
		}
	}
	if out.ID == "" {
		out.ID = idOf(e.Name)
	}
	base := out.ID
	for n := 2; taken[out.ID]; n++ {
		out.ID = fmt.Sprintf("%.36s-%d", base, n)
	}
	taken[out.ID] = true
	return out
}

func meansEntry(o *opponentConfig, e fetch.Entry) bool {
	if e.ID != "" && slices.Contains(o.FideIDs, e.ID) {
		return true
	}
	return named(fetch.Who{Names: append([]string{o.Name}, o.Names...)})(e.Name)
}

// idOf makes an id of a name, last name first as the entry list has it.
func idOf(name string) string {
	var words []string
	for part := range strings.SplitSeq(name, ",") {
		words = append(words, strings.FieldsFunc(fetch.Fold(part), func(c rune) bool {
			return (c < 'a' || c > 'z') && (c < '0' || c > '9')
		})...)
	}
	id := strings.Join(words, "-")
	if id == "" {
		return "player"
	}
	return strings.TrimRight(id[:min(len(id), 36)], "-")
}

// setUp makes the folder with its configuration. The sheets are made by that
// configuration, so that 'prep' in the folder says the same at the pairing.
func (r *fieldRun) setUp(cmd *cobra.Command) error {
	shared := &task{cfg: r.home, class: profile.Classical}
	if err := shared.setGame(r.flags); err != nil {
		return err
	}
	r.inputs = patterns(r.flags.games, nil)
	if len(r.inputs)+len(r.home.Sources) == 0 {
		return misuse("where are the games?", "--games 'games/*.pgn' names them, or list them under sources in "+configName)
	}
	var err error
	if r.books, err = r.readBooks(shared); err != nil {
		return err
	}
	if err := os.MkdirAll(r.folder, 0o755); err != nil {
		return advise(fmt.Errorf("making the folder %s: %w", r.folder, cause(err)), "give another place with -o")
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
	row := compare.FieldRow{Name: e.Name, ID: e.who.ID, Board: e.Board, Rating: e.Rating}
	report, err := r.sheet(e)
	var none *noGamesError
	switch {
	case err == nil:
		row.Fill(report)
	case errors.As(err, &none):
		row.Missing = err.Error()
	default:
		row.Missing = err.Error()
		r.failed = append(r.failed, fmt.Errorf("%s: %w", e.Name, err))
	}
	r.rows = append(r.rows, row)
}

func (r *fieldRun) sheet(e *entrant) (*compare.Report, error) {
	t := &task{cfg: r.away, class: profile.Classical, opened: r.books}
	if err := errors.Join(t.setOpponent(&flags{}, []string{e.who.ID}), t.setInputs(&flags{}), t.setGame(r.flags)); err != nil {
		return nil, err
	}
	var err error
	if t.inputs, err = r.importGames(t); err != nil {
		return nil, err
	}
	report, _, err := r.makeReport(t)
	if err != nil {
		return nil, err
	}
	out, err := createOut(filepath.Join(r.folder, e.who.ID+".pdf"), pdfHead)
	if err != nil {
		return nil, err
	}
	defer out.drop()
	return report, writeSheet(out, report, t.cfg.Sheet.options())
}

// importGames copies a player's games into the folder and returns where they
// are now. Problems in games are told when they are read for the sheet, those of
// files once.
func (r *fieldRun) importGames(t *task) ([]fetch.Input, error) {
	store, err := r.away.store()
	if err != nil {
		return nil, err
	}
	begun := time.Now()
	inputs := r.inputs
	if len(inputs) == 0 {
		inputs = sourceInputs(r.home, t.opponent.ID)
	}
	games, err := fetch.Open(r.ctx, inputs, fetch.Options{Who: t.who, With: fetch.Kinds, Stdin: r.stdin})
	if err != nil {
		return nil, hinted(err)
	}
	_, kept, err := store.Update(r.ctx, fieldSource, t.opponent.ID, games.All())
	if err := errors.Join(err, games.Err()); err != nil {
		return nil, hinted(err)
	}
	r.tellOnce(games.Summary().Problems)
	if kept == 0 {
		t.inputs = inputs
		return nil, noGames(t, &findings{summary: games.Summary()})
	}
	path := store.Path(fieldSource, t.opponent.ID)
	return []fetch.Input{{Source: fieldSource, Pattern: path}}, mark(path, begun)
}

func (r *fieldRun) tellOnce(problems []pgn.Problem) {
	about := r.say.about
	r.say.about = ""
	defer func() { r.say.about = about }()
	r.reportFiles(slices.DeleteFunc(slices.Clone(problems), func(p pgn.Problem) bool {
		text := p.String()
		again := r.told[text]
		r.told[text] = true
		return again || p.Game > 0
	}))
}

// sumUp writes the pages that stand beside the sheets, and prints the table.
func (r *fieldRun) sumUp() error {
	r.say.clear()
	if err := r.writePages(); err != nil {
		return errors.Join(append(r.failed, err)...)
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
		fmt.Fprintf(t, "%s\t%s\t%d\t%s\t%s\n", orDash(row.Board), clean(row.Name), row.Games, orDashes(row.Last), clean(sheet))
	}
	if err := t.Flush(); err != nil {
		return err
	}
	fmt.Fprintf(r.stdout, "\nmade %s of %s in %s; %s sums them up\n",
		compare.Plural(made, "sheet"), compare.Plural(len(r.rows), "player"), r.folder, summaryName+".pdf")
	return errors.Join(r.failed...)
}

// writePages writes the page of the whole field, and one for each board that
// several players may sit at.
func (r *fieldRun) writePages() error {
	title := "The field"
	if event := r.home.Sheet.Event; event != "" {
		title += ": " + event
	}
	if err := r.writePage(summaryName, title, r.rows); err != nil {
		return err
	}
	boards := map[int][]compare.FieldRow{}
	for _, row := range r.rows {
		if row.Board > 0 {
			boards[row.Board] = append(boards[row.Board], row)
		}
	}
	for _, n := range slices.Sorted(maps.Keys(boards)) {
		if rows := boards[n]; len(rows) > 1 {
			if err := r.writePage(boardName(n), fmt.Sprintf("Board %d: who may sit there", n), rows); err != nil {
				return err
			}
		}
	}
	return nil
}

func (r *fieldRun) writePage(name, title string, rows []compare.FieldRow) error {
	out, err := createOut(filepath.Join(r.folder, name+".pdf"), pdfHead)
	if err != nil {
		return err
	}
	defer out.drop()
	field := pdf.Field{Title: title, AsOf: r.home.Sheet.Date, Rows: rows}
	if err := out.fill(func(w io.Writer) error { return pdf.WriteField(w, field, pdf.Options{Paper: r.home.Sheet.Paper}) }); err != nil {
		return err
	}
	return out.keep()
}

func orDashes(text string) string {
	if text == "" {
		return "-"
	}
	return text
}

func orDash(n int) string {
	if n == 0 {
		return "-"
	}
	return strconv.Itoa(n)
}

// fieldSource is the id of the folder's source.
const fieldSource = "field"

// configHead begins the configurations that we write ourselves and may replace.
const configHead = "# Made by 'foreply field'"

// writeConfig writes the folder's configuration: the user's own with all paths
// made whole, the players of the list, and the folder as the place of their games.
func (r *fieldRun) writeConfig(path string, shared *task) error {
	out, err := createOut(path, configHead)
	if err != nil {
		return err
	}
	defer out.drop()
	books := [2][]string{board.White: r.home.Me.Repertoire.White, board.Black: r.home.Me.Repertoire.Black}
	for _, c := range shared.mine {
		books[c] = shared.books[c]
	}
	w := &yamlWriter{w: bufio.NewWriter(out)}
	w.line(configHead + "; 'foreply prep OPPONENT-ID' in this folder makes a sheet from it.")
	w.line("me:")
	w.list("  names", shared.me.Names)
	w.paths("  games", filesOf(shared.myGames))
	w.line("  repertoire:")
	w.paths("    white", books[board.White])
	w.paths("    black", books[board.Black])
	w.paths("peers", filesOf(patterns(r.flags.peers, r.home.Peers)))
	w.line("cache: games")
	w.line("sources:")
	w.line("  - id: " + fieldSource)
	w.paths("    files", r.files())
	w.line("sheet:")
	sheet := r.home.Sheet
	for _, pair := range [][2]string{{"paper", sheet.Paper}, {"event", sheet.Event}, {"round", sheet.Round}, {"date", sheet.Date}, {"clock", sheet.Clock}} {
		w.line("  " + pair[0] + ": " + quoted(pair[1]))
	}
	w.line(fmt.Sprintf("  half: %t", sheet.Half))
	w.line(fmt.Sprintf("  large: %t", sheet.Large))
	w.line(fmt.Sprintf("  two_pages: %t", sheet.TwoPages))
	w.line("walk:")
	walk := r.home.Walk
	w.number("  plies", float64(walk.Plies))
	w.number("  threshold", walk.Threshold)
	w.number("  few_games", float64(walk.FewGames))
	w.line("opponents:")
	for i := range r.entrants {
		w.opponent(&r.entrants[i].who)
	}
	if err := errors.Join(w.err, w.w.Flush()); err != nil {
		return fmt.Errorf("writing %s: %w", path, err)
	}
	return out.keep()
}

// files are where the players' games come from: those that change after the
// sheets were made are read again by 'prep'.
func (r *fieldRun) files() []string {
	out := filesOf(r.inputs)
	if len(out) > 0 {
		return out
	}
	for _, source := range r.home.Sources {
		out = append(out, source.Files...)
	}
	return out
}

func filesOf(inputs []fetch.Input) []string {
	var out []string
	for _, in := range inputs {
		out = append(out, in.Pattern)
	}
	return out
}

// yamlWriter writes a configuration; strings are quoted as in JSON, which YAML
// reads (YAML 1.2, 7.3.1).
type yamlWriter struct {
	w   *bufio.Writer
	err error // of a path that can't be made whole
}

func (y *yamlWriter) line(text string) { y.w.WriteString(text + "\n") } // Flush has the error

// number writes what was given; 0 stands for the default.
func (y *yamlWriter) number(key string, value float64) {
	if value != 0 {
		y.line(fmt.Sprintf("%s: %v", key, value))
	}
}

func (y *yamlWriter) list(key string, values []string) {
	var items []string
	for _, v := range values {
		items = append(items, quoted(v))
	}
	y.line(key + ": [" + strings.Join(items, ", ") + "]")
}

// paths writes paths that hold in any folder.
func (y *yamlWriter) paths(key string, paths []string) {
	var whole []string
	for _, p := range paths {
		abs, err := filepath.Abs(p)
		if err != nil {
			y.err = err
		}
		whole = append(whole, abs)
	}
	y.list(key, whole)
}

func (y *yamlWriter) opponent(o *opponentConfig) {
	y.line("  - id: " + o.ID)
	if o.Name != "" {
		y.line("    name: " + quoted(o.Name))
	}
	y.list("    names", o.Names)
	y.list("    unsure", o.Unsure)
	y.list("    fide_ids", o.FideIDs)
}

func quoted(text string) string {
	b, _ := json.Marshal(text) // a string always can be written
	return string(b)
}
