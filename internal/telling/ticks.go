package telling

import (
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/texts"
)

// TicksName begins the name of a checklist's deadline and card.
const TicksName = "ticks-"

// TicksBegan is when a checklist was first asked; false when it is done with.
func TicksBegan(t *Teller, no int64) (time.Time, bool) {
	p := t.M.Period(no)
	if p == nil || len(p.Ticks) == 0 || p.Status != books.Open {
		return time.Time{}, false
	}
	return p.TicksAt, true
}

// TicksKey names the card of a checklist, and the deadline at which it is asked again.
func TicksKey(no int64) string { return TicksName + strconv.FormatInt(no, 10) }

// TicksCard is the checklist of a period, of a closed one what is for the night.
func TicksCard(t *Teller, p *books.Period, head string) chat.Reply {
	return TicksList(t, p, head, t.V.Say(texts.Either(p.Status == books.Open, "ticks.head", "night.head")))
}

// TicksList shows what is not ticked off yet below two lines.
func TicksList(t *Teller, p *books.Period, head, todo string) chat.Reply {
	lines := []string{head, todo}
	for _, id := range p.Ticks {
		lines = append(lines, "- "+Tick(t, p, id))
	}
	no := strconv.FormatInt(p.No, 10)
	return chat.Reply{Key: TicksKey(p.No), Body: []chat.Block{chat.Lines(lines...)}, Buttons: [][]chat.Button{
		t.Button("all-done", "o:ticks:"+no+".done"), t.Button("different", "o:ticks:"+no+".different"),
		t.Button("customers", "o:ticks:"+no+".customers")}}
}

// Tick words one thing to do, with the figures it needs.
func Tick(t *Teller, p *books.Period, id string) string {
	var notes []string
	for _, b := range p.Boxes {
		notes = append(notes, t.V.Number(b.Loaded))
	}
	printed := ""
	if id == "total" && p.SlipDiffers() {
		id, printed = "total-differs", t.V.Money(*p.Total)
	}
	return t.V.Say("tick."+id, "numbers", strings.Join(notes, ", "), "total", t.V.Money(p.Loaded().Value()),
		"printed", printed)
}
