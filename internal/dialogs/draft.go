package dialogs

func (c *talk) put(name string, v []int64) {
	if c.State.Draft.Counts == nil {
		c.State.Draft.Counts = map[string][]int64{}
	}
	c.State.Draft.Counts[name] = v
}

func (c *talk) choose(name, value string) {
	if c.State.Draft.Choices == nil {
		c.State.Draft.Choices = map[string]string{}
	}
	c.State.Draft.Choices[name] = value
}

func (c *talk) chosen(name string) string { return c.State.Draft.Choices[name] }

// forget drops answers from the draft.
func (c *talk) forget(names ...string) {
	for _, name := range names {
		delete(c.State.Draft.Counts, name)
		delete(c.State.Draft.Choices, name)
	}
}

// anew forgets what was answered and asks for it from a screen on.
func anew(from string, forget ...string) func(*talk) {
	return func(c *talk) {
		c.forget(forget...)
		c.goTo(from)
	}
}

// choice makes a tap that remembers an answer and goes on.
func choice(name, value, next string) func(*talk) {
	return func(c *talk) {
		c.choose(name, value)
		c.goTo(next)
	}
}

// remembered makes a pick remember what was chosen and go on.
func remembered(name, next string) func(*talk, string) {
	return func(c *talk, value string) {
		c.choose(name, value)
		c.goTo(next)
	}
}

// goBack makes a tap that leads to another screen.
func goBack(step string) func(*talk) { return func(c *talk) { c.goTo(step) } }

// unasked gives the first of several screens whose answer is missing, or the review.
func unasked(steps ...string) func(*talk) string {
	return func(c *talk) string {
		for _, step := range steps {
			if c.chosen(step) == "" {
				return step
			}
		}
		return "review"
	}
}
