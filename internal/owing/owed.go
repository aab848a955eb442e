// Package owing words money between shop and bank: what is owed and was, what a payment
// was for, what the bank is written. It asks nothing and writes nothing.
package owing

import (
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

// OwedPage lists settlements one by one, a page from the given one on, the oldest first: what
// is owed for them or, where a day stands behind the number, was at its end.
func OwedPage(t *telling.Teller, page string) (r chat.Reply, ok bool) {
	number, day, then := strings.Cut(page, ".")
	from, err := strconv.Atoi(number)
	if _, bad := shop.ParseDate(day); err != nil || then && bad != nil {
		return r, false
	}
	if then && t.Hidden() && telling.SeenUntil(t, shop.Date(day)) < shop.Date(day) {
		return chat.Reply{Body: []chat.Block{{Text: telling.Counted(t)}}}, true
	}
	t = telling.Settled(t)
	r, from = chat.Reply{Key: owedCard, Retire: owedCard}, max(from, 0)
	head, rows, of := "", [][]string(nil), 0
	if then {
		for _, x := range owedOn(t, shop.Date(day)) {
			rows = append(rows, thenRows(t, x, false)...)
		}
		if of = len(rows); from >= of {
			from = 0
		}
		rows = rows[from:min(from+owedLines, of)]
		head = t.V.Say("owed.at", "day", t.DayYear(shop.Date(day)))
	} else {
		if of = t.Owed("").Count; from >= of {
			from = 0
		}
		rows = claimRows(t, t.Claims(dues.Wanted{Is: dues.Still, Skip: from, Limit: owedLines}))
	}
	to := min(from+owedLines, of)
	switch {
	case to == 0 && then:
		r.Body, _ = OwedAt([]*telling.Teller{t}, shop.Date(day))
		return r, true
	case to == 0:
		r.Body, _ = Owed(t)
		return r, true
	}
	if to < of {
		r.Buttons = owedButton(t, t.V.Say("button.more"), strings.Replace(page, number, strconv.Itoa(to), 1))
	}
	count := t.V.Say(texts.Either(then, "owed.page-at", "owed.page"), "from", from+1, "to", to, "of", of)
	r.Body = []chat.Block{chat.Lines(head, count), columnsLast(rows)}
	return r, true
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
