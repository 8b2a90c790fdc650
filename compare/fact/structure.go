package fact

// Structure is what can be read off a position without judging it: the terms
// are common practice.
type Structure struct {
	Open  []string  `json:"open"` // files without pawns
	White SideFacts `json:"white"`
	Black SideFacts `json:"black"`
}

// SideFacts are the structure facts of one side.
type SideFacts struct {
	Men       Men      `json:"men"`
	Material  int      `json:"material"`   // in points: pawn 1, knight and bishop 3, rook 5, queen 9
	QueenSide int      `json:"queen_side"` // pawns on the files a to d
	KingSide  int      `json:"king_side"`  // pawns on the files e to h
	Isolated  []string `json:"isolated"`   // squares of pawns without an own pawn on a file beside
	Doubled   []string `json:"doubled"`    // files with several own pawns
	Backward  []string `json:"backward"`   // squares of pawns that have moved, that no own pawn can ever support, before a square the other side's pawns guard
	Passed    []string `json:"passed"`     // squares of pawns with no pawn of the other side before them on their own file or one beside
	HalfOpen  []string `json:"half_open"`  // files where only the other side has pawns
	Bishops   bool     `json:"bishops"`    // has the bishop pair, and the other side has not
	King      string   `json:"king"`       // whether it castled, and to which side, or still may
}

// Men counts a side's men but for the king.
type Men struct {
	Queens  int `json:"queens"`  // number
	Rooks   int `json:"rooks"`   // number
	Bishops int `json:"bishops"` // number
	Knights int `json:"knights"` // number
	Pawns   int `json:"pawns"`   // number
}

// What became of a side's castling.
const (
	CastledShort = "castled short"
	CastledLong  = "castled long"
	MayCastle    = "may castle"
	LostCastling = "has lost castling"
)
