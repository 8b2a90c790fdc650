package words

import "strings"

// Family is the part of an opening's name before its variations.
func Family(name string) string {
	first, _, _ := strings.Cut(name, ":")
	return first
}
