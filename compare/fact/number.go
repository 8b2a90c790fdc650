package fact

import (
	"encoding/json"
	"math"
)

// NewShare tells a share with its interval, which is made to hold it, and what it was
// counted from.
func NewShare(c Chance, seen, of int) Share {
	c.Lo, c.Hi = min(c.Lo, c.P), max(c.Hi, c.P) // of a skewed one both may lie beyond
	return Share{
		P: c.P, Lo: c.Lo, Hi: c.Hi, Seen: seen, Of: of, Ten: tenths(c.P), TenLo: tenths(c.Lo), TenHi: tenths(c.Hi),
		Hardly: c.Hardly() || of <= FewestGames,
	}
}

func tenths(p float64) int { return int(math.Round(10 * p)) }

// Where a share is hardly known.
const (
	halfTheScale = 0.5 // width from which an interval says next to nothing
	FewestGames  = 2   // games at a place that say nothing of the next
)

// Where a forecast is far from the count that stands beside it.
const (
	farFrom  = 0.1  // less apart is not worth a word
	farRatio = 1.5  // one is so many times the other
	farApart = 0.25 // or they are so far apart
)

// Far tells whether the forecast is far from the plain count: 1 if more is to be expected
// than they were counted, -1 if less, 0 if the two agree or hardly anything was counted. What came of
// late and at the speed of the game to come counts more, and where little does, what others
// play.
func (s Share) Far() int { return far(s.P, s.Seen, s.Of) }

// Counted reports whether a share is told by its count, since the forecast of it is hardly
// known.
func (s Share) Counted() bool { return s.Of > 0 && (s.Hardly || s.Of <= FewestGames) }

// Far tells the same of how often a game comes by.
func (o Often) Far() int { return far(o.P, o.Games, o.Of) }

func far(p float64, seen, of int) int {
	if seen == 0 || of <= FewestGames {
		return 0
	}
	plain := float64(seen) / float64(of)
	apart := math.Abs(plain - p)
	switch {
	case apart < farFrom, apart < farApart && max(plain, p) <= farRatio*min(plain, p):
		return 0
	case p > plain:
		return 1
	}
	return -1
}

// Chance is a probability with its 80 % interval.
type Chance struct {
	P  float64 `json:"p"`  // probability
	Lo float64 `json:"lo"` // lower end of its 80 % interval
	Hi float64 `json:"hi"` // upper end
}

// Hardly reports whether the interval spans more than half of the scale.
func (c Chance) Hardly() bool { return c.Hi-c.Lo > halfTheScale }

// NewOften tells how often a game comes by a place that so many games of theirs
// came to, of those at the first choice of theirs on the way.
func NewOften(c Chance, games, of int) Often {
	return Often{Chance: c, Games: games, Of: of, Hardly: c.Hardly(), TenLo: tenths(c.Lo), TenHi: tenths(c.Hi)}
}

// Often is how often a game comes by: a chance, and its 80 % interval in tenths.
type Often struct {
	Chance
	Games int `json:"games"`  // of theirs that came here
	Of    int `json:"of"`     // of so many that came to the first choice of theirs in the line
	TenLo int `json:"ten_lo"` // to TenHi: the interval in tenths; neither stands in the JSON of one that is hardly known
	TenHi int `json:"ten_hi"` // upper end
	// Hardly known: the interval spans more than half of the scale.
	Hardly   bool `json:"hardly_known,omitempty"`
	AnyOrder bool `json:"by_any_order,omitempty"` // other orders of moves add to it: more than the shares along the line give
}

// Score counts results from the opponent's side.
type Score struct {
	Wins    int `json:"w"` // games won
	Draws   int `json:"d"` // games drawn
	Losses  int `json:"l"` // games lost
	Unknown int `json:"u"` // games without a result
}

// Share is a probability that knows what it rests on: P with its 80 % interval
// Lo..Hi, and the plain count Seen of Of visits.
type Share struct {
	P    float64 `json:"p"`    // probability
	Lo   float64 `json:"lo"`   // lower end of its 80 % interval
	Hi   float64 `json:"hi"`   // upper end
	Seen int     `json:"seen"` // games with the move
	Of   int     `json:"of"`   // games that came to the place
	// Ten is P in tenths, TenLo to TenHi the 80 % interval. The three stand in no JSON of a
	// share that is hardly known.
	Ten   int `json:"ten"`    // of ten games, as it is told
	TenLo int `json:"ten_lo"` // lower end of the interval in ten games
	TenHi int `json:"ten_hi"` // upper end
	// Hardly known: two games at the place or fewer, or an interval that spans more than
	// half of the scale. Then counts are told in place of the share.
	Hardly bool `json:"hardly_known,omitempty"`
	// AnyOrder: more games came to the place than went to it by the line told; other orders
	// of moves lead there.
	AnyOrder bool `json:"by_any_order,omitempty"`
	// OfPeers: there is no game of theirs with the colour, which the Side says.
	OfPeers bool `json:"-"`
}

// MarshalJSON leaves out the tenths of a share that is hardly known.
func (s Share) MarshalJSON() ([]byte, error) {
	type plain Share
	if !s.Hardly {
		return json.Marshal(plain(s))
	}
	return json.Marshal(struct {
		plain
		Ten   *int `json:"ten,omitempty"`
		TenLo *int `json:"ten_lo,omitempty"`
		TenHi *int `json:"ten_hi,omitempty"`
	}{plain: plain(s)})
}

// MarshalJSON leaves out the tenths of what is hardly known.
func (o Often) MarshalJSON() ([]byte, error) {
	type plain Often
	if !o.Hardly {
		return json.Marshal(plain(o))
	}
	return json.Marshal(struct {
		plain
		TenLo *int `json:"ten_lo,omitempty"`
		TenHi *int `json:"ten_hi,omitempty"`
	}{plain: plain(o)})
}

// Yours is the same score from the user's side.
func (s Score) Yours() Score {
	s.Wins, s.Losses = s.Losses, s.Wins
	return s
}

// Games counts all games of the score.
func (s Score) Games() int { return s.Wins + s.Draws + s.Losses + s.Unknown }
