package tasks_test

import (
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/reminders"
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
