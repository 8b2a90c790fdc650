package words

import (
	"fmt"
	"math"
	"strings"

	"foreply/compare/past"
	"foreply/profile/hindsight"
)

// Past says how sheets of the past did, as sentences that a player understands.
func Past(r *past.Result) hindsight.Section {
	s := hindsight.Section{Name: "the sheet", Of: sheetsOf(r)}
	if r.Games == 0 {
		return s
	}
	for _, part := range []struct {
		what string
		p    *past.Parting
	}{{"first choice", &r.First}, {"later ones", &r.Deeper}} {
		if part.p.N > 0 {
			s.Lines = append(s.Lines, partingWords(part.p, part.what))
		}
	}
	if text := pastLines(r); text != "" {
		s.Lines = append(s.Lines, text)
	}
	var last []string
	if e := r.Expect; e != nil {
		last = append(last, fmt.Sprintf("'expect': said %s in 10, came %s", inTens(e.P), inTens(e.Observed)))
	}
	if c := &r.Changes; c.Told > 0 {
		last = append(last, heldWords(c))
	}
	if len(last) > 0 {
		s.Lines = append(s.Lines, strings.Join(last, "; "))
	}
	return s
}

// sheetsOf says what was tested.
func sheetsOf(r *past.Result) string {
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
	return fmt.Sprintf("%d %s, %s, %d to a line's end", r.Sheets, book, Plural(r.Games, "game"), r.Decided)
}

// partingWords tell of a parting how often its likeliest move was right, and of the shares told
// the one nearest to one half.
func partingWords(p *past.Parting, what string) string {
	text := fmt.Sprintf("%s: likeliest move right in %d of %d", what, p.Right, p.N)
	var best *hindsight.Bin
	for i := range p.Told {
		b := &p.Told[i]
		if b.N >= past.Enough && (best == nil || math.Abs(b.P-0.5) < math.Abs(best.P-0.5)) {
			best = b
		}
	}
	if best == nil {
		return text
	}
	return text + fmt.Sprintf("; said %s in 10, came %s", inTens(best.P), inTens(best.Observed))
}

// pastLines tell of lines to expect what was said and what came.
func pastLines(r *past.Result) string {
	var list []string
	for i := range r.Lines {
		if b := &r.Lines[i]; b.N >= past.Enough && b.P >= past.Seldom {
			list = append(list, fmt.Sprintf("%s, %s", inTens(b.P), inTens(b.Observed)))
		}
	}
	if len(list) == 0 {
		return ""
	}
	return "lines, said and came in 10: " + strings.Join(list, "; ")
}

func heldWords(c *past.Changes) string {
	if c.Judged == 0 {
		return Plural(c.Told, "change") + " told, with too few games after"
	}
	return fmt.Sprintf("of %s told %d went on so", Plural(c.Judged, "change"), c.Held)
}

// inTens prints a probability as 'in 10'.
func inTens(p float64) string { return fmt.Sprintf("%.1f", 10*p) }
