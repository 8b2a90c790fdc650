package web

import (
	"bytes"
	"io"
	"net/url"
	"regexp"
	"slices"
	"strings"
)

// mask stands where a token would.
const mask = "***"

// Secret is a token. It prints as a mask, so that no message can give it away.
type Secret string

func (s Secret) String() string   { return mask }
func (s Secret) GoString() string { return mask }

// hide takes the token out of a text, in the ways it may be written there.
func (s Secret) hide(text string) string {
	for _, form := range s.forms() {
		text = strings.ReplaceAll(text, form, mask)
	}
	return text
}

// forms are the ways to write the token, none for an empty one.
func (s Secret) forms() []string {
	if s == "" {
		return nil
	}
	return slices.Compact([]string{string(s), url.QueryEscape(string(s)), url.PathEscape(string(s))})
}

// shortestToken is the length from which on a token is looked for in games: a shorter
// one may stand there by chance, and protects nothing.
const shortestToken = 8

// hider writes on what passes without the token: some servers say in each game how they
// were asked for it. Close writes what it held back.
type hider struct {
	w     io.Writer
	token Secret
	tail  []byte // may be the start of a token
}

func (h *hider) Write(p []byte) (int, error) {
	if len(h.token) < shortestToken {
		return h.w.Write(p)
	}
	text, longest := append(h.tail, p...), 0
	for _, form := range h.token.forms() {
		text = bytes.ReplaceAll(text, []byte(form), []byte(mask))
		longest = max(longest, len(form))
	}
	keep := min(len(text), longest-1)
	_, err := h.w.Write(text[:len(text)-keep])
	h.tail = append(h.tail[:0], text[len(text)-keep:]...)
	return len(p), err
}

func (h *hider) Close() error {
	_, err := h.w.Write(h.tail)
	return err
}

var (
	// queryValue finds name=value of a query, and 'Name: value' of a header.
	queryValue  = regexp.MustCompile(`([?&]|^)([^?&=\s"']+)=([^&#\s"']+)`)
	headerValue = regexp.MustCompile(`^([A-Za-z][-A-Za-z0-9]*)(:\s*|\s+)(\S.*)$`)
	// secretName tells names of what nobody else should read (common practice).
	secretName = regexp.MustCompile(`(?i)(^|[-_.])(x?auth|authorization|(access|auth|api|app)?[-_]?(key|token)|(client)?[-_]?secret|pass(word|wd|phrase)?|pwd|sig(nature)?|session([-_]?id)?|sid|cookie|bearer|credentials?)($|[-_.])`)
)

// shown is a text, with addresses or parts of a query in it, as messages print it:
// without values that look like keys. Somebody may have written one into the
// configuration, and shows the message to others.
func shown(text string) string {
	return queryValue.ReplaceAllStringFunc(text, func(part string) string {
		m := queryValue.FindStringSubmatch(part)
		return m[1] + m[2] + "=" + shownValue(m[2], m[3])
	})
}

// shownHeader is the same for a header.
func shownHeader(text string) string {
	if m := headerValue.FindStringSubmatch(text); m != nil {
		return m[1] + m[2] + shownValue(m[1], m[3])
	}
	return shown(text)
}

func shownValue(name, value string) string {
	if value == mask || strings.Contains(value, "{token}") {
		return value
	}
	if secretName.MatchString(name) || slices.ContainsFunc(strings.Fields(value), looksLikeKey) {
		return mask
	}
	return value
}

// shortestKey is the length from which on a word may be a key.
const shortestKey = 16

// looksLikeKey tells what people don't write by hand: a long word in which letters and
// digits are mixed, or a very long one without a break.
func looksLikeKey(word string) bool {
	letters := strings.IndexFunc(word, func(r rune) bool { return r|0x20 >= 'a' && r|0x20 <= 'z' }) >= 0
	digits := strings.ContainsAny(word, "0123456789")
	whole := !strings.ContainsAny(word, "/:{},; ")
	return whole && (len(word) >= shortestKey && letters && digits && !strings.Contains(word, ".") ||
		len(word) >= 2*shortestKey && (letters || digits))
}

// variableName tells names of environment variables (POSIX.1, 8.1: capital letters,
// digits and _; small letters are common practice) from tokens that stand in their place.
func variableName(name string) bool {
	plain := name != "" && strings.IndexFunc(name, func(r rune) bool {
		return !(r == '_' || r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r >= '0' && r <= '9')
	}) < 0 && (name[0] < '0' || name[0] > '9')
	capitals := name == strings.ToUpper(name)
	return plain && !(looksLikeKey(name) && !(capitals && strings.Contains(name, "_"))) &&
		(capitals || len(name) < shortestKey || strings.Contains(name, "_"))
}

// shownVariable is the name of a variable in a message. One that is not set may be a
// token yet: only what is written as variables are is printed.
func shownVariable(name string) string {
	if name == strings.ToUpper(name) {
		return "the variable " + name
	}
	return "the variable that token_from names"
}
