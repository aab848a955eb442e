package store_test

import (
	"context"
	"encoding/json"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/checks"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// Whatever is recorded in whatever order: what the books refuse leaves no
// trace, what they take can be proved from the first entry, no note comes from
// nowhere, and a program that starts anew reads the same books.
func TestAnyRecords(t *testing.T) {
	checks.Rapid(t, 15, 150, 20_000, func(rt *rapid.T) {
		path := filepath.Join(t.TempDir(), "shop.db")
		db, err := store.Open(context.Background(), path, morning)
		ok(t, err)
		defer func() { _ = db.Close() }()
		_, err = db.AddShops(morning, []store.NewShop{{Settings: shop.Example()}})
		ok(t, err)
		l := newLedger(t, db)
		taken := 0
		for range rapid.IntRange(1, 25).Draw(rt, "records") {
			if l.try(record(rt, l.books())) == nil {
				taken++
			}
		}
		rep := verify(t, path)[0]
		if len(rep.Faults) > 0 || rep.Entries != taken {
			rt.Fatalf("%d taken; %+v", taken, rep)
		}
		before, err := json.Marshal(l.books())
		ok(t, err)
		ok(t, db.Close())
		if db, err = store.Open(context.Background(), path, morning); err != nil {
			rt.Fatal(err)
		}
		l.db = db
		after, err := json.Marshal(l.books())
		ok(t, err)
		if string(before) != string(after) {
			rt.Fatalf("books before %s\nafter %s", before, after)
		}
	})
}

// record makes up a record that the books may or may not take.
func record(t *rapid.T, m *books.Machine) books.Record {
	r := books.Record{Period: m.Open, Happened: morning.Add(time.Duration(m.Seq) * time.Minute)}
	if r.Period == 0 && len(m.Periods) > 0 {
		r.Period = m.Periods[len(m.Periods)-1].No
	}
	notes := rapid.Int64Range(0, 300)
	three := func() []int64 {
		return []int64{notes.Draw(t, "50s"), notes.Draw(t, "20s"), notes.Draw(t, "10s")}
	}
	place := rapid.SampledFrom(
		[]books.Place{books.Tray, books.Cash, books.Till, books.Bank, books.Path, "box:2", "shelf"})
	r.Kind = rapid.SampledFrom([]books.Kind{
		books.Opening, books.Opening, books.TopUp, books.Swap, books.Moved, books.Test, books.Found,
		books.Level, books.Count, books.Settlement, books.Close, books.Undo, books.Undo, books.Attachment,
		books.Checks,
		books.Correction, books.Correction, books.Credit, books.Debit,
	}).Draw(t, "kind")
	switch r.Kind {
	case books.Opening:
		r.Period = 0
		r.Figures = boxes(books.Loaded, three()...)
		r.Marks = rapid.SampledFrom([][]books.Mark{nil, {books.Early}, {books.Paper}}).Draw(t, "marks")
	case books.TopUp:
		r.Figures = boxes(books.Added, three()...)
	case books.Swap:
		r.Figures = slices.Concat(boxes(books.Left, three()...), boxes(books.Added, three()...))
	case books.Moved:
		r.Reason = rapid.SampledFrom(
			[]books.Reason{books.Change, books.Returned, books.Other}).Draw(t, "reason")
		from, to := place.Draw(t, "from"), place.Draw(t, "to")
		r.Moves = []books.Move{books.NewMove(from, to, "20", notes.Draw(t, "notes"))}
	case books.Test, books.Found:
		r.Where = place.Draw(t, "where")
		r.Marks = rapid.SampledFrom([][]books.Mark{nil, {books.Counted}}).Draw(t, "marks")
		r.Figures = []books.Figure{{Field: books.Tried, Box: 2, Face: "20", Notes: notes.Draw(t, "notes")}}
	case books.Level:
		r.Figures = boxes(books.Shown, three()...)
	case books.Count:
		r.Figures = append(boxes(books.Remaining, three()...),
			books.Figure{Field: books.Refused, Face: cashmath.Face("20"), Notes: notes.Draw(t, "tray")})
	case books.Settlement:
		r.Figures, r.Due = printed(books.PaidOut, three()...), decimal.NewFromInt(notes.Draw(t, "due"))
	case books.Close:
		r.Where = rapid.SampledFrom([]books.Place{"", books.Cash}).Draw(t, "where")
	case books.Undo:
		r.Target = rapid.Int64Range(0, m.Seq+1).Draw(t, "target")
	case books.Correction:
		correction(t, m, &r, three)
	case books.Credit, books.Debit:
		payment(t, m, &r)
	case books.Attachment:
		r.Target, r.Words = m.Seq, rapid.String().Draw(t, "words")
	}
	return r
}

// correction puts other figures in the place of a record at hand, or none, or
// moves it to another period.
func correction(t *rapid.T, m *books.Machine, r *books.Record, three func() []int64) {
	if len(m.Recent) == 0 {
		return
	}
	old := rapid.SampledFrom(m.Recent).Draw(t, "old")
	r.Target, r.Period, r.Reason = old.Seq, old.Period, books.Mistyped
	if rapid.IntRange(0, 4).Draw(t, "gone") == 0 {
		return
	}
	in := books.Record{Kind: old.Kind, Period: old.Period, Happened: old.Happened, Figures: old.Figures,
		Amounts: old.Amounts, Moves: old.Moves, Marks: old.Marks, Reason: old.Reason}
	for i, n := range three() {
		if i < len(in.Figures) {
			in.Figures = slices.Clone(in.Figures)
			in.Figures[i].Notes = n
		}
	}
	if old.Kind == books.Opening {
		in.Period = 0
	} else if len(m.Periods) > 0 && rapid.Bool().Draw(t, "moved") {
		in.Period = rapid.SampledFrom(m.Periods).Draw(t, "period").No
	}
	r.Instead = &in
}

// payment is one of the bank's, for claims at hand or for nothing that is known.
func payment(t *rapid.T, m *books.Machine, r *books.Record) {
	value := decimal.NewFromInt(rapid.Int64Range(1, 5000).Draw(t, "value"))
	r.Amounts, r.Period = []books.Amount{{Field: books.Credited, Value: value}}, 0
	if r.Kind == books.Debit {
		r.Amounts[0].Field, value = books.Debited, value.Neg()
	}
	part := books.Part{Value: value, As: rapid.SampledFrom([]books.Share{
		books.Pays, books.Fee, books.Extra, books.Foreign, books.Unknown, books.Dispute, books.Charge}).Draw(t,
		"as")}
	if part.As == books.Pays && len(m.Claims) > 0 {
		part.Of = rapid.SampledFrom(m.Claims).Draw(t, "claim").Seq
	}
	r.Parts = []books.Part{part}
}
