package dialogs

import (
	"slices"
	"strconv"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// robbed reports whether a robbery is on record at the machine that no manager
// has said is over. Until then nobody is reminded of the routine: a card that
// says "start now" may come while the robber stands there.
func (c *talk) robbed() bool { return slices.ContainsFunc(c.m.Faults, openRobbery) }

func openRobbery(f books.Fault) bool { return f.Topic == Robbery && f.Unsolved() }

// tellRobbery tells managers and owners at once, without a word of it to the
// speaker, whose screen somebody else may be reading.
func (c *talk) tellRobbery() {
	who := c.f.Person.Name
	if who == "" {
		who = c.v.Say("somebody")
	}
	r := Reply{Body: []Block{
		{Text: c.v.Say("robbery.told", "who", who, "when", c.clock(c.in.At))},
		{Text: c.v.Say("robbery.do", "number", c.guideSettings().Number("emergency"))}}}
	if w := c.State.Walk; w != nil && w.Fault != 0 {
		r.Buttons = [][]Button{c.button("robbery-over", "o:fault:back."+strconv.FormatInt(w.Fault, 10))}
	}
	c.tellManagers(r)
}

// hushed leaves of what a deadline says only what a manager is to hear of the
// robbery itself.
func (c *talk) hushed(fault bool) {
	c.Replies = slices.DeleteFunc(c.Replies, func(r Reply) bool {
		p, ok := c.f.Shop.Person(r.To.Person)
		return !fault || !ok || !manages(p)
	})
}

func manages(p shop.Person) bool { return p.Acts().Manages() }

// mayEnd reports whether the speaker may say that an incident is over. Staff
// may be made to say that of a robbery.
func (c *talk) mayEnd(f *books.Fault) bool {
	return f.Topic != Robbery || c.f.Person.ID != 0 && manages(c.f.Person)
}

// endRobberies closes the other records of what was one robbery.
func (c *talk) endRobberies() {
	var open []int64
	for _, f := range c.m.Faults {
		if openRobbery(f) {
			open = append(open, f.Seq)
		}
	}
	for _, seq := range open {
		c.news(seq, books.Trouble{Ending: books.Solved})
	}
}

// warned puts a caution on cards at which the safe is open.
func (c *talk) warned(f *flow) {
	if f.safe == safeOpen && c.robbed() && !c.quiet() {
		c.lead = append([]Block{{Text: c.v.Say("robbery.wait")}}, c.lead...)
	}
}
