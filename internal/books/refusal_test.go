package books_test

import (
	"encoding/json"
	"errors"
	"slices"
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
)

// refused is a record the books do not take, why, and the words for it.
type refused struct {
	code   books.Code
	record books.Record
	text   string
}

// counted is a day that is counted and waits for its printed figures.
func counted(t testing.TB) *ledger {
	l := newLedger(t)
	l.post(opening())
	l.post(books.Record{Kind: books.Count, Period: 1, Figures: []books.Figure{
		fig(books.Remaining, 1, 12), fig(books.Remaining, 2, 60), fig(books.Remaining, 3, 80)}})
	return l
}

// onOpenDay is refused while period 1 is open with 40 fifties, 150 twenties and
// 200 tens.
var onOpenDay = []refused{
	{books.DayOpen, opening(), "period 1 is still open"},
	{books.NotCounted, books.Record{Kind: books.Close, Period: 1}, "period 1 is open"},
	{books.DayUnknown, books.Record{Kind: books.TopUp, Period: 9}, "period 9 is not at hand"},
	{books.NoCount, books.Record{Kind: books.Witness, Period: 1, Target: 1},
		"period 1 has no such count to stand by"},
	{books.NoBox, books.Record{Kind: books.TopUp, Period: 1,
		Figures: []books.Figure{{Field: books.Added, Box: 2, Face: "50", Notes: 1}}},
		"period 1 has no box 2 of 50"},
	{books.NoBox, books.Record{Kind: books.Level, Period: 1,
		Figures: []books.Figure{{Field: books.Shown, Box: 4, Face: "10", Notes: 1}}},
		"period 1 has no box 4 of 10"},
	{books.BelowNone, books.Record{Kind: books.TopUp, Period: 1,
		Figures: []books.Figure{fig(books.Added, 2, -1)}}, "added of 20 is negative"},
	{books.WrongFigure, books.Record{Kind: books.Count, Period: 1,
		Figures: []books.Figure{fig(books.Shown, 1, 1)}}, "shown has no place in a count"},
	{books.WrongFigure, books.Record{Kind: books.Swap, Period: 1,
		Figures: []books.Figure{fig(books.Remaining, 1, 1)}}, "remaining has no place in a swap"},
	{books.WrongFigure, books.Record{Kind: books.Settlement, Period: 1,
		Figures: []books.Figure{kind(books.Loaded, 1, 1)}}, "loaded has no place in a settlement"},
	{books.NoMove, moved(books.BoxPlace(1), books.BoxPlace(2), "50", 1),
		"notes of 50 cannot move from box:1 to box:2"},
	{books.NoMove, moved(books.Tray, books.Cash, "50", 1), "notes of 50 cannot move from tray to cash"},
	{books.NoMove, moved(books.Cash, books.BoxPlace(1), "20", 1),
		"notes of 20 cannot move from cash to box:1"},
	{books.BadMove, moved(books.BoxPlace(1), books.Till, "50", 0),
		"movement box:1 to till of 0 notes of 50 is not well formed"},
	{books.BadMove, moved(books.BoxPlace(1), books.Till, "50", -3),
		"movement box:1 to till of -3 notes of 50 is not well formed"},
	{books.BadMove, moved(books.Cash, books.BoxPlace(1), "50", -3),
		"movement cash to box:1 of -3 notes of 50 is not well formed"},
	{books.BadMove, moved(books.Cash, books.Cash, "50", 3),
		"movement cash to cash of 3 notes of 50 is not well formed"},
	{books.BadMove, moved(books.Cash, books.Bank, "50", 0),
		"movement cash to bank of 0 notes of 50 is not well formed"},
	{books.BadMove, moved("pocket", books.Cash, "50", 3),
		"movement pocket to cash of 3 notes of 50 is not well formed"},
	{books.BadMove, moved(books.Cash, "pocket", "50", 3),
		"movement cash to pocket of 3 notes of 50 is not well formed"},
	{books.TestsElsewhere, books.Record{Kind: books.Test, Period: 1, Where: books.Path,
		Figures: []books.Figure{fig(books.Tried, 1, 1)}}, "test notes cannot go to path"},
	{books.FoundElsewhere, books.Record{Kind: books.Found, Period: 1, Where: books.Cash,
		Figures: []books.Figure{kind(books.FoundAt, 1, 1)}}, "found notes cannot go to cash"},
	{books.OneTotal, books.Record{Kind: books.Printed, Period: 1}, "a printed total is one amount"},
	{books.WrongAmount, books.Record{Kind: books.Debit, Amounts: []books.Amount{{Field: books.Credited,
		Value: money(7)}}}, "credited of 7 has no place in a debit"},
	{books.WrongAmount, credit(0), "credited of 0 has no place in a credit"},
	{books.NoAmount, books.Record{Kind: books.Credit}, "a credit cannot be of 0"},
	{books.PartsLeft, credit(100, part(books.Fee, 0, 90)), "the parts of the payment leave 10 over"},
	{books.NoTopic, books.Record{Kind: books.Incident}, "an incident without a topic"},
	{books.NoFault, news(7, books.Trouble{}), "news of an incident 7 that is not at hand"},
	{books.NoVisit, books.Record{Kind: books.VisitEnded, Target: 7}, "there is no visit 7 to end"},
}

// afterCount is refused once person 1 has counted period 1, and somebody stood by.
var afterCount = []refused{
	{books.OwnCount, books.Record{Kind: books.Witness, Period: 1, Target: 2},
		"whoever counted cannot be the second person"},
	{books.StoodBy, books.Record{Kind: books.Witness, Period: 1, Target: 2},
		"somebody stood by the count of period 1 already"},
}

// afterClose is refused once period 1 is closed.
var afterClose = []refused{
	{books.DayClosed, books.Record{Kind: books.Count, Period: 1}, "period 1 is closed"},
	{books.DayClosed, books.Record{Kind: books.Settlement, Period: 1}, "period 1 is closed"},
	{books.DayClosed, books.Record{Kind: books.Close, Period: 1}, "period 1 is closed"},
}

func moved(from, to books.Place, face string, notes int64) books.Record {
	f := fig(books.Added, 1, notes)
	_ = f.Face.UnmarshalText([]byte(face))
	return books.Record{Kind: books.Moved, Period: 1, Moves: []books.Move{
		{From: from, To: to, Face: f.Face, Notes: notes}}}
}

// saw notes the codes that were met.
type saw map[books.Code]bool

func (s saw) refusal(t *testing.T, err error, want refused) {
	t.Helper()
	r, ok := errors.AsType[*books.Refusal](err)
	if !ok || r.Code != want.code || err.Error() != want.text {
		t.Errorf("%s: refused with %v, want %q", want.code, err, want.text)
		return
	}
	s[r.Code] = true
}

func (s saw) refuses(t *testing.T, l *ledger, list []refused) {
	t.Helper()
	before, _ := json.Marshal(l.m)
	for _, c := range list {
		_, err := l.try(c.record)
		s.refusal(t, err, c)
		if after, _ := json.Marshal(l.m); string(after) != string(before) {
			t.Errorf("%s changes the books it was tried on", c.code)
		}
	}
}

// Every code is met by a record that leads to it, and says it in the words that
// logs and verification always had.
func TestEveryRefusal(t *testing.T) {
	met := saw{}
	open := newLedger(t)
	open.post(opening())
	met.refuses(t, open, onOpenDay)

	waiting := counted(t)
	met.refuses(t, waiting, afterCount[:1])
	waiting.post(books.Record{Kind: books.Witness, Period: 1, Target: 2, Marks: []books.Mark{books.Alone}})
	met.refuses(t, waiting, afterCount[1:])
	waiting.post(opening())
	met.refuses(t, waiting, []refused{{books.LoadedAgain, books.Record{Kind: books.Count, Period: 1},
		"what period 1 left was loaded again"}})

	closed := mistyped(t)
	met.refuses(t, closed, afterClose)
	met.corrections(t, closed)

	full := books.Balance{books.Tray: {"20": 3}}
	met.refusal(t, full.Apply([]books.Move{books.NewMove(books.Tray, books.Cash, "20", 4)}),
		refused{code: books.TooFew, text: "tray holds 3 notes of 20, 4 cannot leave"})

	for _, c := range books.Codes() {
		if !met[c] {
			t.Errorf("nothing leads to %s", c)
		}
	}
	if len(met) != len(books.Codes()) || !slices.IsSorted(books.Codes()) {
		t.Errorf("met %d codes of %v", len(met), books.Codes())
	}
}

// corrections are refused of a closed day: 1 opening, 2 count, 3 settlement, 4 close.
func (s saw) corrections(t *testing.T, l *ledger) {
	t.Helper()
	closing, topup := l.entries[3].Record, books.Record{Kind: books.TopUp, Period: 1}
	elsewhere := l.entries[1].Record
	elsewhere.Period = 99
	try := func(target int64, in *books.Record, want refused) {
		t.Helper()
		_, err := l.correct(target, in)
		s.refusal(t, err, want)
	}
	try(9, nil, refused{code: books.NoRecord, text: "there is no entry 9 to correct"})
	try(0, nil, refused{code: books.NoRecord, text: "there is no entry 0 to correct"})
	try(4, &closing, refused{code: books.Uncorrected, text: "a record of kind close cannot be corrected"})
	try(1, nil, refused{code: books.NeedsAnother, text: "a record of kind opening needs another in its place"})
	try(2, nil, refused{code: books.NeedsAnother, text: "a record of kind count needs another in its place"})
	try(1, &topup, refused{code: books.OtherKind,
		text: "a record of kind top-up cannot hold in the place of one of kind opening"})
	nested := l.entries[0].Record
	nested.Instead = &topup
	try(1, &nested, refused{code: books.OtherKind,
		text: "a record of kind opening cannot hold in the place of one of kind opening"})
	try(2, &elsewhere, refused{code: books.Unfit,
		text: "entry 2 cannot be corrected so: entry 4: period 1 is open"})

	e := books.Entry{Record: books.Record{Kind: books.Correction, Target: 3}, Seq: 5}
	_, _, err := l.m.CorrectOn(books.New(l.m.ID), l.entries, e)
	s.refusal(t, err, refused{code: books.NoReason, text: "a correction needs a reason"})

	undo := books.Entry{Record: books.Record{Kind: books.Undo, Target: 3, Period: 1}, Seq: 5}
	entries := append(slices.Clip(l.entries), undo)
	m, err := books.Fold(1, entries[:3])
	if err != nil {
		t.Fatal(err)
	}
	m.Seq, e.Seq, e.Reason = 5, 6, books.Mistyped
	_, _, err = m.CorrectOn(books.New(m.ID), entries, e)
	s.refusal(t, err, refused{code: books.WasUndone, text: "entry 3 was undone by entry 5"})
}

// What does not fit with a correction can still be asked for by its own code.
func TestUnfitKeepsItsCause(t *testing.T) {
	l := mistyped(t)
	in := l.entries[0].Record
	in.Figures = in.Figures[:2] // the box of tens was never there, says the correction
	_, err := l.correct(1, &in)
	r, ok := errors.AsType[*books.Refusal](err)
	if !ok || r.Code != books.Unfit || r.Entry != 1 {
		t.Fatalf("refused with %v", err)
	}
	cause, ok := errors.AsType[*books.Refusal](errors.Unwrap(r))
	if !ok || cause.Code != books.NoBox || cause.Box != 3 || cause.Face != "10" || cause.Period != 1 {
		t.Errorf("the cause is %v", errors.Unwrap(r))
	}
}

// The figures of a refusal are there for whoever words it anew.
func TestRefusalHasItsFigures(t *testing.T) {
	b := books.Balance{books.BoxPlace(2): {"20": 3}}
	err := b.Apply([]books.Move{books.NewMove(books.Cash, books.Tray, "20", 9),
		books.NewMove(books.BoxPlace(2), books.Cash, "20", 4)})
	r, ok := errors.AsType[*books.Refusal](err)
	if !ok || r.From != books.BoxPlace(2) || r.Face != "20" || r.Have != 3 || r.Want != 4 {
		t.Errorf("refused with %+v", r)
	}
	if len(b) != 1 || b.At(books.BoxPlace(2), "20") != 3 {
		t.Errorf("a refused movement leaves %v", b)
	}
	err = b.Apply([]books.Move{{From: books.Cash, To: books.Till, Face: "20"}})
	if r, ok := errors.AsType[*books.Refusal](err); !ok || r.Code != books.BadMove {
		t.Errorf("a movement of nothing: %v", err)
	}
	l := newLedger(t)
	_, err = l.try(credit(100, part(books.Fee, 0, 90)))
	if r, ok := errors.AsType[*books.Refusal](err); !ok || !r.Value.Equal(decimal.NewFromInt(10)) {
		t.Errorf("refused with %+v", r)
	}
}

// A gap in the ledger and what only a newer program knows are no refusals:
// nothing that a person could tell otherwise.
func TestBrokenFilesAreNoRefusals(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	next := func(seq int64, r books.Record) books.Entry { return books.Entry{Record: r, Machine: 1, Seq: seq} }
	topup := books.Record{Kind: books.TopUp, Period: 1}
	gift := credit(100, part("gift", 0, 100))
	plain := map[string]error{}
	_, plain["entry 3 does not follow entry 1"] = l.m.Clone().Post(next(3, topup))
	_, plain["entry 1 does not follow entry 1"] = l.m.Clone().Post(next(1, topup))
	_, plain[`entry of unknown kind "gift"`] = l.m.Clone().Post(next(2, books.Record{Kind: "gift"}))
	for want, r := range map[string]books.Record{
		`entry of kind "count" by unknown rule 2`:   {Kind: books.Count, Period: 1, Rule: 2},
		`entry of kind "count" by unknown rule -1`:  {Kind: books.Count, Period: 1, Rule: -1},
		`entry of kind "opening" by unknown rule 1`: {Kind: books.Opening, Rule: 1},
	} {
		_, plain[want] = l.m.Clone().Post(next(2, r))
	}
	_, plain[`part of a payment of unknown kind "gift"`] = l.m.Clone().Post(next(2, gift))
	_, _, plain["entry 9 does not follow entry 1"] = l.m.CorrectOn(books.New(l.m.ID), l.entries, next(9, topup))
	for text, err := range plain {
		if _, refused := errors.AsType[*books.Refusal](err); err == nil || refused || err.Error() != text {
			t.Errorf("got %v, want a plain error: %s", err, text)
		}
	}
	broken := append(slices.Clip(l.entries), next(2, books.Record{Kind: "gift"}))
	m := l.m.Clone()
	m.Seq = 2
	in := opening()
	_, _, err := m.CorrectOn(books.New(m.ID), broken, next(3, books.Record{Kind: books.Correction, Target: 1,
		Instead: &in,
		Reason:  books.Mistyped}))
	if _, refused := errors.AsType[*books.Refusal](err); err == nil || refused {
		t.Errorf("a broken file makes a correction unfit: %v", err)
	}
}
