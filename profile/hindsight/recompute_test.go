package hindsight

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"foreply/profile/board"
)

const script = "../../testdata/hindsight/recompute.py"

// A program that reads nothing but the CSV, and of that nothing but what was
// played and the legal moves with n and p, gets the figures of each colour.
func TestSecondReckoningAgrees(t *testing.T) {
	text, r := predictions(t, read(t, career), Options{Known: 5})
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	both := &reckoning{}
	sides := map[string]*reckoning{board.White.String(): {}, board.Black.String(): {}}
	for _, row := range rows[1:] {
		if problem := sides[row[3]].enter(row) + both.enter(row); problem != "" {
			t.Fatal(row[:7], problem)
		}
	}
	agree(t, "white", sides["white"].figures(), r.White)
	agree(t, "black", sides["black"].figures(), r.Black)
	agree(t, "pooled", both.figures(), r.Pooled)
}

// A second program in another language does too.
func TestScriptAgrees(t *testing.T) {
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
	agree(t, "script", got, r.Pooled)
}

func agree(t *testing.T, name string, got, want Figures) {
	t.Helper()
	near := func(what string, a, b float64) {
		if !(math.Abs(a-b) < 1e-9) {
			t.Errorf("%s, %s: %v by the other way, we have %v", name, what, a, b)
		}
	}
	near("raw", got.RawBits, want.RawBits)
	near("one event", got.OneEvent, want.OneEvent)
	near("full", got.FullBits, want.FullBits)
	near("top1", got.Top1, want.Top1)
	near("top3", got.Top3, want.Top3)
	near("ece", got.ECE, want.ECE)
	near("ece of new", got.ECENew, want.ECENew)
	if got.Predictions != want.Predictions || got.Predictions == 0 || len(got.Reliability) != len(want.Reliability) {
		t.Fatalf("%s: %d predictions in %d bins, we have %d in %d", name, got.Predictions, len(got.Reliability), want.Predictions, len(want.Reliability))
	}
	for i, b := range want.Reliability {
		near("p", got.Reliability[i].P, b.P)
		near("observed", got.Reliability[i].Observed, b.Observed)
		near("n", float64(got.Reliability[i].N), float64(b.N))
	}
}

// reckoning works the figures out as they are defined, without the code
// that is tested.
type reckoning struct {
	n                              float64
	raw, one, full, first, inThree float64
	given, givenNew                []chance
}

type chance struct {
	p    float64
	came float64
}

// enter adds a row and says what is wrong with it.
func (k *reckoning) enter(row []string) string {
	played, total, legal, seen, fresh := row[6], 0.0, 0.0, 0.0, 0.0
	var of, count float64
	place, at := 0, 0
	var known []chance
	for i, field := range strings.Fields(row[12]) {
		f := strings.Split(field, "=")
		n, err1 := strconv.ParseFloat(f[1], 64)
		p, err2 := strconv.ParseFloat(f[2], 64)
		if len(f) != 3 || err1 != nil || err2 != nil || !(p >= 0 && p <= 1) {
			return "no move: " + field
		}
		total, legal, seen = total+p, float64(i+1), seen+n
		came := 0.0
		if f[0] == played {
			of, count, came = p, n, 1
		}
		if n == 0 {
			fresh += p
			continue
		}
		place++
		if came == 1 {
			at = place
		}
		known = append(known, chance{p, came})
	}
	if !(math.Abs(total-1) < 1e-9) || seen == 0 || of == 0 {
		return "probabilities that are none"
	}
	k.n++
	k.full -= math.Log2(of)
	unseen := legal - float64(place)
	newCame := 0.0
	if count == 0 {
		newCame = 1
		of, count = fresh, 0.01*(unseen-1)
	}
	k.one -= math.Log2(of)
	k.raw -= math.Log2((count + 0.01) / (seen + 0.01*legal))
	if at == 1 {
		k.first++
	}
	if at >= 1 && at <= 3 {
		k.inThree++
	}
	k.given = append(append(k.given, known...), chance{fresh, newCame})
	k.givenNew = append(k.givenNew, chance{fresh, newCame})
	return ""
}

func (k *reckoning) figures() Figures {
	f := Figures{
		Predictions: int(k.n), RawBits: k.raw / k.n, OneEvent: k.one / k.n, FullBits: k.full / k.n,
		Top1: k.first / k.n, Top3: k.inThree / k.n,
	}
	f.ECE, f.Reliability = tenths(k.given)
	f.ECENew, _ = tenths(k.givenNew)
	return f
}

func tenths(list []chance) (ece float64, bins []Bin) {
	for i := range 10 {
		var n, p, came float64
		for _, c := range list {
			if math.Floor(c.p*10) == float64(i) || i == 9 && c.p == 1 {
				n, p, came = n+1, p+c.p, came+c.came
			}
		}
		if n > 0 {
			ece += math.Abs(p-came) / float64(len(list))
			bins = append(bins, Bin{P: p / n, Observed: came / n, N: int(n)})
		}
	}
	return ece, bins
}

// The coverage by another way: the beta-binomial from gamma functions.
func TestCoverageAgrees(t *testing.T) {
	_, r := predictions(t, read(t, career), Options{Known: 5})
	lbeta := func(a, b float64) float64 {
		x, _ := math.Lgamma(a)
		y, _ := math.Lgamma(b)
		z, _ := math.Lgamma(a + b)
		return x + y - z
	}
	choose := []float64{1, 10, 45, 120, 210, 252, 210, 120, 45, 10, 1}
	held, least, leastOfNew := 0.0, 1.0, 1.0
	list := r.Intervals()
	for _, i := range list {
		if i.New {
			leastOfNew = min(leastOfNew, i.P)
		} else {
			least = min(least, i.P)
		}
		a, b := i.P*i.Strength, (1-i.P)*i.Strength
		of := func(k int) float64 {
			return choose[k] * math.Exp(lbeta(a+float64(k), b+float64(10-k))-lbeta(a, b))
		}
		at := i.U * of(i.Hits)
		for k := range i.Hits {
			at += of(k)
		}
		if at >= 0.1 && at <= 0.9 {
			held++
		}
	}
	if least < 0.03 || least > 0.06 || leastOfNew < 0.005 || leastOfNew > 0.06 {
		t.Errorf("judged from %v on, something new from %v on", least, leastOfNew)
	}
	if want := r.Pooled.Coverage; len(list) < 100 || math.Abs(held/float64(len(list))-want) > 1e-12 {
		t.Errorf("%v of %d held, we have %v", held, len(list), want)
	}
}
