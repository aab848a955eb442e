// Package owing words money between shop and bank: what is owed and was, what a payment
// was for, what the bank is written. It asks nothing and writes nothing.
package owing

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/bankdays"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dues"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// owedLines bounds the settlements that are shown one by one on a page.
const owedLines = 6

// Owed tells what the bank owes for a machine: each settlement where there are few,
// else sums by age.
func Owed(t *telling.Teller) (body []chat.Block, more bool) {
	due, all := t.Claims(dues.Wanted{Is: dues.Still, Limit: owedLines + 1}), t.Owed("")
	if len(due) == 0 {
		body = []chat.Block{chat.Lines(t.V.Say("owed.none"))}
	} else {
		body = []chat.Block{chat.Lines(t.V.Say("owed.head"))}
	}
	total := dueTotal(t, all.Sum, due)
	if more = len(due) > owedLines; !more && len(due) > 0 {
		body = append(body, columnsLast(append(claimRows(t, due), total)))
	}
	if ages := ages(t); more {
		body = append(body, columnsLast(append(ageRows(t, ages), total)))
	} else if old(ages) {
		body = append(body, columnsLast(ageRows(t, ages)))
	}
	together := ""
	if len(t.F.Shop.Machines) > 1 {
		together = t.V.Say("owed.all")
	}
	return append(body, chat.Lines(append(notMatched(t), ruleLine(t), together)...)), more
}

// page is one of those that list settlements.
type page struct {
	from  int       // how many lines stand on those before it
	day   shop.Date // at whose end it was owed; empty: now
	after int64     // the last settlement of the page before
}

// pageOf reads what a button carries: a number and, behind points, a day and a settlement.
func pageOf(s string) (p page, ok bool) {
	parts := strings.Split(s, ".")
	from, err := strconv.Atoi(parts[0])
	if p.from = max(from, 0); err != nil || len(parts) == 1 {
		return p, err == nil
	}
	if p.day, err = shop.ParseDate(parts[1]); err != nil || len(parts) > 3 {
		return p, false
	}
	if len(parts) == 2 { // the first one
		p.from = 0
		return p, true
	}
	p.after, err = strconv.ParseInt(parts[2], 10, 64)
	return p, err == nil
}

// OwedPage lists settlements one by one, a page of them, the oldest first: what is owed for
// them or, where a day stands behind the number, was at its end.
func OwedPage(t *telling.Teller, arg string) (r chat.Reply, ok bool) {
	p, ok := pageOf(arg)
	if !ok {
		return r, false
	}
	then := p.day != ""
	if then && t.Hidden() && telling.SeenUntil(t, p.day) < p.day {
		return chat.Reply{Body: []chat.Block{{Text: telling.Counted(t)}}}, true
	}
	t = telling.Settled(t)
	r = chat.Reply{Key: owedCard, Retire: owedCard}
	rows, of, next := p.rows(t)
	to := p.from + len(rows)
	switch {
	case of == 0 && then:
		r.Body, _ = OwedAt([]*telling.Teller{t}, p.day)
		return r, true
	case of == 0:
		r.Body, _ = Owed(t)
		return r, true
	}
	if to < of {
		r.Buttons = owedButton(t, t.V.Say("button.more"), next)
	}
	head := ""
	if then {
		head = t.V.Say("owed.at", "day", t.DayYear(p.day))
	}
	count := t.V.Say(texts.Either(then, "owed.page-at", "owed.page"), "from", p.from+1, "to", to, "of", of)
	r.Body = []chat.Block{chat.Lines(head, count), columnsLast(rows)}
	return r, true
}

// rows are the lines of a page, of how many on all of them, and what leads to the next. What
// is paid meanwhile makes the list shorter: behind its end the first page comes.
func (p *page) rows(t *telling.Teller) (rows [][]string, of int, next string) {
	if p.day == "" {
		if of = t.Owed("").Count; p.from >= of {
			p.from = 0
		}
		rows = claimRows(t, t.Claims(dues.Wanted{Is: dues.Still, Skip: p.from, Limit: owedLines}))
		return rows, of, strconv.Itoa(min(p.from+owedLines, of))
	}
	o := owingOn(t, p.day)
	if _, of = o.sum(); p.from >= of {
		p.from, p.after = 0, 0
	}
	for _, x := range o.list(p.after, owedLines) {
		if more := thenRows(t, x, false); len(rows)+len(more) <= owedLines {
			rows, p.after = append(rows, more...), x.Claim.Seq
		} else {
			break
		}
	}
	return rows, of, fmt.Sprintf("%d.%s.%d", p.from+len(rows), p.day, p.after)
}

// claimRows tell of claims. What was put right since its month was finished is a row of its
// own, unless what is left is that and no more.
func claimRows(t *telling.Teller, due []books.Claim) (rows [][]string) {
	changed := putRight(t, due)
	for _, x := range due {
		word, left, since := telling.DueWord(t, x), x.Left(), changed[x.Seq]
		if x.Part {
			word = t.V.Say("owed.least", "due", word)
		}
		if left.LessThan(since) {
			since = left
		}
		if left = left.Sub(since); !left.IsZero() {
			rows = append(rows, []string{telling.ClaimDay(t, x), t.V.Money(left), word})
			word = ""
		}
		if !since.IsZero() {
			day := t.V.Say("past.for-day", "day", telling.ClaimDay(t, x))
			rows = append(rows, []string{day, t.V.Money(since), word})
		}
	}
	return rows
}

// dueTotal is what is owed in all, of which some is at hand.
func dueTotal(t *telling.Teller, sum decimal.Decimal, due []books.Claim) []string {
	least := slices.ContainsFunc(due, func(x books.Claim) bool { return x.Part })
	return []string{t.V.Say("owed.total"), t.V.Money(sum), texts.Either(least, t.V.Say("owed.at-least"), "")}
}

// aged is what is owed by age.
type aged [len(dues.Ages) + 1]decimal.Decimal

func ages(t *telling.Teller) aged { return dues.ByAges(t.Today(), t.Owed(""), t.Owed) }

// old reports whether something is past the first age.
func old(of aged) bool {
	return slices.ContainsFunc(of[1:], func(sum decimal.Decimal) bool { return !sum.IsZero() })
}

// ageRows tell what is owed by age, ages of which nothing is left out.
func ageRows(t *telling.Teller, of aged) (rows [][]string) {
	for i, sum := range of {
		if !sum.IsZero() {
			rows = append(rows, []string{t.V.Say("owed.age-" + strconv.Itoa(i)), t.V.Money(sum), ""})
		}
	}
	return rows
}

// notMatched says what was paid too much for a day, and what is for nothing known.
func notMatched(t *telling.Teller) (lines []string) {
	for _, x := range t.Claims(dues.Wanted{Is: dues.Over, Limit: owedLines}) {
		lines = append(lines, t.V.Say("owed.over", "money", t.V.Money(x.Left().Abs()),
			"day", telling.ClaimDay(t, x)))
	}
	match := false
	for _, l := range t.M.Loose {
		id := "owed.loose-" + string(l.As)
		if l.Value.IsNegative() {
			id = "owed.loose-taken"
		}
		match = match || l.Value.IsPositive()
		lines = append(lines, t.V.Say(id, "money", t.V.Money(l.Value.Abs()), "day", t.V.Day(t.Local(l.Happened))))
	}
	if match {
		lines = append(lines, t.V.Say("owed.match"))
	}
	return lines
}

// columnsLast lines up a name, an amount and words after it.
func columnsLast(rows [][]string) chat.Block {
	short := make([][]string, len(rows))
	for i, r := range rows {
		short[i] = r[:2]
	}
	lines := strings.Split(chat.Columns(1, short).Text, "\n")
	for i, r := range rows {
		if r[2] != "" {
			lines[i] += "  " + r[2]
		}
	}
	return chat.Block{Text: strings.Join(lines, "\n"), Fixed: true}
}

// ruleLine states the rule by which due dates are worked out.
func ruleLine(t *telling.Teller) string {
	s := &t.F.Shop.Settings
	if s.CreditDays == 0 {
		return t.V.Say("rule.none")
	}
	line := t.V.Count("rule", int64(s.CreditDays))
	if s.CreditCut > 0 {
		line += " " + t.V.Say("rule.cut", "when", telling.ClockText(s.CreditCut))
	}
	if s.CreditRoll {
		line += " " + t.V.Say("rule.roll")
	} else {
		line += " " + t.V.Say("rule.stay")
	}
	if !bankdays.Known(s.Currency) {
		line += " " + t.V.Say("rule.weekends")
	}
	return line
}
