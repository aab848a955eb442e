package dues_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/dues"
	"shopfloat/internal/shop"
)

// twoDays are books whose bank owes 100 and 250 yet for two days, of which 40 were paid
// before for the first, and that have 7 and 9 matched to nothing.
func twoDays() *books.Machine {
	m := books.New(1)
	m.Claims = []books.Claim{{Seq: 3, Value: decimal.NewFromInt(140), Paid: decimal.NewFromInt(40)},
		{Seq: 5, Value: decimal.NewFromInt(250)}}
	m.Loose = []books.Loose{{Seq: 7, As: books.Unknown, Value: decimal.NewFromInt(7)},
		{Seq: 9, As: books.Extra, Value: decimal.NewFromInt(9)}}
	return m
}

// shared words how a sum was shared out: 100 pays 3, 20 fee 0.
func shared(parts []books.Part) string {
	var list []string
	for _, p := range parts {
		list = append(list, fmt.Sprintf("%s %s %d", p.Value, p.As, p.Of))
	}
	return strings.Join(list, ", ")
}

// What the bank takes is taken off what was paid, off what was never matched, or stands as
// charge or claim; the rest is not known.
func TestTaken(t *testing.T) {
	for name, s := range map[string]struct {
		line dues.Line
		want string
	}{
		"of a day": {dues.Line{Amount: money(30), Of: []int64{3}}, "-30 pays 3"},
		"more than was paid": {dues.Line{Amount: money(45), Of: []int64{3, 5}},
			"-40 pays 3, -5 unknown 0"},
		"charges":            {dues.Line{Amount: money(12), Whole: books.Charge}, "-12 charge 0"},
		"a customer's claim": {dues.Line{Amount: money(12), Whole: books.Dispute}, "-12 dispute 0"},
		"too much, last come": {dues.Line{Amount: money(12), Whole: dues.Loose},
			"-9 extra 9, -3 unknown 7"},
		"more than was loose": {dues.Line{Amount: money(20), Whole: dues.Loose},
			"-9 extra 9, -7 unknown 7, -4 unknown 0"},
	} {
		if got := shared(s.line.Taken(twoDays())); got != s.want {
			t.Errorf("%s: %s, want %s", name, got, s.want)
		}
	}
}

// What is given up goes to the oldest first, and is no more than what is left.
func TestForgone(t *testing.T) {
	for name, s := range map[string]struct {
		line      dues.Line
		want, sum string
	}{
		"all of two days": {dues.Line{Of: []int64{3, 5}}, "100 given-up 3, 250 given-up 5", "350"},
		"a sum": {dues.Line{Amount: money(120), Of: []int64{3, 5}},
			"100 given-up 3, 20 given-up 5", "120"},
		"too much":  {dues.Line{Amount: money(999), Of: []int64{3}}, "100 given-up 3", "100"},
		"of no day": {dues.Line{Amount: money(5)}, "", "0"},
	} {
		parts, sum := s.line.Forgone(twoDays())
		if got := strings.ReplaceAll(shared(parts), string(books.GivenUp), "given-up"); got != s.want ||
			sum.String() != s.sum {
			t.Errorf("%s: %s, %s together, want %s", name, got, sum, s.want)
		}
	}
	l := dues.Line{Of: []int64{3, 5}}
	if got := l.Left(twoDays()); got.String() != "350" {
		t.Errorf("%s are left", got)
	}
	if whole := (&dues.Line{Amount: money(5), Whole: books.Fee}); !whole.Gap(twoDays()).IsZero() ||
		whole.Fits(twoDays(), 2, 2) != nil {
		t.Error("what is for no day has a gap")
	}
}

// Money that was given up and comes after all is taken back from what was given up, as
// much of it as came.
func TestAfterAll(t *testing.T) {
	m := twoDays()
	m.Claims[0].GivenUp = money(60) // 40 are left
	pays := func(of, value int64) []books.Part {
		return []books.Part{{As: books.Pays, Of: of, Value: money(value)}}
	}
	for name, s := range map[string]struct {
		parts []books.Part
		want  int64 // taken back; 0: none
	}{
		"no more than is left": {pays(3, 40), 0}, "a part of it": {pays(3, 55), 15}, "all of it": {pays(3,
			100), 60},
		"more": {pays(3, 130), 60}, "nothing was given up": {pays(5, 300), 0}, "no such day": {pays(99,
			5), 0},
		"a fee": {[]books.Part{{As: books.Fee, Of: 3, Value: money(99)}}, 0},
	} {
		back := dues.AfterAll(m, s.parts)
		if s.want == 0 && len(back) > 0 || s.want > 0 && (len(back) != 1 ||
			!back[0].Value.Equal(money(-s.want)) ||
			back[0].As != books.GivenUp || back[0].Of != 3) {
			t.Errorf("%s: %s, want %d", name, shared(back), s.want)
		}
	}
}

// Ages end with their last day: what is seven days old is in the first.
func TestByAge(t *testing.T) {
	today := shop.Date("2026-11-26")
	var due []books.Claim
	for i, days := range []int{0, 7, 8, 30, 31, 90, 91} {
		due = append(due, books.Claim{Seq: int64(i), Day: today.Add(-days), Settled: time.Time{},
			Value: money(1 << i)})
	}
	sums := dues.ByAges(today, dues.OwedOf(due), func(since shop.Date) dues.Owed {
		return dues.OwedOf((&dues.Wanted{From: since}).Among(due))
	})
	if got := fmt.Sprint(sums); got != "[3 12 48 64]" { // 1+2, 4+8, 16+32, 64
		t.Errorf("by age: %s", got)
	}
}
