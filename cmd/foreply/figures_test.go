package main

import (
	"bytes"
	"regexp"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf"
	"foreply/pdf/sheet"
)

// aFigure is a frequency as it is printed, with what it is of where it is no move's and no
// line's: the sum of others, what is usual.
var aFigure = regexp.MustCompile(`((?:others|together|usual:|players like them:) )?(?:\d+ in 10|(?:under )?1 in \d+)( such)?( games)?`)

// figuresOf are those of all lines and moves of a Report: shares and reaches.
func figuresOf(r *fact.Report) map[string]bool {
	of := map[string]bool{}
	for i := range r.Sides {
		s := &r.Sides[i]
		for _, list := range [][]fact.Parting{s.Partings, s.Further} {
			for _, f := range list {
				for _, b := range f.Branches {
					of[words.InN(b.Share.P)] = true
				}
			}
		}
		for _, x := range s.Exits {
			of[words.InGames(x.Reach)] = true
		}
		for _, u := range s.Unanswered {
			of[words.InGames(u.Reach)], of[words.InN(u.Share.P)] = true, true
		}
		for _, task := range s.Tonight {
			if task.Often != nil {
				of[words.InGames(task.Often.P)] = true
			}
		}
		for _, o := range s.Options {
			of[words.InN(o.Known.P)], of[words.InN(o.Covered)] = true, true
		}
		for _, o := range s.Orders {
			of[words.InN(o.Share.P)], of[words.InN(o.Back)] = true, true
		}
		for _, m := range s.Mistakes {
			of[words.InGames(m.Reach)] = true
		}
		for _, u := range s.Unpractised {
			of[words.InGames(u.Reach)] = true
		}
	}
	return of
}

// Each frequency that the page and the terminal print is the figure of a move or a line of
// the Report; nothing is rounded or worded another way.
func TestFiguresOfTheDemo(t *testing.T) {
	r := demoReport(t)
	pages, _, err := pdf.Layout(r, pdf.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var terminal bytes.Buffer
	if err := pdf.Text(&terminal, r, pdf.TextOptions{Columns: 4000}); err != nil {
		t.Fatal(err)
	}
	texts := map[string]string{"terminal": terminal.String()}
	for _, p := range pages {
		for _, it := range p.Items {
			if text, ok := it.(sheet.Run); ok {
				texts["page"] += text.S + " "
			}
		}
	}
	known := figuresOf(r)
	for where, text := range texts {
		text = strings.ReplaceAll(text, words.HowToRead, "")
		all := aFigure.FindAllStringSubmatch(text, -1)
		if len(all) < 20 {
			t.Errorf("%s: only %d figures", where, len(all))
		}
		for _, m := range all {
			// What stands under a board may break before 'games'.
			if m[1] == "" && m[2] == "" && !known[m[0]] && !known[m[0]+" games"] {
				at := strings.Index(text, m[0])
				t.Errorf("%s: %q is the figure of no move and no line: %q", where, m[0], text[max(0, at-40):min(len(text), at+40)])
			}
		}
	}
}
