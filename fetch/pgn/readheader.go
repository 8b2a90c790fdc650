package pgn

import "strings"

// rawHeader is the tags that several fields of a Header come from.
type rawHeader struct {
	variant, fen, setUp, mode, eventType, termination, result string
	gameURL                                                   string
	servers                                                   bool // a tag that only servers write
}

// ReadHeader reads tags. Of a tag given twice the last value counts.
func ReadHeader(tags Tags) (h Header) {
	h.readPlayers(tags)
	h.readRest(tags)
	return h
}

// side tells whose tag it is: White or Black, or empty for those of the game.
func side(name string) string {
	if len(name) >= len("White") && (name[0] == 'W' || name[0] == 'B') {
		if side := name[:len("White")]; side == "White" || side == "Black" {
			return side
		}
	}
	return ""
}

// readPlayers reads the tags of the two into an empty header.
func (h *Header) readPlayers(tags Tags) {
	for i := range tags {
		switch of := side(tags[i].Name); of {
		case "White":
			h.White.read(tags[i].Name[len(of):], tags[i].Value)
		case "Black":
			h.Black.read(tags[i].Name[len(of):], tags[i].Value)
		}
	}
}

// readRest reads all that readPlayers did not.
func (h *Header) readRest(tags Tags) {
	var raw rawHeader
	for i := range tags {
		if side(tags[i].Name) == "" {
			h.read(tags[i].Name, tags[i].Value)
			raw.read(tags[i].Name, tags[i].Value)
		}
	}
	h.conclude(&raw)
}

// read takes in a tag of a player, its name without the colour.
func (p *Player) read(name, value string) {
	switch name {
	case "":
		p.Name = Told(value)
	case "Elo":
		p.Elo = number(strings.TrimSpace(value), mostElo)
	case "Title":
		p.Title = Told(value)
		p.Machine = p.Machine || strings.EqualFold(value, "BOT")
	case "Type": // PGN standard 9.1.5, from memory
		p.Machine = p.Machine || strings.EqualFold(value, "program")
	default:
		p.readNumber(name, value)
	}
}

// readNumber takes in FideId in any capitals, and NationalId, PlayerID and the like;
// not the number of a team.
func (p *Player) readNumber(name, value string) {
	switch {
	case strings.EqualFold(name, "FideId"):
		p.ID = FIDENumber(value)
	case (strings.HasSuffix(name, "Id") || strings.HasSuffix(name, "ID")) && !strings.HasPrefix(name, "Team"):
		p.Local, p.Body = LocalNumber(value), name
	}
}

// mostElo is beyond all ratings; what is more is none.
const mostElo = 3999

// FIDENumber is a FIDE number without spaces and leading zeros; empty for what is
// none, as 0 is in many files.
func FIDENumber(text string) string {
	text = strings.TrimLeft(strings.TrimSpace(text), "0")
	if !isDigits(text, longestNumber) {
		return ""
	}
	return text
}

// LocalNumber is a national federation's number of a player: some have letters,
// dashes or strokes in it (common practice). In capitals, without blanks and leading
// zeros; empty for what has no digit, is nothing but zeros, or is no number.
func LocalNumber(text string) string {
	text = strings.ToUpper(strings.TrimLeft(strings.TrimSpace(text), "0"))
	told := false
	for i := range len(text) {
		switch c := text[i]; {
		case c >= '1' && c <= '9':
			told = true
		case c == '0' || c == '-' || c == '/' || c >= 'A' && c <= 'Z':
		default:
			return ""
		}
	}
	if !told || len(text) > longestNumber {
		return ""
	}
	return text
}

// longestNumber is beyond the numbers of all federations.
const longestNumber = 20

// namesMachine: 'Computer', 'Engine level 5' (common practice).
func namesMachine(name string) bool { return hasWord(name, "engine", "computer") }

// read takes in a tag of the game that means something by itself.
func (h *Header) read(name, value string) {
	switch name {
	case "Event":
		h.Event = Told(value)
	case "Site":
		h.Site = Told(value)
	case "Date":
		h.Date = ParseDate(value)
	case "Round":
		h.Round = Told(value)
	case "ECO":
		h.ECO = Told(value)
	case "Opening":
		h.Opening = Told(value)
	case "Role":
		h.Role = strings.ToLower(strings.TrimSpace(value))
	case "Character":
		h.Character = strings.ToLower(strings.TrimSpace(value))
	case "TimeControl":
		h.Control = ParseControl(value)
	case "UTCDate":
		h.UTCDate = ParseDate(value)
	case "UTCTime":
		h.UTCTime = ParseClock(value)
	case "StartTime":
		h.StartTime = ParseClock(value)
	case "Time":
		h.Time = ParseClock(value)
	case "GameId":
		h.Number = Told(value)
	case "Link":
		h.Link = gameAddress(value)
	}
}

// read takes in a tag that counts with others.
func (raw *rawHeader) read(name, value string) {
	switch name {
	case "Result":
		raw.result = value
	case "Variant":
		raw.variant = value
	case "FEN":
		raw.fen = value
	case "SetUp":
		raw.setUp = value
	case "Mode":
		raw.mode = value
	case "EventType":
		raw.eventType = value
	case "Termination":
		raw.termination = value
	case "GameURL":
		raw.gameURL = value
	case "UTCDate", "UTCTime", "StartTime", "EndTime":
		raw.servers = raw.servers || Told(value) != ""
	}
}

// conclude works out what several tags tell together.
func (h *Header) conclude(raw *rawHeader) {
	if h.Result = ResultValue(raw.result); h.Result == "*" {
		h.Result = ""
	}
	h.ByDefault = byDefault(raw.result)
	h.Unplayed = notPlayed(raw.termination)
	h.White.Machine = h.White.Machine || namesMachine(h.White.Name)
	h.Black.Machine = h.Black.Machine || namesMachine(h.Black.Name)
	h.place(raw)
	h.start(raw)
	h.manner(raw)
}

// notPlayed: not 'time forfeit' of PGN standard 9.8.1, which is a game lost on the
// clock.
func notPlayed(termination string) bool {
	if termination = strings.TrimSpace(termination); termination == "" {
		return false
	}
	for _, word := range [...]string{"forfeit", "walkover", "default", "bye", "unplayed"} {
		if strings.EqualFold(termination, word) {
			return true
		}
	}
	return false
}

// byDefault tells the results of pairing programs for a game not played: +:-, 1-0F,
// 0-0 (common practice).
func byDefault(result string) bool {
	result = strings.TrimSpace(result)
	if strings.IndexByte(result, '+') >= 0 && strings.Trim(result, "+-/: ") == "" {
		return true
	}
	if result == "0-0" || result == "0:0" { // both
		return true
	}
	n := len(result) - 1
	return n > 0 && result[n]|0x20 == 'f' && ResultValue(result[:n]) != ""
}

// usualStart is the position of the usual start without its counters.
const usualStart = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq -"

// start tells what the game begins with. SetUp "1" asks for a FEN (PGN standard
// 9.7.1, 9.7.2); many files carry a FEN without SetUp, and some give the usual start
// as a FEN.
func (h *Header) start(raw *rawHeader) {
	fen := Told(raw.fen)
	switch {
	case otherRules(raw.variant):
		h.Start, h.Variant = OtherVariant, strings.TrimSpace(raw.variant)
		h.FEN = strings.TrimSpace(fen)
	case fen == "" && strings.TrimSpace(raw.setUp) == "1", fen != "" && !startsUsually(fen):
		h.Start, h.FEN = SetUp, strings.TrimSpace(fen)
	}
}

// startsUsually reports whether a FEN is the usual start, whatever its counters.
func startsUsually(fen string) bool {
	for want, more := usualStart, true; more; {
		var field string
		field, want, more = strings.Cut(want, " ")
		fen = strings.TrimLeft(fen, " \t")
		if !strings.HasPrefix(fen, field) {
			return false
		}
		fen = fen[len(field):]
		if fen != "" && fen[0] != ' ' && fen[0] != '\t' {
			return false
		}
	}
	return true
}

// otherRules reports whether a Variant tag names other rules.
func otherRules(variant string) bool {
	if variant = strings.TrimSpace(Told(variant)); variant == "" {
		return false
	}
	for _, usual := range [...]string{"standard", "normal", "chess", "from position", "fromposition"} {
		if strings.EqualFold(variant, usual) {
			return false
		}
	}
	return true
}

// ParseClock reads a time of day: 18:30, 18:30:00, with or without a fraction.
func ParseClock(tag string) Clock {
	tag = strings.TrimSpace(tag)
	seconds, factor := 0, 3600
	for more := true; more; factor /= 60 {
		var part string
		part, tag, more = strings.Cut(tag, ":")
		if factor == 1 {
			part, _, _ = strings.Cut(part, ".")
		}
		n, ok := readNumber(part)
		if !ok || len(part) > 2 || factor == 0 || n > 59 || factor == 3600 && (n > 23 || !more) {
			return 0
		}
		seconds += n * factor
	}
	return Clock(seconds + 1)
}

// Told is the value of a tag, empty if it says nothing.
func Told(value string) string {
	for i := range len(value) {
		switch value[i] {
		case '?', '-', '.', '*', ' ':
		default:
			return value
		}
	}
	return ""
}
