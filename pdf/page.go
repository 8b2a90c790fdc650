// Package pdf presents a Report: as a printed page and as terminal text. In comes
// a compare/fact.Report; out goes a drawing list (Layout) with what of the Report
// stands on it (fact.Page), the PDF of it (Write) or plain text (Text). What it says
// package compare/words says; it computes no chess and no statistics; package
// sheet lays out.
//
// A page is a scoresheet with a margin: the lines to expect, one row a move of
// theirs with your answer in a box at one place; beside them what to do about it,
// tied to the rows by letters and numbers. What competes, in order: one page for a
// colour; nothing overlaps or leaves the margins; tonight, the likeliest lines,
// every move without an answer and the games between the two stand; what found no
// room is named; looks.
package pdf

import (
	"errors"
	"fmt"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// Options choose how the page is printed. The zero value is a whole A4 page for
// each colour.
type Options struct {
	Paper   string // 'a4' (default) or 'letter'
	Half    bool   // half of the paper, upright (A5): for double rounds, two to a sheet
	Large   bool   // type a fifth larger, so fewer lines
	OnePage bool   // both colours on one page, unless it is half or large
}

// ErrPaper is returned for a paper that is neither A4 nor Letter.
var ErrPaper = errors.New("unknown paper: use a4 or letter")

// paper returns width and height in points (ISO 216: A4, and A5 for the half of
// it; Letter is 8.5 by 11 in).
func (o Options) paper() (w, h float64, err error) {
	switch strings.ToLower(o.Paper) {
	case "", "a4":
		w, h = 595.28, 841.89
	case "letter":
		w, h = 612, 792
	default:
		return 0, 0, fmt.Errorf("%w, not %q", ErrPaper, o.Paper)
	}
	if o.Half {
		w, h = h/2, w
	}
	return w, h, nil
}

// enlarged is how much larger everything is with Options.Large.
const enlarged = 1.2

func (o Options) scale() float64 {
	if o.Large {
		return enlarged
	}
	return 1
}

// The margins of the paper, in points.
const (
	sideMargin = 12 * sheet.MM
	topMargin  = 10 * sheet.MM
	footMargin = 9 * sheet.MM
	halfMargin = 8 * sheet.MM // all around half a sheet
)

// blank is a page without anything on it yet.
func (o Options) blank(title string) (*sheet.Page, error) {
	w, h, err := o.paper()
	if err != nil {
		return nil, err
	}
	p := &sheet.Page{W: w, H: h, Title: title}
	p.Margin = sheet.Box{X: sideMargin, Y: topMargin, W: w - 2*sideMargin, H: h - topMargin - footMargin}
	if o.Half {
		p.Margin = sheet.Box{X: halfMargin, Y: halfMargin, W: w - 2*halfMargin, H: h - 2*halfMargin}
	}
	return p, nil
}

// Layout sets a Report: each colour on a page, or both on one where the options say
// so, and tells what of it stands there.
func Layout(rep *fact.Report, opt Options) ([]*sheet.Page, []fact.Page, error) {
	if len(rep.Sides) < 2 || opt.OnePage && !opt.Half && !opt.Large {
		p, d, err := onePage(rep, opt)
		return []*sheet.Page{p}, []fact.Page{d}, err
	}
	var pages []*sheet.Page
	var drawn []fact.Page
	for i := range rep.Sides {
		side := *rep
		side.Sides = rep.Sides[i : i+1]
		p, d, err := onePage(&side, opt)
		if err != nil {
			return nil, nil, err
		}
		pages, drawn = append(pages, p), append(drawn, d)
	}
	return pages, drawn, nil
}

// layout is what the sections share while a page is made.
type layout struct {
	f    *sheet.Faces
	rep  *fact.Report
	w, h float64 // between the margins
	form form
}

// onePage sets a Report on one page. Larger type is a smaller page enlarged.
func onePage(rep *fact.Report, opt Options) (*sheet.Page, fact.Page, error) {
	p, err := opt.blank(words.SheetTitle(sheet.Plain(rep.Opponent.Name)))
	if err != nil {
		return nil, fact.Page{}, err
	}
	f, err := sheet.LoadFaces()
	if err != nil {
		return nil, fact.Page{}, err
	}
	by := opt.scale()
	l := &layout{f: f, rep: rep, w: p.Margin.W / by, h: p.Margin.H / by}
	l.form = formOf(rep, opt, l.w)
	all, foot, drawn := l.fill()
	for _, it := range all.Items {
		p.Items = append(p.Items, it.Scaled(by).Moved(p.Margin.X, p.Margin.Y))
	}
	p.Foot = p.Margin.Y + foot*by
	drawn.Blank = sheet.Blank(p)
	return p, drawn.Page, nil
}

// fill sets head, body and foot, and returns where the foot begins. The foot
// names what found no room, which is known only when the body is set: so it is
// set again when the foot grew.
func (l *layout) fill() (all sheet.Block, footAt float64, drawn drawn) {
	head := l.head()
	foot := l.foot("")
	var body sheet.Block
	for range 4 {
		body, drawn = l.body(l.h - head.H - foot.H - air)
		again := l.foot(l.named(body.Lost))
		if again.H <= foot.H+0.01 {
			again.H = foot.H
			foot = again
			break
		}
		foot = again
	}
	all.Put(head, 0, 0)
	all.Put(body, 0, head.H)
	all.Put(foot, 0, l.h-foot.H)
	drawn.leftOut(body.Lost)
	return all, l.h - foot.H, drawn
}

// named says what found no room, by colour where there are two.
func (l *layout) named(lost []sheet.Loss) string {
	var sides [3][]string
	for _, o := range together(lost) {
		sides[o.Half] = append(sides[o.Half], words.Lost(o.Title, o.Count, o.Weight, o.Clauses))
	}
	text := []string{strings.Join(sides[0], ", ")}
	for i := range l.rep.Sides {
		if list := sides[min(i+1, 2)]; i < 2 && len(list) > 0 {
			text = append(text, words.WithColourOf(l.rep.Sides[i].MyColor, strings.Join(list, ", ")))
		}
	}
	return joined(text)
}

// together adds up what was lost under one title; details of a part stand with the
// rows it lost.
func together(lost []sheet.Loss) []sheet.Loss {
	var out []sheet.Loss
	at := map[sheet.Loss]int{}
	for _, o := range lost {
		whole := o.Count == 0 && o.Clauses == 0
		k := sheet.Loss{Half: o.Half, Title: o.Title}
		i, ok := at[k]
		if !ok {
			at[k] = len(out)
			out = append(out, o)
			continue
		}
		switch sum := &out[i]; {
		case whole: // more than any row of it
			*sum = o
		case sum.Count > 0 || sum.Clauses > 0:
			sum.Count += o.Count
			sum.Weight += o.Weight
			sum.Clauses += o.Clauses
		}
	}
	return out
}

// joined is a list of texts that may be empty.
func joined(parts []string) string {
	var kept []string
	for _, p := range parts {
		if p != "" {
			kept = append(kept, p)
		}
	}
	return strings.Join(kept, "; ")
}
