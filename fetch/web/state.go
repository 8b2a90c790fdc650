package web

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"foreply/fetch"
)

// state is what is remembered beside the games, so that a server is not asked
// for the same twice. Losing it costs requests, never games.
type state struct {
	Version int                `json:"version"`
	Size    int64              `json:"size"` // of the games' file when this was written
	Handles map[string]*memory `json:"handles"`
}

const stateVersion = 1

// memory is what is known of one handle.
type memory struct {
	// Asked is the source's templates: with other ones the server may have other
	// games.
	Asked string `json:"asked"`
	// Newest is when the newest game began of all that surely came; zero if none.
	Newest time.Time `json:"newest,omitzero"`
	// Whole: the last run came to its end.
	Whole bool            `json:"whole"`
	Pages map[string]page `json:"pages"` // by month, number or address
}

// page is what is known of one answer that came whole.
type page struct {
	URL         string `json:"url"` // the token masked
	ETag        string `json:"etag,omitempty"`
	Modified    string `json:"last_modified,omitempty"`
	Games       int    `json:"games"`
	Closed      bool   `json:"closed,omitempty"`       // nothing will be added
	NewestFirst bool   `json:"newest_first,omitempty"` // the games stand in that order
}

// Fetched is how the last fetch of a handle went.
type Fetched int

const (
	Unknown   Fetched = iota // nothing is remembered
	Never                    // only other handles were asked for
	BrokenOff                // it didn't come to its end: games may be missing
	Whole
)

// FetchOf says how the last fetch of a handle into a file of kept games went.
func FetchOf(games, handle string) Fetched {
	known, err := loadState(games)
	switch m := known.Handles[handle]; {
	case err != nil || len(known.Handles) == 0:
		return Unknown
	case m == nil:
		return Never
	case !m.Whole:
		return BrokenOff
	}
	return Whole
}

func statePath(games string) string { return filepath.Join(filepath.Dir(games), "state.json") }

// loadState reads what is remembered. What can't be trusted is forgotten: a
// games' file that lost something takes the memory of all pages with it, one that
// grew was written by a run that died before it wrote the state.
func loadState(games string) (*state, error) {
	fresh := &state{Version: stateVersion, Handles: map[string]*memory{}}
	info, err := os.Stat(games)
	if err != nil {
		return fresh, nil // no games: nothing to remember
	}
	text, err := os.ReadFile(statePath(games))
	if errors.Is(err, fs.ErrNotExist) {
		return fresh, nil
	}
	if err != nil {
		return fresh, err
	}
	s := &state{}
	if err := json.Unmarshal(text, s); err != nil || s.Version != stateVersion {
		return fresh, fmt.Errorf("%s can't be read; everything is asked for again", statePath(games))
	}
	if info.Size() < s.Size || s.Handles == nil {
		return fresh, nil
	}
	for handle, m := range s.Handles {
		if m == nil {
			delete(s.Handles, handle)
			continue
		}
		if m.Pages == nil {
			m.Pages = map[string]page{}
		}
		m.Whole = m.Whole && info.Size() == s.Size
	}
	return s, nil
}

func (s *state) save(games string) error {
	if info, err := os.Stat(games); err == nil {
		s.Size = info.Size()
	} else {
		return nil // nothing was ever kept
	}
	text, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		return err
	}
	return fetch.ReplaceFile(statePath(games), func(w io.Writer) error {
		_, err := w.Write(append(text, '\n'))
		return err
	})
}

// of returns what is known of a handle as long as the source asks the same way.
func (s *state) of(handle string, source *Source, full bool) *memory {
	m := s.Handles[handle]
	if m == nil || full || m.Asked != source.asked() {
		m = &memory{Asked: source.asked(), Pages: map[string]page{}}
	}
	return m
}

// asked is all that decides which games an answer has.
func (s *Source) asked() string {
	out := string(s.pages) + " " + s.list.text + " " + s.url.text
	for _, q := range s.query {
		out += "&" + q.name.text + "=" + q.value.text
	}
	if start := s.start; start != (Month{}) {
		out += " from " + start.String()
	}
	return out
}
