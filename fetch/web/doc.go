// Package web brings public games from servers that export PGN into a
// fetch.Store. It knows no server by name: a Description, as the user wrote it,
// becomes a Source; a Server asks it for one player at a time, politely, and
// hands back an Account of what came. Below it lie fetch, which unpacks and
// keeps, and fetch/pgn, which reads the games; above it only cmd, which brings
// the configuration and tells the user.
//
// Priorities, where they compete: never lose a game that was kept, never give a
// token away, never take half a game for a whole one, never ask the server for
// more than is needed, speed.
//
// The way of an answer: client.go asks (the sole importer of the HTTP client),
// answer.go streams the body unpacked to a file beside the games, games.go reads
// it, pages.go decides what is asked next, and state.go remembers what need not be
// asked again. The state is written after the games, so a run that dies between
// asks for too much the next time, and keeps nothing twice.
package web
