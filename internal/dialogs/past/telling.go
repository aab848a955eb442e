package past

import (
	"slices"
	"strconv"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
)

func StatusCommand() engine.Command {
	return engine.Command{
		Name:   engine.DoStatus,
		Rights: engine.May(access.Everyone, engine.AnyPhone, engine.OnceSetUp),
		Does:   engine.TellsOnly,
		Help:   engine.HelpOften,
		Takes:  engine.OnlyFigures,
		Menu:   6,
		Run:    status,
	}
}

// status tells what is open, what is inside and what is still to be done.
func status(c *engine.Talk) {
	body := []chat.Block{}
	p := c.M.Current()
	switch {
	case p == nil:
		body = append(body, engine.Text(trade.NothingOpen(c)))
		last := c.M.Last()
		if len(c.M.Carried) > 0 && !c.Hidden() && (last == nil || last.Status == books.Closed) {
			body = append(body, engine.Text(c.V.Say("status.left-in", "notes", ask.Notes(c, c.M.Inside()))))
		}
	case c.Hidden():
		body = append(body,
			engine.Text(c.V.Say("status.open", "when", c.Clock(p.Opened), "who", c.Name(p.By)), c.V.Say("hidden")))
	default:
		body = append(body, engine.Text(c.V.Say("status.open", "when", c.Clock(p.Opened), "who", c.Name(p.By))))
		body = append(body, levels(c, p)...)
	}
	faults, rows := trade.OpenFaults(c)
	if lines := append(faults, trade.Todo(c)...); len(lines) > 0 {
		body = append(body, engine.Text(lines...))
	}
	c.Send(chat.Reply{Body: body, Buttons: append(ticksButtons(c), rows...)})
}

// ticksButtons offers the checklists that are not done.
func ticksButtons(c *engine.Talk) [][]chat.Button {
	var rows [][]chat.Button
	for _, p := range c.M.Periods {
		if len(p.Ticks) > 0 {
			rows = append(rows, c.Button("show-ticks", "o:ticks:"+strconv.FormatInt(p.No, 10)+".show"))
		}
	}
	return rows
}

// levels shows what can be in each box, by the last level typed in or by what
// was put in.
func levels(c *engine.Talk, p *books.Period) []chat.Block {
	lines := ask.BoxLines(c)
	v := make([]int64, len(lines))
	for i, l := range lines {
		v[i], _ = trade.Estimate(p, l.Box)
	}
	table, _ := ask.CountTable(c, lines, v)
	how := c.V.Say("status.put-in")
	if n := len(p.Readings); n > 0 {
		how = c.V.Say("status.shown", "when", c.Clock(p.Readings[n-1].Happened))
	}
	return []chat.Block{{Text: how}, table}
}

// historyLines is how many records history shows.
const historyLines = 10

func HistoryCommand() engine.Command {
	return engine.Command{
		Name:   engine.DoHistory,
		Rights: engine.May(access.Everyone, engine.AnyPhone, engine.OnceSetUp),
		Does:   engine.TellsOnly,
		Help:   engine.HelpMore,
		Takes:  engine.OnlyFigures,
		Menu:   11,
		Run:    history,
	}
}

// history shows the last records, newest last.
func history(c *engine.Talk) {
	if c.Rest != "" {
		historyOf(c, c.Rest)
		return
	}
	recent := c.M.Recent
	if len(recent) == 0 {
		c.Say(c.V.Say("history.none"))
		return
	}
	if over := len(recent) - historyLines; over > 0 {
		recent = recent[over:]
	}
	lines := []string{c.V.Say("history.head")}
	for _, b := range recent {
		lines = append(lines, trade.HistoryLine(c, b))
	}
	if c.Hidden() {
		lines = append(lines, c.V.Say("hidden"))
	}
	c.Send(chat.Reply{Body: []chat.Block{engine.Text(lines...)}})
}

func UndoFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoUndo, Title: "undo", Version: 1, Start: startUndo, Draft: func() any { return &undoDraft{} },
		Safe: engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain,
		Paper: engine.OffPaper, Loses: engine.LosesNothing, Stopped: engine.NothingBooked,
		Rights: engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp),
		Commands: []engine.Command{
			{Name: engine.DoUndo, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.OnlyFigures,
				Menu: 12},
		},
		Screens: map[string]engine.Screen{"ask": ask.Booking{Read: readUndo, Book: bookUndo, What: "what.undo",
			Asks: func(*engine.Talk) string { return "" }}.Screen()},
	}
}

// undoTime is how long after recording a person may undo.
const undoTime = 15 * time.Minute

// undoable finds the last record, if the speaker made it and made it lately;
// else says why not.
func undoable(c *engine.Talk) (*books.Brief, string) {
	for i := len(c.M.Recent) - 1; i >= 0; i-- {
		b := &c.M.Recent[i]
		if b.Void || slices.Contains(lightKinds, b.Kind) {
			continue
		}
		switch {
		case b.By != c.F.Person.ID && c.F.Person.ID != 0: // on a shared phone who it is, is asked last
			return nil, c.V.Say("undo.other", "who", c.Name(b.By))
		case c.In.At.Sub(b.Recorded) > undoTime:
			return nil, c.V.Say("undo.late", "when", c.Clock(b.Recorded))
		}
		return b, ""
	}
	return nil, c.V.Say("undo.nothing")
}

// lightKinds move no notes; undo looks past them.
var lightKinds = []books.Kind{
	books.Undo, books.Checks, books.Attachment, books.Level, books.Printed, books.Incident, books.News,
}

// undoDraft is what is to be taken back.
type undoDraft struct {
	Seq int64 `json:"seq,omitempty"` // of the record
}

func startUndo(c *engine.Talk) {
	b, why := undoable(c)
	if b == nil {
		c.Close(chat.Block{Text: why})
		return
	}
	engine.Drafted[undoDraft](c).Seq = b.Seq
	c.GoTo("ask")
}

func readUndo(c *engine.Talk) []chat.Block {
	b, why := undoable(c)
	if b == nil || b.Seq != engine.Drafted[undoDraft](c).Seq {
		c.Close(chat.Block{Text: c.V.Say("undo.changed") + "\n" + why})
		return nil
	}
	return []chat.Block{engine.Text(c.V.Say("undo.ask"), trade.HistoryLine(c, *b))}
}

// bookUndo writes a reversing entry. The books of this step are not refolded:
// the store does that, so nothing after it may read them.
func bookUndo(c *engine.Talk) {
	b, _ := undoable(c)
	if b == nil || b.Seq != engine.Drafted[undoDraft](c).Seq {
		return
	}
	line := c.V.Say("undone", "what", c.V.Say("kind."+string(b.Kind)), "when", c.Clock(b.Happened))
	r := books.Record{Kind: books.Undo, Period: b.Period, Target: b.Seq, Happened: c.In.At.UTC()}
	if p := c.M.Period(b.Period); p != nil && b.Kind == books.Count && trade.Knew(c, p) {
		r.Marks = []books.Mark{books.NotBlind} // so that whoever counts again is known to
	}
	c.Records = append(c.Records, r)
	next := c.V.Say("undone-again")
	if b.Kind == books.Close {
		next = c.V.Say("undone-finish")
	}
	c.Close(engine.Text(line, next))
}

func PrintedFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoPrinted, Title: "opening", Version: 1, Start: startPrinted,
		Safe: engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain,
		Paper: engine.Alongside, Loses: engine.LosesNothing, Stopped: engine.NothingBooked,
		Rights: engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp),
		Commands: []engine.Command{
			{Name: engine.DoPrinted, Does: engine.StartsDialog, Help: engine.HelpMore,
				Takes: engine.OnlyFigures, Answers: true},
		},
		Screens: map[string]engine.Screen{"ask": {Ask: askPrinted, Answer: answerPrinted, What: "what.printed"}},
	}
}

// expectsTotal reports whether the machine's printed total is still to come,
// so that a bare amount is taken for it.
func expectsTotal(c *engine.Talk) bool {
	p := c.M.Current()
	return p != nil && slices.Contains(p.Ticks, "total") && c.In.At.Sub(p.Opened) < 2*time.Hour && !c.Hidden()
}

func startPrinted(c *engine.Talk) {
	if trade.Ready(c) == nil {
		return
	}
	if c.Hidden() {
		c.Close(chat.Block{Text: c.V.Say("hidden")})
		return
	}
	c.GoTo("ask")
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

// answerPrinted compares the machine's printed total with ours, and names the
// likely slip at once when they differ.
func answerPrinted(c *engine.Talk, s string) bool {
	amount, ok := ask.Amount(c, s)
	if !ok {
		return false
	}
	p := ask.Target(c)
	r := books.Record{Kind: books.Printed, Period: p.No,
		Amounts: []books.Amount{{Field: books.Loaded, Value: amount}}}
	if _, err := c.Record(r); err != nil {
		c.Refuse(err)
		return true
	}
	p = c.M.Period(p.No)
	ours := trade.PutIn(p)
	if amount.Equal(ours) {
		tickPrinted(c, p)
		c.Close(engine.Text(c.V.Say("printed.same", "money", c.V.Money(amount))))
		return true
	}
	lines := []string{c.V.Say("printed.differs", "printed", c.V.Money(amount), "ours", c.V.Money(ours))}
	lines = append(lines, ask.TotalSlip(c, p, amount, ours)...)
	for _, s := range ask.LikelySlips(p, amount.Sub(ours)) {
		lines = append(
			lines,
			c.V.Say("printed.likely", "line", ask.LineName(c, nil, ask.Line{Box: s.Box.Position, Face: s.Box.Face}),
				"typed", c.V.Number(s.Typed), "right", c.V.Number(s.Box.Loaded)),
		)
	}
	c.Close(engine.Text(append(lines, c.V.Say("printed.do"))...))
	return true
}

// tickPrinted takes the tick of the printed total off the list.
func tickPrinted(c *engine.Talk, p *books.Period) {
	for _, t := range p.Ticks {
		if t == "total" {
			if _, err := c.Record(books.Record{Kind: books.Checks, Period: p.No,
				Ticks: []string{"total"}}); err != nil {
				c.Refuse(err)
			}
		}
	}
}

// PastMoments are a bare amount while the printed total is missing, and the week.
func PastMoments() engine.Moments {
	return engine.Moments{Week: tellWeek, Stray: func(c *engine.Talk, f *engine.Flow) bool {
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
