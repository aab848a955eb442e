package telling

import (
	"slices"
	"strings"
	"time"

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
		if slipOf(t, x).Part {
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

// slipOf looks a claim's slip up in its period, or in the ledger when that is
// no longer at hand. A slip was printed at the count, however late it is typed in.
func slipOf(t *Teller, x books.Claim) Printed {
	if p := t.M.Period(x.Period); p != nil {
		s := Printed{At: x.Settled, Part: p.Has(books.Unsettled)}
		if !p.CountedAt.IsZero() && p.CountedAt.Before(x.Settled) {
			s.At = p.CountedAt
		}
		return s
	}
	if t.slips == nil {
		t.slips = slipsEver(t)
	}
	if s, ok := t.slips[x.Seq]; ok {
		return s
	}
	return Printed{At: x.Settled}
}

// slipsEver gives all slips of the ledger, by the number of their record.
func slipsEver(t *Teller) map[int64]Printed {
	all := map[int64]Printed{}
	if !t.HasLedger() {
		return all
	}
	counted := map[int64]time.Time{}
	for _, e := range books.InForce(t.F.Ask.Entries()) {
		switch e.Kind {
		case books.Count:
			counted[e.Period] = e.Happened
		case books.Settlement:
			s := Printed{At: e.Happened, Part: e.Has(books.Unsettled)}
			if at, ok := counted[e.Period]; ok && at.Before(s.At) {
				s.At = at
			}
			all[e.Seq] = s
		}
	}
	return all
}

// SlipDay is the day of trading on which a claim's slip was printed.
func SlipDay(t *Teller, x books.Claim) shop.Date {
	return reminders.Today(t.F.Shop, slipOf(t, x).At)
}

// Printed tells of the slip behind a claim what the claim itself does not.
type Printed struct {
	At   time.Time
	Part bool // what was paid out before the counters started again is not on it
}
