package main

import (
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
)

// outcome is one thing said and what came of it.
type outcome struct {
	said, silent float64
	games        int     // that judged it
	came         float64 // the sum over them
}

// table gathers outcomes by what they are.
type table struct{ rows map[string][]outcome }

func newTable() *table { return &table{rows: map[string][]outcome{}} }

func (t *table) add(row string, o outcome) { t.rows[row] = append(t.rows[row], o) }

const ninetyFive = 1.96 // deviations of the normal distribution that hold 95 %

// row is a line of the table: means over games. Said and came are how far what was said,
// and what came, lie from what one would go by without it, in the direction said.
type row struct {
	told, judged, games int
	said, came          float64
	off                 float64 // half of the 95 % interval of came, taken over things said, since games of one are alike
	nearer              int     // what came lay nearer to what was said than to what one would go by without it
}

func sumUp(list []outcome) row {
	r := row{told: len(list)}
	var judged []outcome
	for _, o := range list {
		if o.games < least {
			continue
		}
		n := float64(o.games)
		o.came -= n * o.silent
		if o.said -= o.silent; o.said < 0 {
			o.said, o.came = -o.said, -o.came
		}
		judged = append(judged, o)
		r.judged, r.games = r.judged+1, r.games+o.games
		r.said, r.came = r.said+n*o.said, r.came+o.came
		if o.came/n > o.said/2 {
			r.nearer++
		}
	}
	if r.games == 0 {
		return r
	}
	n := float64(r.games)
	r.said, r.came = r.said/n, r.came/n
	squares := 0.0
	for _, o := range judged {
		d := o.came - float64(o.games)*r.came
		squares += d * d
	}
	r.off = ninetyFive * math.Sqrt(squares) / n
	return r
}

// print writes the table in Markdown, in hundredths.
func (t *table) print(out io.Writer) {
	fmt.Fprintln(out, "| what | told | judged | games | said | came | nearer |")
	fmt.Fprintln(out, "|---|---|---|---|---|---|---|")
	for _, name := range slices.Sorted(maps.Keys(t.rows)) {
		r := sumUp(t.rows[name])
		if r.judged == 0 {
			fmt.Fprintf(out, "| %s | %d | 0 | | | | |\n", name, r.told)
			continue
		}
		fmt.Fprintf(out, "| %s | %d | %d | %d | %+.0f | %+.0f ± %.0f | %d of %d |\n",
			name, r.told, r.judged, r.games, 100*r.said, 100*r.came, 100*r.off, r.nearer, r.judged)
	}
}
