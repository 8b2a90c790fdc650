package profile

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"iter"
	"slices"
	"strings"
	"sync"

	"foreply/fetch/pgn"
	"foreply/profile/board"
	"foreply/profile/peerbook"
)

// PeerOptions say which games a book of peers is made of, and how.
type PeerOptions struct {
	peerbook.Options
	Filter PeerFilter
	// Words say the filter in place of Filter, where only books are joined.
	Words string
	// Fold returns the form in which spellings of one name are equal; nil only
	// makes letters small.
	Fold func(name string) string
}

// PeerFilter lets games in; the zero value lets all in.
type PeerFilter struct {
	MinRating, MaxRating int // both players' ratings, 0 for no limit
	Classes              []Class
	Since                pgn.Day // only games certainly of that day or later; 0 for no limit
}

// String tells the filter in words, the same for equal filters.
func (f PeerFilter) String() string {
	var parts []string
	switch {
	case f.MinRating > 0 && f.MaxRating > 0:
		parts = append(parts, fmt.Sprintf("both players rated %d to %d", f.MinRating, f.MaxRating))
	case f.MinRating > 0:
		parts = append(parts, fmt.Sprintf("both players rated %d or more", f.MinRating))
	case f.MaxRating > 0:
		parts = append(parts, fmt.Sprintf("both players rated %d or less", f.MaxRating))
	}
	classes := slices.Clone(f.Classes)
	slices.Sort(classes)
	for _, c := range slices.Compact(classes) {
		parts = append(parts, c.String())
	}
	if f.Since != 0 {
		parts = append(parts, "since "+f.Since.String())
	}
	return strings.Join(parts, ", ")
}

func (f *PeerFilter) wants(g *peerbook.Game, span Span) bool {
	if f.Since != 0 && span.First < f.Since || len(f.Classes) > 0 && !slices.Contains(f.Classes, Class(g.Class)) {
		return false
	}
	for _, r := range g.Ratings {
		if f.MinRating > 0 && r < f.MinRating || f.MaxRating > 0 && (r == 0 || r > f.MaxRating) {
			return false
		}
	}
	return true
}

// PeerIntake makes a book of peers from games. Neither the number of workers nor
// the order of the games changes the book: games with the same moves are one game,
// which counts from the earliest of its days.
type PeerIntake struct {
	opt     PeerOptions
	builder *peerbook.Builder
	spare   []*peerbook.Worker
	lock    sync.Mutex
	own     map[peerbook.Player]bool
	given   int // workers handed out
}

// TakePeers begins a book with at most so many workers. Close it in the end.
func TakePeers(opt PeerOptions, workers int) *PeerIntake {
	opt.Options.Filter = cmp.Or(opt.Words, opt.Filter.String())
	if opt.Fold == nil {
		opt.Fold = strings.ToLower
	}
	b := peerbook.NewBuilder(opt.Options)
	return &PeerIntake{opt: opt, builder: b, spare: b.Workers(max(workers, 1)), own: map[peerbook.Player]bool{}}
}

// Close gives back what went through the disk.
func (t *PeerIntake) Close() { t.builder.Close() }

// AddBook takes the games of another book in.
func (t *PeerIntake) AddBook(b *peerbook.Book) error { return t.builder.AddBook(b) }

// Err is what went wrong so far; games taken in after it are lost.
func (t *PeerIntake) Err() error { return t.builder.Err() }

// Write makes the book.
func (t *PeerIntake) Write(ctx context.Context, to io.Writer) (*peerbook.About, error) {
	return t.builder.Write(ctx, to)
}

// Own are the names, as games have them, that own recognised.
func (t *PeerIntake) Own() []peerbook.Player {
	var out []peerbook.Player
	for p := range t.own {
		out = append(out, p)
	}
	slices.Sort(out)
	return out
}

// Worker returns a function that takes a game in. Several of them may be called at
// once. own tells which sides of a game are the opponent, for this worker alone;
// it may be nil.
func (t *PeerIntake) Worker(own func(*pgn.Game) (white, black bool)) func(*pgn.Game) {
	t.lock.Lock()
	w := &peerWorker{intake: t, to: t.spare[t.given%len(t.spare)], counts: NewCounts(learnPlies), names: map[string]peerbook.Player{}}
	t.given++
	t.lock.Unlock()
	return func(g *pgn.Game) { w.take(g, own) }
}

const (
	learnPlies = 16      // as deep the moves of a worker's games are remembered as written
	learnNodes = 1 << 17 // and so many positions
	namesKept  = 1 << 16
)

type peerWorker struct {
	intake *PeerIntake
	to     *peerbook.Worker
	counts *Counts // knows the moves as written, counts nothing
	names  map[string]peerbook.Player
}

func (w *peerWorker) take(g *pgn.Game, own func(*pgn.Game) (white, black bool)) {
	h := g.Header()
	game := peerbook.Game{
		Players: [2]peerbook.Player{w.player(h.White.Name), w.player(h.Black.Name)},
		Ratings: [2]int{h.White.Elo, h.Black.Elo},
		Class:   uint8(h.Control.Speed()),
		Result:  [...]peerbook.Result{NoResult: peerbook.Unknown, Win: peerbook.WhiteWon, Draw: peerbook.Drawn, Loss: peerbook.BlackWon}[resultFor(board.White, g.Result())],
	}
	if own != nil {
		w.note(&game, g, own)
	}
	if h.Start != pgn.UsualStart {
		w.to.Unfit++
		return
	}
	game.Moves, _ = w.counts.replay(g, peerbook.Depth)
	if len(game.Moves) < shortestGame || slices.Contains(game.Moves, board.NullMove) {
		w.to.Unfit++
		return
	}
	if w.counts.Len() < learnNodes {
		w.counts.learn(g)
	}
	span := h.Date.Span()
	switch {
	case !span.Known():
		w.to.Undated++
	case !w.intake.opt.Filter.wants(&game, span):
		w.to.Filtered++
	default:
		traits := traitsOf(game.Moves)
		game.Last, game.Marks = int32(span.Last), traits.marks()
		w.to.Add(&game, int32(span.First))
	}
}

// note remembers the opponent's names as the games have them.
func (w *peerWorker) note(game *peerbook.Game, g *pgn.Game, own func(*pgn.Game) (white, black bool)) {
	white, black := own(g)
	if !white && !black {
		return
	}
	t := w.intake
	t.lock.Lock()
	defer t.lock.Unlock()
	if white {
		t.own[game.Players[board.White]] = true
	}
	if black {
		t.own[game.Players[board.Black]] = true
	}
}

// player numbers a player by the name; names come again and again.
func (w *peerWorker) player(name string) peerbook.Player {
	if p, ok := w.names[name]; ok {
		return p
	}
	p := playerOf(name, w.intake.opt.Fold)
	if len(w.names) < namesKept {
		w.names[strings.Clone(name)] = p
	}
	return p
}

// playerOf takes for the surname what stands before a comma, since collections
// differ in how they write first names. Two players of one surname count as one in
// the weights, which does little harm.
func playerOf(name string, fold func(string) string) peerbook.Player {
	surname, _, _ := strings.Cut(name, ",")
	return peerbook.PlayerOf(strings.ToLower(strings.TrimSpace(surname)), fold(name))
}

// playersOf are the players that a name may stand for in a book: as it is, and
// with the surname before or behind the others.
func playersOf(name string, fold func(string) string) []peerbook.Player {
	out := []peerbook.Player{playerOf(name, fold)}
	if last, first, comma := strings.Cut(name, ","); comma {
		out = append(out, playerOf(strings.TrimSpace(first)+" "+strings.TrimSpace(last), fold))
	} else if words := strings.Fields(name); len(words) > 1 {
		k := len(words) - 1
		out = append(out, playerOf(words[k]+", "+strings.Join(words[:k], " "), fold))
	}
	return out
}

// NewPeers makes peers of games in memory, leaving out the opponent's own: those
// that own recognises by its names, and those with the same moves as one of p's,
// whatever the names in them. own may be nil.
func NewPeers(games iter.Seq[*pgn.Game], p *Profile, own func(*pgn.Game) (white, black bool)) *Peers {
	t := TakePeers(PeerOptions{}, 1)
	defer t.Close()
	add := t.Worker(own)
	for g := range games {
		add(g)
	}
	return t.inMemory(p)
}

// inMemory makes the book in memory, which can't fail as long as nothing went
// through the disk.
func (t *PeerIntake) inMemory(p *Profile) *Peers {
	var out memoryBook
	_, err := t.Write(context.Background(), &out)
	var book *peerbook.Book
	if err == nil {
		book, err = peerbook.Open(out, int64(len(out)))
	}
	var peers *Peers
	if err == nil {
		peers, err = OpenPeers(book, p, Own{Players: t.Own()})
	}
	if err != nil {
		panic("profile: a book in memory: " + err.Error())
	}
	return peers
}

// memoryBook is a book that stays in memory.
type memoryBook []byte

func (m *memoryBook) Write(b []byte) (int, error) {
	*m = append(*m, b...)
	return len(b), nil
}

func (m memoryBook) ReadAt(b []byte, at int64) (int, error) {
	if at >= int64(len(m)) {
		return 0, io.EOF
	}
	n := copy(b, m[at:])
	if n < len(b) {
		return n, io.EOF
	}
	return n, nil
}
