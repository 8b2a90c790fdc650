package past

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/walk"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// A game's first choice that the sheet shows is judged apart from those behind it; a choice that
// a game did not come to make is none.
func TestFirstAndLaterChoices(t *testing.T) {
	var lines []string
	for i := range 40 {
		lines = append(lines, []string{open, sicilian, "1. e4 e5 2. Nf3 d6 3. d4 exd4", open}[i%4])
	}
	p := gamesOf(t, lines...)
	b := bookOf(t, "1. e4 e5 (1... c5 2. Nf3 d6) 2. Nf3 Nc6 (2... d6 3. d4 exd4) 3. Bb5 a6 *")
	r := tested(t, p, Options{Books: []*book.Book{b}})
	// Of the last ten games (30 to 39) two went 1...c5: eight had a second choice.
	if r.First.N != 10 || r.Deeper.N != 8 || r.Sheets != 1 || r.Games != 10 || r.Decided != 10 {
		t.Errorf("%+v", r)
	}
	s := newSheet(b, walk.NewWays(b, nil), profile.NewForecast(p, board.Black, profile.ForecastOptions{}).On(p.NextDay()))
	for plies, want := range map[int][3]int{0: {0, 0, 0}, 1: {0, 0, 0}, 2: {1, 1, 0}, 3: {1, 1, 0}, 4: {1, 1, 1}} {
		got := newResult()
		s.judge(&profile.Game{Moves: p.Games[0].Moves[:plies]}, &got)
		if now := [3]int{got.Games, got.first.n, got.deeper.n}; now != want {
			t.Errorf("%d plies: %v, want %v", plies, now, want)
		}
	}
}

// A move of theirs without another beside it is no choice: the first choice comes behind it.
func TestFirstChoiceBehindASingleMove(t *testing.T) {
	var lines []string
	for i := range 40 {
		lines = append(lines, []string{"1. e4 e5 2. Nf3 Nc6", "1. e4 e5 2. Nf3 d6"}[i%2])
	}
	p := gamesOf(t, lines...)
	b := bookOf(t, "1. e4 e5 2. Nf3 Nc6 (2... d6 3. d4) 3. Bb5 *")
	s := newSheet(b, walk.NewWays(b, nil), profile.NewForecast(p, board.Black, profile.ForecastOptions{}).On(p.NextDay()))
	got := newResult()
	s.judge(&p.Games[0], &got)
	if now := [3]int{got.Games, got.first.n, got.deeper.n}; now != [3]int{1, 1, 0} {
		t.Errorf("%v", now)
	}
}

// A row is worth its place from the threshold on; a line that ends otherwise, or that goes on by
// another move, has not come.
func TestCameOrNot(t *testing.T) {
	w := &walk.Walk{Opt: walk.Options{Threshold: 0.125}}
	s := &walk.State{Reach: walk.Reach{Mass: 0.5}}
	for p, want := range map[float64]bool{0.25: true, 0.24: false} {
		f := walk.Flow{Likely: profile.Likely{Range: profile.Range{P: p}, N: 1}}
		if got := shown(w, s, &f); got != want {
			t.Errorf("in %v of a half: %v", p, got)
		}
	}
	from, to, other := &walk.State{}, &walk.State{}, &walk.State{}
	end, elsewhere := &walk.End{}, &walk.End{}
	for name, c := range map[string]struct {
		line line
		way  walk.Followed
		came float64
	}{
		"ended so":      {line{0.4, end, []walk.Choice{{At: from, P: 0.5}}}, walk.Followed{States: []*walk.State{from}, End: end}, 1},
		"ended another": {line{0.4, end, []walk.Choice{{At: from, P: 0.5}}}, walk.Followed{States: []*walk.State{from}, End: elsewhere}, 0},
		"not ended":     {line{0.4, nil, []walk.Choice{{At: from, P: 0.5}}}, walk.Followed{States: []*walk.State{from}}, 0},
		"went on so":    {line{0.4, end, []walk.Choice{{At: from, To: to, P: 0.5}}}, walk.Followed{States: []*walk.State{from, to}}, 1},
		"went another":  {line{0.4, end, []walk.Choice{{At: from, To: to, P: 0.5}}}, walk.Followed{States: []*walk.State{from, other}}, 0},
		"stopped":       {line{0.4, end, []walk.Choice{{At: from, To: to, P: 0.5}}}, walk.Followed{States: []*walk.State{from}, End: end}, 0},
	} {
		var l limit
		l.add(&c.line, &c.way, map[*walk.State]int{from: 0})
		if want := (limit{said: sums{p: 0.4, n: 1}, choices: []sums{{p: 0.5, came: c.came, n: 1}}}); !reflect.DeepEqual(l, want) {
			t.Errorf("%s: %+v", name, l)
		}
	}
}

// Twenty cases tell; where none came, or more than said, the figures stay between never and always.
func TestLimitAtItsEdges(t *testing.T) {
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-12 }
	of := func(n int, said, p, came float64) *limit {
		return &limit{said: sums{p: said * 50, n: 50}, choices: []sums{{p: p, came: came, n: n}}}
	}
	for n, want := range map[int]bool{19: false, 20: true} {
		if got := of(n, 0.2, 5, 5).told(); got != want {
			t.Errorf("of %d: told %v", n, got)
		}
		if b := of(n, 0.2, 10, 5).bin(); (b.Observed == 0.1) != want || b.N != 50 || b.P != 0.2 {
			t.Errorf("of %d: %+v", n, b)
		}
	}
	if b := of(20, 0.2, 10, 0).bin(); b.Observed != 0 || b.Lo != 0 || b.Hi != 0 {
		t.Errorf("none came: %+v", b)
	}
	if b := of(20, 0.8, 5, 20).bin(); b.Observed != 1 || b.Hi != 1 || !near(b.Lo, 1) {
		t.Errorf("more than said: %+v", b)
	}
	if b := of(20, 0.9, 10, 10).bin(); !near(b.Observed, 0.9) || b.Hi != 1 || b.Lo >= 0.9 {
		t.Errorf("as said: %+v", b)
	}
	one, two := newResult(), newResult()
	one.Given = true
	for _, r := range []*Result{&one, &two} {
		r.expect = *of(20, 0.4, 10, 5)
	}
	got := Pool(one, two)
	if !got.Given || got.Expect == nil || got.Expect.N != 100 || !near(got.Expect.P, 0.4) || !near(got.Expect.Observed, 0.2) {
		t.Errorf("pooled %+v, given %v", got.Expect, got.Given)
	}
	first, second := limit{choices: []sums{{1, 2, 3}, {4, 5, 6}}}, limit{choices: []sums{{10, 20, 30}, {40, 50, 60}, {7, 8, 9}}}
	if first.merge(&second); !reflect.DeepEqual(first.choices, []sums{{11, 22, 33}, {44, 55, 66}, {7, 8, 9}}) {
		t.Errorf("%+v", first.choices)
	}
	if got := Pool(two, two); got.Given {
		t.Error("no repertoire was given")
	}
}

// What a test leaves out: undated and short games, and the colour for which there is no book
// where there is one for the other; of the last games those with the other colour.
func TestWhatIsLeftOut(t *testing.T) {
	var text strings.Builder
	for i := range 45 {
		date := fmt.Sprintf("2020.%02d.%02d", i/28+1, i%28+1)
		fmt.Fprintf(&text, "[White \"Elm\"]\n[Black \"Them\"]\n[Date %q]\n[Result \"*\"]\n\n%s *\n\n", date, open)
		fmt.Fprintf(&text, "[White \"Them\"]\n[Black \"Elm\"]\n[Date %q]\n[Result \"*\"]\n\n%s *\n\n", date, queens)
		fmt.Fprintf(&text, "[White \"Elm\"]\n[Black \"Them\"]\n[Date \"????.??.??\"]\n[Result \"*\"]\n\n%s *\n\n", sicilian)
	}
	p := profile.Build(pgn.NewReader(strings.NewReader(text.String()), pgn.Options{}).All(), profile.Options{Them: func(g *pgn.Game) (board.Color, bool) {
		if g.Header().White.Name == "Them" {
			return board.White, true
		}
		return board.Black, true
	}})
	white := bookOf(t, "1. e4 e5 (1... c5 2. Nf3) 2. Nf3 Nc6 *")
	if r := tested(t, p, Options{Books: []*book.Book{white}}); r.Sheets != 2 || r.Games != 15 {
		t.Errorf("with Black alone: %+v", r)
	}
	if r := tested(t, p, Options{}); r.Sheets != 4 || r.Games != 30 {
		t.Errorf("both colours: %+v", r)
	}
	dated := p.Only(func(g *profile.Game) bool { return g.Span.Known() })
	last := (&test{profile: dated, theirs: board.Black, opt: Options{Last: 3}}).lastBefore(20)
	if len(last.Games) != 3 || slices.ContainsFunc(last.Games, func(g profile.Game) bool { return g.Theirs != board.Black }) {
		t.Errorf("the last three: %d games", len(last.Games))
	}
}

// Where no first move of theirs comes in three of ten games no line is expected. The usual book
// goes 24 plies deep, and answers of as many games come in the order of moves.
func TestUsualAtItsEdges(t *testing.T) {
	var lines []string
	for i := range 40 {
		lines = append(lines, "1. e4 "+[]string{"e5", "c5", "e6", "c6"}[i%4]+" 2. d4 a6 3. c3")
	}
	p := gamesOf(t, lines...)
	b := Usual(p, board.White, p.NextDay())
	if s := newSheet(b, walk.NewWays(b, nil), profile.NewForecast(p, board.Black, profile.ForecastOptions{}).On(p.NextDay())); s.expect != nil || len(s.lines) == 0 {
		t.Errorf("expected %+v", s.expect)
	}
	const long = "e4 e5 Nf3 Nc6 Bb5 a6 Ba4 Nf6 O-O Be7 Re1 b5 Bb3 d6 c3 O-O h3 Nb8 d4 Nbd7 Nbd2 Bb7 Bc2 Re8 Nf1 Bf8"
	deep := gamesOf(t, long, long)
	of := Usual(deep, board.White, deep.NextDay())
	depth, pos := 0, board.Start()
	for _, m := range deep.Games[0].Moves {
		if !slices.Contains(of.Moves(&pos), m) {
			break
		}
		depth++
		pos.Play(m)
	}
	if depth != usualPly {
		t.Errorf("%d plies deep", depth)
	}
	two := gamesOf(t, open, open, queens, queens)
	start := board.Start()
	e4, d4 := two.Games[0].Moves[0], two.Games[2].Moves[0]
	for range 8 {
		if got := Usual(two, board.White, two.NextDay()).Answers(start.Key()); len(got) != 1 || got[0] != min(e4, d4) {
			t.Fatalf("of equals %v", got)
		}
	}
}

// A change is told once and judged by the next games, three at least: what was taken up went on
// if it came more often than midway between before and since, what was dropped if less.
func TestChangesCounted(t *testing.T) {
	others := slices.Repeat([]string{"1. e4 c6", "1. e4 e6", "1. e4 d5", "1. e4 d6", "1. e4 g6", "1. e4 Nf6"}, 5)
	up := slices.Repeat([]string{sicilian}, 30)
	for name, c := range map[string]struct {
		since, after []string
		want         changed
	}{
		"goes on":              {up, slices.Repeat([]string{sicilian}, 40), changed{1, 1, 1}},
		"three games, goes on": {up, slices.Repeat([]string{sicilian}, 3), changed{1, 1, 1}},
		"two games":            {up, slices.Repeat([]string{sicilian}, 2), changed{1, 0, 0}},
		"was a spell":          {up, slices.Repeat([]string{open}, 3), changed{1, 1, 0}},
		"dropped, stays away":  {others, others[:3], changed{1, 1, 1}},
		"dropped, comes back":  {others, slices.Repeat([]string{open}, 3), changed{1, 1, 0}},
	} {
		p := gamesOf(t, slices.Concat(slices.Repeat([]string{open}, 60), c.since, c.after)...)
		r := newResult()
		tt := &test{profile: p, theirs: board.Black, told: map[change]bool{}, result: &r}
		for range 2 {
			tt.changes(p.Watch(board.Black), p.Games[90].Span, 90)
		}
		if r.changes != c.want {
			t.Errorf("%s: %+v", name, r.changes)
		}
	}
}
