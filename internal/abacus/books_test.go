package abacus_test

import (
	"encoding/json"
	"reflect"
	"testing"
	"time"

	"pgregory.net/rapid"

	"shopfloat/internal/abacus"
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/checks"
	"shopfloat/internal/stand"
)

// Sixty days of a shop, with everything that can happen, come to the same by the
// books and by the abacus: each day, each slip, each claim, and where the money is
// now and at any moment of the past.
func TestHistories(t *testing.T) {
	for _, half := range []string{"one", "other"} {
		t.Run(half, func(t *testing.T) {
			t.Parallel()
			checks.Rapid(t, 10, 1000, 50_000, func(rt *rapid.T) {
				h := begun(rt)
				for range 60 {
					h.aDay()
					if h.one(50, "look") {
						h.agrees()
					}
				}
				h.agrees()
				h.folds()
			})
		})
	}
}

// folds holds the books that were led from entry to entry, and from closes on where
// something was taken back, against those of all entries from the first.
func (h *history) folds() {
	whole, err := books.Fold(1, h.entries)
	if err != nil {
		h.Fatal(err)
	}
	led, err := json.Marshal([]any{h.m, h.m.Claims})
	if err != nil {
		h.Fatal(err)
	}
	if anew, err := json.Marshal([]any{whole, whole.Claims}); err != nil || string(led) != string(anew) {
		h.Fatalf("books led on:\n%s\nfolded anew:\n%s\n%v", led, anew, err)
	}
}

func (h *history) agrees() {
	if len(h.entries) == 0 {
		return
	}
	sheet := abacus.Recount(h.entries, time.Time{})
	all, err := books.History(1, h.entries)
	if err != nil {
		h.Fatal(err)
	}
	h.sameDays(all, sheet)
	h.sameClaims(sheet)
	if owed := abacus.Of(h.m.Owed()); owed != sheet.Float.Debts {
		h.Fatalf("the till owes %d, by the abacus %d", owed, sheet.Float.Debts)
	}
	h.sameFloat(time.Time{}, sheet)
	then := h.entries[h.n("then", int64(len(h.entries))-1)].Happened.Add(time.Hour)
	h.sameFloat(then, abacus.Recount(h.entries, then))
}

func (h *history) sameDays(all *books.Machine, sheet *abacus.Sheet) {
	if len(all.Periods) != len(sheet.Days) {
		h.Fatalf("%d periods, by the abacus %d", len(all.Periods), len(sheet.Days))
	}
	for _, p := range all.Periods {
		d := sheet.Days[p.No]
		if d == nil || d.Date != p.Date || d.Closed != (p.Status == books.Closed) ||
			d.Counted != (p.Status != books.Open) {
			h.Fatalf("period %d: %s %s, by the abacus %+v", p.No, p.Date, p.Status, d)
		}
		if want := h.days[p.No]; p.Date != want {
			h.Fatalf("period %d is of %s, but was recorded for %s", p.No, p.Date, want)
		}
		var slips []abacus.Slip
		for _, s := range p.Slips {
			slips = append(slips, abacus.Slip{Seq: s.Seq, Day: s.Day, Paid: abacus.Of(s.Paid()),
				Cancelled: abacus.Of(s.Cancelled()), Due: abacus.Of(s.Due)})
		}
		if want := d.Told(); !reflect.DeepEqual(slips, want) {
			h.Fatalf("period %d: slips %+v, by the abacus %+v", p.No, slips, want)
		}
		if p.Status != books.Closed {
			continue
		}
		by := map[cashmath.Face]int64{}
		for face, n := range p.ByFace {
			by[face] = n
		}
		if abacus.Of(p.Variance) != d.Difference || p.Verdict != d.Verdict ||
			!reflect.DeepEqual(by, d.ByKind) {
			h.Fatalf("period %d: %s %s %v, by the abacus %s %d %v", p.No, p.Verdict, p.Variance, by, d.Verdict,
				d.Difference, d.ByKind)
		}
	}
}

func (h *history) sameClaims(sheet *abacus.Sheet) {
	if len(h.m.Claims) != len(sheet.Claims) {
		h.Fatalf("%d claims, by the abacus %d", len(h.m.Claims), len(sheet.Claims))
	}
	for _, c := range h.m.Claims {
		is := abacus.Claim{Day: c.Day, Value: abacus.Of(c.Value), Paid: abacus.Of(c.Paid),
			GivenUp: abacus.Of(c.GivenUp)}
		if want := sheet.Claims[c.Seq]; want == nil || *want != is {
			h.Fatalf("claim %d: %+v, by the abacus %+v", c.Seq, is, want)
		}
	}
}

// firstSince is the first entry recorded since an instant.
func (h *history) firstSince(at time.Time) int64 {
	for _, e := range h.entries {
		if !e.Recorded.Before(at) {
			return e.Seq
		}
	}
	return h.m.Seq + 1
}

func (h *history) sameFloat(end time.Time, sheet *abacus.Sheet) {
	s := stand.Now(h.m)
	if !end.IsZero() { // from the last close on before which nothing had happened later
		then := h.stoodBefore(h.firstSince(end))
		var err error
		s, err = stand.On(then, h.entries[then.Seq:], func(e books.Entry) bool { return e.Happened.Before(end) })
		if err != nil {
			h.Fatalf("float at %s: %v", end, err)
		}
	}
	if !s.Missing().IsZero() {
		h.Fatalf("float at %s: %s is nowhere", end, s.Missing())
	}
	is, want := map[string]abacus.Cents{
		"inside": abacus.Of(s.Inside), "cash": abacus.Of(s.Cash), "till": abacus.Of(s.Till),
		"bank": abacus.Of(s.ByBank), "taken": abacus.Of(s.Taken), "brought": abacus.Of(s.Brought),
		"came": abacus.Of(s.Came),
	}, map[string]abacus.Cents{
		"inside": sheet.Float.Inside, "cash": sheet.Float.Cash, "till": sheet.Float.Till,
		"bank": sheet.Float.ByBank, "taken": sheet.Float.Taken, "brought": sheet.Float.Brought,
		"came": sheet.Float.Came,
	}
	for _, g := range s.Gaps {
		is["gap "+string(g.Why)] = abacus.Of(g.Value)
	}
	for why, v := range sheet.Float.Gaps {
		if v != 0 {
			want["gap "+string(why)] = v
		}
	}
	if !reflect.DeepEqual(is, want) {
		h.Fatalf("float at %s:\n%v, by the abacus\n%v", end, is, want)
	}
}
