// Package compare brings an opponent's profile and the user's repertoire
// together: which lines to expect and how likely each is, where they leave the
// book, what the book has no answer to, what to look at before the game.
//
// In come a profile.Profile, a Book for each colour the user may have and
// Options; out goes a Report, the one value that package pdf, the terminal and
// the JSON print. All chess and statistics of the product end here: whoever
// prints a Report computes neither. check.go reads a repertoire alone;
// export.go writes lines as PGN and EPD.
package compare
