// Package journal writes the ledger of machines as a plain-text journal of double
// entry, which other people's programs read: in the language that hledger and
// ledger have in common, or in that of beancount. It is pure.
//
// There is one transaction for each record that moves money, dated by the day it
// happened on (payments by the day they are told under, with the bank's own reference
// and the days they are for), and its postings are what the record changed: notes of each place
// at their value, what the bank owes, what it paid. After each close the balance
// of every place of the machine is asserted, so that a reader finds a line that
// was changed or lost.
package journal

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
	"shopfloat/internal/stand"
)

// Account is a place or a kind of income or cost of one machine.
type Account string

// The accounts beside those of the machine's own places.
const (
	Cash      Account = "assets:cash"              // the shop's own cash: below nothing when it was put in
	Till      Account = "assets:till"              // borrowed for change
	BankNotes Account = "equity:notes of the bank" // fetched from the bank as notes
	Owed      Account = "assets:owed by the bank"
	Paid      Account = "assets:bank account"
	Gone      Account = "assets:paid out, no slip yet"
	Customers Account = "equity:slips without notes" // days that tell amounts only
	OverShort Account = "expenses:differences"
	Fees      Account = "income:fees"
	Charges   Account = "expenses:charges of the bank"
	Disputed  Account = "expenses:claims of customers"
	GivenUp   Account = "expenses:given up"
	Loose     Account = "liabilities:paid for nothing known"
	Before    Account = "equity:opening balances"
)

// Posting is one line of a transaction.
type Posting struct {
	Account Account
	Value   decimal.Decimal
	Claim   shop.Date // the day that a payment is for; empty: it is for none
}

// Transaction is what one record changed; the postings add up to nothing.
type Transaction struct {
	Date     shop.Date
	Kind     books.Kind // empty: the balances before
	Seq      int64
	Postings []Posting
	Ref      string    // the bank's own reference of a payment
	Sealed   bool      // a top-up of bundles that nobody counted
	Ends     bool      // a close: balances are asserted behind it
	For      shop.Date // of a day of a month that was finished before it was recorded; empty: of its own date
}

// Of lists a machine's transactions by date, and by their order within one.
func Of(m *shop.Shop, id shop.MachineID, entries []books.Entry) ([]Transaction, error) {
	return on(m, books.New(id), entries)
}

// on is [Of] from books on that were folded over all entries before these: what stands in
// them is one transaction, of no day, before all others.
func on(m *shop.Shop, then *books.Machine, entries []books.Entry) ([]Transaction, error) {
	var list []Transaction
	before := balances(then)
	if p := changes(nil, before); len(p) > 0 {
		list = append(list, Transaction{Postings: p})
	}
	_, err := books.WalkOn(then, entries, func(e books.Entry, now *books.Machine) {
		after := balances(now)
		t := Transaction{Date: dateOf(m, e), Kind: e.Kind, Seq: e.Seq, Ref: e.Ref,
			Sealed: e.Kind == books.TopUp && e.Has(books.Uncounted),
			Ends:   e.Kind == books.Close, Postings: byClaim(changes(before, after), e, now)}
		before = after
		if len(t.Postings) > 0 || t.Ends {
			list = append(list, t)
		}
	})
	slices.SortStableFunc(list, func(a, b Transaction) int { return cmp.Compare(a.Date, b.Date) })
	return list, err
}

// dateOf is the date of a record: the day it happened on, for money between shop and
// bank that under which it is told everywhere. No box holds that, so what is asserted of
// boxes does not mind.
func dateOf(m *shop.Shop, e books.Entry) shop.Date {
	switch e.Kind {
	case books.Credit, books.Debit, books.Matched, books.WriteOff:
		return cmp.Or(e.Day, shop.DateOf(e.Happened.In(m.Location)))
	}
	return shop.DateOf(e.Happened.In(m.Location))
}

// byClaim parts what a payment changed of what the bank owes by the days it is for.
func byClaim(list []Posting, e books.Entry, now *books.Machine) []Posting {
	i := slices.IndexFunc(list, func(p Posting) bool { return p.Account == Owed })
	var parts []Posting
	left := decimal.Zero
	for _, p := range e.Parts {
		if c := now.Claim(p.Of); c != nil && c.Day != "" && (p.As == books.Pays || p.As == books.GivenUp) {
			parts = append(parts, Posting{Owed, p.Value.Neg(), c.Day})
			left = left.Add(p.Value)
		}
	}
	if i < 0 || len(parts) == 0 || !left.Add(list[i].Value).IsZero() {
		return list
	}
	return slices.Replace(list, i, i+1, parts...)
}

// balances are what stands on each account.
func balances(m *books.Machine) map[Account]decimal.Decimal {
	b := map[Account]decimal.Decimal{}
	for p, n := range m.Balance {
		a := accountOf(p)
		b[a] = b[a].Add(n.Value())
	}
	left, slips := stand.LeftOpen(m)
	b[notCounted] = left.Sub(slips)
	b[Gone] = b[Gone].Sub(left)
	b[Customers] = b[Customers].Sub(m.Money.Claimed).Add(slips)
	b[Owed], b[Paid] = m.ByBank(), m.Money.Came
	b[GivenUp] = m.Money.GivenUp
	b[Fees], b[Charges], b[Disputed] = m.Money.Fees.Neg(), m.Money.Charges, m.Money.Disputed
	for _, l := range m.Loose {
		b[Loose] = b[Loose].Sub(l.Value)
	}
	return b
}

// accountOf names the account of a place.
func accountOf(p books.Place) Account {
	switch p {
	case books.Tray:
		return machine + "refused notes"
	case books.Path:
		return machine + "found notes"
	case books.Cash:
		return Cash
	case books.Till:
		return Till
	case books.Bank:
		return BankNotes
	case books.Customers:
		return Customers
	case books.Gone:
		return Gone
	case books.OverShort:
		return OverShort
	}
	return machine + Account("box "+strings.TrimPrefix(string(p), "box:"))
}

// machine begins the accounts of the places inside a machine.
const machine Account = "assets:machine:"

// notCounted is what slips of a day say that left its boxes, until these are counted.
const notCounted = machine + "paid out, not counted"

// inside reports whether an account is a place inside the machine.
func (a Account) inside() bool { return strings.HasPrefix(string(a), string(machine)) }

func changes(before, after map[Account]decimal.Decimal) (list []Posting) {
	all := map[Account]decimal.Decimal{}
	maps.Copy(all, before)
	maps.Copy(all, after)
	for _, a := range slices.Sorted(maps.Keys(all)) {
		if d := after[a].Sub(before[a]); !d.IsZero() {
			list = append(list, Posting{Account: a, Value: d})
		}
	}
	return list
}

// within keeps the transactions of a span of days; what was before becomes one of
// its own. Empty dates leave a side open.
func within(list []Transaction, from, to shop.Date) []Transaction {
	var kept []Transaction
	sum := map[Account]decimal.Decimal{}
	for _, t := range list {
		switch {
		case to != "" && t.Date > to:
		case from != "" && t.Date < from:
			for _, p := range t.Postings {
				sum[p.Account] = sum[p.Account].Add(p.Value)
			}
		default:
			kept = append(kept, t)
		}
	}
	if postings := changes(nil, sum); len(postings) > 0 {
		rest := decimal.Zero
		for _, p := range postings {
			rest = rest.Sub(p.Value)
		}
		if !rest.IsZero() {
			postings = append(postings, Posting{Account: Before, Value: rest})
		}
		kept = slices.Insert(kept, 0, Transaction{Date: from, Postings: postings})
	}
	return kept
}
