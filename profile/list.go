package profile

import "cmp"

// OverTheBoard is the rating list of games with no sign of having been played
// online.
const OverTheBoard = "over the board"

// Online is the list of games that were played online, nobody says where.
const Online = "online"

// List names the rating list of the game, since ratings of different lists are
// never pooled: its configured source; else the host where it was played; else
// Online or OverTheBoard.
func (g *Game) List() string {
	list := OverTheBoard
	if g.Venue.Online {
		list = Online
	}
	return cmp.Or(g.Source, g.Venue.Host, list)
}
