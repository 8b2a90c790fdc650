package words

import (
	"testing"

	"foreply/compare/fact"
)

// An evaluation is White's in the facts and the user's in words.
func TestEval(t *testing.T) {
	for _, c := range []struct {
		e            fact.Evaluated
		white, black string
	}{
		{fact.Evaluated{Centipawns: 34}, "+0.3", "-0.3"},
		{fact.Evaluated{Centipawns: -4}, "0.0", "0.0"},
		{fact.Evaluated{Centipawns: -1234}, "-12.3", "+12.3"},
		{fact.Evaluated{Mate: 3}, "mate in 3", "mated in 3"},
		{fact.Evaluated{Mate: -1}, "mated in 1", "mate in 1"},
	} {
		if w, b := Eval(&c.e, "white"), Eval(&c.e, "black"); w != c.white || b != c.black {
			t.Errorf("%+v: %q with White, %q with Black", c.e, w, b)
		}
	}
}

func TestEvalCommand(t *testing.T) {
	for want, e := range map[string]fact.Evaluated{
		"[%eval 0.34,18]": {Centipawns: 34, Depth: 18}, "[%eval -1.05,7]": {Centipawns: -105, Depth: 7},
		"[%eval #-3,22]": {Mate: -3, Depth: 22},
	} {
		if got := EvalCommand(&e); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestEngineIsNamedWithItsNodes(t *testing.T) {
	for nodes, want := range map[int]string{1_000_000: "by Oracle 7, 1 M nodes", 2_500_000: "by Oracle 7, 2.5 M nodes", 50_000: "by Oracle 7, 50 k nodes", 1234: "by Oracle 7, 1234 nodes"} {
		if got := ByEngine(&fact.Engine{Name: "Oracle 7", Nodes: nodes}); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if Engine(nil) != "" || Best(nil, 3, "white") != "" {
		t.Error("there are words where no engine was asked")
	}
}

// A move of the user's that loses, after the opponent's second: what comes of it, and
// what would be better.
func TestAgain(t *testing.T) {
	a := fact.Again{
		Line:   []string{"e4", "e5", "Nf3"},
		Played: fact.Evaluated{Moves: []string{"f6", "Nxe5", "Qe7"}, Centipawns: 160},
		Best:   fact.Evaluated{Moves: []string{"Nc6", "Bb5"}, Centipawns: 30},
	}
	if got := Again(&a, 3, "black"); got != "2...f6 3.Nxe5 Qe7 (-1.6); better 2...Nc6 3.Bb5 (-0.3)" {
		t.Errorf("%q", got)
	}
	if got := AgainTail(&a, "black"); got != "3.Nxe5 Qe7 (-1.6); better 2...Nc6 3.Bb5 (-0.3)" {
		t.Errorf("%q", got)
	}
	a.Played.Moves = a.Played.Moves[:1]
	if got := AgainTail(&a, "black"); got != "-1.6; better 2...Nc6 3.Bb5 (-0.3)" {
		t.Errorf("%q", got)
	}
}
