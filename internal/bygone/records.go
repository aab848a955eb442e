package bygone

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// How many records history shows: the last ones, and the last of a day.
const (
	lastRecords = 10
	dayRecords  = 30
)

// History shows the last records, newest last.
func History(t *telling.Teller) string {
	recent := t.M.Recent
	if len(recent) == 0 {
		return t.V.Say("history.none")
	}
	var lines []string
	for _, b := range recent[max(len(recent)-lastRecords, 0):] {
		lines = append(lines, telling.HistoryLine(t, b))
	}
	return records(t, t.V.Say("history.head"), lines)
}

// records shows records below a head, and that figures are hidden where they are.
func records(t *telling.Teller, head string, lines []string) string {
	lines = append([]string{head}, lines...)
	if t.Hidden() {
		lines = append(lines, telling.Counted(t))
	}
	return chat.Lines(lines...).Text
}

// HistoryOf shows every record that is for a past day, as it was written and as it was
// corrected, whenever that was: 24 november.
func HistoryOf(t *telling.Teller, s string) string {
	day, to, rest := telling.PastDays(t, strings.ToLower(s))
	if rest != "" || day != to {
		return telling.NoDay(t, s, "past.no-day")
	}
	m := t.Look(day)
	days := map[int64]shop.Date{}
	for _, p := range m.Periods {
		days[p.No] = t.DayOf(p)
	}
	on := map[int64]bool{}
	var lines []string
	for _, b := range m.Recent {
		of, known := days[b.Period]
		if !known {
			of = cmp.Or(b.Day, reminders.Today(t.F.Shop, b.Happened))
		}
		if on[b.Seq] = of == day || on[b.Target]; on[b.Seq] {
			lines = append(lines, telling.HistoryLine(t, b))
		}
	}
	if len(lines) == 0 {
		return t.V.Say("no-such-day", "day", t.DayYear(day))
	}
	return records(t, t.V.Say("past.day", "day", t.DayYear(day)), lines[max(len(lines)-dayRecords, 0):])
}

// Correctable lists, of entries, those in force that can be corrected, of a day or of any.
func Correctable(t *telling.Teller, all []books.Entry, day shop.Date) (list []books.Entry) {
	opened := map[int64]shop.Date{}
	for _, e := range books.InForce(all) {
		date := DayOf(t, e)
		if e.Kind == books.Opening {
			opened[e.Seq] = cmp.Or(e.Day, reminders.DayOf(t.F.Shop, e.Happened))
			date = opened[e.Seq]
		} else if d, ok := opened[e.Period]; ok {
			date = d
		}
		if books.Correctable(e.Kind) && (day == "" || date == day) {
			list = append(list, e)
		}
	}
	return list
}

// undoTime is how long after recording a person may undo.
const undoTime = 15 * time.Minute

// lightKinds move no notes; undo looks past them.
var lightKinds = []books.Kind{
	books.Undo, books.Checks, books.Attachment, books.Level, books.Printed, books.Incident, books.News,
}

// Undoable finds the last record, if the speaker made it and made it lately; else says why
// not. On a shared phone who it is, is asked last.
func Undoable(t *telling.Teller) (*books.Brief, string) {
	for i := range slices.Backward(t.M.Recent) {
		b := &t.M.Recent[i]
		if b.Void || slices.Contains(lightKinds, b.Kind) {
			continue
		}
		if b.By != t.F.Person.ID && t.F.Person.ID != 0 {
			return nil, t.V.Say("undo.other", "who", t.Name(b.By))
		}
		if t.Now.Sub(b.Recorded) > undoTime {
			return nil, t.V.Say("undo.late", "when", t.Clock(b.Recorded))
		}
		return b, ""
	}
	return nil, t.V.Say("undo.nothing")
}
