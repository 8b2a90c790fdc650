package fetch

import (
	"strings"
	"testing"

	"foreply/fetch/pgn"
)

// benchmarkRun reads a text from memory with all that a run does.
func benchmarkRun(b *testing.B, text string, opt Options) {
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		opt.Stdin = strings.NewReader(text)
		g, err := Open(b.Context(), []Input{{Pattern: "-"}}, opt)
		if err != nil {
			b.Fatal(err)
		}
		for range g.All() {
		}
		if g.Err() != nil {
			b.Fatal(g.Err())
		}
	}
}

// Two collections of one career: every game is the player's.
func BenchmarkCareer(b *testing.B) {
	one, two := twoCollections(1)
	benchmarkRun(b, one+two, bothSpellings)
}

// An archive of others in which the player has no game.
func BenchmarkOthersSkipped(b *testing.B) {
	one, two := twoCollections(1)
	benchmarkRun(b, one+two, alder)
}

func BenchmarkAllGames(b *testing.B) {
	one, two := twoCollections(1)
	benchmarkRun(b, one+two, Options{})
}

// Blitz games by the thousand that all begin in one way.
func BenchmarkSameManyGames(b *testing.B) {
	var copies []*gameCopy
	one, _ := twoCollections(1)
	for g := range pgn.NewReader(strings.NewReader(strings.Repeat(one, 8)), pgn.Options{}).All() {
		e := newCopy(g.Clone(), true)
		e.moves = line(12, "a") + " " + e.moves
		copies = append(copies, e)
	}
	b.ReportAllocs()
	for b.Loop() {
		f := newFinder()
		for _, e := range copies {
			f.find(e)
			f.add(e)
		}
	}
	b.ReportMetric(float64(len(copies)), "games")
}

func BenchmarkFold(b *testing.B) {
	names := []string{"Alder, Mina", "WFM Älder, Mina (wh)", "tidewalker77", "de la Rue, Juan Pablo"}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		Fold(names[i%len(names)])
	}
}
