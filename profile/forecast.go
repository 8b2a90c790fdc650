package profile

import (
	"foreply/profile/board"
)

// ForecastOptions set what the forecast rests on; the zero value is an unknown
// class, no peers and the default model.
type ForecastOptions struct {
	Class Class  // of the game to come; unknown weighs all classes alike
	Peers *Peers // games of players like the opponent, or nil
	Model *Model // nil means DefaultModel
	// Untuned leaves out the tuning to this opponent and the last step:
	// the middle setting alone, for the next game and for shares alike.
	Untuned bool
}

// Forecast tells how likely each move of the opponent is.
type Forecast struct {
	profile  *Profile
	tree     *Tree
	class    Class
	peers    *Peers
	model    Model
	untuned  bool
	settings []setting
	setUps   map[uint64][]*TreeNode // where they are to move, by the key of their own set-up
	fading   [halfLives][]float64
	recency  []float64
	tuning   tuning
}

// NewForecast forecasts the opponent's moves with colour theirs. It replays
// their games for the tuning: the cost is that of a few readings of them.
func NewForecast(p *Profile, theirs board.Color, opt ForecastOptions) *Forecast {
	f := &Forecast{profile: p, tree: p.Tree(theirs), class: opt.Class, peers: opt.Peers, untuned: opt.Untuned, model: DefaultModel()}
	if opt.Model != nil {
		f.model = *opt.Model
	}
	if f.peers != nil && f.peers.Games == 0 {
		f.peers = nil
	}
	f.settings = f.model.settings(f.peers != nil || f.model.Rivals)
	if f.untuned {
		f.settings = f.settings[middleOf(len(f.settings)):][:1]
	}
	f.setUps = setUps(p.Games, f.tree)
	f.fading = fadings(&f.model, p.Count(theirs))
	f.recency = recencies(&f.model)
	f.tuning = f.tune()
	return f
}

// middleOf is the index of the setting with the middle of every three.
func middleOf(settings int) int {
	return settings/settingsEach/2*settingsEach + settingsEach/2
}

// setUps lists the positions of the tree with the opponent to move by the key
// of the opponent's own pieces and castling rights.
func setUps(games []Game, t *Tree) map[uint64][]*TreeNode {
	out := map[uint64][]*TreeNode{}
	seen := make(map[*TreeNode]bool, t.Len())
	for i := range games {
		g := &games[i]
		if g.Theirs != t.Theirs {
			continue
		}
		pos := board.Start()
		for _, m := range g.Moves[:min(len(g.Moves), t.MaxPly)] {
			if pos.Turn() == t.Theirs {
				if n := t.At(pos.Key()); !seen[n] {
					seen[n] = true
					own := pos.OwnKey(t.Theirs)
					out[own] = append(out[own], n)
				}
			}
			pos.Play(m)
		}
	}
	return out
}

// Peered reports whether the forecast rests on peers' games as well.
func (f *Forecast) Peered() bool { return f.peers != nil }

// Expected is the forecast for one position.
type Expected struct {
	// Moves are all legal moves, likeliest first; their P sum to 1.
	Moves []Likely
	// Unseen is all moves never played from here together.
	Unseen Range
	// Visits counts passes of the known games through the position.
	Visits int
	// Strength is how many games' worth of knowledge the intervals rest on: the
	// probability p of a move is held as Beta(p*s, (1-p)*s).
	Strength float64
}

// Likely is one legal move.
type Likely struct {
	Move board.Move
	Range
	N    int   // how often it was played from here in the known games
	Last *Game // the newest game with it, nil if N is 0
}

// Range is a probability 0..1 with its 80 % interval: the share of many games to
// come lies within it eight times in ten.
type Range struct{ P, Lo, Hi float64 }

// Of returns the forecast of one move.
func (e *Expected) Of(m board.Move) (Likely, bool) {
	for _, l := range e.Moves {
		if l.Move == m {
			return l, true
		}
	}
	return Likely{}, false
}

// At forecasts the games to come at pos, played within when. Only games
// certainly played before it are known. For many positions of one day use On.
func (f *Forecast) At(pos *board.Position, when Span) Expected { return f.On(when).At(pos) }

// On returns the forecast for games played within when, of the class of the
// options.
func (f *Forecast) On(when Span) *Outlook { return f.For(when, f.class) }

// For returns the forecast for games played within when, of a class.
func (f *Forecast) For(when Span, class Class) *Outlook {
	if !when.Known() {
		when = f.profile.NextDay()
	}
	past := f.tuning.at(when)
	return &Outlook{
		f: f, weighing: *f.weigh(when, 0), class: class, classes: f.model.classWeights(class),
		mix: f.weights(past), own: past.own,
	}
}
