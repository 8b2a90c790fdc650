package pdf

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/pdf/sheet"
)

// maker invents Reports of any shape, with the words that break pages.
type maker struct {
	*rand.Rand
	most int // entries of a list; 0 for as many as each has room for
}

var oddWords = []string{
	"a", "Nd5", "...Qb6", "e4", "7.Nb3", "8...Bd7", "Dvořák", "Łukasz", "Ağaoğlu", "Þórsson", "Žižková-Černá",
	"Donaudampfschifffahrtsgesellschaftskapitänsmützenabzeichen", "https://example.org/" + strings.Repeat("x", 150),
	"ﷺ", "日本語", "🙂", "a\u0301", "\u202eabc\u202c", "x\x00y", "\t", "½", "ħ̷̨", "\u200b", "𝔊", "Ꙗ", "1.e4", "c5", "O-O-O",
}

func (m maker) words(most int) string {
	var list []string
	for range m.IntN(most + 1) {
		list = append(list, oddWords[m.IntN(len(oddWords))])
	}
	return strings.Join(list, " ")
}

func (m maker) line(most int) []string {
	moves := []string{"e4", "Nf3", "O-O", "Qxd5+", "bxa8=Q#", "Nbd7", "R1xe4", "c5", "Kf1", "exd6"}
	var list []string
	for range m.IntN(most + 1) {
		list = append(list, moves[m.IntN(len(moves))])
	}
	return list
}

func (m maker) share() fact.Share {
	of := m.IntN(2000)
	ten := m.IntN(11)
	return fact.Share{P: m.Float64(), Seen: m.IntN(of + 1), Of: of, Ten: ten, TenLo: m.IntN(ten + 1), TenHi: ten + m.IntN(11-ten)}
}

func (m maker) several(most int, add func()) {
	if m.most > 0 {
		most = min(most, m.most)
	}
	for range m.IntN(most + 1) {
		add()
	}
}

func (m maker) date() pgn.Date {
	return pgn.ParseDate([]string{"", "2026.11.02", "2026.11.??", "2025"}[m.IntN(4)])
}

func (m maker) report() *fact.Report {
	r := &fact.Report{}
	r.Opponent = fact.Opponent{Name: m.words(6)}
	m.several(4, func() {
		r.Opponent.Ratings = append(r.Opponent.Ratings, fact.Rating{List: m.words(2), Value: m.IntN(3000), Date: m.date()})
		r.Opponent.Names = append(r.Opponent.Names, m.words(5))
	})
	r.Heading = fact.Heading{Need: []string{"", "win", "draw"}[m.IntN(3)], Event: m.words(12), Round: m.words(3), Board: m.words(3), Date: m.date(), Clock: m.words(5)}
	r.Basis = fact.Basis{Games: m.IntN(900), Slow: m.IntN(90), Fast: m.IntN(900), Last: m.date(), Class: m.words(1), AsOf: m.date()}
	m.several(6, func() {
		r.Basis.Sources = append(r.Basis.Sources, fact.SourceCount{Name: m.words(3), Games: m.IntN(1e6), Read: m.IntN(1e7)})
		r.Basis.LeftOut = append(r.Basis.LeftOut, fact.LeftOut{Reason: m.words(5), Games: m.IntN(1e5)})
		r.Faults = append(r.Faults, m.words(20))
		r.Basis.Unread = append(r.Basis.Unread, fact.Unread{File: m.words(3), Partly: m.IntN(2) == 0})
		r.Basis.Maybe = append(r.Basis.Maybe, fact.Maybe{Name: m.words(5), Games: m.IntN(1e5)})
		r.About = append(r.About, m.about())
	})
	for range m.IntN(3) {
		r.Sides = append(r.Sides, m.side())
	}
	return r
}

func (m maker) about() fact.About {
	kinds := []string{fact.LongCastling, fact.LateCastling, fact.ShortDraw, fact.AgainstLower, fact.InLongGames, fact.AtOnce, fact.PlainRecord}
	a := fact.About{
		Kind: kinds[m.IntN(len(kinds))], N: m.IntN(500), K: m.IntN(500), Above: m.IntN(2) == 0, Usual: m.Float64(),
		Score: fact.Score{Wins: m.IntN(99), Draws: m.IntN(99), Losses: m.IntN(99)}, Expected: 99 * m.Float64(), Color: "black", Move: m.IntN(30),
	}
	if m.IntN(2) == 0 {
		a.Rated = &fact.Rated{List: m.words(3), Games: 99, Points: 40, Expected: 44, Beside: m.IntN(3) - 1}
	}
	return a
}

func (m maker) shown() *fact.Shown {
	s := &fact.Shown{Games: m.IntN(50), Choices: m.IntN(20), Known: m.IntN(20)}
	m.several(3, func() {
		s.Habits = append(s.Habits, fact.Habit{Line: m.line(30), Move: "e4", N: m.IntN(40), Of: m.IntN(40), Last: m.date(), Book: "d4"})
		s.Hidden = append(s.Hidden, m.line(30))
	})
	return s
}

func (m maker) side() fact.Side {
	s := fact.Side{MyColor: []string{"white", "black"}[m.IntN(2)], Games: m.IntN(3000), Last: m.date(), Few: m.IntN(5) == 0}
	m.several(8, func() {
		s.Tonight = append(s.Tonight, fact.Task{
			Kind: []string{"expect", "play", "look"}[m.IntN(3)], Lead: []string{"expect", "or", "play", "answer", m.words(2)}[m.IntN(5)], From: m.IntN(30),
			Note: m.words(30), File: m.words(1), Line: m.IntN(99), Moves: m.line(40), Often: m.oftenOrNone(), Played: m.IntN(9), Of: m.IntN(9), Name: m.words(3),
			Answer: []string{"", "Qd2"}[m.IntN(2)], Depth: 30 * m.Float64(), Choices: m.choices(),
		})
		s.Changes = append(s.Changes, fact.Change{
			Line: m.line(20), Move: "e4", Now: "d4", Former: "c4", N: m.IntN(9), Of: m.IntN(9), FormerN: m.IntN(40), PastOf: m.IntN(40),
			Habit: m.IntN(2) == 0, Since: m.date(), Speed: m.words(2), SameIn: m.line(2),
		})
		s.Orders = append(s.Orders, fact.Order{
			Kind: []string{fact.YourOrder, fact.TheirOrder}[m.IntN(2)], Line: m.line(20), Move: "c4", Other: "Nf3", Pet: "e5", Waits: "Nf6",
			Share: fact.Share{P: m.Float64(), Seen: m.IntN(9), Of: m.IntN(40)}, Back: m.Float64(), Games: m.IntN(40), Score: fact.Score{Wins: m.IntN(9), Draws: m.IntN(9)},
		})
		s.Traps = append(s.Traps, m.trap())
		s.NewestGames = append(s.NewestGames, m.played())
		s.ModelGames = append(s.ModelGames, fact.ModelGames{Line: m.line(30), Reach: m.Float64(), Games: []fact.ModelGame{{PlayedGame: m.played()}}})
		if s.Few {
			s.FewGames = append(s.FewGames, m.played())
		}
		s.Options = append(s.Options, fact.Option{Line: m.line(3), Move: "e4", Covered: m.Float64(), Depth: 40 * m.Float64(), Familiar: m.IntN(9), Likeliest: "e5", Character: m.words(1)})
		s.Mistakes = append(s.Mistakes, fact.Mistake{Line: m.line(30), Games: m.IntN(9), Note: m.words(20)})
		s.Unanswered = append(s.Unanswered, fact.Unanswered{Line: m.line(40), Share: m.share(), Reach: m.Float64(), Games: m.IntN(99), Last: m.date(), Note: m.words(20)})
		s.Coverage = append(s.Coverage, fact.Coverage{Move: m.IntN(30), Of100: m.IntN(101)})
		s.Boards = append(s.Boards, fact.Diagram{
			Line: m.line(9), Why: fact.BoardUnseen, Reach: m.Float64(), Games: m.IntN(9), Counted: m.IntN(2) == 0, EPD: m.epd(), View: s.MyColor, Origin: "e2", Arrow: []string{"", "e2e4", "z9", "e2e2"}[m.IntN(4)],
		})
	})
	if m.IntN(2) == 0 {
		s.KnowOfYou = m.shown()
	}
	s.Surprise = fact.Surprise{Note: m.words(60), NoteLine: m.line(8), SetUp: m.line(9)}
	m.several(4, func() {
		s.Surprise.Returns = append(s.Surprise.Returns, fact.WayBack{Line: m.line(20), Back: m.back()})
	})
	m.several(30, func() {
		s.Exits = append(s.Exits, fact.Exit{Kind: fact.BookEnds, Reach: m.Float64(), Line: m.line(40), Note: m.words(30)})
	})
	if m.IntN(4) > 0 {
		m.several(12, func() { s.Partings = append(s.Partings, m.parting(len(s.Partings))) })
	}
	return s
}

func (m maker) played() fact.PlayedGame {
	line := m.line(70)
	return fact.PlayedGame{
		Date: m.date(), Rival: m.words(4), RivalElo: m.IntN(2) * m.IntN(2800), Yours: "½", Moves: line, Plies: len(line) + m.IntN(9), Telling: m.IntN(30),
		LeftBy: []string{fact.LeftByThem, fact.LeftByYou, fact.BookOver, fact.GameEnded}[m.IntN(4)], LeftPly: m.IntN(20), Answer: []string{"", "Nf3"}[m.IntN(2)], File: m.words(1),
	}
}

func (m maker) oftenOrNone() *fact.Often {
	if m.IntN(2) == 0 {
		return nil
	}
	return oftenOf(m.Float64(), m.IntN(5), 5+m.IntN(6))
}

func (m maker) choices() []fact.Choice {
	var list []fact.Choice
	if m.IntN(4) == 0 {
		m.several(3, func() {
			c := fact.Choice{Move: "Nf3"}
			if m.IntN(2) == 0 {
				s := share(m.IntN(11), m.IntN(4), 4+m.IntN(7), m.IntN(30), 30)
				c.Share = &s
			}
			list = append(list, c)
		})
	}
	return list
}

func (m maker) trap() fact.Trap {
	return fact.Trap{
		Kind: []string{fact.TheirSlip, fact.OthersSlip}[m.IntN(2)], Line: m.line(30), Speeds: m.line(2),
		Score: fact.Score{Wins: m.IntN(99), Losses: m.IntN(99)}, Games: m.IntN(9), Of: m.IntN(9), Last: m.date(),
		Since: m.IntN(3), Then: "e4", Repaired: m.IntN(2) == 0,
	}
}

func (m maker) structure() *fact.Structure {
	return &fact.Structure{
		Open:  m.line(4),
		White: fact.SideFacts{QueenSide: m.IntN(9), KingSide: m.IntN(9), Isolated: m.line(9), Men: fact.Men{Rooks: m.IntN(9), Pawns: m.IntN(9)}},
		Black: fact.SideFacts{QueenSide: m.IntN(9), Passed: m.line(9), King: fact.LostCastling, Men: fact.Men{Bishops: m.IntN(9), Pawns: m.IntN(9)}},
	}
}

func (m maker) trapOrNone() *fact.Trap {
	if t := m.trap(); m.IntN(2) == 0 {
		return &t
	}
	return nil
}

func (m maker) epd() string {
	return []string{
		"", "junk", "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq -",
		"ppppppppppppp/9/8/8/8/8/8/8/8/8/8/8", "8/8/8/8/8/8/8/qQkKrRbB",
	}[m.IntN(5)]
}

func (m maker) back() fact.Back {
	return fact.Back{Chance: fact.Chance{P: m.Float64()}, Into: m.line(4), Answer: "O-O", File: m.words(1), FileLine: m.IntN(99)}
}

func (m maker) parting(i int) fact.Parting {
	f := fact.Parting{Stem: m.line(40), From: m.IntN(i+2) - 1, ECO: "B90", Name: m.words(5), Rest: m.share()}
	m.several(8, func() {
		f.Branches = append(f.Branches, fact.Branch{
			Move: "Nbxd7+", Share: m.share(), Reach: m.Float64(), Then: m.line(12), Next: m.IntN(15) - 3,
			State:  []string{fact.Answered, fact.NoAnswer, fact.BookIsOver, fact.Returns}[m.IntN(4)],
			Answer: []string{"", "Qd2", "O-O-O", "bxc8=Q+"}[m.IntN(4)], EndsWith: fact.BookEnds, Note: m.words(40), Last: m.date(),
			Trap: m.trapOrNone(), Structure: m.structure(),
		})
		if b := &f.Branches[len(f.Branches)-1]; m.IntN(5) == 0 {
			back := m.back()
			b.State, b.Back = fact.ByWayBack, &back
		}
	})
	return f
}

// forms are the ways to print that a property must hold for.
var forms = []Options{
	{}, {Paper: "letter"}, {Half: true}, {Half: true, Paper: "letter"}, {Large: true}, {Large: true, Half: true}, {OnePage: true}, {OnePage: true, Paper: "letter"},
}

// Whatever the Report, nothing on its pages overlaps or leaves the margins, and
// the terminal text keeps to its columns.
func TestAnyReport(t *testing.T) {
	model.ConfigPath = "disable" // pdfcpu keeps no files of its own
	n := uint64(16)              // FuzzPage tries short ones without end
	if testing.Short() {
		n = 5
	}
	for seed := range n {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			m := maker{Rand: rand.New(rand.NewPCG(seed, 7))}
			rep := m.report()
			for _, opt := range forms {
				for _, p := range mustPages(t, rep, opt) {
					checkPage(t, p)
				}
			}
			var text bytes.Buffer
			if err := Text(&text, rep, TextOptions{}); err != nil {
				t.Fatal(err)
			}
			checkText(t, text.String(), 80)
			if seed%2 > 0 { // each of the eight forms is written once
				return
			}
			opt := forms[seed/2%uint64(len(forms))]
			checkDocument(t, written(t, rep, opt), len(mustPages(t, rep, opt)))
		})
	}
}

// Whatever a Report says, what is never dropped stands on the page: tonight's moves, every
// move without an answer with its letter, the games between the two, the six likeliest rows,
// the rule of the game; a letter and a number have their partner, what went is named.
func TestWhatIsNeverDropped(t *testing.T) {
	n := uint64(20)
	if testing.Short() {
		n = 5
	}
	for seed := range n {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			m := maker{Rand: rand.New(rand.NewPCG(seed, 8))}
			rep := m.plainReport()
			for _, opt := range forms {
				if opt.Large && opt.Half {
					continue // too small for all of it
				}
				t.Run(fmt.Sprintf("%+v", opt), func(t *testing.T) {
					pages := mustPages(t, rep, opt)
					for i, p := range pages {
						checkPage(t, p)
						sides := rep.Sides
						if len(pages) > 1 {
							sides = rep.Sides[i : i+1]
						}
						checkNeverDropped(t, p, rep, sides)
					}
				})
			}
		})
	}
}

// plainReport has the sentences of the samples, each section none to twice as
// many as they have.
func (m maker) plainReport() *fact.Report {
	r := manyReport(1 + m.IntN(300))
	r.Sides = append(r.Sides, whiteSide(), blackSide())
	m.Shuffle(len(r.Sides), func(i, j int) { r.Sides[i], r.Sides[j] = r.Sides[j], r.Sides[i] })
	r.Sides = r.Sides[:1+m.IntN(2)]
	if len(r.Sides) == 2 {
		r.Sides[0].MyColor, r.Sides[1].MyColor = "white", "black"
	}
	r.About = some(m, r.About)
	r.Faults, r.Basis.Unread, r.Basis.Maybe = some(m, r.Faults), some(m, r.Basis.Unread), some(m, r.Basis.Maybe)
	for i := range r.Sides {
		s := &r.Sides[i]
		s.Unanswered, s.Boards = some(m, s.Unanswered), some(m, s.Boards)
		s.Options, s.Mistakes, s.Coverage = some(m, s.Options), some(m, s.Mistakes), some(m, s.Coverage)
		s.Surprise.Returns = some(m, s.Surprise.Returns)
		if m.IntN(3) == 0 {
			s.Surprise.Note = ""
		}
		if m.IntN(5) == 0 {
			few := gamesReport(1 + m.IntN(12)).Sides[0]
			s.Few, s.FewGames, s.Partings, s.Exits = true, few.FewGames, nil, nil
		}
	}
	return r
}

func some[T any](m maker, list []T) []T {
	if len(list) == 0 {
		return nil
	}
	var out []T
	for range m.IntN(2*len(list) + 1) {
		out = append(out, list[m.IntN(len(list))])
	}
	return out
}

// checkNeverDropped reads back what a page of some sides says.
func checkNeverDropped(t *testing.T, p *sheet.Page, rep *fact.Report, sides []fact.Side) {
	t.Helper()
	text := strings.ReplaceAll(pageText(p), "\n", " ")
	if !strings.Contains(text, "Notes are forbidden during play") {
		t.Error("the page does not say that notes are forbidden")
	}
	for _, g := range rep.Basis.Meetings {
		if d := words.Dated(g.Date); !strings.Contains(text, d) {
			t.Errorf("the game of %s between the two is missing", d)
		}
	}
	most := 0
	for i := range sides {
		s := &sides[i]
		most = max(most, len(s.Unanswered))
		for _, task := range s.Tonight {
			if len(task.Moves) == 0 || task.Kind == "look" {
				continue
			}
			last := numbered(task.Moves[len(task.Moves)-1], len(task.Moves)-1)
			if !strings.Contains(text, strings.TrimLeft(last, "0123456789.")) {
				t.Errorf("tonight lacks %s", last)
			}
		}
		rows := newTreeRows(s, false).rows
		if len(rows) > 0 && !strings.Contains(text, words.LinesToExpect) {
			t.Error("the lines to expect are missing")
		}
	}
	for i := range most {
		if letters(p, letter(i)) == 0 {
			t.Errorf("the letter %s is missing", letter(i))
		}
	}
	checkPartners(t, text)
}

// checkPartners wants the note of every number.
func checkPartners(t *testing.T, text string) {
	t.Helper()
	for _, m := range noteNumber.FindAllStringSubmatch(text, -1) {
		if !strings.Contains(text, " "+m[1]+" after ") && !strings.Contains(text, words.YourPlans+" "+m[1]+" ") {
			t.Errorf("note %s is not on the page", m[1])
		}
	}
}
