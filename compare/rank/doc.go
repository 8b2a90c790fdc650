// Package rank says what comes first: the order of the options of a position, what
// is worth the evening, which positions get a board. In come facts of a Report, out
// go choices among them; it words nothing and finds nothing.
package rank
