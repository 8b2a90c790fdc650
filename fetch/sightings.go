package fetch

import (
	"strings"

	"foreply/fetch/pgn"
)

// sightings judge the players of games for one worker and remember the names of a
// block, so that the roster can count them in the order of the file.
type sightings struct {
	roster *roster
	names  map[string]*sighted
	block  []*sighted // the names of this block, in order
}

// sighted is a spelling as they know it.
type sighted struct {
	name   string
	theirs bool
	games  int  // in this block
	byID   bool // one of the IDs stood beside it in this block
}

func newSightings(r *roster) *sightings { return &sightings{roster: r, names: map[string]*sighted{}} }

// see judges the players of a game and counts their names.
func (s *sightings) see(game *pgn.Game) (white, black bool) {
	one, two := game.Players()
	return s.side(one), s.side(two)
}

// Matcher returns a Match that remembers the names it has judged, for the games
// of an archive. It serves one goroutine.
func (w Who) Matcher() func(*pgn.Game) (white, black bool) {
	s := newSightings(newRoster("", w))
	return func(game *pgn.Game) (white, black bool) {
		white, black = s.see(game)
		s.forget()
		return white, black
	}
}

// side takes the number, if there is one, and else the name.
func (s *sightings) side(p *pgn.Player) bool {
	theirs, decided := s.roster.who.byID(p)
	if decided && !theirs {
		return false
	}
	n := s.sighted(p.Name)
	if n.games == 0 && !n.byID {
		s.block = append(s.block, n)
	}
	if decided {
		n.byID = true
		return true
	}
	n.games++
	return n.theirs
}

func (s *sightings) sighted(name string) *sighted {
	if n := s.names[name]; n != nil {
		return n
	}
	if len(s.names) >= remembered {
		clear(s.names)
	}
	n := &sighted{name: strings.Clone(name), theirs: s.roster.knows(name)}
	s.names[n.name] = n
	return n
}

// report hands over the names of the block and begins a new one.
func (s *sightings) report() []sighted {
	out := make([]sighted, len(s.block))
	for i, n := range s.block {
		out[i] = *n
	}
	s.forget()
	return out
}

// forget begins a new block.
func (s *sightings) forget() {
	for _, n := range s.block {
		n.games, n.byID = 0, false
	}
	s.block = s.block[:0]
}

// add counts the names of a block. They judged them by the same rules.
func (r *roster) add(names []sighted) {
	for i := range names {
		if names[i].byID {
			r.ids[Fold(names[i].name)] = true
		}
		if names[i].games > 0 {
			r.sighting(names[i].name).games += names[i].games
		}
	}
}
