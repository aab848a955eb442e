package chat

// Index reads a place in a list of n.
func Index(s string, n int) (int, bool) {
	i := 0
	for _, r := range s {
		if r < '0' || r > '9' || i > n {
			return 0, false
		}
		i = 10*i + int(r-'0')
	}
	return i, s != "" && i < n
}
