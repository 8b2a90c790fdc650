package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"time"

	"foreply/fetch"
)

// imported says which files kept games were read from, as they were then, and for which
// names. It stands beside the games: what is not in it as it is now is still to be read. The
// age of a file alone wouldn't do, for one that was unpacked or copied, or is new in the
// configuration, may be older than the import that it missed.
type imported struct {
	Names []string             `json:"names"` // names, numbers and handles that were looked for
	Files map[string]fileState `json:"files"` // by whole path
}

type fileState struct {
	Bytes   int64     `json:"bytes"`
	Changed time.Time `json:"changed"`
}

// coarse is how far the times of two files may be off on common file systems.
const coarse = 2 * time.Second

// importOf is what an import that begins now will have read. A file that changed just before is
// left out, as it may change again and look the same, and so is one that can't be opened.
func importOf(inputs []fetch.Input, o *opponentConfig, begun time.Time) imported {
	out := imported{o.lookedFor(inputs), map[string]fileState{}}
	for _, path := range whole(listed(inputs)) {
		if state, err := stateOf(path); err == nil && state.Changed.Before(begun.Add(-coarse)) && opens(path) {
			out.Files[path] = state
		}
	}
	return out
}

func opens(path string) bool {
	f, err := fetch.OpenPlain(path)
	if err == nil {
		f.Close()
	}
	return err == nil
}

// lookedFor is all that a player's games are found by in the inputs.
func (o *opponentConfig) lookedFor(inputs []fetch.Input) []string {
	who := o.who()
	out := slices.Concat(who.Names, who.Unsure, who.IDs)
	for _, in := range inputs {
		out = append(out, in.Handles...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// listed are the files of the inputs; what can't be listed isn't there to be read, of which
// the import tells.
func listed(inputs []fetch.Input) []string {
	var out []string
	for _, in := range inputs {
		if paths, err := fetch.Files([]fetch.Input{in}); err == nil {
			out = append(out, paths...)
		}
	}
	return out
}

// stateOf is of plain files alone: a folder in a list of files is one that can't be read.
func stateOf(path string) (fileState, error) {
	info, err := os.Stat(path)
	if err != nil {
		return fileState{}, err
	}
	if !info.Mode().IsRegular() {
		return fileState{}, fs.ErrInvalid
	}
	return fileState{info.Size(), info.ModTime().UTC()}, nil
}

// importedBeside is the list beside a file of kept games.
func importedBeside(games string) string { return filepath.Join(filepath.Dir(games), "imported.json") }

// importedInto reads it; without one, or with a damaged one, nothing counts as read.
func importedInto(games string) imported {
	var out imported
	text, err := os.ReadFile(importedBeside(games))
	if err != nil || json.Unmarshal(text, &out) != nil {
		return imported{}
	}
	return out
}

// unread are the files of the inputs whose games were not looked at, for these names. A dead
// link, a pipe or a closed folder is none: the import tells of it, and named alone it would end
// the reading.
func (i imported) unread(inputs []fetch.Input, o *opponentConfig) []string {
	known := slices.Equal(i.Names, o.lookedFor(inputs))
	var out []string
	paths := listed(inputs)
	for n, path := range whole(paths) {
		if state, err := stateOf(path); err == nil && (!known || i.Files[path] != state) {
			out = append(out, paths[n])
		}
	}
	return out
}

// keep writes the list beside the kept games. Where there were none it makes an empty file of
// them, so that nobody looks for them again.
func (i imported) keep(games string) error {
	if _, err := os.Stat(games); errors.Is(err, fs.ErrNotExist) {
		if err := errors.Join(os.MkdirAll(filepath.Dir(games), 0o700), os.WriteFile(games, nil, 0o600)); err != nil {
			return fmt.Errorf("writing %s: %w", games, fetch.Cause(err))
		}
	}
	return fetch.ReplaceFile(importedBeside(games), func(w io.Writer) error {
		return writeJSON(w, i)
	})
}
