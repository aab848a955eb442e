package tasks_test

import (
	"slices"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/reminders"
	"shopfloat/internal/tasks"
)

// What is missing among the deadlines of a machine that was opened on Wednesday morning, and what
// is not there with good reason.
func TestWhole(t *testing.T) {
	used := func(recorded time.Time, list ...*books.Period) func(string, map[string]time.Time, time.Time, bool) {
		a := at(t, true, list...)
		a.Machine.Recent = []books.Brief{{Recorded: recorded}}
		return func(what string, rows map[string]time.Time, now time.Time, want bool) {
			t.Helper()
			if a.Whole(rows, now) != want {
				t.Errorf("%s: whole %t", what, !want)
			}
		}
	}
	opened := used(clock(6, 40), period(1, wednesday, books.Open))
	without := func(now time.Time, names ...string) map[string]time.Time {
		rows := map[string]time.Time{chat.PlanGoOn: now.Add(reminders.Horizon - 24*time.Hour)}
		for _, d := range reminders.Plan(at(t, true).Shop, now) {
			if !d.At.IsZero() {
				rows[d.Name.String()] = d.At
			}
		}
		for _, n := range names {
			if _, there := rows[n]; !there {
				t.Fatalf("%s is not planned at %s", n, now)
			}
			delete(rows, n)
		}
		return rows
	}
	noon := clock(12, 0)
	opened("all of it", without(noon), noon, true)
	for _, name := range []string{"due:2026-11-25:closing", "due:2026-11-26:opening", "due:2026-11-30:summary",
		"due:2026-12-01:closing", chat.PlanGoOn} {
		opened("without "+name, without(noon, name), noon, false)
	}
	opened("planned in a moment", map[string]time.Time{chat.PlanAgain: noon}, noon, true)
	opened("to go on in a moment", map[string]time.Time{chat.PlanGoOn: noon}, noon, true)
	late := clock(21, 20) // the first rungs of the closing have come
	opened("the next rung is lost", without(late, "due:2026-11-25:closing"), late, false)
	rows := without(late, "due:2026-11-25:closing")
	rows["due:2026-11-25:closing:1:2"] = clock(21, 50)
	opened("put off", rows, late, true)
	used(clock(21, 18), period(1, wednesday, books.Closed))("done",
		without(late, "due:2026-11-25:closing"), late, true)
	rest := map[string]time.Time{chat.PlanGoOn: noon.Add(24 * time.Hour)}
	resting := used(noon.Add(-10 * 24 * time.Hour))
	resting("at rest", rest, noon, true)
	resting("at rest, and some of it left", without(noon, "due:2026-11-26:opening"), noon, false)
	opened("used, and at rest by its deadlines", rest, noon, false)
}

// What is open of a machine has a deadline as long as its ladder goes on: a list, a fault, a credit. One
// that waits for a night to end has its next rung beside that.
func TestWholeOfMatters(t *testing.T) {
	noon := clock(12, 0)
	p := period(1, wednesday, books.Open)
	p.Ticks, p.TicksAt = []string{"locked"}, noon
	a := at(t, true, p)
	a.Machine.Faults = []books.Fault{{Seq: 5, Topic: "jam", Began: noon},
		{Seq: 6, Topic: "jam", Began: noon, Ending: books.Solved}}
	fifty := decimal.NewFromInt(50)
	late := []books.Claim{{Seq: 3, On: wednesday, Value: fifty}, {Seq: 4, On: wednesday}, {Seq: 7}}
	rows := map[string]time.Time{"due:2026-11-25:closing": noon}
	soon := map[string]time.Time{chat.PlanAgain: noon}
	if a.Asked(rows, late, noon) || !a.Asked(nil, late, noon) || !a.Asked(soon, late, noon) {
		t.Error("nothing is missed where nothing is planned, or something that is planned in a moment")
	}
	names := []string{"ticks-1", "fault-5", "owed-3", "owedlong-3"}
	for _, n := range names {
		rows[n] = noon.Add(time.Hour)
	}
	if !a.Asked(rows, late, noon) {
		t.Error("something is missed of all of it")
	}
	var open []string
	for _, m := range a.Matters(late) {
		open = append(open, m.Name)
	}
	if !slices.Equal(open, names) {
		t.Errorf("open are %v, want %v", open, names)
	}
	for _, n := range names {
		delete(rows, n)
		if rows[n+":2"] = noon.Add(time.Hour); a.Asked(rows, late, noon) {
			t.Errorf("%s is not missed", n)
		}
		delete(rows, n+":2")
		rows[n] = noon
	}
	later := noon.Add(60 * 24 * time.Hour)
	for _, m := range a.Matters(late) {
		if _, climbs := reminders.Next(reminders.Climb(a.Shop, m.Began, m.Task), later); climbs {
			t.Errorf("the ladder of %s has no end", m.Name)
		}
	}
	old := books.Claim{On: "2026-09-01", Value: fifty}
	if w := tasks.Late(wednesday); !w.Has(&late[0]) || w.Has(&late[1]) || w.Has(&old) {
		t.Error("claims that are asked for")
	}
}
