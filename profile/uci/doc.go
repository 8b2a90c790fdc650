// Package uci speaks with a chess engine on the user's machine over UCI, the
// open protocol in which one process asks another for moves (Stefan
// Meyer-Kahlen and Rudolf Huber, 'Description of the universal chess
// interface', April 2006).
//
// In go a command and positions; out come evaluations and lines of legal
// moves. Start makes the process and agrees on options, Search asks about one
// position for a fixed number of nodes, so that answers repeat, and Close ends
// it. It stands on package board alone; package analysis spends a budget with
// it and keeps what was found.
//
// Its priorities, in order: every step ends within a time known beforehand,
// whatever the engine does; no illegal move comes out; lines it doesn't know
// are passed over.
package uci
