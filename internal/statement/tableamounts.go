package statement

import (
	"cmp"
	"strings"
	"unicode"

	"github.com/shopspring/decimal"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/headings"
)

// amountText is an amount of a table without its signs, money and blanks.
type amountText struct {
	body   string // digits, points, commas
	minus  bool
	debit  bool // marked as going out, by letters
	credit bool
}

// bareAmount takes from an amount what is no figure: "€ 1.234,50-", "(12.00)",
// "12.00 DR", "1 234,50 zł".
func bareAmount(s string) (a amountText, ok bool) {
	s = strings.TrimSpace(s)
	plain := strings.TrimPrefix(s, "-")
	if bare(plain) { // as most are
		return amountText{body: plain, minus: len(plain) < len(s)}, true
	}
	if inner, brackets := strings.CutPrefix(s, "("); brackets && strings.HasSuffix(inner, ")") {
		a.minus, s = true, strings.TrimSuffix(inner, ")")
	}
	var b, letters strings.Builder
	for at, r := range s {
		switch {
		case r >= '0' && r <= '9', r == '.', r == ',':
			b.WriteRune(r)
		case r == '(' && !a.minus && b.Len() == 0 && strings.HasSuffix(s, ")"): // behind the sign of money
			a.minus = true
		case r == ')' && a.minus && at == len(s)-1:
		case r == '-', r == '\u2212', r == '\u2013':
			if a.minus || b.Len() > 0 && digitsIn(s[at:]) {
				return a, false
			}
			a.minus = true
		case unicode.IsLetter(r):
			if b.Len() > 0 && digitsIn(s[at:]) {
				return a, false
			}
			letters.WriteRune(unicode.ToUpper(r))
		case r == '+', r == '\'', r == '\u2019', unicode.IsSpace(r), unicode.Is(unicode.Sc, r), r == '.':
		default:
			return a, false
		}
	}
	a.body = strings.Trim(b.String(), ".,")
	if strings.HasPrefix(b.String(), ",") || strings.HasPrefix(b.String(), ".") {
		a.body = "0" + strings.TrimRight(b.String(), ".,")
	}
	switch letters.String() {
	case "DR", "D", "S", "SOLL", "DB", "DEBIT":
		a.debit = true
	case "CR", "C", "H", "HABEN", "CREDIT":
		a.credit = true
	}
	return a, digitsIn(a.body) && len([]rune(letters.String())) <= 6
}

// bare reports whether a text is digits, with points and commas between.
func bare(s string) bool {
	for i, c := range []byte(s) {
		if (c < '0' || c > '9') && (c != '.' && c != ',' || i == 0 || i == len(s)-1) {
			return false
		}
	}
	return s != ""
}

func digitsIn(s string) bool { return strings.ContainsAny(s, "0123456789") }

// pointOf decides which sign parts the decimals in a column: the last of two
// kinds, one that stands before other than three digits, or none of those that
// come twice. Where only "1.234" is seen it is by how many decimals the money has:
// three, and it parts these, else thousands. It fails where both signs are seen so.
func pointOf(amounts []string, decimals int32) (point byte, sure bool, err error) {
	votes, open := map[byte]int{}, map[byte]string{}
	for _, s := range amounts {
		a, ok := bareAmount(s)
		i := strings.LastIndexAny(a.body, ".,")
		if !ok || i < 0 {
			continue
		}
		sign := a.body[i]
		other := byte('.' + ',' - sign)
		switch {
		case strings.IndexByte(a.body, other) >= 0:
			votes[sign]++
		case strings.Count(a.body, string(sign)) > 1:
			votes[other]++
		case len(a.body)-i-1 != 3 || a.body[0] == '0' && i == 1:
			votes[sign]++
		default:
			open[sign] = s
		}
	}
	switch {
	case votes[','] > votes['.']:
		return ',', true, nil
	case votes['.'] > 0:
		return '.', true, nil
	case open['.'] != "" && open[','] != "":
		return 0, false, about(BadAmount, open['.'])
	case decimals == 3 && open[','] != "", decimals != 3 && open['.'] != "":
		return ',', false, nil
	}
	return '.', false, nil
}

// amountWith reads an amount whose decimals stand behind a sign that is known.
func amountWith(s string, point byte) (decimal.Decimal, error) {
	a, ok := bareAmount(s)
	if !ok {
		return decimal.Zero, about(BadAmount, s)
	}
	whole, part, _ := strings.Cut(a.body, string(point))
	groups := strings.Split(whole, string(rune('.'+','-point)))
	for i, g := range groups {
		if i > 0 && len(g) != 3 && (len(g) != 2 || i == len(groups)-1) || i == 0 && len(groups) > 1 && len(g) > 3 {
			return decimal.Zero, about(BadAmount, s)
		}
	}
	d, ok := figure(strings.Join(groups, ""), part, maxDecimals)
	if !ok {
		return decimal.Zero, about(BadAmount, s)
	}
	if a.minus || a.debit {
		d = d.Neg()
	}
	return d, nil
}

// sums are the columns that hold what moved.
var sums = []Role{ByAmount, ByCredit, ByDebit}

// coin is the money that the headings of a table's amounts name.
func (l *Layout) coin(heads []string) (code string) {
	for _, role := range sums {
		if at, ok := l.Columns[role]; ok {
			code = cmp.Or(code, coinOf(heads[at]))
		}
	}
	return code
}

// coinOf is the money that an amount or a heading names, by its code or by a sign that no other money
// has; empty: none.
func coinOf(s string) string {
	if bare(strings.TrimPrefix(s, "-")) {
		return ""
	}
	if strings.Contains(s, "€") {
		return "EUR"
	}
	for w := range strings.FieldsFuncSeq(s, func(r rune) bool { return !unicode.IsLetter(r) }) {
		switch _, err := cashmath.LookupCurrency(w); {
		case err == nil:
			return w
		case strings.EqualFold(w, "zł"):
			return "PLN"
		case strings.EqualFold(w, "Kč"):
			return "CZK"
		}
	}
	return ""
}

// signs is how a table tells which way its amounts went.
type signs struct {
	in, out bool // most of what a column says came in, or went out, bears a minus all the same
	bare    bool // what bears no CR went out: nothing bears anything else
}

// votes counts how a table's amounts are signed.
type votes struct{ in, out, credits, others, bare int }

// signsOf looks at the first rows of a table. What bears a minus where most does not, or none
// where most does, was taken back.
func (t *table) signsOf(rows []sampled) signs {
	var v votes
	for _, s := range rows {
		if a, ok := bareAmount(t.cell(s.fields, ByAmount)); ok {
			v.amount(a, headings.Sign(t.cell(s.fields, BySign)))
		}
		if a, ok := bareAmount(t.cell(s.fields, ByCredit)); ok {
			vote(&v.in, a)
		}
		if a, ok := bareAmount(t.cell(s.fields, ByDebit)); ok {
			vote(&v.out, a)
		}
	}
	return signs{v.in > 0, v.out > 0, v.credits > 0 && v.bare > 0 && v.others == 0}
}

// amount counts one of a column with both ways in it.
func (v *votes) amount(a amountText, sign int) {
	switch {
	case sign > 0:
		vote(&v.in, a)
	case sign < 0:
		vote(&v.out, a)
	case a.credit:
		v.credits++
	case a.debit:
		v.others++
		vote(&v.out, a)
	case a.minus:
		v.others++
	default:
		v.bare++
	}
}

// vote counts an amount with a minus against those without; nothing has no sign.
func vote(of *int, a amountText) {
	switch {
	case !strings.ContainsAny(a.body, "123456789"):
	case a.minus:
		*of++
	default:
		*of--
	}
}

// money reads the amount of a row by the columns that there are.
func (t *table) money(fields []string) (decimal.Decimal, error) {
	if s := t.cell(fields, ByAmount); s != "" {
		return t.amountOf(s, t.cell(fields, BySign))
	}
	in, err := t.part(fields, ByCredit)
	if err != nil {
		return in, err
	}
	out, err := t.part(fields, ByDebit)
	if err == nil && !in.IsZero() && !out.IsZero() { // a sum below the table, not one payment
		err = about(BadAmount, t.cell(fields, ByCredit)+" "+t.cell(fields, ByDebit))
	}
	if t.signs.in {
		in = in.Neg()
	}
	if !t.signs.out {
		out = out.Neg()
	}
	return in.Add(out), err
}

// part reads one of two columns of amounts; an empty one is nothing.
func (t *table) part(fields []string, role Role) (decimal.Decimal, error) {
	if s := t.cell(fields, role); s != "" {
		return t.figure(s)
	}
	return decimal.Zero, nil
}

// amountOf reads an amount with the cell that says which way it went. A word that is not
// known there leaves that open.
func (t *table) amountOf(s, word string) (decimal.Decimal, error) {
	d, err := t.figure(s)
	if err != nil {
		return d, err
	}
	a, _ := bareAmount(s)
	switch sign := headings.Sign(word); {
	case sign > 0 && t.signs.in, sign < 0 && !t.signs.out:
		d = d.Neg()
	case sign != 0:
	case word != "" && !d.IsNegative():
		return d, about(BadAmount, word+" "+s)
	case a.debit && a.minus && !t.signs.out:
		d = d.Neg()
	case t.signs.bare && d.IsPositive() && !a.credit:
		d = d.Neg()
	}
	return d, nil
}
