package fact

import "math"

// NewShare tells a share with its interval, and what it was counted from. Its Ten
// is set anew by who prints it among others.
func NewShare(c Chance, seen, of int) Share {
	s := Share{
		P: c.P, Lo: c.Lo, Hi: c.Hi, Seen: seen, Of: of,
		TenLo: int(math.Round(c.Lo * 10)), TenHi: int(math.Round(c.Hi * 10)), Hardly: c.Hi-c.Lo > halfTheScale,
	}
	s.SetTen(int(math.Round(c.P * 10)))
	return s
}

// halfTheScale is the width from which an interval says next to nothing.
const halfTheScale = 0.5

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

// Often is how often a game comes by: a chance, and its 80 % interval in tenths.
type Often struct {
	Chance
	TenLo int `json:"ten_lo"`
	TenHi int `json:"ten_hi"`
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
	// the share in tenths.
	Ten   int `json:"ten"`
	TenLo int `json:"ten_lo"`
	TenHi int `json:"ten_hi"`
	// Hardly known: the interval spans more than half of the scale.
	Hardly bool `json:"hardly_known,omitempty"`
}

// Yours is the same score from the user's side.
func (s Score) Yours() Score {
	s.Wins, s.Losses = s.Losses, s.Wins
	return s
}

// Games counts all games of the score.
func (s Score) Games() int { return s.Wins + s.Draws + s.Losses + s.Unknown }
