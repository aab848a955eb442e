package owing

import (
	"fmt"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/bygone"
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
	case telling.Hidden(of):
		return chat.Reply{Body: []chat.Block{{Text: t.V.Say("hidden")}}}
	case unread != "" || from != to:
		return chat.Reply{Body: []chat.Block{{Text: telling.NoDay(t, when, "past.no-day")}}}
	}
	return owedReply(of, when != "", to)
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
	for _, t := range of {
		t.Owing()
		mine := t.M.Due()
		due = append(due, mine...)
		rows = append(rows, []string{t.Kit.Name, t.V.Money(sumOf(mine)), ""})
		lines = append(lines, notMatched(t)...)
	}
	t := of[0]
	rows = append(append(rows, dueTotal(t, due)), ageRows(t, due, false)...)
	return []chat.Block{chat.Lines(t.V.Say("owed.head")), columnsLast(rows),
		chat.Lines(append(lines, ruleLine(t))...)}
}

// OwedAt tells what the bank owed at the end of a day, and what became of it: for each
// settlement where there are few, else for each machine; then there is more.
func OwedAt(of []*telling.Teller, day shop.Date) (body []chat.Block, more bool) {
	var rows, machines [][]string
	var all dues.Then
	for _, t := range of {
		sum, mine := thenRows(t, day, len(of) > 1)
		if rows = append(rows, mine...); len(of) > 1 && !sum.Owed.IsZero() {
			machines = append(machines, []string{t.Kit.Name, t.V.Money(sum.Owed), became(t, sum)})
		}
		all = both(all, sum)
	}
	t := of[0]
	if len(rows) == 0 {
		return []chat.Block{chat.Lines(t.V.Say("owed.none-at", "day", t.DayYear(day)))}, false
	}
	if more = len(rows) > owedLines; more {
		rows = machines
	}
	rows = append(rows, since(t, all.Owed, all.Paid, all.GivenUp)...)
	return []chat.Block{chat.Lines(t.V.Say("owed.at", "day", t.DayYear(day))), columnsLast(rows)}, more
}

// thenRows tells of each settlement of a machine, with its name where that is not clear, and
// what they come to.
func thenRows(t *telling.Teller, day shop.Date, named bool) (sum dues.Then, rows [][]string) {
	for _, x := range owedThen(t, day) {
		row := thenRow(t, x)
		if sum = both(sum, x); named {
			row[0] += ", " + t.Kit.Name
		}
		rows = append(rows, row)
	}
	return sum, rows
}

func both(a, b dues.Then) dues.Then {
	return dues.Then{Owed: a.Owed.Add(b.Owed), Paid: a.Paid.Add(b.Paid), GivenUp: a.GivenUp.Add(b.GivenUp)}
}

// owedThen lists what the bank owed for a machine at the end of a day.
func owedThen(t *telling.Teller, day shop.Date) []dues.Then {
	dayOf := func(e books.Entry) shop.Date { return bygone.DayOf(t, e) }
	return dues.At(t.Look(), t.Ledger(), day, dayOf)
}

// thenRow tells of a settlement what was owed for it, and what became of that.
func thenRow(t *telling.Teller, x dues.Then) []string {
	return []string{telling.ClaimDay(t, x.Claim), t.V.Money(x.Owed), became(t, x)}
}

// since adds up what was owed, and what became of it.
func since(t *telling.Teller, owed, paid, given decimal.Decimal) [][]string {
	rows := [][]string{{t.V.Say("owed.total"), t.V.Money(owed), ""}}
	for _, x := range []struct {
		id    string
		value decimal.Decimal
	}{{"owed.since-paid", paid}, {"owed.since-given-up", given},
		{"owed.since-left", owed.Sub(paid).Sub(given)}} {
		if !x.value.IsZero() {
			rows = append(rows, []string{t.V.Say(x.id), t.V.Money(x.value), ""})
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
