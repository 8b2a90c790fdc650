// Package fetch turns sources into a stream of games. Patterns for files,
// folders and archives come in, with a Who that says whose games are wanted;
// out goes each of the opponent's games once, in a fixed order, with a Summary
// of what was read, joined and left out. It knows no chess: moves are text to
// it. A Store keeps what came. Below it lies fetch/pgn, which reads the text; above
// it fetch/web, which fills the Store from servers, and cmd, which hands the games
// to profile.
//
// Each file is read by as many workers as there are processors; nothing that
// comes out depends on their number. All hands the games out in order, Spread deals
// an archive's games out to the workers' own functions.
//
// Priorities, where they compete: never join two different games, never count
// one game twice, never give up on the readable because of the unreadable,
// speed.
package fetch
