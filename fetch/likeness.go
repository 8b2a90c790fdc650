package fetch

import (
	"math"
	"slices"
	"strings"
	"unicode"
)

// likeness says how much two spellings look like one player. Only sameName is
// taken for the same without being asked; the rest is evidence and suggestion.
type likeness int

const (
	unlike      likeness = iota
	sameSurname          // one of them gives the surname only
	partSurname          // one of them gives a part of the surname
	nearName             // a letter or two differ
	initials             // surname the same, given names agree as far as spelled out
	otherOrder           // the same words
	sameName             // equal when folded, in one of the two ways
)

// spelled is a name taken apart. Words are folded; the surname is the last
// count of them, which is sure only if the text had a comma.
type spelled struct {
	folded  string
	twice   string // as spelledOut has it
	words   []string
	surname int
	comma   bool
}

func spell(name string) spelled {
	folded := Fold(name)
	s := spelled{folded: folded, twice: spelledOut(name), words: strings.Fields(folded), surname: 1}
	if last, given, found := strings.Cut(strip(name), ","); found {
		s.comma = true
		s.surname = min(len(strings.Fields(Fold(last+","))), len(s.words))
		s.words = append(looseGiven(given, last, s.given()), s.words[len(s.words)-s.surname:]...)
	}
	s.surname = min(s.surname, len(s.words))
	return s
}

// looseGiven takes given names apart that are initials written as one, as in
// 'Alder,MK', and drops numbers behind them, by which some files tell namesakes apart.
func looseGiven(given, last string, words []string) []string {
	given = strings.Trim(given, " .")
	if n := len(given); n >= 2 && n <= 3 && given == strings.ToUpper(given) && onlyDigits(given) == "" && last != strings.ToUpper(last) && len(words) == 1 && len(words[0]) == n {
		return strings.Split(words[0], "")
	}
	out := make([]string, 0, len(words))
	for _, w := range words {
		if w = strings.TrimRight(w, "0123456789"); w != "" {
			out = append(out, w)
		}
	}
	return out
}

func (s spelled) handle() bool { return len(s.words) == 1 && !s.comma }
func (s spelled) given() []string {
	return s.words[:len(s.words)-s.surname]
}
func (s spelled) last() string { return strings.Join(s.words[len(s.words)-s.surname:], "") }

// like compares two spellings.
func (s spelled) like(o spelled) likeness {
	switch {
	case nameless(s.folded) || nameless(o.folded), s.folded != o.folded && otherInitial(s.words, o.words):
		return unlike
	case s.folded == o.folded, s.twice == o.folded, s.folded == o.twice:
		return sameName
	case sameWords(s.words, o.words):
		return otherOrder
	}
	return max(s.likeAsSplit(o), s.surnameFirst(o).likeAsSplit(o), s.likeAsSplit(o.surnameFirst(s)))
}

// Alike tells why two spellings may be one player's, as a Suggestion does; same, if they
// are taken for one without being asked. Empty: they don't look alike.
func Alike(a, b string) (why string, same bool) {
	like := spell(a).like(spell(b))
	return whyLike[like], like == sameName
}

// otherInitial reports whether each of two spellings has one initial, and they are
// not the same: M is not H.
func otherInitial(a, b []string) bool {
	one, two := initialOf(a), initialOf(b)
	return one != "" && two != "" && one != two
}

// initialOf returns the only word of one letter, empty where there are none or more.
func initialOf(words []string) (found string) {
	for _, w := range words {
		if len(w) == 1 {
			if found != "" {
				return ""
			}
			found = w
		}
	}
	return found
}

// surnameFirst takes the first word for the surname where no comma tells, or as many
// as the other spelling shows it to have: 'Alder M.' is as common as 'M. Alder'.
func (s spelled) surnameFirst(o spelled) spelled {
	k := 1
	if o.comma {
		k = o.surname
	}
	if n := len(s.words); n > k && !s.comma {
		s.words, s.surname = append(s.words[k:n:n], s.words[:k]...), k
	}
	return s
}

// likeAsSplit compares two spellings of which it is known where the surname is.
func (s spelled) likeAsSplit(o spelled) likeness {
	s, o = shareSplit(s, o)
	switch {
	case s.handle() && o.handle():
		return nearHandles(s.folded, o.folded)
	case s.last() == o.last() && (len(s.given()) == 0 || len(o.given()) == 0):
		return sameSurname
	case s.last() == o.last() && givenAgree(s.given(), o.given()):
		return initials
	case (near(s.last(), o.last()) || cutOff(s.last(), o.last())) && min(len(s.given()), len(o.given())) > 0 && givenAgree(s.given(), o.given()):
		return nearName
	case near(strings.Join(s.words, ""), strings.Join(o.words, "")):
		return nearName
	case s.partOf(o) || o.partOf(s):
		return partSurname
	}
	return unlike
}

// partOf reports whether the surname is the start or the end of the other's, as of
// people who bear two, and the first given name is the same.
func (s spelled) partOf(o spelled) bool {
	if !s.comma || !o.comma || len(s.given()) == 0 || len(o.given()) == 0 || !givenAgree(s.given()[:1], o.given()[:1]) {
		return false
	}
	part, whole := s.words[len(s.words)-s.surname:], o.words[len(o.words)-o.surname:]
	return len(part) < len(whole) && (endsWith(whole, part) || slices.Equal(whole[:len(part)], part))
}

// shareSplit takes the surname from the spelling with a comma, if the other ends
// with the same words: 'Juan de la Cruz' and 'de la Cruz, J'.
func shareSplit(s, o spelled) (spelled, spelled) {
	switch {
	case s.comma && !o.comma && endsWith(o.words, s.words[len(s.words)-s.surname:]):
		o.surname = s.surname
	case o.comma && !s.comma && endsWith(s.words, o.words[len(o.words)-o.surname:]):
		s.surname = o.surname
	}
	return s, o
}

func endsWith(words, end []string) bool {
	return len(words) >= len(end) && slices.Equal(words[len(words)-len(end):], end)
}

func sameWords(a, b []string) bool {
	return len(a) == len(b) && slices.Equal(slices.Sorted(slices.Values(a)), slices.Sorted(slices.Values(b)))
}

// givenAgree compares given names as far as both have them: m, mi and mina
// agree, and so does mina with mina k.
func givenAgree(a, b []string) bool {
	for i := range min(len(a), len(b)) {
		if !strings.HasPrefix(a[i], b[i]) && !strings.HasPrefix(b[i], a[i]) {
			return false
		}
	}
	return true
}

// near allows one letter in five, at most two, after umlauts written out as two
// letters are taken for one.
func near(a, b string) bool {
	if max(len(a), len(b)) > longestName {
		return false
	}
	if min(len(a), len(b)) >= longSound && sound(a) == sound(b) {
		return true
	}
	a, b = umlauts.Replace(a), umlauts.Replace(b)
	return within(a, b, min(2, min(len(a), len(b))/5))
}

// longSound is how long names are that are compared by their sound.
const longSound = 5

// sound spells a name alike for the usual ways to write one of another alphabet
// (common practice): Ibrayev, Ibraev and Ibraiev.
func sound(name string) string {
	out := []byte(sounds.Replace(name))
	return string(slices.Compact(out))
}

var sounds = strings.NewReplacer(
	"shch", "s", "sch", "s", "tch", "c", "kh", "h", "zh", "z", "sh", "s", "ch", "c", "ts", "c", "tz", "c", "ks", "x", "ph", "f", "w", "v",
	"ya", "a", "ia", "a", "ja", "a", "aye", "ae", "aie", "ae", "aje", "ae", "ye", "e", "ie", "e", "je", "e",
	"yu", "u", "iu", "u", "ju", "u", "yo", "o", "io", "o", "jo", "o", "iy", "i", "ij", "i", "yi", "i", "y", "i", "j", "i")

// shortestCut is how many letters of a surname that is cut off must be left.
const shortestCut = 7

// cutOff reports whether one surname is the beginning of the other, as in files that
// keep so many letters.
func cutOff(a, b string) bool {
	return min(len(a), len(b)) >= shortestCut && (strings.HasPrefix(a, b) || strings.HasPrefix(b, a))
}

// longestName in bytes: what is longer is no name and gets no effort.
const longestName = 80

var umlauts = strings.NewReplacer("ae", "a", "oe", "o", "ue", "u")

// nearHandles wants equal numbers: walker77 and walker78 are two accounts.
func nearHandles(a, b string) likeness {
	if onlyDigits(a) == onlyDigits(b) && near(a, b) {
		return nearName
	}
	return unlike
}

func onlyDigits(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsDigit(r) {
			return r
		}
		return -1
	}, text)
}

// Distance counts the insertions, deletions, replacements and swaps of
// neighbours between two texts, no letter touched twice (optimal string
// alignment).
func Distance(a, b string) int { return distance(a, b, math.MaxInt) }

// within reports whether two texts are at most so far apart.
func within(a, b string, most int) bool { return distance(a, b, most) <= most }

// distance is Distance if that is at most so much, else anything above.
func distance(a, b string, most int) int {
	s, t := []rune(a), []rune(b)
	if apart := max(len(s)-len(t), len(t)-len(s)); apart > most {
		return apart
	}
	before, last, row := make([]int, len(t)+1), make([]int, len(t)+1), make([]int, len(t)+1)
	for j := range last {
		last[j] = j
	}
	for i := range s {
		from, to := 0, len(t)
		if most < len(t) { // further from the diagonal nothing is as near
			from, to = max(0, i-most), min(len(t), i+most+1)
			row[from], row[min(len(t), to+1)] = most+1, most+1
		}
		if from == 0 {
			row[0] = i + 1
		}
		for j := from; j < to; j++ {
			cost := 1
			if s[i] == t[j] {
				cost = 0
			}
			row[j+1] = min(last[j+1]+1, row[j]+1, last[j]+cost)
			if i > 0 && j > 0 && s[i] == t[j-1] && s[i-1] == t[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(t)]
}
