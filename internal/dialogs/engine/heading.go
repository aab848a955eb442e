package engine

import (
	"cmp"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// A card that books says in its first line which record that will be, and of
// which day. Whoever taps a card on which another line would stand by now has
// read something else than would be booked: the card is shown anew first.

// ThatMoment is the day of trading of what is told now.
func ThatMoment(c *Talk) shop.Date { return reminders.Today(c.F.Shop, c.When()) }

// ThatOpening is the day that an opening told now is for: after the close the next one.
func ThatOpening(c *Talk) shop.Date { return reminders.DayOf(c.F.Shop, c.When()) }

// ItsPeriod is the day that the period was opened for which a dialog is about.
func ItsPeriod(c *Talk) shop.Date {
	if p := c.M.Period(c.State.Draft.Period); p != nil {
		return c.DayOf(p)
	}
	return ThatMoment(c)
}

// heading is the first line of the open card.
func (c *Talk) heading(f *Flow, s Screen) string {
	what := c.V.Say("title." + cmp.Or(s.Title, f.Title))
	if f.Of == nil {
		return what
	}
	return telling.Heading(c.Teller, what, f.Of(c), c.several())
}

// several reports whether the speaker has several machines or shops.
func (c *Talk) several() bool { return c.F.Several || len(c.F.Shop.Machines) > 1 }

type holds func(*shop.Shop, time.Time) time.Time

// holding is how long that line stands.
func (c *Talk) holding(f *Flow, s Screen) chat.Holding {
	if f.Holds == nil || !c.State.Draft.Happened.IsZero() {
		return chat.Holding{}
	}
	return chat.Holding{Shop: c.F.Shop.ID, Version: c.F.Shop.Version, Lang: c.F.Lang,
		Title: cmp.Or(s.Title, f.Title), From: c.In.At, Until: f.Holds(c.F.Shop, c.In.At)}
}

// stands reports whether the first line of the newest card is that of the open one still,
// without asking the plan. What a tap books is asked all the same.
func (c *Talk) stands(f *Flow, s Screen) bool {
	h := c.State.Draft.Holds
	return c.In.At.Before(h.Until) && !c.In.At.Before(h.From) && h.Shop == c.F.Shop.ID &&
		h.Version == c.F.Shop.Version && h.Lang == c.F.Lang && h.Title == cmp.Or(s.Title, f.Title)
}

// anotherDay shows the open card anew when it was last shown under the name of
// another day, and reports that it did. What came in is not taken.
func (c *Talk) anotherDay(f *Flow, typed string) bool {
	had := c.State.Draft.Head
	if f.Of == nil || had == "" || had == c.heading(f, c.Screen()) {
		return false
	}
	c.First(c.V.Say("another-day", "head", had))
	if typed != "" {
		c.notTaken(typed)
	}
	c.Show()
	return true
}
