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
	return write(append(g.Tags[:len(g.Tags):len(g.Tags)], pgn.Tag{Name: firstTag, Value: fmt.Sprint(id)}), sans(g), g.Result())
}

// retag writes a game as another collection would: every tag and the moves may
// be spelled in another way, cut short, or wrong.
func retag(g *pgn.Game, id int, who fetch.Who, r *rand.Rand) string {
	result := otherResult(g.Result(), r)
	white, _ := who.Match(g.Tags)
	names := map[string]string{"White": otherName(g.Tags.Get("White")), "Black": otherName(g.Tags.Get("Black"))}
	rival := "White"
	if white {
		rival = "Black"
	}
	names[rival] = otherRival(g.Tags.Get(rival), r)
	day := pgn.ParseDate(g.Tags.Get("Date"))
	tags := pgn.Tags{
		{Name: "Event", Value: pick(r, "?", "Open", "It (cat.7)", "Team championship")},
		{Name: "Site", Value: "?"},
		{Name: "Date", Value: otherDate(day, r)},
		{Name: "Round", Value: otherRound(g.Tags.Get("Round"), r)},
		{Name: "White", Value: names["White"]},
		{Name: "Black", Value: names["Black"]},
		{Name: "Result", Value: result},
		{Name: secondTag, Value: fmt.Sprint(id)},
	}
	return write(tags, otherMoves(g, r), result)
}

// twins cuts some of the games to short draws and adds another game with the same
// moves to each, in another month and round. Two thirds of the second games are in one
// collection only.
func twins(s shape, games []*pgn.Game, drawn [][2]bool, seed uint64) ([]*pgn.Game, [][2]bool) {
	r := rand.New(rand.NewPCG(seed, 3))
	games, drawn = slices.Clone(games), slices.Clone(drawn)
	for _, i := range r.Perm(len(games))[:s.twins] {
		one := games[i].Clone()
		one.Moves = one.Moves[:min(len(one.Moves), 16+r.IntN(14))]
		two := one.Clone()
		d := pgn.ParseDate(one.Tags.Get("Date"))
		set(two, "Date", fmt.Sprintf("%d.%02d.%02d", d.Year, (d.Month+5)%12+1, max(1, d.Day)))
		for k, g := range []*pgn.Game{one, two} {
			set(g, "Round", fmt.Sprint(k+1))
			set(g, "Result", "1/2-1/2")
		}
		games[i] = one
		games = append(games, two)
		drawn = append(drawn, [][2]bool{drawn[i], {true, false}, {false, true}}[r.IntN(3)])
	}
	return games, drawn
}

func set(g *pgn.Game, name, value string) {
	for i := range g.Tags {
		if g.Tags[i].Name == name {
			g.Tags[i].Value = value
		}
	}
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

// otherRival spells the other player: as it is, by initials with a comma and
// without, the other way round in capitals, with a slip of a letter, by the surname alone.
func otherRival(name string, r *rand.Rand) string {
	last, given, _ := strings.Cut(name, ",")
	switch k := r.IntN(10); {
	case k < 2:
		return name
	case k < 4:
		return otherName(name)
	case k < 5 && given != "":
		return strings.ReplaceAll(otherName(name), ",", " ") + "."
	case k < 7:
		return strings.TrimSpace(strings.ToUpper(given + " " + last))
	case k < 9 && len(last) >= 5:
		return strings.TrimSuffix(last[:2]+"j"+last[2:]+","+given, ",")
	}
	return last
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
	switch r.IntN(3) {
	case 0:
		return "?"
	case 1:
		return round + "." + fmt.Sprint(1+r.IntN(8))
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

// otherMoves lacks the end of some, has zeros in castling, marks and needless
// squares, or all in the notation of UCI.
func otherMoves(g *pgn.Game, r *rand.Rand) []string {
	moves := sans(g)
	uci := r.IntN(15) == 0
	pos := board.Start()
	for i := range moves {
		m, err := pos.Resolve(g.Moves[i].SAN)
		if err != nil {
			break
		}
		switch {
		case uci:
			moves[i] = m.UCI()
		case i%7 == 3:
			moves[i] = longForm(&pos, m) + pick(r, "", "!", "?!", "+")
		default:
			moves[i] = strings.ReplaceAll(moves[i], "O", "0")
		}
		pos.Play(m)
	}
	if cut := 1 + r.IntN(9); r.IntN(10) == 0 && len(moves) > 2*cut {
		moves = moves[:len(moves)-cut]
	}
	return moves
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
