package main

import (
	"bytes"
	"fmt"
	"net/http"
	"strconv"
	"time"
)

// site is a slow server of games: all in one answer, or in pages of fifty.
type site struct{ games [][]byte }

const (
	gamesPerPage = 50
	slowness     = time.Millisecond // for each ten games
)

func newSite(text []byte) http.Handler {
	s := &site{}
	for _, g := range bytes.SplitAfter(bytes.ReplaceAll(text, []byte("\n\n[Event "), []byte("\n\n\x00[Event ")), []byte{0}) {
		s.games = append(s.games, bytes.TrimSuffix(g, []byte{0}))
	}
	mux := http.NewServeMux()
	mux.HandleFunc("/stream/{player}", func(w http.ResponseWriter, r *http.Request) { s.send(w, s.games) })
	mux.HandleFunc("/pages/{player}", func(w http.ResponseWriter, r *http.Request) {
		page, err := strconv.Atoi(r.URL.Query().Get("page"))
		from := (page - 1) * gamesPerPage
		if err != nil || from < 0 || from >= len(s.games) {
			http.NotFound(w, r)
			return
		}
		s.send(w, s.games[from:min(len(s.games), from+gamesPerPage)])
	})
	return mux
}

func (s *site) send(w http.ResponseWriter, games [][]byte) {
	for i, g := range games {
		if _, err := fmt.Fprintf(w, "%s\n", g); err != nil {
			return
		}
		if i%10 == 9 {
			if f, ok := w.(http.Flusher); ok {
				f.Flush()
			}
			time.Sleep(slowness)
		}
	}
}
