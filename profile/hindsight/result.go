package hindsight

import (
	"foreply/profile/board"
	"foreply/profile/stat"
)

// Result is the outcome of a Test, or of several pooled.
type Result struct {
	White  Figures `json:"white"` // the opponent had White
	Black  Figures `json:"black"`
	Pooled Figures `json:"pooled"`

	tallies [2]tally
	known   int // earlier games that a game needed to be judged
}

// Figures measure forecasts. Bits are the mean of -log2 of the probability
// given to what came: 0 is certainty, and each bit less halves the doubt.
type Figures struct {
	Predictions int     `json:"predictions"`
	RawBits     float64 `json:"raw_bits"`       // one-event bits of the plain counts
	OneEvent    float64 `json:"one_event_bits"` // 'something new' is one outcome
	FullBits    float64 `json:"full_bits"`      // new moves one by one
	Top1        float64 `json:"top1"`           // share in which the likeliest move came
	Top3        float64 `json:"top3"`
	ECE         float64 `json:"ece"`        // expected calibration error of all probabilities
	ECENew      float64 `json:"ece_new"`    // of 'something new' alone
	Brier       float64 `json:"brier"`      // mean squared error of all probabilities (Brier 1950), 0..1
	Coverage    float64 `json:"coverage80"` // share of 80 % intervals that held; 0 if none was judged
	Intervals   int     `json:"intervals"`  // judged
	Evidence    []Level `json:"evidence"`   // the same by how many visits they rest on
	Games       int     `json:"games"`      // in which something was forecast
	Reliability []Bin   `json:"reliability"`
	New         Bin     `json:"new"` // 'something new' in all forecasts

	fit    int     // games that could be known: dated, six plies or more
	chance float64 // the calibration error that chance alone would make
}

// Bin compares probabilities of one tenth with what came.
type Bin struct {
	P        float64 `json:"p"`        // mean probability given
	Observed float64 `json:"observed"` // share that came
	Lo       float64 `json:"lo"`       // Wilson's 95 % interval of that share
	Hi       float64 `json:"hi"`
	N        int     `json:"n"`
}

// confidence of a bin's range. It takes the probabilities for independent, which
// those of one habit are not; so the range is rather too narrow.
const confidence = 0.95

// Pool joins results as if all their predictions were of one test.
func Pool(results ...Result) Result {
	var out Result
	for i := range results {
		out.known = max(out.known, results[i].known)
		for c := range out.tallies {
			out.tallies[c].merge(&results[i].tallies[c])
		}
	}
	out.sumUp()
	return out
}

func (r *Result) sumUp() {
	var all tally
	all.merge(&r.tallies[board.White])
	all.merge(&r.tallies[board.Black])
	r.White, r.Black, r.Pooled = r.tallies[board.White].figures(), r.tallies[board.Black].figures(), all.figures()
}

// tally collects predictions.
type tally struct {
	fit             int
	predictions     int
	games           int
	raw, one, full  float64 // bits, summed
	top1, top3, new int
	all, fresh      stat.Calibration
	brier           float64 // summed over all probabilities given
	given           int     // how many these are
	unseen          float64 // probabilities of something new, summed
	covered         int
	intervals       []Interval
}

func (t *tally) add(p *Prediction) {
	t.predictions++
	t.raw += stat.Bits(p.Raw)
	t.one += stat.Bits(p.Given)
	t.full += stat.Bits(p.Full)
	switch {
	case p.New:
		t.new++
	case p.Rank == 1:
		t.top1++
		t.top3++
	case p.Rank <= 3:
		t.top3++
	}
	for _, l := range p.Expected.Moves {
		if l.N > 0 {
			t.addProbability(l.P, l.Move == p.Played)
		}
	}
	t.addProbability(p.Expected.Unseen.P, p.New)
	t.fresh.Add(p.Expected.Unseen.P, p.New)
	t.unseen += p.Expected.Unseen.P
}

func (t *tally) addProbability(p float64, came bool) {
	t.all.Add(p, came)
	t.brier += stat.Brier(p, came)
	t.given++
}

func (t *tally) addInterval(i Interval) {
	t.intervals = append(t.intervals, i)
	if i.Covered(i.Strength) {
		t.covered++
	}
}

func (t *tally) merge(o *tally) {
	t.fit += o.fit
	t.predictions += o.predictions
	t.games += o.games
	t.raw += o.raw
	t.one += o.one
	t.full += o.full
	t.top1 += o.top1
	t.top3 += o.top3
	t.new += o.new
	t.all.Merge(&o.all)
	t.fresh.Merge(&o.fresh)
	t.brier += o.brier
	t.given += o.given
	t.unseen += o.unseen
	t.covered += o.covered
	t.intervals = append(t.intervals, o.intervals...)
}

func (t *tally) figures() Figures {
	f := Figures{Predictions: t.predictions, Games: t.games, Intervals: len(t.intervals), Reliability: []Bin{}, fit: t.fit}
	if t.predictions > 0 {
		n := float64(t.predictions)
		f.RawBits, f.OneEvent, f.FullBits = t.raw/n, t.one/n, t.full/n
		f.Top1, f.Top3 = float64(t.top1)/n, float64(t.top3)/n
		f.ECE, f.ECENew = t.all.ECE(), t.fresh.ECE()
		f.Brier = t.brier / float64(t.given)
		f.chance = t.all.ChanceECE()
		f.New = NewBin(t.unseen, float64(t.new), t.predictions)
	}
	if f.Intervals > 0 {
		f.Coverage = float64(t.covered) / float64(f.Intervals)
	}
	f.Evidence = byLevel(t.intervals)
	for _, b := range t.all.Bins() {
		if b.N > 0 {
			f.Reliability = append(f.Reliability, NewBin(b.Sum, float64(b.Hits), b.N))
		}
	}
	return f
}

// NewBin is the bin of n probabilities, summed, of which so many came.
func NewBin(sum, hits float64, n int) Bin {
	lo, hi := stat.Wilson(hits, float64(n), confidence)
	return Bin{P: sum / float64(n), Observed: hits / float64(n), Lo: lo, Hi: hi, N: n}
}

// Intervals returns the intervals that were judged.
func (r *Result) Intervals() []Interval {
	return append(append([]Interval{}, r.tallies[board.White].intervals...), r.tallies[board.Black].intervals...)
}
