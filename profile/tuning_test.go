package profile

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// The tuning by hand, of two settings. 60 moves were judged by day, which of 300
// leaves the replays by rank 1 - 60/300 = 0.8: the first setting is ahead by 4 nats by
// day and 6 by rank, 0.2*4 + 0.8*6 = 5.6, at a heat of 0.4/sqrt(1 + 60/100) =
// 0.3162278: exp(1.7708756) = 5.875995 times the other's weight.
func TestTuningByHand(t *testing.T) {
	m := DefaultModel()
	m.Heat, m.HeatMoves, m.RankMoves = 0.4, 100, 300
	f := &Forecast{settings: make([]setting, 2), model: m}
	w := f.weights(&replayed{days: []float64{-3, -7}, ranks: []float64{-3, -9}, moves: 60})
	if math.Abs(w[0]/w[1]-5.875995) > 1e-5 || math.Abs(w[0]+w[1]-1) > 1e-12 {
		t.Errorf("weights %v, %v", w, w[0]/w[1])
	}
	f.model.HeatMoves = 0 // no cooling: exp(0.4*5.6)
	if w := f.weights(&replayed{days: []float64{-3, -7}, ranks: []float64{-3, -9}, moves: 60}); math.Abs(w[0]/w[1]-math.Exp(0.4*5.6)) > 1e-9 {
		t.Errorf("without cooling: %v", w)
	}
	if w := f.weights(&replayed{}); w[0] != w[1] {
		t.Errorf("before the first game: %v", w)
	}
}

// Games count once they are certainly earlier, in order of their latest day.
func TestReplaysInOrderOfTheirLastDay(t *testing.T) {
	f := NewForecast(builtFrom("2026.05.01 1-0 -: e4 e5 Nf3 Nc6"), board.White, ForecastOptions{})
	r := tuner{f: f, pending: []tuned{{last: 3, moves: 1}, {last: 7, moves: 10}, {last: 7, moves: 100}, {last: 20, moves: 1000}}}
	for day, want := range map[pgn.Day]int{3: 0, 4: 1, 7: 1, 8: 111, 20: 111, 21: 1111} {
		again := r
		again.until(day)
		if again.sum.moves != want || again.at(pgn.OneDay(day)).moves != want {
			t.Errorf("day %d: %d and %d, want %d", day, again.sum.moves, again.at(pgn.OneDay(day)).moves, want)
		}
	}
}

// What was played on some day of a month counts when the month is over, later days before it
// when they are.
func TestReplaysOfAMonth(t *testing.T) {
	f := NewForecast(builtFrom("2026.05.?? 1-0 -: e4 e5 Nf3 Nc6", "2026.05.20 1-0 -: e4 e5 Nf3 Nc6", "2026.05.10 1-0 -: e4 e5 Nf3 Nc6", "2026.06.01 1-0 -: e4 e5", "????.??.?? 1-0 -: e4 e5"), board.White, ForecastOptions{})
	var got []string
	for _, day := range f.tuning.lasts {
		got = append(got, day.String())
	}
	if want := "2026-05-10 2026-05-20 2026-05-31 2026-06-01"; strings.Join(got, " ") != want {
		t.Errorf("%v, want %s", got, want)
	}
}

// A replay that judged nothing by day leaves what was judged before.
func TestReplaysAddUp(t *testing.T) {
	var r replayed
	for _, row := range []tuned{{ranks: []float64{-9, -8}}, {days: []float64{-1, -2}, ranks: []float64{-3, -5}, moves: 4}, {}, {days: []float64{-1, -1}, moves: 2}} {
		r = r.and(&row)
	}
	if fmt.Sprint(r.days, r.ranks, r.moves) != "[-2 -3] [-12 -13] 6" {
		t.Errorf("%v %v of %d", r.days, r.ranks, r.moves)
	}
}

// Games of one day know those before them by rank, and only there: four games of
// a day, of which the replays by day know none and those by rank two and three.
func TestDayKnowsItselfByRank(t *testing.T) {
	day := []string{"2026.05.01 1-0 -: e4 e5 Nf3 Nc6", "2026.05.01 1-0 -: e4 c5 Nf3 d6", "2026.05.01 1-0 -: e4 e6 d4 d5", "2026.05.01 1-0 -: e4 e5 Nf3 Nc6"}
	sum := NewForecast(builtFrom(day...), board.White, ForecastOptions{}).tuning.at(on("2026.05.02"))
	if sum.moves != 0 || sum.days != nil || sum.ranks == nil || sum.own.mean == (Terms{}) {
		t.Errorf("%+v", sum)
	}
	for n, judged := range map[int]bool{2: false, 3: true} { // two that are known are enough
		if sum := NewForecast(builtFrom(day[:n]...), board.White, ForecastOptions{}).tuning.at(on("2026.05.02")); (sum.ranks != nil) != judged {
			t.Errorf("%d games of a day: %+v", n, sum)
		}
	}
	month := []string{"2026.05.?? 1-0 -: e4 e5 Nf3 Nc6", "2026.05.?? 1-0 -: e4 c5 Nf3 d6", "2026.05.?? 1-0 -: e4 e6 d4 d5"}
	if sum := NewForecast(builtFrom(month...), board.White, ForecastOptions{}).tuning.at(on("2026.06.02")); sum.ranks != nil {
		t.Errorf("games of a month know each other: %+v", sum)
	}
}

// Before any replay peers are of use or not with even chances; a replay that was foretold
// better without them by ln 9 makes that 9 to 1, whatever the heat between settings.
func TestPeersLeanInAsFarAsReplaysBearOut(t *testing.T) {
	m := DefaultModel()
	f := &Forecast{model: m, settings: m.settings(true), peers: &Peers{}}
	without := func(r *replayed) float64 {
		sum := 0.0
		for i, w := range f.weights(r) {
			if !f.settings[i].peers {
				sum += w
			}
		}
		return sum
	}
	if got := without(&replayed{}); math.Abs(got-0.5) > 1e-12 {
		t.Errorf("before any replay %v", got)
	}
	logs := make([]float64, len(f.settings))
	for i := range logs {
		if logs[i] = -5; f.settings[i].peers {
			logs[i] -= math.Log(9)
		}
	}
	if got := without(&replayed{ranks: logs}); math.Abs(got-0.9) > 1e-12 {
		t.Errorf("after it %v", got)
	}
	f.peers = nil // rivals alone are trusted as ever
	if got := without(&replayed{}); math.Abs(got-0.25) > 1e-12 {
		t.Errorf("rivals alone: %v", got)
	}
}
