package closing

import (
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
)

// settlement makes the record of the printed figures in the draft; ok is
// false when the earlier slips are all there is.
func settlement(c *engine.Talk, p *books.Period) (r books.Record, ok bool) {
	if c.Chosen("no-more") != "" {
		return r, false
	}
	r = books.Record{Kind: books.Settlement, Period: p.No}
	if total := c.Chosen("paid-total"); total != "" {
		r.Amounts = []books.Amount{
			{Field: books.PaidOut,
				Value: engine.AmountOf(total)}, {Field: books.Cancelled, Value: engine.AmountOf(c.Chosen("back-total"))},
		}
	}
	kinds := ask.KindLines(c)
	if len(r.Amounts) == 0 {
		r.Figures = append(ask.BoxFigures(books.PaidOut, kinds, paidQuestion.Values(c), false),
			ask.BoxFigures(books.Cancelled, kinds, backQuestion.Values(c), false)...)
	}
	if v := c.Counted("last-seen"); v != nil {
		r.Marks = append(r.Marks, books.Restarted)
		r.Figures = append(r.Figures, ask.BoxFigures(books.LastSeen, kinds, v, false)...)
	}
	if c.Chosen("unsettled") != "" {
		r.Marks = append(r.Marks, books.Unsettled)
	}
	printed := c.When()
	if p.Status == books.Waiting {
		printed = p.CountedAt // the slip was printed at the count, however late it is typed in
	}
	r.Due, r.DueOn = books.DueFor(r, p.TestsLeft), trade.DueOn(c, printed)
	return r, true
}

// preview is the period as it would be with the draft's printed figures.
func preview(c *engine.Talk) (*books.Period, error) {
	p := ask.Target(c)
	r, ok := settlement(c, p)
	if !ok {
		return p, nil
	}
	m := c.M.Clone()
	r.Happened = c.When().UTC()
	_, err := m.Post(c.Entry(r, m.Seq+1))
	return m.Period(p.No), err
}

func askVerdict(c *engine.Talk) *engine.Card {
	p, err := preview(c)
	if err != nil {
		return c.NoResult(err)
	}
	trade.Shown(c, p)
	k := &engine.Card{}
	if line := counting(c); line != "" {
		k.Body = append(k.Body, engine.Text(line))
	}
	k.Body = append(k.Body, trade.Verdict(c, p)...)
	if !c.Count().Own {
		if k.Buttons = twiceButtons(c, p); len(k.Buttons) == 0 {
			k.Buttons = fixButtons(c, p)
		}
	}
	k.Buttons = append(k.Buttons, c.Button("confirm", "confirm"), c.Button("change", "figures"))
	if !p.Taken {
		k.Buttons = append(k.Buttons, c.Button("recount", "recount"))
	}
	return k
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

func tapVerdict(c *engine.Talk) {
	if !c.Overtaken() {
		confirmVerdict(c)
	}
}

func confirmVerdict(c *engine.Talk) {
	if c.Count().Own {
		confirmSpot(c)
		return
	}
	p := ask.Target(c)
	if r, ok := settlement(c, p); ok {
		if _, err := c.Record(r); err != nil {
			c.Refuse(err)
			return
		}
	}
	r := books.Record{Kind: books.Close, Period: p.No}
	if len(nightTicks(c)) > 0 && engine.SameDay(c.Local(p.CountedAt), c.Local(c.In.At)) {
		r.Ticks = []string{"night-slip"}
	}
	if c.F.Shop.Nightly || p.Paper {
		r.Where = books.Cash
	}
	if _, err := c.Record(r); err != nil {
		c.Refuse(err)
		return
	}
	p = c.M.Period(p.No)
	trade.OwnersNote(c, p)
	if above(c, p) {
		tellDifference(c, p)
		if p.Verdict != books.NotComplete {
			c.GoTo("reason")
			return
		}
	}
	night(c, p)
}

// recount asks the whole count again. The difference is known by now, so the
// new count is marked.
func recount(c *engine.Talk) {
	for _, name := range []string{"left", "tray", "found"} {
		c.Unanswer(name)
	}
	for k := range c.State.Draft.Choices {
		if strings.HasPrefix(k, "in.") {
			delete(c.State.Draft.Choices, k)
		}
	}
	delete(c.State.Draft.Choices, "no-tray")
	c.Choose("not-blind", "yes")
	c.GoTo("left")
}

func askReason(c *engine.Talk) *engine.Card {
	told := c.V.Say("manager-told")
	if c.F.Person.Role.Manages() {
		told = ""
	}
	done := engine.Either(c.Count().Own, "spot-recorded", "closed-recorded")
	return &engine.Card{
		Body:    []chat.Block{engine.Text(c.V.Say(done, "when", c.Clock(c.When())), told, c.V.Say("ask.reason"))},
		Buttons: [][]chat.Button{c.Button("skip", "skip")}}
}

// answerReason keeps the words beside the close.
func answerReason(c *engine.Talk, s string) bool {
	p := ask.Target(c)
	r := books.Record{Kind: books.Attachment, Period: p.No, Target: c.M.Seq, Words: s}
	if _, err := c.Record(r); err != nil {
		c.Refuse(err)
		return true
	}
	c.First(c.V.Say(engine.Either(c.Count().Own, "reason-kept-spot", "reason-kept")))
	noReason(c)
	return true
}

func noReason(c *engine.Talk) {
	if c.Count().Own {
		spotDone(c)
		return
	}
	night(c, ask.Target(c))
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
func night(c *engine.Talk, p *books.Period) {
	head := trade.ClosedHead(c, p)
	if len(p.Ticks) == 0 {
		if c.State.Draft.Happened.IsZero() {
			c.Close(engine.Text(head))
			return
		}
		c.Close(engine.Text(head, c.V.Say("paper-next")))
		return
	}
	trade.AskTicks(c, p, head)
}
