package peerbook

import (
	"encoding/binary"
	"math/bits"
	"slices"
)

// playerBits is how many bits a Player has.
const playerBits = surnameBits + restBits

// mostPlayers is of how many players a book has a list, so that its games name them
// by their numbers in it, and how much memory that may take at most: 8 bytes each.
const mostPlayers = 1 << 21

// playerSet gathers players. It forgets all if there are too many, for good.
type playerSet struct {
	list []Player
	tidy int // so many of the list are in order, each once
	most int // how many may be gathered; less than 0 when there were more
}

func (s *playerSet) add(p Player) {
	if s.most < 0 {
		return
	}
	if s.list = append(s.list, p); len(s.list) >= 2*s.tidy+1<<16 {
		s.settle()
	}
}

func (s *playerSet) settle() {
	slices.Sort(s.list)
	s.list = slices.Compact(s.list)
	if s.tidy = len(s.list); s.tidy > s.most {
		*s = playerSet{most: -1}
	}
}

// join adds what another has gathered.
func (s *playerSet) join(o *playerSet) {
	if o.most < 0 {
		*s = playerSet{most: -1}
		return
	}
	for _, p := range o.list {
		s.add(p)
	}
}

// playerList numbers players by their order, in so many bits; without a list a
// player's number is the Player.
type playerList struct {
	list  []Player
	width uint
}

// set is the list as one that may be joined.
func (l playerList) set() *playerSet {
	if l.list == nil {
		return &playerSet{most: -1}
	}
	return &playerSet{list: l.list}
}

func (s *playerSet) numbered() playerList {
	s.settle()
	if s.most < 0 {
		return playerList{width: playerBits}
	}
	return playerList{s.list, uint(bits.Len(uint(len(s.list))))}
}

// number is that of a player who is in the list.
func (l playerList) number(p Player) uint64 {
	if l.list == nil {
		return uint64(p)
	}
	i, _ := slices.BinarySearch(l.list, p)
	return uint64(i)
}

// player is that of a number; ok is false if there is none.
func (l playerList) player(number uint64) (p Player, ok bool) {
	if l.list == nil {
		return Player(number), true
	}
	if number >= uint64(len(l.list)) {
		return 0, false
	}
	return l.list[number], true
}

// append writes the list: how many, and the differences less one in Rice's code. No
// list is no bytes.
func (l playerList) append(to []byte) []byte {
	if l.list == nil {
		return to
	}
	to = binary.AppendUvarint(to, uint64(len(l.list)))
	w := bitWriter{buf: to}
	k := playerRice(len(l.list))
	before := Player(0)
	for i, p := range l.list {
		if i == 0 {
			w.wide(uint64(p), playerBits)
		} else {
			w.rice(uint64(p-before)-1, k)
		}
		before = p
	}
	w.pad()
	return w.buf
}

// playerRice is the k that suits the differences of so many players.
func playerRice(n int) uint { return uint(max(0, playerBits-bits.Len(uint(n)))) }

// readPlayers reads what append wrote. It fails on bytes that no writer wrote.
func readPlayers(text []byte) (l playerList, ok bool) {
	if len(text) == 0 {
		return playerList{width: playerBits}, true
	}
	p := &parser{b: text}
	n := int(p.uint(mostPlayers))
	if p.bad || n > 8*len(p.b) {
		return l, false
	}
	r := &bitReader{buf: p.b}
	k := playerRice(n)
	l = playerList{make([]Player, n), uint(bits.Len(uint(n)))}
	for i := range l.list {
		if i == 0 {
			l.list[i] = Player(r.wide(playerBits))
			continue
		}
		before := l.list[i-1]
		if l.list[i] = before + Player(r.rice(k)) + 1; l.list[i] <= before || l.list[i] >= 1<<playerBits {
			return l, false
		}
	}
	return l, !r.short
}
