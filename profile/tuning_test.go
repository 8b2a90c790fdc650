package profile

import (
	"fmt"
	"math"
	"slices"
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

// What replays know of a game's days: all that is certainly over before the first of them, of
// the colour alone; where no earlier day was known to tell, ranks say what days do.
func TestReplaysOfAColour(t *testing.T) {
	rows := []string{"2026.05.01 1-0 -: e4 e5 Nf3", "2026.05.02 1-0 -: e4 e5 Nf3", "2026.05.03 1-0 -: d4 d5 c4", "2026.05.04 1-0 -: e4 e5 Nf3", "2026.05.05 1-0 -: e4 c5 Nf3", "2026.05.06 1-0 -: e4 e5 Bc4"}
	n := 0
	p := Build(gamesOf(rows...), Options{Them: func(*pgn.Game) (board.Color, bool) {
		n++
		return map[bool]board.Color{true: board.Black}[n == 3], true
	}})
	f := NewForecast(p, board.White, ForecastOptions{})
	if got := f.tuning.at(on("2026.05.??")).moves; got != 0 || len(f.tuning.lasts) != 5 {
		t.Errorf("before a game of the month %d moves were judged; %d games", got, len(f.tuning.lasts))
	}
	// Judged by day is the last game alone, knowing four: its first two moves of theirs, the second of them new.
	sum := f.tuning.at(on("2026.06.01"))
	if sum.moves != 2 || f.tuning.at(on("2026.05.06")).moves != 0 {
		t.Errorf("%d moves", sum.moves)
	}
	if sum.days == nil || !slices.Equal(sum.ranks, sum.days) { // no two games of a day
		t.Errorf("by rank %v, by day %v", sum.ranks[:3], sum.days[:3])
	}
	m := DefaultModel()
	m.RankMoves = 0
	if sum := NewForecast(p, board.White, ForecastOptions{Model: &m}).tuning.at(on("2026.06.01")); sum.ranks != nil || sum.days == nil {
		t.Errorf("without ranks: %v, %v", sum.ranks, sum.days)
	}
}

// A replay judges their moves up to the first that was new, where known games had been, and in
// the first 24 plies.
func TestMovesOfAReplay(t *testing.T) {
	const long = "e4 e5 Nf3 Nc6 Bb5 a6 Ba4 Nf6 O-O Be7 Re1 b5 Bb3 d6 c3 O-O h3 Na5 Bc2 c5 d4 Qc7 Nbd2 cxd4 cxd4 Nc6 Nb3 a5"
	for _, c := range []struct {
		quirk, known, game string
		want               int
	}{
		{"as known", "e4 e5 Nf3 Nc6", "e4 e5 Nf3 Nf6", 2},
		{"a new move, and back to what is known", "Nf3 d5 d4 Nf6 c4", "d4 d5 Nf3 Nf6 c4", 1},
		{"a new move of the other side, and back", "d4 d5 c4 e6 Nc3 Nf6 Bg5", "d4 e6 c4 d5 Nc3 Nf6 Bg5", 3},
		{"24 plies", long, long, 12},
		{"nothing known", "d4 d5", "e4 e5 Nf3", 1},
	} {
		var rows []string
		for i := range 4 {
			rows = append(rows, fmt.Sprintf("2026.05.%02d 1-0 -: %s", i+1, c.known))
		}
		f := NewForecast(builtFrom(append(rows, "2026.05.09 1-0 -: "+c.game)...), board.White, ForecastOptions{})
		if got := f.tuning.at(on("2026.05.10")).moves; got != c.want {
			t.Errorf("%s: %d moves, want %d", c.quirk, got, c.want)
		}
	}
}

// A game is replayed as one of its own class, whichever class is asked for later.
func TestReplaysAreOfTheirClass(t *testing.T) {
	var rows []string
	for i := range 12 {
		rows = append(rows, fmt.Sprintf("2026.05.%02d 1-0 %s: %s", i+1, []string{"5400", "60", "300"}[i%3], []string{"e4 e5 Nf3", "d4 d5 c4", "e4 c5 Nf3", "e4 e5 Bc4"}[i%4]))
	}
	var days [2][]float64
	for i, class := range []Class{Classical, Bullet} {
		days[i] = NewForecast(builtFrom(rows...), board.White, ForecastOptions{Class: class}).tuning.at(on("2026.06.01")).days
	}
	if len(days[0]) == 0 || !slices.Equal(days[0], days[1]) {
		t.Errorf("for a slow game %v, for bullet %v", days[0], days[1])
	}
}

// Replays by rank count the less the more moves were replayed by day.
func TestByRank(t *testing.T) {
	for _, c := range []struct {
		rankMoves, moves int
		want             float64
	}{{300, 0, 1}, {300, 75, 0.75}, {300, 300, 0}, {300, 400, 0}, {0, 1, 0}} {
		if got := (&Model{RankMoves: c.rankMoves}).byRank(&replayed{moves: c.moves}); !near(got, c.want) {
			t.Errorf("%d of %d moves: %v, want %v", c.moves, c.rankMoves, got, c.want)
		}
	}
}
