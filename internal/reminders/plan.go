package reminders

import (
	"cmp"
	"errors"
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/shop"
)

// Horizon is how far ahead deadlines are planned.
const Horizon = 8 * day

// Name names a deadline of a task of a day. There is one for each task and day,
// which goes from rung to rung, and one for each time somebody puts it off.
type Name struct {
	Date  shop.Date
	Task  Task
	Later int // 0: of the ladder; else how often it had been put off

	For shop.PersonID // who put it off, and is the only one to be asked again; 0: not one alone
}

// String writes a name as it stands in the store: due:2026-11-25:closing.
func (n Name) String() string {
	s := "due:" + string(n.Date) + ":" + string(n.Task)
	if n.Later > 0 {
		s += ":" + strconv.Itoa(n.Later)
	}
	if n.For != 0 {
		s += ":" + strconv.FormatInt(int64(n.For), 10)
	}
	return s
}

// ParseName reads a name back; ok is false for anything else.
func ParseName(text string) (n Name, ok bool) {
	parts := strings.Split(text, ":")
	if len(parts) < 3 || len(parts) > 5 || parts[0] != "due" {
		return n, false
	}
	date, err := shop.ParseDate(parts[1])
	if err != nil || !slices.Contains(Tasks(), Task(parts[2])) {
		return n, false
	}
	n = Name{Date: date, Task: Task(parts[2])}
	if len(parts) > 3 {
		n.Later, err = strconv.Atoi(parts[3])
	}
	if len(parts) > 4 && err == nil {
		var id int64
		id, err = strconv.ParseInt(parts[4], 10, 64)
		n.For = shop.PersonID(id)
	}
	if err != nil || n.String() != text {
		return Name{}, false // not as it is written
	}
	return n, true
}

// KeyPrefix begins the names of messages about a task.
const KeyPrefix = "due-"

// Key names the message about a task of a machine within each chat: due-2026-11-25-closing-7.
// Earlier programs left the machine out in a shop of one, and so does 0.
func (n Name) Key(machine shop.MachineID) string {
	key := KeyPrefix + string(n.Date) + "-" + string(n.Task)
	if machine != 0 {
		key += "-" + strconv.FormatInt(int64(machine), 10)
	}
	return key
}

// ParseKey reads such a name back; ok is false for anything else.
func ParseKey(key string) (n Name, machine shop.MachineID, ok bool) {
	rest, is := strings.CutPrefix(key, KeyPrefix)
	if !is || len(rest) <= len("2026-11-25-") {
		return n, 0, false
	}
	date, err := shop.ParseDate(rest[:len("2026-11-25")])
	word, number, named := strings.Cut(rest[len("2026-11-25-"):], "-")
	if named {
		id, bad := strconv.ParseInt(number, 10, 64)
		machine, err = shop.MachineID(id), errors.Join(err, bad)
	}
	n = Name{Date: date, Task: Task(word)}
	return n, machine, err == nil && slices.Contains(Tasks(), n.Task)
}

// Deadline is a row to plan: the next rung of a task, or a zero time when there
// is none any more.
type Deadline struct {
	Name Name
	At   time.Time
}

// Plan gives the deadline of every task from yesterday on to the horizon: the
// first rung after now. Tasks that have none are named with a zero time, so
// that what an earlier plan held is dropped.
func Plan(s *shop.Shop, now time.Time) []Deadline {
	var list []Deadline
	today := shop.DateOf(now.In(s.Location))
	for date := today.Add(-1); date <= today.Add(int(Horizon/day)); date = date.Add(1) {
		for _, task := range Tasks() {
			list = append(list, NextOf(s, date, task, now))
		}
	}
	return list
}

// NextOf gives the deadline of one task of one day: its first rung after now.
func NextOf(s *shop.Shop, date shop.Date, task Task, now time.Time) Deadline {
	d := Deadline{Name: Name{Date: date, Task: task}}
	if r, ok := Next(Rungs(s, date, task), now); ok {
		d.At = r.At
	}
	return d
}

// Item is one reminder that would go out.
type Item struct {
	Date shop.Date
	Task Task
	Rung
}

// Agenda lists, by time, every reminder from one instant up to another, if
// nothing got recorded.
func Agenda(s *shop.Shop, from, until time.Time) []Item {
	var list []Item
	last := shop.DateOf(until.In(s.Location)).Add(1)
	for date := shop.DateOf(from.In(s.Location)).Add(-3); date <= last; date = date.Add(1) {
		for _, task := range Tasks() {
			for _, r := range Rungs(s, date, task) {
				if !r.At.Before(from) && r.At.Before(until) {
					list = append(list, Item{date, task, r})
				}
			}
		}
	}
	slices.SortStableFunc(list, func(a, b Item) int {
		return cmp.Or(a.At.Compare(b.At), cmp.Compare(a.Date, b.Date))
	})
	return list
}
