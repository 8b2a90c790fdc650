package fact

import (
	"encoding/json"
	"math"
)

// NewShare tells a share with its interval, and what it was counted from. Its Ten
// is set anew by who prints it among others.
func NewShare(c Chance, seen, of int) Share {
	s := Share{
		P: c.P, Lo: c.Lo, Hi: c.Hi, Seen: seen, Of: of,
		TenLo: int(math.Round(c.Lo * 10)), TenHi: int(math.Round(c.Hi * 10)), Hardly: c.Hardly() || of <= fewest,
	}
	s.SetTen(int(math.Round(c.P * 10)))
	return s
}

// Where a share is hardly known.
const (
	halfTheScale = 0.5 // width from which an interval says next to nothing
	fewest       = 2   // games at a place that say nothing of the next
)

// SetTen sets the printed share; its interval always holds it.
func (s *Share) SetTen(ten int) {
	s.Ten = ten
	s.TenLo, s.TenHi = min(s.TenLo, ten), max(s.TenHi, ten)
}

// Chance is a probability with its 80 % interval.
type Chance struct {
	P  float64 `json:"p"`
	Lo float64 `json:"lo"`
	Hi float64 `json:"hi"`
}

// Hardly reports whether the interval spans more than half of the scale.
func (c Chance) Hardly() bool { return c.Hi-c.Lo > halfTheScale }

// NewOften tells how often a game comes by a place that so many games of theirs
// came to, of those at the first choice of theirs on the way.
func NewOften(c Chance, games, of int) Often {
	return Often{
		Chance: c, Games: games, Of: of, Hardly: c.Hardly(),
		TenLo: int(math.Round(c.Lo * 10)), TenHi: int(math.Round(c.Hi * 10)),
	}
}

// Often is how often a game comes by: a chance, and its 80 % interval in tenths.
type Often struct {
	Chance
	Games int `json:"games"`  // of theirs that came here
	Of    int `json:"of"`     // of so many that came to the first choice of theirs in the line
	TenLo int `json:"ten_lo"` // to TenHi: the interval in tenths; neither stands in the JSON of one that is hardly known
	TenHi int `json:"ten_hi"`
	// Hardly known: the interval spans more than half of the scale.
	Hardly bool `json:"hardly_known,omitempty"`
}

// Score counts results from the opponent's side.
type Score struct {
	Wins    int `json:"w"`
	Draws   int `json:"d"`
	Losses  int `json:"l"`
	Unknown int `json:"u"`
}

// Share is a probability that knows what it rests on: P with its 80 % interval
// Lo..Hi, and the plain count Seen of Of visits.
type Share struct {
	P    float64 `json:"p"`
	Lo   float64 `json:"lo"`
	Hi   float64 `json:"hi"`
	Seen int     `json:"seen"`
	Of   int     `json:"of"`
	// Ten is the share of ten that is printed, by largest remainder among the
	// shares that stand together; TenLo to TenHi is the 80 % interval of
	// the share in tenths. The three stand in no JSON of a share that is hardly known.
	Ten   int `json:"ten"`
	TenLo int `json:"ten_lo"`
	TenHi int `json:"ten_hi"`
	// Hardly known: two games at the place or fewer, or an interval that spans more than
	// half of the scale. Then counts are told in place of the share.
	Hardly bool `json:"hardly_known,omitempty"`
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
