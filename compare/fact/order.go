package fact

// Order kinds.
const (
	YourOrder  = "your_order"  // another order of your own moves goes round a line of theirs
	TheirOrder = "their_order" // an order of theirs lets them keep back the move your book waits for
)

// Order is what a change in the order of moves would do: a fact of both trees.
type Order struct {
	Kind  string   `json:"kind"`
	Line  []string `json:"line"`  // to the position where the orders part, SAN
	Move  string   `json:"move"`  // your main choice there, or their move
	Other string   `json:"other"` // your move to play first instead, or the move your book waits for
	Pet   string   `json:"pet"`   // their move that the other order goes round; for an order of theirs your answer
	P     float64  `json:"p"`     // probability of their line after your main choice; of their coming back to your book
	Back  float64  `json:"back"`  // share of their moves after the other order that come back to your book
	Games int      `json:"games"` // of theirs with it
	Reach float64  `json:"reach"`
	Text  string   `json:"text"`
}
