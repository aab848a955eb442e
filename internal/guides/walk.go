package guides

// walk follows every choice from the start. A guide may not lead back to a
// step it came from: without loops every branch ends.
func (c *checker) walk() {
	w := &walker{g: c.g, state: map[string]visit{}}
	if loop := w.visit(StartStep); loop != nil {
		c.fault(loop.FileLine, "the choice %q leads back to step %q, so the guide might never end",
			loop.Text, loop.To)
	}
	for _, s := range c.g.Steps {
		if w.state[s.Name] == unseen {
			c.fault(s.FileLine, "no choice leads to step %q", s.Name)
		}
	}
}

type visit int

const (
	unseen visit = iota
	open
	closed
)

type walker struct {
	g     Guide
	state map[string]visit
}

// visit returns the first choice found that closes a loop.
func (w *walker) visit(name string) *Choice {
	w.state[name] = open
	defer func() { w.state[name] = closed }()
	s, _ := w.g.Step(name)
	var loop *Choice
	for i, ch := range s.Choices {
		switch w.state[ch.To] {
		case open:
			loop = &s.Choices[i]
		case unseen:
			if l := w.visit(ch.To); l != nil {
				loop = l
			}
		}
	}
	return loop
}

// longest returns how many steps lie on the longest way from a step to an
// end, the step itself included. The guide must have passed check.
func (g Guide) longest(name string, set Settings) int {
	return g.longestFrom(name, set, map[string]int{})
}

// longestFrom remembers what it found: ways that meet again would otherwise be
// counted once for every way there.
func (g Guide) longestFrom(name string, set Settings, known map[string]int) int {
	if n, ok := known[name]; ok {
		return n
	}
	s, _ := g.Step(name)
	most := 0
	for _, ch := range fitting(s.Choices, set) {
		most = max(most, g.longestFrom(ch.To, set, known))
	}
	known[name] = most + 1
	return most + 1
}
