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
	t.Owing()
	due := t.M.Due()
	if len(due) == 0 {
		body = []chat.Block{chat.Lines(t.V.Say("owed.none"))}
	} else {
		body = []chat.Block{chat.Lines(t.V.Say("owed.head"))}
	}
	if len(due) > 0 && len(due) <= owedLines {
		body = append(body, columnsLast(append(claimRows(t, due), dueTotal(t, due))))
	}
	if more = len(due) > owedLines; more || old(t, due) {
		body = append(body, columnsLast(ageRows(t, due, more)))
	}
	all := ""
	if len(t.F.Shop.Machines) > 1 {
		all = t.V.Say("owed.all")
	}
	return append(body, chat.Lines(append(notMatched(t), ruleLine(t), all)...)), more
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
	head, rows := "", [][]string(nil)
	if t.Owing(); then {
		for _, x := range owedOn(t, shop.Date(day)) {
			rows = append(rows, thenRows(t, x, false)...)
		}
		head = t.V.Say("owed.at", "day", t.DayYear(shop.Date(day)))
	} else {
		rows = claimRows(t, t.M.Due())
	}
	if from < 0 || from >= len(rows) {
		from = 0
	}
	to := min(from+owedLines, len(rows))
	r = chat.Reply{Key: owedCard, Retire: owedCard}
	switch {
	case to == 0 && then:
		r.Body, _ = OwedAt([]*telling.Teller{t}, shop.Date(day))
		return r, true
	case to == 0:
		r.Body, _ = Owed(t)
		return r, true
	}
	if to < len(rows) {
		r.Buttons = owedButton(t, t.V.Say("button.more"), strings.Replace(page, number, strconv.Itoa(to), 1))
	}
	count := t.V.Say(texts.Either(then, "owed.page-at", "owed.page"), "from", from+1, "to", to, "of", len(rows))
	r.Body = []chat.Block{chat.Lines(head, count), columnsLast(rows[from:to])}
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

func dueTotal(t *telling.Teller, due []books.Claim) []string {
	sum, least := sumOf(due), slices.ContainsFunc(due, func(x books.Claim) bool { return x.Part })
	return []string{t.V.Say("owed.total"), t.V.Money(sum), texts.Either(least, t.V.Say("owed.at-least"), "")}
}

func sumOf(due []books.Claim) decimal.Decimal {
	sum := decimal.Zero
	for _, x := range due {
		sum = sum.Add(x.Left())
	}
	return sum
}

// old reports whether a claim is past the first age.
func old(t *telling.Teller, due []books.Claim) bool {
	return len(due) > 0 && telling.SlipDay(t, due[0]) < t.Today().Add(-dues.Ages[0])
}

// ageRows add up what is due by age, ages of which nothing is due left out.
func ageRows(t *telling.Teller, due []books.Claim, total bool) (rows [][]string) {
	sums := dues.ByAge(due, t.Today(), func(x books.Claim) shop.Date { return telling.SlipDay(t, x) })
	for i, sum := range sums {
		if !sum.IsZero() {
			rows = append(rows, []string{t.V.Say("owed.age-" + strconv.Itoa(i)), t.V.Money(sum), ""})
		}
	}
	if total {
		rows = append(rows, dueTotal(t, due))
	}
	return rows
}

// notMatched says what was paid too much for a day, and what is for nothing known.
func notMatched(t *telling.Teller) (lines []string) {
	for _, x := range t.M.Claims {
		if x.Left().IsNegative() {
			lines = append(lines, t.V.Say("owed.over", "money", t.V.Money(x.Left().Abs()), "day",
				telling.ClaimDay(t, x)))
		}
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
