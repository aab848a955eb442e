package money

import (
	"strconv"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/owing"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/tasks"
	"shopfloat/internal/telling"
)

// OwedCommand lists what the bank owes.
func OwedCommand() engine.Command {
	return engine.Command{Name: engine.DoOwed,
		Rights: engine.May(access.Keeping, engine.AnyPhone, engine.OnceSetUp), Does: engine.TellsOnly,
		Help: engine.HelpMore, Takes: engine.AnyWords, Run: owed}
}

// owed tells what the bank owes, or owed: owed, owed together, owed at 30 november.
func owed(c *engine.Talk) { c.Send(owing.OwedBy(c.Teller, c.Rest)) }

// tapOwed shows the settlements one by one, a page at a time.
func tapOwed(c *engine.Talk, arg string) {
	r, ok := owing.OwedPage(c.Teller, arg)
	if !ok {
		c.UnknownTap()
		return
	}
	c.Send(r)
}

// late is since when a claim is, by its day.
type late func(*shop.Shop, shop.Date) time.Time

// tell tells of a late claim once for all that are so since the same moment. Where the one before is not
// paid by the books either nobody looked since that was told: the letter of the week goes on with it.
func (l late) tell(c *engine.Talk, no int64, r reminders.Rung) {
	from := func(due shop.Date) time.Time { return l(c.F.Shop, due) }
	c.OwingOf([]int64{no})
	x, key := c.M.Claim(no), tasks.OwedName+strconv.FormatInt(no, 10)
	together, more := owing.Since(c.Teller, *x, from), ""
	before, known := owing.DueBefore(c.Teller, *x)
	if together[0].Seq != no || known && before.Left().IsPositive() && !c.In.At.Before(from(before.On)) {
		return
	}
	if n := int64(len(together) - 1); n > 0 {
		more = c.V.Count("overdue.more", n)
	}
	c.TellPeople(reminders.People(c.F.Shop, c.Today(), reminders.Owed, r.To), chat.Reply{
		Body: []chat.Block{chat.Lines(c.V.Say("overdue"), c.Which(),
			c.V.Say("overdue.what", "day", telling.ClaimDay(c.Teller, *x), "due", c.V.Day(x.On.Time())), more,
			c.V.Say("overdue.do"))},
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
	x := telling.Settled(c.Teller).M.Claim(seq)
	switch {
	case err != nil || x == nil:
		c.UnknownTap()
		return
	case !x.Left().IsPositive():
		c.Notice = c.V.Say("bank.came-already")
		return
	}
	c.Send(chat.Reply{Body: owing.AboutLate(c.Teller, *x)})
}

// Moments are credits that are late.
func Moments() engine.Moments {
	overdue, long := late(reminders.Overdue), late(reminders.LongOverdue)
	return engine.Moments{After: remindOwed,
		Matters: []engine.Matter{
			{Prefix: tasks.OwedName, Task: reminders.Owed, Began: telling.OwedBegan, Tell: overdue.tell},
			{Prefix: tasks.LongName, Task: reminders.LongOwed, Began: telling.LongBegan, Tell: long.tell}}}
}
