package profile

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"foreply/profile/board"
)

// firstMoves makes a profile of games a day apart with these first moves.
func firstMoves(moves []string) *Profile {
	day := on("2020.01.01").First
	rows := make([]string, len(moves))
	for i, m := range moves {
		date := (day + Day(i)).Date().Format("2006.01.02")
		rows[i] = fmt.Sprintf("%s 1-0 -: %s d6", date, m)
	}
	return builtFrom(rows...)
}

func repeated(move string, n int) []string {
	out := make([]string, n)
	for i := range out {
		out[i] = move
	}
	return out
}

// The example of the notes: 1.e4 in 40 of 44, then 1.d4 eight times.
func TestSwitchIsTold(t *testing.T) {
	moves := repeated("e4", 44)
	for _, i := range []int{3, 11, 20, 35} {
		moves[i] = "d4"
	}
	p := firstMoves(append(moves, repeated("d4", 8)...))
	found := NewForecast(p, board.White, ForecastOptions{}).Switches(on("2021.01.01"))
	if len(found) != 1 {
		t.Fatalf("%d switches", len(found))
	}
	want := "may have switched: 1.d4 in the last 8, before that 1.e4 in 40 of 44"
	if got := found[0].String(); got != want || found[0].Since.Date != "2020.02.14" {
		t.Errorf("%s (since %s), want %s", got, found[0].Since.Date, want)
	}
}

// The same moves in random order are no switch: of 300 shuffles none may fire
// more often than the posterior promises.
func TestShufflesDoNotFire(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	fired := 0
	for range 300 {
		moves := append(append(repeated("e4", 40), repeated("d4", 12)...), repeated("c4", 3)...)
		r.Shuffle(len(moves), func(i, j int) { moves[i], moves[j] = moves[j], moves[i] })
		fired += len(NewForecast(firstMoves(moves), board.White, ForecastOptions{Untuned: true}).Switches(on("2021.01.01")))
	}
	if fired > 1 {
		t.Errorf("%d of 300 shuffles look like a switch", fired)
	}
}

// Blitz with another first move is a habit of its own.
func TestSwitchOfClassIsNone(t *testing.T) {
	var rows []string
	for i := range 40 {
		class, move := "5400", "e4"
		if i >= 30 {
			class, move = "300", "d4"
		}
		rows = append(rows, fmt.Sprintf("2020.%02d.%02d 1-0 %s: %s d6", 1+i/20, 1+i%20, class, move))
	}
	if found := NewForecast(builtFrom(rows...), board.White, ForecastOptions{Class: Classical}).Switches(on("2021.01.01")); len(found) > 0 {
		t.Errorf("%v", found[0].String())
	}
}
