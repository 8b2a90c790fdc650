package main

import (
	"foreply/fetch"
	"foreply/fetch/pgn"
	"foreply/profile"
)

// readPeers reads the games of players like the opponent that --peers names;
// nil when none were named. The opponent's own games, p's, are left out. One
// unreadable file among others is a warning; games without a date are counted
// and not used, which is said where none is left.
func (a *app) readPeers(t *task, p *profile.Profile) (*profile.Peers, error) {
	if len(t.peers) == 0 {
		return nil, nil
	}
	games, err := fetch.Open(a.ctx, t.peers, fetch.Options{
		Stdin:    a.stdin,
		Plies:    profile.PeerPlies,
		Progress: a.say.reading("reading games of peers", false),
	})
	if err != nil {
		return nil, hinted(err)
	}
	count := profile.CountPeers(p)
	games.Share(func() func(*pgn.Game) {
		match := t.who.Matcher()
		return count.Worker(func(g *pgn.Game) bool {
			white, black := match(g.Tags)
			return white || black
		})
	})
	if err := games.Err(); err != nil {
		return nil, hinted(err)
	}
	peers := count.Peers()
	a.reportFiles(games.Summary().Problems)
	if peers.Games == 0 {
		a.say.note("no game in %s serves as one of peers: %d without a date, %d of the opponent's own, %d unfit",
			inputNames(t.peers), peers.Undated, peers.Own, peers.Unfit)
	}
	return peers, nil
}
