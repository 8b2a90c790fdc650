package hindsight

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile"
)

const career = "../../testdata/diff/games.pgn" // 411 invented games

func predictions(t *testing.T, games []*pgn.Game, opt Options) (string, Result) {
	t.Helper()
	var text bytes.Buffer
	out := NewCSV(&text)
	opt.Each = out.Write
	r := run(t, build(games), opt)
	if err := out.Close(); err != nil {
		t.Fatal(err)
	}
	return text.String(), r
}

// Forecasts for the first games are the same to the last digit when the later
// games are shuffled among their dates, and when there are none.
func TestLaterGamesChangeNothing(t *testing.T) {
	games := read(t, career)
	cut := games[len(games)/2].Header().Date
	early := func(text string) string {
		var out []string
		for row := range strings.Lines(text) {
			if f := strings.Split(row, ","); pgn.ParseDate(f[2]).Compare(cut) < 0 {
				out = append(out, row)
			}
		}
		return strings.Join(out, "")
	}
	all, _ := predictions(t, games, Options{Known: 5})
	want := early(all)
	if strings.Count(want, "\n") < 50 {
		t.Fatalf("only %d early predictions", strings.Count(want, "\n"))
	}
	if got := early(first(predictions(t, shuffledAfter(games, cut), Options{Known: 5}))); got != want {
		t.Error("shuffling later games changed earlier forecasts")
	}
	before := slices.DeleteFunc(slices.Clone(games), func(g *pgn.Game) bool { return g.Header().Date.Compare(cut) >= 0 })
	if got := early(first(predictions(t, before, Options{Known: 5}))); got != want {
		t.Error("taking away later games changed earlier forecasts")
	}
}

func first(text string, _ Result) string { return text }

// shuffledAfter hands the moves of the games from cut on to one another.
func shuffledAfter(games []*pgn.Game, cut pgn.Date) []*pgn.Game {
	out := make([]*pgn.Game, len(games))
	var late []int
	for i, g := range games {
		copied := *g
		out[i] = &copied
		if g.Header().Date.Compare(cut) >= 0 {
			late = append(late, i)
		}
	}
	for k, with := range rand.New(rand.NewPCG(5, 6)).Perm(len(late)) {
		out[late[k]].Moves = games[late[with]].Moves
	}
	return out
}

// The names of the JSON are a contract.
func TestJSONNames(t *testing.T) {
	r := run(t, build(read(t, career)), Options{})
	text, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	var sides map[string]map[string]json.RawMessage
	if err := json.Unmarshal(text, &sides); err != nil {
		t.Fatal(err)
	}
	for _, side := range []string{"white", "black", "pooled"} {
		for _, name := range strings.Fields("predictions raw_bits one_event_bits full_bits top1 top3 ece ece_new coverage80 reliability") {
			if sides[side][name] == nil {
				t.Errorf("%s lacks %s", side, name)
			}
		}
	}
}

// Pooling a test with itself doubles its counts and leaves its means.
func TestPool(t *testing.T) {
	r := run(t, build(read(t, career)), Options{Known: 5})
	twice := Pool(r, r).Pooled
	once := r.Pooled
	if twice.Predictions != 2*once.Predictions || twice.Intervals != 2*once.Intervals || twice.Games != 2*once.Games || twice.fit != 2*once.fit || twice.New.N != 2*once.New.N {
		t.Errorf("%+v", twice)
	}
	if once.Predictions != r.White.Predictions+r.Black.Predictions || once.Games != r.White.Games+r.Black.Games || once.Games == 0 || once.Intervals != r.White.Intervals+r.Black.Intervals {
		t.Errorf("both colours %+v", once)
	}
	if a, b := Pool(Result{known: 30}, Result{known: 5}), Pool(Result{known: 5}, Result{known: 30}); a.known != 30 || b.known != 30 {
		t.Errorf("%d and %d games known", a.known, b.known)
	}
	if off(twice.OneEvent, once.OneEvent) || off(twice.ECE, once.ECE) || off(twice.Coverage, once.Coverage) || off(twice.New.P, once.New.P) || off(twice.Brier, once.Brier) || once.New.Lo >= once.New.Observed || once.New.Hi <= once.New.Observed || once.chance <= 0 {
		t.Errorf("twice %+v, once %+v", twice, once)
	}
}

// With a small history, every move rests on one of the last games that were
// certainly earlier.
func TestSmallHistories(t *testing.T) {
	const last = 12
	p := build(read(t, career))
	n := 0
	run(t, p, Options{Last: last, Each: func(got *Prediction) {
		n++
		since := 0
		for i := range slices.Backward(p.Games) {
			g := &p.Games[i]
			if g.Theirs == got.Game.Theirs && g.Date.Known() && len(g.Moves) >= shortest && g.Span.Before(got.Game.Span) {
				since++
				if since > last && rests(got, g) {
					t.Errorf("%s rests on game %d, which is %d games back", got.Position.EPD(), g.Index, since)
				}
			}
		}
	}})
	if n == 0 {
		t.Error("no predictions")
	}
}

func rests(p *Prediction, g *profile.Game) bool {
	return slices.ContainsFunc(p.Expected.Moves, func(l profile.Likely) bool { return l.Last != nil && l.Last.Index == g.Index })
}

// Without dates, all on one day, or with a single game there is nothing to test,
// and the text says so.
func TestNothingToTest(t *testing.T) {
	for name, date := range map[string]string{"no dates": "????.??.??", "one day": "2020.05.05"} {
		t.Run(name, func(t *testing.T) {
			games := shuffledAfter(read(t, career), pgn.Date{Year: 9999})
			for _, g := range games {
				g.SetTags(append(slices.Clone(g.Tags()), pgn.Tag{Name: "Date", Value: date}))
			}
			r := run(t, build(games), Options{})
			counted := map[string]string{"no dates": "0 with White, 0 with Black", "one day": "114 with White, 107 with Black"}[name]
			want := "Too few games to test (" + counted + "): a game counts once 30 of its colour are certainly earlier; read the forecast as a list of what was played."
			if got := r.Verdict("this opponent"); r.Pooled.Predictions != 0 || len(r.Words()) != 0 || got != want {
				t.Errorf("%+v\n%s", r.Pooled, got)
			}
		})
	}
}

// The sentences, with figures by hand.
func TestWords(t *testing.T) {
	white := Figures{Predictions: 1, Games: 1, RawBits: 1, OneEvent: 1.1, Top1: 1, Top3: 1, Reliability: []Bin{{P: 0.62, Observed: 1, N: 1}}}
	r := Result{White: white, Black: Figures{Predictions: 199, Games: 30, Top1: 0.5, Top3: 1, Reliability: []Bin{{P: 0.5, Observed: 0.5, N: 199}}}, Pooled: Figures{
		Predictions: 200, Games: 31, RawBits: 1, OneEvent: 0.9, Top1: 0.69, Top3: 0.9, ECE: 0.021, Intervals: 50, Coverage: 0.8,
		Reliability: []Bin{{P: 0.08, Observed: 0.1, N: 70}, {P: 0.5, Observed: 0.52, N: 60}, {P: 0.9, Observed: 0.91, N: 100}},
		New:         Bin{P: 0.081, Observed: 0.12, N: 200},
	}}
	want := []Section{
		{Name: "with White", Of: "top guess right in 1 of 1, one of the top three in 1"},
		{Name: "with Black", Of: "top guess right in 100 of 199, one of the top three in 199"},
		{"both colours", "200 moves in 31 games", []string{
			"top guess right in 138 of 200, one of the top three in 180",
			"something new: said 0.8 in 10, came 1.2; 10 % less surprised than counting",
			"its 'likely' ranges are meant to hold 8 times in 10; they held in 40 of 50",
		}},
	}
	if got := r.Words(); !reflect.DeepEqual(got, want) {
		t.Errorf("got\n%q\nwant\n%q", got, want)
	}
	r.Pooled.Intervals, want[2].Lines = 0, want[2].Lines[:2] // of none nothing is said
	r.Black = Figures{}
	if got := r.Words(); len(got) != 1 || got[0].Name != "with White" || !reflect.DeepEqual(got[0].Lines, want[2].Lines) {
		t.Errorf("with one colour: %q", got)
	}
	if got := (&Result{Pooled: Figures{Predictions: 1, Games: 1}}).Heading(); got != "1 move of theirs in 1 past game, each forecast from earlier games alone" {
		t.Error(got)
	}
	if got := (&Result{}).Heading(); got != "no past game to test the forecast on" {
		t.Error(got)
	}
	if got := r.Heading(); got != "200 moves of theirs in 31 past games, each forecast from earlier games alone" {
		t.Error(got)
	}
	scale := "said       0.8    5.0    9.0\ncame       1.0    5.2    9.1\ntimes       70     60    100\n"
	if got := r.Pooled.Scale(); got != scale {
		t.Errorf("got\n%swant\n%s", got, scale)
	}
}

func TestAgainstCounting(t *testing.T) {
	for bits, want := range map[float64]string{0.876: "12 % less", 1.044: "4 % more", 0.997: "no less", 1.004: "no less"} {
		if got := (&Figures{RawBits: 1, OneEvent: bits}).Against(""); got != want {
			t.Errorf("%v: %s, want %s", bits, got, want)
		}
		if got := (&Figures{RawBits: 1, OneEvent: bits}).Against("surprised"); got != want+" surprised" {
			t.Errorf("%v, with a word behind it: %s", bits, got)
		}
	}
}

func TestVerdict(t *testing.T) {
	for _, c := range []struct {
		name string
		f    Figures
		want string
	}{
		{"few moves", Figures{Predictions: 12}, "Only 12 moves could be tested, too few to say how far to trust the forecast for her."},
		{"just enough", Figures{Predictions: 100, RawBits: 1, ECE: 0.03, Top1: 0.95},
			"For her the shares can be taken as printed: they were off by about 3 in 100 on average, and the top guess is nearly always right."},
		{"one too few", Figures{Predictions: 99}, "Only 99 moves could be tested, too few to say how far to trust the forecast for her."},
		{"one", Figures{Predictions: 1}, "Only 1 move could be tested, too few to say how far to trust the forecast for her."},
		{"worse than counting", Figures{Predictions: 200, RawBits: 1, OneEvent: 1.1, Top1: 0.7},
			"For her the shares can be taken as printed: they were off by less than 1 in 100 on average, and the top guess is right 7 times in 10; plain counting would have served as well."},
		{"calibrated", Figures{Predictions: 200, RawBits: 1, ECE: 0.021, Top1: 0.69},
			"For her the shares can be taken as printed: they were off by about 2 in 100 on average, and the top guess is right 7 times in 10."},
		{"steady", Figures{Predictions: 200, RawBits: 1, ECE: 0.012, Top1: 0.97},
			"For her the shares can be taken as printed: they were off by about 1 in 100 on average, and the top guess is nearly always right."},
		{"off by no more than chance", Figures{Predictions: 200, RawBits: 1, ECE: 0.04, Top1: 0.69, chance: 0.035},
			"For her nothing speaks against the shares, but the test is small: they were off by about 4 in 100, as chance alone can do, and the top guess is right 7 times in 10."},
		{"somewhat off", Figures{Predictions: 200, RawBits: 1, ECE: 0.05, chance: 0.01, Top1: 0.5},
			"For her the shares tell likely from unlikely, no more: they were off by about 5 in 100 on average, and the top guess is right 5 times in 10."},
		{"far off", Figures{Predictions: 200, RawBits: 1, ECE: 0.2, chance: 0.01},
			"For her take the order of the moves and not their shares, which were off by about 20 in 100 on average, and the top guess is right 0 times in 10."},
	} {
		if got := (&Result{Pooled: c.f}).Verdict("her"); got != c.want {
			t.Errorf("%s: got\n%s\nwant\n%s", c.name, got, c.want)
		}
	}
}

// A context that ends stops the test, at its next game.
func TestInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancelCause(t.Context())
	enough := errors.New("enough")
	games := 0
	r, err := Test(ctx, build(read(t, career)), Options{Known: 5, Progress: func(done, of int) {
		games++
		if done == 10 {
			cancel(enough)
		}
	}})
	if !errors.Is(err, enough) || r.Pooled.Predictions != 0 || games != 11 {
		t.Errorf("%v after %d games, %d predictions", err, games, r.Pooled.Predictions)
	}
}

// An interval by hand: p = 0.5 at strength 2 is Beta(1, 1), under which 0 to 10
// hits of ten are all alike, 1/11: 1 hit is at (1 + u)/11.
func TestCoveredByHand(t *testing.T) {
	for _, c := range []struct {
		hits int
		u    float64
		want bool
	}{{0, 0.5, false}, {1, 0.05, false}, {1, 0.15, true}, {5, 0.5, true}, {9, 0.85, true}, {9, 0.95, false}, {10, 0, false}} {
		i := Interval{P: 0.5, Hits: c.hits, U: c.u}
		if got := i.Covered(2); got != c.want {
			t.Errorf("%d hits, u = %.2f: covered %v", c.hits, c.u, got)
		}
	}
}

// The visits after which intervals are judged are those of the protocol.
func TestJudgedVisits(t *testing.T) {
	var got []int
	for n := 1; n <= 100; n++ {
		if judgedAt(n) {
			got = append(got, n)
		}
	}
	if want := []int{1, 2, 3, 5, 8, 12, 18, 27, 40, 60, 90}; !slices.Equal(got, want) {
		t.Errorf("%v", got)
	}
}

// An interval stands at the level of its visits, the number at the edge at the lower one.
func TestLevels(t *testing.T) {
	for visits, from := range map[int]int{1: 1, 2: 2, 3: 2, 4: 4, 8: 4, 9: 9, 27: 9, 28: 28, 500: 28} {
		list := byLevel([]Interval{{Visits: visits, P: 0.5, Strength: 4, Hits: 5, U: 0.5}})
		for _, l := range list {
			if want := l.From == from; (l.N == 1) != want {
				t.Errorf("%d visits: %d at the level from %d", visits, l.N, l.From)
			}
			if l.N == 1 && l.Coverage != 1 || l.N == 0 && l.Coverage != 0 {
				t.Errorf("%d visits: %v covered", visits, l.Coverage)
			}
		}
	}
}

// A level's coverage is the share of its intervals that held: here, of three with none, five
// and no hits of ten, the middle one.
func TestCoverageOfALevel(t *testing.T) {
	list := byLevel([]Interval{{Visits: 4, P: 0.5, Strength: 4}, {Visits: 5, P: 0.5, Strength: 4, Hits: 5, U: 0.5}, {Visits: 8, P: 0.5, Strength: 4}})
	if l := list[2]; l.From != 4 || l.N != 3 || off(l.Coverage, 1./3) {
		t.Errorf("%+v", l)
	}
}
