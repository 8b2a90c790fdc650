package pdf

import (
	"regexp"
	"strconv"
	"strings"

	"foreply/pdf/sheet"
)

// say splits a sentence that the program made: moves in it get figurines, and
// a black move its number when a line begins with it.
func say(f *sheet.Faces, s string, k sheet.Ink) []sheet.Word {
	words := f.Own(figurines(s), k)
	for i := 1; i < len(words); i++ {
		words[i].First = numberAgain(words[i-1].S, words[i].S)
	}
	return words
}

var (
	whiteMove = regexp.MustCompile(`^\(?(\d+)\.[^.\s]+[^.,;:\s]$`)
	bareMove  = regexp.MustCompile(`^(?:[KQRBN♚♛♜♝♞]|[a-h]|O-O)[a-h1-8xOKQRBN♚♛♜♝♞=+#-]*[.,;:)]*$`)
)

// numberAgain is how a black move reads at the start of a line when the word
// before it is White's move, ” for any other word.
func numberAgain(before, s string) string {
	m := whiteMove.FindStringSubmatch(before)
	if m == nil || !bareMove.MatchString(s) {
		return ""
	}
	return m[1] + "..." + s
}

// moveWords sets a line of moves; ply is the half-moves played before it.
func moveWords(f *sheet.Faces, san []string, ply int, k sheet.Ink) []sheet.Word {
	words := make([]sheet.Word, 0, len(san))
	for i, m := range san {
		full := f.Of(k.Bold).Reduce(numbered(m, ply+i))
		full = strings.ReplaceAll(full, " ", "")
		w := sheet.Word{S: full, Ink: k}
		if i > 0 && (ply+i)%2 == 1 {
			w.First = full
			w.S = strings.ReplaceAll(f.Of(k.Bold).Reduce(figurine(m)), " ", "")
		}
		words = append(words, w)
	}
	return words
}

// lineTo sets a line from a half-move on in grey, its last move in bold black.
func lineTo(f *sheet.Faces, san []string, from int, g sheet.Gray) []sheet.Word {
	words := moveWords(f, san[from:], from, ink(move, false, g))
	if n := len(words); n > 0 {
		words[n-1].Ink = ink(move, true, sheet.Black)
	}
	return words
}

// numbered is a move with its number, black ones with three periods.
func numbered(san string, ply int) string {
	n := strconv.Itoa(ply/2 + 1)
	if ply%2 == 0 {
		return n + "." + figurine(san)
	}
	return n + "..." + figurine(san)
}

// The solid figurines of both colours: at ten points and in a photocopy they
// hold where the outlined ones break up.
var solid = strings.NewReplacer("K", "♚", "Q", "♛", "R", "♜", "B", "♝", "N", "♞")

// figurine puts a figurine for the letter of the piece.
func figurine(san string) string {
	if strings.HasPrefix(san, "O") || strings.HasPrefix(san, "0") {
		return san
	}
	return solid.Replace(san)
}

var sanInText = regexp.MustCompile(`\b[KQRBN][a-h]?[1-8]?x?[a-h][1-8](?:[+#]|\b)|\b[a-h](?:x[a-h])?[18]=[QRBN](?:[+#]|\b)`)

// figurines puts figurines into the moves of a sentence.
func figurines(s string) string {
	return sanInText.ReplaceAllStringFunc(s, figurine)
}

// clauses are the words of as many of a sentence's first parts as go whole into the
// lines; of a single part also what does not.
func clauses(f *sheet.Faces, parts []string, k sheet.Ink, w float64, max int) []sheet.Word {
	for n := len(parts); ; n-- {
		words := say(f, sentenceList(parts[:n]), k)
		if _, whole := f.Break(words, w, max); whole || n <= 1 {
			return words
		}
	}
}

// ink is how text looks.
func ink(size float64, bold bool, g sheet.Gray) sheet.Ink {
	return sheet.Ink{Size: size, Bold: bold, Gray: g}
}

// stroke is a straight line.
func stroke(x1, y1, x2, y2, width float64, g sheet.Gray) sheet.Line {
	return sheet.Line{X1: x1, Y1: y1, X2: x2, Y2: y2, Width: width, Gray: g}
}
