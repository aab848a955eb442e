package closing

import (
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/counts"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/lines"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// figures is what is kept about printed figures, beside those of each kind.
type figures struct {
	Paid      decimal.NullDecimal `json:"paid,omitzero"`       // the only figure that some machines print
	Back      decimal.NullDecimal `json:"back,omitzero"`       // cancelled, of the same
	Sure      totals              `json:"sure,omitzero"`       // insisted on, though more is cancelled
	Unsettled bool                `json:"unsettled,omitempty"` // what was last seen is not known
	NoMore    bool                `json:"noMore,omitempty"`    // those that are in already are all there is
	AsTyped   bool                `json:"asTyped,omitempty"`   // they are in the order in which they were typed
	NoBack    bool                `json:"noBack,omitempty"`    // cancelled ones were not asked for
	Refused   int64               `json:"refused,omitempty"`   // by the slip, and others were found
	Fix       int                 `json:"fix,omitempty"`       // explanation whose correction is looked at, from 1
	SlipsOut  []int64             `json:"slipsOut,omitempty"`  // records of figures to be left out
	SlipsFrom string              `json:"slipsFrom,omitempty"` // screen at which they were chosen
}

// totals are what was paid out, and what of it was cancelled.
type totals struct{ Paid, Back decimal.Decimal }

func (t totals) equal(o totals) bool { return t.Paid.Equal(o.Paid) && t.Back.Equal(o.Back) }

func (k *figures) totals() totals { return totals{k.Paid.Decimal, k.Back.Decimal} }

var (
	paidQuestion = ask.Question{
		Name: "paid", Lines: ask.SlipLines, Money: true, Check: ask.CheckPaid, What: "what.paid",
		Total:   paidTotal,
		LeftOut: "paid-total", Passed: totalOnly, Before: alreadyIn, Stands: figuresKept,
		Next: to("back"), // see [counting.afterPaid]
	}
	lastSeenQuestion = ask.Question{
		Name: "last-seen", Lines: ask.SlipLines, Money: true, Partial: true, What: "what.last-seen",
		LeftOut: "unsettled", Passed: func(c *engine.Talk) bool { return kept(c).Unsettled }, Next: to("paid"),
		Stands: figuresKept,
		Extra:  func(c *engine.Talk) [][]chat.Button { return [][]chat.Button{c.Button("skip-unknown", "skip")} },
		Taps: map[string]func(*engine.Talk){"skip": func(c *engine.Talk) {
			kept(c).Unsettled = true
			ask.None(c, "last-seen")
		}},
	}
	backQuestion = ask.Question{Name: "back", Lines: ask.SlipLines, Money: true, None: true, Partial: true,
		Check: checkBack, What: "what.back", Before: slipChanged, Next: to("verdict"), Stands: figuresKept}
)

// figuresKept: the printed figures are recorded once the reason is asked for.
func figuresKept(c *engine.Talk) bool { return c.State.Step == "reason" }

// firstFigures is where printed figures are asked for. What was paid out before
// the counters started again comes first where it is to be typed again.
func firstFigures(c *engine.Talk) string {
	return texts.Either(c.State.Draft.Retyped["last-seen"] != "", "last-seen", "paid")
}

// totalOnly: a total is all that the machine printed.
func totalOnly(c *engine.Talk) bool { return kept(c).Paid.Valid }

// alreadyIn stands above the question for printed figures: who else is
// counting, and what is in already, so that nobody types it twice.
func alreadyIn(c *engine.Talk) string {
	p := ask.Target(c)
	if p == nil || begunPaid(c) {
		return ""
	}
	return chat.Lines(alsoCounting(c), telling.SlipsIn(c.Teller, p.Slips)).Text
}

// begunPaid reports whether part of the printed figures is typed already.
func begunPaid(c *engine.Talk) bool { return ask.SomeAnswered(c.Counted("paid")) }

// afterPaid is where it goes on once what was paid out is in. Cancelled payouts are asked for only where a
// kind is over or short without them, or where it is not known yet whether one is.
func (n counting) afterPaid(c *engine.Talk) string {
	k, ask1 := kept(c), texts.Either(totalOnly(c), "back-total", "back")
	if k.NoBack { // what the figures were before says nothing about these
		k.NoBack, k.Back = false, decimal.NullDecimal{}
		c.Unanswer("back")
	}
	if n.upshot == nil || c.Kit.SlipCancels || c.Counted("back") != nil || k.Back.Valid ||
		c.State.Draft.Retyped["back"] != "" {
		return ask1
	}
	if k.NoBack = true; totalOnly(c) {
		k.Back = decimal.NewNullDecimal(decimal.Zero)
	}
	ask.None(c, "back")
	if p, err := n.upshot(c); err == nil && telling.Even(p) {
		return "verdict"
	}
	k.NoBack, k.Back = false, decimal.NullDecimal{}
	c.Unanswer("back")
	return ask1
}

// reordered gives the slip's figures in the order in which every kind fits, where they do
// not as they were typed; nil: nothing speaks for another order.
func (n counting) reordered(c *engine.Talk) []int64 {
	v := c.Counted("paid")
	if n.upshot == nil || kept(c).AsTyped || totalOnly(c) || c.Counted("back") != nil || len(v) < 2 ||
		slices.Contains(v, -1) {
		return nil
	}
	ask.None(c, "back")
	found := lines.Reordered(v, func(x []int64) bool {
		c.Put("paid", x)
		p, err := n.upshot(c)
		return err == nil && telling.Even(p)
	})
	c.Put("paid", v)
	c.Unanswer("back")
	return found
}

// orderScreen asks whether the slip was typed in another order.
func (n counting) orderScreen() engine.Screen {
	return engine.Screen{What: "what.order", Typed: ask.YesNo, Ask: func(c *engine.Talk) *engine.Card {
		v := n.reordered(c)
		if v == nil {
			c.GoTo("paid")
			return nil
		}
		table, _ := telling.CountTable(c.Teller, ask.SlipLines(c), v)
		body := []chat.Block{chat.Lines(c.V.Say("order")), table, chat.Lines(c.V.Say("order-asks"))}
		return &engine.Card{Body: body,
			Buttons: [][]chat.Button{c.Button("order-yes", "yes"), c.Button("order-no", "no")}}
	}, Taps: map[string]func(*engine.Talk){"yes": func(c *engine.Talk) {
		if v := n.reordered(c); v != nil {
			c.Put("paid", v)
		}
		c.GoTo("paid")
	}, "no": func(c *engine.Talk) {
		kept(c).AsTyped = true
		c.GoTo("paid")
	}}}
}

// paidTotal takes the only figure some machines print.
func paidTotal(c *engine.Talk, amount string) {
	if ask.Payable(c, amount) {
		kept(c).Paid = decimal.NewNullDecimal(cashmath.AmountOf(amount))
		ask.None(c, "paid")
	}
}

// noMore closes on the settlements entered before.
func noMore(c *engine.Talk) {
	kept(c).NoMore = true
	c.GoTo("verdict")
}

// backTotalScreen asks for the total that was cancelled.
func backTotalScreen() engine.Screen {
	return engine.Screen{Ask: askBackTotal, Answer: answerBackTotal, Typed: ask.NoWords, What: "what.back",
		Taps: map[string]func(*engine.Talk){
			"none":  func(c *engine.Talk) { kept(c).Back = decimal.NewNullDecimal(decimal.Zero) },
			"keep":  func(c *engine.Talk) { kept(c).Sure = kept(c).totals() },
			"again": func(c *engine.Talk) { kept(c).Back = decimal.NullDecimal{} }}}
}

// askBackTotal asks for the total that was cancelled, and asks back one that is more than was paid out.
func askBackTotal(c *engine.Talk) *engine.Card {
	k := kept(c)
	before, cancelled := ask.Target(c).Paid()
	most := k.Paid.Decimal.Add(before).Sub(cancelled)
	switch {
	case !k.Back.Valid:
		return &engine.Card{Body: []chat.Block{chat.Lines(slipChanged(c), c.V.Say("ask.back-total"))},
			Buttons: [][]chat.Button{c.Button("none-back", "none")}}
	case k.Back.Decimal.GreaterThan(most) && !k.Sure.equal(k.totals()):
		money := c.V.Money(k.Back.Decimal)
		return &engine.Card{Body: []chat.Block{{Text: c.V.Say("doubt.back-total", "money", money)}},
			Buttons: [][]chat.Button{c.Button("keep", "keep", "n", money), c.Button("change", "again")}}
	}
	c.GoTo("verdict")
	return nil
}

func answerBackTotal(c *engine.Talk, s string) bool {
	s, cancelled := lines.Cancelled(s)
	if slip, _ := slipSaid(c, s); !cancelled && slip != s {
		return answerSlip(c, slip)
	}
	amount, code := counts.ParseAmount(s, c.Digits())
	if code != counts.OK {
		// "total 20" is the amount too, not the command of that name.
		if res := counts.Parse(s, ask.Request(c, ask.SlipLines(c), 0, backQuestion)); len(res.Items) == 0 {
			amount = res.Total
		}
	}
	if amount != "" && ask.Payable(c, amount) {
		kept(c).Back = decimal.NewNullDecimal(cashmath.AmountOf(amount))
	}
	return amount != ""
}

// slipSaid gives what stands behind words from which figures are the slip's; paid: what was paid out.
func slipSaid(c *engine.Talk, s string) (rest string, paid bool) {
	return lines.PaidOut(telling.SlipSays(c.Teller, s))
}

// answerBack takes cancelled payouts. What the slip says was paid out changes that, and where
// figures may be of either it is asked.
func answerBack(c *engine.Talk, s string) bool {
	rest, cancelled := lines.Cancelled(s)
	slip, paid := slipSaid(c, s)
	req := ask.Request(c, ask.SlipLines(c), 0, paidQuestion)
	res := counts.Parse(slip, req)
	switch {
	case cancelled || slip == s && !res.Amends || len(res.Items) == 0 && res.Total == "":
		return backQuestion.Answer(c, rest)
	case paid || len(res.Items) == 0 || lines.Whole(slip, req) != nil:
		c.Unanswer("back") // even by now, it is not asked for
		return answerSlip(c, slip)
	}
	c.State.Draft.Typed = slip
	c.GoTo("whose-back")
	return true
}

// slipChanged tells what was paid out where that was just changed.
func slipChanged(c *engine.Talk) string {
	rest, _ := slipSaid(c, c.In.Text)
	if t, _ := chat.ParseTap(c.In.Tap); rest == c.In.Text && t.Choice != "whose-paid" {
		return ""
	}
	if totalOnly(c) {
		return c.V.Say("slip-paid", "what", c.V.Money(kept(c).Paid.Decimal))
	}
	return c.V.Say("slip-paid", "what", c.Notes(paidQuestion.Notes(c)))
}

// checkBack asks back more cancelled notes than this slip and those before it in the period paid out.
func checkBack(c *engine.Talk, l ask.Line, n int64) ask.Doubt {
	d, kinds := ask.Target(c).Day(), ask.SlipLines(c)
	paid := d.Dispensed[l.Face] - d.Reversed[l.Face] + lines.NotesOf(kinds, paidQuestion.Values(c))[l.Face] +
		lines.NotesOf(kinds, c.Counted("last-seen"))[l.Face]
	return lines.Back(l, n, paid)
}

// changeFigures offers the printed figures to change. Without any, those of the
// slips before were all there is, and they are asked for.
func changeFigures(c *engine.Talk) {
	c.GoTo(texts.Either(kept(c).NoMore, "paid", "figures"))
	kept(c).NoMore = false
}

// figureLines are the printed figures of the draft, to be changed one by one.
func figureLines(c *engine.Talk) (list []ask.Option) {
	k := kept(c)
	if len(c.Counted("last-seen")) > 0 && !k.Unsettled {
		list = lastSeenQuestion.Reopening("figure-last-seen", "last-seen-")(c)
	}
	if !k.Paid.Valid {
		list = append(list, paidQuestion.Reopening("figure-paid", "paid-")(c)...)
		return append(list, backQuestion.Reopening("figure-back", "back-")(c)...)
	}
	return append(list, ask.Option{Value: "paid-total",
		Label: c.V.Say("button.figure-total", "money", c.V.Money(k.Paid.Decimal)),
		Take: func(c *engine.Talk) {
			forgetTotal(c)
			c.GoTo("paid")
		}}, ask.Option{Value: "back-total",
		Label: c.V.Say("button.figure-back-total", "money", c.V.Money(k.Back.Decimal)),
		Take: func(c *engine.Talk) {
			k.Back = decimal.NullDecimal{}
			c.GoTo("back-total")
		}})
}

// forgetTotal asks for what was paid out anew, as a total or by kind.
func forgetTotal(c *engine.Talk) {
	kept(c).Paid = decimal.NullDecimal{}
	c.Unanswer("paid")
}

// restarts are what can be said of the machine's counters instead.
func restarts(c *engine.Talk) (rows [][]chat.Button) {
	begun := len(c.Counted("last-seen")) > 0
	if !begun || kept(c).Unsettled {
		rows = append(rows, c.Button("restart", "restart"))
	}
	if begun {
		rows = append(rows, c.Button("no-restart", "no-restart"))
	}
	return rows
}

// noRestart takes back that the counters started again.
func noRestart(c *engine.Talk) {
	kept(c).Unsettled = false
	c.Unanswer("last-seen")
	c.GoTo("paid")
}

// answerSlip takes typed figures of what was paid out. Where only a total is
// known an amount takes its place, and so do figures of each kind.
func answerSlip(c *engine.Talk, text string) bool {
	if totalOnly(c) {
		res := counts.Parse(text, ask.Request(c, ask.SlipLines(c), 0, paidQuestion))
		amount, code := counts.ParseAmount(text, c.Digits())
		switch {
		case code == counts.OK:
		case res.Total != "" && len(res.Items) == 0:
			amount = res.Total
		case len(res.Items) == 0:
			return paidQuestion.Answer(c, text) // says what was wrong
		case res.Problem != nil && res.Problem.Code == counts.Unreadable:
			return false
		}
		if amount != "" {
			if ask.Payable(c, amount) {
				kept(c).Paid = decimal.NewNullDecimal(cashmath.AmountOf(amount))
				c.GoTo("paid")
			}
			return true
		}
		forgetTotal(c)
	}
	if !paidQuestion.Answer(c, text) {
		return false
	}
	if len(c.Lead) == 0 || paidQuestion.Waits(c) != "" || c.State.Draft.Pending != "" {
		c.GoTo("paid")
	}
	return true
}

// settlement makes the record of the printed figures in the draft; ok is
// false when the earlier slips are all there is.
func settlement(c *engine.Talk, p *books.Period) (r books.Record, ok bool) {
	k := kept(c)
	if k.NoMore {
		return r, false
	}
	r = books.Record{Kind: books.Settlement, Period: p.No, Happened: c.When().UTC()}
	kinds := ask.SlipLines(c)
	if k.Paid.Valid {
		r.Amounts = []books.Amount{{Field: books.PaidOut, Value: k.Paid.Decimal},
			{Field: books.Cancelled, Value: k.Back.Decimal}}
	} else {
		r.Figures = append(lines.Figures(books.PaidOut, kinds, paidQuestion.Values(c), false),
			lines.Figures(books.Cancelled, kinds, backQuestion.Values(c), false)...)
	}
	if v := c.Counted("last-seen"); v != nil {
		r.Marks = append(r.Marks, books.Restarted)
		r.Figures = append(r.Figures, lines.Figures(books.LastSeen, kinds, v, false)...)
	}
	if k.Unsettled {
		r.Marks = append(r.Marks, books.Unsettled)
	}
	printed := c.When()
	if p.Status == books.Waiting {
		printed = p.CountedAt // the slip was printed at the count, however late it is typed in
	}
	r.Due, r.DueOn = books.DueFor(r, p.TestsLeft), telling.DueOn(c.Teller, printed)
	return r, true
}

// preview is the period as it would be with the draft's printed figures.
func preview(c *engine.Talk) (*books.Period, error) {
	p := ask.Target(c)
	r, ok := settlement(c, p)
	if !ok {
		return p, nil
	}
	return asIf(c, p.No, r)
}

// asIf is a period as it would be with records that nobody has made. The books stay as they are.
func asIf(c *engine.Talk, no int64, records ...books.Record) (*books.Period, error) {
	m := c.M.Clone()
	for _, r := range records {
		r.Happened = c.When().UTC()
		if _, err := m.Post(c.Entry(r, m.Seq+1)); err != nil {
			return nil, err
		}
	}
	return m.Period(no), nil
}
