package bygone_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/bygone"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
	"shopfloat/internal/tally"
	"shopfloat/internal/telling"
)

// month is a shop on Thursday 26 November 2026. By hand, in euro:
//
//	23 November: 28x50 + 89x20 + 120x10 = 4,380 paid out, 2x20 of it cancelled; 63
//	  twenties should be inside, 61 are: 40 missing. Due 4,340.
//	24 November: 10x50 = 500 paid out. 520 came, 20 of it fee income; 12.50 charges.
//	25 November: open, ten twenties lent to the till.
func month(t *testing.T) *floor.Floor {
	t.Helper()
	f := floor.New(t, dialogs.New)
	f.Play(floor.Day("2026-11-23", "12 61 80", "28 89 120", "[Change]\nstaff1: [Cancelled, 20s: 0]\nstaff1: 2") +
		"staff1: [Skip]\n" + floor.Day("2026-11-24", "30 150 200", "10 0 0", "none") + `
		owner: credit 520 for tuesday; [€20 of it]
		owner: debit 12.50; [The bank's charges]; [Confirm]
		@2026-11-25 06:40
		staff1: open 40 150 200; [Confirm]
		staff1: borrow 10x20; [Confirm]
		@2026-11-26 06:00`)
	f.Out.Reset()
	return f
}

// teller is what the owner is told by.
func teller(f *floor.Floor) *telling.Teller { return f.Talk("owner").Teller }

func said(blocks []chat.Block) string { return floor.Said(blocks...) }

func past(t *testing.T, tell *telling.Teller, from, to shop.Date) *tally.Machine {
	t.Helper()
	m, err := bygone.Past(tell, from, to)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// A day is told by its money; what is not known yet is a question mark in a table and
// an empty cell in a file, never nothing.
func TestDaysOfAMonth(t *testing.T) {
	tell := teller(month(t))
	m := past(t, tell, "2026-11-01", "2026-11-30")
	if len(m.Days) != 3 {
		t.Fatalf("%d days", len(m.Days))
	}
	for i, s := range []struct{ want, not string }{
		{"closed 21:05 by Ben|paid out         €4,380|cancelled of it     €40|€40 is missing|" +
			"due from the bank  €4,340|still to come      €4,340", "fee income|charges"},
		{"It balances|due from the bank    €500|paid by the bank     €500|fee income            €20|" +
			"bank charges       €12.50", "still to come"},
		{"taken out    €200|Not closed yet|from the till  -€200", "paid out|due from"},
	} {
		floor.Expect(t, said(bygone.DayBlocks(tell, m.Days[i])), s.want, s.not)
	}
	floor.Expect(t, said(bygone.DaysBlocks(tell, m.Days, "2026-11-01", "2026-11-30")),
		"Sun 1 Nov to Mon 30 Nov:|Mon 23 Nov    €4,380      -€40   €4,340|"+
			"Wed 25 Nov         ?         ?        ?|"+
			"together      €4,880  -€40 + ?   €4,340       €20|bank charges: €12.50|Write export",
		"given up")
	floor.Expect(t, string(bygone.CSV(tell, []*tally.Machine{m})),
		"date,from till,from bank,paid out|"+
			"2026-11-23,0.00,0.00,4380.00,40.00,0.00,-40.00,4340.00,0.00,0.00,0.00,4340.00,Ben|"+
			"2026-11-25,-200.00,0.00,0.00,0.00,0.00,,0.00|"+
			"2026-11-24,,500.00,0.00,0.00,0.00,0.00,500.00|"+ // its payment, then the fee in it
			",0.00,20.00,0.00,0.00,0.00,20.00|"+
			"total,-200.00,0.00,4880.00,40.00,0.00,,4840.00,500.00,20.00,12.50", "?")
	if none := past(t, tell, "2026-05-01", "2026-05-31"); len(none.Days) != 0 {
		t.Errorf("days of May: %+v", none.Days)
	}
}

// What came too much for a day is told as such; what was given up stands for itself.
func TestTooMuchAndGivenUp(t *testing.T) {
	f := month(t)
	f.Play("owner: write off 4340 for monday; [The bank will not pay]; [Confirm]")
	m := past(t, teller(f), "2026-11-23", "2026-11-23")
	floor.Expect(t, said(bygone.DayBlocks(teller(f), m.Days[0])), "given up           €4,340",
		"still to come")
	floor.Expect(t, said(bygone.DaysBlocks(teller(f), m.Days, "2026-11-23", "2026-11-23")),
		"given up: €4,340", "")
	f = month(t) // the slip of a paid day is corrected to 9 fifties: 50 came too much
	no := slices.IndexFunc(f.Entries, func(e books.Entry) bool {
		return e.Kind == books.Settlement && e.Day == "2026-11-24"
	})
	if no < 0 {
		t.Fatal("Tuesday has no slip")
	}
	f.Play(fmt.Sprintf("owner: correct %d; [The figures]; [50s, paid]; 9; [That is all]; [Typed]; [Confirm]",
		f.Entries[no].Seq))
	m = past(t, teller(f), "2026-11-24", "2026-11-24")
	floor.Expect(t, said(bygone.DayBlocks(teller(f), m.Days[0])),
		"due from the bank    €450|paid too much         €50", "still to come")
}

// Where the money is adds up to what was put in, with a line for each gap; at the end
// of a day only what had happened by then counts.
func TestStand(t *testing.T) {
	f := month(t)
	for date, s := range map[shop.Date]struct{ want, not string }{
		// inside 7,000 - 200 lent; the bank owes 4,340; 507.50 came: 520 - 12.50
		"": {"in the machine     €6,800|owed by the till     €200|owed by the bank   €4,340|" +
			"paid to the account        -€507.50|€32.50 less than put in, all of it named|" +
			"The machine is open", "cannot be explained"},
		// 12x50 + 61x20 + 80x10 = 2,620 are back
		"2026-11-23": {"back in the safe  €2,620|owed by the bank  €4,340|together          €6,960|" +
			"€40 less than put in", "open|paid to the account"},
	} {
		s2, err := bygone.StandOf([]*telling.Teller{teller(f)}, date)
		if err != nil {
			t.Fatal(err)
		}
		floor.Expect(t, said(bygone.StandBlocks(teller(f), s2)), s.want, s.not)
	}
	two, err := bygone.StandOf([]*telling.Teller{teller(f), teller(f)}, "2026-11-23")
	if err != nil || two.Sum().String() != "13920" { // twice 6,960
		t.Errorf("two machines together: %s, %v", two.Sum(), err)
	}
	fresh := floor.New(t, dialogs.New)
	none, err := bygone.StandOf([]*telling.Teller{teller(fresh)}, "")
	if err != nil {
		t.Fatal(err)
	}
	floor.Expect(t, said(bygone.StandBlocks(teller(fresh), none)), "Both are the same: nothing is gone.",
		"open")
}

// A day's trading ends when the next one's begins: at midnight, or after it where the
// shop closes later.
func TestEndOf(t *testing.T) {
	f := floor.New(t, dialogs.New)
	for closes, want := range map[int]string{21 * 60: "00:00", 26 * 60: "later"} {
		for i := range f.Shop.Hours {
			f.Shop.Hours[i] = shop.Hours{Open: 10 * 60, Close: closes % shop.DayMinutes}
		}
		end := bygone.EndOf(teller(f), "2026-11-25").In(f.Shop.Location)
		midnight := time.Date(2026, 11, 26, 0, 0, 0, 0, f.Shop.Location)
		if want == "00:00" && !end.Equal(midnight) || want == "later" &&
			!end.After(midnight.Add(2*time.Hour-1)) {
			t.Errorf("closing at %d: the day ends %s", closes, end)
		}
	}
	own := books.Entry{Record: books.Record{Day: "2026-11-20", Happened: f.Now}}
	if got := bygone.DayOf(teller(f), own); got != "2026-11-20" {
		t.Errorf("a record of a day of its own stands under %s", got)
	}
	own.Day = ""
	if got := bygone.DayOf(teller(f), own); got != "2026-11-25" {
		t.Errorf("another stands under %s", got)
	}
}

// Before a month is finished it is told what is open in it; afterwards its figures stay
// and what is recorded later is a line of its own.
func TestFinishingAMonth(t *testing.T) {
	f := month(t)
	floor.Expect(t, said(bygone.MonthOpen(teller(f), "2026-11")),
		"Nov 2026:|1 day has no known difference yet.|€4,340 is still to come from the bank.",
		"Nothing is open|All machines|matched to no day")
	floor.Expect(t, said(bygone.MonthOpen(teller(f), "2026-05")), "May 2026:|Nothing is open.", "€")
	f.Play("owner: credit 77; [I don't know]; [Confirm]")
	f.Shop.Machines = append(f.Shop.Machines, shop.Machine{ID: 2, Name: "Hall"})
	floor.Expect(t, said(bygone.MonthOpen(teller(f), "2026-11")),
		"1 payment is matched to no day.|All machines of the shop are in it.", "")
	floor.Expect(t, said(bygone.MonthFinished(teller(f), "2026-10")), "Oct 2026 is finished, by Ada.",
		"Nov")

	f = month(t)
	if bygone.FinishedAs(teller(f), "2026-11") != nil {
		t.Error("finished before anybody said so")
	}
	done := []shop.Finished{{Month: "2026-11", By: 1, At: f.Now,
		Upto: map[shop.MachineID]int64{1: int64(len(f.Entries))}}}
	f.Knows = func(facts *chat.Facts) { facts.Ask.Finished = func() []shop.Finished { return done } }
	if got := bygone.FinishedAs(teller(f), "2026-11"); got == nil || got.By != 1 {
		t.Errorf("finished as %+v", got)
	}
	if bygone.FinishedAs(teller(f), "2026-10") != nil {
		t.Error("another month is finished too")
	}
	f.Play("@2026-12-02 09:00\nowner: credit 4340 for 23 november; [Confirm]")
	november := past(t, teller(f), "2026-11-01", "2026-11-30")
	floor.Expect(t, said(bygone.DaysBlocks(teller(f), november.Days, "2026-11-01", "2026-11-30")),
		"Mon 23 Nov    €4,380      -€40   €4,340", "for Mon")
	december := past(t, teller(f), "2026-12-01", "2026-12-31")
	floor.Expect(t, said(bygone.DaysBlocks(teller(f), december.Days, "2026-12-01", "2026-12-31")),
		"for Mon 23 Nov|-€4,340", "4,380")
}

// Money without decimals stays so, told and in a file. 10x10,000 + 5x5,000 + 40x1,000 =
// 165,000 yen, and one note of 1,000 is missing.
func TestOtherMoney(t *testing.T) {
	f := floor.Abroad(t, dialogs.New, "JP", "JPY", "Asia/Tokyo", "10000", "5000", "1000")
	f.Play(floor.Day("2026-11-25", "30 145 159", "10 5 40", "none"))
	m := past(t, teller(f), "2026-11-25", "2026-11-25")
	floor.Expect(t, said(bygone.DayBlocks(teller(f), m.Days[0])), "165,000", "165,000.")
	floor.Expect(t, string(bygone.CSV(teller(f), []*tally.Machine{m})),
		"2026-11-25,0,0,165000,0,0,-1000,165000,0,0,0,165000,Ben|JPY", "165000.0")
}
