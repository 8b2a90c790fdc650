package profile

// Model holds the numbers of the forecast. Those in threes are tried against
// each other on the opponent's own games (tuning.go); the others are fixed. The
// sources of the formulas stand beside them in evidence.go and mixture.go.
//
// Where the numbers come from. The structure and most numbers were found by
// others, walk-forward over thirteen real careers: the published numbers. What
// differs here was chosen by measure -fit (cmd/measure/forecast/FIT.md has
// its tables), over four other careers, each judged by what was chosen on the
// other three: natural moves in place of 'any legal move' (fitted on games of a
// day by many players, none of the four), the other players in the opponent's
// own games as peers, half-lives of 40, 200 and 1000 games for 150, 600 and
// none, SetUpPrior 3 for 8. Two were taken for what they do beside peers, seen on
// all four: tuning by the chance given to 'something new' in place of the very
// new move, and ShortVisits 3 for 4. All others are as published.
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

	Heat         float64    // power of the likelihood in the tuning
	HeatMoves    float64    // replayed moves at which its square has halved; 0 is none
	RankMoves    int        // moves replayed by day after which games of one day no longer know each other; 0 is none
	EachNew      bool       // the tuning judges the very new move, not 'something new'
	Plain, Peers Refinement // without and with peers
}

// Refinement is what was fitted to the finished mixture.
type Refinement struct {
	// The logit of 'something new' becomes NewShift + NewSlope*logit +
	// NewPly*(ply-10), ply 1 being the game's first half-move.
	NewShift, NewSlope, NewPly float64
	// How firmly a player's own readiness for something new is held to that of all
	// others: the precision of its prior, in logits; 0 takes all alike.
	NewHold float64
	// Of several games to come a larger share is new than of the next, since what
	// is new now stays once it is repeated: the logit of the share of ten games
	// that is new becomes AheadShift + AheadSlope*logit of the next one's.
	AheadShift, AheadSlope float64
	// A share is held as a beta distribution of strength PerRoot times the root of
	// the effective visits, plus Bonus: habits drift, so that visits add less the
	// more there are.
	PerRoot, Bonus float64
}

// DefaultModel returns the numbers in use. The two Refinements are fitted by
// measure -refit on four careers; FIT.md has them for each career left out.
func DefaultModel() Model {
	return Model{
		HalfLifeDays: 2200, HalfLifeGames: [3]float64{40, 200, 1000}, OtherClass: 0.4, SetUpPrior: 3, NaturalPower: 1,
		Rivals: true, PeerDiscount: 0.3, PeerPrior: 0.5, PeerHalf: 10, PeerScales: [3]float64{0.3, 1, 3}, PeerClassic: 2,
		Discount: 0.3, Concentration: 0.05, Scales: [3]float64{0.4, 1, 2},
		ShortVisits: 3, ShortPriors: [3]float64{2.4, 8, 24},
		Heat: 0.4, HeatMoves: 100, RankMoves: 300,
		Plain: Refinement{NewShift: -0.56, NewSlope: 0.73, NewPly: -0.045, NewHold: 8, AheadShift: 0.34, AheadSlope: 1.08, PerRoot: 0.9},
		Peers: Refinement{NewShift: -0.45, NewSlope: 0.79, NewPly: -0.041, NewHold: 2, AheadShift: 0.43, AheadSlope: 1.16, PerRoot: 0.9},
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
