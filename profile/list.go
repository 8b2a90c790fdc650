package profile

import (
	"cmp"

	"foreply/fetch/pgn"
)

// List names the rating list of the game, since ratings of different lists are
// never pooled: its configured source; else the host where it was played; else
// pgn.Online or pgn.OverTheBoard.
func (g *Game) List() string {
	list := pgn.OverTheBoard
	if g.Venue.Online {
		list = pgn.Online
	}
	return cmp.Or(g.Source, g.Venue.Host, list)
}
