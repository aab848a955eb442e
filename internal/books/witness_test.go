package books_test

import (
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// Whoever counted cannot stand by the count, nobody can twice, and a count
// made anew needs somebody anew.
func TestWitness(t *testing.T) {
	opening := books.Record{
		Kind:    books.Opening,
		Figures: []books.Figure{{Field: books.Loaded, Box: 1, Face: "20", Notes: 10}},
	}
	count := books.Record{
		Kind:    books.Count,
		Period:  1,
		Figures: []books.Figure{{Field: books.Remaining, Box: 1, Face: "20", Notes: 4}},
	}
	witness := books.Record{Kind: books.Witness, Period: 1, Target: 2}
	post := func(m *books.Machine, by shop.PersonID, r books.Record) error {
		t.Helper()
		_, err := m.Post(books.Entry{Record: r, Machine: 1, Seq: m.Seq + 1, By: by})
		return err
	}
	base := func() *books.Machine {
		m := books.New(1)
		if post(m, 2, opening) != nil || post(m, 2, count) != nil {
			t.Fatal("the day does not begin")
		}
		return m
	}
	if m := base(); post(m, 2, witness) == nil {
		t.Error("whoever counted stands by the count")
	}
	m := base()
	if err := post(m, 3, witness); err != nil || m.Period(1).Witness != 3 {
		t.Errorf("second person: %v, %+v", err, m.Period(1))
	}
	if post(m.Clone(), 4, witness) == nil {
		t.Error("a third person stands by the count")
	}
	if err := post(m, 2, count); err != nil || m.Period(1).Witness != 0 {
		t.Errorf("a count made anew keeps its second person: %v", err)
	}
	stale := witness
	if post(m.Clone(), 3, stale) == nil {
		t.Error("somebody stands by a count that was replaced")
	}
	alone := witness
	alone.Target, alone.Marks = m.Period(1).CountSeq, []books.Mark{books.Alone}
	if err := post(m, 2, alone); err != nil || !m.Period(1).Alone || m.Period(1).Witness != 0 {
		t.Errorf("alone: %v", err)
	}
	if m := books.New(1); post(m, 2, opening) != nil ||
		post(m, 3, books.Record{Kind: books.Witness, Period: 1, Target: 1}) == nil {
		t.Error("somebody stands by a count that was not made")
	}
}
