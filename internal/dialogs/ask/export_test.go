package ask

// What only tests ask for.
const PageSize = pageSize

var Makes = makes

// Worded makes a pick whose labels may be typed.
func (p Pick) Worded() Pick {
	p.words = true
	return p
}
