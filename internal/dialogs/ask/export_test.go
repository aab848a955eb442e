package ask

// What only tests ask for.
const PageSize = pageSize

// Worded makes a pick whose labels may be typed.
func (p Pick) Worded() Pick {
	p.words = true
	return p
}
