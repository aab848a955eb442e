package books_test

import (
	"encoding/json"
	"testing"
	"time"

	"pgregory.net/rapid"

	"shopfloat/internal/books"
	"shopfloat/internal/checks"
	"shopfloat/internal/incidents"
)

var tenOClock = time.Date(2026, 11, 25, 10, 0, 0, 0, time.UTC)

// minutely makes entries from records, one a minute.
func minutely(records ...books.Record) []books.Entry {
	var list []books.Entry
	for i, r := range records {
		r.Happened = tenOClock.Add(time.Duration(i) * time.Minute)
		list = append(list, books.Entry{Record: r, Machine: 1, Seq: int64(i + 1), By: 2, Recorded: r.Happened})
	}
	return list
}

func begun(topic string) books.Record {
	return books.Record{Kind: books.Incident, Trouble: &books.Trouble{Topic: topic}}
}

func news(of int64, t books.Trouble) books.Record {
	return books.Record{Kind: books.News, Target: of, Trouble: &t}
}

func TestIncidentFromBeginToEnd(t *testing.T) {
	at := func(minute int) time.Time { return tenOClock.Add(time.Duration(minute) * time.Minute) }
	m, err := books.Fold(1, minutely(
		begun("offline"),
		news(1, books.Trouble{Ending: books.OutOfService, Out: at(0), Steps: []string{"No lights"}}),
		news(1, books.Trouble{Reference: "A-1"}),
		news(1, books.Trouble{Ending: books.Solved}),
	))
	if err != nil {
		t.Fatal(err)
	}
	f := m.Fault(1)
	if f == nil || f.Unsolved() || f.Reference != "A-1" || !f.Back.Equal(at(3)) || len(f.Steps) != 1 {
		t.Fatalf("got %+v", f)
	}
	if d := f.Down(at(-60), at(60), at(90)); d != 3*time.Minute {
		t.Errorf("down %v, want 3 minutes", d)
	}
	if d := f.Down(at(1), at(2), at(90)); d != time.Minute {
		t.Errorf("down %v within one minute", d)
	}
}

// What leaves something to be done: a fault until it is solved, a question only
// when the machine is out of service.
func TestUnsolved(t *testing.T) {
	for _, c := range []struct {
		light  bool
		ending books.Ending
		want   bool
	}{
		{false, "", true}, {false, books.Stopped, true}, {false, books.CalledHelp, true}, {false,
			books.OutOfService, true},
		{false, books.Solved, false}, {false, books.Elsewhere, false},
		{true, "", false}, {true, books.Stopped, false}, {true, books.CalledHelp, false}, {true,
			books.OutOfService, true},
		{true, books.Solved, false},
	} {
		f := books.Fault{Light: c.light, Ending: c.ending}
		if f.Unsolved() != c.want {
			t.Errorf("light %t, ending %q: unsolved %t", c.light, c.ending, f.Unsolved())
		}
	}
}

func TestNewsNeedsItsIncident(t *testing.T) {
	for name, r := range map[string]books.Record{
		"unknown":       news(7, books.Trouble{Ending: books.Solved}),
		"tells nothing": {Kind: books.News, Target: 1},
		"no topic":      {Kind: books.Incident, Trouble: &books.Trouble{}},
	} {
		if _, err := books.Fold(1, minutely(begun("offline"), r)); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
}

// Time that two faults share counts once, and months add up to the whole.
func TestDowntime(t *testing.T) {
	checks.Rapid(t, 1000, 20_000, 2_000_000, func(t *rapid.T) {
		at := func(m int) time.Time { return tenOClock.Add(time.Duration(m) * time.Minute) }
		var list []books.Fault
		out := map[int]bool{}
		for range rapid.IntRange(0, 6).Draw(t, "faults") {
			from := rapid.IntRange(0, 100).Draw(t, "from")
			until := from + rapid.IntRange(0, 50).Draw(t, "long")
			list = append(list, books.Fault{Out: at(from), Back: at(until)})
			for m := from; m < until; m++ {
				out[m] = true
			}
		}
		whole := incidents.Downtime(list, at(0), at(200), at(300))
		if want := time.Duration(len(out)) * time.Minute; whole != want {
			t.Fatalf("out for %v, want %v: %+v", whole, want, list)
		}
		cut := rapid.IntRange(0, 200).Draw(t, "cut")
		parts := incidents.Downtime(list, at(0), at(cut), at(300)) +
			incidents.Downtime(list, at(cut), at(200), at(300))
		if parts != whole {
			t.Fatalf("parts %v, whole %v", parts, whole)
		}
	})
}

// The incidents read from entries are those that the fold has at hand.
func TestFaultsOfEntries(t *testing.T) {
	entries := minutely(begun("offline"), begun("note-jam"), news(2, books.Trouble{Ending: books.Solved}),
		begun("power"))
	m, err := books.Fold(1, entries)
	if err != nil {
		t.Fatal(err)
	}
	got, _ := json.Marshal(books.Faults(entries))
	want, _ := json.Marshal(m.Faults)
	if string(got) != string(want) {
		t.Errorf("got %s, want %s", got, want)
	}
	if n := len(books.Faults(entries[2:])); n != 1 {
		t.Errorf("%d incidents after the first two entries, want the last one only", n)
	}
}

// However many there are, only so many stay at hand, and the unsolved ones first.
func TestFaultsAtHandAreBounded(t *testing.T) {
	records := []books.Record{begun("offline")}
	for i := range 40 {
		records = append(records, begun("note-jam"), news(int64(2*i+2), books.Trouble{Ending: books.Solved}))
	}
	m, err := books.Fold(1, minutely(records...))
	if err != nil {
		t.Fatal(err)
	}
	if m.Fault(1) == nil || len(m.Faults) != 11 {
		t.Errorf("%d at hand, the unsolved one among them: %t", len(m.Faults), m.Fault(1) != nil)
	}
}

// A machine that is told to be out of service after its fault was solved was
// out until then; one that was in service all the time after all was never out.
func TestOutOfServiceToldLate(t *testing.T) {
	at := func(minute int) time.Time { return tenOClock.Add(time.Duration(minute) * time.Minute) }
	fault := func(records ...books.Record) *books.Fault {
		m, err := books.Fold(1, minutely(append([]books.Record{begun("offline")}, records...)...))
		if err != nil {
			t.Fatal(err)
		}
		return m.Fault(1)
	}
	f := fault(news(1, books.Trouble{Ending: books.Solved}), news(1, books.Trouble{Out: at(-30)}))
	if !f.Out.Equal(at(-30)) || !f.Back.Equal(at(1)) || f.Ending != books.Solved {
		t.Errorf("told late: %+v", f)
	}
	f = fault(news(1, books.Trouble{Ending: books.CalledHelp}), news(1, books.Trouble{Out: at(-30)}))
	if !f.Out.Equal(at(-30)) || !f.Back.IsZero() || f.EndedBy != 2 || !f.Ended.Equal(at(1)) {
		t.Errorf("not solved: %+v", f)
	}
	f = fault(news(1, books.Trouble{Out: at(-30)}), news(1, books.Trouble{Ending: books.Solved}),
		news(1, books.Trouble{Ending: books.Solved}))
	if !f.Back.Equal(at(2)) {
		t.Errorf("solved twice: back at %v, want the first time", f.Back)
	}
	f = fault(news(1, books.Trouble{Out: at(-30), Ending: books.OutOfService}),
		news(1, books.Trouble{Served: true, Ending: books.Solved}))
	if !f.Out.IsZero() || !f.Back.IsZero() || f.Down(at(-60), at(60), at(60)) != 0 {
		t.Errorf("served after all: %+v", f)
	}
	f = fault(news(1, books.Trouble{Out: at(-30)}), news(1, books.Trouble{Out: at(-20)}),
		news(1, books.Trouble{Steps: []string{"a", "b"}}), news(1, books.Trouble{Steps: nil, Reference: "R"}))
	if !f.Out.Equal(at(-20)) || len(f.Steps) != 2 || f.Reference != "R" {
		t.Errorf("news leave empty what they do not change: %+v", f)
	}
}

// How long a machine was down within a span, to the minute at each end.
func TestDown(t *testing.T) {
	at := func(m int) time.Time { return tenOClock.Add(time.Duration(m) * time.Minute) }
	for _, c := range []struct {
		out, back, from, until, now, want int
	}{
		{10, 30, 0, 60, 60, 20}, {10, 30, 15, 60, 60, 15}, {10, 30, 0, 20, 60, 10}, {10, 30, 12, 14, 60, 2},
		{10, 30, 30, 60, 60, 0}, {10, 30, 40, 60, 60, 0}, {10, 30, 0, 10, 60, 0}, {10, 30, 0, 5, 60, 0},
		{10, 0, 0, 60, 45, 35}, {10, 0, 0, 40, 45, 30}, // 0: it is still out
	} {
		f := books.Fault{Out: at(c.out)}
		if c.back != 0 {
			f.Back = at(c.back)
		}
		want := time.Duration(c.want) * time.Minute
		if got := f.Down(at(c.from), at(c.until), at(c.now)); got != want {
			t.Errorf("%+v: down %v", c, got)
		}
		if got := incidents.Downtime([]books.Fault{f, {}, f}, at(c.from), at(c.until), at(c.now)); got != want {
			t.Errorf("%+v: down %v with the same again and one that was not", c, got)
		}
	}
	if incidents.Downtime(nil, at(0), at(1), at(1)) != 0 {
		t.Error("down without a fault")
	}
}

// The newest 50 unsolved incidents and the newest 10 solved ones are at hand,
// each kind by itself.
func TestUnsolvedAreBoundedToo(t *testing.T) {
	var records []books.Record
	for range 60 {
		records = append(records, begun("offline"))
	}
	for of := range 5 {
		records = append(records, news(int64(60-of), books.Trouble{Ending: books.Solved}))
	}
	entries := minutely(records...)
	m, err := books.Fold(1, entries)
	if err != nil {
		t.Fatal(err)
	}
	// 60 began, the first 10 were dropped; five of the last were solved then.
	if len(m.Faults) != 50 || m.Fault(10) != nil || m.Fault(11) == nil || m.Fault(60).Unsolved() {
		t.Errorf("%d at hand, from %d on", len(m.Faults), m.Faults[0].Seq)
	}
	for range 20 {
		records = append(records, begun("power"))
	}
	if m, err = books.Fold(1, minutely(records...)); err != nil || len(m.Faults) != 50+5 {
		t.Errorf("%v: %d at hand, want 50 unsolved and 5 solved", err, len(m.Faults))
	}
	if n := len(books.Faults(entries)); n != 60 {
		t.Errorf("looking back: %d, want all 60", n)
	}
}
