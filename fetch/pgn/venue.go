package pgn

import "strings"

// The rating lists of games of which nobody says where they were played.
const (
	OverTheBoard = "over the board" // no sign of having been played online
	Online       = "online"
)

// place tells where the game was played, and where it stands on the net: Link and
// GameURL lead to the game, Site often does (common practice).
func (h *Header) place(raw *rawHeader) {
	if h.Link == (Address{}) {
		h.Link = gameAddress(raw.gameURL)
	}
	host, path := address(h.Site)
	h.Page = furtherThanHost(host, path)
	h.Venue.Host = hostOf(h.Site, host)
	if h.Site == "" { // else Link may lead to where a game over the board is shown
		h.Venue.Host = h.Link.Host
	}
	onNet := h.Venue.Host != "" || containsFold(h.Site, "internet") || containsFold(h.Site, "online") || hasWord(h.Site, "int")
	h.Venue.Online = onNet || raw.servers || strings.EqualFold(strings.TrimSpace(raw.mode), "ICS")
	if !onNet {
		h.Venue.Place = h.Site
	}
}

// hostOf is the host of the site, if that is an address, or the site itself if it is
// nothing but the name of one.
func hostOf(site, host string) string {
	if host != "" {
		return strings.ToLower(host)
	}
	if site = strings.TrimSpace(site); namesHost(site) {
		return strings.ToLower(site)
	}
	return ""
}

// namesHost tells example.org from St.Olmar: one word whose last part is as
// short as the ends of the names of hosts, and in small letters.
func namesHost(site string) bool {
	dot := strings.LastIndexByte(site, '.')
	if dot <= 0 || len(site)-dot < 3 || len(site)-dot > 5 {
		return false
	}
	for i := range len(site) {
		c := site[i]
		inEnd, inName := c >= 'a' && c <= 'z', class[c]&(letter|digit) != 0 || c == '-' || c == '.'
		if i > dot && !inEnd || !inName {
			return false
		}
	}
	return true
}

// gameAddress takes an address apart, if it leads further than to the site.
func gameAddress(value string) Address {
	if value == "" {
		return Address{}
	}
	return furtherThanHost(address(value))
}

func furtherThanHost(host, path string) Address {
	if host == "" || strings.Trim(path, "/") == "" {
		return Address{}
	}
	return Address{strings.ToLower(host), path}
}

// address takes scheme://user@host:port/path apart (RFC 3986); empty for anything
// else. The path has what is asked of the host with it, since that may be all that
// names the game.
func address(value string) (host, path string) {
	_, rest, found := strings.Cut(value, "://")
	if !found {
		return "", ""
	}
	rest = strings.TrimSpace(rest)
	rest, _, _ = strings.Cut(rest, "#")
	host = rest
	if k := strings.IndexAny(rest, "/?"); k >= 0 {
		host, path = rest[:k], rest[k:]
	}
	host = host[strings.LastIndexByte(host, '@')+1:]
	if k := strings.LastIndexByte(host, ':'); k >= 0 && isDigits(host[k+1:], 5) {
		host = host[:k]
	}
	return host, path
}
