// Package scripted is a UCI engine for tests, that misbehaves as its script
// says. It knows the rules and next to no chess: a position is worth what the
// men on it are worth, after the move that it looks at.
package scripted

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"foreply/profile/board"
)

// Scripts, what they do beside playing along.
const (
	Well     = "well"     // nothing
	Mute     = "mute"     // reads and never answers
	Dead     = "dead"     // ends at once, with a word to stderr and exit code 3
	Dies     = "dies"     // ends in the middle of its third search
	Babbles  = "babbles"  // answers the greeting with lines without end
	Drones   = "drones"   // ... with a single line without end
	Lost     = "lost"     // never comes to the end of a search, and minds no stop
	Slow     = "slow"     // comes to no end of a search before it is stopped
	Wrong    = "wrong"    // answers with a move that is not legal
	Silent   = "silent"   // gives a move and no evaluation
	Mates    = "mates"    // sees mates everywhere
	Floods   = "floods"   // adds thousands of strange lines
	Late     = "late"     // takes a while for every readyok
	Single   = "single"   // knows no MultiPV
	Stubborn = "stubborn" // never quits
)

// Main plays a script on the streams and returns the exit code.
func Main(script string, in io.Reader, out, errs io.Writer) int {
	e := &engine{script: script, out: bufio.NewWriter(out), lines: 1, pos: board.Start()}
	if script == Dead {
		fmt.Fprintln(errs, "a library is missing")
		return 3
	}
	s := bufio.NewScanner(in)
	for s.Scan() {
		code, goesOn := e.obey(s.Text())
		if e.out.Flush() != nil || !goesOn {
			return code
		}
	}
	return 0
}

type engine struct {
	script   string
	out      *bufio.Writer
	lines    int
	pos      board.Position
	searches int
}

func (e *engine) say(format string, args ...any) { fmt.Fprintf(e.out, format+"\n", args...) }

func (e *engine) obey(line string) (code int, goesOn bool) {
	word, rest, _ := strings.Cut(line, " ")
	if e.script == Mute {
		return 0, true
	}
	switch word {
	case "uci":
		return 0, e.greet()
	case "isready":
		if e.script == Late {
			time.Sleep(50 * time.Millisecond)
		}
		e.say("readyok")
	case "setoption":
		if value, ok := strings.CutPrefix(rest, "name MultiPV value "); ok {
			e.lines, _ = strconv.Atoi(value)
		}
	case "position":
		e.pos, _ = board.ParseFEN(strings.TrimPrefix(rest, "fen "))
	case "go":
		return 5, e.search(strings.TrimPrefix(rest, "nodes "))
	case "stop":
		if e.script != Lost {
			e.say("bestmove %s", e.best()[0].move.UCI())
		}
	case "quit":
		return 0, e.script == Stubborn
	}
	return 0, true
}

func (e *engine) greet() bool {
	for e.script == Babbles || e.script == Drones {
		e.out.WriteString("info string so much to say")
		if e.script == Babbles {
			e.out.WriteString("\n")
		}
		if e.out.Flush() != nil {
			return false
		}
	}
	e.flood()
	e.say("id name Scripted 1.0")
	e.say("id author the tests")
	e.say("option name Threads type spin default 1 min 1 max 8")
	e.say("option name hash type spin default 16 min 1 max 64")
	if e.script != Single {
		e.say("option name MultiPV type spin default 1 min 1 max 218")
	}
	e.say("uciok")
	return true
}

// flood writes what no protocol has.
func (e *engine) flood() {
	for i := range 5000 {
		if e.script != Floods {
			return
		}
		e.say("info string bestmove uciok readyok %d", i)
		e.say("\x00 \xff info depth x score cp y pv")
		e.say("info depth -4 multipv -1 score cp 9999999999999999999999 pv e2e4")
		e.say("info multipv 99999999 score cp 12 pv e2e4 d7d5 e4d5")
		e.say("")
	}
}

func (e *engine) search(nodes string) (goesOn bool) {
	e.searches++
	if e.script == Dies && e.searches == 3 {
		e.say("info depth 1 score cp 0 nodes 1 pv e2e4")
		return false
	}
	e.flood()
	moves := e.best()
	for depth := 1; depth <= 2 && e.script != Silent; depth++ {
		for i, m := range moves[:min(len(moves), e.lines)] {
			score := fmt.Sprintf("cp %d", m.score)
			if e.script == Mates {
				score = fmt.Sprintf("mate %d", 2+i)
			}
			e.say("info depth %d seldepth 3 multipv %d score %s nodes %s nps 1 pv %s", depth, i+1, score, nodes, m.move.UCI())
		}
	}
	if e.script != Silent {
		e.say("info depth 3 multipv 1 score cp -900 upperbound nodes %s pv %s", nodes, moves[0].move.UCI())
	}
	switch e.script {
	case Lost, Slow:
	case Wrong:
		e.say("bestmove e2e5")
	default:
		e.say("bestmove %s ponder e7e5", moves[0].move.UCI())
	}
	return true
}

type choice struct {
	move  board.Move
	score int // for the side to move
}

// best lists the legal moves, by the worth of the men after the best answer to
// each.
func (e *engine) best() []choice {
	var out []choice
	for _, m := range e.pos.Legal(nil) {
		after := e.pos
		after.Play(m)
		score := worth(&after, e.pos.Turn())
		for _, answer := range after.Legal(nil) {
			last := after
			last.Play(answer)
			score = min(score, worth(&last, e.pos.Turn()))
		}
		out = append(out, choice{m, score})
	}
	slices.SortStableFunc(out, func(a, b choice) int { return cmp.Compare(b.score, a.score) })
	return out
}

// worth counts men as players do: 1, 3, 3, 5, 9 (common practice), in
// centipawns.
func worth(pos *board.Position, c board.Color) int {
	sum := 0
	for s := board.Square(0); s < board.NoSquare; s++ {
		man := pos.At(s)
		value := [...]int{0, 100, 300, 300, 500, 900, 0}[man.Kind()]
		if man.Color() != c {
			value = -value
		}
		sum += value
	}
	return sum
}
