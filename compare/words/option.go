package words

import "fmt"

func Familiar(games int) string {
	if games == 0 {
		return "new to them in the games found"
	}
	return fmt.Sprintf("they have met it in %s", Plural(games, "game"))
}
