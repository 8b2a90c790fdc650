package fact

// Change is an opening that they took up or dropped, where chance hardly
// explains it.
type Change struct {
	Text   string   `json:"text"` // 'against 1.e4, in blitz since Feb 2026: 1...c5 in the last 8, before that 1...e5 in 40 of 44; the same in rapid'
	Line   []string `json:"line"` // SAN, to the position
	Move   string   `json:"move"` // taken up, or dropped
	Up     bool     `json:"up"`   // taken up
	N      int      `json:"n"`    // how often it came in the last Of games here
	Of     int      `json:"of"`
	PastN  int      `json:"past_n"` // how often it came in the PastOf games before
	PastOf int      `json:"past_of"`
	Since  string   `json:"since"`  // date of the first game since
	Speed  string   `json:"speed"`  // of the games compared: 'slow', or their time class
	Reach  float64  `json:"reach"`  // of the position; 0 when your main choices never come there
	Chance float64  `json:"chance"` // upper bound of how often so clear a change is seen here where nothing changed
}
