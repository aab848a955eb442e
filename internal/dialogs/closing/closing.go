package closing

import (
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/counts"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/lines"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// closes is the count that ends a period.
func closes() counting {
	n := full(confirmCount)
	n.stands, n.mends, n.wait, n.later, n.upshot = atFigures, true, waitClosing, true, preview
	n.verdict = engine.Screen{Ask: askVerdict, Tap: tapVerdictLine, What: "what.verdict", Seldom: recountSeldom,
		Answer: answerVerdict,
		Taps:   map[string]func(*engine.Talk){"recount": recount, "count-tray": countTray}}
	n.book, n.tell, n.end, n.done, n.kept = bookClose, tellDifference, night, "closed-recorded", "reason-kept"
	n.screens = map[string]engine.Screen{"witness": witnessScreen(), "trial-where": untoldWhere(),
		"trial-counted": untoldCounted(),
		"fix": ask.Booking{Read: readFix, Asks: func(c *engine.Talk) string { return c.V.Say("fix.sure") },
			Sure: "fix-yes", Book: bookFix, Other: ask.BackTo("verdict"), What: "what.fix"}.Screen()}
	return n
}

// CloseFlow counts the machine in the evening and closes the period.
func CloseFlow() *engine.Flow {
	f := closes().flow(engine.Flow{Name: engine.DoClose, Title: "closing", Start: startClosing,
		Safe: engine.SafeOpen, Company: engine.OneAtATime, Paper: engine.ThatDay, Part: 10,
		Stopped: ask.CountStays}, engine.DoClose)
	cmd := &f.Commands[0]
	f.Settles = true
	cmd.Help, cmd.Menu, cmd.Guided, cmd.Hours = engine.HelpOften, 5, true, true
	return f
}

// FinishFlow takes up a period that was counted and whose printed figures are missing.
func FinishFlow() *engine.Flow {
	f := closes().flow(engine.Flow{Name: engine.DoFinish, Title: "closing", Start: finish,
		Safe: engine.SafeShut, Company: engine.OneAtATime, Paper: engine.OffPaper, Stopped: ask.CountStays},
		engine.DoFinish)
	f.Commands[0].Printed = func(*engine.Talk) bool { return true }
	return f
}

func startClosing(c *engine.Talk) {
	p := ask.Target(c)
	switch {
	case p == nil && len(c.M.Pending()) > 0:
		startFinish(c)
	case p == nil:
		c.Close(chat.Block{Text: telling.NothingOpen(c.Teller, c.State.Draft.Happened)})
	case p.Status == books.Waiting:
		goOn(c, p)
	default:
		trade.LeftByOthers(c, p)
		everything.begin(c, p)
		if p.Untold {
			c.GoTo("trial-where")
		}
	}
}

// finish takes the slip's figures that came with the command.
func finish(c *engine.Talk) {
	rest := c.Rest
	c.Rest = ""
	if startFinish(c); c.State.Step == "paid" {
		c.Rest = rest
		ask.Take(c, paidQuestion.Answer)
	}
}

func startFinish(c *engine.Talk) {
	list := c.M.Pending()
	if len(list) == 0 {
		c.Close(chat.Block{Text: telling.NothingOpen(c.Teller, c.State.Draft.Happened)})
		return
	}
	p := list[0]
	c.First(c.V.Say(texts.Either(len(p.Slips) > 0, "finish-slips", "finish"),
		"day", c.V.Day(c.Local(p.Opened)), "when", c.Clock(p.CountedAt)))
	goOn(c, p)
}

// goOn asks what is missing of a period that was counted. Where a count made anew
// after the result is to be typed again, it comes first.
func goOn(c *engine.Talk, p *books.Period) {
	c.State.Draft.Period = p.No
	if !counts.SaysNothing(c.Rest) { // a count, and that is in
		c.First(telling.NotTaken(c.Teller, c.Rest))
	}
	again := c.State.Draft.Retyped
	if again["paid"] == "" {
		delete(again, "left") // counted by somebody else since
		delete(again, "tray")
		delete(again, "found")
	}
	if again["left"] != "" {
		recount(c)
		return
	}
	c.GoTo(afterCount(c, p))
}

// confirmCount records the count of a closing.
func confirmCount(c *engine.Talk) {
	p := ask.Target(c)
	var marks []books.Mark
	if kept(c).NotBlind || trade.Knew(c, p) {
		marks = []books.Mark{books.NotBlind}
	}
	r := everything.record(c, books.Count, marks...)
	r.Ticks = nightTicks(c)
	if !recorded(c, r) {
		return
	}
	p = c.M.Period(p.No)
	c.First(c.V.Say("counted", "when", c.Clock(c.When())))
	switch next := afterCount(c, p); {
	case next == "witness":
		c.GoTo(next)
		callWitness(c, p)
	case kept(c).NotBlind && c.State.Draft.Retyped["paid"] == "":
		c.GoTo("verdict")
	default:
		c.GoTo(next)
	}
	if c.State.Draft.Aside == nil {
		return
	}
	early := kept(c).Early
	if c.Settle(engine.DoFinish); c.State.Draft.Then != nil {
		c.State.Draft.Then.Rest = early // the slip waits behind what was put aside
	}
}

// SpotFlow counts without closing, and gives the count's own difference.
func SpotFlow() *engine.Flow {
	n := full(confirmSpot)
	n.stands, n.upshot = atFigures, spotPeriod
	n.wait = func(c *engine.Talk, why string) { c.Close(chat.Lines(c.V.Say(why), c.Lock())) }
	n.verdict = engine.Screen{Ask: askSpotVerdict, Answer: answerVerdict, What: "what.verdict",
		Taps: map[string]func(*engine.Talk){}}
	n.book, n.tell, n.end, n.done, n.kept = bookSpot, tellSpot, spotDone, "spot-recorded", "reason-kept-spot"
	return n.flow(engine.Flow{Name: engine.DoSpot, Title: "spot", Start: startSpot, Safe: engine.SafeOpen,
		Company: engine.OneAtATime, Paper: engine.ThatDay, Part: 8, Stopped: spotStays}, engine.DoCountNow)
}

// spotStays: the count is recorded before the printed figures, and both before
// the reason for a difference is asked.
func spotStays(c *engine.Talk) string {
	switch {
	case c.State.Step == "reason":
		return c.V.Say("stopped-spot-done")
	case !c.Screen().Finds:
		return c.V.Say("stopped-spot")
	}
	return engine.NothingBooked(c)
}

func startSpot(c *engine.Talk) {
	if p := trade.Ready(c); p != nil {
		everything.begin(c, p)
	}
}

// confirmSpot records a count that moves nothing.
func confirmSpot(c *engine.Talk) {
	if recorded(c, everything.record(c, books.Spot)) {
		c.First(c.V.Say("counted", "when", c.Clock(c.When())))
		c.GoTo(firstFigures(c))
	}
}

// spotPeriod is the period as if it were closed now, by the count and the figures in the draft.
func spotPeriod(c *engine.Talk) (*books.Period, error) {
	p := ask.Target(c)
	list := []books.Record{everything.record(c, books.Count)}
	if r, ok := settlement(c, p); ok {
		list = append(list, r)
	}
	return asIf(c, p.No, append(list, books.Record{Kind: books.Close, Period: p.No})...)
}

func askSpotVerdict(c *engine.Talk) *engine.Card {
	p, err := spotPeriod(c)
	if err != nil {
		return noResult(c, err)
	}
	return &engine.Card{Body: append(telling.Outcome(c.Teller, p, "verdict.spot"), chat.Lines(slipTyped(c))),
		Buttons: [][]chat.Button{c.Button("confirm", "confirm"), c.Button("change", "figures")}}
}

// bookSpot records a spot count's figures and its difference.
func bookSpot(c *engine.Talk) *books.Period {
	p, err := spotPeriod(c)
	if err != nil {
		c.Refuse(err)
		return nil
	}
	r, _ := settlement(c, ask.Target(c))
	r.Kind, r.Period, r.Due = books.SpotPaid, p.No, decimal.Zero
	r.Amounts = append(r.Amounts, books.Amount{Field: books.Difference, Value: p.Variance})
	if !recorded(c, r) {
		return nil
	}
	return p
}

func tellSpot(c *engine.Talk, p *books.Period) {
	told := chat.Lines(c.V.Say("told.spot", "who", c.F.Person.Name))
	c.TellAbout(reminders.Difference, chat.Reply{
		Body: append([]chat.Block{told}, telling.Outcome(c.Teller, p, "verdict.spot")...)})
}

// spotDone ends a spot count that is recorded.
func spotDone(c *engine.Talk) {
	c.Close(chat.Lines(c.V.Say("spot-recorded", "when", c.Clock(c.When())), c.Lock()))
}

// SettleFlow takes in the printed figures of a settlement while the period goes on.
func SettleFlow() *engine.Flow {
	n := counting{mends: true, book: bookSettlement, verdict: engine.Screen{Ask: askSettlement,
		What: "what.review", Taps: map[string]func(*engine.Talk){}}}
	f := n.flow(engine.Flow{Name: engine.DoSettle, Title: "settle", Start: startSettle, Of: slipsDay,
		Read: "slip", Safe: engine.SafeShut, Company: engine.OneAtATime, Paper: engine.ThatDay, Part: 9,
		Stopped: ask.CountStays}, engine.DoSettle)
	f.Commands[0].Printed = func(c *engine.Talk) bool {
		return c.Flow().Settles || ask.Target(c).Status == books.Waiting
	}
	return f
}

// Moments are somebody who asks for the printed figures in the middle of a count that asks for
// them by itself: they go on with it, unless another period waits for its own.
func Moments() engine.Moments {
	return engine.Moments{Weighs: func(c *engine.Talk, f *engine.Flow, cmd *engine.Command, rest string) (
		*engine.Command, bool) {
		if f == nil && c.Kit != nil && !c.Quiet() && (cmd == nil || cmd.Answers) && wholeCount(c) {
			return nil, true
		}
		if c.Screen().Finds && f.Settles && (cmd == nil || cmd.Answers) {
			if says, ok := telling.PaidSays(c.Teller, c.In.Text); ok { // before the count is confirmed
				cmd, rest = c.E.Named(engine.DoSettle), says
			}
		}
		p := ask.Target(c)
		others := func(o *books.Period) bool { return p == nil || o.No != p.No }
		later := slices.Contains(c.V.List("words.later"), texts.Fold(c.In.Text))
		if cmd == nil || cmd.Printed == nil || later || !engine.Keeps[closeDraft](c) ||
			slices.ContainsFunc(c.M.Pending(), others) || !cmd.Printed(c) {
			return cmd, false
		}
		switch figures, asked := strings.ContainsAny(rest, "0123456789"), c.State.Step == "paid"; {
		case figures && (asked || c.Screen().Finds && c.Flow().Settles):
			if kept(c).Early = rest; !asked {
				c.First(c.V.Say("for-slip", "typed", rest))
			}
			c.State.Draft.At = c.In.At
		case figures:
			c.First(telling.NotTaken(c.Teller, rest))
		}
		c.Redraw()
		return cmd, true
	}}
}

// wholeCount takes a text without a command that counts every box; see [lines.Uncommanded].
func wholeCount(c *engine.Talk) bool {
	cmd, text := c.Command()
	if cmd == nil || !cmd.Hours { // else what stands behind "close"
		text = c.In.Text
	}
	means := lines.Uncommanded(text, telling.SlipSays(c.Teller, text), ask.Request(c, ask.BoxLines(c), 0,
		paidQuestion), ask.SlipLines(c), c.M.Current() != nil, len(c.M.Pending()) > 0,
		!c.F.Shop.Nightly)
	switch c.Rest = means.Rest; {
	case means.Asks:
		return c.AsksFor(text, means.Rest)
	case means.Command != "":
		c.Obey(c.E.Named(means.Command))
	}
	return means.Command != ""
}

func startSettle(c *engine.Talk) {
	p := ask.Target(c)
	if p == nil && len(c.M.Pending()) > 0 {
		p = c.M.Pending()[0]
	}
	if p == nil {
		c.Close(chat.Block{Text: telling.NothingOpen(c.Teller, c.State.Draft.Happened)})
		return
	}
	c.State.Draft.Period = p.No
	c.GoTo(firstFigures(c))
	ask.Take(c, paidQuestion.Answer)
}

// askSettlement reads printed figures back.
func askSettlement(c *engine.Talk) *engine.Card {
	p := ask.Target(c)
	r, _ := settlement(c, p)
	return &engine.Card{
		Body: []chat.Block{chat.Lines(telling.SlipsIn(c.Teller, p.Slips), c.V.Say("review.settle")),
			telling.SlipTable(c.Teller, r),
			chat.Lines(c.V.Say("verdict.due", "money", telling.Owes(c.Teller, r)), c.V.Say("right"))},
		Buttons: [][]chat.Button{c.Button("confirm", "confirm"), c.Button("change", "figures")}}
}

// slipsDay is the day under which a slip is told that is typed now.
func slipsDay(c *engine.Talk) shop.Date {
	r := books.Record{Kind: books.Settlement, Happened: c.When().UTC()}
	if p := ask.Target(c); p != nil {
		r.Period = p.No
	}
	return telling.RecordDay(c.Teller, r)
}

// bookSettlement records printed figures and ends the dialog.
func bookSettlement(c *engine.Talk) *books.Period {
	if r, _ := settlement(c, ask.Target(c)); recorded(c, r) {
		day := slipsDay(c)
		c.Close(chat.Lines(c.V.Say("settled", "day", c.DayYear(day), "when", c.ClockOf(day, c.When()),
			"money", telling.Owes(c.Teller, r))))
	}
	return nil
}
