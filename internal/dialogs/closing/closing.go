package closing

import (
	"strconv"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
)

func ClosingFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoClose, Title: "closing", Version: 1, Start: startClosing, Screens: closingScreens(),
		Safe: engine.SafeOpen, Presence: engine.AtWork, Company: engine.OneAtATime, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain,
		Paper: engine.ThatDay, Part: 10, Loses: engine.LosesCounts, Stopped: ask.CountStays,
		Rights: engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp),
		Count:  &engine.Counting{Closes: true}, Asks: countQuestions(),
		Commands: []engine.Command{
			{
				Name:   engine.DoClose,
				Does:   engine.StartsDialog,
				Help:   engine.HelpOften,
				Takes:  engine.OnlyFigures,
				Menu:   5,
				Offer:  "start-closing",
				Guided: true,
			},
		},
	}
}

// FinishFlow takes up a period that was counted and whose printed figures are missing.
func FinishFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoFinish, Title: "closing", Version: 1, Start: startFinish, Screens: closingScreens(),
		Safe: engine.SafeShut, Presence: engine.AtWork, Company: engine.OneAtATime, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain,
		Paper: engine.OffPaper, Loses: engine.LosesCounts, Stopped: ask.CountStays,
		Rights: engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp),
		Count:  &engine.Counting{Closes: true}, Asks: countQuestions(),
		Commands: []engine.Command{
			{Name: engine.DoFinish, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.OnlyFigures}},
	}
}

func closingScreens() map[string]engine.Screen {
	return map[string]engine.Screen{
		"left": counted(leftQuestion.Screen()),
		"tray": counted(trayQuestion.Screen()),
		"findings": counted(
			engine.Screen{Ask: askFindings,
				Taps: map[string]func(*engine.Talk){"yes": inTray("yes"), "no": inTray("no")}, Typed: ask.YesNo,
				What: "what.findings"},
		),
		"found": counted(foundQuestion.Screen()),
		"count-review": counted(
			ask.Booking{Read: readCount, Book: confirmCount, Answer: ask.TypedCounts(ask.Only(leftQuestion)),
				Other: ask.Changes(engine.GoBack("change"))}.Screen(),
		),
		"change": counted(
			ask.Changing{Options: countLines, Answer: ask.TypedCounts(ask.Only(leftQuestion)),
				Back: "count-review"}.Screen(),
		),
		"witness":   witnessScreen(),
		"paid":      paidScreen(),
		"slip-out":  slipOutScreen(),
		"last-seen": lastSeenQuestion.Screen(),
		"back":      backQuestion.Screen(),
		"back-total": {Ask: askBackTotal, Answer: answerBackTotal, Taps: map[string]func(*engine.Talk){
			"none": noBackTotal, "keep": keepBackTotal, "again": againBackTotal}, Typed: ask.NoWords,
			What: "what.back"},
		"verdict": {Ask: askVerdict, Tap: tapVerdictLine, What: "what.verdict", Taps: map[string]func(*engine.Talk){
			"confirm": tapVerdict, "figures": changeFigures, "recount": recount, "count-tray": countTray}},
		"figures": ask.Changing{Asks: "change-printed", Options: figureLines, Answer: answerSlip, Foot: restarts,
			Back: "verdict", Taps: map[string]func(*engine.Talk){"restart": restarted,
				"no-restart": noRestart}}.Screen(),
		"fix": ask.Booking{Read: readFix, Asks: func(c *engine.Talk) string { return c.V.Say("fix.sure") },
			Sure: "fix-yes", Book: bookFix, Other: ask.BackTo("verdict"), What: "what.fix"}.Screen(),
		"reason": {Ask: askReason, Answer: answerReason, Taps: map[string]func(*engine.Talk){"skip": noReason},
			What: "what.reason"},
	}
}

// counted makes a screen part of a count: nobody may see what should be there
// while it is open.
func counted(s engine.Screen) engine.Screen {
	s.Finds = true
	return ask.Blind(s)
}

// countQuestions are those of a count with the printed figures, in the order they are asked.
func countQuestions() []engine.Asked {
	return []engine.Asked{leftQuestion, trayQuestion, foundQuestion, lastSeenQuestion, paidQuestion,
		backQuestion}
}

// countKept: the count is recorded once the printed figures are asked for.
func countKept(c *engine.Talk) bool { return !c.Screen().Finds && !c.Count().Second }

// figuresKept: the printed figures are recorded once the reason is asked for.
func figuresKept(c *engine.Talk) bool { return c.State.Step == "reason" }

var (
	leftQuestion = ask.Question{
		Name: "left", Lines: ask.BoxLines, Intro: "before-count", Check: ask.CheckFits, What: "what.left",
		Stands: countKept, Next: func(*engine.Talk) string { return "tray" },
	}
	trayQuestion = ask.Question{
		Name: "tray", Lines: ask.KindLines, None: true, Partial: true, What: "what.tray", LeftOut: "no-tray",
		Stands: countKept,
		Next:   func(*engine.Talk) string { return "findings" },
		Extra:  func(c *engine.Talk) [][]chat.Button { return [][]chat.Button{c.Button("skip-tray", "skip")} },
		Taps:   map[string]func(*engine.Talk){"skip": skipTray},
	}
	foundQuestion = ask.Question{
		Stands: countKept, Name: "found", Lines: ask.KindLines, None: true, Partial: true, What: "what.found",
		Before: besides,
		Next:   func(*engine.Talk) string { return "count-review" },
	}
	paidQuestion = ask.Question{
		Name: "paid", Lines: ask.KindLines, Money: true, Check: ask.CheckPaid, What: "what.paid", Total: paidTotal,
		LeftOut: "paid-total", Stands: figuresKept,
		Before: alreadyIn,
		Next: func(c *engine.Talk) string {
			if c.Chosen("paid-total") != "" {
				return "back-total"
			}
			return "back"
		},
		Extra: paidButtons,
		Taps: map[string]func(*engine.Talk){
			"restart": func(c *engine.Talk) { c.GoTo("last-seen") }, "no-slip": noSlip, "later": finishTomorrow,
			"no-more": noMore,
		},
		Typed: []string{"no-slip", "later"},
	}
	lastSeenQuestion = ask.Question{
		Name: "last-seen", Lines: ask.KindLines, Money: true, Partial: true, What: "what.last-seen",
		LeftOut: "unsettled", Stands: figuresKept,
		Next:  func(*engine.Talk) string { return "paid" },
		Extra: func(c *engine.Talk) [][]chat.Button { return [][]chat.Button{c.Button("skip-unknown", "skip")} },
		Taps:  map[string]func(*engine.Talk){"skip": skipLastSeen},
	}
	backQuestion = ask.Question{
		Name: "back", Lines: ask.KindLines, Money: true, None: true, Partial: true, Check: checkBack,
		What: "what.back", Stands: figuresKept,
		Next: func(*engine.Talk) string { return "verdict" },
	}
)

func startClosing(c *engine.Talk) {
	p := ask.Target(c)
	if p == nil {
		if len(c.M.Pending()) > 0 {
			startFinish(c)
			return
		}
		c.Close(chat.Block{Text: trade.NothingOpen(c)})
		return
	}
	c.State.Draft.Period = p.No
	if p.Status == books.Waiting {
		goOn(c, p)
		return
	}
	c.GoTo("left")
	ask.Take(c, leftQuestion)
}

// goOn asks what is missing of a period that was counted. Where answers are to
// be typed again, a count made anew after the result comes first, then what was
// paid out before the counters started again.
func goOn(c *engine.Talk, p *books.Period) {
	again := c.State.Draft.Retyped
	if again["paid"] == "" {
		delete(again, "left") // counted by somebody else since
		delete(again, "tray")
		delete(again, "found")
	}
	switch {
	case again["left"] != "":
		recount(c)
	case again["last-seen"] != "":
		c.GoTo("last-seen")
	default:
		c.GoTo(afterCount(c, p))
	}
}

func startFinish(c *engine.Talk) {
	list := c.M.Pending()
	if len(list) == 0 {
		c.Close(chat.Block{Text: trade.NothingOpen(c)})
		return
	}
	c.State.Draft.Period = list[0].No
	c.First(
		c.V.Say(engine.Either(len(list[0].Slips) > 0, "finish-slips", "finish"),
			"day", c.V.Day(c.Local(list[0].Opened)), "when", c.Clock(list[0].CountedAt)),
	)
	goOn(c, list[0])
}

func skipTray(c *engine.Talk) {
	c.Choose("no-tray", "yes")
	ask.None(c, "tray")
}

// askFindings asks of each lot of notes found earlier whether it is part of
// what was just counted, so that no note is counted twice.
func askFindings(c *engine.Talk) *engine.Card {
	for _, f := range ask.Target(c).Findings {
		if c.Chosen("in."+strconv.FormatInt(f.Seq, 10)) != "" {
			continue
		}
		if !fitsTray(c, f.Notes) {
			c.Choose("in."+strconv.FormatInt(f.Seq, 10), "no")
			continue
		}
		k := &engine.Card{
			Body: []chat.Block{
				{Text: c.V.Say("ask.findings", "notes", ask.Notes(c, f.Notes), "when", c.Clock(f.Happened),
					"where", c.V.Say("place."+string(f.Where)))},
			},
		}
		k.Buttons = [][]chat.Button{c.Button("yes", "yes"), c.Button("no", "no")}
		return k
	}
	c.GoTo("found")
	return nil
}

// fitsTray reports whether notes found earlier can be among those just counted
// in the box for refused notes.
func fitsTray(c *engine.Talk, n books.Notes) bool {
	tray := books.Notes{}
	for i, l := range ask.KindLines(c) {
		tray.Plus(l.Face, max(trayQuestion.Values(c)[i], 0))
	}
	for f, notes := range n {
		if tray[f] < notes {
			return false
		}
	}
	return c.Chosen("no-tray") == ""
}

// besides names the notes found earlier that count apart from the box for
// refused notes, so that nobody types them again.
func besides(c *engine.Talk) string {
	apart := books.Notes{}
	for _, f := range ask.Target(c).Findings {
		if c.Chosen("in."+strconv.FormatInt(f.Seq, 10)) == "no" {
			apart.Add(f.Notes)
		}
	}
	if len(apart) == 0 {
		return ""
	}
	return c.V.Say("besides", "notes", ask.Notes(c, apart))
}

func inTray(answer string) func(*engine.Talk) {
	return func(c *engine.Talk) {
		for _, f := range ask.Target(c).Findings {
			if key := "in." + strconv.FormatInt(f.Seq, 10); c.Chosen(key) == "" {
				c.Choose(key, answer)
				return
			}
		}
	}
}

// countedFigures gives the count in the draft as figures: what is left in the boxes,
// in the box for refused notes, and found elsewhere.
func countedFigures(c *engine.Talk) []books.Figure {
	figs := ask.BoxFigures(books.Remaining, ask.BoxLines(c), leftQuestion.Values(c), true)
	if c.Chosen("no-tray") == "" {
		figs = append(figs, ask.BoxFigures(books.Refused, ask.KindLines(c), trayQuestion.Values(c), false)...)
	}
	found := books.Notes{}
	for i, l := range ask.KindLines(c) {
		found.Plus(l.Face, max(foundQuestion.Values(c)[i], 0))
	}
	for _, f := range ask.Target(c).Findings {
		if c.Chosen("in."+strconv.FormatInt(f.Seq, 10)) == "no" {
			found.Add(f.Notes)
		}
	}
	for _, f := range found.Faces() {
		figs = append(figs, books.Figure{Field: books.FoundAt, Face: f, Notes: found[f]})
	}
	return figs
}

func readCount(c *engine.Talk) []chat.Block {
	lines := ask.BoxLines(c)
	table, _ := ask.CountTable(c, lines, leftQuestion.Values(c))
	body := []chat.Block{{Text: c.V.Say("review.count")}, table}
	var tray, found books.Notes
	for _, f := range countedFigures(c) {
		switch f.Field {
		case books.Refused:
			tray.Plus(f.Face, f.Notes)
		case books.FoundAt:
			found.Plus(f.Face, f.Notes)
		}
	}
	body = append(body, chat.Block{Text: ask.TrayReview(c, tray)})
	if len(found) > 0 {
		body = append(body, chat.Block{Text: c.V.Say("review.found", "notes", ask.Notes(c, found))})
	}
	return body
}

func confirmCount(c *engine.Talk) {
	p := ask.Target(c)
	if c.Count().Own || c.Count().Second {
		confirmOtherCount(c)
		return
	}
	r := books.Record{Kind: books.Count, Period: p.No, Figures: countedFigures(c), Ticks: nightTicks(c)}
	if trade.Knew(c, p) {
		r.Marks = append(r.Marks, books.NotBlind)
	}
	if c.Chosen("no-tray") != "" {
		r.Marks = append(r.Marks, books.NoTray)
	}
	if _, err := c.Record(r); err != nil {
		c.Refuse(err)
		return
	}
	c.First(c.V.Say("counted", "when", c.Clock(c.When())))
	c.GoTo(afterCount(c, c.M.Period(p.No)))
	if c.State.Step == "witness" {
		callWitness(c, c.M.Period(p.No))
		return
	}
	if c.Chosen("not-blind") != "" && c.State.Draft.Retyped["paid"] == "" {
		c.GoTo("verdict")
	}
}

// countLines are the lines of a count, and its other parts.
func countLines(c *engine.Talk) []ask.Option {
	list := leftQuestion.Reopening("line", "line-")(c)
	for _, part := range []string{"tray", "found"} {
		list = append(list, ask.Option{Label: c.V.Say("button." + part), Value: part,
			Take: engine.Anew(part, part, "no-tray")})
	}
	return list
}

// paidScreen takes printed figures, and lets those that are in be left out.
func paidScreen() engine.Screen {
	s := paidQuestion.Screen()
	s.Tap = func(c *engine.Talk, choice string) bool { return tapTwice(c, choice) || paidQuestion.Of(c, choice) }
	return s
}

func paidButtons(c *engine.Talk) [][]chat.Button {
	rows := [][]chat.Button{}
	if len(ask.Target(c).Slips) > 0 && !c.Count().Slip {
		rows = append(rows, c.Button("no-more", "no-more"))
	}
	if !begunPaid(c) {
		rows = append(rows, slipButtons(c, ask.Target(c).Slips)...)
	}
	rows = append(rows, c.Button("restart", "restart"))
	if !c.Count().Slip {
		rows = append(rows, c.Button("no-slip", "no-slip"))
	}
	if c.Count().Closes {
		rows = append(rows, c.Button("later", "later"))
	}
	return rows
}

// paidTotal takes the only figure some machines print.
func paidTotal(c *engine.Talk, amount string) {
	if !ask.Payable(c, amount) {
		return
	}
	c.Choose("paid-total", amount)
	ask.None(c, "paid")
}

func skipLastSeen(c *engine.Talk) {
	c.Choose("unsettled", "yes")
	ask.None(c, "last-seen")
}

// noMore closes on the settlements entered before.
func noMore(c *engine.Talk) {
	c.Choose("no-more", "yes")
	c.GoTo("verdict")
}

func noSlip(c *engine.Talk)         { wait(c, "wait.no-slip") }
func finishTomorrow(c *engine.Talk) { wait(c, "wait.later") }

// wait ends the dialog with everything counted kept and the printed figures missing.
func wait(c *engine.Talk, why string) {
	p := ask.Target(c)
	if c.Count().Own {
		c.Close(engine.Text(c.V.Say(why), c.Lock()))
		return
	}
	told := engine.Either(len(p.Slips) > 0, "told.close-missing", "told.figures-missing")
	c.Managers(engine.Text(c.V.Say(told, "day", c.V.Day(c.Local(p.Opened)), "who", c.F.Person.Name)))
	head := c.V.Say(why) + "\n" + c.V.Say("wait.how")
	if len(p.Ticks) == 0 {
		c.Close(engine.Text(head))
		return
	}
	trade.AskTicks(c, p, head)
}
