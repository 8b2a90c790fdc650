package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"unicode"

	"foreply/fetch"
	"foreply/profile/board"
)

// fieldSource is the id of the folder's source when the games come from --games.
const fieldSource = "field"

// setSources takes the sources of the players' games: --games, else those of the
// user's configuration. What changes there after the sheets were made is read
// again by 'prep'; of a server, what 'foreply fetch' keeps.
func (r *fieldRun) setSources() error {
	if files := r.flags.games; len(files) > 0 {
		r.sources = []sourceConfig{{ID: fieldSource, Files: files, Mixed: true}}
		if slices.Contains(files, "-") {
			return misuse("the games of a field are read again for each player: standard input can't give them", "name a file with --games")
		}
		_, err := fetch.Open(r.ctx, patterns(files, nil), fetch.Options{}) // looks whether there are such files
		return hinted(err)
	}
	if len(r.home.Sources) == 0 {
		return noSources(r.home)
	}
	store, err := r.home.store()
	if err != nil {
		return err
	}
	for _, source := range r.home.Sources {
		if source.URL != "" {
			folder := filepath.Dir(filepath.Dir(store.Path(source.ID, "x")))
			source = sourceConfig{ID: source.ID, Files: []string{filepath.Join(folder, "*", "games.pgn")}}
		}
		r.sources = append(r.sources, source)
	}
	return nil
}

// configHead begins the configurations that we write ourselves and may replace.
const configHead = "# Made by 'foreply field'"

// writeConfig writes the folder's configuration: the user's own with all paths
// made whole, the players of the list, and the folder as the place of their games.
func (r *fieldRun) writeConfig(path string, shared *task) error {
	out, err := r.createOut(path, configHead, nil)
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
	w.list("    main", shared.first)
	w.paths("peers", filesOf(patterns(r.flags.peers, r.home.Peers)))
	w.line("cache: games")
	w.line("sources:")
	for i := range r.sources {
		w.source(&r.sources[i])
	}
	w.line("sheet:")
	sheet := r.home.Sheet
	for _, pair := range [][2]string{{"paper", sheet.Paper}, {"event", sheet.Event}, {"round", sheet.Round}, {"date", sheet.Date}, {"clock", sheet.Clock}, {"need", sheet.Need}} {
		w.line("  " + pair[0] + ": " + quoted(pair[1]))
	}
	w.line(fmt.Sprintf("  half: %t", sheet.Half))
	w.line(fmt.Sprintf("  large: %t", sheet.Large))
	w.line(fmt.Sprintf("  one_page: %t", sheet.OnePage))
	w.line(fmt.Sprintf("  double_round: %t", sheet.DoubleRound))
	w.number("  minutes", float64(sheet.Minutes))
	w.line("walk:")
	walk := r.home.Walk
	w.number("  plies", float64(walk.Plies))
	w.number("  threshold", walk.Threshold)
	w.number("  few_games", float64(walk.FewGames))
	w.engine(&r.home.Engine)
	w.line("opponents:")
	for i := range r.entrants {
		w.opponent(&r.entrants[i].who)
	}
	if err := errors.Join(w.err, w.w.Flush()); err != nil {
		return fmt.Errorf("writing %s: %w", path, err)
	}
	return out.keep()
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

// engine writes the engine of the sheets, so that 'prep' finds again what it
// found.
func (y *yamlWriter) engine(e *engineConfig) {
	if !e.wanted() {
		return
	}
	command := e.Command
	if e.placed() {
		command = wholePath(command, func(program string) string { return program })
	}
	y.line("engine:")
	y.line("  command: " + quoted(command))
	y.list("  options", e.Options)
	y.number("  nodes", float64(e.Nodes))
	y.number("  threads", float64(e.Threads))
	y.number("  hash", float64(e.Hash))
	y.line("  time: " + quoted(e.Time))
	y.line("  cache: " + quoted(e.Cache))
}

func (y *yamlWriter) source(s *sourceConfig) {
	y.line("  - id: " + s.ID)
	y.paths("    files", s.Files)
	if s.Mixed {
		y.line("    mixed: true")
	}
}

func (y *yamlWriter) opponent(o *opponentConfig) {
	y.line("  - id: " + o.ID)
	if o.Name != "" {
		y.line("    name: " + quoted(o.Name))
	}
	y.list("    names", o.Names)
	y.list("    unsure", o.Unsure)
	y.list("    fide_ids", o.FideIDs)
	y.number("    rating", float64(o.Rating))
	for i, h := range o.Handles {
		if i == 0 {
			y.line("    handles:")
		}
		y.line("      - {source: " + quoted(h.Source) + ", handle: " + quoted(h.Handle) + "}")
	}
}

// quoted writes a string as JSON does, and signs that steer a terminal or turn the
// direction of writing as escapes: what is read on the screen is what is in the file.
func quoted(text string) string {
	b, _ := json.Marshal(text) // a string always can be written
	var out strings.Builder
	for _, r := range string(b) {
		switch {
		case !unicode.In(r, unicode.Cc, unicode.Cf, unicode.Co):
			out.WriteRune(r)
		case r > 0xffff: // (YAML 1.2, 5.7)
			fmt.Fprintf(&out, `\U%08x`, r)
		default:
			fmt.Fprintf(&out, `\u%04x`, r)
		}
	}
	return out.String()
}
