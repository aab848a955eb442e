package trade

import (
	"slices"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// Ready finds the open period a dialog is about, or ends the dialog. What was left of one
// may be told until its result is recorded.
func Ready(c *engine.Talk) *books.Period {
	p := ask.Target(c)
	if p == nil || p.Status != books.Open && (p.Status != books.Waiting || c.State.Draft.Then == nil) {
		c.Close(chat.Block{Text: telling.NothingOpen(c.Teller, c.State.Draft.Happened)})
		return nil
	}
	c.State.Draft.Period = p.No
	return p
}

// Knew reports whether the difference of a period has been known before, so that a count is not blind: it was
// counted again, its result was shown here or where its count was taken back, or its close was undone.
func Knew(c *engine.Talk, p *books.Period) bool {
	return Saw(c, p) || slices.ContainsFunc(c.M.Recent, func(b books.Brief) bool {
		return b.Period == p.No && (b.Kind == books.Close || slices.Contains(b.Marks, books.NotBlind))
	})
}

// Saw reports whether a period's result was shown in this chat.
func Saw(c *engine.Talk, p *books.Period) bool { return c.State.Seen[c.M.ID] == p.No }

// Shown remembers in the chat that a period's result was shown.
func Shown(c *engine.Talk, p *books.Period) {
	if c.State.Seen == nil {
		c.State.Seen = map[shop.MachineID]int64{}
	}
	c.State.Seen[c.M.ID] = p.No
}

// LeftByOthers names what other people began since the machine was loaded and did not record;
// what is in it nobody sees who counts.
func LeftByOthers(c *engine.Talk, p *books.Period) {
	for _, a := range c.F.Others {
		if f := c.E.Flows[a.Flow]; f != nil && f.Late && !a.Began.Before(p.Opened) {
			c.First(c.V.Say("left-others", "what", c.V.Say("flow."+f.Title), "who", c.Name(a.Person)))
		}
	}
}

// Held ends an opening while the machine must not be loaded, and says why. What
// happened before the hold can still be entered.
func Held(c *engine.Talk) bool {
	h := c.F.Shop.Plan.Hold
	if h == nil || c.When().Before(h.At) {
		return false
	}
	old := c.Key()
	c.End()
	c.InPlace(old, chat.Reply{Key: c.Key(),
		Body: []chat.Block{chat.Lines(append(telling.HoldLines(c.Teller, *h), c.V.Say("hold.stop"))...)}})
	if c.F.Person.Role.Manages() {
		c.Send(chat.Reply{Body: []chat.Block{{Text: c.V.Say("hold.lift-ask")}}, Key: telling.HoldKey,
			Buttons: telling.LiftButton(c.Teller)})
	}
	return true
}
