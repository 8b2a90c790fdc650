package main

import (
	_ "embed"
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"time"

	"github.com/notnil/chess"
)

//go:embed habits.txt
var habitText string

// weighted is a move somebody likes to play, and how much.
type weighted struct {
	san    string
	weight int
	done   int // how often it was chosen
}

// section is a part of the habit table with the games it applies to.
type section struct {
	them  bool      // the opponent's habits, not the field's
	since time.Time // zero: always
	speed string    // fast, slow or empty for both
	at    map[string][]*weighted
}

// habits are the sections in the order of the file.
type habits []*section

// readHabits parses the table and refuses illegal moves, repeated lines and
// lines outside a section.
func readHabits(text string) (habits, error) {
	var all habits
	for i, l := range strings.Split(text, "\n") {
		l = strings.TrimSpace(l)
		var err error
		switch {
		case l == "" || l[0] == '#':
			continue
		case strings.HasPrefix(l, "=="):
			var s *section
			s, err = readHead(strings.Fields(l)[1:])
			all = append(all, s)
		case len(all) == 0:
			err = fmt.Errorf("a line before the first section")
		default:
			err = all[len(all)-1].add(l)
		}
		if err != nil {
			return nil, fmt.Errorf("reading habits.txt:%d: %w", i+1, err)
		}
	}
	return all, nil
}

func readHead(words []string) (*section, error) {
	s := &section{at: map[string][]*weighted{}}
	for i := 0; i < len(words); i++ {
		switch w := words[i]; {
		case w == "them":
			s.them = true
		case w == "field" && i == 0:
		case w == "fast" || w == "slow":
			s.speed = w
		case w == "since" && i+1 < len(words):
			i++
			var err error
			if s.since, err = time.Parse("2006-01", words[i]); err != nil {
				return nil, err
			}
		default:
			return nil, fmt.Errorf("unknown word %q in a section's head", w)
		}
	}
	return s, nil
}

func (s *section) add(l string) error {
	path, what, ok := strings.Cut(l, "|")
	if !ok {
		return fmt.Errorf("no | in %q", l)
	}
	pos, err := follow(strings.Fields(path))
	if err != nil {
		return err
	}
	words := strings.Fields(what)
	if len(words) == 0 || len(words)%2 != 0 {
		return fmt.Errorf("want moves with weights, got %q", what)
	}
	key := keyOf(pos)
	if s.at[key] != nil {
		return fmt.Errorf("the position after %q stands twice in its section", path)
	}
	for i := 0; i < len(words); i += 2 {
		n, err := strconv.Atoi(words[i+1])
		if err != nil {
			return err
		}
		if _, err := moveOf(pos, words[i]); err != nil {
			return err
		}
		s.at[key] = append(s.at[key], &weighted{san: words[i], weight: n})
	}
	return nil
}

// choose draws a move from the table, or none where it says nothing. The last
// section that applies and knows the position counts.
func (h habits) choose(r *rand.Rand, pos *chess.Position, them bool, day time.Time, fast bool) (string, bool) {
	key := keyOf(pos)
	for i := len(h) - 1; i >= 0; i-- {
		s := h[i]
		list := s.at[key]
		if list == nil || s.them != them || day.Before(s.since) || s.speed == "fast" && !fast || s.speed == "slow" && fast {
			continue
		}
		w := due(r, list)
		w.done++
		return w.san, true
	}
	return "", false
}

// due draws the move that lags most behind its share, blurred by chance: so the
// shares of the table show even in the few games of a deep position.
func due(r *rand.Rand, list []*weighted) *weighted {
	total, done := 0, 1
	for _, w := range list {
		total += w.weight
		done += w.done
	}
	best, most := list[0], math.Inf(-1)
	for _, w := range list {
		lag := float64(w.weight*done)/float64(total) - float64(w.done) + 0.9*r.Float64()
		if lag > most {
			best, most = w, lag
		}
	}
	return best
}
