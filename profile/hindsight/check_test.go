package hindsight

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile"
)

const (
	career = "../../testdata/diff/games.pgn" // 411 invented games
	script = "../../testdata/hindsight/recompute.py"
)

func predictions(t *testing.T, games []*pgn.Game, opt Options) (string, Result) {
	t.Helper()
	var text bytes.Buffer
	out := NewCSV(&text)
	opt.Each = out.Write
	r := Test(build(games), opt)
	if err := out.Close(); err != nil {
		t.Fatal(err)
	}
	return text.String(), r
}

// Forecasts for the first games are the same to the last digit when the later
// games are shuffled among their dates, and when there are none.
func TestLaterGamesChangeNothing(t *testing.T) {
	games := read(t, career)
	cut := games[len(games)/2].Tags.Get("Date")
	early := func(text string) string {
		var out []string
		for row := range strings.Lines(text) {
			if f := strings.Split(row, ","); f[2] < cut {
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
	before := slices.DeleteFunc(slices.Clone(games), func(g *pgn.Game) bool { return g.Tags.Get("Date") >= cut })
	if got := early(first(predictions(t, before, Options{Known: 5}))); got != want {
		t.Error("taking away later games changed earlier forecasts")
	}
}

func first(text string, _ Result) string { return text }

// shuffledAfter hands the moves of the games from cut on to one another.
func shuffledAfter(games []*pgn.Game, cut string) []*pgn.Game {
	out := make([]*pgn.Game, len(games))
	var late []int
	for i, g := range games {
		copied := *g
		out[i] = &copied
		if g.Tags.Get("Date") >= cut {
			late = append(late, i)
		}
	}
	for k, with := range rand.New(rand.NewPCG(5, 6)).Perm(len(late)) {
		out[late[k]].Moves = games[late[with]].Moves
	}
	return out
}

// A second program in another language gets the same figures from the CSV.
func TestSecondProgramAgrees(t *testing.T) {
	python, err := exec.LookPath("python3")
	if err != nil {
		t.Skip("no python3 here")
	}
	text, r := predictions(t, read(t, career), Options{Known: 5})
	file := filepath.Join(t.TempDir(), "predictions.csv")
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(python, script, file).Output()
	if err != nil {
		t.Fatal(err)
	}
	var got Figures
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatal(err)
	}
	want := r.Pooled
	for name, pair := range map[string][2]float64{
		"raw": {got.RawBits, want.RawBits}, "one": {got.OneEvent, want.OneEvent}, "full": {got.FullBits, want.FullBits},
		"top1": {got.Top1, want.Top1}, "top3": {got.Top3, want.Top3}, "ece": {got.ECE, want.ECE}, "ece of new": {got.ECENew, want.ECENew},
	} {
		if d := pair[0] - pair[1]; !(d < 1e-9 && d > -1e-9) {
			t.Errorf("%s: the script has %v, we %v", name, pair[0], pair[1])
		}
	}
	if got.Predictions != want.Predictions || len(got.Reliability) != len(want.Reliability) {
		t.Errorf("%d predictions in %d bins, want %d in %d", got.Predictions, len(got.Reliability), want.Predictions, len(want.Reliability))
	}
}

// The names of the JSON are a contract.
func TestJSONNames(t *testing.T) {
	r := Test(build(read(t, career)), Options{})
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
	r := Test(build(read(t, career)), Options{Known: 5})
	twice := Pool(r, r).Pooled
	once := r.Pooled
	if twice.Predictions != 2*once.Predictions || twice.Intervals != 2*once.Intervals || twice.Games != 2*once.Games {
		t.Errorf("%+v", twice)
	}
	if off(twice.OneEvent, once.OneEvent) || off(twice.ECE, once.ECE) || off(twice.Coverage, once.Coverage) {
		t.Errorf("twice %+v, once %+v", twice, once)
	}
}

// With a small history, every move rests on one of the last games that were
// certainly earlier.
func TestSmallHistories(t *testing.T) {
	const last = 12
	p := build(read(t, career))
	n := 0
	Test(p, Options{Last: last, Each: func(got *Prediction) {
		n++
		since := 0
		for i := range slices.Backward(p.Games) {
			g := &p.Games[i]
			if g.Theirs == got.Game.Theirs && g.Dated && len(g.Moves) >= shortest && g.Span.Before(got.Game.Span) {
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
			games := shuffledAfter(read(t, career), "9999")
			for _, g := range games {
				g.Tags = append(slices.Clone(g.Tags), pgn.Tag{Name: "Date", Value: date})
			}
			r := Test(build(games), Options{})
			var text strings.Builder
			if err := r.Text(&text, "Kestrel, Ada"); err != nil {
				t.Fatal(err)
			}
			if r.Pooled.Predictions != 0 || text.String() != "These games do not suffice for a test: take the forecast as a list of what was played.\n" {
				t.Errorf("%+v\n%s", r.Pooled, text.String())
			}
		})
	}
}

// The sentences, with figures by hand.
func TestText(t *testing.T) {
	r := Result{Pooled: Figures{
		Predictions: 200, Games: 31, RawBits: 1, OneEvent: 0.9, Top1: 0.69, Top3: 0.9, ECE: 0.021, Intervals: 50, Coverage: 0.8,
		Reliability: []Bin{{P: 0.08, Observed: 0.1, N: 70}, {P: 0.5, Observed: 0.52, N: 60}, {P: 0.9, Observed: 0.91, N: 100}},
	}}
	var text strings.Builder
	if err := r.Text(&text, "Kestrel, Ada"); err != nil {
		t.Fatal(err)
	}
	want := `Kestrel, Ada, both colours
  200 forecasts in 31 past games; the move played was the first guess in 138 of 200, among the first three in 180 of 200
  when it said 5.0 in 10, the move came 5.2 in 10 (60 times)
  its '4 in 5' ranges held in 40 of 50
  0.900 bits a move, counts alone 1.000: 10 % less surprise

The shares can be taken as printed: on average they were off by 3 in 100; expect the first guess to be right about 7 times in 10.
`
	if text.String() != want {
		t.Errorf("got\n%swant\n%s", text.String(), want)
	}
	for name, f := range map[string]Figures{
		"Only 12 forecasts": {Predictions: 12}, "no better than counting": {Predictions: 200, RawBits: 1, OneEvent: 1.1},
		"likely from unlikely": {Predictions: 200, RawBits: 1, ECE: 0.05}, "Take the order": {Predictions: 200, RawBits: 1, ECE: 0.2},
	} {
		if got := (&Result{Pooled: f}).Verdict(); !strings.Contains(got, name) {
			t.Errorf("%s: %s", name, got)
		}
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
