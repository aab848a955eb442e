package engine

func (c *Talk) Put(name string, v []int64) {
	if c.State.Draft.Counts == nil {
		c.State.Draft.Counts = map[string][]int64{}
	}
	c.State.Draft.Counts[name] = v
}

func (c *Talk) Choose(name, value string) {
	if c.State.Draft.Choices == nil {
		c.State.Draft.Choices = map[string]string{}
	}
	c.State.Draft.Choices[name] = value
}

func (c *Talk) Chosen(name string) string { return c.State.Draft.Choices[name] }

// Forget drops answers from the draft.
func (c *Talk) Forget(names ...string) {
	for _, name := range names {
		delete(c.State.Draft.Counts, name)
		delete(c.State.Draft.Choices, name)
	}
}

// Anew forgets what was answered and asks for it from a screen on.
func Anew(from string, forget ...string) func(*Talk) {
	return func(c *Talk) {
		c.Forget(forget...)
		c.GoTo(from)
	}
}

// Remembered makes a pick remember what was chosen and go on.
func Remembered(name, next string) func(*Talk, string) {
	return func(c *Talk, value string) {
		c.Choose(name, value)
		c.GoTo(next)
	}
}

// GoBack makes a tap that leads to another screen.
func GoBack(step string) func(*Talk) { return func(c *Talk) { c.GoTo(step) } }

// Unasked gives the first of several screens whose answer is missing, or the review.
func Unasked(steps ...string) func(*Talk) string {
	return func(c *Talk) string {
		for _, step := range steps {
			if c.Chosen(step) == "" {
				return step
			}
		}
		return "review"
	}
}
