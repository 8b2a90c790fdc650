package fetch

import (
	"strconv"
	"strings"
	"unicode"

	"foreply/fetch/pgn"
)

// Kind says what sort of game it is, as far as its tags and the number of its
// moves tell.
type Kind string

const (
	Normal         Kind = "normal"
	Variant        Kind = "variant"
	SetUp          Kind = "set-up position"
	Engine         Kind = "against an engine"
	Forfeit        Kind = "forfeit"
	NoMoves        Kind = "no moves"
	Correspondence Kind = "correspondence"
	Simul          Kind = "simultaneous"
	BothSides      Kind = "both sides match" // the player under two names against himself
)

// Kinds are all kinds: for Options.With, where nothing shall be left out.
var Kinds = []Kind{Normal, Variant, SetUp, Engine, Forfeit, NoMoves, Correspondence, Simul, BothSides}

// Games with fewer half-moves than these were not played. A single move with a result
// is how forfeits and lost scores are entered by programs that insist on one (common
// practice); without a result it is a game that broke off, or its start. Where a tag
// speaks of a forfeit, a few may have been made before somebody noticed or left.
const (
	playedFrom        = 2
	playedFromForfeit = 10
)

// anyMoves stands for a number of moves not yet known.
const anyMoves = 1 << 30

// Classify tells the kind from the tags and the number of half-moves. The kinds
// that exclude a game from the opponent's openings come before those that keep
// it apart.
// Every tag looked at for a game with moves stands in tellsKind (sorter.go), too.
func Classify(tags pgn.Tags, moves int) Kind {
	switch {
	case isVariant(tags.Get("Variant")):
		return Variant
	case isSetUp(tags):
		return SetUp
	case isEngine(tags):
		return Engine
	case isForfeit(tags, moves):
		return Forfeit
	case moves == 0, moves < playedFrom && known(tags.Get("Result")) != "":
		return NoMoves
	case isCorrespondence(tags):
		return Correspondence
	case isSimul(tags):
		return Simul
	}
	return Normal
}

func isVariant(variant string) bool {
	switch strings.ReplaceAll(strings.ToLower(strings.TrimSpace(variant)), " ", "") {
	case "", "?", "-", "standard", "normal", "chess", "fromposition":
		return false
	}
	return true
}

// usualStart is the position of the usual start without its counters.
const usualStart = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq -"

// isSetUp: SetUp "1" asks for a FEN (PGN standard 9.7.1, 9.7.2); many files
// carry a FEN without SetUp, and some give the usual start as a FEN.
func isSetUp(tags pgn.Tags) bool {
	fields := strings.Fields(tags.Get("FEN"))
	if len(fields) == 0 || fields[0] == "?" {
		return strings.TrimSpace(tags.Get("SetUp")) == "1"
	}
	return strings.Join(fields[:min(4, len(fields))], " ") != usualStart
}

// isEngine: WhiteType and BlackType are 'human' or 'program' (PGN standard
// 9.1.5, from memory); the title BOT is common practice.
func isEngine(tags pgn.Tags) bool {
	for _, side := range [...]string{"White", "Black"} {
		if strings.EqualFold(tags.Get(side+"Type"), "program") || strings.EqualFold(tags.Get(side+"Title"), "BOT") ||
			namesMachine(tags.Get(side)) {
			return true
		}
	}
	return false
}

// namesMachine: 'Computer', 'Engine level 5' (common practice).
func namesMachine(name string) bool {
	name = strings.ToLower(name)
	return hasWord(name, "computer") || hasWord(name, "engine")
}

// isForfeit: not 'time forfeit' of PGN standard 9.8.1, which is a game lost on
// the clock, but a game not played.
func isForfeit(tags pgn.Tags, moves int) bool {
	switch strings.ToLower(strings.TrimSpace(tags.Get("Termination"))) {
	case "forfeit", "walkover", "default", "bye", "unplayed":
		return moves < playedFromForfeit
	}
	result := tags.Get("Result")
	return moves < playedFrom && (decided(pgn.ResultValue(result)) || byDefault(result))
}

// byDefault tells the results of pairing programs for a game not played: +:-, 1-0F, 0-0
// (common practice).
func byDefault(result string) bool {
	result = strings.TrimSpace(result)
	if strings.Contains(result, "+") && strings.Trim(result, "+-/: ") == "" {
		return true
	}
	if result == "0-0" || result == "0:0" { // both
		return true
	}
	points, found := strings.CutSuffix(strings.ToUpper(result), "F")
	return found && pgn.ResultValue(points) != ""
}

func decided(result string) bool { return result == "1-0" || result == "0-1" }

// slowestOverTheBoard is the most seconds a move that nobody would play at a
// sitting: from here on a move is sent, not made.
const slowestOverTheBoard = 6 * 60 * 60

// isCorrespondence: Mode is OTB, PM (paper mail), EM (electronic mail), ICS or
// TC (PGN standard 9.8.2, from memory); days a move in TimeControl and the word
// in Event or EventType, in several languages, are common practice.
func isCorrespondence(tags pgn.Tags) bool {
	switch strings.ToUpper(strings.TrimSpace(tags.Get("Mode"))) {
	case "EM", "PM":
		return true
	}
	if daysAMove(tags.Get("TimeControl")) {
		return true
	}
	for _, name := range [...]string{"Event", "EventType"} {
		text := strings.ToLower(tags.Get(name))
		for _, sign := range [...]string{"correspond", "fernschach", "fernturnier", "postal"} {
			if strings.Contains(text, sign) {
				return true
			}
		}
		if hasWord(text, "corr") {
			return true
		}
	}
	return false
}

// daysAMove reads moves/seconds as in 1/86400, and texts such as '3 days'.
func daysAMove(control string) bool {
	control = strings.ToLower(strings.TrimSpace(control))
	if strings.Contains(control, "day") {
		return true
	}
	first, _, _ := strings.Cut(control, ":")
	count, rest, found := strings.Cut(first, "/")
	moves, err := strconv.Atoi(count)
	if !found || err != nil || moves <= 0 {
		return false
	}
	base, _, _ := strings.Cut(rest, "+")
	seconds, err := strconv.Atoi(base)
	return err == nil && seconds/moves >= slowestOverTheBoard
}

// isSimul: 'simul' begins the word in most languages that files are written in.
func isSimul(tags pgn.Tags) bool {
	for _, name := range [...]string{"EventType", "Event"} {
		if strings.Contains(strings.ToLower(tags.Get(name)), "simul") {
			return true
		}
	}
	return false
}

func hasWord(text, word string) bool {
	for w := range strings.FieldsFuncSeq(text, func(r rune) bool { return !unicode.IsLetter(r) }) {
		if w == word {
			return true
		}
	}
	return false
}
