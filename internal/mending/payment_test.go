package mending_test

import (
	"fmt"
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/mending"
)

// A payment of another sum, by hand: 1,000 are due for each of two days, and nothing is paid
// by the books that do not have it but what stands there.
func TestReshared(t *testing.T) {
	part := func(as books.Share, of, v int64) books.Part { return books.Part{As: as, Of: of, Value: notes(v)} }
	for name, s := range map[string]struct {
		kind  books.Kind
		sum   int64
		parts []books.Part
		want  string
	}{
		"less": {books.Credit, 900, []books.Part{part(books.Pays, 1, 1000)}, "pays 1 900"},
		"more": {books.Credit, 1100, []books.Part{part(books.Pays, 1, 1000)},
			"pays 1 1000, unknown 0 100"},
		"more, too much": {books.Credit, 1100, []books.Part{part(books.Pays, 1, 1000), part(books.Extra, 0, 5)},
			"pays 1 1000, extra 0 100"},
		"two days": {books.Credit, 1500, []books.Part{part(books.Pays, 1, 1000), part(books.Pays, 2, 1000)},
			"pays 1 1000, pays 2 500"},
		"charges stay": {books.Credit, 994, []books.Part{part(books.Pays, 1, 800), part(books.Charge, 1, -6)},
			"pays 1 1000, charge 1 -6"},
		"fees stay": {books.Credit, 1004, []books.Part{part(books.Pays, 1, 90), part(books.Fee, 0, 4)},
			"pays 1 1000, fee 0 4"},
		"a fee alone": {books.Credit, 5, []books.Part{part(books.Fee, 0, 9)}, "fee 0 5"},
		"nobody knows": {books.Credit, 5, []books.Part{part(books.Unknown, 0, 4), part(books.Fee, 0, 3)},
			"unknown 0 5"},
		"taken back":     {books.Debit, 300, []books.Part{part(books.Pays, 3, -200)}, "pays 3 -250, unknown 0 -50"},
		"a charge":       {books.Debit, 7, []books.Part{part(books.Charge, 0, -9)}, "charge 0 -7"},
		"what was kept":  {books.Debit, 30, []books.Part{part(books.Extra, 8, -20)}, "extra 8 -20, unknown 0 -10"},
		"given up, came": {books.Credit, 1000, []books.Part{part(books.Pays, 4, 10)}, "pays 4 1000"},
	} {
		m := books.New(1)
		m.Claims = []books.Claim{{Seq: 1, Value: notes(1000)}, {Seq: 2, Value: notes(1000)},
			{Seq: 3, Value: notes(250), Paid: notes(250)}, {Seq: 4, Value: notes(1000), GivenUp: notes(300)}}
		m.Loose = []books.Loose{{Seq: 8, As: books.Extra, Value: notes(20)}}
		r := books.Record{Kind: s.kind, Amounts: []books.Amount{{Value: notes(s.sum)}}, Parts: s.parts}
		var got []string
		sum := notes(0)
		for _, p := range mending.Reshared(r, m) {
			got = append(got, fmt.Sprintf("%s %d %s", p.As, p.Of, p.Value))
			sum = sum.Add(p.Value)
		}
		if list := strings.Join(got, ", "); list != s.want || !sum.Abs().Equal(notes(s.sum)) {
			t.Errorf("%s: %s, want %s", name, list, s.want)
		}
	}
}
