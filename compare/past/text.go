package past

import (
	"fmt"
	"math"
	"strings"

	"foreply/compare/words"
	"foreply/profile/hindsight"
)

// Words are the figures as sentences that a player understands.
func (r *Result) Words() hindsight.Section {
	s := hindsight.Section{Name: "the sheet", Of: r.of()}
	if r.Games == 0 {
		return s
	}
	for _, part := range []struct {
		what string
		p    *Parting
	}{{"first choice", &r.First}, {"later ones", &r.Deeper}} {
		if part.p.N > 0 {
			s.Lines = append(s.Lines, part.p.words(part.what))
		}
	}
	if text := r.lineWords(); text != "" {
		s.Lines = append(s.Lines, text)
	}
	var last []string
	if e := r.Expect; e != nil {
		last = append(last, fmt.Sprintf("'expect': said %s in 10, came %s", tens(e.P), tens(e.Observed)))
	}
	if c := &r.Changes; c.Told > 0 {
		last = append(last, c.words())
	}
	if len(last) > 0 {
		s.Lines = append(s.Lines, strings.Join(last, "; "))
	}
	return s
}

// of says what was tested.
func (r *Result) of() string {
	book := "by their rivals' usual moves"
	if r.Given {
		book = "by your repertoire"
	}
	switch {
	case r.Sheets == 0:
		return "too few games to make one and see what came after it"
	case r.Games == 0:
		return fmt.Sprintf("%d %s; no later game came into it", r.Sheets, book)
	}
	return fmt.Sprintf("%d %s, %s, %d to a line's end", r.Sheets, book, words.Plural(r.Games, "game"), r.Decided)
}

// words tell of a parting how often its likeliest move was right, and of the shares told
// the one nearest to one half.
func (p *Parting) words(what string) string {
	text := fmt.Sprintf("%s: likeliest move right in %d of %d", what, p.Right, p.N)
	var best *hindsight.Bin
	for i := range p.Told {
		b := &p.Told[i]
		if b.N >= enough && (best == nil || math.Abs(b.P-0.5) < math.Abs(best.P-0.5)) {
			best = b
		}
	}
	if best == nil {
		return text
	}
	return text + fmt.Sprintf("; said %s in 10, came %s", tens(best.P), tens(best.Observed))
}

// enough are the cases from which said and came are held against each other.
const enough = 20

// lineWords tell of lines to expect what was said and what came.
func (r *Result) lineWords() string {
	var list []string
	for i := range r.Lines {
		if b := &r.Lines[i]; b.N >= enough && b.P >= lineEdges[0] {
			list = append(list, fmt.Sprintf("%s, %s", tens(b.P), tens(b.Observed)))
		}
	}
	if len(list) == 0 {
		return ""
	}
	return "lines, said and came in 10: " + strings.Join(list, "; ")
}

func (c *Changes) words() string {
	if c.Judged == 0 {
		return words.Plural(c.Told, "change") + " told, with too few games after"
	}
	return fmt.Sprintf("of %s told %d went on so", words.Plural(c.Judged, "change"), c.Held)
}

// tens prints a probability as 'in 10'.
func tens(p float64) string { return fmt.Sprintf("%.1f", 10*p) }
