package dues_test

import (
	"fmt"
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/dues"
	"shopfloat/internal/shop"
)

// Claims by the day they are due: those of which the same is said, and the one before
// another, paid or not.
func TestClaimsByTheirDay(t *testing.T) {
	claim := func(seq int64, on shop.Date, value, paid int64) books.Claim {
		return books.Claim{Seq: seq, On: on, Value: decimal.NewFromInt(value), Paid: decimal.NewFromInt(paid)}
	}
	m := &books.Machine{Claims: []books.Claim{claim(1, "2026-11-20", 100, 100), claim(2, "2026-11-23", 100, 0),
		claim(3, "", 100, 0), claim(4, "2026-11-24", 100, 0), claim(5, "2026-11-22", 100, 100)}}
	seqs := func(list []books.Claim) string {
		got := []int64{}
		for _, c := range list {
			got = append(got, c.Seq)
		}
		return fmt.Sprint(got)
	}
	if got := seqs(dues.With(m, func(shop.Date) bool { return true })); got != "[2 4]" {
		t.Errorf("of all days: %s", got)
	}
	if got := seqs(dues.With(m, func(d shop.Date) bool { return d > "2026-11-23" })); got != "[4]" {
		t.Errorf("after Monday: %s", got)
	}
	if got := seqs(m.ClaimsOf([]int64{4, 9, 1})); got != "[4 1]" {
		t.Errorf("by their numbers: %s", got)
	}
	for seq, want := range map[int64]int64{4: 2, 2: 5, 5: 1, 1: 0, 3: 0} {
		before, ok := dues.Before(m, *m.Claim(seq))
		if ok != (want != 0) || before.Seq != want {
			t.Errorf("before claim %d: %d, %t, want %d", seq, before.Seq, ok, want)
		}
	}
}
