package compare

import (
	"foreply/profile"
)

// Options of Make; the zero value of a field means its default.
type Options struct {
	MaxPly    int                    // how deep lines are followed, in plies; default 40
	Threshold float64                // smallest reach that is followed, 0..1; default 0.01
	FewGames  int                    // up to so many games are listed instead of counted; default 12
	When      profile.Span           // the day of the game to come
	Class     profile.Class          // its time class; unknown weighs all games alike
	Me        func(name string) bool // is this the user? nil when not known
}

func (o Options) withDefaults() Options {
	if o.MaxPly == 0 {
		o.MaxPly = 40
	}
	if o.Threshold == 0 {
		o.Threshold = 0.01
	}
	if o.FewGames == 0 {
		o.FewGames = 12
	}
	return o
}

// Input is what a Report is made of. The caller fills of Basis what only it
// knows: sources, games left out and warnings.
type Input struct {
	Profile  *profile.Profile
	Books    []*Book // one for each colour the user may have
	Opponent Opponent
	Heading  Heading
	Basis    Basis
}
