package bygone_test

import (
	"strings"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/bygone"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
)

// The last ten records, newest last; those of a day with what was said of them later; words
// that are no day, and a day of which there is nothing, are said to be that.
func TestHistory(t *testing.T) {
	f := floor.New(t, dialogs.New)
	if got := bygone.History(f.Talk("owner").Teller); !strings.Contains(got, "Nothing is recorded") {
		t.Errorf("of nothing: %q", got)
	}
	for _, date := range []string{"2026-11-21", "2026-11-23", "2026-11-24"} {
		f.Play(floor.Day(date, "12 60 80", "28 90 120", "none"))
	}
	f.At("2026-11-25 09:00")
	tell := f.Talk("owner").Teller
	got := bygone.History(tell) // twelve records: four a day
	if strings.Count(got, "\n") != 10 || !strings.Contains(got, "\n3. Sat") || !strings.HasSuffix(got, "€0") {
		t.Errorf("of %d records:\n%s", len(f.Entries), got)
	}
	floor.Expect(t, bygone.HistoryOf(tell, "Monday"), "Mon 23 Nov|5. |06:40 opening", "Tue 24 Nov, 06:40")
	floor.Expect(t, bygone.HistoryOf(tell, "sunday"), "Sun 22 Nov", "1. ")
	floor.Expect(t, bygone.HistoryOf(tell, "monday to tuesday"), "do not know", "1. ")
	floor.Expect(t, bygone.HistoryOf(tell, "blue"), "do not know the day: blue", "1. ")
	tell.Hides = func() bool { return true }
	floor.Expect(t, bygone.History(tell), "Somebody is counting", "")
}

// The last record can be taken back by who made it, for a quarter of an hour; what is light
// is looked past. On the shared phone nobody speaks yet, so anybody's is shown.
func TestUndoable(t *testing.T) {
	for name, s := range map[string]struct {
		who   string
		after time.Duration
		then  books.Kind // recorded behind the opening, by Ben
		want  int64      // 0: none
		why   string
	}{
		"at once":        {"staff1", 0, "", 1, ""},
		"just in time":   {"staff1", 15 * time.Minute, "", 1, ""},
		"too late":       {"staff1", 15*time.Minute + time.Second, "", 0, "too long ago"},
		"another's":      {"staff2", 0, "", 0, "Ben"},
		"of nobody yet":  {"", 0, "", 1, ""},
		"a light record": {"staff1", 0, books.Incident, 1, ""},
		"taken back":     {"staff1", 0, books.Undo, 0, "nothing to take back"},
	} {
		f := floor.New(t, dialogs.New)
		f.Play("staff1: open 40 150 200; [Confirm]")
		tell := f.Talk("staff1").Teller
		tell.F.Person.ID = floor.People[s.who]
		tell.M = f.Machine.Clone()
		if s.then != "" {
			tell.M.Recent = append(tell.M.Recent, books.Brief{Seq: 2, Kind: s.then, By: 2, Recorded: f.Now})
			tell.M.Recent[0].Void = s.then == books.Undo
		}
		tell.Now = f.Now.Add(s.after)
		b, why := bygone.Undoable(tell)
		if (b != nil) != (s.want != 0) || b != nil && b.Seq != s.want || !strings.Contains(why, s.why) {
			t.Errorf("%s: %+v, %q", name, b, why)
		}
	}
}
