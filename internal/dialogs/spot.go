package dialogs

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
)

// spotFlow counts without closing, and gives the count's own difference.
func spotFlow() *flow {
	screens := closingScreens()
	screens["verdict"] = screen{ask: askSpotVerdict, what: "what.verdict",
		taps: map[string]func(*talk){"confirm": tapVerdict, "figures": changeFigures}}
	return &flow{
		name: doSpot, title: "spot", version: 1, start: startSpot, screens: screens,
		safe: safeOpen, presence: atWork, company: oneAtATime, tells: tellsNothing, again: answersAgain,
		paper: thatDay, part: 8, loses: losesCounts, stopped: spotStays,
		rights: rights{access.Counting, anyPhone, onceSetUp},
		count:  &counting{own: true}, asks: countQuestions(),
		commands: []command{{name: doCountNow, does: startsDialog, help: helpMore, takes: onlyFigures}},
	}
}

func startSpot(c *talk) {
	if c.ready() == nil {
		return
	}
	c.goTo("left")
	c.take(leftQuestion)
}

func confirmOtherCount(c *talk) {
	if c.count().second {
		c.goTo("compare")
		return
	}
	r := books.Record{Kind: books.Spot, Period: c.target().No, Figures: c.counted()}
	if _, err := c.record(r); err != nil {
		c.refuse(err)
		return
	}
	c.first(c.v.Say("counted", "when", c.clock(c.when())))
	c.goTo("paid")
}

// myCount is the count in the draft, as the part of a day that it is.
func (c *talk) myCount() cashmath.Day {
	left, tray, found := books.Notes{}, books.Notes{}, books.Notes{}
	for _, f := range c.counted() {
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
func (c *talk) spotPeriod() (*books.Period, error) {
	no := c.target().No
	count := books.Record{Kind: books.Count, Period: no, Figures: c.counted()}
	if c.chosen("no-tray") != "" {
		count.Marks = []books.Mark{books.NoTray}
	}
	list := []books.Record{count}
	if r, ok := c.settlement(c.target()); ok {
		list = append(list, r)
	}
	m := c.m.Clone()
	for _, r := range append(list, books.Record{Kind: books.Close, Period: no}) {
		r.Happened = c.when().UTC()
		if _, err := m.Post(books.Entry{Record: r, Machine: m.ID, Seq: m.Seq + 1, By: c.f.Person.ID}); err != nil {
			return nil, err
		}
	}
	return m.Period(no), nil
}

func askSpotVerdict(c *talk) *card {
	p, err := c.spotPeriod()
	if err != nil {
		return c.noResult(err)
	}
	return &card{body: c.outcome(p, "verdict.spot"),
		buttons: [][]Button{c.button("confirm", "confirm"), c.button("change", "figures")}}
}

// confirmSpot records a spot count's figures; a difference is told and its
// reason asked as at a closing.
func confirmSpot(c *talk) {
	p, err := c.spotPeriod()
	if err != nil {
		c.refuse(err)
		return
	}
	r, _ := c.settlement(c.target())
	r.Kind, r.Period, r.Due = books.SpotPaid, p.No, decimal.Zero
	r.Amounts = append(r.Amounts, books.Amount{Field: books.Difference, Value: p.Variance})
	if _, err := c.record(r); err != nil {
		c.refuse(err)
		return
	}
	if c.above(p) {
		told := text(c.v.Say("told.spot", "who", c.f.Person.Name))
		c.managers(append([]Block{told}, c.outcome(p, "verdict.spot")...)...)
		if p.Verdict != books.NotComplete {
			c.goTo("reason")
			return
		}
	}
	c.spotDone()
}

// spotDone ends a spot count that is recorded.
func (c *talk) spotDone() {
	c.close(text(c.v.Say("spot-recorded", "when", c.clock(c.when())), c.lock()))
}
