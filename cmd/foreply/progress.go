package main

import (
	"fmt"
	"time"

	"foreply/compare/words"
	"foreply/fetch"
)

const (
	patience = time.Second            // what takes no longer shows no progress
	redrawn  = 100 * time.Millisecond // at most so often
)

// reading returns a function that shows how far a reading has come: bytes, games
// and the time it will still take; theirs says that the games kept are those of
// a player.
func (s *speaker) reading(what string, theirs bool) func(fetch.Progress) {
	begun := s.now()
	shown := begun
	return func(p fetch.Progress) {
		now := s.now()
		if now.Sub(begun) < patience || now.Sub(shown) < redrawn {
			return
		}
		shown = now
		s.progressLine(what + ": " + progressText(p, theirs, now.Sub(begun)))
	}
}

// engine returns a function that shows how many positions an engine has looked
// at.
func (s *speaker) engine(now func() time.Time) func(done, of int) {
	begun := now()
	return func(done, of int) {
		if now().Sub(begun) >= patience {
			s.progressLine(fmt.Sprintf("the engine has looked at %d of up to %d positions; what it finds is kept", done, of))
		}
	}
}

func progressText(p fetch.Progress, theirs bool, spent time.Duration) string {
	const mega = 1e6
	text := fmt.Sprintf("%.0f", float64(p.Bytes)/mega)
	if p.Total > p.Bytes {
		text += fmt.Sprintf(" of %.0f", float64(p.Total)/mega)
	}
	text += " MB, " + counted(p.Games, "game")
	if theirs {
		text += fmt.Sprintf(", %s of them theirs", words.Thousands(p.Kept))
	}
	if p.Total > p.Bytes && p.Bytes > 0 {
		text += ", " + timeLeft(time.Duration(float64(spent)*float64(p.Total-p.Bytes)/float64(p.Bytes))) + " left"
	}
	return text
}

func timeLeft(d time.Duration) string {
	if d < 2*time.Minute {
		return fmt.Sprintf("%.0f s", max(1, d.Seconds()))
	}
	return fmt.Sprintf("%.0f min", d.Minutes())
}

// counting returns a function that shows which part of a work is done.
func (s *speaker) counting(what string) func(done, of int64) {
	var begun, shown time.Time
	return func(done, of int64) {
		now := s.now()
		if begun.IsZero() { // the clock runs from the first call on
			begun = now
		}
		if done == 0 || now.Sub(shown) < redrawn {
			return
		}
		shown = now
		text := fmt.Sprintf("%s: %d %%", what, 100*done/of)
		if spent := now.Sub(begun); spent > patience {
			text += ", " + timeLeft(time.Duration(float64(spent)*float64(of-done)/float64(done))) + " left"
		}
		s.progressLine(text)
	}
}
