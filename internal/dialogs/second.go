package dialogs

import "shopfloat/internal/books"

// seconder is who counts the machine a second time just now, or nobody.
func (c *talk) seconder() *Activity {
	for i := range c.f.Others {
		if a := &c.f.Others[i]; a.Flow == "second" && a.Blind && !c.stale(*a) {
			return a
		}
	}
	return nil
}

// counting says at the figures that somebody counts a second time.
func (c *talk) counting() string {
	p := c.target()
	a := c.seconder()
	if a == nil || p == nil || p.Status != books.Waiting {
		return ""
	}
	return c.v.Say("second-counting", "who", c.name(a.Person))
}
