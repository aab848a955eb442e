package counsel_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"shopfloat/internal/advice"
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/counsel"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/lines"
	"shopfloat/internal/shop"
)

var kinds = lines.Kinds([]cashmath.Face{"50", "20", "10"})

// Days to load for, read on Wednesday 25 November 2026. Figures alone are notes to load
// with, unless they are a whole date; nobody loads for days that are over.
func TestLoadDays(t *testing.T) {
	tell := teller(t)
	for typed, want := range map[string]string{
		"10/5": "no", "20.10": "no", "10 5": "no", "some": "no", "40 days": "no", "0 days": "no", "x days": "no",
		"24 dec": "2026-12-24 2026-12-24", "2026-12-24": "2026-12-24 2026-12-24",
		"friday to sunday": "2026-11-27 2026-11-29", "3 days": "2026-11-25 2026-11-27",
		"1 day": "2026-11-25 2026-11-25", "30 days": "2026-11-25 2026-12-24", "31 days": "no",
		"yesterday": "2026-11-25 2026-11-25",
	} {
		got := "no"
		if from, to, ok := counsel.LoadDays(tell, typed); ok {
			got = string(from) + " " + string(to)
		}
		if got != want {
			t.Errorf("%q: %s, want %s", typed, got, want)
		}
	}
}

// The next load is for today until one for today is in; a day told from paper is none.
func TestLoadDate(t *testing.T) {
	f := floor.New(t, dialogs.New)
	if got := counsel.LoadDate(f.Talk("owner").Teller); got != "2026-11-25" {
		t.Errorf("before the opening: %s", got)
	}
	f.Play("staff1: open 40 150 200; [Confirm]")
	if got := counsel.LoadDate(f.Talk("owner").Teller); got != "2026-11-26" {
		t.Errorf("after it: %s", got)
	}
	paper := f.Talk("owner").Teller
	paper.M = f.Machine.Clone()
	paper.M.Periods[0].Paper = true
	if got := counsel.LoadDate(paper); got != "2026-11-25" {
		t.Errorf("one from paper: %s", got)
	}
}

// Figures that may have been meant as an opening, and words that were not.
func TestBareCounts(t *testing.T) {
	for typed, want := range map[string]bool{"40 150 200": true, "40x50, 10x20": true, "7/8+9": true,
		"until friday": false, "3 days": false, " , ": false, "": false} {
		if got := counsel.BareCounts(typed); got != want {
			t.Errorf("%q: %t", typed, got)
		}
	}
}

// Why there is no advice is said in everyday words.
func TestNoAdvice(t *testing.T) {
	tell := teller(t)
	for err, want := range map[error]string{
		fmt.Errorf("load: %w", advice.ErrDays): "No advice this time.\nI find no day to load for",
		errors.New("entry 3: period 9"):        "No advice this time.\nWhat is on record cannot be used",
	} {
		got := counsel.None(tell, err)[0].Text
		if !strings.HasPrefix(got, want) || strings.Contains(got, "period") {
			t.Errorf("%v: %q", err, got)
		}
	}
}

// traded is a shop on Wednesday 25 November 2026 with ten days that paid out ten
// fifties, fifty twenties and eighty tens each, and ran out of twenties on the last.
func traded(t *testing.T) *floor.Floor {
	t.Helper()
	f := floor.New(t, dialogs.New)
	f.Shop.Machines[0].TestDispense = false
	f.At("2026-11-15 06:00")
	for f.Now.Format("2006-01-02") < "2026-11-24" {
		f.Play(floor.Day(f.Now.Format("2006-01-02"), "30 100 120", "10 50 80", "none"))
		f.Now = f.Now.AddDate(0, 0, 1)
	}
	f.Play(floor.Day("2026-11-24", "30 0 120", "10 150 80", "none") + "@2026-11-25 06:00")
	return f
}

// What is learnt of a shop's days comes out in the advice, its card and its picture; a
// ledger that does not hold together gives none.
func TestOutlook(t *testing.T) {
	f := traded(t)
	tell := f.Talk("owner").Teller
	o, err := counsel.Outlook(tell, counsel.LoadDate(tell))
	if err != nil {
		t.Fatal(err)
	}
	a, err := o.For("2026-11-25", nil)
	if err != nil {
		t.Fatal(err)
	}
	card := floor.Said(counsel.Advised(tell, a, kinds, nil)...)
	floor.Expect(t, card, "Today|50s|20s|10s", "to load with")
	card = floor.Said(counsel.Advised(tell, a, kinds, books.Notes{"50": 7})...)
	floor.Expect(t, card, "7 x 50s", "")

	chart := counsel.DrawAdvice(tell.V, "Corner", o, a)
	if len(chart.Panels) != 3 || chart.Panels[0].Name != "50s" || !strings.Contains(chart.Title, "Corner") {
		t.Fatalf("%+v", chart)
	}
	past, paid := chart.Panels[1].Past, 0
	for _, day := range past {
		if day.Known {
			paid++
		}
	}
	if last := past[len(past)-1]; !last.Least || last.Paid != 150 || paid != 10 {
		t.Errorf("%d days known, the last one %+v", paid, last)
	}
	if chart.Names.Least == "" || chart.Panels[1].Ahead[0].Load != a.Lines[1].Notes {
		t.Errorf("%+v, ahead %+v", chart.Names, chart.Panels[1].Ahead[0])
	}
	// 35 days before 25 November 2026 is Wednesday 21 October: its first Monday is the 26th.
	if tick := chart.Ticks[0]; tick.Day != 5 || tick.Text != "26 Oct" || len(chart.Ticks) != 6 {
		t.Errorf("%+v", chart.Ticks)
	}
	before, ok := counsel.ForOpening(tell)
	if !ok || before.From != "2026-11-25" || before.KnownDays != 10 {
		t.Errorf("before an opening: %t, %+v", ok, before)
	}
	held := *f.Shop
	held.Plan.Hold = &shop.Hold{By: 1, Why: "police"}
	tell.F.Shop = &held
	if _, ok := counsel.ForOpening(tell); ok {
		t.Error("advice for a machine that is not to be loaded")
	}
	tell.F.Shop = f.Shop
	tell.F.Ask.Entries = func() []books.Entry { return f.Entries[1:] }
	if _, ok := counsel.ForOpening(tell); ok {
		t.Error("advice without the ledger's beginning")
	}
	if _, err := counsel.Outlook(tell, "2026-11-25"); err == nil {
		t.Error("a ledger without its beginning is learnt from")
	}
	if v, some := counsel.Takings(tell, kinds); len(v) != 3 || len(some) != 0 {
		t.Errorf("takings of it: %v, %v", v, some)
	}
}

// No kind ran out: the picture has no word for it.
func TestChartWithoutLack(t *testing.T) {
	f := floor.New(t, dialogs.New)
	tell := f.Talk("owner").Teller
	o, err := counsel.Outlook(tell, "2026-11-25")
	if err != nil {
		t.Fatal(err)
	}
	a, err := o.For("2026-11-25", nil)
	if err != nil {
		t.Fatal(err)
	}
	if chart := counsel.DrawAdvice(tell.V, "Corner", o, a); chart.Names.Least != "" || chart.Names.Paid == "" {
		t.Errorf("%+v", chart.Names)
	}
}
