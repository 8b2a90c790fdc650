package fetch

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"foreply/fetch/pgn"
)

// What a finder compares a game with, however the games are made: all with its moves,
// all that begin with them, and all that they begin with.
func TestBeginningsAreFound(t *testing.T) {
	f := newFinder()
	add := func(moves string) *gameCopy {
		e := newCopy(&pgn.Game{}, true)
		e.moves = moves
		f.add(e)
		return e
	}
	text := func(plies int, end string) string {
		return strings.Repeat("e4 ", plies) + end
	}
	for i := range 40 { // they stand between in the order of the moves
		add(text(i, "a3 a4 "))
		add(text(i, "h8 "))
	}
	want := map[*gameCopy]bool{}
	for _, moves := range []string{text(12, ""), text(15, ""), text(15, ""), text(29, ""), text(30, ""), text(30, "c4 "), text(31, "d4 ")} {
		want[add(moves)] = true
	}
	for i := range 40 {
		if i >= 30 {
			for _, e := range f.copies[2*i : 2*i+2] {
				want[e] = true
			}
		}
	}
	add(text(11, "")) // too short
	e := newCopy(&pgn.Game{}, true)
	e.moves = text(30, "")
	got := map[*gameCopy]bool{}
	f.candidates(e, func(old *gameCopy) { got[old] = true })
	for i, old := range f.copies {
		if got[old] != want[old] {
			t.Errorf("%d, %s: %v", i, old.moves, got[old])
		}
	}
}

// How the time of finding copies grows: `x-linear` is the time of ten times as many
// games over ten times that of a tenth; a square would make it 10.
func BenchmarkFinderGrowth(b *testing.B) {
	long := strings.Repeat("Alder", 15)
	for name, one := range map[string]func(int) string{
		"equal": func(int) string { return game("Alder, Mina", "Brook, T", line(6, "a"), "1-0") },
		"distinct": func(i int) string {
			return game("Alder, Mina", "Brook, T", fmt.Sprintf("%s %s", line(6, fmt.Sprint(i)), "Ra1"), "1-0")
		},
		"one-day": func(i int) string {
			return game("Alder, Mina", fmt.Sprintf("%s%d, T", long, i), line(8, "a"), "1/2-1/2", "Date", "2019.03.01")
		},
		"beginnings": func(i int) string { return game("Alder, Mina", fmt.Sprint(long, i), line(12+i%2000, "a"), "1-0") },
	} {
		b.Run(name, func(b *testing.B) {
			var few, many time.Duration
			for b.Loop() {
				few += findAll(500, one)
				many += findAll(5000, one)
			}
			b.ReportMetric(float64(many)/float64(few)/10, "x-linear")
		})
	}
}

func findAll(n int, one func(int) string) time.Duration {
	var copies []*gameCopy
	for i := range n {
		for g := range read(one(i)) {
			copies = append(copies, newCopy(g.Clone(), true))
		}
	}
	begun := time.Now()
	f := newFinder()
	for _, e := range copies {
		if found, _ := f.find(e); found == nil {
			f.add(e)
		}
	}
	return time.Since(begun)
}

// The short way to tell near names is as good as the long one.
func TestWithin(t *testing.T) {
	texts := []string{"", "a", "ab", "ba", "abc", "acb", "bca", "alder", "adler", "aldre", "lader", "alders", "balder", "xalderx", "aldr", "ladre", "brook"}
	for _, a := range texts {
		for _, b := range texts {
			for most := range 4 {
				if got, d := within(a, b, most), Distance(a, b); got != (d <= most) {
					t.Errorf("%s and %s, %d apart: within %d is %v", a, b, d, most, got)
				}
			}
		}
	}
}
