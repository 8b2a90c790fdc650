package profile

// Model holds the numbers of the forecast. Those in threes are tried against
// each other on the opponent's own games (tuning.go); the others are fixed. The
// sources of the formulas stand beside them in evidence.go and mixture.go.
//
// Where the numbers come from. The structure and most numbers were found by
// others, walk-forward over thirteen real careers. Changed here, over four
// careers (5,300 games; two over the board, two online), by the same test:
// natural moves in place of 'any legal move' (fitted on games of a day by many
// players, none of the four), SetUpPrior 8 to 5, HalfLifeGames 150, 600, none to
// 60, 250, 1000, ShortVisits 4 to 3, tuning by the chance given to 'something
// new' in place of the very new move. The two Refinements were fitted on the
// finished mixture: the numbers of new moves by the likelihood over the four
// pooled (leaving out each career in turn moves them little, see the figures
// beside DefaultModel), the two of the intervals for coverage near 80 %, not
// for likelihood, which would have them narrower (0.25 and 0.7, covering 76 %).
type Model struct {
	HalfLifeDays  float64    // of a visit's weight by age, in days
	HalfLifeGames [3]float64 // of its weight by games of the colour since; 0 is none
	OtherClass    float64    // weight of a visit of another time class
	SetUpPrior    float64    // visits' worth of natural moves beside the own set-up
	NaturalPower  float64    // power of the natural moves' probabilities; 0 makes all alike

	Rivals       bool       // the other players in the opponent's games count as peers
	PeerDiscount float64    // taken off each move's count in the peers' games
	PeerPrior    float64    // visits' worth of the own set-up beside the peers
	PeerHalf     float64    // peers' visits at which they have half their pull
	PeerScales   [3]float64 // the pull of the peers on the long memory, in visits
	PeerClassic  float64    // its factor if the coming game is classical

	Discount      float64    // Pitman-Yor discount of a move played once or more
	Concentration float64    // Pitman-Yor concentration
	Scales        [3]float64 // factor of both

	ShortVisits float64    // half-life of the short memory, in visits
	ShortPriors [3]float64 // weight of the long memory beside the short, in visits

	ByClass bool // the short memory of each time class by itself

	Heat         float64    // power of the likelihood in the tuning
	EachNew      bool       // the tuning judges the very new move, not 'something new'
	Plain, Peers Refinement // without and with peers
}

// Refinement is what was fitted to the finished mixture.
type Refinement struct {
	// The logit of 'something new' becomes NewShift + NewSlope*logit +
	// NewPly*(ply-10), ply 1 being the game's first half-move.
	NewShift, NewSlope, NewPly float64
	// An interval is as wide as that of a beta distribution resting on
	// PerEffective visits for each effective one, plus Bonus.
	PerEffective, Bonus float64
}

// DefaultModel returns the numbers in use. Fitted without the career named, the
// step for new moves would be (shift, slope, ply):
//
//	          without peers            with peers
//	otb-1     -0.53  0.78  -0.053      -0.52  0.71  -0.039
//	otb-2     -0.39  0.79  -0.022      -0.42  0.76  -0.017
//	online-1  -0.52  0.77  -0.025      -0.54  0.71  -0.017
//	online-2  -0.58  0.74  -0.029      -0.56  0.69  -0.031
//
// and costs the career left out 0.001 to 0.008 bits against the pooled fit.
func DefaultModel() Model {
	return Model{
		HalfLifeDays: 2200, HalfLifeGames: [3]float64{60, 250, 1000}, OtherClass: 0.4, SetUpPrior: 5, NaturalPower: 1,
		Rivals: true, PeerDiscount: 0.3, PeerPrior: 0.5, PeerHalf: 10, PeerScales: [3]float64{0.3, 1, 3}, PeerClassic: 2,
		Discount: 0.3, Concentration: 0.05, Scales: [3]float64{0.4, 1, 2},
		ShortVisits: 3, ShortPriors: [3]float64{2.4, 8, 24},
		Heat:  0.2,
		Plain: Refinement{NewShift: -0.5, NewSlope: 0.77, NewPly: -0.03, PerEffective: 0.15, Bonus: 0.5},
		Peers: Refinement{NewShift: -0.5, NewSlope: 0.72, NewPly: -0.025, PerEffective: 0.2, Bonus: 0.5},
	}
}

// setting is one combination of the numbers that are tried.
type setting struct {
	halfLife   int     // index into HalfLifeGames
	peers      bool    // whether the peers count at all
	peerScale  float64 // their pull
	discount   float64
	conc       float64
	shortPrior float64
}

// settings lists the combinations: 27 without peers, 108 with them.
func (m *Model) settings(peers bool) []setting {
	pulls := []float64{0}
	if peers {
		pulls = append(pulls, m.PeerScales[:]...)
	}
	var out []setting
	for i, pull := range pulls {
		for _, prior := range m.ShortPriors {
			for _, scale := range m.Scales {
				for h := range m.HalfLifeGames {
					out = append(out, setting{
						halfLife: h, peers: i > 0, peerScale: pull,
						discount: m.Discount * scale, conc: m.Concentration * scale, shortPrior: prior,
					})
				}
			}
		}
	}
	return out
}

func (m *Model) refinement(peers bool) Refinement {
	if peers {
		return m.Peers
	}
	return m.Plain
}
