package advice_test

import (
	"reflect"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"shopfloat/internal/advice"
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/checks"
	"shopfloat/internal/shop"
)

// records writes a machine's entries at random.
type records struct {
	rt      *rapid.T
	at      time.Time
	m       *books.Machine
	entries []books.Entry
}

func (h *records) n(name string, most int64) int64 { return rapid.Int64Range(0, most).Draw(h.rt, name) }

// post writes a record that the books take; others leave no trace.
func (h *records) post(r books.Record) bool {
	h.at = h.at.Add(time.Duration(1+h.n("minutes", 300)) * time.Minute)
	r.Happened = h.at
	if books.Daily(r.Kind) {
		r.Day = shop.DateOf(h.at)
	}
	e := books.Entry{Record: books.Ruled(r), Machine: 1, Seq: int64(len(h.entries)) + 1, By: 1, Settings: 1,
		Recorded: h.at}
	if r.Kind != books.Undo && r.Kind != books.Correction {
		if _, err := h.m.Clone().Post(e); err != nil {
			return false
		}
	}
	m, err := books.Fold(1, append(slices.Clip(h.entries), e))
	if err != nil {
		return false
	}
	h.m, h.entries = m, append(h.entries, e)
	return true
}

func counted(field books.Field, fifties, twenties int64) []books.Figure {
	return []books.Figure{{Field: field, Box: 1, Face: "50", Notes: fifties},
		{Field: field, Box: 2, Face: "20", Notes: twenties}}
}

// day is a day at the machine: loaded, topped up, looked at, out of service, counted, closed,
// some of it left out.
func (h *records) day() {
	if h.n("opens", 9) > 0 {
		var marks []books.Mark
		if h.n("early", 5) == 0 {
			marks = []books.Mark{books.Early}
		}
		h.post(books.Record{Kind: books.Opening, Marks: marks, Figures: counted(books.Loaded, 40, 100)})
	}
	no := h.m.Open
	for range h.n("between", 3) {
		switch h.n("what", 5) {
		case 0:
			h.post(books.Record{Kind: books.TopUp, Period: no, Figures: counted(books.Added, 0, 10)})
		case 1:
			reason := rapid.SampledFrom([]books.Reason{books.Change, books.Warning}).Draw(h.rt, "why")
			h.post(books.Record{Kind: books.Moved, Period: no, Reason: reason,
				Moves: []books.Move{{From: books.BoxPlace(2), To: books.Till, Face: "20", Notes: 1 + h.n("lent", 4)}}})
		case 2:
			h.post(books.Record{Kind: books.Moved, Reason: books.Returned,
				Moves: []books.Move{{From: books.Till, To: books.Cash, Face: "20", Notes: 1 + h.n("back", 4)}}})
		case 3:
			h.post(books.Record{Kind: books.Level, Period: no, Figures: counted(books.Shown, h.n("50s", 1)*9, 0)})
		case 4:
			h.post(books.Record{Kind: books.Incident, Trouble: &books.Trouble{Topic: "jam"}})
		case 5:
			if f := h.m.Faults; len(f) > 0 {
				t := rapid.SampledFrom([]books.Trouble{{Out: h.at}, {Ending: books.Solved}, {Served: true},
					{Reference: "A1"}}).Draw(h.rt, "news")
				h.post(books.Record{Kind: books.News, Target: f[len(f)-1].Seq, Trouble: &t})
			}
		}
	}
	if h.n("counts", 9) == 0 {
		return
	}
	fifties, twenties := h.n("fifties", 40), h.n("twenties", 100)
	h.post(books.Record{Kind: books.Count, Period: no,
		Figures: counted(books.Remaining, 40-fifties, 100-twenties)})
	slip := counted(books.PaidOut, fifties, twenties)
	slip[0].Box, slip[1].Box = 0, 0
	h.post(books.Record{Kind: books.Settlement, Period: no, Figures: slip})
	h.post(books.Record{Kind: books.Close, Period: no, Where: books.Cash})
}

// again takes a record back or puts another in its place, and says from which entry on
// something else holds; 0: from none.
func (h *records) again() int64 {
	if len(h.entries) == 0 {
		return 0
	}
	e := rapid.SampledFrom(h.entries).Draw(h.rt, "which")
	switch {
	case e.Kind == books.Count || e.Kind == books.Settlement || e.Kind == books.Moved && e.Period != 0:
		in := e.Record
		in.Figures = slices.Clone(in.Figures)
		for i := range in.Figures {
			in.Figures[i].Notes = h.n("instead", 60)
		}
		if h.post(books.Record{Kind: books.Correction, Target: e.Seq, Reason: books.Mistyped, Instead: &in}) {
			return e.Seq
		}
	case e.Seq == int64(len(h.entries)) && e.Kind != books.Undo && e.Kind != books.Correction:
		if h.post(books.Record{Kind: books.Undo, Period: e.Period, Target: e.Seq}) {
			return e.Seq
		}
	}
	return 0
}

// kept is a state as it comes back from a file.
func kept(rt *rapid.T, s advice.State) (back advice.State) {
	data, err := s.MarshalText()
	if err == nil {
		err = back.UnmarshalText(data)
	}
	if err != nil {
		rt.Fatal(err)
	}
	if !reflect.DeepEqual(s, back) {
		rt.Fatalf("%+v came back as %+v", s, back)
	}
	return back
}

// extended goes on from books that are older still than the state, of which nothing later is
// about something before them, and gives what comes back from a file.
func (h *records) extended(s advice.State) advice.State {
	since := h.n("since", s.Seq)
	for since > 0 && slices.ContainsFunc(h.entries[since:], func(e books.Entry) bool {
		return e.Target != 0 && e.Target <= since
	}) {
		since--
	}
	then, err := books.Fold(1, h.entries[:since])
	if err != nil {
		h.rt.Fatal(err)
	}
	parts, last := advice.PartsOf(s, 3)
	more, err := last.Extended(then, h.entries[since:])
	if err != nil {
		h.rt.Fatal(err)
	}
	all := advice.Joined(append(parts, more))
	whole, err := s.Extended(then, h.entries[since:])
	if err != nil || !all.Same(whole) || all.Seq != whole.Seq {
		h.rt.Fatalf("in parts %+v, as a whole %+v (%v)", all, whole, err)
	}
	return kept(h.rt, all)
}

// What was added one by one, from whatever books before, kept in a file in between and gone
// back in where something was corrected, is what is learned from all records at once.
func TestAddedOneByOne(t *testing.T) {
	checks.Rapid(t, 20, 150, 30_000, func(rt *rapid.T) {
		h := &records{rt: rt, m: books.New(1), at: shop.Date("2026-10-20").Time().Add(6 * time.Hour)}
		s := advice.State{Version: advice.StateVersion}
		for range rapid.IntRange(1, 12).Draw(rt, "days") {
			h.day()
			if from := int64(0); h.n("again", 2) == 0 {
				if from = h.again(); from != 0 {
					at := h.entries[from-1].Happened
					was := s.Before(from)
					if !advice.Reaches(s.Newest(), at, was.Newest()) {
						was = advice.State{Version: advice.StateVersion}
					}
					s = was
				}
			}
			if h.n("waits", 2) > 0 {
				s = h.extended(s)
			}
		}
		s = h.extended(s)
		all, err := advice.Learned(1, h.entries)
		if err != nil {
			rt.Fatal(err)
		}
		if !s.Same(all) || s.Seq != all.Seq {
			rt.Fatalf("one by one %+v, all at once %+v", s, all)
		}
	})
}

// A shop of many years keeps what advice goes by, and no more: three years and a bit.
func TestStateStaysSmall(t *testing.T) {
	s := advice.State{Version: advice.StateVersion}
	at := shop.Date("2020-01-01").Time()
	for i := range int64(3000) {
		c := advice.Closed{Seq: 7*i + 6, No: 7*i + 1, Date: shop.DateOf(at), Opened: at.Add(7 * time.Hour),
			Counted: at.Add(21 * time.Hour), Boxes: "1=50,2=20,3=10", Kinds: []advice.PaidOut{
				{Face: "50", Paid: 28, PutIn: 40}, {Face: "20", Paid: 89, PutIn: 150},
				{Face: "10", Paid: 120, PutIn: 200}}}
		s = s.Add(advice.Day{Seq: 7*i + 7, Closed: []advice.Closed{c}, Tills: []advice.Brought{
			{Seq: 7*i + 2, At: at.Add(8 * time.Hour), Face: cashmath.Face("20"), Notes: 10}}})
		at = at.Add(24 * time.Hour)
	}
	data, err := s.MarshalText()
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Days) != 1161 || len(s.Tills) != 116 || len(data) > 110_000 {
		t.Errorf("%d days, %d from tills, %d bytes", len(s.Days), len(s.Tills), len(data))
	}
	t.Logf("%d bytes", len(data))
	full, last := s.Parts()
	if again := advice.Joined(append(full, last)); !reflect.DeepEqual(again, s) {
		t.Error("in parts it is another one")
	}
	if len(full) != 11 || len(last.Days) != 61 || len(last.Tills) != len(s.Tills) {
		t.Errorf("%d full parts, %d days and %d from tills in the last", len(full), len(last.Days), len(last.Tills))
	}
	for _, p := range full {
		if p.Seq != p.Days[len(p.Days)-1].Seq || len(p.Days) != 100 || len(p.Tills) > 0 {
			t.Errorf("a part of %d days up to %d", len(p.Days), p.Seq)
		}
	}
}

// What does not read as a state is an error.
func TestStateBroken(t *testing.T) {
	for _, text := range []string{"", "2", "2 x", "2 9\nclosed 1 2 3", "2 9\nclosed 1 2 - 3 4 - - 50/1",
		"2 9\nclosed a 2 - 3 4 - -", "2 9\ntill 1 2 50", "2 9\ntill 1 2 50 x", "2 9\nclosed 1 2 - 3 4 - - 50/1/1/x",
		"2 9\nwarned 1 2", "2 9\ntrouble {", "2 9\nnothing", "2 9\ntill 1 2 50 3 4", "2 9 9\n"} {
		var s advice.State
		if err := s.UnmarshalText([]byte(text)); err == nil {
			t.Errorf("%s reads as %+v", text, s)
		}
	}
}
