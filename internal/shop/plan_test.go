package shop_test

import (
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/shop"
)

func minute(m int) *int { return &m }

// A ladder leads upwards in time to known groups, within a day and by at most twelve
// rungs; each task's own is looked at.
func TestLadderBounds(t *testing.T) {
	rungs := func(after ...int) []shop.Rung {
		var list []shop.Rung
		for _, a := range after {
			list = append(list, shop.Rung{After: a, To: shop.List})
		}
		return list
	}
	many := func(n int) []shop.Rung {
		list := rungs()
		for i := range n {
			list = append(list, shop.Rung{After: i, To: shop.Owners})
		}
		return list
	}
	ladder := func(l []shop.Rung) func(*shop.Settings) {
		return func(s *shop.Settings) { s.Plan.Ladders.Opening = l }
	}
	list := bounds{
		{"twelve rungs", ladder(many(12)), ""},
		{"thirteen rungs", ladder(many(13)), "12 rungs"},
		{"a day before and after", ladder(rungs(-1440, 0, 1440)), ""},
		{"more than a day before", ladder(rungs(-1441)), "not in order"},
		{"more than a day after", ladder(rungs(1441)), "not in order"},
		{"twice the same time", ladder(rungs(5, 5)), "not in order"},
		{"back in time", ladder(rungs(5, 9, 8)), "not in order"},
		{"to managers", ladder([]shop.Rung{{After: 1, To: shop.Managers}}), ""},
		{"to owners", ladder([]shop.Rung{{After: 1, To: shop.Owners}}), ""},
		{"to nobody known", ladder([]shop.Rung{{After: 1, To: "police"}}), "police"},
		{"to nobody", ladder([]shop.Rung{{After: 1}}), "leads to"},
	}
	for _, task := range tasks {
		list = append(list, bounds{{"the ladder of " + task, func(s *shop.Settings) {
			*s.Plan.Ladders.Of(task) = rungs(5, 5)
		}, "not in order"}}...)
	}
	list.check(t)
}

// tasks are those whose ladder is the shop's to lay down.
var tasks = []string{"opening", "closing", "unclosed", "ticks", "fault"}

// Each task has a ladder of its own; what is laid down for another thing goes nowhere.
func TestLadderOf(t *testing.T) {
	var l shop.Ladders
	for i, task := range tasks {
		*l.Of(task) = []shop.Rung{{After: i}}
	}
	*l.Of("summary") = []shop.Rung{{After: 99}}
	var got []int
	for _, ladder := range [][]shop.Rung{l.Opening, l.Closing, l.Unclosed, l.Ticks, l.Fault, *l.Of("summary")} {
		if len(ladder) == 1 {
			got = append(got, ladder[0].After)
		}
	}
	if !slices.Equal(got, []int{0, 1, 2, 3, 4}) {
		t.Errorf("ladders begin %v minutes after, want 0 to 4", got)
	}
}

func TestChangeBounds(t *testing.T) {
	change := func(c shop.Change) func(*shop.Settings) {
		return func(s *shop.Settings) { s.Plan.Changes = []shop.Change{{From: "2026-11-25", To: "2026-11-25"}, c} }
	}
	on := func(open, end *int) func(*shop.Settings) {
		return change(shop.Change{From: "2026-11-25", To: "2026-11-26", Open: open, Close: end})
	}
	many := func(n int) func(*shop.Settings) {
		return func(s *shop.Settings) {
			s.Plan.Changes = slices.Repeat([]shop.Change{{From: "2026-11-25", To: "2026-11-25"}}, n)
		}
	}
	why := func(n int) func(*shop.Settings) {
		return func(s *shop.Settings) { s.Plan.Hold = &shop.Hold{Why: strings.Repeat("x", n)} }
	}
	bounds{
		{"one day", change(shop.Change{From: "2026-11-25", To: "2026-11-25"}), ""},
		{"over the year's end", change(shop.Change{From: "2026-12-31", To: "2027-01-01"}), ""},
		{"backwards", change(shop.Change{From: "2026-11-26", To: "2026-11-25"}), "not days in order"},
		{"from no day", change(shop.Change{From: "", To: "2026-11-25"}), "not days in order"},
		{"to no day", change(shop.Change{From: "2026-11-25", To: "2026-11-31"}), "not days in order"},
		{"from midnight to midnight", on(minute(0), minute(1440)), ""},
		{"opens before the day", on(minute(-1), nil), "outside the day"},
		{"closes before the day", on(nil, minute(-1)), "outside the day"},
		{"opens after the day", on(minute(1441), nil), "outside the day"},
		{"closes after the day", on(nil, minute(1441)), "outside the day"},
		{"200 changes", many(200), ""},
		{"201 changes", many(201), "200 changes"},
		{"200 bytes of reason", why(200), ""},
		{"201 bytes of reason", why(201), "200 bytes"},
		{"no reason", why(0), ""},
	}.check(t)
}

// Of what was told about a person and a day the last word counts; being back as usual
// takes back everybody's absence of those days.
func TestAbsent(t *testing.T) {
	day := shop.Date("2026-11-25")
	p := shop.Plan{Changes: []shop.Change{
		{From: day, To: day.Add(2), Absent: 2},
		{From: day, To: day, Absent: 3},
		{From: day.Add(1), To: day.Add(1), Usual: true},
		{From: day.Add(1), To: day.Add(1), Absent: 3},
		{From: day.Add(2), To: day.Add(2), Closed: true}, // says nothing about people
	}}
	for _, c := range []struct {
		who  shop.PersonID
		date shop.Date
		want bool
	}{
		{2, day.Add(-1), false}, {2, day, true}, {2, day.Add(1), false},
		{2, day.Add(2), true}, {2, day.Add(3), false},
		{3, day, true}, {3, day.Add(1), true}, {3, day.Add(2), false}, {4, day, false},
	} {
		if got := p.Absent(c.who, c.date); got != c.want {
			t.Errorf("person %d is absent on %s: %t, want %t", c.who, c.date, got, c.want)
		}
	}
}

// Who is off on a day of every week is so until they come again on it; said twice it is kept once. It is no
// end of what is closed for good, and coming back from something else leaves it.
func TestOffEachWeek(t *testing.T) {
	wednesday := shop.Date("2026-11-25")
	off := shop.Change{From: wednesday.Add(-1), To: shop.ForGood, Absent: 2, Each: "wed"}
	p := shop.Plan{}.With(off, wednesday).With(off, wednesday)
	p = p.With(shop.Change{From: wednesday, To: wednesday, Usual: true}, wednesday)
	for date, want := range map[shop.Date]bool{wednesday: false, wednesday.Add(1): false, wednesday.Add(7): true,
		wednesday.Add(700): true, wednesday.Add(-7): false} {
		if p.Absent(2, date) != want || p.Absent(3, date) {
			t.Errorf("off on %s: %t", date, !want)
		}
	}
	if len(p.Changes) != 2 {
		t.Errorf("%d changes are kept", len(p.Changes))
	}
	back := shop.Change{From: wednesday.Add(1), To: shop.ForGood, Back: 2, Each: "wed"}
	if p = p.With(back, wednesday); p.Absent(2, wednesday.Add(7)) {
		t.Error("still off")
	}
	for each, list := range map[string]bool{"wed": true, "wednesday": false} {
		s := shop.Example()
		s.Plan.Changes = []shop.Change{{From: wednesday, To: wednesday, Absent: 2, Each: each}}
		if _, err := shop.New(1, 1, s); (err == nil) != list {
			t.Errorf("each %q: %v", each, err)
		}
	}
}

// A change more leaves out those that ended more than ten days ago, and of too many the
// oldest; the plan before it stays as it was.
func TestPlanWith(t *testing.T) {
	today := shop.Date("2026-11-25")
	old := shop.Plan{Summary: "fri", Changes: []shop.Change{
		{From: "2026-11-01", To: "2026-11-14", By: 1}, // eleven days
		{From: "2026-11-01", To: "2026-11-15", By: 2}, // ten
		{From: "2026-12-24", To: "2026-12-27", By: 3},
	}}
	before := slices.Clone(old.Changes)
	by := func(p shop.Plan) (list []shop.PersonID) {
		for _, c := range p.Changes {
			list = append(list, c.By)
		}
		return list
	}
	p := old.With(shop.Change{From: today, To: today, By: 4}, today)
	if got := by(p); !slices.Equal(got, []shop.PersonID{2, 3, 4}) || p.Summary != "fri" {
		t.Errorf("changes by %v, want those of 2, 3 and 4", got)
	}
	if !slices.Equal(old.Changes, before) {
		t.Errorf("the plan before it has become %+v", old.Changes)
	}
	for i := range 300 {
		p = p.With(shop.Change{From: today, To: today, By: shop.PersonID(100 + i)}, today)
		settings := shop.Example()
		settings.Plan = p
		if _, err := shop.New(1, 1, settings); err != nil {
			t.Fatalf("after %d changes: %v", i+1, err)
		}
	}
	if got := by(p); len(got) != 200 || got[0] != 200 || got[199] != 399 {
		t.Errorf("%d changes are kept, by %d to %d; want the 200 newest", len(got), got[0], got[len(got)-1])
	}
}

func TestSilences(t *testing.T) {
	for want, list := range map[bool][]shop.Change{
		true:  {{Closed: true}, {Off: true}, {Closed: true, Absent: 2}},
		false: {{}, {Usual: true}, {Open: minute(600)}, {Absent: 2}, {Duty: shop.Duty{Opens: 2}}},
	} {
		for _, c := range list {
			if c.Silences() != want {
				t.Errorf("%+v leaves nothing to do: %t, want %t", c, !want, want)
			}
		}
	}
}
