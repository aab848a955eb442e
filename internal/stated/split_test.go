package stated_test

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/matching"
	"shopfloat/internal/settling"
	"shopfloat/internal/shop"
	"shopfloat/internal/stated"
	"shopfloat/internal/statement"
)

// A line is shared out over the days that were still owed when it came, the newest first, and only
// over machines that the statement's account is tied to. Monday 4,380, Tuesday 500, Wednesday 1,000.
func TestSplit(t *testing.T) {
	f := floor.Owed(t, dialogs.New)
	f.Knows = func(facts *chat.Facts) {
		here := chat.Site{Shop: f.Shop, Person: facts.Person, Machine: f.Machine, Ask: facts.Ask}
		facts.Ask.Sites = func() []chat.Site { return []chat.Site{here} }
	}
	tell := f.Talk("owner").Teller
	tied := &settling.Reading{At: map[shop.MachineID]int64{1: 99}}
	less := settling.Way{Why: matching.Less, Parts: []settling.Part{{As: matching.Pays, Shop: 1, Machine: 1}}}
	o := &settling.Offer{No: 2, Amount: decimal.NewFromInt(4500), Line: shop.Line{Day: "2026-11-25"},
		Ways: []settling.Way{less}}
	days := func(r *settling.Reading, o *settling.Offer, parts []settling.Part) (said string) {
		for _, p := range stated.OpenDays(tell, r, o, parts) {
			said += stated.OpenDay(tell, p, stated.Kept(tell)) + "; "
		}
		return said
	}
	expect := func(got, want string) {
		t.Helper()
		if got != want {
			t.Errorf("said %q, want %q", got, want)
		}
	}
	expect(days(tied, o, nil), "Wed 25 Nov, €1,000; Tue 24 Nov, €500; Mon 23 Nov, €4,380; ")
	earlier, abroad := *o, *o
	earlier.Line.Day, abroad.Currency = "2026-11-24", "GBP"
	expect(days(tied, &earlier, nil), "Tue 24 Nov, €500; Mon 23 Nov, €4,380; ")
	expect(days(tied, &abroad, nil), "")
	expect(days(&settling.Reading{}, o, nil), "")
	all := stated.OpenDays(tell, tied, o, nil)
	expect(days(tied, o, all[:1]), "Tue 24 Nov, €500; Mon 23 Nov, €4,380; ")

	one := []*shop.Shop{f.Shop}
	floor.Expect(t, floor.Said(stated.Split(tell, o, nil, one)...),
		"Line 2, Wed 25 Nov: €4,500 came.|€4,500 of it is left to share out.", "Tue")
	part, _, ok := o.Shared(nil, all[1], decimal.NewFromInt(300))
	if !ok {
		t.Fatal("300 of 4,500 is not taken for a day that is owed 500")
	}
	floor.Expect(t, floor.Said(stated.Split(tell, o, part, one)...),
		"€4,500 came.|Tue 24 Nov  €300|€4,200 of it is left to share out.", "Mon")
	expect(stated.Share(tell, o, part, all[2], one), "How much of it is for Mon 23 Nov? €4,380 is due there, "+
		"€4,200 is left of the payment. Tap, or type an amount.")
	expect(stated.PartMoney(tell, decimal.NewFromInt(300), part[0]), "€300")
}

// A file that cannot be used says why, and one that a person can help with does not; why a line is
// for a day is said with what makes it less than sure; lines of no machine are listed with their
// place in the file.
func TestWhy(t *testing.T) {
	f := floor.New(t, dialogs.New)
	tell := f.Talk("owner").Teller
	for _, s := range []struct {
		r    *settling.Reading
		want string
	}{
		{nil, "The file cannot be had."},
		{&settling.Reading{Problem: "It is cut off."}, "It is cut off.\nNothing was booked."},
		{&settling.Reading{Problem: "?", Unsure: &statement.Unsure{Dates: "3/4"}}, ""},
		{&settling.Reading{Lines: 3}, ""},
	} {
		got := floor.Said(stated.Unread(tell, s.r)...)
		if (got == "") != (s.want == "") || !strings.HasPrefix(got, s.want) {
			t.Errorf("%+v: %q", s.r, got)
		}
	}
	o := &settling.Offer{No: 5, Amount: decimal.NewFromInt(90), Line: shop.Line{Day: "2026-11-25"}}
	way := func(w settling.Way) settling.Way {
		w.Parts = []settling.Part{{As: matching.Pays, Shop: 1, Machine: 1, Seq: 3, Day: "2026-11-24"}}
		return w
	}
	floor.Expect(t, floor.Said(stated.Line(tell, o, []settling.Way{
		way(settling.Way{Why: matching.InParts, Other: 7}), way(settling.Way{Why: matching.Exact, Same: true}),
		way(settling.Way{Why: matching.Exact, Late: true}), way(settling.Way{Why: matching.Exact, Other: 7}),
	}, []*shop.Shop{f.Shop})...), "1. Tue 24 Nov: a part of it; line 7 is the other one|"+
		"2. Tue 24 Nov: the sum of the day; another day has the same sum|3. Tue 24 Nov: the sum of the day; late|"+
		"4. Tue 24 Nov: the sum of the day\n", "")
	done := stated.Done(tell, &settling.Reading{Foreign: 2, Numbers: "1, 4", Others: []settling.Other{
		{No: 1, Day: "2026-11-23", Amount: decimal.NewFromInt(-35), From: "Rent for the corner shop, November"},
		{No: 4, Day: "2026-11-24", Amount: decimal.RequireFromString("12.5"), Currency: "GBP"}}}, 0, 0)
	floor.Expect(t, floor.Said(done...),
		"by their place in the file: 1, 4.|1. Mon 23 Nov|-€35|4. Tue 24 Nov|12.5 GBP", "November")
	got := stated.Label(strings.Repeat("payment ", 20))
	if len(got) > 64 || !strings.HasPrefix(got, "payment payment") {
		t.Errorf("a label is %q", got)
	}
}
