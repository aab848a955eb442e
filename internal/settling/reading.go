package settling

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/matching"
	"shopfloat/internal/names"
	"shopfloat/internal/shop"
	"shopfloat/internal/statement"
)

// Reading is what a statement says about the shops of its account, as far as a
// dialog needs it. It is good as JSON.
type Reading struct {
	Lines    int             `json:"lines"`
	From     shop.Date       `json:"from,omitempty"` // of its lines
	To       shop.Date       `json:"to,omitempty"`
	Balance  statement.Check `json:"balance,omitempty"`
	Foreign  int             `json:"foreign,omitempty"` // lines that are for no shop
	Others   []Other         `json:"others,omitempty"`  // the first of these
	Numbers  string          `json:"numbers,omitempty"` // of these, like 1-3, 7
	Seen     int             `json:"seen,omitempty"`    // lines that are booked
	Accounts []string        `json:"accounts,omitempty"`
	Ends     string          `json:"ends,omitempty"` // the last digits of the account's number; empty: the file says none
	Untied   bool            `json:"untied,omitempty"`
	Offers   []Offer         `json:"offers,omitempty"` // what is sure before what is not
	More     bool            `json:"more,omitempty"`   // there is more behind the last of them

	// At is the last entry of each machine when it was read: what was recorded since is not in it.
	At map[shop.MachineID]int64 `json:"at,omitempty"`

	Problem string            `json:"problem,omitempty"` // in a sentence; empty: it was read
	Unsure  *statement.Unsure `json:"unsure,omitempty"`
	Head    string            `json:"head,omitempty"`   // of a table
	Layout  *statement.Layout `json:"layout,omitempty"` // by which it was read, where a person had to say it
}

// Other is a line that is for no shop.
type Other struct {
	No       int             `json:"no"`
	Day      shop.Date       `json:"day"`
	Amount   decimal.Decimal `json:"amount"`
	Currency string          `json:"currency,omitempty"`
	From     string          `json:"from,omitempty"`
}

// Offer is a line with what it may be for.
type Offer struct {
	No       int             `json:"no"`
	Amount   decimal.Decimal `json:"amount"`
	Currency string          `json:"currency,omitempty"`
	From     string          `json:"from,omitempty"` // who is at the other end, or what it is for
	Line     shop.Line       `json:"line"`
	Ref      string          `json:"ref,omitempty"` // the bank's own, for whoever keeps the books
	Ways     []Way           `json:"ways"`          // the best first
}

// Sure reports whether there is no doubt what a line is for.
func (o *Offer) Sure() bool { return len(o.Ways) == 1 && o.Ways[0].Sure }

// Way is one thing that a line may be for.
type Way struct {
	Why   matching.Why `json:"why"`
	Sure  bool         `json:"sure,omitempty"`
	Late  bool         `json:"late,omitempty"`
	Same  bool         `json:"same,omitempty"`
	Other int          `json:"other,omitempty"`
	Parts []Part       `json:"parts"`
}

// Part is a part of a line; machine and settlement are none where it is for none.
type Part struct {
	As      matching.As     `json:"as"`
	Shop    shop.ID         `json:"shop,omitempty"`
	Machine shop.MachineID  `json:"machine,omitempty"`
	Seq     int64           `json:"seq,omitempty"`
	Day     shop.Date       `json:"day,omitempty"`
	Value   decimal.Decimal `json:"value"`
}

// MaxWays is how many proposals a reading holds at most.
const MaxWays = 200

// fromMax bounds what is shown of a line's words, in letters.
const fromMax = 40

// Want says how a statement is to be read.
type Want struct {
	After int                    `json:"after,omitempty"` // a page: lines after this one of those that are not sure
	Said  map[statement.Role]int `json:"said,omitempty"`
	Dates statement.Order        `json:"dates,omitempty"`
	Ties  bool                   `json:"ties,omitempty"` // the account's shops were named just now
}

// Read reads a statement for the machines of the shops that somebody keeps. Only
// shops that the account is tied to are matched.
func Read(file io.ReaderAt, size, most int64, want Want, machines []Machine) *Reading {
	r := &Reading{At: map[shop.MachineID]int64{}}
	if len(machines) == 0 {
		r.Untied = true
		return r
	}
	opt := statement.Options{Max: most, Said: want.Said, Dates: want.Dates, Layouts: layouts(machines),
		Currency: machines[0].Shop.Currency, Money: Money(machines)}
	sieve := matching.NewSieve(Facts(machines))
	var first []Other
	report, err := statement.Read(file, size, opt, func(l statement.Line) error {
		r.From, r.To = cmp.Or(min(r.From, l.Day), l.Day), max(r.To, l.Day)
		if sieve.Add(l); len(first) < othersKept {
			from := short(strings.TrimSpace(cmp.Or(l.Name, l.Text)))
			first = append(first, Other{l.No, l.Day, l.Amount, l.Currency, from})
		}
		return nil
	})
	r.Lines, r.Balance, r.Head, r.Unsure = report.Lines, report.Balance, report.Head, report.Unsure
	if err != nil {
		r.Problem = problem(err)
		return r
	}
	if want.Said != nil || want.Dates != "" {
		r.Layout = report.Layout
	}
	r.accounts(report)
	tied := Tied(machines, r.Accounts)
	if r.Untied = len(tied) == 0; r.Untied {
		return r
	}
	r.match(sieve.Lines(), tied, report, want.After, first)
	return r
}

// match puts lines to the machines of the shops that the account is tied to.
func (r *Reading) match(all []statement.Line, tied []Machine, report statement.Report, after int,
	first []Other) {
	for _, m := range tied {
		r.At[m.ID] = m.Books.Seq
	}
	o := matching.Match(all, Facts(tied))
	r.Seen = len(o.Seen)
	r.foreign(report, o, first)
	r.offers(all, o, after)
}

// problem is what is wrong with a file, for whoever sent it.
func problem(err error) string {
	var p *statement.Problem
	if errors.As(err, &p) {
		return p.Error()
	}
	return (&statement.Problem{Code: statement.Broken}).Error()
}

// accounts are the accounts of a file by the digests of their numbers; of a table
// that names none by its headings.
func (r *Reading) accounts(report statement.Report) {
	for _, id := range report.Accounts {
		r.Accounts = append(r.Accounts, accountKey(id))
		r.Ends = id[max(0, len(id)-4):]
	}
	switch {
	case len(report.Accounts) == 0:
		r.Accounts = []string{tableKey(cmp.Or(report.Head, string(report.Format)))}
	case len(report.Accounts) > 1:
		r.Ends = ""
	}
}

// accountKey and tableKey are by what an account is remembered, and a table that names none.
func accountKey(id string) string {
	sum := sha256.Sum256([]byte("account " + id))
	return hex.EncodeToString(sum[:8])
}

func tableKey(head string) string { return "table-" + head }

// maxKnown bounds the accounts of one file whose currency is kept.
const maxKnown = 100

// Money gives the currency of the shops that an account is tied to, for lines that name none.
func Money(machines []Machine) statement.Money {
	type asked struct{ account, head string }
	known := map[asked]string{}
	return func(account, head string) string {
		money, ok := known[asked{account, head}]
		if ok {
			return money
		}
		key := tableKey(head)
		if account != "" {
			key = accountKey(account)
		}
		if tied := Tied(machines, []string{key}); len(tied) > 0 {
			money = tied[0].Shop.Currency
		}
		if len(known) < maxKnown {
			known[asked{account, head}] = money
		}
		return money
	}
}

// Tied are the machines of the shops that all of the accounts are tied to in part.
func Tied(machines []Machine, accounts []string) (list []Machine) {
	for _, m := range machines {
		if slices.ContainsFunc(accounts, func(a string) bool { return slices.Contains(m.Shop.Bank.Accounts, a) }) {
			list = append(list, m)
		}
	}
	return list
}

// layouts are the tables of banks that any of the shops was told of.
func layouts(machines []Machine) map[string]statement.Layout {
	all := map[string]statement.Layout{}
	for _, m := range machines {
		for _, t := range m.Shop.Bank.Tables {
			if l, err := LayoutOf(t); err == nil {
				all[t.Head] = l
			}
		}
	}
	return all
}

// offers puts what is sure before what is not, and keeps as much as a reading may hold.
func (r *Reading) offers(all []statement.Line, o matching.Outcome, after int) {
	numbers := map[string]int{}
	byNo := map[int]*Offer{}
	for _, l := range all {
		k := matching.KeyOf(l)
		numbers[k.Digest]++
		byNo[l.No] = &Offer{No: l.No, Amount: l.Amount, Currency: l.Currency,
			From: short(strings.TrimSpace(cmp.Or(l.Name, l.Text))), Ref: names.Reference(l.Ref),
			Line: shop.Line{Ref: k.Ref, Day: k.Day, Digest: k.Digest, No: numbers[k.Digest], Value: l.Amount}}
	}
	ways := 0
	for _, p := range slices.Concat(o.Matched, o.Offered) {
		of := byNo[p.Line]
		if of == nil || p.Line <= after && !p.Sure {
			continue
		}
		if ways == MaxWays {
			r.More = true
			break
		}
		of.Ways = append(of.Ways, wayOf(p))
		if ways++; len(of.Ways) == 1 {
			r.Offers = append(r.Offers, Offer{No: p.Line})
		}
	}
	for i := range r.Offers {
		r.Offers[i] = *byNo[r.Offers[i].No]
	}
}

func short(s string) string {
	if letters := []rune(s); len(letters) > fromMax {
		return string(letters[:fromMax-1]) + "…"
	}
	return s
}

func wayOf(p matching.Proposal) Way {
	w := Way{Why: p.Why, Sure: p.Sure, Late: p.Late, Same: p.Same, Other: p.Other}
	for _, x := range p.Parts {
		part := Part{As: x.As, Value: x.Value}
		if c := x.Claim; c != nil {
			part.Shop, part.Machine, part.Seq, part.Day = c.Shop, c.Machine, c.Seq, c.Day
		}
		w.Parts = append(w.Parts, part)
	}
	return w
}

// Sure are the lines without a doubt that are not gone through yet.
func (r *Reading) Sure() (list []*Offer) {
	for i := range r.Offers {
		if r.Offers[i].Sure() {
			list = append(list, &r.Offers[i])
		}
	}
	return list
}
