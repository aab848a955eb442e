package day

import (
	"slices"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/lines"
	"shopfloat/internal/reminders"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// An openingDraft keeps what an opening needs beside its counts.
type openingDraft struct {
	Rest    string `json:"rest,omitempty"`    // counts that came with the command, where it is opened already
	NoTray  bool   `json:"no-tray,omitempty"` // the box for refused notes was passed over
	Advised bool   `json:"advised,omitempty"` // how much to load was said above the first question
}

func opening(c *engine.Talk) *openingDraft { return engine.Drafted[openingDraft](c) }

// OpeningFlow records what was put into the boxes before a day; where the day
// before was not closed, what was left inside is counted first.
func OpeningFlow() *engine.Flow {
	return atMachine(engine.Flow{
		Name: engine.DoOpen, Title: "opening", Of: engine.ThatOpening,
		Holds: reminders.Holds, Start: startOpening,
		Paper: engine.AnyDay, Part: 1,
		Draft: func() any { return &openingDraft{} }, Stopped: stoppedOpening,
		Asks: []engine.Asked{insideQuestion, insideTrayQuestion, loadedQuestion},
		Commands: []engine.Command{{Name: engine.DoOpen, Does: engine.StartsDialog, Help: engine.HelpOften,
			Takes: engine.OnlyFigures, Menu: 1, Guided: true, Hours: true}},
		Screens: map[string]engine.Screen{
			"already": {Ask: askAlready, What: "what.already", Taps: map[string]func(*engine.Talk){
				// counts typed for an opening may be those of a top-up; of a closing they are none
				"topup": func(c *engine.Talk) { instead(c, engine.DoTopUp, opening(c).Rest) },
				"close": func(c *engine.Talk) { instead(c, engine.DoClose, "") }}},
			"inside":      ask.Blind(insideQuestion.Screen()),
			"inside-tray": ask.Blind(insideTrayQuestion.Screen()),
			"loaded":      loadedQuestion.Screen(),
			"review": ask.Booking{Read: readOpening, Over: overOpening, Asks: asksOpening, Book: confirmOpening,
				Answer: ask.TypedCounts(openingCounts), Other: ask.Changes(engine.GoBack("change"))}.Screen(),
			"change": ask.Changing{Options: openingLines, Answer: ask.TypedCounts(openingCounts),
				Back: "loaded"}.Screen(),
			"whose": ask.Whose(openingCounts, "review").Screen(),
		},
	})
}

var (
	insideQuestion = ask.Question{
		Name: "inside", Lines: ask.BoxLines, Intro: "not-closed", Check: checkInside, What: "what.inside",
		Before: cautionFirst, Next: func(*engine.Talk) string { return "inside-tray" },
	}
	insideTrayQuestion = ask.Question{
		Name: "inside-tray", Lines: ask.KindLines, None: true, Partial: true, What: "what.tray",
		Check:  func(_ *engine.Talk, l ask.Line, n int64) ask.Doubt { return lines.Refused(l, n) },
		Passed: func(c *engine.Talk) bool { return opening(c).NoTray }, LeftOut: "no-tray",
		Next:  func(*engine.Talk) string { return "loaded" },
		Extra: func(c *engine.Talk) [][]chat.Button { return [][]chat.Button{c.Button("skip-tray", "skip")} },
		Taps: map[string]func(*engine.Talk){"skip": func(c *engine.Talk) {
			opening(c).NoTray = true
			ask.None(c, "inside-tray")
		}},
	}
	loadedQuestion = ask.Question{
		Name: "loaded", Lines: loadLines, Intro: "before-opening", Check: ask.CheckLoad, What: "what.loaded",
		Before: nowIn, Next: func(*engine.Talk) string { return "review" },
		Extra: withWhy, Taps: map[string]func(*engine.Talk){"why": tellWhy},
	}
)

// checkInside asks back what was left inside by its own words, as a closing does; and where
// the very same is put in now, whether it was counted at all.
func checkInside(c *engine.Talk, l ask.Line, n int64) ask.Doubt {
	left, in := c.Counted("inside"), c.Counted("loaded")
	switch d := lines.Fits(l, n); {
	case d.Why != "":
		return d
	case l.Box == len(left) && slices.Equal(left, in):
		return ask.Doubt{Why: "same-inside"}
	}
	return lines.Nothing(n)
}

// doubtsInside reports whether what was left inside is to be asked back, now that the load is known too.
func doubtsInside(c *engine.Talk) bool {
	if !early(c) || c.Counted("inside") == nil {
		return false
	}
	at, _ := insideQuestion.Doubt(c, ask.BoxLines(c), insideQuestion.Values(c))
	return at >= 0
}

// loadLines are the boxes; a change of them holds from an opening on.
func loadLines(c *engine.Talk) []ask.Line { return lines.Loads(c.Kit.Boxes, c.M) }

func startOpening(c *engine.Talk) {
	if trade.Held(c) {
		return
	}
	cur := c.M.Current()
	switch {
	case cur == nil || backfills(c, cur):
		c.GoTo("loaded")
		advise(c)
	case telling.SameDay(c.Local(cur.Opened), c.Local(c.In.At)):
		opening(c).Rest = c.Rest
		c.GoTo("already")
		return
	default:
		c.State.Draft.Period = cur.No
		trade.LeftByOthers(c, cur)
		c.GoTo("inside")
	}
	ask.Take(c, loadedQuestion.Answer)
}

// backfills reports whether what is told now happened before any period, and needs one of its own.
func backfills(c *engine.Talk, cur *books.Period) bool {
	return !c.State.Draft.Happened.IsZero() && c.State.Draft.Happened.Before(cur.Opened)
}

// early reports whether what was left inside is counted with this opening.
func early(c *engine.Talk) bool { return c.State.Draft.Period != 0 }

// advise says above the first question how much to load, if anybody knows and
// the counts are not here already.
func advise(c *engine.Talk) {
	if c.Rest != "" {
		return
	}
	if line, known := c.E.Advice.Line(c); line != "" {
		opening(c).Advised = known
		c.First(line)
	}
}

// withWhy offers the reasons for that.
func withWhy(c *engine.Talk) [][]chat.Button {
	if !opening(c).Advised {
		return nil
	}
	return [][]chat.Button{c.Button("load-why", "why")}
}

func tellWhy(c *engine.Talk) {
	if why := c.E.Advice.Why(c); why != "" {
		c.First(why)
	}
}

func askAlready(c *engine.Talk) *engine.Card {
	cur := c.M.Current()
	if cur == nil {
		c.GoTo("loaded")
		return nil
	}
	return &engine.Card{
		Body:    []chat.Block{{Text: c.V.Say("already", "when", c.Clock(cur.Opened), "who", c.Name(cur.By))}},
		Buttons: [][]chat.Button{c.Button("instead-topup", "topup"), c.Button("instead-close", "close")}}
}

// cautionFirst says what to look at before the safe is opened: it is opened to
// count what is inside, so before the load is too late.
func cautionFirst(c *engine.Talk) string {
	if c.Answers("inside").Told {
		return ""
	}
	c.Answers("loaded").Told = true
	return c.V.Say("before-opening")
}

// nowIn tells the load from what was inside before.
func nowIn(c *engine.Talk) string {
	if !early(c) || !c.Answers("loaded").Told {
		return ""
	}
	return c.V.Say("review.loaded")
}

// openingCounts are what an opening reads back: what was left inside too, where that is counted with it.
func openingCounts(c *engine.Talk) []ask.Question {
	if early(c) {
		return []ask.Question{insideQuestion, loadedQuestion}
	}
	return []ask.Question{loadedQuestion}
}

// openingLines are the lines of an opening: those found inside before, and those put in.
func openingLines(c *engine.Talk) (list []ask.Option) {
	if early(c) {
		tray := ask.Option{Label: c.V.Say("button.tray"), Value: "tray", Take: func(c *engine.Talk) {
			opening(c).NoTray = false
			anew("inside-tray")(c)
		}}
		list = append(insideQuestion.Reopening("line-inside", "inside-")(c), tray)
	}
	return append(list, loadedQuestion.Reopening("line", "line-")(c)...)
}

// readOpening reads an opening back. Where another period is open by now there is nothing to open.
func readOpening(c *engine.Talk) (body []chat.Block) {
	if cur := c.M.Current(); cur != nil && cur.No != c.State.Draft.Period && !backfills(c, cur) {
		c.GoTo("already")
		return nil
	}
	if empty(c, loadedQuestion) {
		return nil
	}
	if doubtsInside(c) {
		c.GoTo("inside")
		return nil
	}
	list, v := loadLines(c), loadedQuestion.Values(c)
	if !cautioned(c) && overOpening(c) != "" {
		body = append(body, chat.Block{Text: c.V.Say("before-opening-short")})
	}
	table, total := telling.CountTable(c.Teller, list, v)
	if early(c) {
		body = append(append(body, insideReview(c)...), chat.Block{Text: c.V.Say("review.loaded")}, table)
	} else {
		body = append(body, chat.Block{Text: c.V.Say("review.opening")}, table)
	}
	if near := telling.NearLimits(c.Teller, list, v, total); len(near) > 0 {
		body = append(body, chat.Lines(near...))
	}
	return body
}

// stoppedOpening says of a machine that is open already that it stays so.
func stoppedOpening(c *engine.Talk) string {
	if cur := c.M.Current(); cur != nil && c.State.Step == "already" {
		return c.V.Say("stopped-already", "when", c.Clock(cur.Opened), "who", c.Name(cur.By))
	}
	return ask.CountStays(c)
}

// cautioned reports whether what to look at before the safe is opened was said, or nobody opens it now.
func cautioned(c *engine.Talk) bool {
	return c.Answers("inside").Told || c.Answers("loaded").Told || !c.State.Draft.Happened.IsZero()
}

// asksOpening asks whether the load is right, below what to look at before.
func asksOpening(c *engine.Talk) string {
	return c.V.Say(texts.Either(cautioned(c), "right", "right-opening"))
}

// insideReview reads back what was left inside and in the box for refused notes.
func insideReview(c *engine.Talk) []chat.Block {
	table, _ := telling.CountTable(c.Teller, ask.BoxLines(c), insideQuestion.Values(c))
	left := []string{telling.TrayLine(c.Teller, insideTrayQuestion.Notes(c), opening(c).NoTray)}
	if aside := books.NotesIn(ask.Target(c).PutAside(), books.FoundAt); len(aside) > 0 {
		left = append(left, c.V.Say("review.aside", "notes", c.Notes(aside)))
	}
	return []chat.Block{{Text: c.V.Say("review.inside", "day", ask.OpenedDay(c))}, table, chat.Lines(left...)}
}

func overOpening(c *engine.Talk) string { return telling.OverLimit(c.Teller, money(c, loadedQuestion)) }

func confirmOpening(c *engine.Talk) {
	if trade.Held(c) {
		return
	}
	before, v := c.State.Draft.Period, loadedQuestion.Values(c)
	r := books.Record{Kind: books.Opening, Figures: lines.Figures(books.Loaded, loadLines(c), v, true)}
	if c.M.Current() != nil && !early(c) {
		r.Marks = append(r.Marks, books.Paper)
	}
	if !r.Has(books.Paper) && stillToDo(c) {
		r.Ticks = telling.OpeningTicks(c.Teller)
	}
	if early(c) && !booked(c, countEarly(c)) || !booked(c, r) {
		return
	}
	head := telling.OpenedHead(c.Teller, c.M.Period(c.M.Seq))
	if len(r.Ticks) == 0 {
		c.Close(chat.Lines(head, c.V.Say("paper-next")))
		return
	}
	trade.AskTicks(c, c.M.Period(c.M.Seq), head)
	if p := c.M.Period(before); p != nil {
		day := c.V.Day(c.Local(p.Opened))
		c.TellAbout(reminders.Noted,
			chat.Reply{Body: []chat.Block{{Text: c.V.Say("told.not-closed", "day", day, "who", c.F.Person.Name)}}})
	}
}

// stillToDo reports whether the list of an opening can be ticked yet: its card stood there on this
// very day, and no closing comes at once.
func stillToDo(c *engine.Talk) bool {
	then := c.State.Draft.Then
	return !c.State.Since.After(c.When()) && telling.SameDay(c.Local(c.When()), c.Local(c.In.At)) &&
		(then == nil || c.E.Flows[then.Command] == nil || !c.E.Flows[then.Command].Settles)
}

// countEarly counts what yesterday left, so that today can begin. Its printed figures stay an open task.
func countEarly(c *engine.Talk) books.Record {
	r := books.Record{Kind: books.Count, Period: c.State.Draft.Period, Marks: []books.Mark{books.Early}}
	r.Figures = lines.Figures(books.Remaining, ask.BoxLines(c), insideQuestion.Values(c), true)
	r.Figures = append(r.Figures, ask.Target(c).PutAside()...)
	if opening(c).NoTray {
		r.Marks = append(r.Marks, books.NoTray)
		return r
	}
	refused := lines.Figures(books.Refused, ask.KindLines(c), insideTrayQuestion.Values(c), false)
	r.Figures = append(r.Figures, refused...)
	return r
}
