package counsel_test

import (
	"testing"

	"shopfloat/internal/counsel"
	"shopfloat/internal/demand"
	"shopfloat/internal/dialogs/floor"
)

// What a forecast is made of is said in everyday words. Friday 4 December 2026
// is the day that is forecast.
func TestTerms(t *testing.T) {
	c := floor.Talk(t, "2026-11-26 09:00")
	friday := demand.DayOf(2026, 12, 4)
	for _, x := range []struct {
		term demand.Term
		want string
	}{
		{demand.Term{Kind: demand.MonthEdge, Offset: 1, Factor: 1.09}, "a usual Friday 150, month's start +9 %"},
		{demand.Term{Kind: demand.MonthEdge, Offset: -1, Factor: 0.9}, "a usual Friday 150, month's end −10 %"},
		{demand.Term{Kind: demand.Payday, Factor: 1.2}, "a usual Friday 150, payday +20 %"},
		{demand.Term{Kind: demand.Payday, Offset: 1, Factor: 1.2}, "a usual Friday 150, day after payday +20 %"},
		{demand.Term{Kind: demand.Easter, Factor: 1.2}, "a usual Friday 150, Easter time +20 %"},
		{demand.Term{Kind: demand.Easter, Name: "Good Friday", Factor: 0.5},
			"a usual Friday 150, Good Friday −50 %"},
		{demand.Term{Kind: demand.Christmas, Factor: 1.2}, "a usual Friday 150, Christmas time +20 %"},
		{demand.Term{Kind: demand.Public, Offset: -1, Name: "New Year", Factor: 1.1},
			"a usual Friday 150, day before New Year +10 %"},
		{demand.Term{Kind: demand.Public, Name: "New Year", Factor: 0.8}, "a usual Friday 150, New Year −20 %"},
		{demand.Term{Kind: demand.Public, Offset: 1, Name: "New Year", Factor: 0.8},
			"a usual Friday 150, day after New Year −20 %"},
		{demand.Term{Kind: demand.Recent, Since: friday - 6, Factor: 1.1},
			"a usual Friday 150, busy since Saturday +10 %"},
		{demand.Term{Kind: demand.Recent, Since: friday - 7, Factor: 0.9},
			"a usual Friday 150, quiet since Fri 27 Nov −10 %"},
		{demand.Term{Kind: demand.Growth, Factor: 1.1}, "a usual Friday 150, rising lately +10 %"},
		{demand.Term{Kind: demand.Growth, Factor: 0.9}, "a usual Friday 150, falling lately −10 %"},
		{demand.Term{Kind: demand.LastYear, Factor: 1.1}, "a usual Friday 150, as last year +10 %"},
		{demand.Term{Kind: demand.LastYear, Factor: 1.004}, "a usual Friday 150"}, // less than one in a hundred
	} {
		f := demand.Forecast{Day: friday, Terms: []demand.Term{{Notes: 150.4}, x.term}}
		if got := counsel.Terms(c.Teller, f); got != x.want {
			t.Errorf("%q, want %q", got, x.want)
		}
	}
}
