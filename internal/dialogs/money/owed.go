package money

import (
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/bankdays"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/reminders"
)

// owedLines bounds the settlements that are shown one by one.
const owedLines = 10

// OwedCommand lists what the bank owes.
func OwedCommand() engine.Command {
	return engine.Command{Name: engine.DoOwed,
		Rights: engine.May(access.Keeping, engine.AnyPhone, engine.OnceSetUp), Does: engine.TellsOnly,
		Help: engine.HelpMore, Takes: engine.AnyWords, Run: owed}
}

// owed lists what the bank owes, by age, with a total.
func owed(c *engine.Talk) {
	if c.Hidden() {
		c.Say(c.V.Say("hidden"))
		return
	}
	due := c.M.Due()
	if len(due) == 0 && len(c.M.Loose) == 0 && c.M.ByBank().IsZero() {
		c.Say(engine.Text(c.V.Say("owed.none"), ruleLine(c)).Text)
		return
	}
	body := []chat.Block{engine.Text(c.V.Say("owed.head"))}
	var rows [][]string
	older := c.M.ByBank()
	part := false
	for _, x := range due[max(len(due)-owedLines, 0):] {
		word := trade.DueWord(c, x)
		if printed(c, x).Part {
			part, word = true, c.V.Say("owed.least", "due", word)
		}
		rows = append(rows, []string{claimDay(c, x), c.V.Money(x.Left()), word})
		older = older.Sub(x.Left())
	}
	if !older.IsZero() {
		rows = append([][]string{{c.V.Say("owed.older"), c.V.Money(older), ""}}, rows...)
	}
	if len(rows) == 0 {
		body = []chat.Block{engine.Text(c.V.Say("owed.none"))}
	} else {
		rows = append(rows, []string{c.V.Say("owed.total"), c.V.Money(c.M.ByBank()), engine.Either(part,
			c.V.Say("owed.at-least"), "")})
		body = append(body, columnsLast(rows))
	}
	var lines []string
	for _, l := range c.M.Loose {
		id := "owed.loose-" + string(l.As)
		if l.Value.IsNegative() {
			id = "owed.loose-taken"
		}
		lines = append(lines, c.V.Say(id, "money", c.V.Money(l.Value.Abs()), "day",
			c.V.Day(c.Local(l.Happened))))
	}
	if len(lots(c)) > 0 {
		lines = append(lines, c.V.Say("owed.match"))
	}
	c.Send(chat.Reply{Body: append(body, engine.Text(append(lines, ruleLine(c))...))})
}

// columnsLast lines up a name, an amount and words after it.
func columnsLast(rows [][]string) chat.Block {
	short := make([][]string, len(rows))
	for i, r := range rows {
		short[i] = r[:2]
	}
	lines := strings.Split(engine.Columns(1, short).Text, "\n")
	for i, r := range rows {
		if r[2] != "" {
			lines[i] += "  " + r[2]
		}
	}
	return chat.Block{Text: strings.Join(lines, "\n"), Fixed: true}
}

// ruleLine states the rule by which due dates are worked out.
func ruleLine(c *engine.Talk) string {
	s := &c.F.Shop.Settings
	if s.CreditDays == 0 {
		return c.V.Say("rule.none")
	}
	line := c.V.Count("rule", int64(s.CreditDays))
	if s.CreditCut > 0 {
		line += " " + c.V.Say("rule.cut", "when", ask.ClockText(s.CreditCut))
	}
	if s.CreditRoll {
		line += " " + c.V.Say("rule.roll")
	} else {
		line += " " + c.V.Say("rule.stay")
	}
	if !bankdays.Known(s.Currency) {
		line += " " + c.V.Say("rule.weekends")
	}
	return line
}

func owedBegan(c *engine.Talk, no int64) (time.Time, bool) {
	x := c.M.Claim(no)
	if x == nil || !x.Left().IsPositive() || x.On == "" {
		return time.Time{}, false
	}
	return trade.OverdueFrom(c, *x), true
}

// tellOwed tells of a claim that is overdue, to a manager and then to an owner.
func tellOwed(c *engine.Talk, no int64, r reminders.Rung) {
	x, key := c.M.Claim(no), trade.OwedName+strconv.FormatInt(no, 10)
	c.TellPeople(reminders.People(c.F.Shop, c.Today(), reminders.Owed, r.To), chat.Reply{
		Body: []chat.Block{engine.Text(c.V.Say("overdue"), c.Which(),
			c.V.Say("overdue.what", "day", claimDay(c, *x), "due", c.V.Day(x.On.Time())), c.V.Say("overdue.do"))},
		Buttons: [][]chat.Button{c.Button("bank-paid", "o:credit:"+strconv.FormatInt(no, 10)),
			c.Button("message", "o:bank:"+strconv.FormatInt(no, 10))},
		Key: key, Retire: key,
	})
}

// remindOwed plans the reminders of the settlements that this step recorded.
func remindOwed(c *engine.Talk) {
	last := c.Before().Seq
	for _, x := range c.M.Claims {
		if x.Seq > last {
			trade.RemindOf(c, x)
		}
	}
}

// tapCredited begins to record what the bank paid after all.
func tapCredited(c *engine.Talk, _ string) { c.CarryOut(engine.DoCredit) }

// tapBank drafts a message to the bank about money that did not come.
func tapBank(c *engine.Talk, arg string) {
	seq, err := strconv.ParseInt(arg, 10, 64)
	x := c.M.Claim(seq)
	switch {
	case err != nil || x == nil:
		c.UnknownTap()
		return
	case c.Hidden():
		c.Notice = c.V.Say("hidden")
		return
	case !x.Left().IsPositive():
		c.Notice = c.V.Say("bank.came-already")
		return
	}
	words := []string{
		c.V.Say("bank.subject", "place", c.F.Shop.Name, "day", claimDay(c, *x)),
		bankDue(c, *x), c.V.Say("bank.late", "due", c.V.Day(x.On.Time())),
	}
	sendCopy(c, words)
}

// Moments are credits that are late.
func Moments() engine.Moments {
	return engine.Moments{After: remindOwed,
		Matters: []engine.Matter{{Prefix: trade.OwedName, Task: reminders.Owed, Began: owedBegan, Tell: tellOwed}}}
}
