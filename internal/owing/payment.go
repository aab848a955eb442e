package owing

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/counts"
	"shopfloat/internal/dues"
	"shopfloat/internal/names"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// ClaimsNamed finds the settlements of the days that a text names, set apart by
// and: 19, 20 and 21 march. ok is false when it names none.
func ClaimsNamed(t *telling.Teller, s string) (of []int64, ok bool) {
	s = strings.NewReplacer(",", " and ", "+", " and ", "&", " and ").Replace(strings.ToLower(s))
	behind := "" // the month of a day that stands behind
	for _, part := range slices.Backward(strings.Split(s, " and ")) {
		if part = strings.TrimSpace(part); part == "" {
			continue
		}
		from, to, rest := telling.PastDays(t, part)
		if rest != "" {
			return nil, false
		}
		if day := dayAlone.FindString(telling.Without(t, part, "words.for-day")); behind != "" && day != "" {
			if d, err := shop.ParseDate(fmt.Sprintf("%s-%02s", behind, day)); err == nil {
				from, to = d, d
			}
		} else {
			behind = string(from)[:7]
		}
		ok = true
		t.Claims(dues.Wanted{From: from, To: to})
		for _, x := range t.M.Claims {
			if d := telling.SlipDay(t, x); from <= d && d <= to && !slices.Contains(of, x.Seq) {
				of = append(of, x.Seq)
			}
		}
	}
	slices.Sort(of)
	return of, ok
}

// dayAlone is a day of a month with nothing that says of which.
var dayAlone = regexp.MustCompile(`^\d{1,2}$`)

// NothingThere says that the settlements of days that were named can have no part in a
// payment: there are none, or the bank cannot take back what it never paid for them.
func NothingThere(t *telling.Teller, of []int64, took bool) string {
	paid := func(x books.Claim) bool { return x.Paid.IsPositive() }
	switch {
	case len(of) == 0:
		return t.V.Say("credit.none-then")
	case took && !slices.ContainsFunc(t.M.ClaimsOf(of), paid):
		return t.V.Say("debit.not-paid", "day", telling.ClaimDays(t, of))
	}
	return ""
}

// Taken says what the bank took, and why: for a claim of a customer of a day it is about, of
// what it paid for days, and then also what of it was never paid for them.
func Taken(t *telling.Teller, l *dues.Line, about shop.Date) []chat.Block {
	why := cmp.Or(l.Whole, books.Pays)
	if over := l.Left(t.M).Neg(); why == books.Pays && over.GreaterThanOrEqual(l.Amount) {
		why = "over"
	}
	money, more := t.V.Money(l.Amount), ""
	line := t.V.Say("debit."+string(why), "money", money, "day", telling.ClaimDays(t, l.Of))
	switch beyond := l.Amount; why {
	case books.Dispute:
		line = t.V.Say("debit.dispute", "money", money, "day", t.DayYear(about))
	case books.Pays:
		for _, x := range t.M.ClaimsOf(l.Of) {
			beyond = beyond.Sub(x.Paid)
		}
		if beyond.IsPositive() {
			more = t.V.Say("debit.beyond", "money", t.V.Money(beyond))
		}
	}
	return []chat.Block{chat.Lines(line, more, RefLine(t, l))}
}

// grouped is a figure in groups of three digits with spaces between, after a currency
// sign if any, and what follows it.
var grouped = regexp.MustCompile(`^(\D{0,3}\d{1,3})((?: \d{3})+)((?:[.,]\d{1,3})?[,;]?(?: .*)?)$`)

// MoneyFirst reads an amount at the beginning of a text, and the rest.
func MoneyFirst(t *telling.Teller, s string) (value decimal.Decimal, rest string, ok bool) {
	words := strings.Fields(s)
	if g := grouped.FindStringSubmatch(strings.Join(words, " ")); g != nil { // 1 200 is neither 1 nor 200
		words = strings.Fields(g[1] + strings.ReplaceAll(g[2], " ", "") + g[3])
	}
	for n := min(2, len(words)); n > 0; n-- {
		said := strings.TrimRight(strings.Join(words[:n], " "), ",;") // 500, for monday
		text, code := counts.ParseAmount(said, t.Digits())
		if code != counts.OK {
			continue
		}
		if v, err := decimal.NewFromString(text); err == nil && v.IsPositive() {
			return v, strings.Join(words[n:], " "), true
		}
	}
	return value, s, false
}

// Payment lines up what came and what was due.
func Payment(t *telling.Teller, l *dues.Line) chat.Block {
	rows := [][]string{{t.V.Say("credit.came"), t.V.Money(l.Amount)},
		{t.V.Say("credit.due", "day", telling.ClaimDays(t, l.Of)), t.V.Money(l.Worth(t.M))}}
	for _, x := range []struct {
		id    string
		value decimal.Decimal
	}{{"credit.charged", l.Charged}, {"credit.own-fee", l.Fee}} {
		if !x.value.IsZero() {
			rows = append(rows, []string{t.V.Say(x.id), t.V.Money(x.value)})
		}
	}
	return chat.Columns(1, rows)
}

// RefLine tells the bank's reference; nothing where none was typed.
func RefLine(t *telling.Teller, l *dues.Line) string {
	if l.Ref == "" {
		return ""
	}
	return t.V.Say("credit.ref", "ref", names.Quoted(l.Ref))
}

// Gap names what came more or less than is due, and what explains it exactly.
func Gap(t *telling.Teller, l *dues.Line) []chat.Block {
	gap := l.Gap(t.M)
	lines := []string{t.V.Say("credit.gap-"+telling.Sign(gap), "money", t.V.Money(gap.Abs()), "day",
		telling.ClaimDays(t, l.Of))}
	for _, f := range l.Fits(t.M, t.Digits(), telling.MaxFits) {
		if f.Why != dues.FitsDue {
			lines = append(lines, t.V.Say("fit."+string(f.Why), "day", telling.ClaimDays(t, f.Of), "money",
				t.V.Money(f.Value.Abs())))
		}
	}
	if other := owedElsewhere(t, gap); other != "" {
		lines = append(lines, other)
	}
	if len(lines) == 1 && len(l.Of) == 1 {
		lines = append(lines, t.V.Say("fit.nothing"))
	}
	lines = append(lines, RefLine(t, l))
	return []chat.Block{Payment(t, l), chat.Lines(append(lines, t.V.Say("credit.what"))...)}
}

// owedElsewhere says that a sum is exactly what another machine of the shop is owed for a day.
func owedElsewhere(t *telling.Teller, sum decimal.Decimal) string {
	for i := range t.F.Shop.Machines {
		at := t.At(&t.F.Shop.Machines[i])
		if at == t || at.Hidden() {
			continue
		}
		for _, x := range at.Claims(dues.Wanted{Is: dues.Still, Limit: 1}.Exactly(sum)) {
			return t.V.Say("split.fits", "machine", at.Kit.Name, "day", telling.ClaimDay(at, x))
		}
	}
	return ""
}

// Elsewhere reads in words about a payment the name of a machine: none where it is the one at
// hand. The rest is what else they say, in short what a button can carry of that, and left
// what it cannot.
func Elsewhere(t *telling.Teller, words string) (kit *shop.Machine, rest, short, left string) {
	of, rest := t.Scope(words)
	if len(of) != 1 {
		return nil, words, "", ""
	}
	if rest = strings.Trim(rest, ", "); of[0] == t {
		return nil, rest, "", ""
	}
	value, more, ok := MoneyFirst(t, rest)
	if !ok {
		return of[0].Kit, rest, "", rest
	}
	ref, more := Reference(t, more, more)
	charged, fee, more := Beside(t, more)
	short = value.String()
	if from, to, unread := telling.PastDays(t, more); more != "" && unread == "" && from == to {
		short, more = short+"-"+string(from), ""
	}
	for i, v := range []decimal.Decimal{charged, fee} {
		if v.IsPositive() {
			short += "-" + besides[i][:1] + v.String()
		}
	}
	return of[0].Kit, rest, short, strings.TrimSpace(more + " " + ref)
}

// besides are the words for what stands in the line of a payment beside it.
var besides = [2]string{"charges", "fee"}

// Carried is what such a button carries, as it is typed; of the rest of a payment that was
// split it has the bank's reference from where the first part stands.
func Carried(t *telling.Teller, short string) string {
	value, more, _ := strings.Cut(short, "-")
	var seq int64
	var id shop.MachineID
	if n, _ := fmt.Sscanf(more, "e%d.%d", &seq, &id); n == 2 {
		if ref := referenceOf(t, id, seq); ref != "" {
			value += " ref " + ref
		}
		return value
	}
	var day []string
	beside := ""
	for part := range strings.SplitSeq(more, "-") {
		i := slices.IndexFunc(besides[:], func(word string) bool { return strings.HasPrefix(part, word[:1]) })
		if i < 0 {
			day = append(day, part)
		} else {
			beside += ", " + besides[i] + " " + part[1:]
		}
	}
	if on := strings.Join(day, "-"); on != "" {
		value += " for " + on
	}
	return value + beside
}

// RestOf is what the button carries that books the rest of a payment, of which a machine's
// last entry is the first part.
func RestOf(t *telling.Teller, rest decimal.Decimal) string {
	return fmt.Sprintf("%s-e%d.%d", rest, t.M.Seq, t.M.ID)
}

func referenceOf(t *telling.Teller, id shop.MachineID, seq int64) string {
	kit := t.F.Shop.Machine(id)
	if kit == nil {
		return ""
	}
	at := t.At(kit)
	if at.M.ID != id || at.F.Ask.Since == nil {
		return ""
	}
	for _, e := range at.F.Ask.Since(seq) {
		if e.Seq == seq {
			return e.Ref
		}
	}
	return ""
}

// StillDue says what the bank has yet to pay for the settlements of a payment.
func StillDue(t *telling.Teller, l *dues.Line) string {
	left := l.Left(t.M)
	switch {
	case len(l.Of) == 0:
		return ""
	case left.IsPositive():
		return t.V.Say("credit.still", "day", telling.ClaimDays(t, l.Of), "money", t.V.Money(left))
	}
	return t.V.Say("credit.done", "day", telling.ClaimDays(t, l.Of))
}

// AboutPayment is a message to the bank about a payment that does not fit.
func AboutPayment(t *telling.Teller, l *dues.Line) []chat.Block {
	words := []string{t.V.Say("bank.subject", "place", t.F.Shop.Name, "day", telling.ClaimDays(t, l.Of)),
		t.V.Say("bank.came", "money", t.V.Money(l.Amount), "when", t.V.Day(t.Local(t.Now)))}
	for _, x := range t.M.ClaimsOf(l.Of) {
		words = append(words, wasDue(t, x))
	}
	gap := l.Gap(t.M)
	words = append(words, t.V.Say("bank.diff-"+telling.Sign(gap), "money", t.V.Money(gap.Abs())))
	for _, f := range l.Fits(t.M, t.Digits(), telling.MaxFits) {
		if !f.Value.IsZero() && f.Why != dues.FitsExchanged && f.Why != dues.FitsSlid {
			words = append(words, t.V.Say("bank.fit-"+string(f.Why), "money", t.V.Money(f.Value.Abs())))
			break
		}
	}
	return toCopy(t, words)
}

// AboutLate is a message to the bank about money that did not come.
func AboutLate(t *telling.Teller, x books.Claim) []chat.Block {
	return toCopy(t, []string{t.V.Say("bank.subject", "place", t.F.Shop.Name, "day", telling.ClaimDay(t, x)),
		wasDue(t, x), t.V.Say("bank.late", "due", t.V.Day(x.On.Time()))})
}

// wasDue tells the bank what was due for a settlement.
func wasDue(t *telling.Teller, x books.Claim) string {
	return t.V.Say("bank.due", "day", telling.ClaimDay(t, x), "when", t.V.Clock(t.Local(x.Settled)),
		"money", t.V.Money(x.Left()))
}

// toCopy is a message to the bank, to be copied.
func toCopy(t *telling.Teller, words []string) []chat.Block {
	words = append(words, t.V.Say("bank.ask"))
	return []chat.Block{chat.Lines(t.V.Say("bank.copy")), {Text: strings.Join(words, "\n"), Fixed: true}}
}
