package main

import (
	"bufio"
	"fmt"
	"io"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"foreply/compare/words"
	"foreply/fetch"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/peerbook"
)

// peersFlags are those of 'foreply peers'.
type peersFlags struct {
	out            string
	ratings, since string
	classes        []string
	plies, least   int
	memory         int
}

func (a *app) peersCommand() *cobra.Command {
	f := &peersFlags{}
	cmd := &cobra.Command{
		Use:   "peers FILES...",
		Short: "make a book of what players like your opponents play",
		Long: "peers reads games of many players, however many, and makes a book that --peers takes in " +
			"place of them: in an instant, and without the memory they would need. Given books it " +
			"joins them; given one book and no -o it says what is in it.",
		Example: "  foreply peers archive-*.pgn.zst -o club.peers\n" +
			"  foreply peers club.peers\n" +
			"  foreply peers january.peers february.peers -o club.peers",
		Args: atLeastOne("which games?", "foreply peers archive.pgn -o club.peers"),
		RunE: func(cmd *cobra.Command, args []string) error { return a.peers(f, args) },
	}
	fs := cmd.Flags()
	fs.StringVarP(&f.out, "out", "o", "", "the book to write, a `FILE`")
	a.addForce(fs)
	fs.StringVar(&f.ratings, "ratings", "", "only games of two players rated in this `RANGE`, as 1500-2000, 1500- or -2000")
	fs.StringArrayVar(&f.classes, "class", nil, "only games of this `CLASS`: bullet, blitz, rapid, classical or unknown (repeatable)")
	fs.StringVar(&f.since, "since", "", "only games from this `DAY` on, YYYY-MM-DD")
	fs.IntVar(&f.plies, "plies", peerbook.DefaultPlies, fmt.Sprintf("how deep moves are counted, a `NUMBER` of half-moves, up to %d", peerbook.Depth))
	fs.IntVar(&f.least, "least", 1, "leave out positions that fewer `GAMES` reached; 2 makes the book much smaller")
	fs.IntVar(&f.memory, "memory", 256, "`MB` of memory for games in passing; the rest goes through the disk")
	return cmd
}

func (a *app) peers(f *peersFlags, args []string) error {
	opt, err := f.options()
	if err != nil {
		return err
	}
	in, err := sortPeers(patterns(args, nil))
	if err != nil {
		return err
	}
	if f.out == "" {
		if len(in.books) == 1 && len(in.games) == 0 {
			return a.tellPeers(in.books[0])
		}
		return misuse("where is the book to go?", "-o club.peers names it")
	}
	out, err := a.createOut(f.out, peerbook.AnyHead, patterns(args, nil))
	if err != nil {
		return err
	}
	defer out.drop()
	about, err := a.makePeers(out, opt, in)
	if err != nil {
		return err
	}
	if err := out.keep(); err != nil {
		return err
	}
	return a.tellMade(f.out, about)
}

const (
	leastMB = 16
	beside  = 64 // MB that reading and writing take beside the games in passing
)

func (f *peersFlags) options() (profile.PeerOptions, error) {
	opt := profile.PeerOptions{Fold: fetch.Fold, Options: peerbook.Options{
		Plies: f.plies, Least: f.least, Memory: int64(f.memory) << 20, Folder: filepath.Dir(f.out),
	}}
	var err error
	switch {
	case f.plies < 1 || f.plies > peerbook.Depth:
		err = misuse(fmt.Sprintf("--plies: 1 to %d is wanted, not %d", peerbook.Depth, f.plies))
	case f.least < 1:
		err = misuse(fmt.Sprintf("--least: 1 or more is wanted, not %d", f.least))
	case f.memory < leastMB:
		err = misuse(fmt.Sprintf("--memory: %d MB or more is wanted, not %d", leastMB, f.memory))
	default:
		opt.Filter, err = f.filter()
	}
	return opt, err
}

func (f *peersFlags) filter() (profile.PeerFilter, error) {
	var filter profile.PeerFilter
	if f.ratings != "" {
		lo, hi, ok := ratingRange(f.ratings)
		if !ok {
			return filter, misuse(fmt.Sprintf("--ratings: a range is wanted, not %q", f.ratings), "as 1500-2000, 1500- or -2000")
		}
		filter.MinRating, filter.MaxRating = lo, hi
	}
	for _, name := range f.classes {
		class, ok := pgn.ParseSpeed(name)
		if !ok {
			return filter, misuse(fmt.Sprintf("--class: there is no class %q", name), "bullet, blitz, rapid, classical or unknown")
		}
		filter.Classes = append(filter.Classes, class)
	}
	if f.since != "" {
		day := pgn.ParseDate(f.since)
		if !day.Full() {
			return filter, misuse(fmt.Sprintf("--since: a day is wanted, not %q", f.since), "as 2024-01-31")
		}
		filter.Since = day.Span().First
	}
	return filter, nil
}

// ratingRange reads '1500-2000'; either end may be missing.
func ratingRange(text string) (lo, hi int, ok bool) {
	from, to, dash := strings.Cut(text, "-")
	if !dash || from == "" && to == "" {
		return 0, 0, false
	}
	for _, end := range []struct {
		text string
		to   *int
	}{{from, &lo}, {to, &hi}} {
		if end.text = strings.TrimSpace(end.text); end.text == "" {
			continue
		}
		n, err := strconv.Atoi(end.text)
		if err != nil || n < 1 || n > 3999 {
			return 0, 0, false
		}
		*end.to = n
	}
	return lo, hi, hi == 0 || lo <= hi
}

// makePeers makes a book of games and books.
func (a *app) makePeers(out io.Writer, opt profile.PeerOptions, in *peersIn) (*peerbook.About, error) {
	opt.Progress = a.say.counting("counting moves")
	books, err := in.open()
	if err != nil {
		return nil, err
	}
	if len(books) > 0 && len(in.games) == 0 { // books are joined as they were made
		about := books[0].About()
		opt.Plies, opt.Least, opt.Words = about.Plies, about.Least, about.Filter
	}
	debug.SetMemoryLimit(opt.Memory + beside<<20) // what is garbage goes the sooner
	take := profile.TakePeers(opt, runtime.GOMAXPROCS(0))
	defer take.Close()
	if err := in.add(take, books); err != nil {
		return nil, err
	}
	problems, err := a.takePeers(take, in.games, nil, "reading games")
	if err != nil {
		return nil, err
	}
	a.reportFiles(problems)
	return take.Write(a.ctx, out)
}

// tellMade says what was made.
func (a *app) tellMade(path string, about *peerbook.About) error {
	w := bufio.NewWriter(a.stdout)
	fmt.Fprintf(w, "wrote %s, %s: %s\n", path, megabytes(about.Size), counted(about.Games, "game"))
	if left := leftOutOfPeers(about); left != "" {
		fmt.Fprintf(w, "not in it: %s\n", left)
	}
	return w.Flush()
}

// counted is a number of things, large ones with commas.
func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return words.Thousands(n) + " " + what + "s"
}

func leftOutOfPeers(about *peerbook.About) string {
	var parts []string
	for _, reason := range []struct {
		n    int
		what string
	}{
		{about.Twice, "found before"}, {about.Undated, "without a date"},
		{about.Unfit, "set up, with null moves or under six half-moves"}, {about.Filtered, "not asked for"},
	} {
		if reason.n > 0 {
			parts = append(parts, words.Thousands(reason.n)+" "+reason.what)
		}
	}
	return strings.Join(parts, ", ")
}

func megabytes(size int64) string {
	if size < 1e6 {
		return fmt.Sprintf("%.0f kB", max(1, float64(size)/1e3))
	}
	return fmt.Sprintf("%.1f MB", float64(size)/1e6)
}

// tellPeers says what is in a book.
func (a *app) tellPeers(path string) error {
	book, err := openPeerBook(path)
	if err != nil {
		return err
	}
	rows, err := book.Rows()
	if err != nil {
		return badBook(path, err)
	}
	about := book.About()
	w := bufio.NewWriter(a.stdout)
	fmt.Fprintf(w, "%s: %s", path, counted(about.Games, "game"))
	switch {
	case about.Games > 0 && about.First == about.Last:
		fmt.Fprintf(w, " of %s", pgn.Day(about.First))
	case about.Games > 0:
		fmt.Fprintf(w, " from %s to %s", pgn.Day(about.First), pgn.Day(about.Last))
	}
	fmt.Fprintf(w, ", to half-move %d\n", about.Plies)
	if about.Filter != "" {
		fmt.Fprintf(w, "only: %s\n", about.Filter)
	}
	if left := leftOutOfPeers(&about); left != "" {
		fmt.Fprintf(w, "not in it: %s\n", left)
	}
	reached := ""
	if about.Least > 1 {
		reached = fmt.Sprintf(" that %d games or more reached", about.Least)
	}
	fmt.Fprintf(w, "%s%s with %s, in %s\n",
		counted(int(about.Positions), "position"), reached, counted(int(about.Moves), "move"), megabytes(about.Size))
	tellPlayers(w, rows)
	return w.Flush()
}

// tellPlayers counts games by their speed, and the ratings of their players.
func tellPlayers(w io.Writer, rows []peerbook.Row) {
	var classes [8]int
	bands := map[uint8]int{}
	for _, row := range rows {
		for _, d := range row.Days {
			classes[row.Class] += d.Games
			bands[row.Bands[0]] += d.Games
			bands[row.Bands[1]] += d.Games
		}
	}
	if len(rows) == 0 {
		return
	}
	fmt.Fprintln(w, "\ngames by speed:")
	for c, n := range classes {
		if n > 0 {
			fmt.Fprintf(w, "%12s %12s\n", profile.Class(c), words.Thousands(n))
		}
	}
	fmt.Fprintln(w, "\ntheir players by rating, two a game:")
	for band := range uint8(32) {
		if n := bands[band]; n > 0 {
			fmt.Fprintf(w, "%12s %12s\n", bandWords(band), words.Thousands(n))
		}
	}
}

func bandWords(band uint8) string {
	lo, hi := peerbook.BandRange(band)
	switch {
	case band == 0:
		return "unrated"
	case lo == 1:
		return fmt.Sprintf("under %d", hi)
	case hi > highestRating:
		return fmt.Sprintf("%d and up", lo)
	}
	return fmt.Sprintf("%d-%d", lo, hi-1)
}
