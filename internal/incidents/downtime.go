package incidents

import (
	"cmp"
	"slices"
	"strconv"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/telling"
)

const (
	faultMonths = 3  // how many months faults looks back, this one included
	faultLines  = 12 // how many incidents it shows
)

// Faults lists the incidents of the last months, and how long the machine was
// out of service in each month; nil where there were none.
func Faults(t *telling.Teller) []chat.Block {
	now := t.Local(t.Now)
	first := time.Date(now.Year(), now.Month(), 1, 0, 0, 0, 0, now.Location()).AddDate(0, 1-faultMonths, 0)
	list := faultsSince(t, first)
	if len(list) == 0 {
		return nil
	}
	lines := []string{t.V.Say("faults-head")}
	shown := list[max(0, len(list)-faultLines):]
	for i := range shown {
		lines = append(lines, faultLine(t, &shown[i]))
	}
	return []chat.Block{chat.Lines(lines...), downtime(t, list, first)}
}

// faultsSince gives the incidents that began since an instant and those that
// are still open, oldest first.
func faultsSince(t *telling.Teller, from time.Time) []books.Fault {
	var list []books.Fault
	if t.F.Ask.Entries != nil {
		list = books.Faults(t.F.Ask.Entries())
	}
	for _, f := range t.M.Faults {
		list = slices.DeleteFunc(list, func(x books.Fault) bool { return x.Seq == f.Seq })
		list = append(list, f)
	}
	slices.SortFunc(list, func(a, b books.Fault) int { return int(a.Seq - b.Seq) })
	return slices.DeleteFunc(list, func(f books.Fault) bool {
		return f.Ending == books.Elsewhere || !f.Unsolved() && f.Began.Before(from) && f.Ended.Before(from)
	})
}

// faultLine is an incident in one line: when, what, how it ended, by whom.
func faultLine(t *telling.Teller, f *books.Fault) string {
	ending := cmp.Or(string(f.Ending), "open")
	line := t.V.Say("faults-line", "when", t.Clock(f.Began), "title", t.GuideTitle(f.Topic),
		"how", t.V.Say("ending."+ending), "who", t.Name(f.By))
	if !f.Out.IsZero() {
		line += " " + t.V.Say("faults-down", "time", telling.HowLong(t, f.Down(f.Out, t.Now, t.Now)))
	}
	if f.Reference != "" {
		line += " " + t.V.Say("faults-reference", "ref", f.Reference)
	}
	return line
}

// downtime shows the months with the number of faults that began in them and
// the time out of service, the part of each month alone.
func downtime(t *telling.Teller, list []books.Fault, first time.Time) chat.Block {
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
		down := Downtime(list, from, until, t.Now)
		out := t.V.Say("faults-out", "time", telling.HowLong(t, down))
		if down == 0 && open { // how long is not known yet
			out = t.V.Say("faults-not-solved")
		}
		month := t.V.Say("month."+strconv.Itoa(int(from.Month()))) + " " + strconv.Itoa(from.Year())
		rows = append(rows, []string{month, t.V.Count("faults-count", n), out})
	}
	return chat.Columns(1, rows)
}

// Downtime is how long a machine was out of service within a span of time for
// any of its faults. Time that two of them share counts once.
func Downtime(faults []books.Fault, from, until, now time.Time) (sum time.Duration) {
	outs := slices.DeleteFunc(slices.Clone(faults), func(f books.Fault) bool { return f.Out.IsZero() })
	slices.SortFunc(outs, func(a, b books.Fault) int { return a.Out.Compare(b.Out) })
	for _, f := range outs {
		if f.Out.Before(from) {
			f.Out = from
		}
		sum += f.Down(from, until, now)
		if end := f.Out.Add(f.Down(from, until, now)); end.After(from) {
			from = end // what comes next counts from here on
		}
	}
	return sum
}
