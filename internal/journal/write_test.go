package journal_test

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/journal"
	"shopfloat/internal/shop"
)

// Machines whose names a journal would write alike keep accounts of their own, or what is
// asserted of one would be of both.
func TestNamesAlike(t *testing.T) {
	var ledgers []journal.Ledger
	for i, names := range [][2]string{{"Corner", "Door"}, {"Corner", "Door"}, {"corner!", "DOOR"},
		{"Corner", "Door 2"}} {
		s := &shop.Shop{ID: shop.ID(i + 1)}
		s.Name, s.Currency = names[0], "EUR"
		cash := []journal.Posting{{Account: journal.Cash, Value: decimal.NewFromInt(-1)},
			{Account: "assets:machine:box 1", Value: decimal.NewFromInt(1)}}
		ledgers = append(ledgers, journal.Ledger{Shop: s,
			Machine:      &shop.Machine{ID: shop.MachineID(i + 1), Name: names[1]},
			Transactions: []journal.Transaction{{Date: "2026-11-09", Seq: 1, Postings: cash}}})
	}
	for _, beancount := range []bool{false, true} {
		var b strings.Builder
		if err := journal.Write(&b, ledgers, journal.Options{Beancount: beancount}); err != nil {
			t.Fatal(err)
		}
		seen := map[string]int{}
		for l := range strings.Lines(b.String()) {
			if account, _, posting := strings.Cut(strings.TrimLeft(l, " "), "  "); posting && l[0] == ' ' {
				seen[strings.ToLower(account)]++
			}
		}
		if len(seen) != 2*len(ledgers) {
			t.Errorf("beancount %v: %d accounts of %d machines\n%s", beancount, len(seen), len(ledgers), b.String())
		}
	}
}

// Where a commodity is declared its amount has a point, or hledger reads nothing of the file.
func TestCommodities(t *testing.T) {
	for code, want := range map[string]string{"EUR": "1000.00 EUR", "JPY": "1000. JPY", "KWD": "1000.000 KWD"} {
		s := &shop.Shop{ID: 1}
		s.Name, s.Currency = "Corner", code
		var b strings.Builder
		err := journal.Write(&b, []journal.Ledger{{Shop: s, Machine: &shop.Machine{ID: 1, Name: "Door"}}},
			journal.Options{})
		if err != nil || !strings.Contains(b.String(), "\ncommodity "+want+"\n") {
			t.Errorf("%s: %v\n%s", code, err, b.String())
		}
	}
}
