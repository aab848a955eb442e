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
)

// A statement is told by its lines: those without a doubt with their days, the others
// with what they may be for, in the money of the shop they are about.
func TestStatement(t *testing.T) {
	f := floor.New(t, dialogs.New)
	tell := f.Talk("owner").Teller
	abroad := *f.Shop
	abroad.ID, abroad.Name, abroad.Currency = 2, "Kiosk", "GBP"
	abroad.Machines = append(abroad.Machines[:1:1], shop.Machine{ID: 8, Name: "Hall"})
	one, two := []*shop.Shop{f.Shop}, []*shop.Shop{f.Shop, &abroad}
	if got := stated.Kept(tell); len(got) != 1 || got[0] != f.Shop {
		t.Errorf("the owner keeps %v", got)
	}
	if got := stated.Kept(f.Talk("staff1").Teller); len(got) != 0 {
		t.Errorf("staff keep %v", got)
	}
	part := func(id shop.ID, m shop.MachineID, seq int64, day shop.Date, n int64) settling.Part {
		return settling.Part{As: matching.Pays, Shop: id, Machine: m, Seq: seq, Day: day,
			Value: decimal.NewFromInt(n)}
	}
	days := settling.Way{Why: matching.Several, Late: true,
		Parts: []settling.Part{part(1, 1, 5, "2026-11-23", 300), part(1, 1, 6, "2026-11-24", 400)}}
	there := settling.Way{Why: matching.InParts, Other: 7, Same: true,
		Parts: []settling.Part{part(2, 8, 9, "2026-11-23", 700)}}
	o := &settling.Offer{No: 3, Amount: decimal.NewFromInt(700), From: "Settlements",
		Ways: []settling.Way{days, there},
		Line: shop.Line{Day: "2026-11-25"}}
	reading := &settling.Reading{Lines: 7, From: "2026-11-23", To: "2026-11-25", Ends: "5678",
		Balance: "ok", Foreign: 2,
		Seen: 1}
	for want, got := range map[string]string{
		"7 lines, Mon 23 Nov to Wed 25 Nov, account that ends in 5678. Its": stated.Head(tell, reading),
		"1 line.": stated.Head(tell, &settling.Reading{Lines: 1,
			Balance: "none"}),
		"Mon 23 Nov + Tue 24 Nov":    stated.WayDays(tell, &days, one),
		"Mon 23 Nov, Kiosk, Hall":    stated.WayDays(tell, &there, two),
		"Mon 23 Nov, " + f.Shop.Name: stated.WayDays(tell, &days, two),
	} {
		if !strings.HasPrefix(got, want) {
			t.Errorf("%q, want %q", got, want)
		}
	}
	body := func(blocks []chat.Block) string { return floor.Said(blocks...) }
	floor.Expect(t, body(stated.Sure(tell, reading, []*settling.Offer{o}, 9, true, one)),
		"9 lines are sure, to the cent:|Mon 23 Nov + Tue 24 Nov  €700|There are more.", "Settlements")
	floor.Expect(t, body(stated.Sure(tell, reading, []*settling.Offer{o}, 1, false, one)),
		"1 line is sure", "There are more.")
	floor.Expect(t, body(stated.Line(tell, o, o.Ways, two)),
		"Line 3, Wed 25 Nov: €700 came.|Settlements|1. Mon 23 Nov, |2. Mon 23 Nov, Kiosk, Hall: |"+
			"What is it for?",
		"was taken|way.")
	floor.Expect(t, body(stated.Way(tell, o, &there, two)),
		"700 GBP came.|Mon 23 Nov, Kiosk, Hall  700 GBP", "€")
	fee := settling.Way{Why: matching.Less, Parts: []settling.Part{part(1, 1, 5, "2026-11-23", 720),
		{As: matching.Charge, Shop: 1, Machine: 1, Value: decimal.NewFromInt(-20)}}}
	floor.Expect(t, body(stated.Way(tell, o, &fee, one)), "€700 came.|Mon 23 Nov  |€720|-€20",
		"part.")
	back := &settling.Offer{No: 4, Amount: decimal.NewFromInt(-40), Line: shop.Line{Day: "2026-11-25"},
		Ways: []settling.Way{{Why: matching.Claimed, Parts: []settling.Part{{As: matching.Dispute,
			Shop: 1, Machine: 1,
			Seq: 5, Day: "2026-11-23", Value: decimal.NewFromInt(-40)}}}}}
	floor.Expect(t, body(stated.Line(tell, back, back.Ways, one)),
		"Line 4, Wed 25 Nov: €40 was taken.", "came")
	floor.Expect(t, body(stated.Way(tell, back, &back.Ways[0], one)), "Mon 23 Nov|-€40", "part.")
	floor.Expect(t, body(stated.Done(tell, reading, 3, 2)),
		"Statement done. 3 lines booked.|2 lines are left open.|2 lines are not about the machine.|"+
			"1 line was booked before.|Write owed", "")
	floor.Expect(t, body(stated.Done(tell, &settling.Reading{}, 1, 0)), "1 line booked.",
		"left open|not about")
}
