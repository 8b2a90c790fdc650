// Command archive makes up an archive of different games at any size, to measure
// what reads archives: seeded, with many players, ratings, dates and time classes,
// some games with clocks. Openings branch by chance of the position and of the
// players' ratings, so that games meet, part and thin out as real ones do; no good
// chess is played. Of 1,000 games each brings about as many positions that no earlier
// one had as of real online games (main_test.go); players over the board, who know
// more, repeat each other far more. A game takes 1,390 bytes, three in ten have clocks.
//
//	go run ./cmd/measure/archive [-mb 1000] [-seed 1] [-top 60] [-o FILE]
package main

import (
	"bufio"
	"bytes"
	"flag"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"runtime"
	"slices"
	"time"

	"foreply/cmd/measure/beginner"
	"foreply/profile/board"
)

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "archive:", err)
		os.Exit(1)
	}
}

func run(args []string, out io.Writer) error {
	fs := flag.NewFlagSet("archive", flag.ContinueOnError)
	mb := fs.Int64("mb", 1000, "megabytes to write, at least")
	seed := fs.Uint64("seed", 1, "another seed gives another archive")
	top := fs.Int("top", 60, "chance of the move that is played most, in percent: how much games repeat")
	path := fs.String("o", "", "file to write; standard output else")
	if err := fs.Parse(args); err != nil {
		return err
	}
	if *path != "" {
		f, err := os.Create(*path)
		if err != nil {
			return err
		}
		defer f.Close()
		out = f
	}
	w := bufio.NewWriterSize(out, 1<<20)
	if err := write(w, *mb*1e6, *seed, *top); err != nil {
		return fmt.Errorf("writing the archive: %w", err)
	}
	return w.Flush()
}

// chunkGames is how many games are made with one source of chance, so that
// several workers make the archive that one makes.
const chunkGames = 2000

// write writes chunks in order until there are so many bytes.
func write(w io.Writer, size int64, seed uint64, top int) error {
	workers := runtime.GOMAXPROCS(0)
	made := make([]chan []byte, workers)
	stop := make(chan struct{})
	defer close(stop)
	for k := range made {
		made[k] = make(chan []byte, 1)
		go func() {
			for chunk := k; ; chunk += workers {
				text := newMaker(seed, uint64(chunk), top).games(chunkGames)
				select {
				case made[k] <- text:
				case <-stop:
					return
				}
			}
		}()
	}
	for chunk := 0; size > 0; chunk++ {
		text := <-made[chunk%workers]
		if _, err := w.Write(text); err != nil {
			return err
		}
		size -= int64(len(text))
	}
	return nil
}

type maker struct {
	rnd   *rand.Rand
	top   int
	legal []board.Move
	rank  []ranked
}

type ranked struct {
	move  board.Move
	worth int
}

func newMaker(seed, chunk uint64, top int) *maker {
	return &maker{rnd: rand.New(rand.NewPCG(seed, chunk)), top: top}
}

func (m *maker) games(n int) []byte {
	var b bytes.Buffer
	for range n {
		m.game(&b)
	}
	return b.Bytes()
}

const (
	players    = 200000
	meanRating = 1650
	spread     = 300
	neighbours = 300 // players are sorted by rating, and paired with one so near
	days       = 3 * 365
)

// rating of a player: the quantiles of a normal distribution, and the form of the
// day.
func (m *maker) rating(player int) int {
	z := math.Sqrt2 * math.Erfinv(2*(float64(player)+0.5)/players-1)
	return max(100, int(meanRating+spread*z+20*m.rnd.NormFloat64()))
}

var controls = [...]struct {
	name, control string
	clock, share  int
}{
	{"bullet", "60+0", 60, 20}, {"blitz", "300+3", 300, 50}, {"rapid", "900+10", 900, 25}, {"classical", "5400+30", 5400, 5},
}

func (m *maker) game(b *bytes.Buffer) {
	white := m.active()
	black := min(max(white+1+m.rnd.IntN(2*neighbours)-neighbours, 0), players-1)
	elo := [2]int{m.rating(white), m.rating(black)}
	at := m.rnd.IntN(100)
	kind := 0
	for at >= controls[kind].share {
		at -= controls[kind].share
		kind++
	}
	c := controls[kind]
	day := time.Date(2022, 1, 1+m.rnd.IntN(days), m.rnd.IntN(24), m.rnd.IntN(60), m.rnd.IntN(60), 0, time.UTC)
	result := [...]string{"1-0", "0-1", "1/2-1/2"}[min(m.rnd.IntN(21)/10, 2)]
	fmt.Fprintf(b, "[Event \"Rated %s game\"]\n[Site \"https://example.org/%010x\"]\n[Date \"%s\"]\n[Round \"-\"]\n[White \"player%d\"]\n[Black \"player%d\"]\n"+
		"[Result \"%s\"]\n[UTCDate \"%s\"]\n[UTCTime \"%s\"]\n[WhiteElo \"%d\"]\n[BlackElo \"%d\"]\n[TimeControl \"%s\"]\n[Termination \"Normal\"]\n\n",
		c.name, m.rnd.Uint64()&(1<<40-1), day.Format("2006.01.02"), white, black, result, day.Format("2006.01.02"), day.Format("15:04:05"), elo[0], elo[1], c.control)
	m.moves(b, elo, c.clock, m.rnd.IntN(10) < 3)
	b.WriteString(result + "\n\n")
}

// active draws a player; some play far more than others.
func (m *maker) active() int {
	x := m.rnd.Float64()
	return int(uint64(x*x*x*players) * 7919 % players)
}

// openingPlies is how deep moves are chosen with care.
const openingPlies = 26

// moves writes a game of 30 to 150 half-moves, unless it ends before.
func (m *maker) moves(b *bytes.Buffer, elo [2]int, clock int, clocked bool) {
	pos := board.Start()
	left := [2]int{clock, clock}
	for ply := range 30 + m.rnd.IntN(60) + m.rnd.IntN(60) {
		m.legal = pos.Legal(m.legal[:0])
		if len(m.legal) == 0 {
			break
		}
		move := m.legal[m.rnd.IntN(len(m.legal))]
		if ply < openingPlies {
			move = m.choose(&pos, elo[ply%2])
		}
		if clocked || ply%2 == 0 {
			fmt.Fprintf(b, "%d%s ", ply/2+1, [...]string{".", "..."}[ply%2])
		}
		b.WriteString(pos.SAN(move))
		b.WriteByte(' ')
		if clocked {
			left[ply%2] = max(1, left[ply%2]-m.rnd.IntN(1+clock/30))
			fmt.Fprintf(b, "{ [%%clk %d:%02d:%02d] } ", left[ply%2]/3600, left[ply%2]/60%60, left[ply%2]%60)
		}
		pos.Play(move)
	}
}

// choose takes the best ranked move most often. The rank hangs on the position
// and a little on the rating, so that games meet and levels differ.
func (m *maker) choose(pos *board.Position, elo int) board.Move {
	m.rank = m.rank[:0]
	level := uint64(elo / 400)
	for _, move := range m.legal {
		m.rank = append(m.rank, ranked{move, worth(pos, move, level)})
	}
	for len(m.rank) > 1 && m.rnd.IntN(100) >= m.top {
		i := m.best()
		m.rank = slices.Delete(m.rank, i, i+1)
	}
	return m.rank[m.best()].move
}

// best is where the move ranked highest stands.
func (m *maker) best() int {
	best := 0
	for i := range m.rank {
		if m.rank[i].worth > m.rank[best].worth {
			best = i
		}
	}
	return best
}

// worth is chance by position and level, and what every beginner is told.
func worth(pos *board.Position, move board.Move, level uint64) int {
	mix := func(salt uint64) uint64 {
		return (pos.Key() ^ (uint64(move)+salt<<20)*0x9E3779B97F4A7C15) * 0xBF58476D1CE4E5B9
	}
	return int(mix(0)>>57) + int(mix(1+level)>>59) + beginner.Worth(pos, move, 20)
}
