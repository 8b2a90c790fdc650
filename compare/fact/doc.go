// Package fact has the types of the Report: what the comparison of an
// opponent's games with the user's book found, as kinds, counts, moves, dates,
// places and chances. Nothing comes in but what compare puts there; it goes out to
// package words, which makes sentences of it, to the page, and as JSON. It
// computes nothing.
package fact
