package web

import (
	"net/url"
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
	if s == "" {
		return text
	}
	for _, form := range []string{string(s), url.QueryEscape(string(s)), url.PathEscape(string(s))} {
		text = strings.ReplaceAll(text, form, mask)
	}
	return text
}
