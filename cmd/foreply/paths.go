package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"foreply/fetch"
)

// resolve makes the file's paths relative to its folder, not to the working
// folder; those of flags and the environment stay as they are. It remembers which
// key names each.
func (s *settings) resolve() {
	lists := map[string][]string{
		"me.games": s.Me.Games, "me.repertoire.white": s.Me.Repertoire.White, "me.repertoire.black": s.Me.Repertoire.Black, "peers": s.Peers,
	}
	for i, source := range s.Sources {
		lists[fmt.Sprintf("sources[%d].files", i)] = source.Files
	}
	s.paths = map[string]string{}
	for key, list := range lists {
		for i := range list {
			list[i] = s.beside(list[i])
			s.paths[list[i]] = fmt.Sprintf("%s[%d]", key, i)
		}
	}
	for path, value := range map[string]*string{"cache": &s.Cache, "engine.cache": &s.Engine.Cache} {
		if *value != "" && s.origin(path) == s.inFile(path) {
			*value = s.beside(*value)
		}
	}
	if e := &s.Engine; e.placed() && s.origin("engine.command") == s.inFile("engine.command") {
		e.Command = wholePath(e.Command, s.beside)
	}
}

// beside puts a relative path of the file under its folder, and ~/ under the
// user's home.
func (s *settings) beside(path string) string {
	if rest, ok := strings.CutPrefix(path, "~/"); ok {
		if home, err := os.UserHomeDir(); err == nil {
			return filepath.Join(home, rest)
		}
	}
	if filepath.IsAbs(path) || s.file == "" {
		return path
	}
	return under(filepath.Dir(s.file), path)
}

// under puts a path, which may be a pattern, into a folder. Signs of a pattern in the folder's own
// name, as in 'season [2026]', stand for themselves.
func under(folder, path string) string {
	const signs = "*?["
	joined := filepath.Join(folder, path)
	if !strings.ContainsAny(path, signs) || !strings.ContainsAny(folder, signs) {
		return joined
	}
	if _, err := os.Stat(joined); err == nil { // no pattern but a file so called
		return joined
	}
	return filepath.Join(strings.NewReplacer("*", "[*]", "?", "[?]", "[", "[[]").Replace(folder), path)
}

// thereAre checks that files exist which the configuration names, and says where
// it does so: whoever reads 'no file white.pgn' may have typed no such name.
func (s *settings) thereAre(inputs []fetch.Input) error {
	for _, in := range inputs {
		key := s.paths[in.Pattern]
		if key == "" {
			continue
		}
		if _, err := fetch.Files([]fetch.Input{in}); err != nil {
			return s.missing(key, in.Pattern, err)
		}
	}
	return nil
}

func (s *settings) missing(key, path string, err error) error {
	var hints []string
	var e *fetch.Error
	if errors.As(err, &e) && e.Hint != "" {
		hints = append(hints, e.Hint)
	}
	if rel, err := filepath.Rel(filepath.Dir(s.file), path); err == nil && bytes.Contains(template, []byte(strconv.Quote(filepath.ToSlash(rel)))) {
		hints = []string{"that is the example of 'foreply init': put your own file there, or delete the line"}
	}
	return advise(fmt.Errorf("%s: %w", s.inFile(key), err), hints...)
}
