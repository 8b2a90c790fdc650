package words

import (
	"fmt"
	"strings"
)

var months = [...]string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}

// DateWords prints a Date tag as a player says it: '2 Nov 2026', 'Nov 2026',
// '2026', or 'date unknown'.
func Date(tag string) string {
	var y, m, d int
	parts := strings.Split(tag, ".")
	if len(parts) > 0 {
		fmt.Sscanf(parts[0], "%d", &y)
	}
	if len(parts) > 1 {
		fmt.Sscanf(parts[1], "%d", &m)
	}
	if len(parts) > 2 {
		fmt.Sscanf(parts[2], "%d", &d)
	}
	switch {
	case y == 0:
		return "date unknown"
	case m < 1 || m > 12:
		return fmt.Sprint(y)
	case d < 1 || d > 31:
		return fmt.Sprintf("%s %d", months[m-1], y)
	}
	return fmt.Sprintf("%d %s %d", d, months[m-1], y)
}
