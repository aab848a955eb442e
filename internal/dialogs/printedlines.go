package dialogs

import (
	"shopfloat/internal/cashmath"
	"shopfloat/internal/counts"
)

// askBackTotal asks for the total that was cancelled, and asks back one that is
// more than was paid out.
func askBackTotal(c *talk) *card {
	back, paid := c.chosen("back-total"), c.chosen("paid-total")
	before, cancelled := c.target().Paid()
	most := amountOf(paid).Add(before).Sub(cancelled)
	switch {
	case back == "":
		return &card{
			body:    []Block{{Text: c.v.Say("ask.back-total")}},
			buttons: [][]Button{c.button("none-back", "none")},
		}
	case amountOf(back).GreaterThan(most) && c.chosen("ok.back-total") != back+" of "+paid:
		money := c.v.Money(amountOf(back))
		return &card{
			body:    []Block{{Text: c.v.Say("doubt.back-total", "money", money)}},
			buttons: [][]Button{c.button("keep", "keep", "n", money), c.button("change", "again")},
		}
	}
	c.goTo("verdict")
	return nil
}

func answerBackTotal(c *talk, s string) bool {
	amount, code := counts.ParseAmount(s, c.minorDigits())
	if code != counts.OK {
		// "total 20" is the amount too, not the command of that name.
		amount = counts.Parse(s, c.request(kindLines(c), 0, backQuestion)).Total
	}
	if amount == "" {
		return false
	}
	if c.payable(amount) {
		c.choose("back-total", amount)
	}
	return true
}

func noBackTotal(c *talk) { c.choose("back-total", "0") }

func keepBackTotal(c *talk) {
	c.choose("ok.back-total", c.chosen("back-total")+" of "+c.chosen("paid-total"))
}

func againBackTotal(c *talk) { c.forget("back-total") }

// checkBack asks back more cancelled notes than were paid out, by this slip and
// by those of the period before it.
func checkBack(c *talk, l line, n int64) doubt {
	d := c.target().Day()
	paid := d.Dispensed[l.face] - d.Reversed[l.face]
	for i, k := range kindLines(c) {
		if k.face == l.face {
			paid += max(paidQuestion.values(c)[i], 0)
			if seen := c.State.Draft.Counts["last-seen"]; i < len(seen) {
				paid += max(seen[i], 0)
			}
		}
	}
	if n <= paid {
		return doubt{}
	}
	if notes, ok := asMoney(l, n); ok && notes <= paid {
		return doubt{why: "money-back", likely: notes}
	}
	return doubt{why: "back-more"}
}

// payable reports whether the machine's notes can make an amount, and says so
// if they cannot.
func (c *talk) payable(amount string) bool {
	money, digits := amountOf(amount), int32(c.minorDigits())
	var values []int64
	for _, f := range c.faces() {
		values = append(values, cashmath.Value(f, 1).Shift(digits).IntPart())
	}
	minor := money.Shift(digits)
	if minor.Equal(minor.Truncate(0)) && makes(minor.IntPart(), values) {
		return true
	}
	c.first(c.v.Say("problem.no-notes-make", "money", c.v.Money(money), "kinds", c.order(kindLines(c))))
	return false
}

// makes reports whether notes of these values, highest first, can make an
// amount. As many notes of one kind as make up a whole number of the lowest kind
// can be swapped for those, so fewer are tried of it than the lowest is worth.
func makes(amount int64, faces []int64) bool {
	switch len(faces) {
	case 0:
		return amount == 0
	case 1:
		return amount >= 0 && amount%faces[0] == 0
	}
	low := faces[len(faces)-1]
	for n := int64(0); n*faces[0] <= amount; n++ {
		if n > 0 && n*faces[0]%low == 0 {
			return false
		}
		if makes(amount-n*faces[0], faces[1:]) {
			return true
		}
	}
	return false
}

// changeFigures offers the printed figures to change. Without any, those of the
// slips before were all there is, and they are asked for.
func changeFigures(c *talk) {
	if c.chosen("no-more") != "" {
		c.forget("no-more")
		c.goTo("paid")
		return
	}
	c.goTo("figures")
}

// figureQuestions are the questions whose answers can be changed at the verdict.
func (c *talk) figureQuestions() []question {
	var qs []question
	if len(c.State.Draft.Counts["last-seen"]) > 0 && c.chosen("unsettled") == "" {
		qs = append(qs, lastSeenQuestion)
	}
	if c.chosen("paid-total") != "" {
		return qs
	}
	return append(qs, paidQuestion, backQuestion)
}

// figureLines are the printed figures of the draft, to be changed one by one.
func figureLines(c *talk) (list []option) {
	for _, q := range c.figureQuestions() {
		list = append(list, q.reopening("figure-"+q.name, q.name+"-")(c)...)
	}
	total := c.chosen("paid-total")
	if total == "" {
		return list
	}
	return append(list,
		option{label: c.v.Say("button.figure-total", "money", c.v.Money(amountOf(total))), value: "paid-total",
			take: anew("paid", "paid", "paid-total")},
		option{label: c.v.Say("button.figure-back-total", "money", c.v.Money(amountOf(c.chosen("back-total")))),
			value: "back-total", take: anew("back-total", "back-total")})
}

// restarts are what can be said of the machine's counters instead.
func restarts(c *talk) (rows [][]Button) {
	begun := len(c.State.Draft.Counts["last-seen"]) > 0
	if !begun || c.chosen("unsettled") != "" {
		rows = append(rows, c.button("restart", "restart"))
	}
	if begun {
		rows = append(rows, c.button("no-restart", "no-restart"))
	}
	return rows
}

// restarted asks for the last figures seen before the counters started again.
func restarted(c *talk) {
	noRestart(c)
	c.goTo("last-seen")
}

// noRestart takes back that the counters started again.
func noRestart(c *talk) {
	anew("paid", "last-seen", "unsettled")(c)
}

// answerSlip takes typed figures of what was paid out. Where only a total is
// known an amount takes its place, and so do figures of each kind.
func answerSlip(c *talk, text string) bool {
	if c.chosen("paid-total") != "" {
		res := counts.Parse(text, c.request(kindLines(c), 0, paidQuestion))
		amount, code := counts.ParseAmount(text, c.minorDigits())
		switch {
		case code == counts.OK:
		case res.Total != "":
			amount = res.Total
		case len(res.Items) == 0:
			return paidQuestion.answer(c, text) // says what was wrong
		}
		if amount != "" {
			if c.payable(amount) {
				c.choose("paid-total", amount)
				c.goTo("paid")
			}
			return true
		}
		c.forget("paid-total", "paid")
	}
	if !paidQuestion.answer(c, text) {
		return false
	}
	if len(c.lead) == 0 || c.chosen(paidQuestion.loneKey()) != "" {
		c.goTo("paid")
	}
	return true
}
