// Command pages tells what stands on sheets: for each of some careers and repertoires how
// much of the lines to expect is shown whole, how many rows, how much of the paper is blank
// and what was left out.
//
//	go run ./cmd/measure/pages [-paper letter] [-large] [-half] [-white FILES]... [-black FILES]... FILE=NAME[|NAME...]...
//
// -white and -black name a repertoire each; several files of one are joined by commas. A
// page is made for the day after the last game. The last lines sum up: the middle value of
// what is shown, what the tenth with the least shows, the least, and how many pages on
// which something is left out are blank by more than a tenth.
package main

import (
	"cmp"
	"flag"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"foreply/cmd/measure/career"
	"foreply/compare"
	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/pdf"
	"foreply/profile"
)

// mostBlank is how much of a page may be blank where something is left out.
const mostBlank = 0.10

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
}

func run(args []string, out io.Writer) error {
	var opt pdf.Options
	fs := flag.NewFlagSet("pages", flag.ContinueOnError)
	fs.StringVar(&opt.Paper, "paper", "a4", "`PAPER`: a4 or letter")
	fs.BoolVar(&opt.Large, "large", false, "type a fifth larger")
	fs.BoolVar(&opt.Half, "half", false, "half of the paper")
	books := career.BookFlags(fs)
	if err := fs.Parse(args); err != nil {
		return err
	}
	var all []fact.Page
	for _, arg := range fs.Args() {
		file, names, _ := strings.Cut(arg, "=")
		p, err := career.Read(file, strings.Split(names, "|"))
		if err != nil {
			return err
		}
		for i, b := range *books {
			page, err := pageOf(p, b, strings.Split(names, "|")[0], opt)
			if err != nil {
				return err
			}
			fmt.Fprintf(out, "%-12s %d %-6s %s\n", career.Name(file), i+1, b.Mine, row(page))
			all = append(all, page)
		}
	}
	fmt.Fprint(out, summary(all))
	return nil
}

// pageOf is what stands on the page of a career and a repertoire.
func pageOf(p *profile.Profile, b *book.Book, name string, opt pdf.Options) (fact.Page, error) {
	rep := compare.Make(compare.Input{Profile: p, Books: []*book.Book{b}, Opponent: fact.Opponent{Name: name}},
		compare.Options{When: p.NextDay()})
	pages, err := pdf.Write(io.Discard, rep, opt)
	if err != nil {
		return fact.Page{}, err
	}
	return pages[0], nil
}

// row says what stands on a page.
func row(p fact.Page) string {
	var left []string
	for _, o := range p.LeftOut {
		what := "all"
		switch {
		case o.Count > 0:
			what = fmt.Sprint(o.Count)
		case o.Details > 0:
			what = fmt.Sprintf("%d details", o.Details)
		}
		left = append(left, o.Section+" "+what)
	}
	return strings.TrimSpace(fmt.Sprintf("shown %.2f  rows %2d  blank %.3f  %s", p.Shown, p.Rows, p.Blank, strings.Join(left, "; ")))
}

// summary sums pages up.
func summary(pages []fact.Page) string {
	if len(pages) == 0 {
		return ""
	}
	list := slices.Clone(pages)
	slices.SortFunc(list, func(a, b fact.Page) int { return cmp.Compare(a.Shown, b.Shown) })
	full, blank := 0, 0
	for _, p := range list {
		if len(p.LeftOut) == 0 {
			continue
		}
		if full++; p.Blank > mostBlank {
			blank++
		}
	}
	return fmt.Sprintf("%d pages: shown %.2f in the middle, %.2f with a tenth below, %.2f at least\nof %d on which something is left out %d are blank by more than %.2f\n",
		len(list), list[len(list)/2].Shown, list[len(list)/10].Shown, list[0].Shown, full, blank, mostBlank)
}
