package telling

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/reminders"
	"shopfloat/internal/tasks"
)

// TicksBegan is when a checklist was first asked; false when it is done with.
func TicksBegan(t *Teller, no int64) (time.Time, bool) {
	p := t.M.Period(no)
	if p == nil || len(p.Ticks) == 0 || p.Status != books.Open {
		return time.Time{}, false
	}
	return p.TicksAt, true
}

// TicksKey names the deadline at which a checklist is asked again.
func TicksKey(no int64) string { return tasks.TicksName + strconv.FormatInt(no, 10) }

// TicksCardKey names the card of a checklist within a chat, which may be of several machines.
func TicksCardKey(t *Teller, no int64) string {
	return TicksKey(no) + "-" + strconv.FormatInt(int64(t.M.ID), 10)
}

// OpenedHead says that an opening is recorded, and of which day.
func OpenedHead(t *Teller, p *books.Period) string {
	return t.V.Say("opened", "day", t.DayYear(t.DayOf(p)), "when", t.ClockOf(t.DayOf(p), p.Opened))
}

// TicksCard is the checklist of a period, of a closed one what is for the night.
func TicksCard(t *Teller, p *books.Period, head string) chat.Reply { return TicksList(t, p, head, "") }

// TicksList shows what is not ticked off yet, as words, below a line or two.
func TicksList(t *Teller, p *books.Period, head, todo string) chat.Reply {
	lines := append([]string{head, todo}, tickLines(t, p)...)
	rows := [][]chat.Button{t.Button("all-done", TicksTap(t, p, "done")),
		t.Button("different", TicksTap(t, p, "different"))}
	if p.Status == books.Open { // in the evening nobody waits for a safe any more
		rows = append(rows, t.Button("customers", TicksTap(t, p, "customers")))
	}
	return chat.Reply{Key: TicksCardKey(t, p.No), Body: []chat.Block{chat.Lines(lines...)}, Buttons: rows}
}

// tickLines puts what belongs together on one line: each thing to type has its
// own, what is only to be looked at stands side by side.
func tickLines(t *Teller, p *books.Period) (lines []string) {
	if p.Status != books.Open {
		words := make([]string, 0, len(p.Ticks))
		for _, id := range p.Ticks {
			words = append(words, Tick(t, p, id))
		}
		return []string{t.V.Say("night.list", "what", strings.Join(words, ", "))}
	}
	for _, line := range [][]string{{"typed"}, {"total"}, {"boxes", "clean", "checked"}, {"test", "locked"}} {
		var words []string
		for _, id := range line {
			if slices.Contains(p.Ticks, id) {
				words = append(words, Tick(t, p, id))
			}
		}
		lines = append(lines, strings.Join(words, " "))
	}
	return lines
}

// TicksTap is what a button of a checklist says: the period, what to do, and
// which list it was printed under. Another day, or another list by then, and it
// ticks nothing.
func TicksTap(t *Teller, p *books.Period, action string) string {
	return "o:ticks:" + strconv.FormatInt(p.No, 10) + "." + action + "." + ticksPrint(t, p)
}

// ticksPrint tells one printed checklist from another: the minute it was printed
// in, and how far the period was. While it stays so a list only becomes shorter.
func ticksPrint(t *Teller, p *books.Period) string {
	return strconv.FormatInt(t.Now.Unix()/60, 36) + "-" + string(p.Status)
}

// TicksHold says whether a checklist of a period may still be ticked by what was
// printed on its buttons: the period is as far as it was then, and it is the same
// day, or midnight came between the printing and the tap.
func TicksHold(t *Teller, p *books.Period, printed string) bool {
	minute, status, _ := strings.Cut(printed, "-")
	minutes, err := strconv.ParseInt(minute, 36, 64)
	at := time.Unix(minutes*60, 0)
	return err == nil && status == string(p.Status) && !at.After(t.Now) &&
		(reminders.Today(t.F.Shop, at) == t.Today() || t.Now.Sub(at) < stale)
}

// Tick words one thing to do, with the figures it needs.
func Tick(t *Teller, p *books.Period, id string) string {
	var notes []string
	for _, b := range p.Boxes {
		notes = append(notes, t.V.Number(b.Loaded))
	}
	fill := []any{"numbers", strings.Join(notes, ", "), "total", t.V.Money(p.Loaded().Value()),
		"trial", TrialWord(p)}
	switch {
	case id == "total" && p.SlipDiffers():
		id, fill = "total-differs", append(fill, "printed", t.V.Money(*p.Total))
	case id == "checked" && t.M.Checked != "":
		id, fill = "checked-how", append(fill, "how", t.V.Say("checked."+t.M.Checked))
	case id == "test" && !p.Tried && t.M.Trial.Where != "":
		id, fill = "test-how", append(fill, "where", t.V.Say("place."+string(t.M.Trial.Where)))
	case id == "test" && p.Tried:
		id = "test-booked"
	}
	return t.V.Say("tick."+id, fill...)
}

// TrialWord is the test payout that ticking it books: a note from each box that
// holds any, like 1-1-1.
func TrialWord(p *books.Period) string {
	var notes []string
	for _, b := range p.Boxes {
		notes = append(notes, strconv.FormatInt(min(b.Loaded, 1), 10))
	}
	return strings.Join(notes, "-")
}

// OpeningTicks are what remains to be done after an opening is recorded.
func OpeningTicks(t *Teller) []string {
	list := []string{"boxes", "clean"}
	if t.F.Shop.Checked {
		list = append(list, "checked")
	}
	list = append(list, "typed", "total")
	if t.Kit.TestDispense {
		list = append(list, "test")
	}
	return append(list, "locked")
}

// KeepsOpen reports whether a tick is not given by a tap for all of them: two ask
// how, where it is not known from last time, and a slip that differs waits for the
// right total.
func KeepsOpen(t *Teller, p *books.Period, tick string) bool {
	switch tick {
	case "checked":
		return t.M.Checked == ""
	case "test":
		return !p.Tried && t.M.Trial.Where == ""
	}
	return tick == "total" && p.SlipDiffers()
}

// TickHead says what a checklist belongs to.
func TickHead(t *Teller, p *books.Period) string {
	switch p.Status {
	case books.Open:
		return OpenedHead(t, p)
	case books.Waiting:
		return t.V.Say("counted", "when", t.Clock(p.CountedAt))
	}
	return ClosedHead(t, p)
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
