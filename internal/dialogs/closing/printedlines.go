package closing

import (
	"shopfloat/internal/chat"
	"shopfloat/internal/counts"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
)

// askBackTotal asks for the total that was cancelled, and asks back one that is
// more than was paid out.
func askBackTotal(c *engine.Talk) *engine.Card {
	back, paid := c.Chosen("back-total"), c.Chosen("paid-total")
	before, cancelled := ask.Target(c).Paid()
	most := engine.AmountOf(paid).Add(before).Sub(cancelled)
	switch {
	case back == "":
		return &engine.Card{Body: []chat.Block{{Text: c.V.Say("ask.back-total")}},
			Buttons: [][]chat.Button{c.Button("none-back", "none")}}
	case engine.AmountOf(back).GreaterThan(most) && c.Chosen("ok.back-total") != back+" of "+paid:
		money := c.V.Money(engine.AmountOf(back))
		return &engine.Card{Body: []chat.Block{{Text: c.V.Say("doubt.back-total", "money", money)}},
			Buttons: [][]chat.Button{c.Button("keep", "keep", "n", money), c.Button("change", "again")}}
	}
	c.GoTo("verdict")
	return nil
}

func answerBackTotal(c *engine.Talk, s string) bool {
	amount, code := counts.ParseAmount(s, ask.MinorDigits(c))
	if code != counts.OK {
		// "total 20" is the amount too, not the command of that name.
		amount = counts.Parse(s, ask.Request(c, ask.KindLines(c), 0, backQuestion)).Total
	}
	if amount == "" {
		return false
	}
	if ask.Payable(c, amount) {
		c.Choose("back-total", amount)
	}
	return true
}

func noBackTotal(c *engine.Talk) { c.Choose("back-total", "0") }

func keepBackTotal(c *engine.Talk) {
	c.Choose("ok.back-total", c.Chosen("back-total")+" of "+c.Chosen("paid-total"))
}

func againBackTotal(c *engine.Talk) { c.Forget("back-total") }

// checkBack asks back more cancelled notes than were paid out, by this slip and
// by those of the period before it.
func checkBack(c *engine.Talk, l ask.Line, n int64) ask.Doubt {
	d := ask.Target(c).Day()
	paid := d.Dispensed[l.Face] - d.Reversed[l.Face]
	for i, k := range ask.KindLines(c) {
		if k.Face == l.Face {
			paid += max(paidQuestion.Values(c)[i], 0)
			if seen := c.Counted("last-seen"); i < len(seen) {
				paid += max(seen[i], 0)
			}
		}
	}
	if n <= paid {
		return ask.Doubt{}
	}
	if notes, ok := ask.AsMoney(l, n); ok && notes <= paid {
		return ask.Doubt{Why: "money-back", Likely: notes}
	}
	return ask.Doubt{Why: "back-more"}
}

// changeFigures offers the printed figures to change. Without any, those of the
// slips before were all there is, and they are asked for.
func changeFigures(c *engine.Talk) {
	if c.Chosen("no-more") != "" {
		c.Forget("no-more")
		c.GoTo("paid")
		return
	}
	c.GoTo("figures")
}

// figureQuestions are the questions whose answers can be changed at the verdict.
func figureQuestions(c *engine.Talk) []ask.Question {
	var qs []ask.Question
	if len(c.Counted("last-seen")) > 0 && c.Chosen("unsettled") == "" {
		qs = append(qs, lastSeenQuestion)
	}
	if c.Chosen("paid-total") != "" {
		return qs
	}
	return append(qs, paidQuestion, backQuestion)
}

// figureLines are the printed figures of the draft, to be changed one by one.
func figureLines(c *engine.Talk) (list []ask.Option) {
	for _, q := range figureQuestions(c) {
		list = append(list, q.Reopening("figure-"+q.Name, q.Name+"-")(c)...)
	}
	total := c.Chosen("paid-total")
	if total == "" {
		return list
	}
	return append(
		list,
		ask.Option{Label: c.V.Say("button.figure-total", "money", c.V.Money(engine.AmountOf(total))),
			Value: "paid-total", Take: engine.Anew("paid", "paid", "paid-total")},
		ask.Option{
			Label: c.V.Say("button.figure-back-total", "money", c.V.Money(engine.AmountOf(c.Chosen("back-total")))),
			Value: "back-total", Take: engine.Anew("back-total", "back-total")},
	)
}

// restarts are what can be said of the machine's counters instead.
func restarts(c *engine.Talk) (rows [][]chat.Button) {
	begun := len(c.Counted("last-seen")) > 0
	if !begun || c.Chosen("unsettled") != "" {
		rows = append(rows, c.Button("restart", "restart"))
	}
	if begun {
		rows = append(rows, c.Button("no-restart", "no-restart"))
	}
	return rows
}

// restarted asks for the last figures seen before the counters started again.
func restarted(c *engine.Talk) {
	noRestart(c)
	c.GoTo("last-seen")
}

// noRestart takes back that the counters started again.
func noRestart(c *engine.Talk) {
	engine.Anew("paid", "last-seen", "unsettled")(c)
}

// answerSlip takes typed figures of what was paid out. Where only a total is
// known an amount takes its place, and so do figures of each kind.
func answerSlip(c *engine.Talk, text string) bool {
	if c.Chosen("paid-total") != "" {
		res := counts.Parse(text, ask.Request(c, ask.KindLines(c), 0, paidQuestion))
		amount, code := counts.ParseAmount(text, ask.MinorDigits(c))
		switch {
		case code == counts.OK:
		case res.Total != "":
			amount = res.Total
		case len(res.Items) == 0:
			return paidQuestion.Answer(c, text) // says what was wrong
		}
		if amount != "" {
			if ask.Payable(c, amount) {
				c.Choose("paid-total", amount)
				c.GoTo("paid")
			}
			return true
		}
		c.Forget("paid-total", "paid")
	}
	if !paidQuestion.Answer(c, text) {
		return false
	}
	if len(c.Lead) == 0 || paidQuestion.Waits(c) != "" {
		c.GoTo("paid")
	}
	return true
}
