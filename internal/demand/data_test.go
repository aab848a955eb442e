package demand_test

import (
	"math"
	"os"
	"testing"

	"shopfloat/internal/demand"
	"shopfloat/internal/holidays"
	"shopfloat/internal/wide"
)

// dataVariable names the file of open data; VALIDATION.md says which. It is not part of
// the project: without it what needs it is skipped.
const dataVariable = "SHOPFLOAT_DEMAND_DATA"

// openData reads the open data on their true days: the labels are one day early.
func openData(t testing.TB) (wide.Table, *demand.Calendar) {
	t.Helper()
	name := os.Getenv(dataVariable)
	if name == "" {
		t.Skip("set " + dataVariable + " to the open data file to run this")
	}
	file, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = file.Close() }()
	table, err := wide.Read(file)
	if err != nil {
		t.Fatal(err)
	}
	table.First++
	return table, england(t, table.First, table.Last()+demand.AheadMax)
}

func england(t testing.TB, first, last demand.Day) *demand.Calendar {
	t.Helper()
	firstYear, _, _ := first.Date()
	lastYear, _, _ := last.Date()
	var days []demand.Holiday
	for _, h := range holidays.Years("GB", firstYear-1, lastYear+1) {
		days = append(days, demand.Holiday{Day: demand.DayOf(h.Date.Time().Date()), Name: h.Name})
	}
	return demand.NewCalendar(first, last, days)
}

// historyOf takes NaN as missing and everything else as full demand.
func historyOf(first demand.Day, values []float64) demand.History {
	h := demand.History{First: first, Days: make([]demand.Observed, len(values))}
	for i, v := range values {
		if !math.IsNaN(v) {
			h.Days[i] = demand.Observed{Notes: v, Known: demand.Full}
		}
	}
	return h
}
