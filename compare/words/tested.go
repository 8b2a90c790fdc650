package words

// What the page of a test in hindsight says beside what was found.
const (
	Tested      = "the forecast in hindsight"
	TrustIt     = "trust it?"
	SaidCame    = "said, came"
	SaidTimes   = "said, times in 10"
	CameTimes   = "came, times in 10"
	ReadingDots = "Each dot stands for the forecasts of one tenth: those under 1 in 10, those of 1 to 2 in 10, and so on. " +
		"Across is what they said, upwards how often the move then came, beside the dot how many they were. " +
		"On the line the forecast was right; in the grey band it was off by less than 1 in 10. " +
		"The bar is the room that chance leaves: the true share lies in it 19 times in 20."
)

// TestedTitle is the title of such a document.
func TestedTitle(who string) string { return Capital(Tested) + ": " + who }
