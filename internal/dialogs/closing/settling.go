package closing

import (
	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
)

// SettleFlow takes in the printed figures of a settlement while the period goes on.
func SettleFlow() *engine.Flow {
	screens := closingScreens()
	screens["verdict"] = ask.Booking{
		Read: readSettlement, Book: bookSettlement, Other: ask.Changes(changeFigures),
	}.Screen()
	paid := paidScreen()
	paid.Typed = nil // figures are all there is to a settlement: it waits for none
	screens["paid"] = paid
	return &engine.Flow{
		Name: engine.DoSettle, Title: "settle", Version: 1, Start: startSettle, Screens: screens,
		Safe: engine.SafeShut, Presence: engine.AtWork, Company: engine.OneAtATime, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain,
		Paper: engine.ThatDay, Part: 9, Loses: engine.LosesCounts, Stopped: ask.CountStays,
		Rights: engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp),
		Count:  &engine.Counting{Slip: true}, Asks: countQuestions(),
		Commands: []engine.Command{
			{Name: engine.DoSettle, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.OnlyFigures}},
	}
}

func startSettle(c *engine.Talk) {
	p := ask.Target(c)
	if p == nil && len(c.M.Pending()) > 0 {
		p = c.M.Pending()[0]
	}
	if p == nil {
		c.Close(chat.Block{Text: trade.NothingOpen(c)})
		return
	}
	c.State.Draft.Period = p.No
	if c.State.Draft.Retyped["last-seen"] != "" {
		c.GoTo("last-seen") // typed again, it leads to what was paid out
		return
	}
	c.GoTo("paid")
	ask.Take(c, paidQuestion)
}

func readSettlement(c *engine.Talk) []chat.Block {
	r, _ := settlement(c, ask.Target(c))
	body := []chat.Block{engine.Text(slipsIn(c, ask.Target(c).Slips), c.V.Say("review.settle"))}
	rows := [][]string{}
	for _, f := range r.Figures {
		rows = append(rows, []string{c.V.Say("field." + string(f.Field)), c.V.Kind(f.Face),
			c.V.Count("notes", f.Notes), c.V.Money(cashmath.Value(f.Face, f.Notes))})
	}
	for _, a := range r.Amounts {
		rows = append(rows, []string{c.V.Say("field." + string(a.Field)), "", "", c.V.Money(a.Value)})
	}
	due := trade.Least(c, r.Has(books.Unsettled), c.V.Money(r.Due))
	return append(body, engine.Columns(2, rows), engine.Text(c.V.Say("verdict.due", "money", due)))
}

func bookSettlement(c *engine.Talk) {
	r, _ := settlement(c, ask.Target(c))
	if _, err := c.Record(r); err != nil {
		c.Refuse(err)
		return
	}
	due := trade.Least(c, r.Has(books.Unsettled), c.V.Money(r.Due))
	c.Close(engine.Text(c.V.Say("settled", "when", c.Clock(c.When()), "money", due)))
}
