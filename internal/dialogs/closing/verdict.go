package closing

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
)

// askVerdict shows what a closing comes to, and what may explain a difference.
func askVerdict(c *engine.Talk) *engine.Card {
	p, err := preview(c)
	if err != nil {
		return c.NoResult(err)
	}
	trade.Shown(c, p)
	k := &engine.Card{}
	if line := alsoCounting(c); line != "" {
		k.Body = append(k.Body, engine.Text(line))
	}
	k.Body = append(k.Body, trade.Verdict(c, p)...)
	if k.Buttons = twiceButtons(c, p); len(k.Buttons) == 0 {
		k.Buttons = fixButtons(c, p)
	}
	k.Buttons = append(k.Buttons, c.Button("confirm", "confirm"), c.Button("change", "figures"))
	if !p.Taken {
		k.Buttons = append(k.Buttons, c.Button("recount", "recount"))
	}
	return k
}

// recount asks the whole count again. The difference is known by now, so the
// new count is marked.
func recount(c *engine.Talk) {
	everything.anew(c)
	kept(c).NotBlind = true
}

// countTray asks for the box for refused notes again, and nothing else.
func countTray(c *engine.Talk) {
	p := ask.Target(c)
	v := make([]int64, len(p.Boxes))
	for i, b := range p.Boxes {
		v[i] = b.Remaining
	}
	c.Put("left", v)
	c.Unanswer("tray")
	kept(c).Count.NoTray, kept(c).NotBlind = false, true
	c.GoTo("tray")
}

// above reports whether a period's difference is more than the shop lets pass.
func above(c *engine.Talk, p *books.Period) bool {
	if p.Verdict == books.NotComplete {
		return true // a manager has to know, and may know the rest
	}
	if p.TotalOnly() {
		var allowed decimal.Decimal
		for _, t := range c.F.Shop.Tolerance {
			allowed = allowed.Add(cashmath.Value(t.Face, t.Notes))
		}
		return p.Variance.Abs().GreaterThan(allowed)
	}
	for f, n := range p.ByFace {
		if max(n, -n) > c.F.Shop.Allowed(f) {
			return true
		}
	}
	return false
}

// conclude books what count and printed figures come to. A difference above what
// the shop lets pass is told, and its reason asked.
func (n counting) conclude(c *engine.Talk) {
	p := n.book(c)
	if p == nil {
		return
	}
	if above(c, p) {
		n.tell(c, p)
		if p.Verdict != books.NotComplete {
			c.GoTo("reason")
			return
		}
	}
	n.end(c)
}

// bookClose records the printed figures and the close.
func bookClose(c *engine.Talk) *books.Period {
	p := ask.Target(c)
	list := []books.Record{{Kind: books.Close, Period: p.No}}
	if len(nightTicks(c)) > 0 && engine.SameDay(c.Local(p.CountedAt), c.Local(c.In.At)) {
		list[0].Ticks = []string{"night-slip"}
	}
	if c.F.Shop.Nightly || p.Paper {
		list[0].Where = books.Cash
	}
	if r, ok := settlement(c, p); ok {
		list = append([]books.Record{r}, list...)
	}
	if !recorded(c, list...) {
		return nil
	}
	p = c.M.Period(p.No)
	trade.OwnersNote(c, p)
	return p
}

// recorded writes records, all of them or none.
func recorded(c *engine.Talk, list ...books.Record) bool {
	for _, r := range list {
		if _, err := c.Record(r); err != nil {
			c.Refuse(err)
			return false
		}
	}
	return true
}

func (n counting) askReason(c *engine.Talk) *engine.Card {
	told := c.V.Say("manager-told")
	if c.F.Person.Role.Manages() {
		told = ""
	}
	return &engine.Card{
		Body:    []chat.Block{engine.Text(c.V.Say(n.done, "when", c.Clock(c.When())), told, c.V.Say("ask.reason"))},
		Buttons: [][]chat.Button{c.Button("skip", "skip")}}
}

// answerReason keeps the words beside what was booked.
func (n counting) answerReason(c *engine.Talk, s string) bool {
	if recorded(c, books.Record{Kind: books.Attachment, Period: ask.Target(c).No, Target: c.M.Seq, Words: s}) {
		c.First(c.V.Say(n.kept))
		n.end(c)
	}
	return true
}

// nightTicks are what remains to be done after a close.
func nightTicks(c *engine.Talk) []string {
	if p := ask.Target(c); !c.State.Draft.Happened.IsZero() || p != nil && p.Taken {
		return nil // nothing to put away: the next opening has taken it, or the day is long over
	}
	list := []string{"night-away", "night-on"}
	switch {
	case !c.F.Shop.Nightly:
		return []string{"night-locked", "night-on"}
	case c.F.Shop.SafeOpen:
		return append(list, "night-open")
	}
	return append(list, "night-locked")
}

// night shows the overnight card and ends the dialog.
func night(c *engine.Talk) {
	p := ask.Target(c)
	head := trade.ClosedHead(c, p)
	switch {
	case len(p.Ticks) > 0:
		trade.AskTicks(c, p, head)
	case c.State.Draft.Happened.IsZero():
		c.Close(engine.Text(head))
	default:
		c.Close(engine.Text(head, c.V.Say("paper-next")))
	}
}

// waitClosing ends with everything counted kept and the printed figures missing.
func waitClosing(c *engine.Talk, why string) {
	p := ask.Target(c)
	told := engine.Either(len(p.Slips) > 0, "told.close-missing", "told.figures-missing")
	c.Managers(engine.Text(c.V.Say(told, "day", c.V.Day(c.Local(p.Opened)), "who", c.F.Person.Name)))
	head := c.V.Say(why) + "\n" + c.V.Say("wait.how")
	if len(p.Ticks) == 0 {
		c.Close(engine.Text(head))
		return
	}
	trade.AskTicks(c, p, head)
}
