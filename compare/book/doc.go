// Package book is the user's repertoire for one colour as a graph of positions.
// Chapters of PGN come in; out go the answers and covered moves of a position,
// notes, glyphs and places in the files, and a review of the repertoire alone.
package book
