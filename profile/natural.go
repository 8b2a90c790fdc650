package profile

import (
	"math"

	"foreply/profile/board"
)

// What players do who are not known at all: each legal move gets the weight
// exp(sum of its features), a conditional logit (McFadden 1974). The features
// are the first things a beginner is taught; their numbers were fitted on the
// first 24 plies of 999 games of a day by many players
// (TestFitNaturalMoves, see its comment), none of them judged here.

// feature numbers something that a move may have.
type feature int

const (
	pawnMove feature = iota
	knightMove
	bishopMove
	rookMove
	queenMove
	kingMove
	castles
	takes           // captured value in pawns
	takesBack       // a capture while material is behind
	takesFavourably // captured value above the mover's, in pawns
	intoPawn        // to a square that an enemy pawn attacks, not taking
	fromPawn        // away from an attack by a pawn
	develops        // knight or bishop off the first rank
	retreats        // back to the first rank
	again           // a minor piece that has left the first rank moves on
	centrePawn      // d or e pawn
	doubleStep
	edgePawn    // a or h pawn
	toCentre    // nearness of the target square to the middle, 0..3
	edgeKnight  // knight to the a or h file
	hitsPawnway // minor piece in front of an own d or e pawn at home
	attacksUp   // a pawn that then attacks a piece
	features
)

// naturalWeights are the numbers of the features.
var naturalWeights = [features]float64{
	pawnMove: 0.11, knightMove: 0.42, bishopMove: 0.18, rookMove: 0.13, queenMove: -0.28, kingMove: -1.28, castles: 4.63,
	takes: 0.71, takesBack: 1.68, takesFavourably: 0.15, intoPawn: -4.32, fromPawn: 3.10,
	develops: 1.26, retreats: -0.35, again: -0.57, centrePawn: 0.96, doubleStep: 0.03, edgePawn: 0.06,
	toCentre: 0.40, edgeKnight: -1.75, hitsPawnway: -2.06, attacksUp: 0.71,
}

// valueOf is the usual value of a kind in pawns.
var valueOf = [7]float64{board.Pawn: 1, board.Knight: 3, board.Bishop: 3, board.Rook: 5, board.Queen: 9}

// natural fills p with the probability of each legal move.
func natural(pos *board.Position, legal []board.Move, power float64, p []float64) {
	behind := materialBehind(pos)
	sum := 0.0
	for i, m := range legal {
		p[i] = math.Exp(power * naturalness(pos, m, behind))
		sum += p[i]
	}
	for i := range p {
		p[i] /= sum
	}
}

func naturalness(pos *board.Position, m board.Move, behind bool) float64 {
	score := 0.0
	eachFeature(pos, m, behind, func(f feature, x float64) { score += naturalWeights[f] * x })
	return score
}

// materialBehind reports whether the side to move has less than the other.
func materialBehind(pos *board.Position) bool {
	balance := 0.0
	for s := board.Square(0); s < 64; s++ {
		if pc := pos.At(s); pc != 0 {
			v := valueOf[pc.Kind()]
			if pc.Color() != pos.Turn() {
				v = -v
			}
			balance += v
		}
	}
	return balance < -0.5
}

func eachFeature(pos *board.Position, m board.Move, behind bool, has func(feature, float64)) {
	us := pos.Turn()
	from, to := m.From(), m.To()
	kind := pos.At(from).Kind()
	has(pawnMove+feature(kind-board.Pawn), 1)
	taken := pos.At(to)
	if taken != 0 || kind == board.Pawn && from.File() != to.File() {
		captureFeatures(valueOf[max(taken.Kind(), board.Pawn)], valueOf[kind], behind, has)
	}
	has(toCentre, nearMiddle(to))
	switch kind {
	case board.Pawn:
		pawnFeatures(pos, us, from, to, has)
	case board.King:
		if from.File() == 4 && (to.File() == 6 || to.File() == 2) && from.Rank() == to.Rank() {
			has(castles, 1)
		}
	default:
		pieceFeatures(pos, us, kind, from, to, has)
		if taken == 0 && pawnAttacks(pos, us.Other(), to) {
			has(intoPawn, 1)
		}
		if pawnAttacks(pos, us.Other(), from) {
			has(fromPawn, 1)
		}
	}
}

func captureFeatures(taken, mover float64, behind bool, has func(feature, float64)) {
	has(takes, taken)
	if behind {
		has(takesBack, 1)
	}
	if taken > mover {
		has(takesFavourably, taken-mover)
	}
}

func pawnFeatures(pos *board.Position, us board.Color, from, to board.Square, has func(feature, float64)) {
	switch from.File() {
	case 3, 4:
		has(centrePawn, 1)
	case 0, 7:
		has(edgePawn, 1)
	}
	if step := from.Rank() - to.Rank(); step == 2 || step == -2 {
		has(doubleStep, 1)
	}
	ahead := 8
	if us == board.Black {
		ahead = -8
	}
	for _, side := range [...]int{-1, 1} {
		file := to.File() + side
		s := int(to) + ahead + side
		if file < 0 || file > 7 || s < 0 || s > 63 {
			continue
		}
		if pc := pos.At(board.Square(s)); pc != 0 && pc.Color() != us && pc.Kind() != board.Pawn {
			has(attacksUp, 1)
		}
	}
}

func pieceFeatures(pos *board.Position, us board.Color, kind board.Kind, from, to board.Square, has func(feature, float64)) {
	home := 0
	second := 1
	if us == board.Black {
		home, second = 7, 6
	}
	if to.Rank() == home {
		has(retreats, 1)
	}
	if kind != board.Knight && kind != board.Bishop {
		return
	}
	if from.Rank() == home {
		has(develops, 1)
	} else {
		has(again, 1)
	}
	if kind == board.Knight && (to.File() == 0 || to.File() == 7) {
		has(edgeKnight, 1)
	}
	behindIt := board.Square(second*8 + to.File())
	if inFront := to.Rank() == second+1 || to.Rank() == second-1; inFront && (to.File() == 3 || to.File() == 4) &&
		pos.At(behindIt) == board.MakePiece(us, board.Pawn) {
		has(hitsPawnway, 1)
	}
}

// nearMiddle is 3 on the four central squares and 0 on the edge.
func nearMiddle(s board.Square) float64 {
	edge := func(x int) int { return min(x, 7-x) }
	return float64(min(edge(s.File()), edge(s.Rank())))
}

// pawnAttacks reports whether a pawn of the side attacks the square.
func pawnAttacks(pos *board.Position, side board.Color, s board.Square) bool {
	from := int(s) - 8
	if side == board.Black {
		from = int(s) + 8
	}
	pawn := board.MakePiece(side, board.Pawn)
	for _, step := range [...]int{-1, 1} {
		if file := s.File() + step; file >= 0 && file < 8 && from >= 0 && from < 64 && pos.At(board.Square(from+step)) == pawn {
			return true
		}
	}
	return false
}
