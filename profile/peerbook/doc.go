// Package peerbook keeps what many players played, from archives larger than
// memory, in one file that is read by offset.
//
// In come games, as moves with what is known of their players, or other books;
// out goes a book: for each position and move how often it was played and with
// what results, by day, rating band and time class, and the games themselves,
// moves and hashes of names, so that a player's own games can be taken out and
// books can be merged. It knows the board and nothing of text; package profile
// reads games for it and forecasts from it.
//
// # Building
//
// A Builder keeps games as records of fixed width, sorted by their moves, in
// runs on disk. Write merges the runs, which brings copies of one game together,
// writes the games, and replays each from where it leaves the one before it. Each
// move becomes a visit of 20 bytes; visits are sorted in runs by position, move
// and player, merged, and summed up. So memory doesn't grow with the input but for 8 bytes a player, and
// the order of the input changes nothing.
//
// # The file
//
// All numbers are big-endian, or bits from the highest down; every part is
// followed by its CRC-32C (Castagnoli; RFC 3720 names the polynomial).
//
//	head       16 bytes, Head
//	games      blocks: numbers of the players, then the games as bits (gameblocks.go)
//	positions  blocks among one another: tiers of positions by how many games passed
//	           them, each block with what holds for all days and, behind it, the days
//	           (tiers.go); and for those that few games passed, the blocks of games
//	           in which they are (places.go)
//	players    hashes of the names, in order (names.go)
//	index      of the games and of each kind: how long each block is, its games or
//	           its first key
//	rows       games by class, both ratings and day, and the marks of their openings
//	about      counts, and where the parts stand
//	tail       32 bytes: where 'about' stands, its length, and tailMark
//
// Lengths of lists are in Elias' gamma code. A book says which days it spans, so
// that a day takes as few bits as it needs; a move is told by which of the pieces it
// is and which of that one's steps, in five or six bits.
//
// Most positions of an archive were passed by few games (of 72,000 games at 24
// half-moves, 94 in 100 by one, and 99 by less than twelve). To keep no more of them than
// where these games stand makes the file half as large; to look one up, a block of games
// is replayed and summed up as when the book was made. Who walks along the moves played
// most reads few blocks of the first tiers, without their days.
package peerbook
