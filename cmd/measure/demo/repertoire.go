package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/notnil/chess"
)

// visit is a move of the repertoire in its place.
type visit struct {
	chapter *chapter
	before  *chess.Position
	after   *chess.Position
	step    *step
	path    []string // the moves from the start, this one included
	last    bool     // no move follows in its line
}

// walk goes through every move of a chapter, variations included.
func walk(c *chapter, see func(visit) error) error {
	return walkLine(c, c.line, startPosition(), nil, see)
}

func walkLine(c *chapter, line []*step, pos *chess.Position, path []string, see func(visit) error) error {
	for i, s := range line {
		m, err := moveOf(pos, s.san)
		if err != nil {
			return fmt.Errorf("line %d, after %s: %w", s.row, strings.Join(path, " "), err)
		}
		before := path
		path = append(slices.Clip(path), s.san)
		v := visit{chapter: c, before: pos, after: pos.Update(m), step: s, path: path, last: i == len(line)-1}
		if err := see(v); err != nil {
			return err
		}
		for _, other := range s.instead {
			if err := walkLine(c, other, pos, before, see); err != nil {
				return err
			}
		}
		pos = v.after
	}
	return nil
}

// tally counts what a repertoire contains.
type tally struct {
	positions, notes, moves, variations int
	roles                               map[string]int
	mistakes                            []string // user moves marked ? or ??
	options                             []string // positions with two unmarked user answers, as paths
	meetings                            []string // positions reached in two chapters by different moves
	open                                []string // lines that stop after the opponent's move
}

// take counts a repertoire for the side it is written for.
func take(chapters []*chapter, side chess.Color) (*tally, error) {
	t := &tally{roles: map[string]int{}}
	first := map[string]visit{}
	answers := map[string][]string{}
	ends := map[string][]string{}
	for _, c := range chapters {
		t.roles[c.tags["Role"]]++
		err := walk(c, func(v visit) error {
			t.moves++
			t.notes += len(v.step.notes)
			t.variations += len(v.step.instead)
			key := keyOf(v.after)
			old, known := first[key]
			if !known {
				first[key] = v
			} else if old.chapter != c && !slices.Equal(old.path, v.path) {
				t.meetings = append(t.meetings, strings.Join(v.path, " ")+" = "+strings.Join(old.path, " "))
			}
			if v.before.Turn() != side {
				if v.last {
					ends[key] = v.path
				}
				return nil
			}
			return t.answer(v, answers)
		})
		if err != nil {
			return nil, err
		}
	}
	t.positions = len(first)
	for key, path := range ends {
		if len(answers[key]) == 0 {
			t.open = append(t.open, strings.Join(path, " "))
		}
	}
	slices.Sort(t.open)
	return t, nil
}

func (t *tally) answer(v visit, answers map[string][]string) error {
	if bad(v.step) {
		t.mistakes = append(t.mistakes, strings.Join(v.path, " "))
		return nil
	}
	key := keyOf(v.before)
	if slices.Contains(answers[key], v.step.san) {
		return nil
	}
	answers[key] = append(answers[key], v.step.san)
	if len(answers[key]) == 2 {
		t.options = append(t.options, strings.Join(v.path, " ")+" beside "+answers[key][0])
	}
	return nil
}

// bad says whether a move carries the glyph ? or ??.
func bad(s *step) bool { return slices.Contains(s.nags, 2) || slices.Contains(s.nags, 4) }

// judge lets the engine look at a repertoire for the side it is written for.
type judge struct {
	engine *engine
	nodes  int
	side   chess.Color
	limit  int            // how bad a user's position may be, in centipawns, negative
	score  map[string]int // by position, from the user's side
}

// audit lists what the engine objects to: positions after a user's move that are
// worse than the limit or lost much by that move, mistakes of the other side that
// aren't marked, and marked mistakes that are none.
func (j *judge) audit(chapters []*chapter) ([]string, error) {
	var out []string
	for _, c := range chapters {
		err := walk(c, func(v visit) error {
			before, err := j.value(v.before)
			if err != nil {
				return err
			}
			after, err := j.value(v.after)
			if err != nil {
				return err
			}
			if remark := j.remark(v, before, after); remark != "" {
				out = append(out, fmt.Sprintf("line %d: %s %s", v.step.row, strings.Join(v.path, " "), remark))
			}
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

// value is the engine's verdict on a position, from the user's side.
func (j *judge) value(pos *chess.Position) (int, error) {
	key := keyOf(pos)
	if s, ok := j.score[key]; ok {
		return s, nil
	}
	if err := j.engine.newGame(1); err != nil {
		return 0, err
	}
	found, err := j.engine.search("fen "+pos.String(), j.nodes)
	if err != nil {
		return 0, err
	}
	s := -mateScore // no move: mated, as far as repertoires go
	if len(found) > 0 {
		s = found[0].score
	}
	if pos.Turn() != j.side {
		s = -s
	}
	j.score[key] = s
	return s, nil
}

func (j *judge) remark(v visit, before, after int) string {
	mine, lost := v.before.Turn() == j.side, before-after
	if !mine {
		lost = -lost
	}
	switch {
	case bad(v.step) && lost < 90:
		return fmt.Sprintf("is marked as a mistake and costs only %d", lost)
	case mine && !bad(v.step) && after < j.limit:
		return fmt.Sprintf("leaves %+d", after)
	case mine && !bad(v.step) && lost > 90:
		return fmt.Sprintf("costs %d, leaving %+d", lost, after)
	case !mine && !bad(v.step) && lost > 120 && !slices.Contains(v.step.nags, 6):
		return fmt.Sprintf("is their mistake, unmarked, of %d", lost)
	}
	return ""
}
