package leaks

// Limits are the two numbers of a cumulative sum, in the unit of its data.
type Limits struct {
	K float64 // what a step may be off without being held against it
	H float64 // a sum above it signals
}

// Cusum sums up what steps are off by, upwards and downwards, never below nothing.
// The zero sums are the plain scheme; see [Limits.Start] for a head start.
type Cusum struct {
	Limits
	Hi, Lo float64
}

// Start begins with a head start, so that what was wrong from the first day on shows
// sooner (fast initial response; Lucas and Crosier use half of H).
func (l Limits) Start(head float64) Cusum { return Cusum{Limits: l, Hi: head, Lo: head} }

// Add takes the next step, as its difference from what is aimed at. A signal is a sum
// strictly above H; nothing is reset by it.
func (c *Cusum) Add(off float64) (hi, lo bool) {
	c.Hi = max(0, c.Hi+off-c.K)
	c.Lo = max(0, c.Lo-off-c.K)
	return c.Hi > c.H, c.Lo > c.H
}

// cap keeps the sums from running away, so that the end of a leak is seen too.
func (c *Cusum) cap(most float64) { c.Hi, c.Lo = min(c.Hi, most), min(c.Lo, most) }
