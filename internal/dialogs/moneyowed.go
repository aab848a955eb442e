package dialogs

import (
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/bankdays"
	"shopfloat/internal/books"
	"shopfloat/internal/reminders"
)

// owedLines bounds the settlements that are shown one by one.
const owedLines = 10

func owedCommand() command {
	return command{name: doOwed, rights: rights{access.Keeping, anyPhone, onceSetUp},
		does: tellsOnly, help: helpMore, takes: anyWords, run: (*talk).owed}
}

// owed lists what the bank owes, by age, with a total.
func (c *talk) owed() {
	if c.hidden() {
		c.say(c.v.Say("hidden"))
		return
	}
	due := c.m.Due()
	if len(due) == 0 && len(c.m.Loose) == 0 && c.m.ByBank().IsZero() {
		c.send(Reply{Body: []Block{text(c.v.Say("owed.none"), c.ruleLine())}})
		return
	}
	body := []Block{text(c.v.Say("owed.head"))}
	var rows [][]string
	older := c.m.ByBank()
	part := false
	for _, x := range due[max(len(due)-owedLines, 0):] {
		word := c.dueWord(x)
		if c.printed(x).part {
			part, word = true, c.v.Say("owed.least", "due", word)
		}
		rows = append(rows, []string{c.claimDay(x), c.v.Money(x.Left()), word})
		older = older.Sub(x.Left())
	}
	if !older.IsZero() {
		rows = append([][]string{{c.v.Say("owed.older"), c.v.Money(older), ""}}, rows...)
	}
	if len(rows) == 0 {
		body = []Block{text(c.v.Say("owed.none"))}
	} else {
		rows = append(rows, []string{c.v.Say("owed.total"), c.v.Money(c.m.ByBank()), either(part, c.v.Say("owed.at-least"), "")})
		body = append(body, columnsLast(rows))
	}
	var lines []string
	for _, l := range c.m.Loose {
		id := "owed.loose-" + string(l.As)
		if l.Value.IsNegative() {
			id = "owed.loose-taken"
		}
		lines = append(lines, c.v.Say(id, "money", c.v.Money(l.Value.Abs()), "day",
			c.v.Day(c.local(l.Happened))))
	}
	if len(c.lots()) > 0 {
		lines = append(lines, c.v.Say("owed.match"))
	}
	c.send(Reply{Body: append(body, text(append(lines, c.ruleLine())...))})
}

// columnsLast lines up a name, an amount and words after it.
func columnsLast(rows [][]string) Block {
	short := make([][]string, len(rows))
	for i, r := range rows {
		short[i] = r[:2]
	}
	lines := strings.Split(columns(1, short).Text, "\n")
	for i, r := range rows {
		if r[2] != "" {
			lines[i] += "  " + r[2]
		}
	}
	return Block{Text: strings.Join(lines, "\n"), Fixed: true}
}

// dueWord says when a claim is due, or since when it has been.
func (c *talk) dueWord(x books.Claim) string {
	switch {
	case x.On == "":
		return c.v.Say("owed.no-date")
	case c.late(x):
		return c.v.Say("owed.late", "day", c.v.Day(x.On.Time()))
	}
	return c.v.Say("owed.due", "day", c.v.Day(x.On.Time()))
}

// ruleLine states the rule by which due dates are worked out.
func (c *talk) ruleLine() string {
	s := &c.f.Shop.Settings
	if s.CreditDays == 0 {
		return c.v.Say("rule.none")
	}
	line := c.v.Count("rule", int64(s.CreditDays))
	if s.CreditCut > 0 {
		line += " " + c.v.Say("rule.cut", "when", clockText(s.CreditCut))
	}
	if s.CreditRoll {
		line += " " + c.v.Say("rule.roll")
	} else {
		line += " " + c.v.Say("rule.stay")
	}
	if !bankdays.Known(s.Currency) {
		line += " " + c.v.Say("rule.weekends")
	}
	return line
}

// owedName names the deadline of a claim that is overdue.
const owedName = "owed-"

// remindOf plans the ladder of a claim from the morning after its due date on
// which banks pay: it ends when the claim is paid.
func (c *talk) remindOf(x books.Claim) {
	if x.On != "" && x.Left().IsPositive() {
		c.climb(owedName+strconv.FormatInt(x.Seq, 10), c.overdueFrom(x), reminders.Owed)
	}
}

// quietPaid drops the reminders of claims that are paid.
func (c *talk) quietPaid(of []int64) {
	for _, seq := range of {
		if x := c.m.Claim(seq); x != nil && !x.Left().IsPositive() {
			c.deadline(owedName+strconv.FormatInt(seq, 10), time.Time{})
		}
	}
}

func owedBegan(c *talk, no int64) (time.Time, bool) {
	x := c.m.Claim(no)
	if x == nil || !x.Left().IsPositive() || x.On == "" {
		return time.Time{}, false
	}
	return c.overdueFrom(*x), true
}

// tellOwed tells of a claim that is overdue, to a manager and then to an owner.
func (c *talk) tellOwed(no int64, r reminders.Rung) {
	x, key := c.m.Claim(no), owedName+strconv.FormatInt(no, 10)
	c.tellPeople(reminders.People(c.f.Shop, c.today(), reminders.Owed, r.To), Reply{
		Body: []Block{text(c.v.Say("overdue"), c.which(),
			c.v.Say("overdue.what", "day", c.claimDay(*x), "due", c.v.Day(x.On.Time())), c.v.Say("overdue.do"))},
		Buttons: [][]Button{c.button("bank-paid", "o:credit:"+strconv.FormatInt(no, 10)),
			c.button("message", "o:bank:"+strconv.FormatInt(no, 10))},
		Key: key, Retire: key,
	})
}

// overdueFrom is when a claim becomes overdue: on the next banking day after
// its due date.
func (c *talk) overdueFrom(x books.Claim) time.Time {
	return reminders.Notice(c.f.Shop, bankdays.Next(c.f.Shop.Currency, x.On.Add(1)))
}

// remindOwed plans the reminders of the settlements that this step recorded.
func (c *talk) remindOwed() {
	last := c.before().Seq
	for _, x := range c.m.Claims {
		if x.Seq > last {
			c.remindOf(x)
		}
	}
}

// tapCredited begins to record what the bank paid after all.
func (c *talk) tapCredited(_ string) { c.carryOut(doCredit) }

// tapBank drafts a message to the bank about money that did not come.
func (c *talk) tapBank(arg string) {
	seq, err := strconv.ParseInt(arg, 10, 64)
	x := c.m.Claim(seq)
	switch {
	case err != nil || x == nil:
		c.unknownTap()
		return
	case c.hidden():
		c.Notice = c.v.Say("hidden")
		return
	case !x.Left().IsPositive():
		c.Notice = c.v.Say("bank.came-already")
		return
	}
	words := []string{
		c.v.Say("bank.subject", "place", c.f.Shop.Name, "day", c.claimDay(*x)),
		c.v.Say("bank.due", "day", c.claimDay(*x), "when", c.v.Clock(c.local(x.Settled)), "money", c.v.Money(x.Left())),
		c.v.Say("bank.late", "due", c.v.Day(x.On.Time())), c.v.Say("bank.ask"),
	}
	c.send(Reply{Body: []Block{text(c.v.Say("bank.copy")), {Text: strings.Join(words, "\n"), Fixed: true}}})
}

// moneyMoments are credits that are late.
func moneyMoments() moments {
	return moments{after: (*talk).remindOwed,
		matters: []matter{{prefix: owedName, task: reminders.Owed, began: owedBegan, tell: (*talk).tellOwed}}}
}
