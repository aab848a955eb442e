package owing

import (
	"fmt"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dues"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// owedCard names the card of what is owed, and the command.
const owedCard = "owed"

// OwedBy answers a question for what the bank owes, or owed: of which machines and at
// the end of which day, say the words.
func OwedBy(t *telling.Teller, words string) chat.Reply {
	of, rest := t.Scope(words)
	when := rest
	if word, after, _ := strings.Cut(rest, " "); t.IsWord("at", word) {
		when = after
	}
	from, to, unread := telling.PastDays(t, when)
	switch {
	case unread != "" || from != to:
		return chat.Reply{Body: []chat.Block{{Text: telling.NoDay(t, when, "past.no-day")}}}
	}
	counted := ""
	for i, at := range of {
		if at.Hidden() && (when == "" || telling.SeenUntil(at, to) < to) {
			of[i], counted = telling.Settled(at), telling.Counted(at)
		}
	}
	if counted != "" && when != "" {
		return chat.Reply{Body: []chat.Block{{Text: counted}}}
	}
	r := owedReply(of, when != "", to)
	if counted != "" {
		r.Body = append([]chat.Block{{Text: counted}}, r.Body...)
	}
	return r
}

// owedReply tells what machines are owed, or were at the end of a day.
func owedReply(of []*telling.Teller, then bool, to shop.Date) chat.Reply {
	r := chat.Reply{Place: telling.Place(of), Key: owedCard, Retire: owedCard}
	switch {
	case then:
		var more bool
		if r.Body, more = OwedAt(of, to); more {
			for _, t := range of {
				label := texts.Either(len(of) > 1, t.Kit.Name, t.V.Say("button.owed-days"))
				r.Buttons = append(r.Buttons, owedButton(t, label, "0."+string(to))...)
			}
		}
	case len(of) > 1:
		r.Body = OwedTogether(of)
		for _, t := range of {
			r.Buttons = append(r.Buttons, owedButton(t, t.Kit.Name, "0")...)
		}
	default:
		body, more := Owed(of[0])
		if r.Body = body; more {
			r.Buttons = owedButton(of[0], of[0].V.Say("button.owed-days"), "0")
		}
	}
	return r
}

// owedButton leads to a page of what is owed for a machine, or was at the end of a day.
func owedButton(t *telling.Teller, label, page string) [][]chat.Button {
	return [][]chat.Button{{{Label: texts.Short(label, texts.LabelMax),
		Data: fmt.Sprintf("o:%s:%s:%d", owedCard, page, t.M.ID)}}}
}

// OwedTogether tells what the bank owes for several machines, each on a line.
func OwedTogether(of []*telling.Teller) []chat.Block {
	var rows [][]string
	var due []books.Claim
	var lines []string
	var all dues.Owed
	var by aged
	for _, t := range of {
		mine, old := t.Owed(""), ages(t)
		all.Sum = all.Sum.Add(mine.Sum)
		for i := range by {
			by[i] = by[i].Add(old[i])
		}
		due = append(due, t.Claims(dues.Wanted{Is: dues.Still, Limit: owedLines})...)
		rows = append(rows, []string{t.Kit.Name, t.V.Money(mine.Sum), ""})
		lines = append(lines, notMatched(t)...)
	}
	t := of[0]
	rows = append(append(rows, dueTotal(t, all.Sum, due)), ageRows(t, by)...)
	return []chat.Block{chat.Lines(t.V.Say("owed.head")), columnsLast(rows),
		chat.Lines(append(lines, ruleLine(t))...)}
}

// OwedAt tells what the bank owed at the end of a day, and what became of it: for each
// settlement where there are few, else for each machine; then there is more.
func OwedAt(of []*telling.Teller, day shop.Date) (body []chat.Block, more bool) {
	var rows, machines [][]string
	var all dues.Then
	n := 0
	for _, t := range of {
		o := owingOn(t, day)
		sum, count := o.sum()
		if n += count; n <= owedLines {
			for _, x := range o.list(0, owedLines) {
				rows = append(rows, thenRows(t, x, len(of) > 1)...)
			}
		}
		if all = all.And(sum); len(of) > 1 && !sum.Owed.IsZero() {
			machines = append(machines, []string{t.Kit.Name, t.V.Money(sum.Owed), became(t, sum)})
		}
	}
	t := of[0]
	if n == 0 {
		return []chat.Block{chat.Lines(t.V.Say("owed.none-at", "day", t.DayYear(day)))}, false
	}
	if more = n > owedLines; more {
		rows = machines
	}
	rows = append(rows, since(t, all)...)
	return []chat.Block{chat.Lines(t.V.Say("owed.at", "day", t.DayYear(day))), columnsLast(rows)}, more
}

// SumAt adds up what the bank owed for a machine at the end of a day, and says what became of it.
func SumAt(t *telling.Teller, day shop.Date) (sum dues.Then, since string) {
	if sum, _ = owingOn(t, day).sum(); sum.Owed.IsZero() {
		return sum, ""
	}
	return sum, became(t, sum)
}

// thenRows tell what was owed for a settlement, and what was put right of it since.
func thenRows(t *telling.Teller, x dues.Then, several bool) (rows [][]string) {
	name := telling.ClaimDay(t, x.Claim)
	if several {
		name += ", " + t.Kit.Name
	}
	if !x.Owed.IsZero() {
		rows = append(rows, []string{name, t.V.Money(x.Owed), became(t, x)})
	}
	if !x.Changed.IsZero() {
		rows = append(rows, []string{t.V.Say("past.for-day", "day", name), t.V.Money(x.Changed),
			t.V.Say("owed.since-then")})
	}
	return rows
}

// since adds up what was owed, and what became of it.
func since(t *telling.Teller, x dues.Then) [][]string {
	rows := [][]string{{t.V.Say("owed.total"), t.V.Money(x.Owed), ""}}
	for _, what := range []struct {
		id    string
		value decimal.Decimal
	}{{"owed.since-right", x.Changed}, {"owed.since-paid", x.Paid}, {"owed.since-given-up", x.GivenUp},
		{"owed.since-left", x.Left()}} {
		if !what.value.IsZero() {
			rows = append(rows, []string{t.V.Say(what.id), t.V.Money(what.value), ""})
		}
	}
	return rows
}

// became says what became of what was owed for a settlement.
func became(t *telling.Teller, x dues.Then) string {
	switch left := x.Left(); {
	case left.IsZero() && x.GivenUp.IsZero():
		return t.V.Say("owed.became-paid")
	case left.IsZero():
		return t.V.Say("owed.became-given-up", "money", t.V.Money(x.GivenUp))
	default:
		return t.V.Say("owed.became-left", "money", t.V.Money(left))
	}
}
