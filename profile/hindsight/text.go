package hindsight

import (
	"fmt"
	"math"
	"strings"

	"foreply/profile"
	"foreply/profile/board"
)

// Section is a part of a result in words.
type Section struct {
	Name  string // 'with White'
	Of    string // what was tested: '362 moves in 100 games'
	Lines []string
}

// Heading says what was tested: how many moves of how many games.
func (r *Result) Heading() string {
	if r.Pooled.Predictions == 0 {
		return "no past game to test the forecast on"
	}
	return fmt.Sprintf("%s in %s, each forecast from earlier games alone",
		count(r.Pooled.Predictions, "move of theirs", "moves of theirs"), count(r.Pooled.Games, "past game", "past games"))
}

// Words are the figures as sentences that a player understands: for each colour
// that there was something to test with, and for both together. Where that is one
// colour, it alone says everything.
func (r *Result) Words() []Section {
	var out []Section
	for _, side := range [...]struct {
		name string
		f    *Figures
	}{{"with White", &r.White}, {"with Black", &r.Black}} {
		if f := side.f; f.Predictions > 0 {
			out = append(out, Section{Name: side.name, Of: f.guesses()})
		}
	}
	switch f := &r.Pooled; len(out) {
	case 1:
		out[0] = Section{out[0].Name, f.tested(), f.sentences()}
	case 2:
		out = append(out, Section{"both colours", f.tested(), f.sentences()})
	}
	return out
}

func (f *Figures) tested() string {
	return fmt.Sprintf("%s in %s", count(f.Predictions, "move", "moves"), count(f.Games, "game", "games"))
}

// sentences are all that is said.
func (f *Figures) sentences() []string {
	lines := []string{f.guesses(),
		fmt.Sprintf("something new: said %s in 10, came %s; %s", tens(f.New.P), tens(f.New.Observed), f.gain())}
	if f.Intervals > 0 {
		lines = append(lines, fmt.Sprintf("its 'likely' ranges are meant to hold 8 times in 10; they held in %.0f of %d", f.Coverage*float64(f.Intervals), f.Intervals))
	}
	return lines
}

func (f *Figures) guesses() string {
	n := float64(f.Predictions)
	return fmt.Sprintf("top guess right in %.0f of %d, one of the top three in %.0f", f.Top1*n, f.Predictions, f.Top3*n)
}

func (f *Figures) gain() string {
	return f.Against("surprised") + " than counting"
}

// Against compares with plain counting, how surprised either was: '12 % less',
// with a word behind it if one is given.
func (f *Figures) Against(word string) string {
	text := fmt.Sprintf("%.0f %%", 100*math.Abs(f.loss()))
	switch {
	case text == "0 %":
		text = "no less"
	case f.loss() < 0:
		text += " less"
	default:
		text += " more"
	}
	return strings.TrimSpace(text + " " + word)
}

// loss is the surprise against that of plain counts, as a share of it: below 0
// is better.
func (f *Figures) loss() float64 {
	if f.RawBits == 0 {
		return 0
	}
	return f.OneEvent/f.RawBits - 1
}

// Method says how the test was made.
func (r *Result) Method() string {
	return fmt.Sprintf("Tested are their first %d moves at most, up to the first that was new at its position, in games of which %d of "+
		"the same colour were certainly earlier. Each forecast knows these earlier games alone. Games without a date or under %d "+
		"half-moves are left out.", profile.ScoredPlies/2, r.known, shortest)
}

// Limits of the verdict.
const (
	enough   = 100  // predictions below which no verdict is given
	faithful = 0.03 // calibration error up to which shares may be taken as printed
	coarse   = 0.08 // up to which they tell likely from unlikely
	byChance = 1.3  // times the error of chance up to which chance explains it
)

// Verdict says in one sentence how far to trust the forecast for whom, as 'this
// opponent'.
func (r *Result) Verdict(whom string) string {
	f := &r.Pooled
	switch {
	case f.Predictions == 0:
		return fmt.Sprintf("Too few games to test (%d with White, %d with Black): a game counts once %d of its colour are certainly earlier; "+
			"read the forecast as a list of what was played.", r.tallies[board.White].fit, r.tallies[board.Black].fit, r.known)
	case f.Predictions < enough:
		return fmt.Sprintf("Only %s could be tested, too few to say how far to trust the forecast for %s.",
			count(f.Predictions, "move", "moves"), whom)
	}
	counting := ""
	if f.loss() > -0.005 {
		counting = "; plain counting would have served as well"
	}
	return fmt.Sprintf("For %s %s, and the top guess is %s%s.", whom, f.trust(), f.right(), counting)
}

// right says how often the top guess was; '10 times in 10' would promise too much.
func (f *Figures) right() string {
	if f.Top1 >= 0.95 {
		return "nearly always right"
	}
	return fmt.Sprintf("right %.0f times in 10", 10*f.Top1)
}

// trust says what the shares are worth.
func (f *Figures) trust() string {
	off := fmt.Sprintf("about %.0f in 100", 100*f.ECE)
	if f.ECE < 0.01 {
		off = "less than 1 in 100"
	}
	switch {
	case f.ECE <= faithful:
		return "the shares can be taken as printed: they were off by " + off + " on average"
	case f.ECE <= byChance*f.chance:
		return "nothing speaks against the shares, but the test is small: they were off by " + off + ", as chance alone can do"
	case f.ECE <= coarse:
		return "the shares tell likely from unlikely, no more: they were off by " + off + " on average"
	}
	return "take the order of the moves and not their shares, which were off by " + off + " on average"
}

// tens prints a probability as 'in 10'.
func tens(p float64) string { return fmt.Sprintf("%.1f", 10*p) }

func count(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, more)
}

// Scale is the reliability as a table of columns, 80 characters wide at most:
// what was said, what came, and how often that was.
func (f *Figures) Scale() string {
	var said, came, times strings.Builder
	for _, b := range f.Reliability {
		fmt.Fprintf(&said, " %6s", tens(b.P))
		fmt.Fprintf(&came, " %6s", tens(b.Observed))
		fmt.Fprintf(&times, " %6d", b.N)
	}
	return "said   " + said.String() + "\ncame   " + came.String() + "\ntimes  " + times.String() + "\n"
}
