package rank

import (
	"slices"

	"foreply/compare/fact"
)

// Situation tells which options the order for an aim has put before the main choice; nil
// where the user named no situation.
func Situation(options []fact.Option, aim string) *fact.Situation {
	if aim == "" || aim == fact.ForFast {
		return nil
	}
	s := fact.Situation{Aim: aim, First: [][]string{}}
	for i := range options {
		o := &options[i]
		if i > 0 && slices.Equal(options[i-1].Line, o.Line) {
			continue
		}
		if s.Places++; !o.Main {
			s.First = append(s.First, slices.Concat(o.Line, []string{o.Move}))
		}
	}
	return &s
}
