package main

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/fetch"
	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// The user's books, one for each colour that is prepared: what can't be played is told and
// costs its line, or with --strict the sheet; what was read as a guess is told as a sum.
func TestBooksAreRead(t *testing.T) {
	t.Chdir(t.TempDir())
	write(t, "w.pgn", "1. e4 e5 2. Nf3 *\n")
	write(t, "b.pgn", "1. d4 d5 2. c4 e6 *\n\n1. e4 e5 2. Nf3 Nc6 3. Bb5 a6 *\n")
	write(t, "broken.pgn", "1. e4 c6 2. d4 d5 3. e5 Bf5 4. Bxh8 *\n")
	write(t, "all-broken.pgn", "1. Ke4 *\n")
	write(t, "guess.pgn", "1. c4 c5 2. g3 g6 3. Bg2 Bg7\n3. h4\n")
	write(t, "one.pgn", "1. e4 *\n")
	write(t, "empty.pgn", "")
	write(t, "variant.pgn", "[Variant \"Atomic\"]\n\n1. e4 *\n")
	read := func(f task) ([]*book.Book, string, error) {
		var errs strings.Builder
		a := &app{ctx: t.Context(), say: newSpeaker(&errs)}
		f.cfg = &settings{}
		books, err := a.readBooks(&f)
		return books, errs.String(), err
	}
	both := []board.Color{board.White, board.Black}
	books, errs, err := read(task{mine: both, books: [2][]string{{"w.pgn"}, {"b.pgn", "b.pgn"}}})
	if err != nil || errs != "" || len(books) != 2 || books[0].Mine != board.White || books[1].Mine != board.Black || len(books[0].Chapters) != 1 || len(books[1].Chapters) != 2 {
		t.Errorf("%+v, %q, %v", books, errs, err)
	}
	books, errs, err = read(task{mine: both[1:], books: [2][]string{{"none.pgn"}, {"broken.pgn", "b.pgn"}}})
	if want := "warning: broken.pgn:1:32: illegal move 4.Bxh8\n    1. e4 c6 2. d4 d5 3. e5 Bf5 4. Bxh8 *\n"; err != nil || len(books) != 1 || !strings.HasPrefix(errs, want) ||
		!strings.Contains(errs, "warning: the repertoire for black has 1 move that can't be played; the lines behind them are missing from the sheet\n") {
		t.Errorf("%q, %v", errs, err)
	}
	if _, errs, err = read(task{mine: both[1:], books: [2][]string{nil, {"b.pgn", "guess.pgn"}}}); err != nil ||
		!strings.HasPrefix(errs, "warning: 1 place of your repertoire read as a guess or passed over; first: guess.pgn:2:4: ") || strings.Contains(errs, "    3. h4") {
		t.Errorf("%q, %v", errs, err)
	}
	_, errs, err = read(task{mine: both, first: []string{"b.pgn"}, books: [2][]string{{"guess.pgn"}, {"b.pgn"}}}) // what is told of one book stays, whatever the other is
	if err != nil || !strings.HasPrefix(errs, "warning: 1 place of your repertoire read as a guess or passed over; first: guess.pgn:2:4: ") {
		t.Errorf("%q, %v", errs, err)
	}
	if err := os.Mkdir("two", 0o700); err != nil {
		t.Fatal(err)
	}
	write(t, "two/a.pgn", "1. e4 c5 2. Nf3 d6 *\n")
	write(t, "two/b.pgn", "1. e4 e5 2. Nf3 d6 *\n")
	_, errs, err = read(task{mine: both, books: [2][]string{{"w.pgn"}, {"two"}}})
	if want := "note: after 1.e4 two files give a first answer: 1...c5 (two/a.pgn:1) is taken, before 1...e5 (two/b.pgn:1), by the alphabet alone\n"; err != nil || !strings.HasPrefix(errs, want) {
		t.Errorf("%q, %v", errs, err)
	}
	write(t, "zeros.pgn", strings.Repeat("\x00", 4096))
	books, errs, err = read(task{mine: both[1:], strict: true, books: [2][]string{nil, {"b.pgn", "variant.pgn"}}}) // strict costs a sound book nothing
	if err != nil || len(books) != 1 || errs != "warning: variant.pgn:1: not read, another variant: Atomic\n" {
		t.Errorf("%q, %v", errs, err)
	}
	const mend = "hint: 'foreply check' reads the repertoire alone and lists all there is to mend\n"
	for _, c := range []struct {
		file   string
		strict bool
		want   []string
	}{
		{"broken.pgn", true, []string{"error: broken.pgn:1:32: illegal move 4.Bxh8\n", "error: the repertoire for black has 1 move that can't be played\n" + mend}},
		{"all-broken.pgn", false, []string{"error: all-broken.pgn:1:", "error: the repertoire for black has 1 move that can't be played\n" + mend}},
		{"one.pgn", false, []string{"error: no answer for black in one.pgn\nhint: is it the right file? it must have moves for black\n"}},
		{"empty.pgn", false, []string{"error: no games in empty.pgn\nhint: a repertoire is a PGN file with a game for each chapter; was the export saved?\n"}},
		{"variant.pgn", false, []string{"error: no games in variant.pgn\n"}},
		{"none.pgn", false, []string{"error: no file none.pgn\n"}},
		{"zeros.pgn", false, []string{"error: zeros.pgn: it does not look like PGN: it is binary data"}},
	} {
		_, _, err := read(task{mine: both[1:], strict: c.strict, books: [2][]string{nil, {c.file}}})
		if err == nil {
			t.Errorf("%s: no error", c.file)
			continue
		}
		for _, want := range c.want {
			if got := told(err); !strings.Contains(got, want) {
				t.Errorf("%s: %q, want %q", c.file, got, want)
			}
		}
	}
}

// A text of --main is a part of a chapter's name, or its file with or without its folders.
func TestWhatAChapterGoesBy(t *testing.T) {
	for _, c := range []struct {
		chapter, file, text string
		want                bool
	}{
		{"The Caro-Kann", "books/a.pgn", "caro", true}, {"The Caro-Kann", "books/a.pgn", "slav", false},
		{"x", "books/a.pgn", "a.pgn", true}, {"x", "books/a.pgn", "A.PGN", true}, {"x", "books/a.pgn", "./books/a.pgn", true}, {"x", "books/a.pgn", "../books//a.pgn", true},
		{"x", "books/a.pgn", "other/a.pgn", false}, {"x", "books/aa.pgn", "a.pgn", false}, {"x", "books/a.pgn", "books", false}, {"x", "books/a.pgn", "..", false},
	} {
		if got := goesBy(c.chapter, c.file, c.text); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
	first := []string{"slav", "caro"}
	if rankOf(first, "Caro", "") != 1 || rankOf(first, "Caro and Slav", "") != 0 || rankOf(first, "Open", "") != 2 {
		t.Error("other ranks")
	}
}

// A text of --main that nothing goes by is told with what there is, where it was written.
func TestWrongChapterOfMain(t *testing.T) {
	b := book.New(board.White)
	for _, name := range strings.Fields("One Two Three Four Five Six Seven") {
		b.Chapters = append(b.Chapters, book.Chapter{Name: name, File: "w.pgn"})
	}
	for _, c := range []struct {
		chapters int
		place    string
		want     string
	}{
		{2, "", "error: --main: no chapter or file of your repertoire is called \"nine\"\nhint: chapters: One; Two\n"},
		{5, "", "error: --main: no chapter or file of your repertoire is called \"nine\"\nhint: chapters: One; Two; Three; Four; Five\n"},
		{7, "c.yaml:3: me.repertoire.main", "error: c.yaml:3: me.repertoire.main[1]: no chapter or file of your repertoire is called \"nine\"\n" +
			"hint: chapters: One; Two; Three; Four; Five; and 2 more: 'foreply check' lists them\n"},
	} {
		some := *b
		some.Chapters = b.Chapters[:c.chapters]
		err := checkFirst(&task{first: []string{"one", "nine"}, mainPlace: c.place}, []*book.Book{&some})
		var m *mishap
		if err == nil || told(err) != c.want || errors.As(err, &m) && m.usage != (c.place == "") {
			t.Errorf("%v, want %q", err, c.want)
		}
	}
	other := book.New(board.Black)
	other.Chapters = []book.Chapter{{Name: "Nine"}}
	if err := checkFirst(&task{first: []string{"one", "nine", "w.pgn"}}, []*book.Book{b, other}); err != nil {
		t.Errorf("a chapter of either book: %v", err)
	}
}

// Books of peers are told from games by what they begin with, in the order of the files.
func TestBooksOfPeersAmongGames(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.Mkdir("folder", 0o700); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"a.pgn", "folder/b.pgn"} {
		write(t, name, "[White \"x\"]\n[Black \"y\"]\n[Date \"2026.01.02\"]\n\n1. e4 e5 2. Nf3 Nc6 3. Bb5 a6 1-0\n\n")
	}
	for _, name := range []string{"one.peers", "folder/two.peers"} {
		if _, stderr, code := call(t, "peers", "a.pgn", "-o", name); code != 0 || stderr != "" {
			t.Fatal(stderr)
		}
	}
	in, err := sortPeers(fetch.Inputs("one.peers", "folder", "-", "a.pgn", "folder/two.peers"))
	if err != nil || !slices.Equal(in.books, []string{"one.peers", "folder/two.peers"}) || inputNames(in.games) != "folder/b.pgn, -, a.pgn" {
		t.Errorf("%+v, %v", in, err)
	}
	if _, err := sortPeers(fetch.Inputs("none.pgn")); err == nil || !strings.HasPrefix(told(err), "error: no file none.pgn\n") {
		t.Errorf("%v", err)
	}
	if got := told(mixed("b.peers", "a.peers")); !strings.HasPrefix(got, "error: a.peers and b.peers can't be joined: ") || !strings.HasSuffix(got, "hint: 'foreply peers FILE' says what is in a book; make both in the same way\n") {
		t.Errorf("%q", got)
	}
	stdout, _, code := call(t, "peers", "one.peers")
	if code != 0 || !strings.HasPrefix(stdout, "one.peers: 1 game of 2026-01-02, to half-move 24\n") || strings.Contains(stdout, "not in it") || strings.Contains(stdout, "only:") {
		t.Errorf("exit code %d\n%s", code, stdout)
	}
	write(t, "c.pgn", "[White \"x\"]\n[Black \"y\"]\n[Date \"2024.05.06\"]\n\n1. d4 d5 2. c4 e6 3. Nc3 Nf6 1-0\n")
	call(t, "peers", "a.pgn", "c.pgn", "-o", "both.peers", "--since", "2020-01-01", "--least", "2", "--plies", "4")
	stdout, _, _ = call(t, "peers", "both.peers")
	if want := "both.peers: 2 games from 2024-05-06 to 2026-01-02, to half-move 4\nonly: since 2020-01-01\n1 position that 2 games or more reached with 2 moves, in "; !strings.HasPrefix(stdout, want) {
		t.Errorf("%s, want %s", stdout, want)
	}
	if _, stderr, code := call(t, "peers", "one.peers", "folder/two.peers", "-o", "one.peers"); code != exitError || stderr != "error: writing one.peers: it is one of the files that are read\nhint: give another name\n" {
		t.Errorf("exit code %d, %q", code, stderr)
	}
	if _, err := openPeerBook(filepath.Join("folder", "none.peers")); err == nil || err.Error() != "reading folder/none.peers: no such file or directory" {
		t.Errorf("%v", err)
	}
}

// Each file is read in the language it is written in.
func TestLanguagesOfFiles(t *testing.T) {
	t.Chdir(t.TempDir())
	write(t, "en.pgn", "1. e4 e5 2. Nf3 Nc6 3. Bb5 Nf6 4. O-O Nxe4 *\n")
	write(t, "de.pgn", "1. e4 e5 2. Sf3 Sc6 3. Lb5 a6 4. La4 Sf6 5. De2 *\n")
	write(t, "fr.pgn", "1. e4 e5 2. Cf3 Cc6 3. Fc4 Fc5 4. O-O Cf6 5. Te1 O-O 6. Rf1 *\n") // their R is the king
	var lines []string
	stray, err := (&app{ctx: t.Context()}).readChapters([]string{"en.pgn", "fr.pgn", "de.pgn"}, func(g *pgn.Game) {
		line := replayed(g).line
		lines = append(lines, g.File+" "+line.Moves[len(line.Moves)-1].SAN)
	})
	if got := strings.Join(lines, ", "); err != nil || len(stray) > 0 || got != "en.pgn Nxe4, fr.pgn Kf1, de.pgn Qe2" {
		t.Errorf("%s, %v, %v", got, stray, err)
	}
}
