package closing

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
)

// SpotFlow counts without closing, and gives the count's own difference.
func SpotFlow() *engine.Flow {
	screens := closingScreens()
	screens["verdict"] = engine.Screen{Ask: askSpotVerdict, What: "what.verdict",
		Taps: map[string]func(*engine.Talk){"confirm": tapVerdict, "figures": changeFigures}}
	return &engine.Flow{
		Name: engine.DoSpot, Title: "spot", Version: 1, Start: startSpot, Screens: screens,
		Safe: engine.SafeOpen, Presence: engine.AtWork, Company: engine.OneAtATime, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain,
		Paper: engine.ThatDay, Part: 8, Loses: engine.LosesCounts, Stopped: ask.SpotStays,
		Rights: engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp),
		Count:  &engine.Counting{Own: true}, Asks: countQuestions(),
		Commands: []engine.Command{
			{Name: engine.DoCountNow, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.OnlyFigures}},
	}
}

func startSpot(c *engine.Talk) {
	if trade.Ready(c) == nil {
		return
	}
	c.GoTo("left")
	ask.Take(c, leftQuestion)
}

func confirmOtherCount(c *engine.Talk) {
	if c.Count().Second {
		c.GoTo("compare")
		return
	}
	r := books.Record{Kind: books.Spot, Period: ask.Target(c).No, Figures: countedFigures(c)}
	if _, err := c.Record(r); err != nil {
		c.Refuse(err)
		return
	}
	c.First(c.V.Say("counted", "when", c.Clock(c.When())))
	c.GoTo("paid")
}

// myCount is the count in the draft, as the part of a day that it is.
func myCount(c *engine.Talk) cashmath.Day {
	left, tray, found := books.Notes{}, books.Notes{}, books.Notes{}
	for _, f := range countedFigures(c) {
		switch f.Field {
		case books.Remaining:
			left.Plus(f.Face, f.Notes)
		case books.Refused:
			tray.Plus(f.Face, f.Notes)
		default:
			found.Plus(f.Face, f.Notes)
		}
	}
	return cashmath.Day{
		Remaining: cashmath.Notes(left), Rejects: cashmath.Notes(tray), Found: cashmath.Notes(found),
	}
}

// spotPeriod is the period as if it were closed now, by the count and the
// figures in the draft. The books stay as they are.
func spotPeriod(c *engine.Talk) (*books.Period, error) {
	no := ask.Target(c).No
	count := books.Record{Kind: books.Count, Period: no, Figures: countedFigures(c)}
	if c.Chosen("no-tray") != "" {
		count.Marks = []books.Mark{books.NoTray}
	}
	list := []books.Record{count}
	if r, ok := settlement(c, ask.Target(c)); ok {
		list = append(list, r)
	}
	m := c.M.Clone()
	for _, r := range append(list, books.Record{Kind: books.Close, Period: no}) {
		r.Happened = c.When().UTC()
		if _, err := m.Post(c.Entry(r, m.Seq+1)); err != nil {
			return nil, err
		}
	}
	return m.Period(no), nil
}

func askSpotVerdict(c *engine.Talk) *engine.Card {
	p, err := spotPeriod(c)
	if err != nil {
		return c.NoResult(err)
	}
	return &engine.Card{Body: trade.Outcome(c, p, "verdict.spot"),
		Buttons: [][]chat.Button{c.Button("confirm", "confirm"), c.Button("change", "figures")}}
}

// confirmSpot records a spot count's figures; a difference is told and its
// reason asked as at a closing.
func confirmSpot(c *engine.Talk) {
	p, err := spotPeriod(c)
	if err != nil {
		c.Refuse(err)
		return
	}
	r, _ := settlement(c, ask.Target(c))
	r.Kind, r.Period, r.Due = books.SpotPaid, p.No, decimal.Zero
	r.Amounts = append(r.Amounts, books.Amount{Field: books.Difference, Value: p.Variance})
	if _, err := c.Record(r); err != nil {
		c.Refuse(err)
		return
	}
	if above(c, p) {
		told := engine.Text(c.V.Say("told.spot", "who", c.F.Person.Name))
		c.Managers(append([]chat.Block{told}, trade.Outcome(c, p, "verdict.spot")...)...)
		if p.Verdict != books.NotComplete {
			c.GoTo("reason")
			return
		}
	}
	spotDone(c)
}

// spotDone ends a spot count that is recorded.
func spotDone(c *engine.Talk) {
	c.Close(engine.Text(c.V.Say("spot-recorded", "when", c.Clock(c.When())), c.Lock()))
}
