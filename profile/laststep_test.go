package profile

import (
	"fmt"
	"math"
	"testing"

	"foreply/profile/board"
)

// What a forecast has learned of its player is what each move of theirs taught, forecast as
// it then was and for its own ply.
func TestLessonsAreOfTheirPlies(t *testing.T) {
	p := builtFrom("2026.01.01 1-0 -: e4 e5 Nf3 Nc6 Bb5 a6", "2026.01.02 1-0 -: e4 e5 Nf3 Nc6 Bb5 Nf6", "2026.01.03 1-0 -: d4 d5 c4 e6",
		"2026.01.04 1-0 -: e4 c5 Nf3 d6", "2026.01.05 1-0 -: e4 e5 Nf3 Nc6 Bc4 Bc5 c3 Nf6")
	f := NewForecast(p, board.White, ForecastOptions{})
	own, o, pos := f.tuning.before.own, f.On(on("2026.01.05")), board.Start()
	o.class, o.classes = p.Games[4].Class, f.model.classWeights(p.Games[4].Class)
	lessons := 0
	logs := make([]float64, len(f.settings))
	for _, m := range p.Games[4].Moves[:5] { // with 3.Bc4 something new came
		if pos.Turn() == board.White {
			e := o.gather(&pos)
			came := e.moves[e.index[m]-1]
			if came.n == 0 {
				came = e.unseen()
			}
			for i, part := range e.partsOf(f.settings) {
				logs[i] += math.Log(part.of(&came, &f.settings[i]))
			}
			if l := o.Lesson(&pos, m); l != nil {
				own.learn(l)
				lessons++
			}
		}
		pos.Play(m)
	}
	after := f.tuning.at(on("2026.01.06"))
	for i := range logs {
		if after.moves != 3 || math.Abs(after.days[i]-logs[i]) > 1e-9 || logs[0] == logs[1] {
			t.Errorf("setting %d: ln P %v of %d moves, want %v of 3", i, after.days[i], after.moves, logs[i])
		}
	}
	got := after.own.mean
	for k := range got {
		if lessons < 3 || math.Abs(got[k]-own.mean[k]) > 1e-12 {
			t.Errorf("term %d: %v after %d lessons, want %v", k, got[k], lessons, own.mean[k])
		}
	}
}

// The last step by hand: of 0.2 for new moves at ply 3, with numbers of -0.5, of
// -0.25 for the logit and of -0.15 for five plies: -0.5 - 0.75*ln 4 + 0.21 =
// -1.3297208, so p = 0.2092055; the played moves share the rest as before. A player
// half a logit readier for something new: -0.8297208, p = 0.3037041.
func TestLastStepByHand(t *testing.T) {
	o := &Outlook{f: &Forecast{model: Model{Plain: Refinement{Terms: Terms{termNew: -0.5, termLogit: -0.25, termPly: -0.15}}}}}
	e := &evidence{moves: []tally{{n: 3}, {n: 1}, {}, {}}, passes: make([]pass, 4)}
	for readier, fresh := range map[float64]float64{0: 0.2092055, 0.5: 0.3037041} {
		p := []float64{0.6, 0.2, 0.15, 0.05}
		o.own.mean[termNew] = readier
		o.settle(e, p, 3)
		for i, want := range []float64{(1 - fresh) * 0.75, (1 - fresh) * 0.25, fresh * 0.75, fresh * 0.25} {
			if math.Abs(p[i]-want) > 1e-6 {
				t.Errorf("readier by %.1f, move %d: %.7f, want %.7f", readier, i, p[i], want)
			}
		}
	}
}

// What is known of an outcome: of five visits the last but one saw the move that was
// played once.
func TestTermsByHand(t *testing.T) {
	o := &Outlook{f: &Forecast{}}
	e := &evidence{passes: make([]pass, 5), short: 2, peers: 10, long: [halfLives]float64{4}, moves: []tally{
		{n: 4, short: 1.5, peers: 1, long: [halfLives]float64{3}, base: [2][halfLives]float64{{0, 0.3}}},
		{n: 1, short: 0.5, peers: 9, long: [halfLives]float64{1}}, {},
	}}
	got := o.outcomes(e, []float64{0.5, 0.3, 0.2}, 15)
	for i, want := range []Terms{
		{termShare: math.Log(0.625), termShort: math.Log(0.77), termRecent: math.Log(0.77), termPeers: math.Log(0.12), termSetUp: math.Log(0.32)},
		{termShare: math.Log(0.375), termShort: math.Log(0.27), termRecent: math.Log(0.27), termPeers: math.Log(0.92), termSetUp: math.Log(0.02)},
		{termNew: 1, termLogit: -math.Log(4), termPly: 1, termVisits: math.Log(5), termOnce: 0.2},
	} {
		for k := range want {
			if math.Abs(got[i].X[k]-want[k]) > 1e-12 {
				t.Errorf("outcome %d, term %d: %v, want %v", i, k, got[i].X[k], want[k])
			}
		}
	}
}

// Where the short memory, or peers, say nothing, it is of all visits how often the move came.
func TestTermsOfTheSilent(t *testing.T) {
	e := &evidence{passes: make([]pass, 5)}
	x := e.outcomeOf(&tally{n: 4}, 0.5).X
	for _, k := range []int{termShort, termRecent, termPeers} {
		if !near(x[k], math.Log(0.82)) {
			t.Errorf("term %d: %v, want ln 0.82", k, x[k])
		}
	}
}

// A player's own difference by hand, of deviation 0.5 before: something new was given
// 0.2 and came. Of its number p(1-p) = 0.16 is learned: the variance becomes
// 0.25/(1 + 0.25*0.16) = 0.2403846, the mean 0.8 times that, 0.1923077, and the next
// chance 0.25*exp(0.1923077) to 1, 0.2325474.
func TestLearnByHand(t *testing.T) {
	s := newOwnStep(&Model{Loose: Terms{termNew: 0.5}})
	l := &Lesson{Outcomes: []Outcome{{}, {Score: -math.Log(4), X: Terms{termNew: 1}}}, Came: 1}
	s.learn(l)
	p := make([]float64, 2)
	s.chances(l.Outcomes, p)
	if math.Abs(s.mean[termNew]-0.1923077) > 1e-6 || math.Abs(s.cov[termNew][termNew]-0.2403846) > 1e-6 || math.Abs(p[1]-0.2325474) > 1e-6 {
		t.Errorf("mean %v, variance %v, chance %v", s.mean[termNew], s.cov[termNew][termNew], p[1])
	}
}

// A covariance that is narrowed by two moves at once has the inverse that they add to.
func TestNarrowAddsToTheInverse(t *testing.T) {
	s := newOwnStep(&Model{Loose: Terms{0: 2, 1: 1}})
	s.narrow(&Terms{0: 1, 1: 1}, 0.5)
	s.narrow(&Terms{0: 1, 1: -2}, 0.25)
	// (1/4 + 0.5 + 0.25, 0.5 - 0.5; 0.5 - 0.5, 1 + 0.5 + 1): 1 and 2.5 on the diagonal.
	if math.Abs(s.cov[0][0]-1) > 1e-12 || math.Abs(s.cov[1][1]-0.4) > 1e-12 || math.Abs(s.cov[0][1]) > 1e-12 {
		t.Errorf("%v", s.cov)
	}
}

// The opponent's own numbers are learned from earlier games alone, each once: a
// repetitive player is given less that is new than one who always varies.
func TestRepetitivePlayerIsKnown(t *testing.T) {
	var same, other []string
	for i := range 30 {
		same = append(same, fmt.Sprintf("2026.05.%02d 1-0 -: e4 e5 Nf3 Nc6 Bb5 a6", i+1))
		other = append(other, fmt.Sprintf("2026.05.%02d 1-0 -: e4 e5 %s", i+1, []string{"Nf3", "Nc3", "Bc4", "f4", "d4", "c3", "a3", "h3", "Qh5", "Qf3", "b3", "g3"}[i%12]))
	}
	f := NewForecast(builtFrom(same...), board.White, ForecastOptions{})
	if l, m := f.On(on("2026.06.01")).own.mean[termNew], NewForecast(builtFrom(other...), board.White, ForecastOptions{}).On(on("2026.06.01")).own.mean[termNew]; !(l < 0 && m > 0) {
		t.Errorf("the one leans by %v, the other by %v", l, m)
	}
	if first := f.On(on("2026.05.01")).own; first != newOwnStep(&f.model) {
		t.Errorf("before the first game: %+v", first)
	}
}
