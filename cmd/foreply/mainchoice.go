package main

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"foreply/compare/book"
	"foreply/compare/words"
	"foreply/fetch"
	"foreply/fetch/pgn"
)

// rankOf says by which of the texts of --main a chapter comes first; the number of
// texts if by none.
func rankOf(first []string, chapter, file string) int {
	if i := slices.IndexFunc(first, func(text string) bool { return goesBy(chapter, file, text) }); i >= 0 {
		return i
	}
	return len(first)
}

// goesBy tells whether a text is a chapter's name, or a part of it, or its file.
func goesBy(chapter, file, text string) bool {
	return strings.Contains(strings.ToLower(chapter), strings.ToLower(text)) || isFile(file, text)
}

// isFile tells whether a text is a file's name, with or without folders before it:
// the configuration of a field names files by other ways than the command line.
func isFile(file, text string) bool {
	whole, err := filepath.Abs(file)
	if err != nil {
		whole = file
	}
	have := strings.Split(filepath.ToSlash(whole), "/")
	want := slices.DeleteFunc(strings.Split(filepath.ToSlash(filepath.Clean(text)), "/"), func(part string) bool {
		return part == "" || part == "." || part == ".."
	})
	return len(want) > 0 && len(want) <= len(have) && slices.EqualFunc(have[len(have)-len(want):], want, strings.EqualFold)
}

// addInOrder adds chapters to a book: those of --main in its order, then the others
// in order of the files.
func addInOrder(b *book.Book, chapters []*pgn.Game, first []string) {
	rank := func(g *pgn.Game) int { return rankOf(first, book.ChapterName(g), g.File) }
	if len(first) > 0 {
		slices.SortStableFunc(chapters, func(x, y *pgn.Game) int { return cmp.Compare(rank(x), rank(y)) })
	}
	for _, g := range chapters {
		if p := notChess(g); p != nil {
			b.Problems = append(b.Problems, *p)
			continue
		}
		b.Add(g)
	}
}

// checkFirst reports a text of --main that no chapter and no file goes by.
func checkFirst(t *task, books []*book.Book) error {
	for i, text := range t.first {
		var names []string
		found := false
		for _, b := range books {
			for i := range b.Chapters {
				ch := &b.Chapters[i]
				found = found || goesBy(ch.Name, ch.File, text)
				names = append(names, ch.Name)
			}
		}
		if found {
			continue
		}
		hint := "chapters: " + strings.Join(names[:min(len(names), mostShown)], "; ")
		if more := len(names) - mostShown; more > 0 {
			hint += fmt.Sprintf("; and %d more: 'foreply check' lists them", more)
		}
		message := fmt.Sprintf("no chapter or file of your repertoire is called %q", text)
		if t.mainPlace == "" {
			return misuse("--main: "+message, hint)
		}
		return advise(fmt.Errorf("%s[%d]: %s", t.mainPlace, i, message), hint)
	}
	return nil
}

// tellRivals says where files of one folder or pattern give different first answers:
// then the alphabet made one of them the main choice, and nobody chose it.
func (a *app) tellRivals(b *book.Book, patterns []string) {
	group := alphabetical(patterns)
	rivals := slices.DeleteFunc(b.Rivals(), func(r book.Rival) bool {
		one, two := group[r.First.File], group[r.Second.File]
		return one == 0 || one != two
	})
	if len(rivals) == 0 {
		return
	}
	r := &rivals[0]
	at := "at the first move"
	if len(r.Line) > 0 {
		at = "after " + words.Movetext(r.Line, r.Ply)
	}
	more := ""
	if len(rivals) > 1 {
		more = fmt.Sprintf("; so at %s more", words.Plural(len(rivals)-1, "position"))
	}
	move := func(g book.Given) string { return words.Movetext([]string{g.SAN}, r.Ply+len(r.Line)) }
	a.say.note("%s two files give a first answer: %s (%s:%d) is taken, before %s (%s:%d), by the alphabet alone%s",
		at, move(r.First), r.First.File, r.First.FileLine, move(r.Second), r.Second.File, r.Second.FileLine, more)
	a.say.hint("--main %s puts that file first; so does naming the files one by one, or [Role \"main\"] in it", filepath.Base(r.Second.File))
}

// tellOtherColor asks whether a book is of the other colour, where it looks so. Eight
// of eleven repertoires that were tried as those of the other colour did, and none as
// that of its own.
func (a *app) tellOtherColor(b *book.Book) {
	mine, theirs := b.Branching()
	if b.Positions() < 10 || mine < 1.1 || mine-1 < 4*(theirs-1) {
		return
	}
	a.say.note("is this your repertoire for %s: %s? It has %.1f moves of yours at a position and %.1f of theirs, as one for %s would",
		b.Mine, strings.Join(b.Files, ", "), mine, theirs, b.Mine.Other())
}

// alphabetical numbers the folders and patterns that files were found by; files that
// were named themselves, in whatever order, are not in it.
func alphabetical(patterns []string) map[string]int {
	group := map[string]int{}
	named := map[string]bool{}
	for i, pattern := range patterns {
		files, err := fetch.Files([]fetch.Input{{Pattern: pattern}})
		if err != nil {
			continue // it was read by now
		}
		info, err := os.Stat(pattern)
		alone := err == nil && !info.IsDir() || pattern == "-"
		for _, file := range files {
			if !named[file] && !alone {
				group[file] = i + 1
			}
			named[file] = true
		}
	}
	return group
}
