// Package bench measures how fast games become an opening tree, and checks that
// speed costs nothing: that the tree is the same however the games come and
// however many workers read them, and that two independent chess libraries read
// the same moves. It has tests only. 'make bench' writes its table to
// testdata/bench/README.md; DEVELOPERS.md says how to read it.
//
// Games come from corpus_test.go, which makes up legal ones; files given to 'make
// bench DATA=...' are measured as well. They go through fetch.Games and
// profile.Counts, which is what prep does with them.
package bench
