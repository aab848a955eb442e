package settling_test

import (
	"bufio"
	"encoding/json"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/matching"
	"shopfloat/internal/settling"
	"shopfloat/internal/shop"
	"shopfloat/internal/statement"
)

// known gives machines by their number, as the desk does.
func known(machines []settling.Machine) settling.Known {
	return func(id shop.MachineID, _ []int64) (*shop.Shop, *books.Machine) { return at(machines)(id) }
}

// Lines of one statement are booked one after the other to books that know the earlier
// ones: what is paid by one line is not paid by the next.
func TestLedgers(t *testing.T) {
	machines := []settling.Machine{owed(t, 1, 400), owed(t, 2, 300)}
	r := read(t, settling.Want{}, machines, "2026-11-03;Settlement;700.00")
	o, w := &r.Offers[0], &r.Offers[0].Ways[0]
	k := settling.NewLedgers(known(machines))
	if !k.Can(o, w, now) {
		t.Fatal("the books do not have what is due")
	}
	list, after, ok := k.Post(o, w, 1, now)
	if !ok || len(list) != 2 || len(after) != 2 {
		t.Fatalf("%d records, %d machines, %t", len(list), len(after), ok)
	}
	for _, m := range machines {
		if left := after[m.ID].Claims[0].Left(); !left.IsZero() || after[m.ID].Seq != m.Books.Seq+1 {
			t.Errorf("machine %d: %s left, entry %d", m.ID, left, after[m.ID].Seq)
		}
		if left := m.Books.Claims[0].Left(); left.IsZero() {
			t.Errorf("machine %d was changed where it is kept", m.ID)
		}
	}
	if k.Can(o, w, now) {
		t.Error("the same line can be booked twice")
	}
	if _, _, ok := k.Post(o, w, 1, now); ok {
		t.Error("the same line is booked twice")
	}
	for name, none := range map[string]*settling.Ledgers{"nobody knows": settling.NewLedgers(nil),
		"one machine is gone": settling.NewLedgers(known(machines[:1]))} {
		if _, _, ok := none.Post(o, w, 1, now); ok || none.Can(o, w, now) {
			t.Errorf("%s: it is booked", name)
		}
	}
}

// What is wrong with a file is said in words, and nothing is offered of it.
func TestUnreadable(t *testing.T) {
	machines := []settling.Machine{owed(t, 1, 400)}
	for name, text := range map[string]string{"empty": "", "no statement": "hello there",
		"broken": "<Document><Stmt>"} {
		r := settling.Read(strings.NewReader(text), int64(len(text)), 0, settling.Want{}, machines)
		if r.Problem == "" && r.Unsure == nil || len(r.Offers) != 0 {
			t.Errorf("%s: %+v", name, r)
		}
	}
	if r := settling.Read(strings.NewReader("x"), 1, 0, settling.Want{}, nil); !r.Untied ||
		r.Problem != "" {
		t.Errorf("for no machine: %+v", r)
	}
}

// A table that names no account is known by its headings; a long payer is cut short.
func TestTableWithoutAccount(t *testing.T) {
	machines := []settling.Machine{owed(t, 1, 400)}
	text := "Date;Text;Amount\n2026-11-03;" + strings.Repeat("long ", 20) + ";400.00\n"
	r := settling.Read(strings.NewReader(text), int64(len(text)), 0, settling.Want{}, machines)
	if len(r.Accounts) != 1 || !strings.HasPrefix(r.Accounts[0], "table-") || !r.Untied || r.Ends != "" {
		t.Fatalf("%+v", r)
	}
	machines[0].Shop.Bank = machines[0].Shop.Bank.With(r.Accounts[0])
	r = settling.Read(strings.NewReader(text), int64(len(text)), 0, settling.Want{}, machines)
	if len(r.Offers) != 1 || len([]rune(r.Offers[0].From)) != 40 || !strings.HasSuffix(r.Offers[0].From,
		"…") {
		t.Errorf("%+v", r.Offers)
	}
	if got := r.Offers[0].Ways[0].Of(1); len(got) != 1 || got[0] != 10 {
		t.Errorf("it would be for %v", got)
	}
	if got := r.Offers[0].Ways[0].Of(2); len(got) != 0 {
		t.Errorf("at a machine it is not about: %v", got)
	}
}

// A table that names no money is in that of the shops that its account is tied to, not of the
// first shop that its reader keeps.
func TestMoneyOfTheAccount(t *testing.T) {
	here, there := owed(t, 1, 400), owed(t, 2, 400)
	there.Shop.Currency = "GBP"
	here.Shop.Bank = shop.Bank{}
	r := read(t, settling.Want{}, []settling.Machine{here, there}, "2026-11-03;settlement;400.00")
	if len(r.Offers) != 1 || r.Offers[0].Currency != "GBP" || len(r.Offers[0].Ways[0].Of(2)) != 1 {
		t.Errorf("%+v", r)
	}
	const text = "Date;Text;Amount\n2026-11-03;settlement;400.00\n"
	told := func() *settling.Reading {
		return settling.Read(strings.NewReader(text), int64(len(text)), 0, settling.Want{},
			[]settling.Machine{here, there})
	}
	there.Shop.Bank = there.Shop.Bank.With(told().Accounts[0])
	if r := told(); len(r.Offers) != 1 || r.Offers[0].Currency != "GBP" {
		t.Errorf("a table that names no account: %+v", r)
	}
}

// The day comes first in a date unless every shop writes it the other way.
func TestDateOrder(t *testing.T) {
	here, there := owed(t, 1), owed(t, 2)
	there.Shop.Country = "US"
	for want, list := range map[statement.Order][]settling.Machine{statement.MonthDay: {there},
		statement.DayFirst: {there, here}} {
		if got := settling.DateOrder(list); got != want {
			t.Errorf("%d shops: %s", len(list), got)
		}
	}
}

// What is printed of an outcome: each proposal with its reason, the number of lines for
// no shop, and those that were booked before; in JSON the same.
func TestPrinted(t *testing.T) {
	day := func(date shop.Date, currency string) []*matching.Claim {
		return []*matching.Claim{{Day: date, Currency: currency}}
	}
	n := decimal.NewFromInt
	report := statement.Report{Lines: 8, Balance: "ok"}
	o := matching.Outcome{
		Matched: []matching.Proposal{{Line: 1, Amount: n(400), For: day("2026-11-02", "EUR"), Sure: true,
			Why: matching.Exact}},
		Offered: []matching.Proposal{
			{Line: 2, Amount: n(300), For: day("2026-11-03", "EUR"), Why: matching.Exact, Same: true,
				Late: true},
			{Line: 3, Amount: n(5000), For: day("2026-11-04", "JPY"), Why: matching.InParts, Other: 4},
			{Line: 4, Amount: n(-5), Why: matching.TakenBack},
		}, Seen: []int{5}}
	var text strings.Builder
	settling.Print(&text, report, o)
	for _, want := range []string{"8 lines, balance ok\n",
		"line 1  400   sure     2026-11-02  the sum of the day\n",
		"the sum of the day; another day has the same sum; late", "a part; line 4 has another",
		"takes back a payment that is booked", "3 foreign, 1 booked before\n"} { // 6, 7 and 8
		if !strings.Contains(text.String(), want) {
			t.Errorf("%q is missing in\n%s", want, text.String())
		}
	}
	if strings.Contains(text.String(), "%") {
		t.Errorf("a gap was left open:\n%s", text.String())
	}
	var data strings.Builder
	w := bufio.NewWriter(&data)
	settling.WriteJSON(w, report, o)
	if err := w.Flush(); err != nil {
		t.Fatal(err)
	}
	var back struct {
		Lines            int
		Matched, Offered []struct {
			Line   int
			Amount string
			Claims []string
		}
		Foreign, Seen []int
	}
	if err := json.Unmarshal([]byte(data.String()), &back); err != nil {
		t.Fatalf("%v:\n%s", err, data.String())
	}
	if back.Lines != 8 || len(back.Matched) != 1 || back.Matched[0].Amount != "400.00" ||
		len(back.Offered) != 3 ||
		back.Offered[1].Amount != "5000" || len(back.Offered[2].Claims) != 0 || len(back.Foreign) != 3 ||
		back.Foreign[0] != 6 || len(back.Seen) != 1 {
		t.Errorf("%+v", back)
	}
}

// What a line takes back goes no further than what was paid, and a claim of a customer
// is no payment for the day.
func TestTakenBack(t *testing.T) {
	m := owed(t, 1, 400)
	m.Books.Claims[0].Paid = decimal.NewFromInt(100)
	line := func(amount int64, as matching.As, seq int64) (*settling.Offer, *settling.Way) {
		v := decimal.NewFromInt(amount)
		w := settling.Way{Parts: []settling.Part{{As: as, Shop: 1, Machine: 1, Seq: seq, Value: v}}}
		return &settling.Offer{No: 1, Amount: v, Line: shop.Line{Day: "2026-11-10", Digest: "d", No: 1,
			Value: v},
			Ways: []settling.Way{w}}, &w
	}
	for name, s := range map[string]struct {
		amount int64
		as     matching.As
		seq    int64
		want   bool
	}{
		"as much as was paid": {-100, matching.Pays, 10, true}, "more than was paid": {-101,
			matching.Pays, 10, false},
		"the rest": {300, matching.Pays, 10, true}, "more than is left": {301, matching.Pays, 10, false},
		"a claim of a customer": {-40, matching.Dispute, 10, true}, "a day that is gone": {40,
			matching.Pays, 77, false},
		"for no day": {40, matching.Pays, 0, false}, "a fee": {40, matching.Fee, 0, true},
	} {
		o, w := line(s.amount, s.as, s.seq)
		list, ok := o.Book(w, at([]settling.Machine{m}), now)
		if ok != s.want {
			t.Errorf("%s: %t", name, ok)
		}
		if ok && (list[0].Record.Kind == books.Debit) != (s.amount < 0) {
			t.Errorf("%s: a record of kind %s", name, list[0].Record.Kind)
		}
	}
}
