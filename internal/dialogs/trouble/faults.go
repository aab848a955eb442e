package trouble

import (
	"cmp"
	"slices"
	"strconv"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/telling"
)

const (
	faultMonths = 3  // how many months faults looks back, this one included
	faultLines  = 12 // how many incidents it shows
)

// FaultsCommand looks back at incidents.
func FaultsCommand() engine.Command { return tells(engine.DoFaults, faults) }

// faults lists the incidents of the last months, and how long the machine was
// out of service in each month.
func faults(c *engine.Talk) {
	now := c.Local(c.In.At)
	first := time.Date(now.Year(), now.Month(), 1, 0, 0, 0, 0, now.Location()).AddDate(0, 1-faultMonths, 0)
	list := faultsSince(c, first)
	if len(list) == 0 {
		c.Say(c.V.Say("faults-none"))
		return
	}
	lines := []string{c.V.Say("faults-head")}
	shown := list[max(0, len(list)-faultLines):]
	for i := range shown {
		lines = append(lines, faultLine(c, &shown[i]))
	}
	body := []chat.Block{chat.Lines(lines...), downtime(c, list, first)}
	_, rows := telling.OpenFaults(c.Teller)
	c.Send(chat.Reply{Body: body, Buttons: rows})
}

// faultsSince gives the incidents that began since an instant and those that
// are still open, oldest first.
func faultsSince(c *engine.Talk, from time.Time) []books.Fault {
	var list []books.Fault
	if c.F.Ask.Entries != nil {
		list = books.Faults(c.F.Ask.Entries())
	}
	for _, f := range c.M.Faults {
		list = slices.DeleteFunc(list, func(x books.Fault) bool { return x.Seq == f.Seq })
		list = append(list, f)
	}
	slices.SortFunc(list, func(a, b books.Fault) int { return int(a.Seq - b.Seq) })
	return slices.DeleteFunc(list, func(f books.Fault) bool {
		return f.Ending == books.Elsewhere || !f.Unsolved() && f.Began.Before(from) && f.Ended.Before(from)
	})
}

// faultLine is an incident in one line: when, what, how it ended, by whom.
func faultLine(c *engine.Talk, f *books.Fault) string {
	ending := cmp.Or(string(f.Ending), "open")
	line := c.V.Say("faults-line", "when", c.Clock(f.Began), "title", c.GuideTitle(f.Topic),
		"how", c.V.Say("ending."+ending), "who", c.Name(f.By))
	if !f.Out.IsZero() {
		line += " " + c.V.Say("faults-down", "time", telling.HowLong(c.Teller, f.Down(f.Out, c.In.At, c.In.At)))
	}
	if f.Reference != "" {
		line += " " + c.V.Say("faults-reference", "ref", f.Reference)
	}
	return line
}

// downtime shows the months with the number of faults that began in them and
// the time out of service, the part of each month alone.
func downtime(c *engine.Talk, list []books.Fault, first time.Time) chat.Block {
	rows := [][]string{}
	for i := range faultMonths {
		from, until := first.AddDate(0, i, 0), first.AddDate(0, i+1, 0)
		n, open := int64(0), false
		for _, f := range list {
			if !f.Light && f.Ending != books.Mistake && !f.Began.Before(from) && f.Began.Before(until) {
				n++
				open = open || f.Unsolved()
			}
		}
		down := books.Downtime(list, from, until, c.In.At)
		out := c.V.Say("faults-out", "time", telling.HowLong(c.Teller, down))
		if down == 0 && open { // how long is not known yet
			out = c.V.Say("faults-not-solved")
		}
		month := c.V.Say("month."+strconv.Itoa(int(from.Month()))) + " " + strconv.Itoa(from.Year())
		rows = append(rows, []string{month, c.V.Count("faults-count", n), out})
	}
	return chat.Columns(1, rows)
}
