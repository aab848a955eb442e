package books_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/abacus"
	"shopfloat/internal/books"
)

// The most that a box can hold now is all that was put in, or what the machine showed last
// and what came and went since: 70 shown when 150 were held, 160 held now, so 80.
func TestEstimate(t *testing.T) {
	at := func(minute int) time.Time { return time.Date(2026, 11, 25, 9, minute, 0, 0, time.UTC) }
	shown := func(minute int, boxes, held int64) books.Reading {
		return books.Reading{Happened: at(minute), Boxes: []int64{1, boxes}, Held: []int64{5, held}}
	}
	for name, s := range map[string]struct {
		readings []books.Reading
		notes    int64
		shown    bool
	}{
		"never shown":             {nil, 160, false},
		"shown":                   {[]books.Reading{shown(1, 70, 150)}, 80, true},
		"shown twice":             {[]books.Reading{shown(1, 70, 150), shown(2, 60, 155)}, 65, true},
		"the older one came late": {[]books.Reading{shown(2, 60, 155), shown(1, 70, 150)}, 65, true},
		"two of one minute":       {[]books.Reading{shown(1, 70, 150), shown(1, 60, 155)}, 65, true},
	} {
		p := &books.Period{Boxes: []books.BoxState{{Position: 1, Face: "50", Held: 40},
			{Position: 2, Face: "20", Held: 160}}, Readings: s.readings}
		if notes, shown := p.Estimate(2); notes != s.notes || shown != s.shown {
			t.Errorf("%s: %d, %t, want %d", name, notes, shown, s.notes)
		}
		if notes, shown := p.Estimate(3); notes != 0 || shown {
			t.Errorf("%s: a box that is not there: %d", name, notes)
		}
	}
}

// A printed total that agrees settles what differed; without one nothing differs. 40 fifties
// and 10 added less 20 taken out are 1,500.
func TestSlipDiffers(t *testing.T) {
	p := &books.Period{Boxes: []books.BoxState{{Position: 1, Face: "50", Loaded: 40}},
		Added: books.Notes{"50": 10}, Removed: books.Notes{"50": 20}}
	if p.SlipDiffers() {
		t.Error("no total was typed, and it differs")
	}
	for total, want := range map[int64]bool{1500: false, 1450: true, 1550: true} {
		d := decimal.NewFromInt(total)
		if p.Total = &d; p.SlipDiffers() != want {
			t.Errorf("%d: differs %t", total, !want)
		}
	}
}

// What was put aside on the way is told again as figures, by kind from the highest.
func TestPutAside(t *testing.T) {
	p := &books.Period{Path: books.Notes{"20": 2, "50": 1}}
	want := []books.Figure{{Field: books.FoundAt, Face: "50", Notes: 1},
		{Field: books.FoundAt, Face: "20", Notes: 2}}
	if got := p.PutAside(); !slices.Equal(got, want) {
		t.Errorf("%+v", got)
	}
	if got := p.Path.Figures(books.FoundAt); !slices.Equal(got, want) {
		t.Errorf("%+v", got)
	}
	if got := books.NotesIn(append(want, books.Figure{Field: books.Refused, Face: "50", Notes: 4},
		books.Figure{Field: books.Added, Face: "10", Notes: 9}), books.FoundAt, books.Refused); fmt.Sprint(got) !=
		fmt.Sprint(books.Notes{"50": 5, "20": 2}) {
		t.Errorf("together %v", got)
	}
}

// A record as it holds now: as written, as corrected last, or not at all any more. A
// correction that was taken back itself changes nothing.
func TestAsCorrected(t *testing.T) {
	add := func(notes int64) books.Record {
		return books.Record{Kind: books.TopUp, Figures: []books.Figure{fig(books.Added, 2, notes)}}
	}
	to := func(target, notes int64) books.Record {
		in := add(notes)
		return books.Record{Kind: books.Correction, Target: target, Instead: &in}
	}
	undo := func(target int64) books.Record { return books.Record{Kind: books.Undo, Target: target} }
	for name, s := range map[string]struct {
		then []books.Record // after a top-up of 5, which is the first entry
		want int64          // notes; 0: it does not hold
	}{
		"as written":              {nil, 5},
		"corrected":               {[]books.Record{to(1, 6)}, 6},
		"corrected twice":         {[]books.Record{to(1, 6), to(1, 7)}, 7},
		"the last one taken back": {[]books.Record{to(1, 6), to(1, 7), undo(3)}, 6},
		"never happened":          {[]books.Record{{Kind: books.Correction, Target: 1}}, 0},
		"taken back":              {[]books.Record{undo(1)}, 0},
		"another was corrected":   {[]books.Record{add(9), to(2, 8)}, 5},
		"another was taken back":  {[]books.Record{add(9), undo(2)}, 5},
		"an attachment of it":     {[]books.Record{{Kind: books.Attachment, Target: 1}}, 5},
	} {
		var all []books.Entry
		for i, r := range append([]books.Record{add(5)}, s.then...) {
			all = append(all, books.Entry{Record: r, Seq: int64(i + 1)})
		}
		e, ok := books.AsCorrected(all, 1)
		if ok != (s.want != 0) || ok && (e.Figures[0].Notes != s.want || e.Seq != 1) {
			t.Errorf("%s: %+v, %t", name, e.Figures, ok)
		}
		for _, seq := range []int64{-1, 0, int64(len(all)) + 1} {
			if _, ok := books.AsCorrected(all, seq); ok {
				t.Errorf("%s: entry %d of %d holds", name, seq, len(all))
			}
		}
		last := int64(len(all))
		if e, _ := books.AsCorrected(all, last); e.Seq != last {
			t.Errorf("%s: of the last entry %+v", name, e)
		}
	}
}

// Entries from a number on come with those earlier ones that they undo or correct.
func TestFrom(t *testing.T) {
	entry := func(seq int64, k books.Kind, target int64) books.Entry {
		return books.Entry{Seq: seq, Record: books.Record{Kind: k, Target: target}}
	}
	all := []books.Entry{entry(1, books.Opening, 0), entry(2, books.TopUp, 0), entry(3, books.TopUp, 0),
		entry(4, books.Undo, 3), entry(5, books.Attachment, 1), entry(6, books.Correction, 2)}
	for seq, want := range map[int64]string{7: "[]", 6: "[2 6]", 5: "[2 5 6]", 4: "[2 3 4 5 6]",
		1: "[1 2 3 4 5 6]"} {
		got := []int64{}
		for _, e := range abacus.From(all, seq) {
			got = append(got, e.Seq)
		}
		if fmt.Sprint(got) != want {
			t.Errorf("from %d: %v, want %s", seq, got, want)
		}
	}
}

// Going on from books before, each period that is closed is told once, by the entry that
// closed it; one that was closed before is told no more, those books stay as they are, and an
// entry that does not fit is named.
func TestClosingsOn(t *testing.T) {
	l := twoDays(t)
	l.post(closing(6, books.Cash)) // entry 10; entry 5 closed the first day
	const both = "[5 1 10 6]"
	for from, want := range map[int]string{0: both, 4: both, 5: "[10 6]", 9: "[10 6]", 10: "[]"} {
		before, err := books.Fold(1, l.entries[:from])
		if err != nil {
			t.Fatal(err)
		}
		got := []int64{}
		if err := books.ClosingsOn(before, l.entries[from:], func(seq int64, p *books.Period) {
			got = append(got, seq, p.No)
		}); err != nil {
			t.Fatal(err)
		}
		if fmt.Sprint(got) != want || before.Seq != int64(from) {
			t.Errorf("from entry %d: %v, want %s; the books before end at %d", from, got, want, before.Seq)
		}
	}
	err := books.ClosingsOn(books.New(1), l.entries[1:], func(int64, *books.Period) {})
	if err == nil || !strings.Contains(err.Error(), "entry 2") {
		t.Errorf("a top-up without its opening: %v", err)
	}
}

// Who it was need not be asked of what is noted on the phone on the counter.
func TestNeedsName(t *testing.T) {
	for mark, want := range map[books.Mark]bool{books.SharedPhone: false, books.NotBlind: true} {
		if got := (books.Record{Marks: []books.Mark{mark}}).NeedsName(); got != want {
			t.Errorf("%s: needs a name %t", mark, got)
		}
	}
}

// A record is about the claims that it pays or gives up, each once; a charge or a fee is about
// none, whatever number stands beside it.
func TestNeeds(t *testing.T) {
	r := books.Record{Parts: []books.Part{{Of: 3, As: books.Pays}, {Of: 1, As: books.GivenUp},
		{Of: 3, As: books.Pays},
		{Of: 2, As: books.Charge}, {Of: 4, As: books.Fee}, {As: books.Pays}}}
	if got := r.Needs(); fmt.Sprint(got) != "[3 1]" {
		t.Errorf("%v", got)
	}
}

// Walking on from books that were folded before shows each state, leaves those books alone
// and names the entry that does not fit.
func TestWalkOn(t *testing.T) {
	l := twoDays(t)
	before, err := books.Fold(1, l.entries[:5])
	if err != nil {
		t.Fatal(err)
	}
	was := before.Clone()
	var seen []int64
	if _, err := books.WalkOn(before, l.entries[5:], func(e books.Entry, m *books.Machine) {
		seen = append(seen, e.Seq, m.Open)
	}); err != nil {
		t.Fatal(err)
	}
	if fmt.Sprint(seen) != "[6 6 7 6 8 0 9 0]" {
		t.Errorf("seen %v", seen)
	}
	if before.Seq != was.Seq || before.Open != was.Open {
		t.Errorf("the books before: %+v", before)
	}
	_, err = books.WalkOn(before, l.entries[6:], func(books.Entry, *books.Machine) {})
	if err == nil || !strings.Contains(err.Error(), "entry 7") {
		t.Errorf("a top-up without its opening: %v", err)
	}
}
