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
	return chat.Reply{Key: TicksKey(p.No), Body: []chat.Block{chat.Lines(lines...)}, Buttons: [][]chat.Button{
		t.Button("all-done", TicksTap(t, p, "done")), t.Button("different", TicksTap(t, p, "different")),
		t.Button("customers", TicksTap(t, p, "customers"))}}
}

// TicksTap is what a button of a checklist says: the period, what to do, and
// which list it was printed under. Another day, or another list by then, and it
// ticks nothing.
func TicksTap(t *Teller, p *books.Period, action string) string {
	return "o:ticks:" + strconv.FormatInt(p.No, 10) + "." + action + "." + TicksPrint(t, p)
}

// TicksPrint tells one printed checklist from another: the day it was printed on,
// and how far the period was. While it stays so a list only becomes shorter.
func TicksPrint(t *Teller, p *books.Period) string {
	return strings.ReplaceAll(string(t.Today()), "-", "") + "-" + string(p.Status)
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

// TicksButtons offers the checklists that are not done.
func TicksButtons(t *Teller) [][]chat.Button {
	var rows [][]chat.Button
	for _, p := range t.M.Periods {
		if len(p.Ticks) > 0 {
			rows = append(rows, t.Button("show-ticks", "o:ticks:"+strconv.FormatInt(p.No, 10)+".show"))
		}
	}
	return rows
}
