package telling

import (
	"fmt"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dues"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// owedCard names the card of what is owed, and the command.
const owedCard = "owed"

// OwedBy answers a question for what the bank owes, or owed: of which machines and at
// the end of which day, say the words.
func OwedBy(t *Teller, words string) chat.Reply {
	of, rest := t.Scope(words)
	list := strings.Fields(rest)
	if len(list) > 0 && t.IsWord("at", list[0]) {
		list = list[1:]
	}
	from, to, unread := PastDays(t, strings.Join(list, " "))
	r := chat.Reply{Place: Place(of), Key: owedCard, Retire: owedCard}
	switch {
	case Hidden(of):
		return chat.Reply{Body: []chat.Block{{Text: t.V.Say("hidden")}}}
	case unread != "" || from != to:
		return chat.Reply{Body: []chat.Block{{Text: t.V.Say("past.no-day", "near", rest)}}}
	case len(list) > 0:
		r.Body = OwedAt(of, to)
	case len(of) > 1:
		r.Body = OwedTogether(of)
		for _, t := range of {
			r.Buttons = append(r.Buttons, owedButton(t, t.Kit.Name, 0)...)
		}
	default:
		body, more := Owed(of[0])
		if r.Body = body; more {
			r.Buttons = owedButton(of[0], t.V.Say("button.owed-days"), 0)
		}
	}
	return r
}

// owedButton leads to a page of what is owed for a machine.
func owedButton(t *Teller, label string, from int) [][]chat.Button {
	return [][]chat.Button{{{Label: texts.Short(label, texts.LabelMax),
		Data: fmt.Sprintf("o:%s:%d:%d", owedCard, from, t.M.ID)}}}
}

// OwedTogether tells what the bank owes for several machines, each on a line.
func OwedTogether(of []*Teller) []chat.Block {
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

// OwedAt tells what the bank owed at the end of a day, and what became of it.
func OwedAt(of []*Teller, day shop.Date) []chat.Block {
	var rows [][]string
	owed, paid, given := decimal.Zero, decimal.Zero, decimal.Zero
	n := 0
	for _, t := range of {
		for _, x := range dues.At(t.Look(), t.entries(), day, t.dayOfEntry) {
			owed, paid, given, n = owed.Add(x.Owed), paid.Add(x.Paid), given.Add(x.GivenUp), n+1
			name := ClaimDay(t, x.Claim)
			if len(of) > 1 {
				name += ", " + t.Kit.Name
			}
			rows = append(rows, []string{name, t.V.Money(x.Owed), became(t, x)})
		}
	}
	t := of[0]
	if n == 0 {
		return []chat.Block{chat.Lines(t.V.Say("owed.none-at", "day", t.DayYear(day)))}
	}
	body := []chat.Block{chat.Lines(t.V.Say("owed.at", "day", t.DayYear(day)))}
	if n > owedLines {
		rows = nil
	}
	rows = append(rows, []string{t.V.Say("owed.total"), t.V.Money(owed), ""})
	for _, x := range []struct {
		id    string
		value decimal.Decimal
	}{{"owed.since-paid", paid}, {"owed.since-given-up", given},
		{"owed.since-left", owed.Sub(paid).Sub(given)}} {
		if !x.value.IsZero() {
			rows = append(rows, []string{t.V.Say(x.id), t.V.Money(x.value), ""})
		}
	}
	return append(body, columnsLast(rows))
}

// became says what became of what was owed for a settlement.
func became(t *Teller, x dues.Then) string {
	switch left := x.Left(); {
	case left.IsZero() && x.GivenUp.IsZero():
		return t.V.Say("owed.became-paid")
	case left.IsZero():
		return t.V.Say("owed.became-given-up", "money", t.V.Money(x.GivenUp))
	default:
		return t.V.Say("owed.became-left", "money", t.V.Money(left))
	}
}

// entries are all that was ever recorded, as far as it can be had.
func (t *Teller) entries() []books.Entry {
	if !t.HasLedger() {
		return nil
	}
	return t.F.Ask.Entries()
}

// dayOfEntry is the day of trading that a record is told under.
func (t *Teller) dayOfEntry(e books.Entry) shop.Date {
	if e.Day != "" {
		return e.Day
	}
	return reminders.Today(t.F.Shop, e.Happened)
}
