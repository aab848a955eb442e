// Package statement reads what a bank says happened on an account: ISO 20022
// camt.053 and camt.054, OFX 1 and 2, and tables of comma-separated values,
// packed by gzip or zip or as they are. It hands over a line after the other and
// keeps none, so that a large file costs no more memory than a small one.
//
// The package is pure and trusts no file: what it cannot read it says in one
// sentence (a [Problem]), and nothing in a file is ever opened, expanded or run.
package statement

import (
	"errors"
	"io"

	"github.com/shopspring/decimal"

	"shopfloat/internal/shop"
)

// Line is one booked transaction of an account.
type Line struct {
	No       int             // from 1 in file order; each transaction of a batch has its own
	Account  string          // IBAN or number, without blanks; empty: the file does not say
	Day      shop.Date       // booked
	Value    shop.Date       // from when the bank reckons it; empty: the file does not say
	Amount   decimal.Decimal // what moved on the account; below nothing when money went out
	Currency string          // ISO 4217; empty: the file does not say
	Charges  decimal.Decimal // the bank says that it took so much off before
	Ref      string          // the bank's own reference; empty: none
	Loose    bool            // Ref stands in a table, and other lines may have it too
	Name     string          // who is at the other end
	Text     string          // what it is for, in the bank's or the payer's words
	Reversal bool            // takes an earlier line back
	Balance  decimal.Decimal // after it, where Balanced
	Balanced bool
}

// Format says what kind of file it was.
type Format string

// The formats.
const (
	Camt053 Format = "camt.053"
	Camt054 Format = "camt.054"
	OFX     Format = "ofx"
	CSV     Format = "csv"
)

// Check is what became of comparing the balances with the lines.
type Check string

// The outcomes. A file that tells no balance at begin and end cannot be checked.
const (
	Agrees    Check = "ok"
	Differs   Check = "differs"
	Unchecked Check = "none"
)

// and joins the outcomes of two statements in one file.
func (c Check) and(o Check) Check {
	switch {
	case c == Differs || o == Differs:
		return Differs
	case c == Agrees || o == Agrees:
		return Agrees
	}
	return Unchecked
}

// Report is what is known of a file once it was read.
type Report struct {
	Format   Format
	Lines    int
	Pending  int // left out: not booked yet
	Balance  Check
	Accounts []string // in file order
	Layout   *Layout  // CSV: how the columns were understood
	Head     string   // CSV: by what tables of the same bank are known again
	Unsure   *Unsure  // CSV: what a person has to say before it can be read
}

// Options say what the reader cannot find in the file.
type Options struct {
	Max      int64   // bytes, also of what is packed; 0: [MaxSize]
	Currency string  // of lines that name none
	Money    Money   // likewise by the account, where that is known better
	Dates    Order   // CSV: order of day and month where the file leaves it open
	Layout   *Layout // CSV: how this bank's columns were understood before

	Layouts map[string]Layout // CSV: likewise of several banks, by [Report.Head]
	Said    map[Role]int      // CSV: the columns that a person named
}

// Money gives the currency of an account, of a table without one by its [Report.Head]; empty:
// it is not known.
type Money func(account, head string) string

// MaxSize is the largest file that is read, packed or not.
const MaxSize = 50 << 20

// Read hands over every booked line of a file in its order. What each returns
// ends the reading. A *[Problem] is for the person who sent the file.
func Read(file io.ReaderAt, size int64, opt Options, each func(Line) error) (Report, error) {
	if opt.Max <= 0 {
		opt.Max = MaxSize
	}
	r := &reader{opt: opt, each: each, report: Report{Balance: Unchecked}}
	err := unpack(file, size, opt.Max, r.text)
	var own *stopped
	if errors.As(err, &own) {
		return r.report, own.err
	}
	if err == nil && r.report.Format == "" {
		err = problem(Empty)
	}
	return r.report, err
}

// reader is what the readers of all formats share.
type reader struct {
	opt    Options
	each   func(Line) error
	report Report
}

// text reads one unpacked file.
func (r *reader) text(in io.Reader) error {
	src, kind, err := decoded(in)
	if err != nil {
		return err
	}
	switch kind {
	case xmlText:
		return r.camt(src)
	case ofxText:
		return r.ofx(src)
	default:
		return r.csv(src)
	}
}

// line numbers a line and hands it over.
func (r *reader) line(l Line) error {
	if l.Currency == "" && r.opt.Money != nil {
		l.Currency = r.opt.Money(l.Account, r.report.Head)
	}
	if l.Currency == "" {
		l.Currency = r.opt.Currency
	}
	r.report.Lines++
	l.No = r.report.Lines
	if err := r.each(l); err != nil {
		return &stopped{err}
	}
	return nil
}

// account notes that a file is about an account.
func (r *reader) account(id string) {
	if id == "" {
		return
	}
	for _, have := range r.report.Accounts {
		if have == id {
			return
		}
	}
	if len(r.report.Accounts) < maxAccounts {
		r.report.Accounts = append(r.report.Accounts, id)
	}
}

// maxAccounts bounds the accounts that are listed.
const maxAccounts = 100
