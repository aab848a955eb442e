package telling

import (
	"slices"
	"strings"

	"shopfloat/internal/bankdays"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// owedLines bounds the settlements that are shown one by one.
const owedLines = 10

// Owed lists what the bank owes, by age, with a total.
func Owed(t *Teller) []chat.Block {
	t.Owing()
	due := t.M.Due()
	if len(due) == 0 && len(t.M.Loose) == 0 && t.M.ByBank().IsZero() {
		return []chat.Block{chat.Lines(t.V.Say("owed.none"), ruleLine(t))}
	}
	body := []chat.Block{chat.Lines(t.V.Say("owed.head"))}
	var rows [][]string
	older := t.M.ByBank()
	part := false
	for _, x := range due[max(len(due)-owedLines, 0):] {
		word := DueWord(t, x)
		if x.Part {
			part, word = true, t.V.Say("owed.least", "due", word)
		}
		rows = append(rows, []string{ClaimDay(t, x), t.V.Money(x.Left()), word})
		older = older.Sub(x.Left())
	}
	if !older.IsZero() {
		rows = append([][]string{{t.V.Say("owed.older"), t.V.Money(older), ""}}, rows...)
	}
	if len(rows) == 0 {
		body = []chat.Block{chat.Lines(t.V.Say("owed.none"))}
	} else {
		rows = append(rows, []string{t.V.Say("owed.total"), t.V.Money(t.M.ByBank()), texts.Either(part,
			t.V.Say("owed.at-least"), "")})
		body = append(body, columnsLast(rows))
	}
	var lines []string
	for _, l := range t.M.Loose {
		id := "owed.loose-" + string(l.As)
		if l.Value.IsNegative() {
			id = "owed.loose-taken"
		}
		lines = append(lines, t.V.Say(id, "money", t.V.Money(l.Value.Abs()), "day",
			t.V.Day(t.Local(l.Happened))))
	}
	if slices.ContainsFunc(t.M.Loose, func(l books.Loose) bool { return l.Value.IsPositive() }) {
		lines = append(lines, t.V.Say("owed.match"))
	}
	return append(body, chat.Lines(append(lines, ruleLine(t))...))
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
func ruleLine(t *Teller) string {
	s := &t.F.Shop.Settings
	if s.CreditDays == 0 {
		return t.V.Say("rule.none")
	}
	line := t.V.Count("rule", int64(s.CreditDays))
	if s.CreditCut > 0 {
		line += " " + t.V.Say("rule.cut", "when", ClockText(s.CreditCut))
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

// ClaimDay names a claim by the day on which its slip was printed.
func ClaimDay(t *Teller, x books.Claim) string { return t.V.Day(SlipDay(t, x).Time()) }

// ClaimDays words the days of several settlements.
func ClaimDays(t *Teller, of []int64) string {
	var days []string
	for _, x := range t.M.ClaimsOf(of) {
		if day := ClaimDay(t, x); !slices.Contains(days, day) {
			days = append(days, day)
		}
	}
	return strings.Join(days, " + ")
}

// SlipDay is the day of trading on which a claim's slip was printed, as it was recorded.
func SlipDay(t *Teller, x books.Claim) shop.Date {
	if x.Day != "" {
		return x.Day
	}
	return reminders.Today(t.F.Shop, x.Settled)
}
