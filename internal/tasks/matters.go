package tasks

import (
	"strconv"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dues"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// What the names of the deadlines of matters begin with. The number follows of the period, or of
// the record, that each is about.
const (
	TicksName = "ticks-"    // a checklist that is not ticked off
	FaultName = "fault-"    // an incident that is not solved
	OwedName  = "owed-"     // money of the bank that is overdue
	LongName  = "owedlong-" // and by more than any way of looking explains
)

// Matter stays open until somebody sees to it, and climbs a ladder from when it began.
type Matter struct {
	Name  string // of its deadline
	Task  reminders.Task
	Began time.Time
}

// spokenFor is how many days after its due date a claim is spoken of by itself, at most: ten banking
// days in a row with the holidays among them, or a month and a weekend where somebody looks at the bank
// by its statement. Common practice, no source.
const spokenFor = 45

// spokenMost bounds the claims that are looked at; a day has one or a few of them.
const spokenMost = 200

// Late asks for the claims that are still to be spoken of.
func Late(today shop.Date) dues.Wanted {
	return dues.Wanted{Is: dues.Still, Due: [2]shop.Date{today.Add(-spokenFor), ""}, Order: dues.Newest,
		Limit: spokenMost}
}

// Matters lists what is open of a machine: its checklists, its faults, and those claims.
func (a At) Matters(late []books.Claim) (list []Matter) {
	add := func(name string, no int64, task reminders.Task, began time.Time) {
		list = append(list, Matter{name + strconv.FormatInt(no, 10), task, began})
	}
	for _, p := range a.Machine.Periods {
		if len(p.Ticks) > 0 && p.Status == books.Open {
			add(TicksName, p.No, reminders.Ticks, p.TicksAt)
		}
	}
	for _, f := range a.Machine.Faults {
		if f.Unsolved() {
			add(FaultName, f.Seq, reminders.Fault, f.Began)
		}
	}
	for _, x := range late {
		if x.On != "" && x.Left().IsPositive() {
			add(OwedName, x.Seq, reminders.Owed, reminders.Overdue(a.Shop, x.On))
			add(LongName, x.Seq, reminders.LongOwed, reminders.LongOverdue(a.Shop, x.On))
		}
	}
	return list
}

// Asked reports whether nothing is missing among the deadlines of what is open, as far as its ladder goes
// on. Earlier programs have planned less.
func (a At) Asked(planned map[string]time.Time, late []books.Claim, now time.Time) bool {
	if _, soon := planned[chat.PlanAgain]; soon || a.rests(planned, now) {
		return true // all of it is planned in a moment, or when somebody comes back
	}
	for _, m := range a.Matters(late) {
		_, there := planned[m.Name]
		_, climbs := reminders.Next(reminders.Climb(a.Shop, m.Began, m.Task), now)
		if !there && climbs {
			return false
		}
	}
	return true
}
