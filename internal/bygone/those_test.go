package bygone_test

import (
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/bygone"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
	"shopfloat/internal/tally"
	"shopfloat/internal/telling"
)

// Days are told machine by machine; of one that is counted those before the count, with a word
// on it, and where nothing is left to tell, why.
func TestThose(t *testing.T) {
	f := month(t)
	tell := teller(f)
	list, said := bygone.Those([]*telling.Teller{tell, tell}, "2026-11-01", "2026-11-30", "none there")
	if len(list) != 2 || len(list[0].Days) != 3 || len(list[1].Days) != 3 || said != "" {
		t.Errorf("%d machines, %q", len(list), said)
	}
	list, said = bygone.Those([]*telling.Teller{tell}, "2026-05-01", "2026-05-31", "none there")
	if list != nil || said != "none there" {
		t.Errorf("of May: %d machines, %q", len(list), said)
	}
	hid := teller(f) // somebody counts the day that is open, the 25th
	hid.Hides = func() bool { return true }
	hid.F.Others = []chat.Activity{{Person: 2, Blind: true, Flow: "closing", Since: f.Now}}
	list, said = bygone.Those([]*telling.Teller{hid}, "2026-11-01", "2026-11-30", "none there")
	if len(list) != 1 || len(list[0].Days) != 2 {
		t.Errorf("%d machines, %+v", len(list), list)
	}
	floor.Expect(t, said, "Wed 25 Nov is being counted (Ben, since 06:00).", "none there")
	list, said = bygone.Those([]*telling.Teller{hid}, "2026-11-25", "2026-11-30", "none there")
	if list != nil {
		t.Errorf("the day that is counted is told: %+v", list)
	}
	floor.Expect(t, said, "Wed 25 Nov is being counted (Ben, since 06:00).", "none there")
	list, said = bygone.Those([]*telling.Teller{hid}, "2026-11-01", "2026-11-24", "none there")
	if len(list) != 1 || len(list[0].Days) != 2 || said != "" {
		t.Errorf("days before the count: %d machines, %q", len(list), said)
	}
}

// Under a file with fees in it stands that they are apart.
func TestFeesLine(t *testing.T) {
	tell := teller(month(t))
	fees := past(t, tell, "2026-11-24", "2026-11-24") // 20 of what came is fee income
	none := past(t, tell, "2026-11-23", "2026-11-23")
	for _, list := range [][]*tally.Machine{{fees}, {none, fees}} {
		if got := bygone.FeesLine(tell, list); got != tell.V.Say("export.no-advice") {
			t.Errorf("%q", got)
		}
	}
	for _, list := range [][]*tally.Machine{nil, {none}} {
		if got := bygone.FeesLine(tell, list); got != "" {
			t.Errorf("without fees: %q", got)
		}
	}
}

// A day was before the first record when it was over by then; the day of it is not.
func TestBefore(t *testing.T) {
	f := month(t) // the first record is of 23 November, 06:40
	for day, want := range map[shop.Date]bool{"": false, "2026-11-22": true, "2026-11-01": true,
		"2026-11-23": false, "2026-11-24": false} {
		first, before := bygone.Before(teller(f), day)
		if before != want || day != "" && first != "2026-11-23" {
			t.Errorf("%s: %t, the first is of %s", day, before, first)
		}
	}
	if _, before := bygone.Before(teller(floor.New(t, dialogs.New)), "2026-11-22"); before {
		t.Error("before the first record of none")
	}
}

// What can be corrected: of a day all that is of its period, whenever it was written; what was
// taken back and what is no figure is left out.
func TestCorrectable(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play("@2026-11-24 18:00\nstaff1: open 40 150 200; [Confirm]; top up 10x5; [Confirm]\n" +
		"@2026-11-25 00:10\nstaff1: top up 20x5; [Confirm]; undo; [Confirm]; borrow 2x20; [Confirm]")
	kinds := func(day shop.Date) (list []books.Kind) {
		for _, e := range bygone.Correctable(teller(f), f.Entries, day) {
			list = append(list, e.Kind)
		}
		return list
	}
	period := []books.Kind{books.Opening, books.TopUp, books.Moved}
	for day, want := range map[shop.Date][]books.Kind{"": period, "2026-11-24": period, "2026-11-25": nil,
		"2026-11-23": nil} {
		got := kinds(day)
		if len(got) != len(want) {
			t.Errorf("%q: %v, want %v", day, got, want)
			continue
		}
		for i := range want {
			if got[i] != want[i] {
				t.Errorf("%q: %v, want %v", day, got, want)
			}
		}
	}
}

// A day on which only slips were printed says from which day the machine is open still.
func TestStillOpen(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play("@2026-11-24 06:40\nstaff1: open 40 150 200; [Confirm]\n" +
		"@2026-11-25 15:00\nstaff1: settle 10 30 40; none; [Confirm]\n@2026-11-26 09:00")
	day := past(t, teller(f), "2026-11-25", "2026-11-25").Days
	if len(day) != 1 {
		t.Fatalf("%d days", len(day))
	}
	floor.Expect(t, said(bygone.DayBlocks(teller(f), day[0])), "Tue 24 Nov|1,500", "put in")
	floor.Expect(t, said(bygone.DayBlocks(teller(f), &tally.Day{Date: "2026-11-26"})), "", "Tue 24")
}

// When the bank paid and took what is for a day is told payment by payment, with its reference,
// the last ones of many as their number.
func TestPaymentsForADay(t *testing.T) {
	f := floor.Owed(t, dialogs.New)
	f.Play("owner: credit 300 for tuesday, ref AB12; [Tue 24 Nov, €200 still]\n" +
		"@2026-11-27 09:00\nowner: credit 190 for tuesday; [Tue 24 Nov, €10 are]\n" +
		"@2026-11-28 09:00\nowner: debit 50 for tuesday; [Confirm]")
	tell := func() string {
		return said(bygone.DayBlocks(teller(f), past(t, teller(f), "2026-11-24", "2026-11-24").Days[0]))
	}
	floor.Expect(t, tell(), "Thu 26 Nov: the bank paid €300 for it. The bank's reference: “AB12”|"+
		"Fri 27 Nov: the bank paid €200 for it.|Fri 27 Nov: €10 of charges were taken off.|"+
		"Sat 28 Nov: the bank took €50 of that back.", "€1,000|export has all")
	f.Play("owner: credit 20 for tuesday; [Tue 24 Nov, €30 still]; credit 11 for tuesday; " +
		"[Tue 24 Nov, €19 still]")
	floor.Expect(t, tell(), "took €50 of that back.|And 2 more: export has all.", "€20 for it|€11")
}
