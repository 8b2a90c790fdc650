package profile

import (
	"net/url"

	"foreply/fetch/pgn"
)

// OverTheBoard is the rating list of games with no sign of having been played
// online.
const OverTheBoard = "over the board"

// online is the list of games that were played online, nobody says where.
const online = "online"

// List names the rating list of the game, since ratings of different lists are
// never pooled: its configured source; else the host of an address in the Site
// tag; else 'online' if it has a tag that only exports of servers write; else
// OverTheBoard.
func (g *Game) List() string {
	if g.Source == "" {
		return g.played
	}
	return g.Source
}

// whereOf tells where a game was played, as far as ratings go. That servers
// give the time of day by these tags is common practice.
func whereOf(tags pgn.Tags) string {
	if u, err := url.Parse(tags.Get("Site")); err == nil && u.Host != "" {
		return u.Hostname()
	}
	for _, name := range [...]string{"UTCDate", "UTCTime", "StartTime", "EndTime"} {
		if tags.Get(name) != "" {
			return online
		}
	}
	return OverTheBoard
}
