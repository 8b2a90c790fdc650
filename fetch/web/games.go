package web

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"hash/maphash"
	"io"
	"os"
	"time"

	"foreply/fetch"
	"foreply/fetch/pgn"
)

// haul is what an answer brought.
type haul struct {
	games, theirs int
	fresh         int // not kept before; of all tries, since each keeps what it gets
	novel         int // not seen before in this run, where that is watched; of all tries
	unmarked      int // games without their result at the end
	unchanged     bool
	missing       bool
	order         sequence
	half          bool // the last game was not whole and is left out
	problems      []pgn.Problem
}

// take keeps the whole games of the part file. It ends early with the context,
// unless that was what cut the answer: what came is to be kept then.
func (r *run) take(ctx context.Context, label string, cut bool) (haul, error) {
	in, err := os.Open(r.part)
	if err != nil {
		return haul{}, err
	}
	defer in.Close()
	reader := pgn.NewReader(in, pgn.Options{Source: r.server.source.ID, File: label})
	got := haul{}
	stopped := r.takeAll(reader, &got, cut, func() bool { return !cut && ctx.Err() != nil })
	got.note(reader.Problems())
	switch err := reader.Err(); {
	case stopped:
		return got, context.Cause(ctx)
	case err != nil:
		return got, err
	case got.games == 0 && !got.half && !cut:
		return got, noGames(in)
	}
	return got, nil
}

// takeAll keeps the games of an answer. The last one is held back until it is
// known not to be half a game, whatever the server said about the length: a game
// without its result at the very end is one, unless most others have none either.
func (r *run) takeAll(reader *pgn.Reader, got *haul, cut bool, stop func() bool) (stopped bool) {
	var last *pgn.Game
	for game := range reader.All() {
		if last != nil {
			r.keep(last, got)
		}
		if last = game.Clone(); stop() {
			return true
		}
	}
	if last != nil {
		if got.half = last.Termination == "" && (cut || 2*got.unmarked <= got.games); !got.half {
			r.keep(last, got)
		}
	}
	return false
}

func (r *run) keep(game *pgn.Game, got *haul) {
	got.games++
	got.order.see(began(game.Header()))
	if game.Termination == "" {
		got.unmarked++
	}
	if white, black := r.player.Who.Match(game); white || black {
		got.theirs++
	}
	if key := maphash.Bytes(seenSeed, bytes.TrimSpace(game.Text)); r.seen != nil && !r.seen[key] {
		r.seen[key] = true
		got.novel++
	}
	if r.shelf.Add(game) {
		got.fresh++
		r.account.New++
	}
	r.account.Corrected = r.shelf.Corrected()
	got.note(game.Problems)
}

// seenSeed is one for all, since the sums are never kept.
var seenSeed = maphash.MakeSeed()

// mostProblems are told of one run; who has more looks at the file.
const mostProblems = 1000

func (h *haul) note(list []pgn.Problem) {
	h.problems = append(h.problems, list[:min(len(list), max(0, mostProblems-len(h.problems)))]...)
}

// count adds what an address brought to the account.
func (r *run) count(got *haul) {
	r.account.Games += got.games
	r.account.Theirs += got.theirs
	room := max(0, mostProblems-len(r.account.Problems))
	r.account.Problems = append(r.account.Problems, got.problems[:min(len(got.problems), room)]...)
}

// noGames fails unless the text is blank.
func noGames(in io.ReadSeeker) error {
	if _, err := in.Seek(0, io.SeekStart); err != nil {
		return err
	}
	head := make([]byte, 512)
	n, err := io.ReadFull(in, head)
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) && err != io.EOF {
		return err
	}
	if text := bytes.TrimSpace(bytes.TrimPrefix(head[:n], []byte("\xef\xbb\xbf"))); len(text) > 0 {
		return fmt.Errorf("%w: there is no game in it; it starts with %s", fetch.ErrNotPGN, fetch.FirstLine(text))
	}
	return nil
}

// sequence watches the order of games in time.
type sequence struct {
	n            int
	last, newest time.Time
	rises, falls bool // from one game to the next, at least once
}

// sureOrder is how many games in order make an order that what is still to come
// will keep.
const sureOrder = 10

func (s *sequence) newestFirst() bool { return s.falls && !s.rises }
func (s *sequence) oldestFirst() bool { return s.rises && !s.falls && s.n >= sureOrder }

func (s *sequence) see(t time.Time) {
	if t.IsZero() {
		return
	}
	if s.n > 0 {
		s.rises = s.rises || t.After(s.last)
		s.falls = s.falls || t.Before(s.last)
	}
	s.n++
	s.last = t
	if t.After(s.newest) {
		s.newest = t
	}
}

// began is when a game began, as far as its tags tell (PGN standard 9.5; from
// memory): by UTC, else by the day where it was played; zero if they don't.
func began(h *pgn.Header) time.Time {
	day := func(d pgn.Date) time.Time { return time.Date(d.Year, time.Month(d.Month), d.Day, 0, 0, 0, 0, time.UTC) }
	switch {
	case h.UTCDate.Full() && h.UTCTime > 0:
		return day(h.UTCDate).Add(time.Duration(h.UTCTime.Seconds()) * time.Second)
	case h.UTCDate.Full():
		return day(h.UTCDate)
	case h.Date.Full():
		return day(h.Date)
	}
	return time.Time{}
}
