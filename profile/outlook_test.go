package profile

import (
	"cmp"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/profile/board"
)

// Of half and half, held as two games, nothing is likelier than anything else; far from one
// half the interval still holds the mean.
func TestBetween(t *testing.T) {
	if r := Between(0.5, 2); math.Abs(r.Lo-0.1) > 1e-9 || math.Abs(r.Hi-0.9) > 1e-9 || r.P != 0.5 {
		t.Errorf("%+v", r)
	}
	if low, high := Between(0.01, 0.5), Between(0.99, 0.5); low.Hi != 0.01 || low.Lo >= 0.01 || high.Lo != 0.99 || high.Hi <= 0.99 {
		t.Errorf("%+v, %+v", low, high)
	}
}

// An Outlook keeps its working space from one position to the next, but nothing that it saw
// there: what it says is what a fresh one would.
func TestAnOutlookForgets(t *testing.T) {
	p := builtFrom("2026.05.01 1-0 -: e4 d5 exd5 Qxd5 Nc3 Qa5", "2026.05.02 1-0 -: e4 e5 Nf3 Nc6 Bb5 a6", "2026.05.03 1-0 -: e4 c5 Nf3 d6", "2026.05.04 1-0 -: d4 d5 c4 e6")
	peers := NewPeers(gamesOf("2020.01.01 1-0 -: e4 e5 Nf3 Nc6 Bc4 Bc5", "2020.01.02 1-0 -: e4 c5 Nf3 e6 d4 cxd4"), p, nil)
	f := NewForecast(p, board.White, ForecastOptions{Peers: peers})
	one := f.On(on("2026.06.01"))
	for _, line := range []string{"e4 d5", "e4 e5", "e4 c5", "d4 d5", "e4 e5 Nf3 Nc6", "a3 a6", "e4 d5 exd5 Qxd5", "d4 d5 c4 e6", "e4 e5"} {
		pos := after(t, line)
		if got, want := one.At(&pos), f.On(on("2026.06.01")).At(&pos); !reflect.DeepEqual(got, want) {
			t.Errorf("after %s: %+v, fresh: %+v", line, got.Moves[:2], want.Moves[:2])
		}
	}
	if _, ok := (&Expected{Moves: []Likely{{Move: 5, N: 2}}}).Of(6); ok {
		t.Error("a move that isn't legal is forecast")
	}
	none := NewPeers(gamesOf(), p, nil)
	if !f.Peered() || NewForecast(p, board.White, ForecastOptions{Peers: none}).Peered() || NewForecast(p, board.White, ForecastOptions{}).Peered() {
		t.Error("a forecast rests on peers if there are games of them")
	}
}

// The likeliest comes first; of as likely ones the one played more often, then the order of
// moves.
func TestExpectedInOrder(t *testing.T) {
	e := Expected{Moves: []Likely{{Move: 4, Range: Range{P: 0.2}}, {Move: 3, Range: Range{P: 0.2}}, {Move: 5, Range: Range{P: 0.2}, N: 2}, {Move: 6, Range: Range{P: 0.2}, N: 1}, {Move: 9, Range: Range{P: 0.3}}}}
	e.sort()
	var got []board.Move
	for _, l := range e.Moves {
		got = append(got, l.Move)
	}
	if fmt.Sprint(got) != fmt.Sprint([]board.Move{9, 5, 6, 3, 4}) {
		t.Errorf("%v", got)
	}
	// What is new may come to the front only where many games are asked for.
	p := builtFrom("2026.05.01 1-0 5400: d4 d5", "2026.05.11 0-1 5400: e4 e5", "2026.05.12 0-1 5400: e4 e5")
	m := handModel()
	m.Plain.AheadShift = 9
	start := board.Start()
	many := NewForecast(p, board.White, ForecastOptions{Model: m}).On(on("2026.05.21")).Shares(&start)
	if many.Moves[0].N != 0 || !slices.IsSortedFunc(many.Moves, func(a, b Likely) int { return cmp.Compare(b.P, a.P) }) {
		t.Errorf("%+v", many.Moves[:3])
	}
}

// Of many games to come more is new than of the next: the logit of the share, shifted and
// stretched; the moves that were played share the rest as before, and those that weren't.
func TestSharesByHand(t *testing.T) {
	p := builtFrom("2026.05.01 1-0 5400: d4 d5", "2026.05.11 0-1 5400: e4 e5", "2026.05.12 0-1 5400: e4 e5")
	m := handModel()
	m.Loose, m.Plain.Terms, m.Plain.AheadShift, m.Plain.AheadSlope = Terms{}, Terms{}, 0.5, 0.9
	start := board.Start()
	o := NewForecast(p, board.White, ForecastOptions{Model: m}).On(on("2026.05.21"))
	next, ahead := o.Chances(&start), o.Shares(&start)
	fresh := next.Unseen.P
	want := 1 / (1 + math.Exp(-0.5-0.9*math.Log(fresh/(1-fresh))))
	if math.Abs(ahead.Unseen.P-want) > 1e-12 || want < fresh+0.05 {
		t.Errorf("new %v of the next, %v of many, want %v", fresh, ahead.Unseen.P, want)
	}
	m.Plain.Terms[termNew] = 0.7 // the last step: so much readier for something new
	last := NewForecast(p, board.White, ForecastOptions{Model: m}).On(on("2026.05.21")).Chances(&start).Unseen.P
	if want := 1 / (1 + (1-fresh)/fresh*math.Exp(-0.7)); math.Abs(last-want) > 1e-12 {
		t.Errorf("new %v by the last step, want %v", last, want)
	}
	m.Plain.Terms = Terms{termPly: 0.7} // or by the ply, of which the first is nine before the middle
	last = NewForecast(p, board.White, ForecastOptions{Model: m}).On(on("2026.05.21")).Chances(&start).Unseen.P
	if want := 1 / (1 + (1-fresh)/fresh*math.Exp(0.7*9/5)); math.Abs(last-want) > 1e-12 {
		t.Errorf("new %v by the ply, want %v", last, want)
	}
	for san, by := range map[string]float64{"e4": (1 - want) / (1 - fresh), "d4": (1 - want) / (1 - fresh), "Nf3": want / fresh} {
		if a, b := probability(t, next, start, san), probability(t, ahead, start, san); math.Abs(b.P-a.P*by) > 1e-12 || b.N != a.N {
			t.Errorf("%s: %v of the next, %v of many, want %v times", san, a.P, b.P, by)
		}
	}
	var order []string
	for _, l := range ahead.Moves[:4] {
		order = append(order, start.SAN(l.Move))
	}
	if got := strings.Join(order, " "); got != "e4 d4 Na3 a3" || ahead.Moves[0].N != 2 || ahead.Moves[1].N != 1 || ahead.Visits != 3 || ahead.Moves[0].Last.Date.String() != "2026-05-12" { // as likely: in the order of moves
		t.Errorf("the likeliest: %s, %+v", got, ahead.Moves[:2])
	}
}
