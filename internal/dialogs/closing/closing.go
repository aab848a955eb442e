package closing

import (
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
)

// closes is the count that ends a period.
func closes() counting {
	n := full(confirmCount)
	n.stands, n.mends, n.wait, n.later = atFigures, true, waitClosing, true
	n.verdict = engine.Screen{Ask: askVerdict, Tap: tapVerdictLine, What: "what.verdict",
		Taps: map[string]func(*engine.Talk){"recount": recount, "count-tray": countTray}}
	n.book, n.tell, n.end, n.done, n.kept = bookClose, tellDifference, night, "closed-recorded", "reason-kept"
	n.screens = map[string]engine.Screen{"witness": witnessScreen(),
		"fix": ask.Booking{Read: readFix, Asks: func(c *engine.Talk) string { return c.V.Say("fix.sure") },
			Sure: "fix-yes", Book: bookFix, Other: ask.BackTo("verdict"), What: "what.fix"}.Screen()}
	return n
}

// ClosingFlow counts the machine in the evening and closes the period.
func ClosingFlow() *engine.Flow {
	f := closes().flow(engine.Flow{Name: engine.DoClose, Title: "closing", Start: startClosing,
		Safe: engine.SafeOpen, Company: engine.OneAtATime, Paper: engine.ThatDay, Part: 10,
		Stopped: ask.CountStays}, engine.DoClose)
	cmd := &f.Commands[0]
	cmd.Help, cmd.Menu, cmd.Offer, cmd.Guided = engine.HelpOften, 5, "start-closing", true
	return f
}

// FinishFlow takes up a period that was counted and whose printed figures are missing.
func FinishFlow() *engine.Flow {
	return closes().flow(engine.Flow{Name: engine.DoFinish, Title: "closing", Start: startFinish,
		Safe: engine.SafeShut, Company: engine.OneAtATime, Paper: engine.OffPaper, Stopped: ask.CountStays},
		engine.DoFinish)
}

func startClosing(c *engine.Talk) {
	p := ask.Target(c)
	switch {
	case p == nil && len(c.M.Pending()) > 0:
		startFinish(c)
	case p == nil:
		c.Close(chat.Block{Text: trade.NothingOpen(c)})
	case p.Status == books.Waiting:
		c.State.Draft.Period = p.No
		c.GoTo(afterCount(c, p))
	default:
		everything.begin(c, p)
	}
}

func startFinish(c *engine.Talk) {
	list := c.M.Pending()
	if len(list) == 0 {
		c.Close(chat.Block{Text: trade.NothingOpen(c)})
		return
	}
	p := list[0]
	c.State.Draft.Period = p.No
	c.First(c.V.Say(engine.Either(len(p.Slips) > 0, "finish-slips", "finish"),
		"day", c.V.Day(c.Local(p.Opened)), "when", c.Clock(p.CountedAt)))
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
	case kept(c).NotBlind:
		c.GoTo("verdict")
	default:
		c.GoTo(next)
	}
}
