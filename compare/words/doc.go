// Package words says in English what the facts of a Report are: how often, how
// many, which move, when. Facts come in, phrases and sentences go out; what a
// player reads on the page and in the terminal is worded here, so that another
// language is another package with the same functions. It computes nothing.
//
// Players misread percentages: everything is said in frequencies that can be
// counted on fingers.
package words
