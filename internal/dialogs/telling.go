package dialogs

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
)

// Photos: how many go with one record, and how long after a record one is
// still taken as belonging to it.
const (
	maxPhotos = 5
	photoTime = 30 * time.Minute
)

func statusCommand() command {
	return command{name: doStatus, rights: rights{access.Everyone, anyPhone, onceSetUp},
		does: tellsOnly, help: helpOften, takes: onlyFigures, menu: 6, run: (*talk).status}
}

// status tells what is open, what is inside and what is still to be done.
func (c *talk) status() {
	body := []Block{}
	p := c.m.Current()
	switch {
	case p == nil:
		body = append(body, text(c.nothingOpen()))
		last := c.m.Last()
		if len(c.m.Carried) > 0 && !c.hidden() && (last == nil || last.Status == books.Closed) {
			body = append(body, text(c.v.Say("status.left-in", "notes", c.notes(c.m.Inside()))))
		}
	case c.hidden():
		body = append(body, text(c.v.Say("status.open", "when", c.clock(p.Opened), "who", c.name(p.By)), c.v.Say("hidden")))
	default:
		body = append(body, text(c.v.Say("status.open", "when", c.clock(p.Opened), "who", c.name(p.By))))
		body = append(body, c.levels(p)...)
	}
	faults, rows := c.openFaults()
	if lines := append(faults, c.todo()...); len(lines) > 0 {
		body = append(body, text(lines...))
	}
	c.send(Reply{Body: body, Buttons: append(c.ticksButtons(), rows...)})
}

// ticksButtons offers the checklists that are not done.
func (c *talk) ticksButtons() [][]Button {
	var rows [][]Button
	for _, p := range c.m.Periods {
		if len(p.Ticks) > 0 {
			rows = append(rows, c.button("show-ticks", "o:ticks:"+strconv.FormatInt(p.No, 10)+".show"))
		}
	}
	return rows
}

// levels shows what can be in each box, by the last level typed in or by what
// was put in.
func (c *talk) levels(p *books.Period) []Block {
	lines := boxLines(c)
	v := make([]int64, len(lines))
	for i, l := range lines {
		v[i], _ = estimate(p, l.box)
	}
	table, _ := c.countTable(lines, v)
	how := c.v.Say("status.put-in")
	if n := len(p.Readings); n > 0 {
		how = c.v.Say("status.shown", "when", c.clock(p.Readings[n-1].Happened))
	}
	return []Block{{Text: how}, table}
}

// todo lists what is open: ticks, periods whose figures are missing, cash owed back.
func (c *talk) todo() []string {
	var lines []string
	for _, p := range c.m.Periods {
		if p.Status == books.Waiting {
			lines = append(lines, c.v.Say(either(len(p.Slips) > 0, "todo.close", "todo.figures"), "day", c.v.Day(c.local(p.Opened))))
		}
		if n := int64(len(p.Ticks)); n > 0 {
			lines = append(lines, c.v.Count("todo.ticks", n))
		}
	}
	if owed := c.m.Owed(); owed.IsPositive() {
		lines = append(lines, c.v.Say("owed", "money", c.v.Money(owed)))
	}
	for _, a := range c.f.Others {
		if c.stale(a) {
			continue
		}
		lines = append(lines, c.v.Say("todo.busy", "who", c.name(a.Person), "when", c.clock(a.Since)))
	}
	return lines
}

// historyLines is how many records history shows.
const historyLines = 10

func historyCommand() command {
	return command{name: doHistory, rights: rights{access.Everyone, anyPhone, onceSetUp},
		does: tellsOnly, help: helpMore, takes: onlyFigures, menu: 11, run: (*talk).history}
}

// history shows the last records, newest last.
func (c *talk) history() {
	if c.rest != "" {
		c.historyOf(c.rest)
		return
	}
	recent := c.m.Recent
	if len(recent) == 0 {
		c.say(c.v.Say("history.none"))
		return
	}
	if over := len(recent) - historyLines; over > 0 {
		recent = recent[over:]
	}
	lines := []string{c.v.Say("history.head")}
	for _, b := range recent {
		lines = append(lines, c.historyLine(b))
	}
	if c.hidden() {
		lines = append(lines, c.v.Say("hidden"))
	}
	c.send(Reply{Body: []Block{text(lines...)}})
}

// sealed reports whether a record's figures are to stay unseen by the speaker:
// a count that waits for its verdict, so that a second one can be honest.
func (c *talk) sealed(b books.Brief) bool {
	p := c.m.Period(b.Period)
	return p != nil && p.Status == books.Waiting && p.CountedBy != c.f.Person.ID && b.Seq > p.No &&
		(b.Kind == books.Count || b.Kind == books.Settlement || b.Kind == books.Spot)
}

func (c *talk) historyLine(b books.Brief) string {
	line := c.v.Say("history.line", "n", b.Seq, "when", c.clock(b.Happened), "what", c.v.Say("kind."+string(b.Kind)),
		"who", c.name(b.By))
	if !c.hidden() && !c.sealed(b) {
		if s := c.figures(b); s != "" {
			line += ": " + s
		}
	}
	if b.Recorded.Sub(b.Happened) > 5*time.Minute {
		line += " " + c.v.Say("history.later", "when", c.clock(b.Recorded))
	}
	switch {
	case b.Void:
		line += " " + c.v.Say("history.void")
	case b.Kind == books.Undo:
		line += " " + c.v.Say("history.undoes", "n", b.Target)
	case b.Kind == books.Correction:
		line += " " + c.correctionWord(b)
	case b.Corrected != 0:
		line += " " + c.v.Say("history.corrected", "n", b.Corrected)
	}
	for _, m := range b.Marks {
		if m == books.NotBlind && b.Kind != books.Undo || m == books.Early || m == books.Paper {
			line += " " + c.v.Say("mark."+string(m))
		}
	}
	return line
}

// figures words a record's figures: notes and their value, or amounts.
func (c *talk) figures(b books.Brief) string {
	switch b.Kind {
	case books.Moved:
		return c.movedLine(b)
	case books.Swap:
		return c.v.Say("history.swap", "out", c.notes(notesIn(b.Figures, books.Left)),
			"in", c.notes(notesIn(b.Figures, books.Added)))
	}
	n := books.Notes{}
	for _, f := range b.Figures {
		if f.Field != books.Cancelled && f.Field != books.Touched && f.Field != books.Away {
			n.Plus(f.Face, f.Notes)
		}
	}
	if len(n) > 0 {
		return c.notes(n) + " = " + c.v.Money(n.Value())
	}
	var out []string
	for _, a := range b.Amounts {
		if b.Kind != books.Correction || told([]books.Amount{a}) {
			out = append(out, c.v.Say("field."+string(a.Field))+" "+c.v.Money(a.Value))
		}
	}
	return strings.Join(out, ", ")
}

// movedLine words a move: why, and what left its place; of a swap at equal
// value that is one side.
func (c *talk) movedLine(b books.Brief) string {
	n := books.Notes{}
	for _, m := range b.Moves {
		if m.From == b.Moves[0].From || b.Reason != books.Exchange {
			n.Plus(m.Face, m.Notes)
		}
	}
	why := "reason." + string(b.Reason)
	if b.Reason == books.FromBank && len(b.Moves) > 0 && b.Moves[0].To == books.Bank {
		why = "reason.to-bank"
	}
	return c.v.Say(why) + ", " + c.notes(n) + " = " + c.v.Money(n.Value())
}

func undoFlow() *flow {
	return &flow{
		name: doUndo, title: "undo", version: 1, start: startUndo,
		safe: safeShut, presence: outOfWay, company: sideBySide, tells: tellsNothing, again: answersAgain,
		paper: offPaper, loses: losesNothing, stopped: nothingBooked,
		rights:   rights{access.Counting, anyPhone, onceSetUp},
		commands: []command{{name: doUndo, does: startsDialog, help: helpMore, takes: onlyFigures, menu: 12}},
		screens: map[string]screen{"ask": booking{read: readUndo, book: bookUndo, what: "what.undo",
			asks: func(*talk) string { return "" }}.screen()},
	}
}

// undoTime is how long after recording a person may undo.
const undoTime = 15 * time.Minute

// undoable finds the last record, if the speaker made it and made it lately;
// else says why not.
func (c *talk) undoable() (*books.Brief, string) {
	for i := len(c.m.Recent) - 1; i >= 0; i-- {
		b := &c.m.Recent[i]
		if b.Void || slices.Contains(lightKinds, b.Kind) {
			continue
		}
		switch {
		case b.By != c.f.Person.ID && c.f.Person.ID != 0: // on a shared phone who it is, is asked last
			return nil, c.v.Say("undo.other", "who", c.name(b.By))
		case c.in.At.Sub(b.Recorded) > undoTime:
			return nil, c.v.Say("undo.late", "when", c.clock(b.Recorded))
		}
		return b, ""
	}
	return nil, c.v.Say("undo.nothing")
}

// lightKinds move no notes; undo looks past them.
var lightKinds = []books.Kind{
	books.Undo, books.Checks, books.Attachment, books.Level, books.Printed, books.Incident, books.News,
}

func startUndo(c *talk) {
	b, why := c.undoable()
	if b == nil {
		c.close(Block{Text: why})
		return
	}
	c.choose("seq", strconv.FormatInt(b.Seq, 10))
	c.goTo("ask")
}

func readUndo(c *talk) []Block {
	b, why := c.undoable()
	if b == nil || strconv.FormatInt(b.Seq, 10) != c.chosen("seq") {
		c.close(Block{Text: c.v.Say("undo.changed") + "\n" + why})
		return nil
	}
	return []Block{text(c.v.Say("undo.ask"), c.historyLine(*b))}
}

// bookUndo writes a reversing entry. The books of this step are not refolded:
// the store does that, so nothing after it may read them.
func bookUndo(c *talk) {
	b, _ := c.undoable()
	if b == nil || strconv.FormatInt(b.Seq, 10) != c.chosen("seq") {
		return
	}
	line := c.v.Say("undone", "what", c.v.Say("kind."+string(b.Kind)), "when", c.clock(b.Happened))
	r := books.Record{Kind: books.Undo, Period: b.Period, Target: b.Seq, Happened: c.in.At.UTC()}
	if p := c.m.Period(b.Period); p != nil && b.Kind == books.Count && c.knew(p) {
		r.Marks = []books.Mark{books.NotBlind} // so that whoever counts again is known to
	}
	c.Records = append(c.Records, r)
	next := c.v.Say("undone-again")
	if b.Kind == books.Close {
		next = c.v.Say("undone-finish")
	}
	c.close(text(line, next))
}

func printedFlow() *flow {
	return &flow{
		name: doPrinted, title: "opening", version: 1, start: startPrinted,
		safe: safeShut, presence: outOfWay, company: sideBySide, tells: tellsNothing, again: answersAgain,
		paper: alongside, loses: losesNothing, stopped: nothingBooked,
		rights:   rights{access.Counting, anyPhone, onceSetUp},
		commands: []command{{name: doPrinted, does: startsDialog, help: helpMore, takes: onlyFigures, answers: true}},
		screens:  map[string]screen{"ask": {ask: askPrinted, answer: answerPrinted, what: "what.printed"}},
	}
}

// expectsTotal reports whether the machine's printed total is still to come,
// so that a bare amount is taken for it.
func (c *talk) expectsTotal() bool {
	p := c.m.Current()
	return p != nil && slices.Contains(p.Ticks, "total") && c.in.At.Sub(p.Opened) < 2*time.Hour && !c.hidden()
}

func startPrinted(c *talk) {
	if c.ready() == nil {
		return
	}
	if c.hidden() {
		c.close(Block{Text: c.v.Say("hidden")})
		return
	}
	c.goTo("ask")
	if c.rest != "" && !answerPrinted(c, c.rest) {
		c.first(c.v.Say("not-amount", "near", c.rest))
	}
}

func askPrinted(c *talk) *card {
	if c.State.Flow == "" {
		return nil
	}
	return &card{body: []Block{{Text: c.v.Say("ask.printed")}}}
}

// answerPrinted compares the machine's printed total with ours, and names the
// likely slip at once when they differ.
func answerPrinted(c *talk, s string) bool {
	amount, ok := c.amount(s)
	if !ok {
		return false
	}
	p := c.target()
	r := books.Record{Kind: books.Printed, Period: p.No, Amounts: []books.Amount{{Field: books.Loaded, Value: amount}}}
	if _, err := c.record(r); err != nil {
		c.refuse(err)
		return true
	}
	p = c.m.Period(p.No)
	ours := putIn(p)
	if amount.Equal(ours) {
		c.tickPrinted(p)
		c.close(text(c.v.Say("printed.same", "money", c.v.Money(amount))))
		return true
	}
	lines := []string{c.v.Say("printed.differs", "printed", c.v.Money(amount), "ours", c.v.Money(ours))}
	lines = append(lines, c.totalSlip(p, amount, ours)...)
	for _, s := range likelySlips(p, amount.Sub(ours)) {
		lines = append(lines, c.v.Say("printed.likely", "line", c.lineName(nil, line{box: s.box.Position, face: s.box.Face}),
			"typed", c.v.Number(s.typed), "right", c.v.Number(s.box.Loaded)))
	}
	c.close(text(append(lines, c.v.Say("printed.do"))...))
	return true
}

// putIn is what was put into the boxes of a period, less what was taken out.
func putIn(p *books.Period) decimal.Decimal {
	return p.Loaded().Value().Add(p.Added.Value()).Sub(p.Removed.Value())
}

// tickPrinted takes the tick of the printed total off the list.
func (c *talk) tickPrinted(p *books.Period) {
	for _, t := range p.Ticks {
		if t == "total" {
			if _, err := c.record(books.Record{Kind: books.Checks, Period: p.No, Ticks: []string{"total"}}); err != nil {
				c.refuse(err)
			}
		}
	}
}

// pastMoments are a bare amount while the printed total is missing, and the week.
func pastMoments() moments {
	return moments{week: (*talk).tellWeek, stray: func(c *talk, f *flow) bool {
		if f != nil || !c.expectsTotal() {
			return false
		}
		if _, ok := c.amount(c.in.Text); !ok {
			return false
		}
		c.rest = c.in.Text
		c.obey(c.e.named(doPrinted))
		return true
	}}
}
