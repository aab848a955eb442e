package advice_test

import (
	"math"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/advice"
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
)

// ledger is an invented shop's ledger in the making.
type ledger struct {
	t       testing.TB
	shop    *shop.Shop
	entries []books.Entry
}

func newLedger(t testing.TB, change func(*shop.Settings)) *ledger {
	t.Helper()
	s := shop.Example()
	if change != nil {
		change(&s)
	}
	sh, err := shop.New(1, 1, s)
	if err != nil {
		t.Fatal(err)
	}
	return &ledger{t: t, shop: sh}
}

func (l *ledger) kit() *shop.Machine { return l.shop.Machine(1) }

func (l *ledger) post(at time.Time, r books.Record) int64 {
	r.Happened = at.UTC()
	seq := int64(len(l.entries)) + 1
	l.entries = append(l.entries, books.Entry{
		Record: r, Machine: 1, Seq: seq, By: 1, Settings: 1, Recorded: at.UTC()})
	return seq
}

func (l *ledger) at(date shop.Date, hour, minute int) time.Time {
	d := date.Time()
	return time.Date(d.Year(), d.Month(), d.Day(), hour, minute, 0, 0, l.shop.Location)
}

// day is one day, or several up to To, of one machine.
type day struct {
	Date, To shop.Date
	Loaded   map[cashmath.Face]int64
	Asked    map[cashmath.Face]int64 // by customers; what is not there is not paid
}

// run opens, counts, settles and closes.
func (l *ledger) run(d day) {
	if d.To == "" {
		d.To = d.Date
	}
	var in, left, paid []books.Figure
	for _, b := range l.kit().Boxes {
		n, asked := d.Loaded[b.Face], min(d.Asked[b.Face], d.Loaded[b.Face])
		in = append(in, books.Figure{Field: books.Loaded, Box: b.Position, Face: b.Face, Notes: n})
		left = append(left, books.Figure{Field: books.Remaining, Box: b.Position, Face: b.Face, Notes: n - asked})
		paid = append(paid, books.Figure{Field: books.PaidOut, Face: b.Face, Notes: asked})
	}
	no := l.post(l.at(d.Date, 6, 45), books.Record{Kind: books.Opening, Figures: in})
	l.post(l.at(d.To, 21, 5), books.Record{Kind: books.Count, Period: no, Figures: left})
	l.post(l.at(d.To, 21, 10), books.Record{
		Kind: books.Settlement, Period: no, Figures: paid, Due: decimal.Zero})
	l.post(l.at(d.To, 21, 15), books.Record{Kind: books.Close, Period: no, Where: books.Cash})
}

// noise looks random, is the same every time and has no memory.
func noise(i int) float64 {
	_, part := math.Modf(float64(i+1) * math.Phi * 17)
	return math.Exp(0.2 * (2*part - 1))
}

// twenties asks most on Fridays and Saturdays.
func twenties(date shop.Date, i int) int64 {
	usual := [7]float64{80, 90, 90, 100, 110, 150, 140}
	return int64(usual[date.Weekday()] * noise(i))
}

// weeks runs ordinary days from Monday 5 January 2026 on.
func (l *ledger) weeks(days int) shop.Date {
	first := shop.Date("2026-01-05")
	for i := range days {
		date := first.Add(i)
		n := twenties(date, i)
		l.run(day{Date: date, Loaded: notes(200), Asked: notes(n)})
	}
	return first.Add(days)
}

// notes gives figures for three kinds: half as many fifties, half as many again tens.
func notes(n int64) map[cashmath.Face]int64 {
	return map[cashmath.Face]int64{"50": n / 2, "20": n, "10": n * 3 / 2}
}

func (l *ledger) past() *advice.Past {
	l.t.Helper()
	past, err := advice.Learn(l.shop, 1, l.entries)
	if err != nil {
		l.t.Fatal(err)
	}
	return past
}

func (l *ledger) outlook(date shop.Date) *advice.Outlook {
	l.t.Helper()
	o, err := advice.NewOutlook(l.shop, l.kit(), l.past(), date)
	if err != nil {
		l.t.Fatal(err)
	}
	return o
}
