package bench

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"slices"

	"foreply/cmd/measure/beginner"
	"foreply/profile/board"
)

// maker makes up games: legal moves, chosen so that openings branch as they do
// over the board and thin out behind. It plays no good chess.
type maker struct {
	rnd   *rand.Rand
	legal []board.Move
	rank  []ranked
}

type ranked struct {
	move  board.Move
	worth int
}

// games writes at least so many bytes of games, all different; the seed decides
// which. Clocked ones look like an online export: a game's movetext on one line, a
// clock behind each move. The others are in export format, in lines of at most 79
// characters (PGN standard 8.2.1).
func games(size int, seed uint64, clocked bool) []byte {
	m := &maker{rnd: rand.New(rand.NewPCG(seed, 64))}
	var b bytes.Buffer
	for n := 1; b.Len() < size; n++ {
		m.game(&b, n, clocked)
	}
	return b.Bytes()
}

// players is how many different people play in the games.
const players = 3000

func player(n int) string {
	first := [...]string{"Mina", "Tomas", "Ines", "Ola", "Petra", "Juan", "Vera", "Emil"}
	last := [...]string{"Alder", "Brook", "Crane", "Dale", "Elm", "Fenn", "Gale", "Heath", "Isle", "Juniper"}
	return fmt.Sprintf("%s%s, %s", last[n%10], [...]string{"", "son", "wick", "ley", "by"}[n/10%5], first[n/50%8]) + suffix(n/400)
}

func suffix(n int) string {
	if n == 0 {
		return ""
	}
	return " " + string(rune('A'+n-1)) + "."
}

func (m *maker) game(b *bytes.Buffer, n int, clocked bool) {
	sans := m.moves()
	result := [...]string{"1-0", "0-1", "1/2-1/2"}[m.rnd.IntN(3)]
	date := fmt.Sprintf("%d.%02d.%02d", 1995+m.rnd.IntN(30), 1+m.rnd.IntN(12), 1+m.rnd.IntN(28))
	white, black := m.rnd.IntN(players), m.rnd.IntN(players)
	elo := func() int { return 1500 + m.rnd.IntN(1100) }
	if clocked {
		fmt.Fprintf(b, "[Event \"Rated blitz game\"]\n[Site \"https://example.org/%08x\"]\n[Date \"%s\"]\n[White \"player%d\"]\n[Black \"player%d\"]\n"+
			"[Result \"%s\"]\n[UTCDate \"%s\"]\n[UTCTime \"%02d:%02d:%02d\"]\n[WhiteElo \"%d\"]\n[BlackElo \"%d\"]\n[Variant \"Standard\"]\n"+
			"[TimeControl \"300+3\"]\n[ECO \"?\"]\n[Termination \"Normal\"]\n\n",
			m.rnd.Uint32(), date, white, black, result, date, m.rnd.IntN(24), m.rnd.IntN(60), m.rnd.IntN(60), elo(), elo())
		m.clockedText(b, sans)
	} else {
		fmt.Fprintf(b, "[Event \"Open %d\"]\n[Site \"Weirside\"]\n[Date \"%s\"]\n[Round \"%d\"]\n[White \"%s\"]\n[Black \"%s\"]\n[Result \"%s\"]\n"+
			"[WhiteElo \"%d\"]\n[BlackElo \"%d\"]\n[ECO \"?\"]\n\n",
			n/300, date, 1+m.rnd.IntN(9), player(white), player(black), result, elo(), elo())
		plainText(b, append(sans, result))
	}
	if clocked {
		b.WriteString(result + "\n\n")
	}
	b.WriteString("\n")
}

// plainText sets moves and result in lines.
func plainText(b *bytes.Buffer, words []string) {
	width := 0
	for i, w := range words {
		if i%2 == 0 && i < len(words)-1 {
			w = fmt.Sprintf("%d. %s", i/2+1, w)
		}
		switch {
		case width == 0:
		case width+1+len(w) > 79:
			b.WriteByte('\n')
			width = 0
		default:
			b.WriteByte(' ')
			width++
		}
		b.WriteString(w)
		width += len(w)
	}
	b.WriteString("\n")
}

func (m *maker) clockedText(b *bytes.Buffer, sans []string) {
	left := [2]int{300, 300}
	for i, san := range sans {
		left[i%2] = max(1, left[i%2]+3-m.rnd.IntN(12))
		dots := [...]string{".", "..."}[i%2]
		fmt.Fprintf(b, "%d%s %s { [%%clk 0:%02d:%02d] } ", i/2+1, dots, san, left[i%2]/60, left[i%2]%60)
	}
}

// moves makes up a game of 30 to 130 half-moves, unless it ends before.
func (m *maker) moves() []string {
	pos := board.Start()
	var sans []string
	for ply := range 30 + m.rnd.IntN(50) + m.rnd.IntN(50) {
		m.legal = pos.Legal(m.legal[:0])
		if len(m.legal) == 0 {
			break
		}
		move := m.choose(&pos, ply)
		sans = append(sans, pos.SAN(move))
		pos.Play(move)
	}
	return sans
}

// choose takes the best ranked move most often. The rank hangs on the position
// alone, so that games meet.
func (m *maker) choose(pos *board.Position, ply int) board.Move {
	m.rank = m.rank[:0]
	for _, move := range m.legal {
		m.rank = append(m.rank, ranked{move, worth(pos, move)})
	}
	slices.SortFunc(m.rank, func(a, b ranked) int { return b.worth - a.worth })
	first := 76 // chance of each to be taken, in percent
	if ply > 22 {
		first = 40
	}
	i := 0
	for i < len(m.rank)-1 && m.rnd.IntN(100) >= first {
		i++
	}
	return m.rank[i].move
}

// worth is chance by the position, and what every beginner is told.
func worth(pos *board.Position, move board.Move) int {
	hash := (pos.Key() ^ uint64(move)*0x9E3779B97F4A7C15) * 0xBF58476D1CE4E5B9
	return int(hash>>57) + beginner.Worth(pos, move, 10)
}
