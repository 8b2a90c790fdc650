package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"

	"github.com/notnil/chess"
)

// record is a game that was played.
type record struct {
	*plan
	sans   []string
	moves  []*chess.Move
	clocks []string // after each move, fast games only
	values []string // evaluation after each move, empty where there is none
	result string
	ended  string // normal, time forfeit, abandoned
}

// table is where the games are played: the engine, the habits, and what the
// opponent remembers to have played where.
type table struct {
	engine   *engine
	habits   habits
	memory   map[string]string
	searches int
}

const (
	slowNodes   = 8000
	fastNodes   = 4000
	earlyNodes  = 20000 // in the first moves, where players know more than they can work out
	earlyPlies  = 18
	width       = 5    // how many moves the engine proposes
	memoryPlies = 24   // how deep the opponent repeats earlier games
	faithful    = 0.65 // how often
	lastPly     = 180  // games are stopped here
)

// play plays a planned game. A game that must have a certain result is played
// again with other chances until it has it.
func (t *table) play(p *plan) (*record, error) {
	for try := range uint64(60) {
		g := &game{table: t, record: &record{plan: p}, r: rand.New(rand.NewPCG(p.seed, try))}
		if err := g.run(); err != nil {
			return nil, fmt.Errorf("game of %s against %s: %w", p.when.Format(dayFormat), p.rival.name, err)
		}
		if p.want == "" || p.want == g.result {
			t.remember(g)
			return g.record, nil
		}
	}
	return nil, fmt.Errorf("no game against %s came to %s", p.rival.name, p.want)
}

// remember keeps the opponent's early moves as habits for later games.
func (t *table) remember(g *game) {
	if g.fen != "" {
		return
	}
	pos := startPosition()
	for i, m := range g.moves {
		if i >= memoryPlies {
			return
		}
		if (pos.Turn() == chess.White) == g.white {
			t.memory[keyOf(pos)] = g.sans[i]
		}
		pos = pos.Update(m)
	}
}

// game is a game in progress.
type game struct {
	*table
	*record
	r        *rand.Rand
	pos      *chess.Position
	uci      string // the moves so far, as the engine wants them
	seen     map[string]int
	watch    [2]*clock // by side, White first
	hopeless [2]int    // consecutive turns with a lost position
	level    int       // consecutive half-moves with a level position
	patience int       // hopeless turns borne before resigning
	lost     int       // what counts as hopeless, in centipawns
}

func (g *game) run() error {
	g.pos, g.seen = startPosition(), map[string]int{}
	if g.fen != "" {
		setup, err := chess.FEN(g.fen)
		if err != nil {
			return err
		}
		g.pos = chess.NewGame(setup).Position()
	}
	g.patience, g.lost = 2+g.r.IntN(3), 550+g.r.IntN(300)
	if g.fast {
		g.watch = [2]*clock{newClock(g.r, g.control), newClock(g.r, g.control)}
		if g.r.IntN(4) == 0 {
			g.patience = lastPly
		}
	}
	if err := g.engine.newGame(width); err != nil {
		return err
	}
	for {
		found, err := g.turn()
		if err != nil || g.result != "" {
			return err
		}
		if err := g.move(found); err != nil || g.result != "" {
			return err
		}
	}
}

// turn looks at the position before a move: is the game over by the rules or by
// a decision of the players? It returns the engine's view.
func (g *game) turn() ([]choice, error) {
	g.seen[keyOf(g.pos)]++
	if g.overByRule() {
		return nil, nil
	}
	nodes := slowNodes
	if g.fast {
		nodes = fastNodes
	}
	if len(g.sans) < earlyPlies {
		nodes = earlyNodes
	}
	start := "startpos"
	if g.fen != "" {
		start = "fen " + g.fen
	}
	found, err := g.engine.search(strings.TrimSpace(start+" moves "+g.uci), nodes)
	if err != nil {
		return nil, err
	}
	g.searches++
	if len(found) == 0 {
		return nil, fmt.Errorf("the engine has no move in %s", g.pos)
	}
	g.note(found[0].score)
	g.decide(found[0].score)
	return found, nil
}

// note writes the evaluation of the position reached, from White's side.
func (g *game) note(score int) {
	if !g.evals || len(g.sans) == 0 {
		return
	}
	sign := 1
	if g.pos.Turn() == chess.Black {
		sign = -1
	}
	text := strconv.FormatFloat(float64(sign*score)/100, 'f', 2, 64)
	switch {
	case score > mateScore-200:
		text = fmt.Sprintf("#%d", sign*(mateScore-score))
	case score < 200-mateScore:
		text = fmt.Sprintf("#%d", -sign*(score+mateScore))
	}
	g.values[len(g.values)-1] = text
}

// overByRule ends the game on mate, stalemate, repetition, fifty moves and bare
// material.
func (g *game) overByRule() bool {
	fields := strings.Fields(g.pos.String())
	quiet, _ := strconv.Atoi(fields[4])
	switch {
	case g.pos.Status() == chess.Checkmate:
		g.finish(winner(g.pos.Turn().Other()), "normal")
	case g.pos.Status() == chess.Stalemate, g.seen[keyOf(g.pos)] >= 3, quiet >= 100, bare(fields[0]):
		g.finish("1/2-1/2", "normal")
	}
	return g.result != ""
}

// bare says whether neither side has the material to mate.
func bare(board string) bool {
	minor := 0
	for _, c := range board {
		switch c {
		case 'p', 'P', 'r', 'R', 'q', 'Q':
			return false
		case 'n', 'N', 'b', 'B':
			minor++
		}
	}
	return minor <= 1
}

// decide lets the player to move resign, or both agree to a draw.
func (g *game) decide(score int) {
	ply, me := len(g.sans), side(g.pos.Turn())
	if score < -g.lost {
		g.hopeless[me]++
	} else {
		g.hopeless[me] = 0
	}
	if score > -20 && score < 20 {
		g.level++
	} else {
		g.level = 0
	}
	long, tired := 80, 10
	if g.fast {
		long, tired = 110, 16
	}
	switch {
	case g.agreed > 0 && ply >= g.agreed, ply > long && g.level > tired:
		g.finish("1/2-1/2", "normal")
	case g.abandoned > 0 && ply >= g.abandoned:
		g.finish(winner(g.pos.Turn().Other()), "abandoned")
	case ply > 30 && g.hopeless[me] > g.patience:
		g.finish(winner(g.pos.Turn().Other()), "normal")
	case ply >= lastPly && score < -300:
		g.finish(winner(g.pos.Turn().Other()), "normal")
	case ply >= lastPly && score <= 300:
		g.finish("1/2-1/2", "normal")
	}
}

// move makes the move of the side whose turn it is, and presses the clock.
func (g *game) move(found []choice) error {
	san, known, err := g.pick(found)
	if err != nil {
		return err
	}
	m, err := moveOf(g.pos, san)
	if err != nil {
		return err
	}
	if g.fast {
		c := g.watch[side(g.pos.Turn())]
		if !c.think(g.r, known) {
			g.flag()
			return nil
		}
		g.clocks = append(g.clocks, c.String())
	}
	g.sans, g.moves, g.values = append(g.sans, san), append(g.moves, m), append(g.values, "")
	g.uci = strings.TrimSpace(g.uci + " " + m.String())
	g.pos = g.pos.Update(m)
	return nil
}

// flag ends the game on time: a loss, or a draw if the other side has no more
// than a king.
func (g *game) flag() {
	other := g.pos.Turn().Other()
	pieces := 0
	for _, p := range g.pos.Board().SquareMap() {
		if p.Color() == other {
			pieces++
		}
	}
	result := winner(other)
	if pieces == 1 {
		result = "1/2-1/2"
	}
	g.finish(result, "time forfeit")
}

func (g *game) finish(result, how string) { g.result, g.ended = result, how }

// pick chooses a move: by script, by habit, by memory, or among the engine's
// proposals. Known moves are those that need no thought.
func (g *game) pick(found []choice) (san string, known bool, err error) {
	ply := len(g.sans)
	if s := strings.Fields(g.script); ply < len(s) {
		return s[ply], true, nil
	}
	them := (g.pos.Turn() == chess.White) == g.white
	if g.fen == "" {
		if san, ok := g.habits.choose(g.r, g.pos, them, g.when, g.fast); ok {
			return san, true, nil
		}
		if san, ok := g.memory[keyOf(g.pos)]; ok && them && ply < memoryPlies && g.r.Float64() < faithful {
			return san, true, nil
		}
	}
	m, err := uciMove(g.pos, g.fallible(found, them).move)
	if err != nil {
		return "", false, err
	}
	return sanOf(g.pos, m), false, nil
}

// fallible chooses among the proposals as a club player would: mostly good moves,
// better ones the stronger the player, and now and then an oversight.
func (g *game) fallible(found []choice, them bool) choice {
	rating := g.rival.rating
	if them {
		rating = g.their
	}
	loose := 30 + float64(1900-rating)/15 // centipawns that are overlooked easily
	slip := 0.02
	if g.fast {
		rating -= 100 // the online list stands about as much higher
		loose, slip = 42+float64(1900-rating)/15, 0.04
	}
	if ply := len(g.sans); ply < earlyPlies {
		loose = 15
	} else if g.r.Float64() < slip {
		loose = 250
	}
	loose = math.Max(loose, 12)
	weights, total := make([]float64, len(found)), 0.
	for i, c := range found {
		short := min(found[0].score, 2000) - min(c.score, 2000)
		weights[i] = math.Exp(-float64(max(short, 0)) / loose)
		total += weights[i]
	}
	n := g.r.Float64() * total
	for i, w := range weights {
		if n -= w; n < 0 {
			return found[i]
		}
	}
	return found[0]
}

func winner(c chess.Color) string {
	if c == chess.White {
		return "1-0"
	}
	return "0-1"
}

func side(c chess.Color) int {
	if c == chess.White {
		return 0
	}
	return 1
}
