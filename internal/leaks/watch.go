package leaks

import (
	"time"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
)

// Bounds of the watch; chosen here, by the simulation in the tests.
const (
	DaysMin   = 20 // closed days before anything is said
	PeopleMin = 3  // people who closed on a weekday before it is named

	dayPart   = 1 // half of a note every third day, in parts of a note
	weekPart  = 3 // half of a note every time
	limitMin  = 2 * part
	limitMost = 20 * part

	// False alarms of a whole machine: at most one in two years. Half of them are left
	// to the sums by day, half to those by weekday. The margin is for head starts and for
	// what is not known of a young shop, by simulation, on seeds from 50,000 on.
	alarmDays   = 730
	alarmMargin = 1.4
)

// Day is one closed day of a machine.
type Day struct {
	Date  shop.Date
	By    shop.PersonID // who counted; 0: not known
	Notes map[cashmath.Face]int64
}

// Leak is a kind of note of which some keep missing, or keep being too many.
type Leak struct {
	Face    cashmath.Face
	Over    bool         // they are too many; else they are missing
	Since   shop.Date    // about when it began
	Until   shop.Date    // the last day that showed it
	Ended   bool         // it has stopped since
	Days    int          // closed days in between, of its weekday where it is one
	Times   int          // on how many of them notes were missing, or too many
	Notes   int64        // how many, on these days together
	Weekly  bool         // it shows on one weekday
	Weekday time.Weekday // which, where Named
	Named   bool
}

// Kind is the watch over one kind of note.
type Kind struct {
	Face  cashmath.Face
	Days  int
	Limit float64   // in notes
	Sums  []float64 // by day: what keeps missing, negative, or is too many, in notes, against Limit
	Notes []int64   // by day
	Dates []shop.Date
	Leaks []Leak
}

// Enough reports whether something can be told.
func (k *Kind) Enough() bool { return k.Days >= DaysMin }

// Look goes through a machine's closed days, oldest first.
func Look(days []Day, faces []cashmath.Face) []Kind {
	var list []Kind
	for _, face := range faces {
		list = append(list, look(days, face, len(faces)))
	}
	return list
}

func look(days []Day, face cashmath.Face, kinds int) Kind {
	k := Kind{Face: face}
	var with []Day
	for _, d := range days {
		if n, known := d.Notes[face]; known {
			with, k.Notes, k.Dates = append(with, d), append(k.Notes, n), append(k.Dates, d.Date)
		}
	}
	if k.Days = len(with); k.Days == 0 {
		return k
	}
	o := ordinary(k.Notes)
	const sides, halves = 2, 2
	apart := alarmMargin * float64(alarmDays*sides*halves*kinds)
	w := watch{face: face, k: dayPart, h: limitFor(o, dayPart, limitMin, limitMost, apart)}
	w.run(with)
	k.Limit, k.Sums, k.Leaks = float64(w.h)/part, w.sums, w.leaks
	if !k.Enough() {
		k.Leaks = nil
		return k
	}
	h := limitFor(o, weekPart, limitMin, limitMost, apart) // seven of them, each a seventh as often
	for weekday := range time.Weekday(7) {
		k.Leaks = append(k.Leaks, onWeekday(with, face, weekday, h, k.Leaks)...)
	}
	return k
}

// onWeekday looks at one weekday alone. What the watch by day has told is not told again.
func onWeekday(days []Day, face cashmath.Face, weekday time.Weekday, h int, told []Leak) []Leak {
	var its []Day
	for _, d := range days {
		if d.Date.Weekday() == weekday {
			its = append(its, d)
		}
	}
	w := watch{face: face, k: weekPart, h: h}
	w.run(its)
	var list []Leak
	for _, l := range w.leaks {
		l.Weekly, l.Weekday, l.Named = true, weekday, people(its, l.Since, l.Until) >= PeopleMin
		if !covered(told, l) {
			list = append(list, l)
		}
	}
	return list
}

// covered reports whether a leak seen by day goes on at the same time the same way.
func covered(told []Leak, l Leak) bool {
	for _, t := range told {
		if !t.Weekly && t.Since <= l.Until && l.Since <= t.Until && t.Over == l.Over {
			return true
		}
	}
	return false
}

// people counts who closed in a span. Days that nobody is known for count for nobody.
func people(days []Day, from, to shop.Date) int {
	seen := map[shop.PersonID]bool{}
	for _, d := range days {
		if d.By != 0 && d.Date >= from && d.Date <= to {
			seen[d.By] = true
		}
	}
	return len(seen)
}
