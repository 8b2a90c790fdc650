package pgn

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// manner tells what Mode, Event and EventType say of how the game was played, and
// its speed where no control tells that. Mode is OTB, PM (paper mail), EM
// (electronic mail), ICS or TC (PGN standard 9.8.2, from memory); what words mean is
// common practice.
func (h *Header) manner(raw *rawHeader) {
	var words eventWords
	words.add(h.Event)
	words.add(raw.eventType)
	mode := strings.TrimSpace(raw.mode)
	switch {
	case h.Control.DaysPerMove > 0, strings.EqualFold(mode, "EM"), strings.EqualFold(mode, "PM"), words.correspondence:
		h.Manner = Correspondence
	case words.simultaneous:
		h.Manner = Simultaneous
	case words.blindfold:
		h.Manner = Blindfold
	}
	if h.Speed = h.Control.Speed(); h.Speed == UnknownSpeed && h.Manner != Correspondence && !words.atOdds {
		h.Speed = words.speed
	}
}

// eventWords is what the words of an event tell.
type eventWords struct {
	speed                                   Speed
	atOdds                                  bool // words for two speeds, as in 'Rapid & Blitz'
	correspondence, simultaneous, blindfold bool
}

const (
	shortestSign = 4  // letters; none that tells anything is shorter
	longestSign  = 32 // bytes of a word that are looked at
)

// add reads a text word by word. Anything but a letter ends a word.
func (w *eventWords) add(text string) {
	var room [longestSign]byte
	n := 0
	for i := 0; i < len(text); i++ {
		switch c := text[i]; {
		case class[c]&letter != 0:
			if n < len(room) {
				room[n] = c | 0x20
				n++
			}
			continue
		case c >= utf8.RuneSelf:
			r, size := utf8.DecodeRuneInString(text[i:])
			i += size - 1
			if unicode.IsLetter(r) {
				n += putPlain(room[n:], r)
				continue
			}
		}
		if n >= shortestSign {
			w.word(room[:n])
		}
		n = 0
	}
	if n >= shortestSign {
		w.word(room[:n])
	}
}

// putPlain writes a letter beyond ASCII small and without its marks, as far as
// there is room.
func putPlain(room []byte, r rune) int {
	r = unicode.ToLower(r)
	if plain := unmarked[r]; plain != 0 {
		r = plain
	}
	if utf8.RuneLen(r) > len(room) {
		return 0
	}
	return utf8.EncodeRune(room, r)
}

func isLetter(r rune) bool {
	if r < utf8.RuneSelf {
		return class[r]&letter != 0
	}
	return unicode.IsLetter(r)
}

// word takes in a word in small letters without marks. Correspondence and
// simultaneous play are told by a part of it, since the words for them grow long.
func (w *eventWords) word(word []byte) {
	sign := signs[string(word)] // as below, the compiler makes no copy for looking up
	w.blindfold = w.blindfold || sign.blindfold
	w.correspondence = w.correspondence || string(word) == "corr"
	for i := range word {
		switch part := word[i:]; part[0] {
		case 's':
			w.simultaneous = w.simultaneous || begins(part, "simul")
		case 'c':
			w.correspondence = w.correspondence || begins(part, "correspond")
		case 'f':
			w.correspondence = w.correspondence || begins(part, "fernschach") || begins(part, "fernturnier")
		case 'p':
			w.correspondence = w.correspondence || begins(part, "postal")
		}
	}
	speed := sign.speed
	if speed == UnknownSpeed {
		speed = compound(word)
	}
	if speed != UnknownSpeed {
		w.atOdds = w.atOdds || w.speed != UnknownSpeed && w.speed != speed
		w.speed = speed
	}
}

// compound reads words put together, as Blitzturnier and rapidtoernooi.
func compound(word []byte) Speed {
	if c := word[0]; c != 'b' && c != 'r' && c != 's' { // nearly always
		return UnknownSpeed
	}
	for _, first := range [...]struct {
		word  string
		speed Speed
	}{{"blitz", Blitz}, {"rapid", Rapid}, {"schnellschach", Rapid}, {"snabbschacks", Rapid}, {"blixtschacks", Blitz}, {"snelschaak", Blitz}, {"bullet", Bullet}} {
		if begins(word, first.word) && wordTails[string(word[len(first.word):])] {
			return first.speed
		}
	}
	return UnknownSpeed
}

func begins(text []byte, start string) bool {
	return len(text) >= len(start) && string(text[:len(start)]) == start
}

// hasWord reports whether a text has one of the words, in capitals or not, that no
// letters stand next to. The words are ASCII.
func hasWord(text string, words ...string) bool {
	for i := range len(text) {
		if i > 0 && class[text[i-1]]&letter != 0 {
			continue
		}
		for _, word := range words {
			if text[i]|0x20 == word[0] && wordAt(text, i, word) {
				return true
			}
		}
	}
	return false
}

func wordAt(text string, i int, word string) bool {
	end := i + len(word)
	if end > len(text) || !strings.EqualFold(text[i:end], word) {
		return false
	}
	before, _ := utf8.DecodeLastRuneInString(text[:i])
	behind, _ := utf8.DecodeRuneInString(text[end:])
	return !isLetter(before) && !isLetter(behind)
}
