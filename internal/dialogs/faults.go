package dialogs

import (
	"slices"
	"strconv"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
)

// faultMonths is how many months faults looks back, this one included.
const faultMonths = 3

// faultLines is how many incidents faults shows.
const faultLines = 12

func faultsCommand() command {
	return command{name: doFaults, rights: rights{access.Everyone, anyPhone, onceSetUp},
		does: tellsOnly, help: helpMore, takes: onlyFigures, run: (*talk).faults}
}

// faults lists the incidents of the last months, and how long the machine was
// out of service in each month.
func (c *talk) faults() {
	now := c.local(c.in.At)
	first := time.Date(now.Year(), now.Month(), 1, 0, 0, 0, 0, now.Location()).AddDate(0, 1-faultMonths, 0)
	list := c.faultsSince(first)
	if len(list) == 0 {
		c.say(c.v.Say("faults-none"))
		return
	}
	lines := []string{c.v.Say("faults-head")}
	shown := list[max(0, len(list)-faultLines):]
	for i := range shown {
		lines = append(lines, c.faultLine(&shown[i]))
	}
	body := []Block{text(lines...), c.downtime(list, first)}
	_, rows := c.openFaults()
	c.send(Reply{Body: body, Buttons: rows})
}

// faultsSince gives the incidents that began since an instant and those that
// are still open, oldest first.
func (c *talk) faultsSince(from time.Time) []books.Fault {
	var list []books.Fault
	if c.f.Ask.Entries != nil {
		list = books.Faults(c.f.Ask.Entries())
	}
	for _, f := range c.m.Faults {
		list = slices.DeleteFunc(list, func(x books.Fault) bool { return x.Seq == f.Seq })
		list = append(list, f)
	}
	slices.SortFunc(list, func(a, b books.Fault) int { return int(a.Seq - b.Seq) })
	return slices.DeleteFunc(list, func(f books.Fault) bool {
		return f.Ending == books.Elsewhere || !f.Unsolved() && f.Began.Before(from) && f.Ended.Before(from)
	})
}

// faultLine is an incident in one line: when, what, how it ended, by whom.
func (c *talk) faultLine(f *books.Fault) string {
	ending := "open"
	if f.Ending != "" {
		ending = string(f.Ending)
	}
	line := c.v.Say("faults-line", "when", c.clock(f.Began), "title", c.e.guideTitle(f.Topic),
		"how", c.v.Say("ending."+ending), "who", c.name(f.By))
	if !f.Out.IsZero() {
		line += " " + c.v.Say("faults-down", "time", c.howLong(f.Down(f.Out, c.in.At, c.in.At)))
	}
	if f.Reference != "" {
		line += " " + c.v.Say("faults-reference", "ref", f.Reference)
	}
	return line
}

// downtime shows the months with the number of faults that began in them and
// the time out of service, the part of each month alone.
func (c *talk) downtime(list []books.Fault, first time.Time) Block {
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
		down := books.Downtime(list, from, until, c.in.At)
		out := c.v.Say("faults-out", "time", c.howLong(down))
		if down == 0 && open { // how long is not known yet
			out = c.v.Say("faults-not-solved")
		}
		rows = append(rows, []string{c.v.Say("month."+strconv.Itoa(int(from.Month()))) + " " + strconv.Itoa(from.Year()),
			c.v.Count("faults-count", n), out})
	}
	return columns(1, rows)
}
