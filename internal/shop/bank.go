package shop

import (
	"encoding/json"
	"slices"
	"time"

	"github.com/shopspring/decimal"
)

// Bank is what was said of the statements of a shop's bank, so that it is asked once.
type Bank struct {
	Accounts []string `json:"accounts,omitempty"` // digests of the numbers of accounts that are the shop's
	Tables   []Table  `json:"tables,omitempty"`   // how the columns of tables are understood
}

// Table says how the columns of one bank's tables are understood.
type Table struct {
	Head   string          `json:"head"` // digest of the words above the columns
	Layout json.RawMessage `json:"layout"`
}

// keepTables bounds what is remembered of either kind; the oldest goes first.
const keepTables = 20

// With adds an account, unless it is empty or known.
func (b Bank) With(account string) Bank {
	if account != "" && !slices.Contains(b.Accounts, account) {
		b.Accounts = last(append(slices.Clone(b.Accounts), account))
	}
	return b
}

// Knowing adds a table, in place of the one that was known by its head.
func (b Bank) Knowing(t Table) Bank {
	if t.Head != "" {
		same := func(o Table) bool { return o.Head == t.Head }
		b.Tables = last(append(slices.DeleteFunc(slices.Clone(b.Tables), same), t))
	}
	return b
}

func last[T any](list []T) []T { return list[max(0, len(list)-keepTables):] }

// Line is by what a line of a bank's statement is known again once it was booked:
// the bank's own reference, else its day, sum and words. One that was split between
// machines stands in the ledger of each.
type Line struct {
	Ref    string          `json:"ref,omitempty"` // digest of the bank's own reference
	Day    Date            `json:"day"`           // booked by the bank
	Digest string          `json:"digest"`        // of day, sum and words
	No     int             `json:"no,omitempty"`  // among lines of the same digest, from 1
	Value  decimal.Decimal `json:"value"`         // of the whole line
}

// Finished is a month of a shop's books that was finished: its figures stay.
type Finished struct {
	Month string // like 2026-11
	By    PersonID
	At    time.Time
	Upto  map[MachineID]int64 // the last entry of each machine that is in it
}

// First is the first day of the month.
func (f Finished) First() Date { return Date(f.Month + "-01") }
