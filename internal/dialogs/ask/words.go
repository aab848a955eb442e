package ask

// Words that may be typed where a yes or a no is asked and nothing is booked by it.
var (
	YesNo   = []string{"yes", "no"}
	NoWords = []string{"none"}
)
