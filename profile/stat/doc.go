// Package stat holds the distributions, intervals, scoring rules and rating
// tables behind the forecast and its print.
//
// Counts, shares, strengths and ratings come in; quantiles, intervals, scores
// and whole-number shares go out. It is a leaf: it knows no chess beyond
// ratings, imports nothing of the project, and is used by profile,
// profile/hindsight and compare.
//
// Every probability returned lies in 0..1 and nothing returned is ever NaN,
// whatever comes in; each function says what it makes of an input that has no
// meaning. Each formula or table names its source.
package stat
