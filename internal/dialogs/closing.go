package dialogs

import (
	"strconv"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
)

func closingFlow() *flow {
	return &flow{
		name: doClose, title: "closing", version: 1, start: startClosing, screens: closingScreens(),
		safe: safeOpen, presence: atWork, company: oneAtATime, tells: tellsNothing, again: answersAgain,
		paper: thatDay, part: 10, loses: losesCounts, stopped: countStays,
		rights: rights{access.Counting, anyPhone, onceSetUp},
		count:  &counting{closes: true}, asks: countQuestions(),
		commands: []command{{name: doClose, does: startsDialog, help: helpOften, takes: onlyFigures, menu: 5,
			offer: "start-closing", guided: true}},
	}
}

// finishFlow takes up a period that was counted and whose printed figures are missing.
func finishFlow() *flow {
	return &flow{
		name: doFinish, title: "closing", version: 1, start: startFinish, screens: closingScreens(),
		safe: safeShut, presence: atWork, company: oneAtATime, tells: tellsNothing, again: answersAgain,
		paper: offPaper, loses: losesCounts, stopped: countStays,
		rights: rights{access.Counting, anyPhone, onceSetUp},
		count:  &counting{closes: true}, asks: countQuestions(),
		commands: []command{{name: doFinish, does: startsDialog, help: helpMore, takes: onlyFigures}},
	}
}

func closingScreens() map[string]screen {
	return map[string]screen{
		"left":         counted(leftQuestion.screen()),
		"tray":         counted(trayQuestion.screen()),
		"findings":     counted(screen{ask: askFindings, taps: map[string]func(*talk){"yes": inTray("yes"), "no": inTray("no")}, typed: yesNo, what: "what.findings"}),
		"found":        counted(foundQuestion.screen()),
		"count-review": counted(booking{read: readCount, book: confirmCount, answer: typedCounts(only(leftQuestion)), other: changes(goBack("change"))}.screen()),
		"change":       counted(changing{options: countLines, answer: typedCounts(only(leftQuestion)), back: "count-review"}.screen()),
		"witness":      witnessScreen(),
		"paid":         paidScreen(),
		"slip-out":     slipOutScreen(),
		"last-seen":    lastSeenQuestion.screen(),
		"back":         backQuestion.screen(),
		"back-total": {ask: askBackTotal, answer: answerBackTotal, taps: map[string]func(*talk){
			"none": noBackTotal, "keep": keepBackTotal, "again": againBackTotal}, typed: noWords, what: "what.back"},
		"verdict": {ask: askVerdict, tap: tapVerdictLine, what: "what.verdict", taps: map[string]func(*talk){
			"confirm": tapVerdict, "figures": changeFigures, "recount": recount, "count-tray": countTray}},
		"figures": changing{asks: "change-printed", options: figureLines, answer: answerSlip, foot: restarts,
			back: "verdict", taps: map[string]func(*talk){"restart": restarted, "no-restart": noRestart}}.screen(),
		"fix": booking{read: readFix, asks: func(c *talk) string { return c.v.Say("fix.sure") }, sure: "fix-yes",
			book: bookFix, other: backTo("verdict"), what: "what.fix"}.screen(),
		"reason": {ask: askReason, answer: answerReason, taps: map[string]func(*talk){"skip": noReason}, what: "what.reason"},
	}
}

// counted makes a screen part of a count: nobody may see what should be there
// while it is open.
func counted(s screen) screen {
	s.finds = true
	return blind(s)
}

// blind hides what should be in the machine while a screen is open.
func blind(s screen) screen {
	s.blind = true
	return s
}

// countQuestions are those of a count with the printed figures, in the order they are asked.
func countQuestions() []asked {
	return []asked{leftQuestion, trayQuestion, foundQuestion, lastSeenQuestion, paidQuestion, backQuestion}
}

// countKept: the count is recorded once the printed figures are asked for.
func countKept(c *talk) bool { return !c.screen().finds && !c.count().second }

// Words that may be typed where a yes or a no is asked and nothing is booked by it.
var (
	yesNo   = []string{"yes", "no"}
	noWords = []string{"none"}
)

var (
	leftQuestion = question{
		name: "left", lines: boxLines, intro: "before-count", check: checkFits, what: "what.left",
		stands: countKept, next: func(*talk) string { return "tray" },
	}
	trayQuestion = question{
		name: "tray", lines: kindLines, none: true, partial: true, what: "what.tray", leftOut: "no-tray",
		stands: countKept,
		next:   func(*talk) string { return "findings" },
		extra:  func(c *talk) [][]Button { return [][]Button{c.button("skip-tray", "skip")} },
		taps:   map[string]func(*talk){"skip": skipTray},
	}
	foundQuestion = question{
		stands: countKept, name: "found", lines: kindLines, none: true, partial: true, what: "what.found", before: (*talk).besides,
		next: func(*talk) string { return "count-review" },
	}
	paidQuestion = question{
		name: "paid", lines: kindLines, money: true, check: checkPaid, what: "what.paid", total: paidTotal,
		leftOut: "paid-total",
		before:  (*talk).alreadyIn,
		next: func(c *talk) string {
			if c.chosen("paid-total") != "" {
				return "back-total"
			}
			return "back"
		},
		extra: paidButtons,
		taps: map[string]func(*talk){
			"restart": func(c *talk) { c.goTo("last-seen") }, "no-slip": noSlip, "later": finishTomorrow, "no-more": noMore,
		},
		typed: []string{"no-slip", "later"},
	}
	lastSeenQuestion = question{
		name: "last-seen", lines: kindLines, money: true, partial: true, what: "what.last-seen", leftOut: "unsettled",
		next:  func(*talk) string { return "paid" },
		extra: func(c *talk) [][]Button { return [][]Button{c.button("skip-unknown", "skip")} },
		taps:  map[string]func(*talk){"skip": skipLastSeen},
	}
	backQuestion = question{
		name: "back", lines: kindLines, money: true, none: true, partial: true, check: checkBack, what: "what.back",
		next: func(*talk) string { return "verdict" },
	}
)

// target is the period that what is told now belongs to, or nil.
func (c *talk) target() *books.Period {
	if c.State.Draft.Period != 0 {
		return c.m.Period(c.State.Draft.Period)
	}
	if c.State.Draft.Happened.IsZero() {
		return c.m.Current()
	}
	var best *books.Period
	for _, p := range c.m.Periods {
		if p.Unfinished() && !p.Opened.After(c.State.Draft.Happened) && (best == nil || p.Opened.After(best.Opened)) {
			best = p
		}
	}
	return best
}

func startClosing(c *talk) {
	p := c.target()
	if p == nil {
		if len(c.m.Pending()) > 0 {
			startFinish(c)
			return
		}
		c.close(Block{Text: c.nothingOpen()})
		return
	}
	c.State.Draft.Period = p.No
	if p.Status == books.Waiting {
		c.goTo(c.afterCount(p))
		return
	}
	c.goTo("left")
	c.take(leftQuestion)
}

func startFinish(c *talk) {
	list := c.m.Pending()
	if len(list) == 0 {
		c.close(Block{Text: c.nothingOpen()})
		return
	}
	c.State.Draft.Period = list[0].No
	c.first(c.v.Say(either(len(list[0].Slips) > 0, "finish-slips", "finish"), "day", c.v.Day(c.local(list[0].Opened)), "when", c.clock(list[0].CountedAt)))
	c.goTo(c.afterCount(list[0]))
}

// nothingOpen says that the machine is not open, and when it was last closed; of
// something from earlier, that it was not open then.
func (c *talk) nothingOpen() string {
	if why, _ := c.closedThen(); why != "" {
		return why
	}
	if p := c.m.Last(); p != nil && p.Status == books.Closed {
		return c.v.Say("nothing-open-since", "when", c.clock(p.Ended), "who", c.name(p.EndedBy))
	}
	if list := c.m.Pending(); len(list) > 0 {
		return c.v.Say("nothing-open-counted", "day", c.v.Day(c.local(list[0].Opened)))
	}
	return c.v.Say("nothing-open")
}

func skipTray(c *talk) {
	c.choose("no-tray", "yes")
	c.none("tray")
}

// askFindings asks of each lot of notes found earlier whether it is part of
// what was just counted, so that no note is counted twice.
func askFindings(c *talk) *card {
	for _, f := range c.target().Findings {
		if c.chosen("in."+strconv.FormatInt(f.Seq, 10)) != "" {
			continue
		}
		if !c.fitsTray(f.Notes) {
			c.choose("in."+strconv.FormatInt(f.Seq, 10), "no")
			continue
		}
		k := &card{body: []Block{{Text: c.v.Say("ask.findings", "notes", c.notes(f.Notes), "when", c.clock(f.Happened),
			"where", c.v.Say("place."+string(f.Where)))}}}
		k.buttons = [][]Button{c.button("yes", "yes"), c.button("no", "no")}
		return k
	}
	c.goTo("found")
	return nil
}

// fitsTray reports whether notes found earlier can be among those just counted
// in the box for refused notes.
func (c *talk) fitsTray(n books.Notes) bool {
	tray := books.Notes{}
	for i, l := range kindLines(c) {
		tray.Plus(l.face, max(trayQuestion.values(c)[i], 0))
	}
	for f, notes := range n {
		if tray[f] < notes {
			return false
		}
	}
	return c.chosen("no-tray") == ""
}

// besides names the notes found earlier that count apart from the box for
// refused notes, so that nobody types them again.
func (c *talk) besides() string {
	apart := books.Notes{}
	for _, f := range c.target().Findings {
		if c.chosen("in."+strconv.FormatInt(f.Seq, 10)) == "no" {
			apart.Add(f.Notes)
		}
	}
	if len(apart) == 0 {
		return ""
	}
	return c.v.Say("besides", "notes", c.notes(apart))
}

func inTray(answer string) func(*talk) {
	return func(c *talk) {
		for _, f := range c.target().Findings {
			if key := "in." + strconv.FormatInt(f.Seq, 10); c.chosen(key) == "" {
				c.choose(key, answer)
				return
			}
		}
	}
}

// notes names a handful of notes: 2 twenties, 1 ten.
func (c *talk) notes(n books.Notes) string {
	out := ""
	for i, f := range n.Faces() {
		if i > 0 {
			out += ", "
		}
		out += c.v.Count("notes-of", n[f], "kind", c.v.Kind(f))
	}
	return out
}

// counted gives the count in the draft as figures: what is left in the boxes,
// in the box for refused notes, and found elsewhere.
func (c *talk) counted() []books.Figure {
	figs := boxFigures(books.Remaining, boxLines(c), leftQuestion.values(c), true)
	if c.chosen("no-tray") == "" {
		figs = append(figs, boxFigures(books.Refused, kindLines(c), trayQuestion.values(c), false)...)
	}
	found := books.Notes{}
	for i, l := range kindLines(c) {
		found.Plus(l.face, max(foundQuestion.values(c)[i], 0))
	}
	for _, f := range c.target().Findings {
		if c.chosen("in."+strconv.FormatInt(f.Seq, 10)) == "no" {
			found.Add(f.Notes)
		}
	}
	for _, f := range found.Faces() {
		figs = append(figs, books.Figure{Field: books.FoundAt, Face: f, Notes: found[f]})
	}
	return figs
}

func readCount(c *talk) []Block {
	lines := boxLines(c)
	table, _ := c.countTable(lines, leftQuestion.values(c))
	body := []Block{{Text: c.v.Say("review.count")}, table}
	var tray, found books.Notes
	for _, f := range c.counted() {
		switch f.Field {
		case books.Refused:
			tray.Plus(f.Face, f.Notes)
		case books.FoundAt:
			found.Plus(f.Face, f.Notes)
		}
	}
	body = append(body, Block{Text: c.trayReview(tray)})
	if len(found) > 0 {
		body = append(body, Block{Text: c.v.Say("review.found", "notes", c.notes(found))})
	}
	return body
}

func confirmCount(c *talk) {
	p := c.target()
	if c.count().own || c.count().second {
		confirmOtherCount(c)
		return
	}
	r := books.Record{Kind: books.Count, Period: p.No, Figures: c.counted(), Ticks: c.nightTicks()}
	if c.knew(p) {
		r.Marks = append(r.Marks, books.NotBlind)
	}
	if c.chosen("no-tray") != "" {
		r.Marks = append(r.Marks, books.NoTray)
	}
	if _, err := c.record(r); err != nil {
		c.refuse(err)
		return
	}
	c.first(c.v.Say("counted", "when", c.clock(c.when())))
	c.goTo(c.afterCount(c.m.Period(p.No)))
	if c.State.Step == "witness" {
		c.callWitness(c.m.Period(p.No))
		return
	}
	if c.chosen("not-blind") != "" {
		c.goTo("verdict")
	}
}

// countLines are the lines of a count, and its other parts.
func countLines(c *talk) []option {
	list := leftQuestion.reopening("line", "line-")(c)
	for _, part := range []string{"tray", "found"} {
		list = append(list, option{label: c.v.Say("button." + part), value: part,
			take: anew(part, part, "no-tray")})
	}
	return list
}

// checkPaid asks back a printed figure above what was put in: probably money.
// Where more was taken out than put in, what was taken out says nothing.
func checkPaid(c *talk, l line, n int64) doubt {
	var in, out int64
	for _, b := range c.target().Boxes {
		if b.Face == l.face {
			in, out = in+b.Loaded+b.Added, out+b.Removed
		}
	}
	if out <= in {
		in -= out
	}
	if n <= in {
		return doubt{}
	}
	if notes, ok := asMoney(l, n); ok && notes <= in {
		return doubt{why: "money-paid", likely: notes}
	}
	return doubt{why: "paid-more", likely: 0}
}

// paidScreen takes printed figures, and lets those that are in be left out.
func paidScreen() screen {
	s := paidQuestion.screen()
	s.tap = func(c *talk, choice string) bool { return tapTwice(c, choice) || paidQuestion.of(c, choice) }
	return s
}

func paidButtons(c *talk) [][]Button {
	rows := [][]Button{}
	if len(c.target().Slips) > 0 && !c.count().slip {
		rows = append(rows, c.button("no-more", "no-more"))
	}
	if !c.begunPaid() {
		rows = append(rows, c.slipButtons(c.target().Slips)...)
	}
	rows = append(rows, c.button("restart", "restart"))
	if !c.count().slip {
		rows = append(rows, c.button("no-slip", "no-slip"))
	}
	if c.count().closes {
		rows = append(rows, c.button("later", "later"))
	}
	return rows
}

// paidTotal takes the only figure some machines print.
func paidTotal(c *talk, amount string) {
	if !c.payable(amount) {
		return
	}
	c.choose("paid-total", amount)
	c.none("paid")
}

func skipLastSeen(c *talk) {
	c.choose("unsettled", "yes")
	c.none("last-seen")
}

// noMore closes on the settlements entered before.
func noMore(c *talk) {
	c.choose("no-more", "yes")
	c.goTo("verdict")
}

func noSlip(c *talk)         { c.wait("wait.no-slip") }
func finishTomorrow(c *talk) { c.wait("wait.later") }

// wait ends the dialog with everything counted kept and the printed figures missing.
func (c *talk) wait(why string) {
	p := c.target()
	if c.count().own {
		c.close(text(c.v.Say(why), c.lock()))
		return
	}
	told := either(len(p.Slips) > 0, "told.close-missing", "told.figures-missing")
	c.managers(text(c.v.Say(told, "day", c.v.Day(c.local(p.Opened)), "who", c.f.Person.Name)))
	head := c.v.Say(why) + "\n" + c.v.Say("wait.how")
	if len(p.Ticks) == 0 {
		c.close(text(head))
		return
	}
	c.askTicks(p, head)
}

// notesIn adds up, by face value, the figures of the given fields.
func notesIn(figs []books.Figure, fields ...books.Field) (n books.Notes) {
	for _, f := range figs {
		for _, field := range fields {
			if f.Field == field {
				n.Plus(f.Face, f.Notes)
			}
		}
	}
	return n
}
