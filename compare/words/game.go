package words

import "foreply/compare/fact"

func LeftBy(by, called string, line []string) string {
	switch by {
	case fact.LeftByThem:
		return "they left your book with " + LastMove(line)
	case fact.LeftByYou:
		return called + " left your book with " + LastMove(line)
	case fact.BookOver:
		return "your book ended before " + LastMove(line)
	}
	return "the game ended in your book"
}
