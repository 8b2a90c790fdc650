// Package profile turns an opponent's games into what a preparation needs to
// know of them: the opening tree of each colour, transpositions merged, and a
// forecast of their moves.
//
// In come games as package fetch/pgn reads them, with the word of the caller
// whose they are, and games of players like the opponent (Peers); out go a
// Profile (games in order of time, a Tree for each colour), a Forecast
// (probabilities with intervals for every legal move; model.go has its numbers
// and what they were fitted on), Results, Records, Changes (what they took up or
// dropped), Slips (where a side went wrong by the comments) and Traits.
// Tree and Peers stand on Counts, a counting tree for archives of any size.
// It knows no repertoire: package compare brings the two together. Its
// neighbours below are profile/board (rules), profile/stat (distributions)
// and profile/openings (names).
package profile
