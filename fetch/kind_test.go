package fetch

import (
	"slices"
	"testing"

	"foreply/fetch/pgn"
)

func TestClassify(t *testing.T) {
	const start = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1"
	for _, c := range []struct {
		quirk string
		tags  pgn.Tags
		moves int
		want  Kind
	}{
		{"no tags", nil, 40, Normal},
		{"variant named as usual chess", tags("Variant", "Standard"), 40, Normal},
		{"variant named Chess", tags("Variant", "chess"), 40, Normal},
		{"variant", tags("Variant", "Chess960"), 40, Variant},
		{"variant with a set-up position", tags("Variant", "Chess960", "SetUp", "1", "FEN", "x"), 40, Variant},
		{"from a position, without FEN", tags("Variant", "From Position"), 40, Normal},
		{"from a position", tags("Variant", "From Position", "FEN", "8/8/8/8/8/8/8/K1k5 w - - 0 1"), 40, SetUp},
		{"FEN without SetUp", tags("FEN", "8/8/8/8/8/8/8/K1k5 w - - 0 1"), 40, SetUp},
		{"FEN of the usual start", tags("SetUp", "1", "FEN", start), 40, Normal},
		{"FEN of the usual start, counters missing", tags("FEN", start[:len(start)-4]), 40, Normal},
		{"usual position without castling", tags("FEN", "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w - - 0 1"), 40, SetUp},
		{"SetUp 1 and no FEN", tags("SetUp", "1"), 40, SetUp},
		{"SetUp 0", tags("SetUp", "0"), 40, Normal},
		{"FEN not known", tags("FEN", "?"), 40, Normal},
		{"program", tags("WhiteType", "human", "BlackType", "Program"), 40, Engine},
		{"bot", tags("WhiteTitle", "BOT"), 40, Engine},
		{"a machine by its name", tags("White", "Engine, level 5"), 40, Engine},
		{"a person whose name begins so", tags("White", "Enginesson, Mina"), 40, Normal},
		{"title of a person", tags("WhiteTitle", "WFM"), 40, Normal},
		{"time forfeit is a game", tags("Termination", "time forfeit", "Result", "1-0"), 40, Normal},
		{"rules infraction is a game", tags("Termination", "rules infraction", "Result", "1-0"), 40, Normal},
		{"rules infraction without moves", tags("Termination", "rules infraction", "Result", "1-0"), 0, Forfeit},
		{"forfeit after five moves", tags("Termination", "forfeit", "Result", "1-0"), 9, Forfeit},
		{"forfeit after ten half-moves", tags("Termination", "forfeit", "Result", "1-0"), 10, Normal},
		{"a program's set-up position", tags("FEN", "8/8/8/8/8/8/8/K1k5 w - - 0 1", "WhiteType", "program"), 40, SetUp},
		{"by correspondence, against a program", tags("Mode", "EM", "BlackType", "program"), 40, Engine},
		{"by correspondence, never played", tags("Mode", "EM", "Result", "1-0"), 0, Forfeit},
		{"forfeit of a long game", tags("Termination", "forfeit", "Result", "1-0"), 40, Normal},
		{"decided without moves", tags("Result", "0-1"), 0, Forfeit},
		{"decided after one move, as some programs need it", tags("Result", "0-1"), 1, Forfeit},
		{"decided after two", tags("Result", "0-1"), 2, Normal},
		{"won by default, as pairing programs write it", tags("Result", "+:-"), 0, Forfeit},
		{"lost by default, with an F", tags("Result", "0-1F"), 0, Forfeit},
		{"an odd result of a game with moves", tags("Result", "1-0F"), 40, Normal},
		{"decided in another form, without moves", tags("Result", "1:0"), 0, Forfeit},
		{"lost by default by both", tags("Result", "0-0"), 1, Forfeit},
		{"a single move without a result", tags("Result", "*"), 1, Normal},
		{"a single move, no tags", nil, 1, Normal},
		{"drawn after one move", tags("Result", "1/2-1/2"), 1, NoMoves},
		{"drawn without moves", tags("Result", "1/2-1/2"), 0, NoMoves},
		{"nothing at all", nil, 0, NoMoves},
		{"electronic mail", tags("Mode", "EM"), 40, Correspondence},
		{"over the board", tags("Mode", "OTB"), 40, Normal},
		{"a day a move", tags("TimeControl", "1/86400"), 40, Correspondence},
		{"ten moves in thirty days", tags("TimeControl", "10/2592000"), 40, Correspondence},
		{"days in words", tags("TimeControl", "3 days per move"), 40, Correspondence},
		{"forty moves in two hours", tags("TimeControl", "40/7200:3600"), 40, Normal},
		{"moves per nothing", tags("TimeControl", "0/86400"), 40, Normal},
		{"event by correspondence", tags("Event", "Correspondence Cup"), 40, Correspondence},
		{"event of the corr. group", tags("Event", "Club corr. group"), 40, Correspondence},
		{"event by correspondence, in French", tags("Event", "Tournoi par correspondance"), 40, Correspondence},
		{"event by correspondence, in German", tags("Event", "Fernschach-Pokal"), 40, Correspondence},
		{"a place that begins so", tags("Event", "Corrwick Open"), 40, Normal},
		{"simultaneous display", tags("EventType", "simul"), 40, Simul},
		{"simultaneous display in the event", tags("Event", "Simultan Aldbury"), 40, Simul},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			if got := Classify(tagged(c.tags).Header(), c.moves); got != c.want {
				t.Errorf("Classify(%v, %d) = %s, want %s", c.tags, c.moves, got, c.want)
			}
			if !slices.Contains(Kinds, c.want) {
				t.Errorf("%s is not among Kinds", c.want)
			}
		})
	}
}
