package main

import (
	"fmt"
	"os"
	"strconv"
	"strings"
)

// chapter is one game of a PGN file with its variations.
type chapter struct {
	tags map[string]string
	line []*step
	end  string // the result that closes the movetext
}

// step is one move with what hangs on it.
type step struct {
	san     string
	nags    []int
	notes   []string
	instead [][]*step // variations: alternatives to this move
	row     int       // line of the file, from 1
}

// readChapters reads a PGN file of ours. It is no general reader: it knows the
// subset that the demo is written in and refuses everything else, which is what
// a checker should do.
func readChapters(path string) ([]*chapter, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	r := &reader{text: string(text), row: 1}
	var all []*chapter
	for {
		r.space()
		if r.at >= len(r.text) {
			return all, nil
		}
		c, err := r.chapter()
		if err != nil {
			return nil, fmt.Errorf("reading %s:%d: %w", path, r.row, err)
		}
		all = append(all, c)
	}
}

type reader struct {
	text string
	at   int
	row  int
}

func (r *reader) space() {
	for r.at < len(r.text) && strings.IndexByte(" \t\r\n", r.text[r.at]) >= 0 {
		if r.text[r.at] == '\n' {
			r.row++
		}
		r.at++
	}
}

// until returns the text up to the stop character and moves behind it.
func (r *reader) until(stop string) (string, error) {
	n := strings.Index(r.text[r.at:], stop)
	if n < 0 {
		return "", fmt.Errorf("no closing %q", stop)
	}
	s := r.text[r.at : r.at+n]
	r.at += n + len(stop)
	r.row += strings.Count(s, "\n")
	return s, nil
}

// word returns the characters up to the next space or bracket.
func (r *reader) word() string {
	n := strings.IndexAny(r.text[r.at:], " \t\r\n(){}[]")
	if n < 0 {
		n = len(r.text) - r.at
	}
	s := r.text[r.at : r.at+n]
	r.at += n
	return s
}

func (r *reader) chapter() (*chapter, error) {
	c := &chapter{tags: map[string]string{}}
	for ; r.at < len(r.text) && r.text[r.at] == '['; r.space() {
		r.at++
		name, err := r.until(` "`)
		if err != nil {
			return nil, err
		}
		value, err := r.until(`"]`)
		if err != nil {
			return nil, err
		}
		if _, twice := c.tags[name]; twice {
			return nil, fmt.Errorf("tag %s stands twice", name)
		}
		c.tags[name] = value
	}
	if len(c.tags) == 0 {
		return nil, fmt.Errorf("a game without tags")
	}
	var err error
	c.line, c.end, err = r.moves(false)
	return c, err
}

// moves reads movetext up to the result, or up to the closing parenthesis when
// it stands inside one.
func (r *reader) moves(inside bool) (line []*step, end string, err error) {
	var early []string // comments that stand before the first move of the line
	for {
		r.space()
		if r.at >= len(r.text) {
			return nil, "", fmt.Errorf("the movetext has no end")
		}
		switch c := r.text[r.at]; {
		case c == '{':
			note, err := r.note()
			if err != nil {
				return nil, "", err
			}
			if len(line) == 0 {
				early = append(early, note)
			} else {
				last := line[len(line)-1]
				last.notes = append(last.notes, note)
			}
		case c == '(':
			if err := r.variation(line); err != nil {
				return nil, "", err
			}
		case c == ')':
			r.at++
			if !inside {
				return nil, "", fmt.Errorf("a closing parenthesis too many")
			}
			return withEarly(line, early), "", nil
		default:
			row, w := r.row, r.word()
			if w == "1-0" || w == "0-1" || w == "1/2-1/2" || w == "*" {
				return withEarly(line, early), w, nil
			}
			if line, err = addWord(line, w, row); err != nil {
				return nil, "", err
			}
		}
	}
}

// note reads a comment and joins its lines.
func (r *reader) note() (string, error) {
	r.at++
	note, err := r.until("}")
	return strings.Join(strings.Fields(note), " "), err
}

// variation reads an alternative to the last move of a line.
func (r *reader) variation(line []*step) error {
	r.at++
	if len(line) == 0 {
		return fmt.Errorf("a variation before any move")
	}
	sub, _, err := r.moves(true)
	last := line[len(line)-1]
	last.instead = append(last.instead, sub)
	return err
}

// withEarly keeps a line's opening comment with its first move.
func withEarly(line []*step, early []string) []*step {
	if len(line) > 0 {
		line[0].notes = append(early, line[0].notes...)
	}
	return line
}

// addWord takes a move number, a numeric glyph or a move.
func addWord(line []*step, w string, row int) ([]*step, error) {
	if w == "" {
		return nil, fmt.Errorf("an unexpected bracket")
	}
	if strings.Trim(w, "0123456789") == strings.Repeat(".", strings.Count(w, ".")) && strings.HasSuffix(w, ".") {
		return line, nil
	}
	if w[0] == '$' {
		n, err := strconv.Atoi(w[1:])
		if err != nil || len(line) == 0 {
			return nil, fmt.Errorf("misplaced glyph %q", w)
		}
		last := line[len(line)-1]
		last.nags = append(last.nags, n)
		return line, nil
	}
	s := &step{san: strings.TrimRight(w, "!?"), row: row}
	if suffix := w[len(s.san):]; suffix != "" {
		n := map[string]int{"!": 1, "?": 2, "!!": 3, "??": 4, "!?": 5, "?!": 6}[suffix]
		if n == 0 {
			return nil, fmt.Errorf("unknown suffix in %q", w)
		}
		s.nags = append(s.nags, n)
	}
	return append(line, s), nil
}
