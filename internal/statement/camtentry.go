package statement

import (
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/shop"
)

// account is the part of a file that is about one account.
type account struct {
	id, currency string
	sum          decimal.Decimal // of what is booked
	kind         string          // of the balance being read
	value        decimal.Decimal
	out          bool
	first, last  *decimal.Decimal
}

func (a *account) owner(c *camtReader, at []string, text string) error {
	switch strings.Join(at, "/") {
	case "Id/IBAN", "Id/Othr/Id":
		a.id = accountName(text)
		c.account(a.id)
	case "Ccy":
		a.currency = clip(text, 3)
	}
	return nil
}

// opens and closes are the codes of balances at the begin and at the end: of the
// statement, or of a page of one (ISO 20022 external code set for balance types).
var (
	opens  = map[string]bool{"OPBD": true, "PRCD": true, "ITBD": true}
	closes = map[string]bool{"CLBD": true, "ITBD": true}
)

func (a *account) balance(at []string, text, currency string) (err error) {
	switch strings.Join(at, "/") {
	case "Tp/CdOrPrtry/Cd", "Tp/Cd":
		a.kind = text
	case "Amt":
		if a.value, err = exact(text, maxDecimals); a.currency == "" {
			a.currency = clip(currency, 3)
		}
	case "CdtDbtInd":
		a.out = text == "DBIT"
	case "":
		v := a.value
		if a.out {
			v = v.Neg()
		}
		if opens[a.kind] && a.first == nil {
			a.first = &v
		} else if closes[a.kind] {
			a.last = &v
		}
		a.kind, a.out = "", false
	}
	return err
}

func (a *account) check() Check {
	switch {
	case a.first == nil || a.last == nil:
		return Unchecked
	case a.first.Add(a.sum).Equal(*a.last):
		return Agrees
	}
	return Differs
}

// entry is one booking; what it consists of stands in its transactions.
type entry struct {
	amount     decimal.Decimal
	charges    charges
	currency   string
	way        string // CRDT or DBIT
	reversal   bool
	status     string
	day, value shop.Date
	ref, text  string
	txs        []tx
}

// tx is one transaction of a booking.
type tx struct {
	amount, detail   decimal.Decimal
	charges          charges
	has, detailed    bool
	currency         string
	out, signed      bool
	ref, end         string
	debtor, creditor string
	text             []string
}

// take sets what the element at a path within the entry says.
func (e *entry) take(at []string, text, currency string) (err error) {
	where := strings.Join(at, "/")
	if rest, ok := strings.CutPrefix(where, "NtryDtls/TxDtls/"); ok {
		return e.txs[len(e.txs)-1].take(rest, text, currency)
	}
	switch where {
	case "Amt":
		e.amount, err = unsigned(text)
		if currency != "" {
			e.currency = clip(currency, 3)
		}
	case "CdtDbtInd":
		e.way = text
	case "RvslInd":
		e.reversal = text == "true" || text == "1"
	case "Sts", "Sts/Cd", "Sts/Prtry":
		if text != "" {
			e.status = text
		}
	case "BookgDt/Dt", "BookgDt/DtTm":
		e.day, err = isoDay(text)
	case "ValDt/Dt", "ValDt/DtTm":
		e.value, err = isoDay(text)
	case "AcctSvcrRef":
		e.ref = plain(text, 80)
	case "AddtlNtryInf":
		e.text = plain(text, textMax)
	default:
		err = e.charges.take(where, text, currency)
	}
	return err
}

// unsigned reads an amount of the standard, which has no sign: CdtDbtInd says the way.
func unsigned(text string) (decimal.Decimal, error) {
	d, err := exact(text, maxDecimals)
	if err == nil && d.IsNegative() {
		return d, about(BadAmount, text)
	}
	return d, err
}

// charges are what the bank took off: a sum, and the parts that it consists of.
type charges struct {
	sum, parts decimal.Decimal
	money      string // of both
	told       bool   // the parts are told
	part       charge // the one that is being read
}

// charge is a part. The bank may say that it stands for itself and that the amount is without
// it (ISO 20022 ChargeIncludedIndicator), or that it was given back (CreditDebitIndicator).
type charge struct {
	value       decimal.Decimal
	apart, back bool
}

// take sets what the element at a path says, if it is about charges.
func (c *charges) take(where, text, currency string) (err error) {
	rest, ok := strings.CutPrefix(where, "Chrgs")
	if !ok {
		return nil
	}
	switch strings.TrimPrefix(rest, "/Rcrd") {
	case "/TtlChrgsAndTaxAmt":
		c.sum, err = exact(text, maxDecimals)
		c.money = clip(currency, 3)
	case "/Amt":
		c.part.value, err = exact(text, maxDecimals)
		c.told, c.money = true, clip(currency, 3)
	case "/ChrgInclInd":
		c.part.apart = text == "false" || text == "0"
	case "/CdtDbtInd":
		c.part.back = text == "CRDT"
	case "":
		switch p := c.part; {
		case p.apart:
		case p.back:
			c.parts = c.parts.Sub(p.value)
		default:
			c.parts = c.parts.Add(p.value)
		}
		c.part = charge{}
	}
	return err
}

// total is what was taken off an amount; charges in other money say nothing of that.
func (c *charges) total(currency string) decimal.Decimal {
	switch {
	case c.money != "" && c.money != currency:
		return decimal.Zero
	case c.told:
		return c.parts
	}
	return c.sum
}

// textMax bounds the words that are kept of a line.
const textMax = 200

func (t *tx) take(where, text, currency string) (err error) {
	switch where {
	case "Amt":
		t.amount, err = unsigned(text)
		t.has, t.currency = true, clip(currency, 3)
	case "AmtDtls/TxAmt/Amt":
		t.detail, err = unsigned(text)
		if t.detailed = true; t.currency == "" {
			t.currency = clip(currency, 3)
		}
	case "CdtDbtInd":
		t.out, t.signed = text == "DBIT", true
	case "Refs/AcctSvcrRef":
		t.ref = plain(text, 80)
	case "Refs/EndToEndId":
		if t.end = plain(text, 80); t.end == "NOTPROVIDED" {
			t.end = ""
		}
	case "RltdPties/Dbtr/Nm", "RltdPties/Dbtr/Pty/Nm":
		t.debtor = plain(text, 70)
	case "RltdPties/Cdtr/Nm", "RltdPties/Cdtr/Pty/Nm":
		t.creditor = plain(text, 70)
	case "RmtInf/Ustrd", "RmtInf/Strd/CdtrRefInf/Ref", "AddtlTxInf", "RtrInf/Rsn/Cd":
		if text != "" && len(t.text) < 5 {
			t.text = append(t.text, plain(text, textMax))
		}
	default:
		err = t.charges.take(where, text, currency)
	}
	return err
}

// finish hands over the lines of an entry that is booked.
func (c *camtReader) finish(e *entry) error {
	if e.status != "BOOK" && e.status != "" { // a statement that says nothing tells what is booked
		c.report.Pending++
		return nil
	}
	if e.way != "CRDT" && e.way != "DBIT" { // nobody can tell whether it came or went
		p := &Problem{Code: BadAmount, About: e.amount.String() + " (CdtDbtInd)"}
		return p.at("booking", c.report.Lines+1)
	}
	signed := e.sign(e.amount, e.out())
	if e.day == "" {
		e.day = e.value
	}
	if e.day == "" {
		return about(BadDate, "").at("booking", c.report.Lines+1)
	}
	c.stmt.sum = c.stmt.sum.Add(signed)
	parts, ok := e.parts(signed)
	if !ok {
		return c.line(c.single(e, signed))
	}
	times := map[string]int{}
	for _, t := range e.txs {
		times[t.ref]++
	}
	for i, amount := range parts {
		l := c.single(e, amount)
		e.txs[i].tell(&l)
		if ref := e.txs[i].ref; len(parts) > 1 && (ref == "" || times[ref] > 1) {
			l.Ref = "" // the reference is the batch's, not the transaction's
		}
		if err := c.line(l); err != nil {
			return err
		}
	}
	return nil
}

func (e *entry) out() bool { return e.way == "DBIT" }

func (e *entry) sign(d decimal.Decimal, out bool) decimal.Decimal {
	if out {
		return d.Neg()
	}
	return d
}

// parts gives the amount of each transaction. It fails where the file does not
// tell them, or not so that they are the booking: then the booking is one line.
func (e *entry) parts(sum decimal.Decimal) (list []decimal.Decimal, ok bool) {
	if len(e.txs) == 1 {
		return []decimal.Decimal{sum}, true
	}
	for _, t := range e.txs {
		amount, has := t.amount, t.has
		if !has {
			amount, has = t.detail, t.detailed
		}
		if !has || t.currency != "" && t.currency != e.currency {
			return nil, false
		}
		out := e.out()
		if t.signed {
			out = t.out
		}
		amount = e.sign(amount, out)
		list = append(list, amount)
		sum = sum.Sub(amount)
	}
	return list, len(list) > 0 && sum.IsZero()
}

// single is the entry as a line.
func (c *camtReader) single(e *entry, amount decimal.Decimal) Line {
	return Line{Account: c.stmt.id, Day: e.day, Value: e.value, Amount: amount, Currency: e.currency,
		Charges: e.charges.total(e.currency), Ref: e.ref, Text: e.text, Reversal: e.reversal}
}

// tell adds what the transaction knows.
func (t *tx) tell(l *Line) {
	if t.ref != "" {
		l.Ref = t.ref
	}
	if c := t.charges.total(l.Currency); !c.IsZero() {
		l.Charges = c
	}
	if l.Name = t.debtor; l.Amount.IsNegative() {
		l.Name = t.creditor
	}
	if len(t.text) > 0 {
		l.Text = plain(strings.Join(t.text, " "), textMax)
	}
	if t.end != "" && !strings.Contains(l.Text, t.end) {
		l.Text = plain(l.Text+" "+t.end, textMax)
	}
}
