// Package walk sends a game through the book: where the user is to move the main
// choice takes it all, where the opponent is the forecast splits it. In come a
// book and a forecaster; out go the positions followed with their reach, and the
// ends, whose mass with what was cut sums to 1.
package walk
