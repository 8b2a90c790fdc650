package profile

import (
	"fmt"
	"math"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// near reports whether numbers worked out by hand and by the program are one.
func near(got, want float64) bool { return math.Abs(got-want) < 1e-9 }

// What is expected before any visit, by hand, with numbers that differ by half-life. Two moves,
// natural chances of 0.75 and 0.25, 4 visits' worth of them beside the own set-up: with weights
// of 1 and 0 under the first half-life B1 = (1+3)/5, (0+1)/5; under the second with 4 and 2
// (4+3)/10, (2+1)/10; under the third, where the set-up says nothing, 3/4, 1/4. Peers played
// the first 0.5 times and the second 2 times: D = 0.2*0.5 and 0.2, so that
// B2 = (0.5 - 0.1 + (0.5 + 0.3)*B1)/3 and (2 - 0.2 + 0.8*B1)/3.
func TestBasesByHand(t *testing.T) {
	m := &Model{SetUpPrior: 4, PeerDiscount: 0.2, PeerPrior: 0.5}
	e := &evidence{
		natural: []float64{0.75, 0.25}, setUp: [halfLives]float64{1, 6, 0}, peers: 2.5,
		moves: []tally{{setUp: [halfLives]float64{1, 4, 0}, peers: 0.5}, {setUp: [halfLives]float64{0, 2, 0}, peers: 2}},
	}
	e.bases(m)
	own := [][]float64{{0.8, 0.7, 0.75}, {0.2, 0.3, 0.25}}
	for i := range e.moves {
		for h := range halfLives {
			with := ([]float64{0.4, 1.8}[i] + 0.8*own[i][h]) / 3
			if got := e.moves[i].base; !near(got[0][h], own[i][h]) || !near(got[1][h], with) {
				t.Errorf("move %d, half-life %d: %v and %v, want %v and %v", i, h, got[0][h], got[1][h], own[i][h], with)
			}
		}
	}
	e.peers = 0 // where peers are silent the own set-up says all
	if e.bases(m); e.moves[0].base[1] != e.moves[0].base[0] {
		t.Errorf("without peers: %v", e.moves[0].base)
	}
}

// handEvidence has numbers of its own for each half-life; of its moves the first was played
// once, the second twice.
func handEvidence() *evidence {
	return &evidence{
		short: 1.5, long: [halfLives]float64{1, 2, 3}, once: [halfLives]float64{1, 1.5, 1.8}, pull: 0.5,
		moves: []tally{
			{n: 1, short: 0.5, long: [halfLives]float64{0.4, 0.5, 1}, once: [halfLives]float64{0.4, 0.5, 0.8}, base: [2][halfLives]float64{{0.1, 0.2, 0.3}, {0.4, 0.5, 0.6}}},
			{n: 2, short: 1, long: [halfLives]float64{0.6, 1.5, 2}, once: [halfLives]float64{0.6, 1, 1}, base: [2][halfLives]float64{{0.3, 0.1, 0.2}, {0.1, 0.2, 0.1}}},
			{base: [2][halfLives]float64{{0.4, 0.3, 0.1}, {0.3, 0.1, 0.2}}}, {base: [2][halfLives]float64{{0.2, 0.4, 0.4}, {0.2, 0.2, 0.1}}},
		},
		passes: []pass{{game: 0, z: 1, short: 1}, {game: 1, z: 0.4, short: 0.5}},
	}
}

// One setting by hand: theta = 0.2 + 2*0.5 = 1.2, the third half-life, C = 3, so that
// P3 = (1 - 0.25*0.8 + (1.2 + 0.25*1.8)*B)/4.2, and P4 = (0.5 + 2.5*P3)/(1.5 + 2.5), B being
// 0.6 with peers and 0.3 without. The mixture is the weighted mean of the settings, for moves
// and for something new, which has the bases of the moves never played alone.
func TestPartsByHand(t *testing.T) {
	e := handEvidence()
	with := setting{halfLife: 2, peers: true, peerScale: 2, discount: 0.25, conc: 0.2, shortPrior: 2.5}
	without := with
	without.peers = false
	for base, s := range map[float64]setting{0.6: with, 0.3: without} {
		p3 := (1 - 0.25*0.8 + (1.2+0.25*1.8)*base) / 4.2
		part := e.part(&s)
		if got := part.of(&e.moves[0], &s); !near(got, (0.5+2.5*p3)/4) {
			t.Errorf("base %v: %v, want %v", base, got, (0.5+2.5*p3)/4)
		}
	}
	settings := []setting{
		with, without, {halfLife: 0, conc: 1, discount: 0.1, shortPrior: 1}, {halfLife: 1, peers: true, peerScale: 1, conc: 0.5, discount: 0.3, shortPrior: 5},
	}
	weights := []float64{0.1, 0.2, 0.3, 0.4}
	parts := e.partsOf(settings)
	b := blended(parts, settings, weights)
	fresh := e.unseen()
	if fresh.n != 0 || fmt.Sprintf("%.1f", fresh.base) != "[[0.6 0.7 0.5] [0.5 0.3 0.3]]" {
		t.Errorf("something new has %+v", fresh)
	}
	for i, of := range []*tally{&e.moves[0], &e.moves[1], &fresh} {
		want := 0.0
		for k := range settings {
			want += weights[k] * parts[k].of(of, &settings[k])
		}
		if got := b.of(of); !near(got, want) {
			t.Errorf("outcome %d: %v in the mixture, want %v", i, got, want)
		}
	}
	sum := 0.0
	for _, p := range b.mixed(e) {
		sum += p
	}
	if !near(sum, 1) {
		t.Errorf("the moves sum to %v", sum)
	}
}

// A visit counts for the intervals as it does in the mixture: of 0.5 by the short memory and
// 0.25, 0.125 and 0.5 by the long ones the first has 0.5*1 + 0.25*1 + 0.125*0.5 + 0.5*0.25 =
// 0.9375, the second, of another class, 0.5*0.5 + 0.4*0.75 = 0.55: (0.9375+0.55)^2 by the sum
// of the squares (Kish 1965).
func TestEffectiveVisitsByHand(t *testing.T) {
	o := &Outlook{weighing: weighing{weight: [][halfLives]float64{{1, 0.5, 0.25}, {1, 2, 0.5}}}}
	b := blend{short: 0.5, long: [halfLives]float64{0.25, 0.125, 0.5}}
	if got, want := o.effective(handEvidence(), &b), 1.4875*1.4875/(0.9375*0.9375+0.55*0.55); !near(got, want) {
		t.Errorf("%v visits, want %v", got, want)
	}
}

// Each number that is tried is tried with each other: 27 settings of each pull of the peers,
// none first; discount and concentration by one scale.
func TestSettings(t *testing.T) {
	m := DefaultModel()
	m.PeerScales, m.ShortPriors, m.Scales, m.Discount, m.Concentration = [3]float64{5, 6, 7}, [3]float64{10, 20, 30}, [3]float64{1, 2, 4}, 0.1, 0.01
	for peers, want := range map[bool]int{false: 27, true: 108} {
		seen := map[setting]bool{}
		for i, s := range m.settings(peers) {
			seen[s] = true
			pull := []float64{0, 5, 6, 7}[i/27]
			if s.peerScale != pull || s.peers != (i >= 27) || !near(s.discount, 10*s.conc) {
				t.Errorf("setting %d: %+v", i, s)
			}
		}
		if len(seen) != want {
			t.Errorf("peers %v: %d settings, want %d", peers, len(seen), want)
		}
	}
	for _, settings := range [][]setting{m.settings(false), m.settings(true)} {
		want := setting{halfLife: 1, discount: 0.2, conc: 0.02, shortPrior: 20}
		if len(settings) > 27 {
			want.peers, want.peerScale = true, 6
		}
		if got := settings[middleOf(len(settings))]; got != want {
			t.Errorf("in the middle of %d: %+v", len(settings), got)
		}
	}
}

// A move that came is the lesson's one: by its place among those played before, or something
// new behind them; whether peers were here is told beside.
func TestLessonsByHand(t *testing.T) {
	o := &Outlook{f: &Forecast{}}
	e := handEvidence()
	e.moves[1], e.moves[2] = e.moves[2], e.moves[1] // the second and the fourth were never played
	e.legal = []board.Move{11, 12, 13, 14}
	for came, want := range map[board.Move]int{11: 0, 13: 1, 12: 2, 14: 2} {
		for _, e.peered = range []bool{false, true} {
			l := o.lesson(e, []float64{0.3, 0.2, 0.4, 0.1}, 5, came)
			if l.Came != want || len(l.Outcomes) != 3 || l.Peered != e.peered {
				t.Errorf("move %v: %+v, want outcome %d of 3", came, l, want)
			}
		}
	}
	e.moves = e.moves[1:2]
	if o.lesson(e, []float64{1}, 5, 12) != nil {
		t.Error("a lesson where nothing was played before")
	}
}

// The set-ups of a colour: each position on its player's turn once, by the player's own pieces
// alone, in the games of that colour.
func TestSetUps(t *testing.T) {
	p := annotated(t, `[White "Them"]
[Black "Ash"]

1. e4 e5 2. Nf3 *

[White "Them"]
[Black "Ash"]

1. e4 c5 2. Nf3 *

[White "Ash"]
[Black "Them"]

1. e4 g6 2. d4 Bg7 *
`)
	for c, want := range map[board.Color]map[string]int{
		board.White: {"": 1, "e4": 2}, board.Black: {"e4": 1, "e4 g6 d4": 1},
	} {
		groups := setUps(p.Games, p.Tree(c))
		sum := 0
		for line, n := range want {
			pos := after(t, line)
			if got := groups[pos.OwnKey(c)]; len(got) != n || got[0] == nil {
				t.Errorf("%v after %q: %v, want %d", c, line, got, n)
			}
			sum += n
		}
		all := 0
		for _, nodes := range groups {
			all += len(nodes)
		}
		if all != sum {
			t.Errorf("%v: %d positions, want %d", c, all, sum)
		}
	}
}

// What is gathered by hand, without fading, for a slow game: at 1.e4 e5 the visits here, the
// newest counting most in the short memory, and what the same set-up did elsewhere; a blitz
// game counts 0.4, a later game nothing.
func TestGatherByHand(t *testing.T) {
	p := builtFrom("2026.05.01 1-0 5400: e4 c5 Nf3", "2026.05.02 1-0 180: e4 c5 Nc3", "2026.05.03 1-0 5400: e4 e5 Nf3", "2026.05.04 1-0 180: e4 e5 Nc3", "2026.06.01 1-0 5400: e4 e6 d4", "2026.06.01 1-0 5400: e4 e5 f4")
	m := handModel()
	m.HalfLifeDays, m.HalfLifeGames = 0, [3]float64{}
	pos := after(t, "e4 e5")
	e := NewForecast(p, board.White, ForecastOptions{Model: m}).For(on("2026.05.10"), Classical).gather(&pos)
	for san, want := range map[string][3]float64{"Nf3": {1, 1, math.Exp2(-1. / 4)}, "Nc3": {0.4, 0.4, 0.4}, "d4": {}, "f4": {}} {
		for i, move := range e.legal {
			if got := e.moves[i]; pos.SAN(move) == san && (!near(got.long[0], want[0]) || !near(got.setUp[0], want[1]) || !near(got.short, want[2])) {
				t.Errorf("%s: %+v, want %v", san, got, want)
			}
		}
	}
	if len(e.passes) != 2 || !near(e.long[1], 1.4) || !near(e.setUp[2], 1.4) || !near(e.short, 0.4+math.Exp2(-1./4)) {
		t.Errorf("together: %+v of %d visits", [...]float64{e.long[1], e.setUp[2], e.short}, len(e.passes))
	}
}

// Set-ups are looked for as deep as the tree goes.
func TestSetUpsOfATree(t *testing.T) {
	p := Build(gamesOf("2026.05.01 1-0 -: e4 e5 Nf3 Nc6 Bb5 a6"), Options{MaxPly: 3, Them: func(*pgn.Game) (board.Color, bool) { return board.White, true }})
	nodes := 0
	for _, list := range setUps(p.Games, p.Tree(board.White)) {
		for _, n := range list {
			if nodes++; n == nil {
				t.Error("a position beyond the tree")
			}
		}
	}
	if nodes != 2 {
		t.Errorf("%d positions with White to move, want 2", nodes)
	}
}

// A game's age is that of the middle of its days, to the middle of those of the game to come;
// one without a date is as old as the oldest.
func TestAgesOfGames(t *testing.T) {
	p := builtFrom("2026.06.01 1-0 -: e4 e5", "????.??.?? 1-0 -: e4 e5", "2026.05.?? 1-0 -: e4 e5", "2026.06.09 1-0 -: e4 e5", "2026.06.11 1-0 -: e4 e5")
	f := NewForecast(p, board.White, ForecastOptions{})
	for when, want := range map[Span][]float64{on("2026.06.11"): {26, 26, 10, 2}, on("2026.07.??"): {61, 61, 45, 37, 35}} {
		w := f.weigh(when, 0)
		if got := w.age[:len(want)]; fmt.Sprint(got) != fmt.Sprint(want) || w.known != len(want) || w.end != len(want) {
			t.Errorf("%v: %v, %d known up to %d, want %v", when, got, w.known, w.end, want)
		}
	}
}
