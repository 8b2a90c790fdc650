// Package find has the findings of the comparison, a file and a function for
// each: what the games, the book and the walk through it say about one question.
// In come what a finding needs of Games, book.Book, walk.Walk and the forecast; out
// go facts, in the order of their own truth (likeliest first, most often first).
// Which of them are told, and with which words, is not decided here. What several
// findings share of the games stands in games.go; nothing else is shared.
package find
