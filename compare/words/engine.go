package words

import (
	"fmt"
	"strings"

	"foreply/compare/fact"
)

// Eval says an evaluation as the user sees it, who has a colour, in pawns:
// '+0.3', 'mate in 3', 'mated in 3'.
func Eval(e *fact.Evaluated, myColor string) string {
	cp, mate := e.Centipawns, e.Mate
	if myColor == "black" {
		cp, mate = -cp, -mate
	}
	switch {
	case mate > 0:
		return fmt.Sprintf("mate in %d", mate)
	case mate < 0:
		return fmt.Sprintf("mated in %d", -mate)
	}
	if pawns := fmt.Sprintf("%+.1f", float64(cp)/100); pawns != "-0.0" && pawns != "+0.0" {
		return pawns
	}
	return "0.0"
}

// Evaluated says a line that begins after so many plies, and its evaluation:
// '3.d4 exd4 4.Nxd4 (+0.3)'.
func Evaluated(e *fact.Evaluated, ply int, myColor string) string {
	return evaluated(e, ply, myColor).String()
}

func evaluated(e *fact.Evaluated, ply int, myColor string) Clause {
	return say("%s (%s)", moves(e.Moves, ply), Eval(e, myColor))
}

// Again says what is wrong with a move of the user's after so many plies:
// '3.Bc4 d5 4.exd5 (-0.9); better 3.d4 exd4 4.Nxd4 (+0.3)'.
func Again(a *fact.Again, ply int, myColor string) string {
	return Evaluated(&a.Played, ply, myColor) + "; better " + Evaluated(&a.Best, ply, myColor)
}

// AgainTail is Again where the move stands before it: '3...d5 4.exd5 (-0.9);
// better 3.d4 exd4 4.Nxd4 (+0.3)'.
func AgainTail(a *fact.Again, myColor string) string {
	ply := len(a.Line)
	played := Eval(&a.Played, myColor)
	if more := a.Played.Moves[1:]; len(more) > 0 {
		played = fmt.Sprintf("%s (%s)", Movetext(more, ply+1), played)
	}
	return played + "; better " + Evaluated(&a.Best, ply, myColor)
}

// LookAgain says what is wrong with a move, beside it.
func LookAgain(a *fact.Again, myColor string) string { return "look again: " + AgainTail(a, myColor) }

// ByEngine names who evaluated, and how long it looked: 'by NAME, 1 M nodes'.
func ByEngine(e *fact.Engine) string {
	return fmt.Sprintf("by %s, %s", strings.TrimSpace(e.Name), nodesWords(e.Nodes))
}

// Engine say whose evaluations a Report has, and how to read them.
func Engine(e *fact.Engine) string {
	if e == nil {
		return ""
	}
	return "Evaluations in pawns, + is good for you, " + ByEngine(e) + " each."
}

// Evaluations say whose evaluations lines have that are written as PGN.
func Evaluations(e *fact.Engine) string {
	return "Evaluations " + ByEngine(e) + " each: in commands from White's side, in words from yours"
}

// EvalCommand is an evaluation as PGN tools write it in a comment, from White's
// side with the depth: '[%eval 0.31,18]', '[%eval #-3,22]'.
func EvalCommand(e *fact.Evaluated) string {
	if e.Mate != 0 {
		return fmt.Sprintf("[%%eval #%d,%d]", e.Mate, e.Depth)
	}
	return fmt.Sprintf("[%%eval %.2f,%d]", float64(e.Centipawns)/100, e.Depth)
}

// Best says the best moves after so many plies: 'best 3.d4 exd4 4.Nxd4 (+0.3) or
// 3.Nc3 Nf6 4.Bb5 (+0.2)'.
func Best(best []fact.Evaluated, ply int, myColor string) string {
	if len(best) == 0 {
		return ""
	}
	parts := make([]string, len(best))
	for i := range best {
		parts[i] = Evaluated(&best[i], ply, myColor)
	}
	return "best " + strings.Join(parts, " or ")
}

func nodesWords(n int) string {
	switch {
	case n >= 1_000_000 && n%100_000 == 0:
		return fmt.Sprintf("%g M nodes", float64(n)/1e6)
	case n%1000 == 0:
		return fmt.Sprintf("%d k nodes", n/1000)
	}
	return fmt.Sprintf("%d nodes", n)
}
