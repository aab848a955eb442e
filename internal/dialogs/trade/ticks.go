package trade

import (
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/reminders"
)

// TicksName begins the name of a checklist's deadline and card.
const TicksName = "ticks-"

// TicksBegan is when a checklist was first asked; false when it is done with.
func TicksBegan(c *engine.Talk, no int64) (time.Time, bool) {
	p := c.M.Period(no)
	if p == nil || len(p.Ticks) == 0 || p.Status != books.Open {
		return time.Time{}, false
	}
	return p.TicksAt, true
}

// TicksKey names the card of a checklist, and the deadline at which it is asked again.
func TicksKey(no int64) string { return TicksName + strconv.FormatInt(no, 10) }

// AskTicks shows the checklist of a period in place of the tapped card, and
// sees to it that it is asked again.
func AskTicks(c *engine.Talk, p *books.Period, head string) {
	old := c.Key()
	c.End()
	c.InPlace(old, TicksCard(c, p, head))
	c.Climb(TicksKey(p.No), c.In.At, reminders.Ticks)
}

// TicksCard is the checklist of a period, of a closed one what is for the night.
func TicksCard(c *engine.Talk, p *books.Period, head string) chat.Reply {
	return TicksList(c, p, head, c.V.Say(engine.Either(p.Status == books.Open, "ticks.head", "night.head")))
}

// TicksList shows what is not ticked off yet below two lines.
func TicksList(c *engine.Talk, p *books.Period, head, todo string) chat.Reply {
	lines := []string{head, todo}
	for _, t := range p.Ticks {
		lines = append(lines, "- "+Tick(c, p, t))
	}
	no := strconv.FormatInt(p.No, 10)
	return chat.Reply{Key: TicksKey(p.No), Body: []chat.Block{engine.Text(lines...)}, Buttons: [][]chat.Button{
		c.Button("all-done", "o:ticks:"+no+".done"), c.Button("different", "o:ticks:"+no+".different"),
		c.Button("customers", "o:ticks:"+no+".customers")}}
}

// Tick words one thing to do, with the figures it needs.
func Tick(c *engine.Talk, p *books.Period, id string) string {
	var notes []string
	for _, b := range p.Boxes {
		notes = append(notes, c.V.Number(b.Loaded))
	}
	printed := ""
	if id == "total" && SlipDiffers(p) {
		id, printed = "total-differs", c.V.Money(*p.Total)
	}
	return c.V.Say("tick."+id, "numbers", strings.Join(notes, ", "), "total", c.V.Money(p.Loaded().Value()),
		"printed", printed)
}

// SlipDiffers reports whether the last printed total that was typed in is not
// what was put in: one that agrees settles it, a tick does not.
func SlipDiffers(p *books.Period) bool { return p.Total != nil && !p.Total.Equal(PutIn(p)) }
