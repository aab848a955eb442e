package closing

import (
	"maps"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/telling"
)

// A counting is one way to count the machine and to take in what it printed. Closing, finishing, counting
// now, a second count, a settlement and the two counts of an engineer's visit are its variants. Its screens
// are made from its fields, and nothing else tells the variants apart.
type counting struct {
	left, tray string                    // questions for boxes and refused notes; empty: not counted
	of         func(*engine.Talk) *count // what is kept beside their figures
	intro      string                    // catalogue name of what is said first, may be empty
	head       string                    // catalogue name of what stands above the count where it is read back
	next       string                    // screen after the two questions
	apart      bool                      // notes found count too, and refused notes may be left out
	without    string                    // screen to go on at where nobody can count; empty: it is counted
	stands     func(*engine.Talk) bool   // it is in a record by now; nil: never
	confirm    func(*engine.Talk)        // what it does once it is right

	verdict engine.Screen                             // what they come to; empty: no figures are taken
	upshot  func(*engine.Talk) (*books.Period, error) // the period then; nil: not known yet
	mends   bool                                      // printed figures that are in already can be left out
	wait    func(*engine.Talk, string)                // ends without them; nil: they are all there is
	later   bool                                      // they may be typed in the next day
	book    func(*engine.Talk) *books.Period          // books them; nil from it: refused, or nothing more to say
	tell    func(*engine.Talk, *books.Period)         // tells managers of a difference, whose reason is asked
	done    string                                    // catalogue name: it is recorded
	kept    string                                    // catalogue name: the reason is kept
	end     func(*engine.Talk)                        // where it goes next

	screens map[string]engine.Screen // of its own
}

// closeDraft is what closing, finishing, counting now, a second count and a settlement keep beside figures.
type closeDraft struct {
	Count    count `json:"count,omitzero"`
	NotBlind bool  `json:"notBlind,omitempty"` // the difference was known before the count
	// where the notes of a test payout are that was ticked and not recorded
	Trial books.Place `json:"trial,omitempty"`
	Early string      `json:"early,omitempty"` // of the slip, typed while the count was open
	figures
}

// kept is what a dialog that counts keeps.
func kept(c *engine.Talk) *closeDraft { return engine.Drafted[closeDraft](c) }

// full is a count of everything; its variants say what becomes of it.
func full(confirm func(*engine.Talk)) counting {
	return counting{left: "left", tray: "tray", of: func(c *engine.Talk) *count { return &kept(c).Count },
		intro: "before-count", head: "review.count", next: "findings", apart: true, confirm: confirm}
}

// everything is the count of the dialog under way, whichever variant it is of.
var everything = full(nil)

// atFigures: the count is recorded once the printed figures are asked for.
func atFigures(c *engine.Talk) bool { return !c.Screen().Finds }

// counters are those who may do what is done at the machine.
var counters = engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp)

// flow completes what the dialogs that count at the machine have in common, and their command.
func flow(f engine.Flow, cmd engine.Command) *engine.Flow {
	f.Version, f.Presence, f.Tells, f.Again = 1, engine.AtWork, engine.TellsNothing, engine.AnswersAgain
	f.Loses, f.Rights = engine.LosesCounts, counters
	if f.Of == nil {
		f.Of = engine.ItsPeriod
	}
	cmd.Does, cmd.Help = engine.StartsDialog, engine.HelpMore
	f.Commands = []engine.Command{cmd}
	return &f
}

// flow makes the dialog of a variant.
func (n counting) flow(f engine.Flow, name string) *engine.Flow {
	f.Draft = func() any { return &closeDraft{} }
	f.Screens, f.Asks = n.all(), n.asks()
	return flow(f, engine.Command{Name: name, Takes: engine.OnlyFigures})
}

// asks are its questions, in the order they are asked.
func (n counting) asks() (list []engine.Asked) {
	if n.left != "" {
		list = append(list, n.boxes(), n.refused())
	}
	if n.apart {
		list = append(list, n.elsewhere())
	}
	if n.verdict.Ask != nil {
		list = append(list, lastSeenQuestion, paidQuestion, backQuestion)
	}
	return list
}

// all are its screens.
func (n counting) all() map[string]engine.Screen {
	list := map[string]engine.Screen{}
	if n.left != "" {
		left := n.boxes().Screen()
		left.Answer = n.takes
		list[n.left], list[n.tray] = n.part(left), n.part(n.refused().Screen())
	}
	if n.apart {
		list["findings"] = n.part(engine.Screen{Ask: n.askFindings, What: "what.findings", Typed: ask.YesNo,
			Taps: map[string]func(*engine.Talk){"yes": n.inTray(true), "no": n.inTray(false)}})
		list["found"] = n.part(n.elsewhere().Screen())
		list["count-review"] = n.part(n.reviews())
		list["whose"] = n.part(ask.Whose(n.countedParts, "count-review").Screen())
		list["change"] = n.part(ask.Changing{Options: n.lines, Answer: ask.TypedCounts(ask.Only(n.boxes())),
			Back: "count-review"}.Screen())
	}
	if n.verdict.Ask != nil {
		maps.Copy(list, n.figureScreens())
	}
	maps.Copy(list, n.screens)
	return list
}

// part makes a screen part of the count: nobody may see what should be there while it is open.
func (n counting) part(s engine.Screen) engine.Screen {
	show := s.Ask
	s.Ask = func(c *engine.Talk) *engine.Card {
		if p := ask.Target(c); n.later && p.Status != books.Open && p.CountSeq > c.State.Draft.Seq &&
			!kept(c).NotBlind { // it would take the place of somebody else's count
			c.Close(chat.Lines(telling.CountedSince(c.Teller, p)))
			return nil
		}
		return show(c)
	}
	s.Finds = n.apart
	return ask.Blind(s)
}

// to goes on at a screen.
func to(step string) func(*engine.Talk) string { return func(*engine.Talk) string { return step } }

// figureScreens take the printed figures, and show what they come to.
func (n counting) figureScreens() map[string]engine.Screen {
	n.verdict.Taps["confirm"], n.verdict.Taps["figures"] = ask.UnlessOvertaken(n.conclude), changeFigures
	list := map[string]engine.Screen{
		"paid": n.paidScreen(), "slip-out": slipOutScreen(), "last-seen": lastSeenQuestion.Screen(),
		"whose-back": ask.Whose(printedCounts, "back").Screen(), "verdict": n.verdict, "order": n.orderScreen(),
		"back-total": backTotalScreen(), "slip-refused": n.refusedScreen(),
		"figures": ask.Changing{Asks: "change-printed", Options: figureLines, Answer: answerSlip, Foot: restarts,
			Back: "verdict", Taps: map[string]func(*engine.Talk){"no-restart": noRestart,
				"restart": func(c *engine.Talk) {
					noRestart(c)
					c.GoTo("last-seen")
				}}}.Screen(),
	}
	back := backQuestion.Screen()
	back.Answer = answerBack
	list["back"] = back
	whose := ask.Whose(printedCounts, "verdict")
	if again := n.verdict.Taps["recount"]; again != nil {
		whose.Foot, whose.Taps = recountButton, map[string]func(*engine.Talk){"recount": again}
	}
	list["whose-printed"] = whose.Screen()
	if n.tell != nil {
		list["reason"] = engine.Screen{Ask: n.askReason, Answer: n.answerReason, What: "what.reason",
			Taps: map[string]func(*engine.Talk){"skip": n.end}}
	}
	return list
}

func printedCounts(*engine.Talk) []ask.Question { return []ask.Question{paidQuestion, backQuestion} }

// paidScreen takes printed figures, and lets those that are in be left out.
func (n counting) paidScreen() engine.Screen {
	q := paidQuestion
	q.Extra, q.Next = n.paidButtons, func(c *engine.Talk) string {
		if kept(c).Refused > 0 {
			return "slip-refused"
		}
		return n.afterPaid(c)
	}
	q.Taps = map[string]func(*engine.Talk){"restart": engine.GoBack("last-seen")}
	if n.wait != nil {
		q.Taps["no-slip"] = func(c *engine.Talk) { n.wait(c, "wait.no-slip") }
		q.Taps["later"] = func(c *engine.Talk) { n.wait(c, "wait.later") }
		q.Taps["no-more"] = noMore
		q.Typed = []string{"no-slip", "later"}
	}
	s := q.Screen()
	figures := takesRefused(s.Answer)
	s.Answer = func(c *engine.Talk, text string) bool {
		none := saysNone(c, paidQuestion, text) && !strings.ContainsAny(text, "0123456789")
		if none = none && !begunPaid(c) && paidQuestion.Waits(c) == ""; none { // no slip, or nothing on it
			c.First(c.V.Say("paid-none"))
		}
		return none || figures(c, text)
	}
	s.Ask = func(c *engine.Talk) *engine.Card {
		if typed := kept(c).Early; typed != "" {
			kept(c).Early = ""
			c.Rest = typed
			ask.Take(c, paidQuestion.Answer)
		}
		if n.reordered(c) != nil {
			c.GoTo("order")
			return nil
		}
		return q.Ask(c)
	}
	s.Seldom = func(c *engine.Talk) [][]chat.Button { return [][]chat.Button{c.Button("restart", "restart")} }
	s.Tap = func(c *engine.Talk, choice string) bool { return n.mends && tapTwice(c, choice) || q.Of(c, choice) }
	return s
}

func (n counting) paidButtons(c *engine.Talk) (rows [][]chat.Button) {
	slips := ask.Target(c).Slips
	if len(slips) > 0 && n.wait != nil {
		rows = append(rows, c.Button("no-more", "no-more"))
	}
	if n.mends && !begunPaid(c) {
		rows = append(rows, slipButtons(c, slips)...)
	}
	if n.wait != nil {
		rows = append(rows, c.Button("no-slip", "no-slip"))
	}
	if n.later {
		rows = append(rows, c.Button("later", "later"))
	}
	return rows
}

// conclude books what count and printed figures come to. A difference above what
// the shop lets pass is told, and its reason asked.
func (n counting) conclude(c *engine.Talk) {
	p := n.book(c)
	if p == nil {
		return
	}
	if telling.Beyond(c.Teller, p) {
		n.tell(c, p)
		if p.Verdict != books.NotComplete {
			c.State.Draft.Answers = nil // all of it is on record
			c.GoTo("reason")
			return
		}
	}
	n.end(c)
}

func (n counting) askReason(c *engine.Talk) *engine.Card {
	told := c.V.Say("manager-told")
	if c.F.Person.Role.Manages() {
		told = ""
	}
	day, when := engine.ItsPeriod(c), c.Clock(c.When())
	if n.later { // its sentence names the day
		when = c.ClockOf(day, c.When())
	}
	done := c.V.Say(n.done, "when", when, "day", c.DayYear(day))
	return &engine.Card{Body: []chat.Block{chat.Lines(done, told, c.V.Say("ask.reason"))},
		Buttons: [][]chat.Button{c.Button("skip", "skip")}}
}

// answerReason keeps the words beside what was booked.
func (n counting) answerReason(c *engine.Talk, s string) bool {
	if c.Asks() { // what now is no reason
		return false
	}
	if recorded(c, books.Record{Kind: books.Attachment, Period: ask.Target(c).No, Target: c.M.Seq, Words: s}) {
		c.First(c.V.Say(n.kept))
		n.end(c)
	}
	return true
}

// recorded writes records, all of them or none.
func recorded(c *engine.Talk, list ...books.Record) bool {
	for _, r := range list {
		if _, err := c.Record(r); err != nil {
			c.Refuse(err)
			return false
		}
	}
	return true
}
