package main

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"foreply/fetch"
	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// asIs writes a game as the file has it, with its number.
func asIs(g *pgn.Game, id int) string {
	return write(append(slices.Clone(g.Tags()), pgn.Tag{Name: firstTag, Value: fmt.Sprint(id)}), sans(g), g.Result())
}

// copied is a game as another collection has it.
type copied struct {
	game                              *pgn.Game
	white                             bool   // the player's side
	rival, event, date, round, result string // tags
	moves                             []string
}

// copyOf is a copy with another spelling of the player, and no other difference.
func copyOf(g *pgn.Game, who fetch.Who) copied {
	white, _ := who.Match(g)
	h := g.Header()
	c := copied{game: g, white: white, rival: h.White.Name, event: h.Event, date: h.Date.Tag(), round: h.Round, result: g.Result(), moves: sans(g)}
	if white {
		c.rival = h.Black.Name
	}
	return c
}

// random changes everything that may differ: every tag and the moves may be spelled in
// another way, cut short, or wrong.
func (c *copied) random(r *rand.Rand) {
	c.event = pick(r, "?", "Open", "It (cat.7)", "Team championship")
	c.rival = otherRival(c.rival, r)
	c.date = otherDate(c.game.Header().Date, r)
	c.round = otherRound(c.round, r)
	c.result = otherResult(c.result, r)
	c.notation(r)
	switch k := r.IntN(20); {
	case k < 2:
		c.cut(1+r.IntN(9), r)
	case k < 3:
		c.cut(10+r.IntN(20), r)
	case k < 6:
		c.slip(r)
	}
}

func (c *copied) write(id int) string {
	h := c.game.Header()
	white, black := otherName(h.White.Name), c.rival
	if !c.white {
		white, black = c.rival, otherName(h.Black.Name)
	}
	return write(pgn.Tags{
		{Name: "Event", Value: c.event}, {Name: "Site", Value: "?"}, {Name: "Date", Value: c.date}, {Name: "Round", Value: c.round},
		{Name: "White", Value: white}, {Name: "Black", Value: black}, {Name: "Result", Value: c.result},
		{Name: secondTag, Value: fmt.Sprint(id)},
	}, c.moves, c.result)
}

// twins cuts some of the games to short draws and adds another game with the same
// moves to each: in another month and round, or on the same day, where no round is
// told. Two thirds of the second games are in one collection only.
func twins(n int, sameDay bool, games []*pgn.Game, drawn [][2]bool, seed uint64) ([]*pgn.Game, [][2]bool) {
	r := rand.New(rand.NewPCG(seed, 3))
	games, drawn = slices.Clone(games), slices.Clone(drawn)
	for _, i := range r.Perm(len(games))[:n] {
		one := games[i].Clone()
		one.Moves = one.Moves[:min(len(one.Moves), 16+r.IntN(14))]
		dropOccasion(one)
		two := one.Clone()
		rounds := [2]string{"?", "?"}
		if d := one.Header().Date; !sameDay {
			set(two, "Date", fmt.Sprintf("%d.%02d.%02d", d.Year, (d.Month+5)%12+1, max(1, d.Day)))
			rounds = [2]string{"1", "2"}
		}
		for k, g := range []*pgn.Game{one, two} {
			set(g, "Round", rounds[k])
			set(g, "Result", "1/2-1/2")
		}
		games[i] = one
		games = append(games, two)
		drawn = append(drawn, [][2]bool{drawn[i], {true, false}, {false, true}}[r.IntN(3)])
	}
	return games, drawn
}

// dropOccasion takes off what tells one game from all others: the twin would have its own.
func dropOccasion(g *pgn.Game) {
	g.SetTags(slices.DeleteFunc(slices.Clone(g.Tags()), func(t pgn.Tag) bool {
		switch t.Name {
		case "Site", "Link", "GameURL", "GameId", "UTCDate", "UTCTime", "StartTime", "Time":
			return true
		}
		return false
	}))
}

func set(g *pgn.Game, name, value string) {
	tags := slices.Clone(g.Tags())
	for i := range tags {
		if tags[i].Name == name {
			tags[i].Value = value
		}
	}
	g.SetTags(tags)
}

func pick(r *rand.Rand, from ...string) string { return from[r.IntN(len(from))] }

// otherName gives initials for given names: 'Alder, Mina' as 'Alder,M'.
func otherName(name string) string {
	last, given, found := strings.Cut(name, ",")
	given = strings.TrimSpace(given)
	if !found || given == "" {
		return name
	}
	return last + "," + given[:1]
}

// spellings are ways to write the other player. Those that don't fit a name leave it.
var spellings = []struct {
	name  string
	spell func(last, given string, r *rand.Rand) string
}{
	{"by an initial", func(last, given string, _ *rand.Rand) string { return last + "," + given[:1] }},
	{"by an initial, no comma", func(last, given string, _ *rand.Rand) string { return last + " " + given[:1] + "." }},
	{"the other way round, in capitals", func(last, given string, _ *rand.Rand) string { return strings.ToUpper(given + " " + last) }},
	{"a letter too many", func(last, given string, _ *rand.Rand) string {
		if len(last) < 5 {
			return last + ", " + given
		}
		return last[:2] + "j" + last[2:] + "," + given
	}},
	{"the surname alone", func(last, _ string, _ *rand.Rand) string { return last }},
	{"cut off after eight letters", func(last, given string, _ *rand.Rand) string { return last[:min(len(last), 8)] + "," + given[:1] }},
	{"in the letters of another language", func(last, given string, _ *rand.Rand) string {
		return transliterated.Replace(last) + ", " + transliterated.Replace(given)
	}},
	{"a number behind", func(last, given string, r *rand.Rand) string {
		return fmt.Sprintf("%s,%s%d", last, given[:1], 1+r.IntN(3))
	}},
	{"two initials glued", func(last, given string, _ *rand.Rand) string { return last + "," + given[:1] + "K" }},
}

// transliterated writes some sounds as other languages do.
var transliterated = strings.NewReplacer("ch", "tch", "sh", "sch", "v", "w", "ks", "x", "ya", "ia", "yu", "ju", "y", "j", "f", "ph", "ts", "tz")

// otherRival spells the other player: as it is, or in one of these ways.
func otherRival(name string, r *rand.Rand) string {
	if r.IntN(5) == 0 {
		return name
	}
	return spelled(name, r.IntN(len(spellings)), r)
}

func spelled(name string, way int, r *rand.Rand) string {
	last, given, _ := strings.Cut(name, ",")
	if given = strings.TrimSpace(given); given == "" {
		return name
	}
	return spellings[way].spell(last, given, r)
}

// otherDate gives the year alone, a day near by (the first of the event), or none.
func otherDate(d pgn.Date, r *rand.Rand) string {
	switch k := r.IntN(20); {
	case d.Year == 0 || k == 0:
		return "????.??.??"
	case k < 7 || d.Month == 0:
		return fmt.Sprintf("%d.??.??", d.Year)
	case k < 12 && d.Day > 0:
		return fmt.Sprintf("%d.%02d.%02d", d.Year, d.Month, max(1, d.Day-r.IntN(9)))
	case d.Day == 0:
		return fmt.Sprintf("%d.%02d.??", d.Year, d.Month)
	}
	return fmt.Sprintf("%d.%02d.%02d", d.Year, d.Month, d.Day)
}

func otherRound(round string, r *rand.Rand) string {
	if round == "" {
		return "?"
	}
	switch r.IntN(4) {
	case 0:
		return "?"
	case 1:
		return round + "." + fmt.Sprint(1+r.IntN(8))
	case 2:
		return "1." + round
	}
	return round
}

// otherResult leaves some out and has some wrong.
func otherResult(result string, r *rand.Rand) string {
	switch k := r.IntN(200); {
	case k < 4 || result == "":
		return "*"
	case k == 4:
		return pick(r, "1-0", "0-1", "1/2-1/2")
	}
	return result
}

// notation has zeros in castling, marks and needless squares, or all in the notation
// of UCI.
func (c *copied) notation(r *rand.Rand) {
	uci := r.IntN(15) == 0
	pos := board.Start()
	for i := range c.moves {
		m, err := pos.Resolve(c.game.Moves[i].SAN)
		if err != nil {
			break
		}
		switch {
		case uci:
			c.moves[i] = m.UCI()
		case i%7 == 3:
			c.moves[i] = longForm(&pos, m) + pick(r, "", "!", "?!", "+")
		default:
			c.moves[i] = strings.ReplaceAll(c.moves[i], "O", "0")
		}
		pos.Play(m)
	}
}

// cut leaves so many half-moves off the end, if twice as many are left.
func (c *copied) cut(n int, _ *rand.Rand) {
	if len(c.moves) > 3*n {
		c.moves = c.moves[:len(c.moves)-n]
	}
}

// slip gets one move wrong, or two in the wrong order, or leaves two of each side out.
func (c *copied) slip(r *rand.Rand) {
	if len(c.moves) < 12 {
		return
	}
	i := 4 + r.IntN(len(c.moves)-8)
	switch k := r.IntN(10); {
	case k < 2:
		c.moves[i], c.moves[i+2] = c.moves[i+2], c.moves[i]
	case k < 3:
		c.moves = slices.Delete(c.moves, i, i+4)
	default:
		if other := c.anotherMove(i, r); other != "" {
			c.moves[i] = other
		}
	}
}

// anotherMove is a legal move in place of the one played.
func (c *copied) anotherMove(ply int, r *rand.Rand) string {
	pos := board.Start()
	for i := range ply {
		m, err := pos.Resolve(c.game.Moves[i].SAN)
		if err != nil {
			return ""
		}
		pos.Play(m)
	}
	played, err := pos.Resolve(c.game.Moves[ply].SAN)
	legal := slices.DeleteFunc(pos.Legal(nil), func(m board.Move) bool { return m == played })
	if err != nil || len(legal) == 0 {
		return ""
	}
	return pos.SAN(legal[r.IntN(len(legal))])
}

// longForm writes both squares of a move: Nb8-d7.
func longForm(pos *board.Position, m board.Move) string {
	san, uci := pos.SAN(m), m.UCI()
	if strings.HasPrefix(san, "O") || len(uci) > 4 {
		return san
	}
	piece := ""
	if san[0] < 'a' {
		piece = san[:1]
	}
	return piece + uci[:2] + "-" + uci[2:]
}

func sans(g *pgn.Game) []string {
	out := make([]string, len(g.Moves))
	for i := range g.Moves {
		out[i] = string(g.Moves[i].SAN)
	}
	return out
}

func write(tags pgn.Tags, moves []string, result string) string {
	var b strings.Builder
	for _, t := range tags {
		fmt.Fprintf(&b, "[%s \"%s\"]\n", t.Name, strings.ReplaceAll(t.Value, `"`, `\"`))
	}
	b.WriteByte('\n')
	for i, m := range moves {
		if i%2 == 0 {
			fmt.Fprintf(&b, "%d. ", i/2+1)
		}
		b.WriteString(m + " ")
	}
	if result == "" {
		result = "*"
	}
	b.WriteString(result + "\n\n")
	return b.String()
}
