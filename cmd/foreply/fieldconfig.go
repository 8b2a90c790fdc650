package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"foreply/fetch"
	"foreply/fetch/pgn/plain"
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
	text, err := r.config(shared).text()
	if err != nil {
		return fmt.Errorf("writing %s: %w", path, err)
	}
	out, err := r.createOut(path, configHead, nil)
	if err != nil {
		return err
	}
	defer out.drop()
	if _, err := fmt.Fprintf(out, "%s; 'foreply prep OPPONENT-ID' in this folder makes a sheet from it.\n%s", configHead, text); err != nil {
		return fmt.Errorf("writing %s: %w", path, err)
	}
	return out.keep()
}

// config is what the folder's configuration says. The paths hold in any folder.
func (r *fieldRun) config(shared *task) *config {
	books := [2][]string{board.White: r.home.Me.Repertoire.White, board.Black: r.home.Me.Repertoire.Black}
	for _, c := range shared.mine {
		books[c] = shared.books[c]
	}
	c := &config{
		Me: meConfig{
			Names: shared.me.Names, Games: whole(filesOf(shared.myGames)),
			Repertoire: repertoireConfig{White: whole(books[board.White]), Black: whole(books[board.Black]), Main: shared.first},
		},
		Peers: whole(filesOf(patterns(r.flags.peers, r.home.Peers))), Cache: "games",
		Sheet: r.home.Sheet, Walk: r.home.Walk,
	}
	c.Sheet.Board = "" // each player has one of their own
	if e := r.home.Engine; e.wanted() {
		if e.placed() {
			e.Command = wholePath(e.Command, func(program string) string { return program })
		}
		c.Engine = e // so that 'prep' finds again what it found
	}
	for _, s := range r.sources {
		c.Sources = append(c.Sources, sourceConfig{ID: s.ID, Files: whole(s.Files), Mixed: s.Mixed})
	}
	for i := range r.entrants {
		c.Opponents = append(c.Opponents, r.entrants[i].who)
	}
	return c
}

// whole makes paths that hold in any folder.
func whole(paths []string) []string {
	folder, err := os.Getwd() // without one nothing was read
	var out []string
	for _, p := range paths {
		if err == nil && !filepath.IsAbs(p) {
			p = under(folder, p)
		}
		out = append(out, filepath.Clean(p))
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

// text is the configuration as YAML. Signs that steer a terminal or turn the direction of
// writing stand as escapes: what is read on the screen is what is in the file. Only texts
// in double quotes have escapes (YAML 1.2, 5.7), so all texts stand in them.
func (c *config) text() (string, error) {
	var doc yaml.Node
	if err := doc.Encode(c); err != nil {
		return "", err
	}
	quote(&doc)
	b, err := yaml.Marshal(&doc)
	return escaped(string(b)), err
}

// quote sets all texts below a node in double quotes, but for keys.
func quote(n *yaml.Node) {
	if n.Kind == yaml.ScalarNode && n.Tag == "!!str" {
		n.Style = yaml.DoubleQuotedStyle
	}
	for i, inner := range n.Content {
		if n.Kind != yaml.MappingNode || i%2 == 1 {
			quote(inner)
		}
	}
}

func escaped(text string) string {
	var out strings.Builder
	for _, r := range text {
		switch {
		case r == '\n' || !plain.Steers(r):
			out.WriteRune(r)
		case r > 0xffff:
			fmt.Fprintf(&out, `\U%08x`, r)
		default:
			fmt.Fprintf(&out, `\u%04x`, r)
		}
	}
	return out.String()
}
