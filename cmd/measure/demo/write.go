package main

import (
	"fmt"
	"math/rand/v2"
	"strings"

	"github.com/notnil/chess/opening"

	"foreply/fetch/pgn/plain"
)

// tag is one tag pair of a game.
type tag struct{ name, value string }

// page is a game ready to be written: what a blemish may still spoil.
type page struct {
	tags   []tag
	sans   []string
	after  []string // the comment after each move, empty for none
	before string   // a comment before the first move
	from   int      // half-moves before the first, 1 when Black begins
	end    string
}

func (p *page) set(name, value string) {
	for i := range p.tags {
		if p.tags[i].name == name {
			p.tags[i].value = value
			return
		}
	}
	p.tags = append(p.tags, tag{name, value})
}

func (p *page) drop(name string) {
	for i := range p.tags {
		if p.tags[i].name == name {
			p.tags = append(p.tags[:i], p.tags[i+1:]...)
			return
		}
	}
}

func (p *page) get(name string) string {
	for _, t := range p.tags {
		if t.name == name {
			return t.value
		}
	}
	return ""
}

// String writes the game as PGN, the movetext in lines of at most 80 characters.
func (p *page) String() string {
	var b strings.Builder
	for _, t := range p.tags {
		fmt.Fprintf(&b, "[%s %q]\n", t.name, t.value)
	}
	b.WriteByte('\n')
	var words []string
	put := func(word string) { words = append(words, word) }
	if p.before != "" {
		put("{" + p.before + "}")
	}
	for i, san := range p.sans {
		switch ply := i + p.from; {
		case ply%2 == 0:
			put(fmt.Sprintf("%d.", ply/2+1))
		case i == 0 || p.after[i-1] != "":
			put(fmt.Sprintf("%d...", ply/2+1))
		}
		put(san)
		if p.after[i] != "" {
			put("{" + p.after[i] + "}")
		}
	}
	put(p.end)
	b.WriteString(strings.Join(plain.Wrap("", "", words, 80), "\n") + "\n\n")
	return b.String()
}

// slowPage writes a game over the board.
func slowPage(g *record, eco *opening.BookECO) *page {
	e := g.event
	them, rival := themName, g.rival.name
	if e.short {
		them = themShort
		rival = initial(rival)
	}
	day := g.when.Format(dayFormat)
	switch e.dates {
	case "month":
		day = day[:8] + "??"
	case "year":
		day = day[:5] + "??.??"
	}
	p := &page{sans: g.sans, after: make([]string, len(g.sans)), end: g.result}
	p.tags = roster(e.name, e.site, day, fmt.Sprint(g.round), them, rival, g)
	if e.control != "" {
		p.set("TimeControl", e.control)
	}
	if e.team {
		ours, theirs := "Weirside B", "Lantern Street"
		if g.rival.name != youName {
			theirs = []string{"Orrelby Town", "Copse End", "Saltmarsh II", "Quayside"}[g.round%4]
		}
		if !g.white {
			ours, theirs = theirs, ours
		}
		p.set("WhiteTeam", ours)
		p.set("BlackTeam", theirs)
	}
	// In some competitions the files were entered by hand, without codes.
	if o := eco.Find(g.moves); o != nil && (e.team || g.round%2 == 1) {
		p.set("ECO", o.Code())
	}
	return p
}

// fastPage writes a game played online, with clocks and perhaps evaluations.
func fastPage(g *record, eco *opening.BookECO) *page {
	id := rand.New(rand.NewPCG(g.seed, 64))
	var site strings.Builder
	for range 8 {
		site.WriteByte("abcdefghijkmnpqrstuvwxyz23456789"[id.IntN(32)])
	}
	p := &page{sans: g.sans, after: make([]string, len(g.sans)), end: g.result}
	for i := range g.sans {
		p.after[i] = "[%clk " + g.clocks[i] + "]"
		if g.values[i] != "" {
			p.after[i] = "[%eval " + g.values[i] + "] " + p.after[i]
		}
	}
	p.tags = roster(g.control.kind+" table, rated", "https://games.example.org/"+site.String(), g.when.Format(dayFormat), "-", themHandle, g.rival.name, g)
	p.set("UTCDate", g.when.Format(dayFormat))
	p.set("UTCTime", g.when.Format(secondFormat))
	p.set("TimeControl", fmt.Sprintf("%d+%d", g.control.start, g.control.increment))
	p.set("Termination", g.ended)
	if g.fen != "" {
		p.set("Event", g.control.kind+" table, casual")
		p.set("SetUp", "1")
		p.set("FEN", g.fen)
	} else if o := eco.Find(g.moves); o != nil {
		p.set("ECO", o.Code())
	}
	if g.variant != "" {
		p.set("Variant", g.variant)
	}
	return p
}

// roster makes the tags that every game has, and the ratings.
func roster(event, site, day, round, them, rival string, g *record) []tag {
	white, black, whiteElo, blackElo := them, rival, g.their, g.rival.rating
	if !g.white {
		white, black, whiteElo, blackElo = black, white, blackElo, whiteElo
	}
	return []tag{
		{"Event", event}, {"Site", site}, {"Date", day}, {"Round", round}, {"White", white}, {"Black", black},
		{"Result", g.result}, {"WhiteElo", fmt.Sprint(whiteElo)}, {"BlackElo", fmt.Sprint(blackElo)},
	}
}

// initial shortens 'Last, First' to 'Last, F.'.
func initial(name string) string {
	last, first, ok := strings.Cut(name, ", ")
	if !ok {
		return name
	}
	return last + ", " + string([]rune(first)[:1]) + "."
}
