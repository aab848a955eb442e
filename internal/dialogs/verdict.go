package dialogs

import (
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
)

func (c *talk) minorDigits() int {
	cur, err := cashmath.LookupCurrency(c.f.Shop.Currency)
	if err != nil {
		return 2
	}
	return int(cur.Digits())
}

// settlement makes the record of the printed figures in the draft; ok is
// false when the earlier slips are all there is.
func (c *talk) settlement(p *books.Period) (r books.Record, ok bool) {
	if c.chosen("no-more") != "" {
		return r, false
	}
	r = books.Record{Kind: books.Settlement, Period: p.No}
	if total := c.chosen("paid-total"); total != "" {
		r.Amounts = []books.Amount{
			{Field: books.PaidOut, Value: amountOf(total)}, {Field: books.Cancelled, Value: amountOf(c.chosen("back-total"))},
		}
	}
	kinds := kindLines(c)
	if len(r.Amounts) == 0 {
		r.Figures = append(boxFigures(books.PaidOut, kinds, paidQuestion.values(c), false),
			boxFigures(books.Cancelled, kinds, backQuestion.values(c), false)...)
	}
	if v := c.State.Draft.Counts["last-seen"]; v != nil {
		r.Marks = append(r.Marks, books.Restarted)
		r.Figures = append(r.Figures, boxFigures(books.LastSeen, kinds, v, false)...)
	}
	if c.chosen("unsettled") != "" {
		r.Marks = append(r.Marks, books.Unsettled)
	}
	printed := c.when()
	if p.Status == books.Waiting {
		printed = p.CountedAt // the slip was printed at the count, however late it is typed in
	}
	r.Due, r.DueOn = books.DueFor(r, p.TestsLeft), c.dueOn(printed)
	return r, true
}

func amountOf(s string) decimal.Decimal {
	d, err := decimal.NewFromString(s)
	if err != nil {
		return decimal.Zero
	}
	return d
}

// preview is the period as it would be with the draft's printed figures.
func (c *talk) preview() (*books.Period, error) {
	p := c.target()
	r, ok := c.settlement(p)
	if !ok {
		return p, nil
	}
	m := c.m.Clone()
	r.Happened = c.when().UTC()
	_, err := m.Post(books.Entry{Record: r, Machine: m.ID, Seq: m.Seq + 1, By: c.f.Person.ID})
	return m.Period(p.No), err
}

func askVerdict(c *talk) *card {
	p, err := c.preview()
	if err != nil {
		return c.noResult(err)
	}
	c.shown(p)
	k := &card{}
	if line := c.counting(); line != "" {
		k.body = append(k.body, text(line))
	}
	k.body = append(k.body, c.verdict(p)...)
	if !c.count().own {
		if k.buttons = c.twiceButtons(p); len(k.buttons) == 0 {
			k.buttons = c.fixButtons(p)
		}
	}
	k.buttons = append(k.buttons, c.button("confirm", "confirm"), c.button("change", "figures"))
	if !p.Taken {
		k.buttons = append(k.buttons, c.button("recount", "recount"))
	}
	return k
}

// verdict says whether a period balances, in lines that never blame.
func (c *talk) verdict(p *books.Period) []Block {
	return append(c.outcome(p, "verdict.head"), text(c.dues(p)))
}

// outcome is the verdict without what the bank should pay.
func (c *talk) outcome(p *books.Period, head string) []Block {
	if p.TotalOnly() {
		word, variance := p.Balances()
		return []Block{text(c.v.Say(head)), text(append([]string{c.total(p, word, variance),
			c.v.Say("verdict.total-only"), c.placed(p, variance)}, c.twiceLines(p)...)...)}
	}
	r := cashmath.Reconcile(p.Day())
	body := []Block{text(c.v.Say(head)), c.verdictTable(r, !p.Has(books.Unsettled))}
	lines := append([]string{c.total(p, r.Verdict, r.TotalVariance)}, c.likely(p)...)
	if len(lines) == 1 {
		lines = append(lines, c.lookFirst(p, r))
	}
	return append(body, text(append(lines, c.placed(p, r.TotalVariance))...))
}

// likely says what the difference probably is: figures typed twice, before anything else.
func (c *talk) likely(p *books.Period) []string {
	if lines := c.twiceLines(p); len(lines) > 0 {
		return lines
	}
	return c.causeLines(p)
}

// dues says what the bank should pay, for each slip apart: each is credited by itself.
func (c *talk) dues(p *books.Period) string {
	var parts []string
	for _, s := range p.Slips {
		if s.Due.IsPositive() {
			parts = append(parts, c.v.Money(s.Due))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return c.v.Say("verdict.due", "money", c.least(p.Has(books.Unsettled), strings.Join(parts, " + ")))
}

// verdictTable lines up what should be there and what was counted; without
// differences where what should be there is not known.
func (c *talk) verdictTable(r cashmath.Result, known bool) Block {
	rows := [][]string{{"", c.v.Say("col.expected"), c.v.Say("col.counted"), ""}}
	for _, l := range r.Lines {
		row := []string{c.v.Kind(l.Face), "?", c.v.Number(l.Counted), ""}
		if known {
			row[1], row[3] = c.v.Number(l.Expected), c.differs(l.VarianceNotes)
		}
		rows = append(rows, row)
	}
	return columns(1, rows)
}

// differs words a difference in notes: 9 missing, 1 too many.
func (c *talk) differs(n int64) string {
	switch {
	case n < 0:
		return c.v.Say("missing", "n", c.v.Number(-n))
	case n > 0:
		return c.v.Say("too-many", "n", c.v.Number(n))
	}
	return ""
}

func (c *talk) total(p *books.Period, word cashmath.Verdict, variance decimal.Decimal) string {
	switch {
	case p.Has(books.Unsettled):
		return c.v.Say("verdict.incomplete")
	case p.Has(books.NoTray) && word != cashmath.Balanced:
		return c.v.Say("verdict.no-tray")
	}
	return c.v.Say("verdict."+string(word), "money", c.v.Money(variance.Abs()))
}

// lookFirst says where to look before anything else.
func (c *talk) lookFirst(p *books.Period, r cashmath.Result) string {
	if r.Verdict == cashmath.Balanced || p.Has(books.Unsettled) {
		return ""
	}
	if len(p.Tray) == 0 && r.Verdict == cashmath.Short {
		return c.v.Say("look.tray")
	}
	return c.v.Say("look.count")
}

// above reports whether a period's difference is more than the shop lets pass.
func (c *talk) above(p *books.Period) bool {
	if p.Verdict == books.NotComplete {
		return true // a manager has to know, and may know the rest
	}
	if p.TotalOnly() {
		var allowed decimal.Decimal
		for _, t := range c.f.Shop.Tolerance {
			allowed = allowed.Add(cashmath.Value(t.Face, t.Notes))
		}
		return p.Variance.Abs().GreaterThan(allowed)
	}
	for f, n := range p.ByFace {
		if max(n, -n) > c.f.Shop.Allowed(f) {
			return true
		}
	}
	return false
}

func tapVerdict(c *talk) {
	if !c.overtaken() {
		confirmVerdict(c)
	}
}

func confirmVerdict(c *talk) {
	if c.count().own {
		confirmSpot(c)
		return
	}
	p := c.target()
	if r, ok := c.settlement(p); ok {
		if _, err := c.record(r); err != nil {
			c.refuse(err)
			return
		}
	}
	r := books.Record{Kind: books.Close, Period: p.No}
	if len(c.nightTicks()) > 0 && sameDay(c.local(p.CountedAt), c.local(c.in.At)) {
		r.Ticks = []string{"night-slip"}
	}
	if c.f.Shop.Nightly || p.Paper {
		r.Where = books.Cash
	}
	if _, err := c.record(r); err != nil {
		c.refuse(err)
		return
	}
	p = c.m.Period(p.No)
	c.ownersNote(p)
	if c.above(p) {
		c.tellDifference(p)
		if p.Verdict != books.NotComplete {
			c.goTo("reason")
			return
		}
	}
	c.night(p)
}

// recount asks the whole count again. The difference is known by now, so the
// new count is marked.
func recount(c *talk) {
	for _, name := range []string{"left", "tray", "found"} {
		delete(c.State.Draft.Counts, name)
	}
	for k := range c.State.Draft.Choices {
		if strings.HasPrefix(k, "in.") {
			delete(c.State.Draft.Choices, k)
		}
	}
	delete(c.State.Draft.Choices, "no-tray")
	c.choose("not-blind", "yes")
	c.goTo("left")
}

func askReason(c *talk) *card {
	told := c.v.Say("manager-told")
	if c.f.Person.Role.Manages() {
		told = ""
	}
	done := either(c.count().own, "spot-recorded", "closed-recorded")
	return &card{
		body:    []Block{text(c.v.Say(done, "when", c.clock(c.when())), told, c.v.Say("ask.reason"))},
		buttons: [][]Button{c.button("skip", "skip")},
	}
}

// answerReason keeps the words beside the close.
func answerReason(c *talk, s string) bool {
	p := c.target()
	r := books.Record{Kind: books.Attachment, Period: p.No, Target: c.m.Seq, Words: s}
	if _, err := c.record(r); err != nil {
		c.refuse(err)
		return true
	}
	c.first(c.v.Say(either(c.count().own, "reason-kept-spot", "reason-kept")))
	noReason(c)
	return true
}

func noReason(c *talk) {
	if c.count().own {
		c.spotDone()
		return
	}
	c.night(c.target())
}

// nightTicks are what remains to be done after a close.
func (c *talk) nightTicks() []string {
	if p := c.target(); !c.State.Draft.Happened.IsZero() || p != nil && p.Taken {
		return nil // nothing to put away: the next opening has taken it, or the day is long over
	}
	list := []string{"night-away", "night-on"}
	switch {
	case !c.f.Shop.Nightly:
		return []string{"night-locked", "night-on"}
	case c.f.Shop.SafeOpen:
		return append(list, "night-open")
	}
	return append(list, "night-locked")
}

// night shows the overnight card and ends the dialog.
func (c *talk) night(p *books.Period) {
	head := c.closedHead(p)
	if len(p.Ticks) == 0 {
		if c.State.Draft.Happened.IsZero() {
			c.close(text(head))
			return
		}
		c.close(text(head, c.v.Say("paper-next")))
		return
	}
	c.askTicks(p, head)
}
