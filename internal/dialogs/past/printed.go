package past

import (
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/helping"
	"shopfloat/internal/telling"
)

// PrintedFlow compares the total that the machine printed with what was put in.
func PrintedFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoPrinted, Title: "printed", Version: 2, Start: startPrinted,
		Of: engine.ItsPeriod, Read: "slip",
		Safe: engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsFigures,
		Again: engine.AnswersAgain,
		Paper: engine.Alongside, Loses: engine.LosesChoices, Stopped: engine.NothingBooked,
		Rights: engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp),
		Commands: []engine.Command{
			{Name: engine.DoPrinted, Does: engine.StartsDialog, Help: engine.HelpMore,
				Takes: engine.OnlyFigures, Answers: true},
		},
		Draft: func() any { return &printedDraft{} }, Asks: []engine.Asked{printedTotal{}},
		Screens: map[string]engine.Screen{"printed": {Ask: askPrinted, Answer: answerPrinted, What: "what.printed"},
			"review": ask.Booking{Read: readPrinted, Book: bookPrinted, Answer: answerPrinted,
				Other: ask.Changes(engine.GoBack("printed")), What: "what.printed"}.Screen()},
	}
}

// expectsTotal reports whether the printed total is still to come: a bare amount is taken for it.
func expectsTotal(c *engine.Talk) bool {
	p := c.M.Current()
	return p != nil && slices.Contains(p.Ticks, "total") && c.In.At.Sub(p.Opened) < 2*time.Hour && !c.Hidden()
}

// printedDraft is the total on the slip.
type printedDraft struct {
	Total decimal.Decimal `json:"total,omitzero"`
}

// printedTotal tells it where the dialog is left.
type printedTotal struct{}

func (printedTotal) Called() string             { return "printed" }
func (printedTotal) Noughts(*engine.Talk) bool  { return false }
func (printedTotal) Kept(*engine.Talk) bool     { return false }
func (printedTotal) Retype(*engine.Talk) string { return "" }
func (printedTotal) Answered(c *engine.Talk) []string {
	if total := engine.Drafted[printedDraft](c).Total; total.IsPositive() {
		return []string{c.V.Money(total)}
	}
	return nil
}

func startPrinted(c *engine.Talk) {
	rest := c.M.Current() == nil && c.State.Draft.Happened.IsZero() && !c.Hidden()
	if last, ok := helping.Slip(c.Teller, c.May); ok && rest {
		c.End()
		c.Send(last)
		return
	}
	if trade.Ready(c) == nil {
		return
	}
	if c.Hidden() {
		c.Close(chat.Block{Text: telling.Counted(c.Teller)})
		return
	}
	c.GoTo("printed")
	if c.Rest != "" && !answerPrinted(c, c.Rest) {
		c.First(c.V.Say("not-amount", "near", c.Rest))
	}
}

func askPrinted(c *engine.Talk) *engine.Card {
	if c.State.Flow == "" {
		return nil
	}
	return &engine.Card{Body: []chat.Block{{Text: c.V.Say("ask.printed")}}}
}

func answerPrinted(c *engine.Talk, s string) bool {
	amount, ok := ask.Amount(c, s)
	if ok {
		engine.Drafted[printedDraft](c).Total = amount
		c.GoTo("review")
	}
	return ok
}

func readPrinted(c *engine.Talk) []chat.Block {
	p := trade.Ready(c)
	if p == nil {
		return nil
	}
	return []chat.Block{chat.Columns(1, [][]string{
		{c.V.Say("printed.slip"), c.V.Money(engine.Drafted[printedDraft](c).Total)},
		{c.V.Say("printed.ours"), c.V.Money(p.PutIn())}})}
}

// bookPrinted compares the printed total with ours, and names the likely slip when they differ.
func bookPrinted(c *engine.Talk) {
	amount, p := engine.Drafted[printedDraft](c).Total, ask.Target(c)
	r := books.Record{Kind: books.Printed, Period: p.No,
		Amounts: []books.Amount{{Field: books.Loaded, Value: amount}}}
	if _, err := c.Record(r); err != nil {
		c.Refuse(err)
		return
	}
	p = c.M.Period(p.No)
	ours := p.PutIn()
	if amount.Equal(ours) {
		tickPrinted(c, p)
		c.Close(chat.Lines(c.V.Say("printed.same", "money", c.V.Money(amount))))
		return
	}
	c.Close(chat.Lines(append(telling.PrintedDiffers(c.Teller, p, amount, len(ask.Boxes(c))),
		c.V.Say("printed.do"))...))
}

// tickPrinted takes the tick of the printed total off the list.
func tickPrinted(c *engine.Talk, p *books.Period) {
	if !slices.Contains(p.Ticks, "total") {
		return
	}
	if _, err := c.Record(books.Record{Kind: books.Checks, Period: p.No, Ticks: []string{"total"}}); err != nil {
		c.Refuse(err)
	}
}

// Moments are a bare amount while the printed total is missing, and the week.
func Moments() engine.Moments {
	return engine.Moments{Week: tellWeek, Due: tellMoved, Weighs: everywhere,
		Stray: func(c *engine.Talk, f *engine.Flow) bool {
			if f != nil || !expectsTotal(c) {
				return false
			}
			if _, ok := ask.Amount(c, c.In.Text); !ok {
				return false
			}
			c.Rest = c.In.Text
			c.Obey(c.E.Named(engine.DoPrinted))
			return true
		}}
}
