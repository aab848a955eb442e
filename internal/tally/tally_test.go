package tally_test

import (
	"bytes"
	"encoding/csv"
	"slices"
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"github.com/thedatashed/xlsxreader"
	"pgregory.net/rapid"

	"shopfloat/internal/books"
	"shopfloat/internal/checks"
	"shopfloat/internal/journal"
	"shopfloat/internal/shop"
	"shopfloat/internal/tally"
	"shopfloat/internal/workbook"
)

const first = shop.Date("2026-10-20")

// history writes a machine's entries day by day.
type history struct {
	rt      *rapid.T
	m       *books.Machine
	entries []books.Entry
	day     shop.Date
}

func (h *history) n(name string, most int64) int64 { return rapid.Int64Range(0, most).Draw(h.rt, name) }

// post writes a record that the books take; others leave no trace.
func (h *history) post(r books.Record) bool {
	at := h.day.Time().Add(time.Duration(8*60+len(h.entries)%600) * time.Minute)
	r.Happened = at
	if books.Daily(r.Kind) {
		r.Day = h.day
	}
	e := books.Entry{Record: books.Ruled(r), Machine: 1, Seq: int64(len(h.entries)) + 1, By: 1, Settings: 1,
		Recorded: at}
	if m := h.m.Clone(); r.Kind != books.Undo && r.Kind != books.Correction {
		if _, err := m.Post(e); err != nil {
			return false
		}
	}
	m, err := books.History(1, append(slices.Clip(h.entries), e))
	if err != nil {
		return false
	}
	h.m, h.entries = m, append(h.entries, e)
	return true
}

func figure(field books.Field, box int, notes int64) books.Figure {
	return books.Figure{Field: field, Box: box, Face: "20", Notes: notes}
}

// trade is a day from opening to close, with a difference now and then.
func (h *history) trade() {
	h.post(books.Record{Kind: books.Opening, Figures: []books.Figure{figure(books.Loaded, 1, 200)}})
	no, paid := h.m.Open, h.n("paid", 150)
	h.post(books.Record{Kind: books.Count, Period: no,
		Figures: []books.Figure{figure(books.Remaining, 1, 200-paid+h.n("over", 1))}})
	h.post(books.Record{Kind: books.Settlement, Period: no,
		Figures: []books.Figure{figure(books.PaidOut, 0, paid)}})
	if h.n("closed", 9) > 0 {
		h.post(books.Record{Kind: books.Close, Period: no, Where: books.Cash})
	}
}

// parts shares an amount out at random: for days, fees, charges, for nothing known.
func (h *history) parts(value decimal.Decimal) (parts []books.Part) {
	rest := value
	for range h.n("parts", 3) {
		p := books.Part{As: rapid.SampledFrom([]books.Share{books.Pays, books.Fee, books.Charge, books.Dispute,
			books.Extra, books.Foreign}).Draw(h.rt, "as"),
			Value: decimal.New(h.n("cents", 30_000)-5_000, -2)}
		if len(h.m.Claims) > 0 && p.As == books.Pays {
			p.Of = rapid.SampledFrom(h.m.Claims).Draw(h.rt, "claim").Seq
		}
		parts, rest = append(parts, p), rest.Sub(p.Value)
	}
	return append(parts, books.Part{As: books.Unknown, Value: rest})
}

// money is what goes between shop and bank on a day.
func (h *history) money() {
	value := decimal.New(1+h.n("value", 500_000), -2)
	switch h.n("what", 5) {
	case 0:
		h.post(books.Record{Kind: books.Debit, Parts: h.parts(value.Neg()),
			Amounts: []books.Amount{{Field: books.Debited, Value: value}}})
	case 1:
		if l := h.m.Loose; len(l) > 0 {
			h.post(books.Record{Kind: books.Matched, Parts: append(h.parts(l[0].Value),
				books.Part{As: l[0].As, Of: l[0].Seq, Value: l[0].Value.Neg()})})
		}
	case 2:
		if due := h.m.Due(); len(due) > 0 {
			h.post(books.Record{Kind: books.WriteOff, Reason: books.TooSmall,
				Parts: []books.Part{{As: books.GivenUp, Of: due[0].Seq, Value: due[0].Left()}}})
		}
	default:
		h.post(books.Record{Kind: books.Credit, Parts: h.parts(value),
			Amounts: []books.Amount{{Field: books.Credited, Value: value}}})
	}
}

// again takes a record back, or puts another in its place.
func (h *history) again() {
	if len(h.entries) == 0 {
		return
	}
	e := rapid.SampledFrom(h.entries).Draw(h.rt, "which")
	switch {
	case e.Kind == books.Credit && h.n("instead", 1) == 0:
		value := decimal.New(1+h.n("value", 500_000), -2)
		in := books.Record{Kind: books.Credit, Happened: e.Happened, Parts: h.parts(value),
			Amounts: []books.Amount{{Field: books.Credited, Value: value}}}
		h.post(books.Record{Kind: books.Correction, Target: e.Seq, Reason: books.Mistyped, Instead: &in})
	case e.Kind == books.Credit || e.Kind == books.Debit || e.Kind == books.Settlement:
		h.post(books.Record{Kind: books.Correction, Target: e.Seq, Reason: books.Twice})
	case e.Seq == int64(len(h.entries)) && e.Kind != books.Undo && e.Kind != books.Correction:
		h.post(books.Record{Kind: books.Undo, Period: e.Period, Target: e.Seq})
	}
}

// account is the change of the bank account on days of a span, by the amounts
// alone that were typed and hold.
func (h *history) account(from, to shop.Date) (sum decimal.Decimal) {
	for _, e := range books.InForce(h.entries) {
		if e.Day < from || e.Day > to {
			continue
		}
		for _, a := range e.Amounts {
			switch a.Field {
			case books.Credited:
				sum = sum.Add(a.Value)
			case books.Debited:
				sum = sum.Sub(a.Value)
			}
		}
	}
	return sum
}

// What files say of the bank account adds up to its change, to the cent, whatever was
// recorded: of the table, each row of it to its own parts, of the workbook, read by
// another library, and of the journal. So do months that were finished and what stands
// behind them, together.
func TestFileIsTheAccount(t *testing.T) {
	s := &shop.Shop{Settings: shop.Settings{Name: "Example", Currency: "EUR"}, Location: time.UTC}
	checks.Rapid(t, 60, 300, 20_000, func(rt *rapid.T) {
		h := &history{rt: rt, m: books.New(1)}
		for i := range int(rapid.IntRange(1, 12).Draw(rt, "days")) {
			h.day = first.Add(i)
			h.trade()
			for range h.n("payments", 2) {
				h.money()
			}
			if h.n("again", 3) == 0 {
				h.again()
			}
		}
		from := first.Add(int(h.n("from", 12)))
		to := from.Add(int(h.n("to", 12)))
		m, err := tally.Of(s, &shop.Machine{ID: 1, Name: "Front"}, h.entries, from, to)
		if err != nil {
			rt.Fatal(err)
		}
		want := h.account(from, to)
		for name, got := range map[string]decimal.Decimal{"table": fileSum(rt, m), "workbook": bookSum(rt, m),
			"journal": journalSum(rt, s, h.entries, from, to)} {
			if !got.Equal(want) {
				rt.Fatalf("the %s adds up to %s, the account changed by %s", name, got, want)
			}
		}
		finishedSum(rt, s, h)
	})
}

// bookSum reads the sheet of payments as another program would.
func bookSum(rt *rapid.T, m *tally.Machine) (sum decimal.Decimal) {
	var b bytes.Buffer
	if err := workbook.Write(&b, []*tally.Machine{m}, nil); err != nil {
		rt.Fatal(err)
	}
	x, err := xlsxreader.NewReader(b.Bytes())
	if err != nil {
		rt.Fatal(err)
	}
	column := ""
	for row := range x.ReadRows("Payments") {
		for i, c := range row.Cells {
			switch {
			case row.Error != nil:
				rt.Fatal(row.Error)
			case c.Value == "change of bank account":
				column = c.Column
			case c.Column == column && i > 0 && row.Cells[0].Value != "total":
				sum = sum.Add(decimal.RequireFromString(c.Value))
			}
		}
	}
	return sum
}

// journalSum adds up the postings of the bank account.
func journalSum(rt *rapid.T, s *shop.Shop, entries []books.Entry, from, to shop.Date) (sum decimal.Decimal) {
	list, err := journal.Of(s, 1, entries)
	if err != nil {
		rt.Fatal(err)
	}
	for _, t := range list {
		rest := decimal.Zero
		for _, p := range t.Postings {
			if rest = rest.Add(p.Value); p.Account == journal.Paid && from <= t.Date && t.Date <= to {
				sum = sum.Add(p.Value)
			}
		}
		if !rest.IsZero() {
			rt.Fatalf("entry %d leaves %s", t.Seq, rest)
		}
	}
	return sum
}

// finishedSum finishes October at some entry: its payments are what they were then, and
// with those of November they come to what came.
func finishedSum(rt *rapid.T, s *shop.Shop, h *history) {
	upto := rapid.Int64Range(0, int64(len(h.entries))).Draw(rt, "upto")
	list := []shop.Finished{{Month: "2026-10", Upto: map[shop.MachineID]int64{1: upto}}}
	came := func(entries []books.Entry, from, to shop.Date, list []shop.Finished) (sum, late decimal.Decimal) {
		m, err := tally.Finished(s, &shop.Machine{ID: 1}, entries, from, to, list)
		if err != nil {
			rt.Fatal(err)
		}
		for _, p := range m.Payments {
			if sum = sum.Add(p.Came()); p.Late {
				late = late.Add(p.Came())
			}
		}
		return sum, late
	}
	october, since := came(h.entries, "2026-10-01", "2026-10-31", list)
	was, _ := came(h.entries[:upto], "2026-10-01", "2026-10-31", nil)
	november, _ := came(h.entries, "2026-11-01", "2026-11-30", list)
	all, _ := came(h.entries, "", "", nil)
	if !october.Sub(since).Equal(was) || !october.Add(november).Equal(all) {
		rt.Fatalf("October came to %s, %s of it since, to %s when it was finished at %d; November to %s of %s",
			october, since, was, upto, november, all)
	}
}

// fileSum reads the file as a spreadsheet would.
func fileSum(rt *rapid.T, m *tally.Machine) (sum decimal.Decimal) {
	var b bytes.Buffer
	if err := tally.WriteCSV(&b, []*tally.Machine{m}, func(shop.PersonID) string { return "" }); err != nil {
		rt.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		rt.Fatal(err)
	}
	value := func(row []string, name string) decimal.Decimal {
		cell := row[slices.Index(rows[0], name)]
		if cell == "" {
			return decimal.Zero
		}
		v, err := decimal.NewFromString(cell)
		if err != nil {
			rt.Fatal(err)
		}
		return v
	}
	for _, row := range rows[1:] {
		came := value(row, "change of bank account")
		parts := value(row, "paid for claim day").Add(value(row, "own fees in payment")).
			Add(value(row, "unmatched or overpaid")).Sub(value(row, "charges taken off")).
			Sub(value(row, "claims of customers"))
		if !came.Equal(parts) {
			rt.Fatalf("%v: %s, and its parts are %s", row, came, parts)
		}
		sum = sum.Add(came)
	}
	return sum
}

// From books that let go of the day that a customer's claim is about, the claim has none, and
// that is said; from the first record it has.
func TestAstray(t *testing.T) {
	s := &shop.Shop{Settings: shop.Settings{Name: "Example", Currency: "EUR"}, Location: time.UTC}
	n := decimal.NewFromInt
	entries := ledger(t)
	then, err := books.Fold(1, entries)
	if err != nil {
		t.Fatal(err)
	}
	then.Periods = nil
	late := books.Entry{Machine: 1, Seq: 5, By: 1, Settings: 1, Record: books.Record{
		Kind: books.Debit, Period: 1, Day: "2027-03-01", Happened: shop.Date("2027-03-01").Time(),
		Amounts: []books.Amount{{Field: books.Debited, Value: n(40)}},
		Parts:   []books.Part{{As: books.Dispute, Value: n(-40)}}}}
	kit := &shop.Machine{ID: 1}
	m, err := tally.On(s, kit, then, []books.Entry{late}, "2027-03-01", "2027-03-31")
	if err != nil || len(m.Payments) != 1 || !m.Astray() {
		t.Fatalf("%v, %+v", err, m)
	}
	m, err = tally.Of(s, kit, append(entries, late), "2027-03-01", "2027-03-31")
	if err != nil || m.Astray() || m.Payments[0].ClaimDay != "2026-11-20" {
		t.Errorf("%v, %+v", err, m.Payments)
	}
}
