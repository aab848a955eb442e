package dues_test

import (
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
)

// ledger writes entries one after the other.
type ledger struct {
	t       testing.TB
	m       *books.Machine
	entries []books.Entry
	day     shop.Date // of what is written
}

func newLedger(t testing.TB) *ledger { return &ledger{t: t, m: books.New(1), day: "2026-11-25"} }

func (l *ledger) post(r books.Record) {
	l.t.Helper()
	r.Happened = l.day.Time().Add(time.Duration(7*60+len(l.entries)) * time.Minute)
	if books.Daily(r.Kind) {
		r.Day = l.day
	}
	e := books.Entry{Record: books.Ruled(r), Machine: 1, Seq: int64(len(l.entries)) + 1, By: 1, Settings: 1,
		Recorded: r.Happened}
	m := l.m.Clone()
	if _, err := m.Post(e); err != nil {
		l.t.Fatalf("%s: %v", r.Kind, err)
	}
	l.m, l.entries = m, append(l.entries, e)
}

func fig(f books.Field, box int, notes int64) books.Figure {
	faces := map[int]cashmath.Face{1: "50", 2: "20", 3: "10"}
	return books.Figure{Field: f, Box: box, Face: faces[box], Notes: notes}
}

func kind(f books.Field, box int, notes int64) books.Figure {
	r := fig(f, box, notes)
	r.Box = 0
	return r
}

func opening() books.Record {
	return books.Record{Kind: books.Opening, Figures: []books.Figure{
		fig(books.Loaded, 1, 40), fig(books.Loaded, 2, 150), fig(books.Loaded, 3, 200)}}
}

func money(n int64) decimal.Decimal { return decimal.NewFromInt(n) }

func credit(value int64, parts ...books.Part) books.Record {
	return books.Record{Kind: books.Credit, Parts: parts,
		Amounts: []books.Amount{{Field: books.Credited, Value: money(value)}}}
}

func part(as books.Share, of, value int64) books.Part {
	return books.Part{As: as, Of: of, Value: money(value)}
}

// sold is a day on which 50s, 20s and 10s were paid out; its settlement's number.
func (l *ledger) sold(fifties, twenties, tens int64) int64 {
	l.t.Helper()
	l.post(opening())
	no := l.m.Open
	l.post(left(no, 40-fifties, 150-twenties, 200-tens))
	l.post(books.Record{Kind: books.Settlement, Period: no, Figures: []books.Figure{
		kind(books.PaidOut, 1, fifties), kind(books.PaidOut, 2, twenties), kind(books.PaidOut, 3, tens)}})
	seq := l.m.Seq
	l.post(closing(no, books.Cash))
	return seq
}

func left(no, fifties, twenties, tens int64) books.Record {
	return books.Record{Kind: books.Count, Period: no, Figures: []books.Figure{
		fig(books.Remaining, 1, fifties), fig(books.Remaining, 2, twenties), fig(books.Remaining, 3, tens)}}
}

// total is a slip that tells amounts only.
func total(no, paid, last, back int64) books.Record {
	return books.Record{Kind: books.Settlement, Period: no, Amounts: []books.Amount{
		{Field: books.PaidOut, Value: money(paid)}, {Field: books.LastSeen, Value: money(last)},
		{Field: books.Cancelled, Value: money(back)}}}
}

func closing(no int64, to books.Place) books.Record {
	return books.Record{Kind: books.Close, Period: no, Where: to}
}
