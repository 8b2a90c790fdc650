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
// new move, and ShortVisits 3 for 4. PeerDoubt was not fitted: peers are of use or not
// with even chances. All others are as published.
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
	PeerDoubt    float64    // weight, before replays, of settings that leave peers alone, beside those of each pull; 0 lets Heat decide between all alike

	Discount      float64    // Pitman-Yor discount of a move played once or more
	Concentration float64    // Pitman-Yor concentration
	Scales        [3]float64 // factor of both

	ShortVisits float64    // half-life of the short memory, in visits
	ShortPriors [3]float64 // weight of the long memory beside the short, in visits

	Heat         float64    // power of the likelihood in the tuning
	HeatMoves    float64    // replayed moves at which its square has halved; 0 is none
	RankMoves    int        // moves replayed by day after which games of one day no longer know each other; 0 is none
	EachNew      bool       // the tuning judges the very new move, not 'something new'
	Loose        Terms      // deviation of a player's numbers of the last step from the common ones
	Plain, Peers Refinement // without peers at the position, and with them
}

// Refinement is what was fitted to the finished mixture.
type Refinement struct {
	// The numbers of the last step that are common to all players.
	Terms Terms
	// Of several games to come a larger share is new than of the next, since what
	// is new now stays once it is repeated: the logit of the share of ten games
	// that is new becomes AheadShift + AheadSlope*logit of the next one's.
	AheadShift, AheadSlope float64
	// A share is held as a beta distribution of strength PerRoot times the root of
	// the effective visits, plus Bonus: habits drift, so that visits add less the
	// more there are.
	PerRoot, Bonus float64
}

// DefaultModel returns the numbers in use. Terms and Loose, and what the two Refinements
// hold, were fitted by measure -refit on eight careers; FIT.md has them for each career
// left out.
func DefaultModel() Model {
	return Model{
		HalfLifeDays: 2200, HalfLifeGames: [3]float64{40, 200, 1000}, OtherClass: 0.4, SetUpPrior: 3, NaturalPower: 1,
		Rivals: true, PeerDiscount: 0.3, PeerPrior: 0.5, PeerHalf: 10, PeerScales: [3]float64{0.3, 1, 3}, PeerClassic: 2, PeerDoubt: 3,
		Discount: 0.3, Concentration: 0.05, Scales: [3]float64{0.4, 1, 2},
		ShortVisits: 3, ShortPriors: [3]float64{2.4, 8, 24},
		Heat: 0.4, HeatMoves: 100, RankMoves: 300,
		Loose: Terms{0.03, 0.03, 0.03, 0.03, 0.03, 0.1, 0.03, 0.08, 0.03, 0.2},
		Plain: Refinement{Terms: Terms{-0.29, 0.11, 0.06, 0.07, 0.15, -1.11, -0.35, -0.16, -0.04, 0.19}, AheadShift: 0.25, AheadSlope: 0.98, PerRoot: 0.9, Bonus: 0.25},
		Peers: Refinement{Terms: Terms{-0.33, 0.14, 0.08, 0.13, 0.20, -1.16, -0.09, -0.07, 0.25, 0.10}, AheadShift: 0.24, AheadSlope: 0.97, PerRoot: 0.9, Bonus: 0.5},
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

// settingsEach is how many settings there are of each pull of the peers.
const settingsEach = halfLives * halfLives * halfLives

// settings lists the combinations, those of one pull together: 27 without peers, 108 with
// them.
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
