package tally_test

import (
	"slices"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
	"shopfloat/internal/tally"
)

// ledger is a day of trading on 20 November 2026: 200 twenties in, 60 paid out, and 140
// left; then what is given, from the fifth record on.
func ledger(t *testing.T, more ...books.Record) []books.Entry {
	t.Helper()
	at := shop.Date("2026-11-20").Time().Add(9 * time.Hour)
	list := append([]books.Record{
		{Kind: books.Opening, Figures: []books.Figure{figure(books.Loaded, 1, 200)}},
		{Kind: books.Count, Period: 1, Figures: []books.Figure{figure(books.Remaining, 1, 140)}},
		{Kind: books.Settlement, Period: 1, Figures: []books.Figure{figure(books.PaidOut, 0, 60)}},
		{Kind: books.Close, Period: 1, Where: books.Cash},
	}, more...)
	var entries []books.Entry
	m := books.New(1)
	for i, r := range list {
		if r.Happened.IsZero() {
			r.Happened = at.Add(time.Duration(i) * time.Minute)
		}
		if books.Daily(r.Kind) && r.Day == "" {
			r.Day = shop.DateOf(r.Happened)
		}
		e := books.Entry{Record: books.Ruled(r), Machine: 1, Seq: int64(i + 1), By: 1, Settings: 1,
			Recorded: r.Happened}
		if _, err := m.Post(e); err != nil {
			t.Fatalf("record %d: %v", i+1, err)
		}
		entries = append(entries, e)
	}
	return entries
}

// credited is a payment in December for the day of the ledger.
func credited(value int64, parts ...books.Part) books.Record {
	return books.Record{Kind: books.Credit, Happened: shop.Date("2026-12-02").Time().Add(9 * time.Hour),
		Amounts: []books.Amount{{Field: books.Credited, Value: decimal.NewFromInt(value)}}, Parts: parts}
}

func example(t *testing.T) *shop.Shop {
	t.Helper()
	s, err := shop.New(1, 1, shop.Example())
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// A month that was finished stays as it was: a payment of December for a day of November
// is a line of its own in December. By hand: 60 x 20 = 1,200 due.
func TestFinishedMonthStays(t *testing.T) {
	s := example(t)
	entries := ledger(t, credited(1200, books.Part{As: books.Pays, Of: 3, Value: decimal.NewFromInt(1200)}))
	done := []shop.Finished{{Month: "2026-11", By: 1, At: shop.Date("2026-12-01").Time().Add(9 * time.Hour),
		Upto: map[shop.MachineID]int64{1: 4}}}
	sums := func(from, to shop.Date, list []shop.Finished) *tally.Day {
		t.Helper()
		m, err := tally.Finished(s, &s.Machines[0], entries, from, to, list)
		if err != nil {
			t.Fatal(err)
		}
		return tally.Total(m.Days)
	}
	for name, x := range map[string]struct {
		day        *tally.Day
		paid, left string
	}{
		"November as it became":   {sums("2026-11-01", "2026-11-30", nil), "1200", "0"},
		"November as it was":      {sums("2026-11-01", "2026-11-30", done), "0", "1200"},
		"December with what came": {sums("2026-12-01", "2026-12-31", done), "1200", "-1200"},
		"both":                    {sums("2026-11-01", "2026-12-31", done), "1200", "0"},
	} {
		if x.day.Credited.String() != x.paid || x.day.Open().String() != x.left {
			t.Errorf("%s: %s credited, %s open", name, x.day.Credited, x.day.Open())
		}
	}
	m, err := tally.Finished(s, &s.Machines[0], entries, "2026-12-01", "2026-12-31", done)
	if err != nil {
		t.Fatal(err)
	}
	late := slices.IndexFunc(m.Days, func(d *tally.Day) bool { return d.Late })
	if late < 0 || m.Days[late].Name() != "for 2026-11-20" || m.Days[late].Credited.String() != "1200" {
		t.Errorf("the line of its own is %+v", m.Days)
	}
	if d := (&tally.Day{Date: "2026-11-20"}); d.Name() != "2026-11-20" {
		t.Errorf("a day is called %s", d.Name())
	}
}

// A payment is shared out over what it was for, and its parts add up to what came.
func TestPaymentsAddUp(t *testing.T) {
	s := example(t)
	n := decimal.NewFromInt
	entries := ledger(t, credited(1225, books.Part{As: books.Pays, Of: 3, Value: n(1200)},
		books.Part{As: books.Fee, Value: n(30)}, books.Part{As: books.Charge, Value: n(-12)},
		books.Part{As: books.Unknown, Value: n(7)}))
	m, err := tally.Of(s, &s.Machines[0], entries, "2026-12-01", "2026-12-31")
	if err != nil {
		t.Fatal(err)
	}
	if len(m.Payments) != 4 {
		t.Fatalf("%+v", m.Payments)
	}
	all := tally.Came(m.Payments)
	if all.Paid.String() != "1200" || all.Fee.String() != "30" || all.Charge.String() != "12" ||
		all.Loose.String() != "7" || all.Came().String() != "1225" {
		t.Errorf("together %+v, %s", all, all.Came())
	}
	for _, p := range m.Payments {
		if p.Reference() != "5" || p.Entry != 5 || p.Date != "2026-12-02" || p.Paid.IsZero() != (p.ClaimDay == "") {
			t.Errorf("%+v", p)
		}
	}
}

// Days of several machines are one line each, those of later lines behind the others.
func TestJoined(t *testing.T) {
	n := decimal.NewFromInt
	a := &tally.Machine{Days: []*tally.Day{{Date: "2026-11-20", Due: n(100), Known: true, Variance: n(-20)},
		{Date: "2026-11-22", Due: n(5)}, {Date: "2026-10-31", Late: true, Credited: n(9)}}}
	b := &tally.Machine{Days: []*tally.Day{{Date: "2026-11-20", Due: n(11), Unknown: true},
		{Date: "2026-11-21", Due: n(7)}}}
	got := tally.Joined([]*tally.Machine{a, b})
	var names []string
	for _, d := range got {
		names = append(names, d.Name())
	}
	if !slices.Equal(names, []string{"2026-11-20", "2026-11-21", "2026-11-22", "for 2026-10-31"}) {
		t.Fatalf("%v", names)
	}
	if d := got[0]; d.Due.String() != "111" || !d.Known || !d.Unknown || d.Variance.String() != "-20" {
		t.Errorf("%+v", d)
	}
	if !got[3].Late || got[3].Credited.String() != "9" {
		t.Errorf("%+v", got[3])
	}
	if len(tally.Joined(nil)) != 0 {
		t.Error("no machine has days")
	}
}
