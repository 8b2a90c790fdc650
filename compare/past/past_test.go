package past

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/walk"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
	"foreply/profile/hindsight"
)

// gamesOf are games of an opponent with Black, a day each, in order.
func gamesOf(t *testing.T, lines ...string) *profile.Profile {
	t.Helper()
	var text strings.Builder
	for i, moves := range lines {
		fmt.Fprintf(&text, "[White \"Elm\"]\n[Black \"Them\"]\n[Date \"20%02d.%02d.%02d\"]\n[Result \"*\"]\n\n%s *\n\n", 10+i/336, 1+i/28%12, 1+i%28, moves)
	}
	r := pgn.NewReader(strings.NewReader(text.String()), pgn.Options{File: "own.pgn"})
	p := profile.Build(r.All(), profile.Options{Them: func(*pgn.Game) (board.Color, bool) { return board.Black, true }})
	if len(p.Games) != len(lines) || len(p.Problems) > 0 {
		t.Fatalf("the test's own games: %d of %d, %v", len(p.Games), len(lines), p.Problems)
	}
	return p
}

func bookOf(t *testing.T, text string) *book.Book {
	t.Helper()
	b := book.New(board.White)
	r := pgn.NewReader(strings.NewReader(text), pgn.Options{File: "book.pgn", Variations: true})
	for g := range r.All() {
		b.Add(g)
	}
	if len(b.Problems) > 0 {
		t.Fatal(b.Problems)
	}
	return b
}

func tested(t *testing.T, p *profile.Profile, opt Options) Result {
	t.Helper()
	r, err := Test(t.Context(), p, opt)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

const (
	open     = "1. e4 e5 2. Nf3 Nc6 3. Bb5 a6"
	sicilian = "1. e4 c5 2. Nf3 d6 3. d4 cxd4"
	queens   = "1. d4 d5 2. c4 e6 3. Nc3 Nf6"
	english  = "1. c4 e5 2. Nc3 Nf6 3. g3 d5"
)

// What is judged, counted by hand: 30 games before the first sheet, then one every ten
// games; games that don't come to a choice of theirs in the book are not held against it.
func TestWhatIsJudged(t *testing.T) {
	var lines []string
	for i := range 60 {
		lines = append(lines, []string{open, open, open, sicilian, english}[i%5])
	}
	r := tested(t, gamesOf(t, lines...), Options{Books: []*book.Book{bookOf(t, "1. e4 e5 (1... c5 2. Nf3 d6) 2. Nf3 Nc6 *")}})
	if !r.Given || r.Sheets != 3 || r.Games != 24 || r.Decided != 24 || r.First.N != 24 || r.First.Right != 18 || r.Deeper.N != 0 {
		t.Errorf("%+v", r)
	}
	came := 0.0
	for _, b := range r.First.All {
		came += b.Observed * float64(b.N)
	}
	if math.Abs(came-24) > 1e-9 { // in each game one of the shares came
		t.Errorf("%v shares came: %+v", came, r.First.All)
	}
	if e := r.Expect; e == nil || e.N != 24 || math.Abs(e.Observed-0.75) > 0.02 || math.Abs(e.P-0.75) > 0.1 {
		t.Errorf("expect %+v", r.Expect)
	}
}

// Without a repertoire the user answers as the others mostly did; who did otherwise
// leaves the line open, which then counts for what the sheet gave it from there.
func TestUsualBook(t *testing.T) {
	var lines []string
	for i := range 40 {
		lines = append(lines, []string{open, open, open, queens}[i%4])
	}
	p := gamesOf(t, lines...)
	b := Usual(p, board.White, pgn.ParseDate("2010.02.03").Span())
	start := board.Start()
	e4 := start.Legal(nil)[slices.IndexFunc(start.Legal(nil), func(m board.Move) bool { return start.SAN(m) == "e4" })]
	if got := b.Answers(start.Key()); len(got) != 1 || got[0] != e4 {
		t.Errorf("answers %v", got)
	}
	r := tested(t, p, Options{})
	if r.Given || r.Sheets != 1 || r.Games >= 10 || r.Games != r.Decided {
		t.Errorf("%+v", r)
	}
}

// What was met twice is usual.
func TestUsualFromTwoGamesOn(t *testing.T) {
	p := gamesOf(t, open, open, queens)
	b := Usual(p, board.White, p.NextDay())
	var line []string
	pos := board.Start()
	for moves := b.Moves(&pos); len(moves) > 0; moves = b.Moves(&pos) {
		line = append(line, pos.SAN(moves[0]))
		pos.Play(moves[0])
	}
	if got := strings.Join(line, " "); got != "e4 e5 Nf3 Nc6 Bb5 a6" {
		t.Errorf("the usual book goes %q", got)
	}
}

// Of the last games before one those of its own day are none.
func TestLastGamesBefore(t *testing.T) {
	p := gamesOf(t, open, sicilian, queens, english)
	p.Games[2].Span = p.Games[3].Span
	for last, want := range map[int]int{1: 1, 2: 2, 9: 2} {
		before := (&test{profile: p, theirs: board.Black, opt: Options{Last: last}}).lastBefore(3)
		if len(before.Games) != want || before.Games[len(before.Games)-1].Index != 2 {
			t.Errorf("the last %d: %d games", last, len(before.Games))
		}
	}
}

// A line that the user's side leaves open counts for its chance from there.
func TestOpenLine(t *testing.T) {
	var lines []string
	for range 15 {
		lines = append(lines, open, "1. e4 e5 2. Nf3 d6 3. d4 exd4")
	}
	for range 10 {
		lines = append(lines, "1. e4 e5 2. Nc3 Nf6 3. f4 d5")
	}
	p := gamesOf(t, lines...)
	r := tested(t, p, Options{Books: []*book.Book{bookOf(t, "1. e4 e5 2. Nf3 Nc6 (2... d6 3. d4 exd4) 3. Bb5 a6 *")}})
	if r.Games != 10 || r.Decided != 0 {
		t.Fatalf("%+v", r)
	}
	for _, b := range r.Lines { // 1...e5 is nearly certain, and nothing was learned of what follows
		if b.P > lineEdges[0] && (b.Observed < b.P || b.Observed > b.P*1.1) {
			t.Errorf("said %.4f, came %.4f", b.P, b.Observed)
		}
	}
}

// What is said hangs on earlier games alone.
func TestSaidFromEarlierGamesAlone(t *testing.T) {
	var lines []string
	r := rand.New(rand.NewPCG(1, 2))
	for range 40 {
		lines = append(lines, []string{open, sicilian}[r.IntN(2)])
	}
	others := slices.Clone(lines)
	for i := 30; i < 40; i++ {
		others[i] = "1. e4 e6 2. d4 d5 3. exd5 exd5"
	}
	one, two := tested(t, gamesOf(t, lines...), Options{}), tested(t, gamesOf(t, others...), Options{})
	if one.Lines[0].Observed == two.Lines[0].Observed {
		t.Error("other games came, and nothing else was found")
	}
	for i := range one.Lines {
		if one.Lines[i].P != two.Lines[i].P {
			t.Errorf("said %v, and %v if other games come", one.Lines[i].P, two.Lines[i].P)
		}
	}
}

// Of a player whose choices are dice, what was said comes.
func TestDice(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	var lines []string
	for range 600 {
		var line string
		switch x := r.Float64(); {
		case x < 0.5 && r.Float64() < 0.6:
			line = open
		case x < 0.5:
			line = "1. e4 e5 2. Nf3 d6 3. d4 exd4"
		case x < 0.8:
			line = sicilian
		default:
			line = "1. e4 e6 2. d4 d5 3. exd5 exd5"
		}
		lines = append(lines, line)
	}
	p := gamesOf(t, lines...)
	got := tested(t, p, Options{})
	for _, list := range [][]hindsight.Bin{got.First.All, got.Deeper.All, got.Lines} {
		for _, b := range list {
			if b.N >= 300 && math.Abs(b.P-b.Observed) > 0.06 {
				t.Errorf("said %.3f, came %.3f of %d", b.P, b.Observed, b.N)
			}
		}
	}
	if again := tested(t, p, Options{}); !reflect.DeepEqual(got, again) {
		t.Error("the same games give another result")
	}
	if both := Pool(got, got); both.Games != 2*got.Games || both.Lines[0].P != got.Lines[0].P || both.Lines[0].N != 2*got.Lines[0].N {
		t.Errorf("pooled with itself: %+v", both)
	}
}

// A change is told once, and goes on or doesn't.
func TestChanges(t *testing.T) {
	for name, c := range map[string]struct {
		after string
		held  int
	}{"goes on": {sicilian, 1}, "was a spell": {open, 0}} {
		lines := slices.Concat(slices.Repeat([]string{open}, 60), slices.Repeat([]string{sicilian}, 30), slices.Repeat([]string{c.after}, 60))
		r := tested(t, gamesOf(t, lines...), Options{})
		if r.Changes.Told == 0 || r.Changes.Judged == 0 || (r.Changes.Held > 0) != (c.held > 0) {
			t.Errorf("%s: %+v", name, r.Changes)
		}
	}
}

// The way of an end is its reach, where one order of moves leads there.
func TestWayIsTheReach(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	var lines []string
	for range 200 {
		lines = append(lines, []string{open, sicilian, queens, english, "1. e4 e5 2. Nf3 d6 3. d4 exd4"}[r.IntN(5)])
	}
	p := gamesOf(t, lines...)
	look := profile.NewForecast(p, board.Black, profile.ForecastOptions{}).On(p.NextDay())
	b := Usual(p, board.White, p.NextDay())
	s := newSheet(b, walk.NewWays(b, nil), look)
	checked := 0
	for _, l := range s.lines {
		if l.end.Orders != 1 {
			continue
		}
		checked++
		reach := 1.0
		for _, c := range l.way {
			reach *= c.P
		}
		if math.Abs(reach-l.reach) > 1e-12 {
			t.Errorf("%v: %v of %v", walk.SAN(l.end.At.Path()), reach, l.reach)
		}
	}
	if checked < 3 {
		t.Errorf("only %d lines", checked)
	}
}

// Said .4 and .5 of two choices, of which .3 and .5 came, in games that the user's side
// left between them or not.
func TestProductLimit(t *testing.T) {
	l := limit{said: sums{p: 20, n: 100}, choices: []sums{{p: 40, came: 30, n: 100}, {p: 25, came: 25, n: 50}, {p: 9, came: 1, n: Enough - 1}}}
	b := l.bin()
	half := 1.96 * math.Sqrt(70.0/(30*100)+25.0/(25*50))
	if math.Abs(b.P-0.2) > 1e-12 || math.Abs(b.Observed-0.15) > 1e-12 || b.N != 100 ||
		math.Abs(math.Log(b.Hi/b.Observed)-half) > 1e-12 || math.Abs(math.Log(b.Observed/b.Lo)-half) > 1e-12 {
		t.Errorf("%+v", b)
	}
}

// A share at the edge of two bins stands in the upper one, and so does a line.
func TestEdges(t *testing.T) {
	s := scale{edges: []float64{0.1, 0.5}}
	for _, p := range []float64{0.05, 0.1, 0.3, 0.5, 1} {
		s.add(p, 0)
	}
	if s.bins[0].n != 1 || s.bins[1].n != 2 || s.bins[2].n != 2 {
		t.Errorf("%+v", s.bins)
	}
	for i, edge := range lineEdges {
		if at, below := bin(edge), bin(edge-1e-9); at != i+1 || below != i {
			t.Errorf("a line of %v stands in bin %d, one below in %d", edge, at, below)
		}
	}
}

// A choice counts in games in which it was made: not in one that was over there.
func TestChoiceThatWasMade(t *testing.T) {
	from, to := &walk.State{Ply: 1}, &walk.State{Ply: 2}
	for plies, want := range map[int]int{1: 0, 2: 1} {
		s := &sheet{lines: []line{{reach: 0.4, way: []walk.Choice{{At: from, To: to, P: 0.5}}}}}
		way := &walk.Followed{States: []*walk.State{{}, from, to}[:plies+1]}
		var r Result
		s.judgeLines(way, plies, &r)
		if got := len(r.lines[bin(0.4)].choices); got != want {
			t.Errorf("%d plies: %d choices, want %d", plies, got, want)
		}
	}
}
