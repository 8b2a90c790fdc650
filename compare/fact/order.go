package fact

// Order kinds.
const (
	YourOrder  = "your_order"  // another order of your own moves goes round a line of theirs
	TheirOrder = "their_order" // an order of theirs lets them keep back the move your book waits for
)

// Order is what a change in the order of moves would do: a fact of both trees.
type Order struct {
	Kind  string   `json:"kind"`  // whose order it is
	Line  []string `json:"line"`  // to the position where the orders part, SAN
	Move  string   `json:"move"`  // your main choice there, or their move
	Other string   `json:"other"` // your move to play first instead, or the move your book waits for
	Pet   string   `json:"pet"`   // their move that the other order goes round; for an order of theirs your answer
	Share Share    `json:"share"` // of Pet after your main choice; for an order of theirs, of Other after your answer
	Back  float64  `json:"back"`  // share of their moves after the other order that come back to your book
	Games int      `json:"games"` // of theirs with it
	Met   int      `json:"met"`   // games of theirs with the other order; for an order of theirs, with your answer to it
	Reach float64  `json:"reach"` // of the position
	// Waits is, for an order of theirs, the move your book waits for, as it is written
	// where they could play it.
	Waits    string  `json:"waits,omitempty"`
	Score    Score   `json:"score"`    // theirs in the games with their line, for an order of yours
	Expected float64 `json:"expected"` // points of theirs to be expected in these games, by ratings, else by their record
}

// Matters is how often the order makes a difference, 0..1.
func (o *Order) Matters() float64 {
	if o.Kind == TheirOrder { // less, if they come back anyway
		return o.Reach * (1 - o.Share.P)
	}
	return o.Reach * o.Share.P
}
