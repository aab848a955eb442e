package journal

import (
	"bufio"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"unicode"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
)

// Ledger is one machine's transactions with its name.
type Ledger struct {
	Shop         *shop.Shop
	Machine      *shop.Machine
	Transactions []Transaction
}

// Options say what to write.
type Options struct {
	From, To  shop.Date // empty: all
	Beancount bool
}

// Write writes the journals of machines one after the other.
func Write(to io.Writer, ledgers []Ledger, o Options) error {
	w := &writer{Writer: bufio.NewWriter(to), o: o, taken: map[string]bool{}}
	w.head(ledgers)
	for _, l := range ledgers {
		w.ledger(l, within(l.Transactions, o.From, o.To))
	}
	return w.Flush()
}

type writer struct {
	*bufio.Writer
	o     Options
	shop  string // begins the names of accounts
	taken map[string]bool
	unit  string
	cash  cashmath.Currency
}

func (w *writer) line(format string, args ...any) {
	_, _ = fmt.Fprintf(w, format+"\n", args...) // the buffer keeps its error
}

// head says what the file is, and how its commodities are written.
func (w *writer) head(ledgers []Ledger) {
	w.line("; Written by shopfloat. Money is the value of notes at each place; nothing here advises on tax.")
	seen := map[string]bool{}
	for _, l := range ledgers {
		c, err := cashmath.LookupCurrency(l.Shop.Currency)
		if err != nil || seen[c.Code()] {
			continue
		}
		seen[c.Code()] = true
		if !w.o.Beancount {
			w.line("commodity %s %s", pointed(c.Amount(decimal.NewFromInt(1000))), c.Code())
		}
	}
}

// pointed gives an amount its point, as hledger wants it where a commodity is declared (its
// manual, commodity directive), also of money without decimals.
func pointed(amount string) string {
	if strings.Contains(amount, ".") {
		return amount
	}
	return amount + "."
}

func (w *writer) ledger(l Ledger, list []Transaction) {
	w.shop, w.unit = w.name(l.Shop.Name, fmt.Sprint("shop ", l.Shop.ID)), l.Shop.Currency
	w.shop += ":" + w.name(l.Machine.Name, fmt.Sprint("machine ", l.Machine.ID))
	for w.taken[strings.ToLower(capital(w.shop))] { // one that is called so has its accounts already
		w.shop += fmt.Sprint(" ", l.Machine.ID)
	}
	w.taken[strings.ToLower(capital(w.shop))] = true
	w.cash, _ = cashmath.LookupCurrency(l.Shop.Currency)
	if w.o.Beancount {
		w.opens(list)
	}
	sum := map[Account]decimal.Decimal{}
	for i, t := range list {
		for _, p := range t.Postings {
			sum[p.Account] = sum[p.Account].Add(p.Value)
		}
		if w.o.Beancount {
			w.beancount(t, sum, i+1 == len(list) || list[i+1].Date != t.Date, ended(list[:i+1]))
		} else {
			w.plain(t, sum)
		}
	}
}

// ended reports whether the last day so far has a close.
func ended(list []Transaction) bool {
	day := list[len(list)-1].Date
	for _, t := range slices.Backward(list) {
		if t.Date != day {
			return false
		}
		if t.Ends {
			return true
		}
	}
	return false
}

// plain writes a transaction for hledger and ledger. A posting behind the equals
// sign is what the account must hold then.
func (w *writer) plain(t Transaction, sum map[Account]decimal.Decimal) {
	code := ""
	if ref := w.code(t.Ref); ref != "" {
		code = "(" + ref + ") "
	}
	w.line("\n%s * %s%s", t.Date, code, title(t))
	said := map[Account]bool{}
	for _, p := range t.Postings {
		said[p.Account] = true
		assert := ""
		if t.Ends && p.Account.inside() {
			assert = " = " + w.money(sum[p.Account])
		}
		if p.Claim != "" {
			assert += "  ; claim-day: " + string(p.Claim)
		}
		w.line("    %s  %s%s", w.account(p.Account), w.money(p.Value), assert)
	}
	if !t.Ends {
		return
	}
	for _, a := range slices.Sorted(maps.Keys(sum)) {
		if a.inside() && !said[a] {
			w.line("    %s  %s = %s", w.account(a), w.money(decimal.Zero), w.money(sum[a]))
		}
	}
}

// opens declares the accounts that are used, as beancount asks.
func (w *writer) opens(list []Transaction) {
	first := map[Account]shop.Date{}
	for _, t := range list {
		for _, p := range t.Postings {
			if _, ok := first[p.Account]; !ok {
				first[p.Account] = t.Date
			}
		}
	}
	for _, a := range slices.Sorted(maps.Keys(first)) {
		w.line("%s open %s %s", first[a], w.account(a), w.unit)
	}
}

// beancount writes a transaction; what is asserted there holds at the begin of a
// day, so it stands behind the last transaction of the day before.
func (w *writer) beancount(t Transaction, sum map[Account]decimal.Decimal, last, ends bool) {
	if len(t.Postings) > 0 {
		w.line("\n%s * %q", t.Date, title(t))
		if ref := w.code(t.Ref); ref != "" {
			w.line("  reference: %q", ref)
		}
		for _, p := range t.Postings {
			w.line("  %s  %s", w.account(p.Account), w.money(p.Value))
			if p.Claim != "" {
				w.line("    claim-day: %s", p.Claim)
			}
		}
	}
	if !last || !ends {
		return
	}
	for _, a := range slices.Sorted(maps.Keys(sum)) {
		if a.inside() {
			w.line("%s balance %s  %s", t.Date.Add(1), w.account(a), w.money(sum[a]))
		}
	}
}

func (w *writer) money(d decimal.Decimal) string { return w.cash.Amount(d) + " " + w.unit }

// account writes an account's name with shop and machine behind its kind.
func (w *writer) account(a Account) string {
	kind, rest, _ := strings.Cut(string(a), ":")
	name := kind + ":" + w.shop + ":" + rest
	if !w.o.Beancount {
		return name
	}
	parts := strings.Split(name, ":")
	for i, p := range parts {
		parts[i] = capital(p)
	}
	return strings.Join(parts, ":")
}

// name makes a name that people gave good for an account: letters, digits and
// single blanks, so that nothing in it is taken for the file's own signs.
func (w *writer) name(s, other string) string {
	words := strings.FieldsFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	if len(words) == 0 {
		return other
	}
	return strings.Join(words, " ")
}

// code is a bank's reference without the signs that end it in either language.
func (w *writer) code(ref string) string {
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		if strings.ContainsRune(`();"\|`, r) {
			return ' '
		}
		return r
	}, ref))
}

// capital makes a part of an account's name as beancount wants it.
func capital(s string) string {
	var b strings.Builder
	up := true
	for _, r := range s {
		switch {
		case !unicode.IsLetter(r) && !unicode.IsDigit(r):
			up = true
			continue
		case up:
			r = unicode.ToUpper(r)
		}
		up = false
		b.WriteRune(r)
	}
	if first := []rune(b.String()); len(first) > 0 && !unicode.IsUpper(first[0]) && !unicode.IsDigit(first[0]) {
		return "X" + b.String()
	}
	return b.String()
}

// titles word the kinds of record.
var titles = map[books.Kind]string{
	books.Opening: "opening", books.TopUp: "top-up", books.Swap: "box swapped", books.Moved: "notes moved",
	books.Test: "test payout", books.Found: "notes found", books.Count: "count", books.Settlement: "slip",
	books.Close: "closed", books.Credit: "paid by the bank", books.Debit: "taken by the bank",
	books.Matched: "what a payment was for", "": "balances before",
}

func title(t Transaction) string {
	s, ok := titles[t.Kind]
	if !ok {
		s = string(t.Kind)
	}
	if t.Sealed {
		s += ", sealed bundles, not counted"
	}
	if t.Seq > 0 {
		s += fmt.Sprintf(", entry %d", t.Seq)
	}
	if t.For != "" {
		s += ", for " + string(t.For)
	}
	return s
}
