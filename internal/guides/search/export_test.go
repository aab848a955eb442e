package search

// Kept tells whether what topics teach is kept with the program.
func Kept(topics []Topic) (bool, error) {
	_, all, err := untaught(topics)
	if err != nil {
		return false, err
	}
	_, known, err := remembered(learntFile, all)
	return known, err
}
