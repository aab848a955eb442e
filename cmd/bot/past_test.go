package main

import (
	"context"
	"flag"
	"io"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

var keepPast = flag.String("past", "", "write an example shop with a past to this file, to play with")

// pastDays are the days of the example past: Monday 5 October to Tuesday 24 November 2026.
const pastDays = 51

// writePast writes the example shop with days on which 40 fifties, 200 twenties
// and 250 tens were loaded and most was asked for on Fridays and Saturdays.
func writePast(t testing.TB, path string, days int) {
	t.Helper()
	zone, err := time.LoadLocation(shop.Example().Zone)
	if err != nil {
		t.Fatal(err)
	}
	first := time.Date(2026, time.October, 5, 0, 0, 0, 0, zone)
	f, err := prepare(context.Background(), path, first, lots("people"), false)
	if err != nil {
		t.Fatal(err)
	}
	p := &pastWriter{t: t, db: f.db}
	for i := range days {
		p.day(first.AddDate(0, 0, i), i)
	}
	if err := f.close(); err != nil {
		t.Fatal(err)
	}
}

type pastWriter struct {
	t     testing.TB
	db    *store.DB
	cause int64
	seq   int64
}

// asked is what customers want of the twenties; half as many fifties, half as many again tens.
func asked(date time.Time, i int) int64 {
	usual := [7]float64{80, 90, 90, 100, 110, 150, 140}[date.Weekday()]
	_, part := math.Modf(float64(i+1) * math.Phi * 17)
	return int64(usual * math.Exp(0.2*(2*part-1)))
}

func (p *pastWriter) day(date time.Time, i int) {
	n := asked(date, i)
	var in, left, paid []books.Figure
	for box, k := range []struct {
		face   cashmath.Face
		loaded int64
		paid   int64
	}{{"50", 60, n / 3}, {"20", 200, n}, {"10", 250, n * 3 / 2}} {
		k.paid = min(k.paid, k.loaded)
		in = append(in, books.Figure{Field: books.Loaded, Box: box + 1, Face: k.face, Notes: k.loaded})
		left = append(left, books.Figure{
			Field: books.Remaining, Box: box + 1, Face: k.face, Notes: k.loaded - k.paid})
		paid = append(paid, books.Figure{Field: books.PaidOut, Face: k.face, Notes: k.paid})
	}
	no := p.seq + 1
	p.post(date.Add(6*time.Hour+45*time.Minute), books.Record{Kind: books.Opening, Figures: in})
	evening := date.Add(21 * time.Hour)
	p.post(evening.Add(5*time.Minute), books.Record{Kind: books.Count, Period: no, Figures: left})
	p.post(evening.Add(10*time.Minute), books.Record{
		Kind: books.Settlement, Period: no, Figures: paid, Due: decimal.Zero})
	p.post(evening.Add(15*time.Minute), books.Record{Kind: books.Close, Period: no, Where: books.Cash})
}

func (p *pastWriter) post(at time.Time, r books.Record) {
	p.t.Helper()
	tx, err := p.db.Begin(at)
	if err != nil {
		p.t.Fatal(err)
	}
	r.Happened = at
	p.cause--
	noSalt := func() ([]byte, error) { return nil, io.EOF }
	err = tx.Post(1, store.By{Person: 1, Settings: 1, Cause: p.cause}, r, noSalt)
	if err == nil {
		err = tx.Commit()
	}
	if err != nil {
		p.t.Fatal(err)
	}
	p.seq++
}

// pastFile is a file with the example past, made once for each test.
func pastFile(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "shop.db")
	writePast(t, path, pastDays)
	return path
}

// TestKeepPast writes the example past where -past says, for a look by hand; it checks that the file
// verifies.
func TestKeepPast(t *testing.T) {
	if *keepPast == "" {
		t.Skip("only with -past FILE")
	}
	_ = os.Remove(*keepPast)
	writePast(t, *keepPast, pastDays)
	if faults := faultsOf(t, *keepPast); len(faults) != 0 {
		t.Error(faults)
	}
}
