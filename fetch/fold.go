package fetch

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/unicode/norm"
)

// plainLetters spells letters that Unicode does not decompose, as they are
// written where the sign is not at hand (common practice).
var plainLetters = map[rune]string{
	'ß': "ss", 'æ': "ae", 'œ': "oe", 'ø': "o", 'ł': "l", 'đ': "d", 'ð': "d",
	'þ': "th", 'ħ': "h", 'ı': "i", 'ĸ': "k", 'ŋ': "n", 'ŧ': "t", 'ƒ': "f",
}

// titles are those of the FIDE Handbook B.01 (from memory) and of universities, which
// some files write before the name.
var titles = []string{"GM", "IM", "FM", "CM", "WGM", "WIM", "WFM", "WCM", "Dr", "DR", "Prof"}

// colourMarks are notes behind a name that say who had which pieces.
var colourMarks = []string{"(wh)", "(bl)", "(w)", "(b)", "(white)", "(black)"}

// Fold returns the form in which spellings of one name are equal: without
// regard to case, diacritics, spaces and punctuation, 'Last, First' the same as
// 'First Last', a title before the name or a colour in parentheses behind
// it left away. A name of one word is taken for a handle and keeps its
// punctuation, since a_b and a-b are two accounts. Initials are not names:
// 'Alder, M' and 'Alder, Mina' stay different. Fold(Fold(x)) is Fold(x).
func Fold(name string) string {
	text := dropColourMark(strip(name))
	if !strings.ContainsFunc(text, isBreak) {
		return lower(text)
	}
	last, first, _ := strings.Cut(text, ",")
	words := append(dropTitles(nameWords(first)), dropTitles(nameWords(last))...)
	return lower(strings.Join(words, " "))
}

// spelledOut is Fold with the letters that are written as two where the sign is
// not at hand, ü as ue. So 'Müller' is both Muller and Mueller, while these two
// are different names.
func spelledOut(name string) string {
	return Fold(twoLetters.Replace(norm.NFC.String(repair(strings.ToValidUTF8(name, "")))))
}

var twoLetters = strings.NewReplacer(
	"ä", "ae", "ö", "oe", "ü", "ue", "ø", "oe", "å", "aa", "Ä", "Ae", "Ö", "Oe", "Ü", "Ue", "Ø", "Oe", "Å", "Aa")

// repair undoes what happens to UTF-8 that is taken for Windows-1252 on its way:
// 'MÃ¼ller'. Hardly a name looks so by itself.
func repair(name string) string {
	if !strings.ContainsFunc(name, func(r rune) bool { return r >= 0xC2 && r <= 0xF4 }) {
		return name
	}
	raw, err := charmap.Windows1252.NewEncoder().String(name)
	if err != nil || !utf8.ValidString(raw) {
		return name
	}
	return raw
}

// strip takes diacritics and invisible signs away; every kind of space becomes
// a plain one.
func strip(name string) string {
	var out strings.Builder
	out.Grow(len(name))
	text := strings.ReplaceAll(repair(strings.ToValidUTF8(name, "")), "´", "'") // an apostrophe, which NFKD takes for a space with a mark
	for _, r := range norm.NFKD.String(text) {
		switch {
		case unicode.IsSpace(r):
			out.WriteByte(' ')
		case unicode.Is(unicode.M, r), unicode.Is(unicode.C, r), r == '×': // of what repair looks at, only × would be left
		default:
			out.WriteRune(r)
		}
	}
	return strings.TrimSpace(out.String())
}

func lower(text string) string {
	var out strings.Builder
	out.Grow(len(text))
	for _, r := range norm.NFKD.String(strings.ToLower(text)) {
		if plain, ok := plainLetters[r]; ok {
			out.WriteString(plain)
		} else if !unicode.Is(unicode.M, r) {
			out.WriteRune(r)
		}
	}
	return out.String()
}

func dropColourMark(text string) string {
	for i := 0; i < len(colourMarks); i++ {
		mark := colourMarks[i]
		if end := len(text) - len(mark); end >= 0 && strings.EqualFold(text[end:], mark) {
			text = strings.TrimRight(text[:end], " ")
			i = -1 // from the start: there may be another
		}
	}
	return text
}

// isBreak tells the signs that make a text a name of several words.
func isBreak(r rune) bool { return r == ' ' || r == ',' || r == '.' }

// nameWords splits at everything but letters, digits and apostrophes; those
// vanish, so that O'Neil is one word.
func nameWords(text string) []string {
	text = strings.Map(func(r rune) rune {
		switch {
		case strings.ContainsRune("'’‘`´ʼ", r):
			return -1
		case unicode.IsLetter(r), unicode.IsDigit(r):
			return r
		}
		return ' '
	}, text)
	return strings.Fields(text)
}

// dropTitles removes leading titles as long as a name remains.
func dropTitles(words []string) []string {
	for len(words) > 1 && slices.Contains(titles, words[0]) {
		words = words[1:]
	}
	return words
}

// nameless tells the placeholders for a player who is not known.
func nameless(folded string) bool {
	switch folded {
	case "nn", "n n", "unknown":
		return true
	}
	return strings.Trim(folded, "?-*") == ""
}
