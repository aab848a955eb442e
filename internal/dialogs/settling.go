package dialogs

import (
	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
)

// settleFlow takes in the printed figures of a settlement while the period goes on.
func settleFlow() *flow {
	screens := closingScreens()
	screens["verdict"] = booking{
		read: readSettlement, book: bookSettlement, other: changes(changeFigures),
	}.screen()
	paid := paidScreen()
	paid.typed = nil // figures are all there is to a settlement: it waits for none
	screens["paid"] = paid
	return &flow{
		name: doSettle, title: "settle", version: 1, start: startSettle, screens: screens,
		safe: safeShut, presence: atWork, company: oneAtATime, tells: tellsNothing, again: answersAgain,
		paper: thatDay, part: 9, loses: losesCounts, stopped: countStays,
		rights: rights{access.Counting, anyPhone, onceSetUp},
		count:  &counting{slip: true}, asks: countQuestions(),
		commands: []command{{name: doSettle, does: startsDialog, help: helpMore, takes: onlyFigures}},
	}
}

func startSettle(c *talk) {
	p := c.target()
	if p == nil && len(c.m.Pending()) > 0 {
		p = c.m.Pending()[0]
	}
	if p == nil {
		c.close(Block{Text: c.nothingOpen()})
		return
	}
	c.State.Draft.Period = p.No
	c.goTo("paid")
	c.take(paidQuestion)
}

func readSettlement(c *talk) []Block {
	r, _ := c.settlement(c.target())
	body := []Block{text(c.slipsIn(c.target().Slips), c.v.Say("review.settle"))}
	rows := [][]string{}
	for _, f := range r.Figures {
		rows = append(rows, []string{c.v.Say("field." + string(f.Field)), c.v.Kind(f.Face),
			c.v.Count("notes", f.Notes), c.v.Money(cashmath.Value(f.Face, f.Notes))})
	}
	for _, a := range r.Amounts {
		rows = append(rows, []string{c.v.Say("field." + string(a.Field)), "", "", c.v.Money(a.Value)})
	}
	due := c.least(r.Has(books.Unsettled), c.v.Money(r.Due))
	return append(body, columns(2, rows), text(c.v.Say("verdict.due", "money", due)))
}

func bookSettlement(c *talk) {
	r, _ := c.settlement(c.target())
	if _, err := c.record(r); err != nil {
		c.refuse(err)
		return
	}
	due := c.least(r.Has(books.Unsettled), c.v.Money(r.Due))
	c.close(text(c.v.Say("settled", "when", c.clock(c.when()), "money", due)))
}
