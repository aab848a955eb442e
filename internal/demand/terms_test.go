package demand_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"shopfloat/internal/demand"
)

func termOf(f demand.Forecast, kind demand.Kind) (demand.Term, bool) {
	for _, term := range f.Terms {
		if term.Kind == kind {
			return term, true
		}
	}
	return demand.Term{}, false
}

// The calendar gives every special day its reason. Dates by the UK government's list.
func TestCalendarTerms(t *testing.T) {
	calendar := england(t, demand.DayOf(2025, 1, 1), demand.DayOf(2027, 12, 31))
	h := demand.History{First: demand.DayOf(2025, time.June, 2), Days: make([]demand.Observed, 900)}
	for i := range h.Days {
		h.Days[i] = demand.Observed{Notes: 100, Known: demand.Full}
	}
	type want struct {
		kind   demand.Kind
		offset int
		name   string
	}
	for date, wants := range map[string][]want{
		"2026-04-02": {{demand.Easter, -3, ""}, {demand.MonthEdge, 2, ""}},
		"2026-04-03": {{demand.Easter, -2, "Good Friday"}, {demand.MonthEdge, 3, ""}},
		"2026-05-03": {{demand.Public, -1, "Early May bank holiday"}, {demand.MonthEdge, 3, ""}},
		"2026-05-04": {{demand.Public, 0, "Early May bank holiday"}, {demand.MonthEdge, 4, ""}},
		"2026-05-05": {{demand.Public, 1, "Early May bank holiday"}},
		"2026-05-29": {{demand.MonthEdge, -3, ""}, {demand.Payday, 0, ""}}, // a Friday, the 31st is a Sunday
		"2026-05-30": {{demand.MonthEdge, -2, ""}, {demand.Payday, 1, ""}},
		"2026-06-17": nil,
		"2026-06-30": {{demand.MonthEdge, -1, ""}, {demand.Payday, 0, ""}},
		"2026-12-24": {{demand.Christmas, -1, ""}},
		"2026-12-25": {{demand.Christmas, 0, "Christmas Day"}},
		"2027-01-01": {{demand.Christmas, 7, "New Year's Day"}},
		"2027-01-06": {{demand.Christmas, 12, ""}},
	} {
		day, err := demand.ParseDay(date)
		if err != nil {
			t.Fatal(err)
		}
		f, err := demand.Advise(h, day, demand.Options{Calendar: calendar, Priors: demand.Shipped()})
		if err != nil {
			t.Fatal(err)
		}
		got := f.Terms[1 : len(f.Terms)-3] // between the usual level and the three that are always there
		if len(got) != len(wants) {
			t.Errorf("%s: terms %+v, want %+v", date, got, wants)
			continue
		}
		for i, w := range wants {
			if got[i].Kind != w.kind || got[i].Offset != w.offset || got[i].Name != w.name {
				t.Errorf("%s: term %+v, want %+v", date, got[i], w)
			}
		}
	}
}

// Where a country keeps neither Christmas nor Easter those days are ordinary.
func TestNoChristmasWithoutItsHoliday(t *testing.T) {
	first := demand.DayOf(2025, time.January, 1)
	calendar := demand.NewCalendar(first, first+800, nil)
	h := cornerShop(400).history()
	h.First = first
	m := mustFit(t, h, demand.Options{Calendar: calendar, Priors: demand.Shipped()})
	for ahead := 1; ahead <= demand.AheadMax; ahead++ {
		f := mustAhead(t, m, ahead)
		for _, kind := range []demand.Kind{demand.Easter, demand.Christmas, demand.Public} {
			if term, found := termOf(f, kind); found {
				t.Errorf("%s: unexpected %+v", f.Day, term)
			}
		}
	}
}

// A shop learns its own month's end and its own holidays from what happened there.
func TestLearnsOwnCalendar(t *testing.T) {
	s := cornerShop(800)
	calendar := england(t, s.first, s.first+900)
	goodFriday := demand.DayOf(2026, time.April, 3)
	s.factor = func(day demand.Day) float64 {
		_, _, dayOfMonth := day.Date()
		_, _, tomorrow := (day + 1).Date()
		switch {
		case day == demand.DayOf(2024, time.March, 29) || day == demand.DayOf(2025, time.April, 18):
			return 0.5 // Good Friday
		case tomorrow == 1:
			return 1.5
		case dayOfMonth == 1:
			return 0.7
		}
		return 1
	}
	m := mustFit(t, s.history(), demand.Options{Calendar: calendar})
	for ahead := 1; ahead <= demand.AheadMax; ahead++ {
		f := mustAhead(t, m, ahead)
		_, _, dayOfMonth := f.Day.Date()
		_, _, tomorrow := (f.Day + 1).Date()
		edge, _ := termOf(f, demand.MonthEdge)
		payday, _ := termOf(f, demand.Payday)
		switch {
		case f.Day == goodFriday:
			easter, _ := termOf(f, demand.Easter)
			near(t, "Good Friday", easter.Factor, 0.5, 0.12)
		case tomorrow == 1 && payday.Factor > 0:
			near(t, "last day of the month and payday", edge.Factor*payday.Factor, 1.5, 0.25)
		case dayOfMonth == 1 && payday.Factor > 0:
			near(t, "first of the month", edge.Factor*payday.Factor, 0.7, 0.15)
		}
	}
}

// Demand that has been low since a Tuesday is told so, and fades.
func TestRecentTermSinceWhen(t *testing.T) {
	s := cornerShop(305)
	quietFrom := s.first + 302 // 5 November 2024, a Tuesday
	s.noise = 0.05
	s.factor = func(day demand.Day) float64 {
		if day >= quietFrom {
			return 0.7
		}
		return 1
	}
	m := mustFit(t, s.history(), demand.Options{})
	tomorrow, _ := termOf(mustAhead(t, m, 1), demand.Recent)
	later, _ := termOf(mustAhead(t, m, 14), demand.Recent)
	if tomorrow.Factor > 0.99 || tomorrow.Since != quietFrom {
		t.Errorf("recent term %+v, want below 1 since %s", tomorrow, quietFrom)
	}
	if !(later.Factor > tomorrow.Factor && later.Factor < 1) {
		t.Errorf("two weeks on the term is %v, want it faded from %v", later.Factor, tomorrow.Factor)
	}
}

// Last year's summer comes again in part.
func TestLastYearTerm(t *testing.T) {
	s := cornerShop(500) // to 21 May 2025
	s.factor = func(day demand.Day) float64 {
		year, month, _ := day.Date()
		if year == 2024 && month >= time.June && month <= time.August {
			return 1.4
		}
		return 1
	}
	m := mustFit(t, s.history(), demand.Options{})
	soon, _ := termOf(mustAhead(t, m, 1), demand.LastYear)
	summer, _ := termOf(mustAhead(t, m, 50), demand.LastYear)
	near(t, "tomorrow, still May", soon.Factor, 1, 0.03)
	if summer.Factor < 1.15 || summer.Factor > 1.4 {
		t.Errorf("July from last year = %v, want a good part of 1.4", summer.Factor)
	}
}

// The words a chat can make of a forecast.
func ExampleAdvise() {
	s := cornerShop(305)
	s.noise = 0.2
	calendar := demand.NewCalendar(s.first, s.first+400, nil)
	day := demand.DayOf(2024, time.November, 29)
	f, err := demand.Advise(s.history(), day, demand.Options{Calendar: calendar, Priors: demand.Shipped()})
	if err != nil {
		fmt.Println(err)
		return
	}
	percent := func(factor float64) float64 { return 100 * (factor - 1) }
	for _, term := range f.Terms {
		switch term.Kind {
		case demand.Usual:
			fmt.Printf("a usual %s %.0f", day.Weekday(), term.Notes)
		case demand.MonthEdge:
			fmt.Printf(", month's end %+.0f %%", percent(term.Factor))
		case demand.Payday:
			fmt.Printf(", payday %+.0f %%", percent(term.Factor))
		case demand.Recent:
			fmt.Printf(", since %s %+.0f %%", term.Since.Weekday(), percent(term.Factor))
		}
	}
	enough, err := f.Quantile(0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf(":\nexpect %.0f; %.0f is enough on 95 days in 100\n", f.Mean, math.Ceil(enough))
	// Output:
	// a usual Friday 157, month's end +2 %, payday +3 %, since Saturday +0 %:
	// expect 165; 207 is enough on 95 days in 100
}
