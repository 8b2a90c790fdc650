// Command said holds what sheets say against the games that came after them: it cuts
// careers at days of the past, makes the Report of each day from the games known then,
// and judges each answer of others, trap, change, order and fact about the opponent by the
// following games at its place.
//
//	go run ./cmd/measure/said [-per DATES] [-each] [-usual] [-fails] [-white FILES]... [-black FILES]... FILE=NAME[|NAME...]...
//
// -white and -black name a repertoire each; several files of one are joined by commas. With
// -usual a book of what the opponent's other players usually answered, as far as it was known
// on the day, is one more for either colour. -fails judges what no sheet says: where they
// scored badly (fails.go).
// The table's figures are hundredths: shares of a hundred games, or points of the
// user's side in a hundred games beyond what ratings, else the record, let expect.
// What it gave stands in cmd/measure/forecast/FIT.md.
package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"strings"

	"foreply/cmd/measure/career"
	"foreply/profile/board"
)

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
}

func run(args []string, out io.Writer) error {
	fs := flag.NewFlagSet("said", flag.ContinueOnError)
	per := fs.Int("per", 20, "at so many `DATES` of a colour a career is cut")
	each := fs.Bool("each", false, "print a row for each thing said, too")
	books := career.BookFlags(fs)
	usual := fs.Bool("usual", false, "a book of the usual answers of others, too")
	fails := fs.Bool("fails", false, "judge where they scored badly, which no sheet says, instead")
	if err := fs.Parse(args); err != nil {
		return err
	}
	all, places := newTable(), []place(nil)
	for _, arg := range fs.Args() {
		file, names, _ := strings.Cut(arg, "=")
		p, err := career.Read(file, strings.Split(names, "|"))
		if err != nil {
			return err
		}
		t := test{career: career.Name(file), profile: judgeable(p), books: *books, usual: *usual, per: *per, table: all}
		if *each {
			t.out = out
		}
		for _, theirs := range [...]board.Color{board.White, board.Black} {
			if *fails {
				places = append(places, t.places(theirs)...)
				continue
			}
			t.run(theirs)
		}
	}
	if *fails {
		printFails(out, places)
		return nil
	}
	all.print(out)
	return nil
}
