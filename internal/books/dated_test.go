package books_test

import (
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// Records from before they said their day get it from one that says it of them
// all; the fold gives what posting gave, and a day once recorded stays.
func TestDated(t *testing.T) {
	l := newLedger(t)
	settled := l.sold(1, 0, 0)
	l.post(credit(20, part(books.Pays, settled, 15), part(books.Unknown, 0, 5)))
	paid := l.m.Seq
	r := opening()
	r.Day = "2026-11-27"
	l.post(r)
	own := l.m.Open
	l.post(books.Record{Kind: books.Dated, Days: books.DaysOf{
		"2026-11-25": {1, settled}, "2026-11-26": {paid}, "2026-12-31": {own}}})
	l.refold(t)
	for name, c := range map[string]struct{ got, want shop.Date }{
		"period": {l.m.Period(1).Date, "2026-11-25"}, "slip": {l.m.Period(1).Slips[0].Day, "2026-11-25"},
		"claim": {l.m.Claim(settled).Day, "2026-11-25"}, "payment": {l.m.Payments[0].Day, "2026-11-26"},
		"loose": {l.m.Loose[0].Day, "2026-11-26"}, "one with a day": {l.m.Period(own).Date, "2026-11-27"},
	} {
		if c.got != c.want {
			t.Errorf("%s is of %s, want %s", name, c.got, c.want)
		}
	}
	for _, e := range books.InForce(l.entries) {
		if e.Kind == books.Opening && e.Day == "" {
			t.Errorf("entry %d in force has no day", e.Seq)
		}
	}
	// A correction says the day of what it puts in the place of a record.
	in := l.entries[settled-1].Record
	in.Day = "2026-11-24"
	if _, err := l.correct(settled, &in); err != nil {
		t.Fatal(err)
	}
	if got := l.m.Claim(settled).Day; got != "2026-11-24" {
		t.Errorf("corrected claim is of %s", got)
	}
}
