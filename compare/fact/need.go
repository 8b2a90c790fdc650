package fact

import "strings"

// Need is what the user needs from the game to come.
type Need uint8

const (
	AnyResult Need = iota
	NeedWin
	NeedDraw
)

// ParseNeed reads 'win', 'draw' or 'any'.
func ParseNeed(s string) (Need, bool) {
	switch strings.ToLower(s) {
	case "", "any":
		return AnyResult, true
	case "win":
		return NeedWin, true
	case "draw":
		return NeedDraw, true
	}
	return AnyResult, false
}

func (n Need) String() string { return [...]string{"any", "win", "draw"}[n] }

// Characters of a chapter, by the user's own label in its Character tag.
const (
	Sharp = "sharp"
	Solid = "solid"
)
