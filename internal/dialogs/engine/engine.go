package engine

import (
	"cmp"
	"slices"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/counts"
	"shopfloat/internal/hearing"
	"shopfloat/internal/helping"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/tally"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
	"shopfloat/internal/wording"
)

// forNow says that a dialog at the question for the time is for now: no time was understood yet.
func (c *Talk) forNow(f *Flow) {
	if c.Screen().Dates && f.Paper != OffPaper {
		c.First(c.V.Say("no-time-yet"))
	}
}

// A flow is one dialog: a table of screens. The interpreter below walks it.
// What is optional says so; all else must be said of each.
type Flow struct {
	Name    string
	Title   string // catalogue name of what it is called to people
	Version int    // of the form in which its draft is kept; another one is not gone on with
	// optional: takes choices of state format 1 into the draft, to tell counts
	Recall   func(*Talk, map[string]string)
	Draft    func() any // optional: makes the empty draft of what it keeps beside counts
	Safe     safe
	Presence presence
	Company  company
	Tells    tells
	Again    again
	Paper    paper
	Loses    func(*Talk) bool   // leaving it now would lose something: it asks first
	Stopped  func(*Talk) string // what is said when it is given up
	Rights   Rights
	Start    func(*Talk)       // rest of the command in c.rest
	Screens  map[string]Screen // by step

	Of       func(*Talk) shop.Date   // optional: the day of what it books, which its cards name first
	Holds    holds                   // optional: until when Of says the same, of what is told now
	Part     int                     // optional: place on the paper form, from 1 on
	Second   bool                    // optional: it counts what another person has counted before
	Bank     *Banking                // optional: money between shop and bank
	Parting  func(*Talk) func(*Talk) // optional: what is told once it has ended; nil from it: nothing
	Late     bool                    // optional: it can be told after a count that came after it
	Read     string                  // optional: off what its figures are read, as questions about it are called
	Settles  bool                    // optional: it counts, and settles what was put aside before
	View     bool                    // optional: it shows something; no message in between brings its card again
	Passes   bool                    // optional: left for hours it gives way to any other, which is said
	Lasts    bool                    // optional: it may be about a period that is no longer at hand
	Asks     []Asked                 // optional: the questions among its screens, in the order they are asked
	Commands []Command               // optional: its own, as help lists them
	Cards    []Standing              // optional: its own that stand by themselves
}

// A screen asks one thing. A nil card from ask means nothing is left to ask
// here; ask has then shown the next screen.
type Screen struct {
	Ask    func(*Talk) *Card
	Answer func(*Talk, string) bool    // a typed answer; false when it is none
	Taps   map[string]func(*Talk)      // by choice
	Tap    func(*Talk, string) bool    // choices that name a line
	What   string                      // catalogue name of the answer to "What is this?"
	Seldom func(*Talk) [][]chat.Button // optional: choices behind More
	Typed  []string                    // taps whose word may be typed, because they book nothing
	Title  string                      // catalogue name of the record, where it is not the dialog's
	Free   bool                        // any words are an answer, also those that begin like a command
	Named  bool                        // a name is asked for, which may be a command's word, like Day
	Blind  bool                        // nobody may see what should be in the machine
	Finds  bool                        // part of a count that asks for notes found, too
	code   bool                        // digits typed here are a personal code that is set
	Dates  bool                        // asks for the time of something from earlier
}

// A card is what a screen shows.
type Card struct {
	Body    []chat.Block
	Buttons [][]chat.Button
}

// Talk is the working set of one step.
type Talk struct {
	chat.Result
	E   *Engine
	In  chat.Input
	All *texts.Catalogue
	// what it tells with; its books have what this step recorded
	*telling.Teller
	Rest string       // what followed the command word
	Lead []chat.Block // said before the next question
	Told bool         // what was answered so far is said before it
	Edit string       // key of the card that was tapped

	draft             any  // what the dialog under way keeps, see [Drafted]
	older             bool // a dialog of an older program was under way
	Unsure            bool // there are several machines, and the person never said which
	Nowhere, Shopwide bool // what is said is about no place; about the shop and no machine of it
	Here              bool // all that is said is about the machine

	unfolded bool        // what stands behind More is shown
	ended    *chat.Draft // of a dialog that has ended in this step, where something waits for that

	heard          *hearing.Decision // what the words of the input mean, once it was asked
	means, meansIn string            // the command that words mean, and in which dialog which words
}

// Engine answers inputs. It holds only tables.
type Engine struct {
	Texts    *texts.Catalogue
	Flows    map[string]*Flow
	Listed   []*Flow // in the order they are declared
	commands []Command
	cards    map[string]Standing
	rights   map[string]Rights
	moments  []Moments
	Advice   Advising
	opens    func(*Engine, chat.State, chat.Input, chat.Facts) chat.Result
	Guiding  Guiding
	Book     tally.Writer                // of workbooks: the rooms need no library for them; nil: none
	which    func(*Talk, string) bool    // asks which machine a dialog is about, unless it is known
	Week     func(*Talk, reminders.Name) // tells the owners of the week before
}

// New makes an engine of what rooms declare, over a catalogue of texts.
func New(catalogue *texts.Catalogue, parts []Declaration) *Engine {
	e := &Engine{
		Texts: catalogue, Flows: map[string]*Flow{}, cards: map[string]Standing{},
		rights: map[string]Rights{}, Advice: noAdvice(),
		which: func(*Talk, string) bool { return false }, Week: func(*Talk, reminders.Name) {},
	}
	for _, d := range parts {
		d.declare(e)
	}
	return e
}

// Step takes one input. It is total: every input in every state gives a
// result, and none changes the state it was given.
func (e *Engine) Step(st chat.State, in chat.Input, f chat.Facts) chat.Result {
	if in.Kind == chat.Opened && f.Link != nil && f.Link.State != chat.LinkUnknown {
		return e.opens(e, st, in, f)
	}
	if f.Shop == nil {
		return e.stranger(in, f)
	}
	who := f
	if f.Shared {
		if who = nobody(f); st.V != chat.StateFormat {
			st.Code = st.Held != nil && st.Held.Person != 0
			st.Held = nil // what it waits with is of another form
		}
	}
	c := e.Talk(st, in, who)
	if !counts.Digits(in.Text) && speaks(in) && c.alarmed() {
		return c.Done()
	}
	if f.Shared {
		return c.shared(st, f)
	}
	c.State.Held = nil // the phone is no longer shared
	res := c.step()
	if f.Person.Disputed && res.Changes() {
		return e.Talk(st, in, f).refuse("disputed")
	}
	return res
}

// step takes an input of somebody who is known.
func (c *Talk) step() chat.Result {
	in := c.In
	if c.Kit == nil && !c.F.Shop.Fresh {
		c.Say(c.V.Say("no-machine"))
		return c.Result
	}
	if c.barred() || c.State.Draft.Period != 0 && c.outlived() {
		return c.Done()
	}
	if c.older && in.Kind != chat.Remind && in.Kind != chat.Redraw {
		c.toldOlder()
		return c.Done()
	}
	if in.Kind != chat.Remind && in.Kind != chat.Read {
		c.State.Left = false
	}
	switch in.Kind {
	case chat.Press:
		c.press()
	case chat.Text:
		if c.State.Draft.Leave == nil || !c.atFork() {
			c.text()
		}
	case chat.Picture:
		c.picture()
	case chat.Sent, chat.Read:
		c.each(func(m Moments) func(*Talk) { return m.Filed })
	case chat.Redraw:
		c.Redraw()
		c.showBeside()
	case chat.Remind:
		c.cameDue()
	case chat.Secret:
		c.secret()
	case chat.Proof:
		c.proof()
	case chat.Opened:
		c.help()
	case chat.Edited:
		c.Say(c.V.Say("edited"))
	default:
		c.Say(c.V.Say("foreign"))
	}
	if c.ended != nil {
		c.goesOn()
	}
	if in.Kind != chat.Remind && in.Kind != chat.Redraw && in.Kind != chat.Read {
		c.State.Last = in.At
		c.ledTo()
	}
	return c.Done()
}

func (e *Engine) stranger(in chat.Input, f chat.Facts) chat.Result {
	v := e.Texts.In(f.Lang, "", "")
	return chat.Result{Replies: []chat.Reply{{Body: []chat.Block{{Text: v.Say("stranger")}}}}}
}

func (e *Engine) Talk(st chat.State, in chat.Input, f chat.Facts) *Talk {
	v := e.Texts.In(f.Lang, f.Shop.Country, f.Shop.Currency)
	c := &Talk{E: e, In: in, All: e.Texts, Teller: &telling.Teller{V: v, F: f, M: f.Machine, Now: in.At,
		Guides: e.Guiding.Library, Book: e.Book}}
	c.Hides, c.State = c.hides, st.Clone()
	if in.Kind == chat.Remind && f.Machine != nil {
		c.State.Machine = f.Machine.ID
	}
	c.Unsure = c.State.Machine == 0 && len(f.Shop.Machines) > 1
	if c.State.Machine == 0 && len(f.Shop.Machines) > 0 {
		c.State.Machine = f.Shop.Machines[0].ID
	}
	c.Kit = f.Shop.Machine(c.State.Machine)
	if f.Machine != nil {
		c.Kit = f.Shop.Machine(f.Machine.ID)
	}
	if c.M == nil {
		c.M = books.New(c.State.Machine)
	}
	c.renew()
	return c
}

// Flow is the dialog under way, or nil.
func (c *Talk) Flow() *Flow { return c.E.Flows[c.State.Flow] }

// Screen is the one that is open, or one of no kind.
func (c *Talk) Screen() Screen {
	if f := c.Flow(); f != nil {
		return f.Screens[c.State.Step]
	}
	return Screen{}
}

// Second reports whether a dialog counts what another person has counted before.
func (e *Engine) Second(name string) bool {
	f := e.Flows[name]
	return f != nil && f.Second
}

// Show goes to a step of the dialog and asks.
func (c *Talk) Show() {
	for range MaxScreens {
		f := c.Flow()
		if f == nil || f.Tells != TellsNothing && c.curtain(f) {
			return
		}
		step := c.State.Step
		if len(c.State.Draft.Retyped) > 0 && c.retype(f, step) {
			continue
		}
		q := f.Screens[step].Ask(c)
		if q == nil && c.State.Step != step {
			continue // answered already: ask the next screen
		}
		if q == nil {
			return // the dialog ended
		}
		c.State.Draft.Seq = c.M.Seq
		c.card(f, f.Screens[step], q)
		return
	}
}

const MaxScreens = 20 // that one input may pass through

// card sends the card of a screen: in place of the tapped one, or as a new message after a typed answer.
func (c *Talk) card(f *Flow, s Screen, q *Card) {
	old := c.Key()
	c.State.Rev++
	if drawing := helping.Teach(&c.State, s.What); drawing != "" {
		c.Post(helping.Drawn(c.Teller, drawing))
	}
	if f.Safe == SafeOpen && len(c.M.Faults) > 0 && c.warns() {
		c.Lead = append([]chat.Block{{Text: c.V.Say("robbery.wait")}}, c.Lead...)
	}
	// The dialog's name is on the first line, which a locked phone shows.
	if !c.stands(f, s) {
		c.State.Draft.Head, c.State.Draft.Holds = c.heading(f, s), c.holding(f, s)
	}
	title := []chat.Block{{Text: c.State.Draft.Head}}
	r := chat.Reply{Body: slices.Concat(title, c.Lead, q.Body), Key: c.Key()}
	c.Lead = nil
	r.Buttons = append(r.Buttons, chat.Tagged(c.State.Rev, q.Buttons)...)
	if c.unfolded && s.Seldom != nil {
		r.Buttons = append(r.Buttons, chat.Tagged(c.State.Rev, s.Seldom(c))...)
	}
	r.Buttons = append(r.Buttons, chat.Tagged(c.State.Rev, [][]chat.Button{c.foot(f, s)})...)
	if c.State.Rev == 1 {
		old = "" // there was none
	}
	c.InPlace(old, r)
}

// foot are the buttons below every card. What is asked for seldom stands behind
// one of them, so that the card itself keeps few.
func (c *Talk) foot(f *Flow, s Screen) (row []chat.Button) {
	if c.unfolded && s.What != "" {
		row = append(row, chat.Button{Label: c.V.Say("button.what"), Data: "what"})
	}
	if f.Safe == SafeOpen {
		row = append(row, chat.Button{Label: c.V.Say("button.customers"), Data: "customers"})
	}
	if c.unfolded {
		return append(row, chat.Button{Label: c.V.Say("button.cancel"), Data: "cancel"})
	}
	return append(row, chat.Button{Label: c.V.Say("button.unfold"), Data: "unfold"})
}

// Close ends the dialog with last words, in place of the tapped card.
func (c *Talk) Close(body ...chat.Block) {
	old, parting := c.Key(), c.parting()
	c.End()
	c.InPlace(old, chat.Reply{Body: body, Key: c.Key()})
	if parting != nil {
		parting(c)
	}
}

// parting is what is told once the dialog under way has ended, or nil.
func (c *Talk) parting() func(*Talk) {
	if f := c.Flow(); f != nil && f.Parting != nil {
		return f.Parting(c)
	}
	return nil
}

// End forgets the dialog; its buttons are stale from now on.
func (c *Talk) End() {
	if d := c.State.Draft; d.Then != nil || d.Aside != nil {
		c.ended = &d
	}
	c.State.Flow, c.State.Step, c.State.Draft, c.State.Since = "", "", chat.Draft{}, time.Time{}
	c.draft = nil
	c.State.Rev++
}

// Begin starts a dialog, unless another person is at work at the machine.
func (c *Talk) Begin(name string) {
	f := c.E.Flows[name]
	if c.several() && c.E.which(c, name) {
		return
	}
	if busy := c.busy(f); busy != nil {
		c.askTakeOver(f, *busy)
		return
	}
	c.Enter(name)
	f.Start(c)
	c.Show()
}

// Enter makes a dialog the one under way, with an empty draft; a time given for something from earlier stays.
func (c *Talk) Enter(name string) {
	c.forNow(c.E.Flows[name])
	d := c.State.Draft
	if c.State.Machine = c.M.ID; c.F.Elsewhere {
		c.Turn = c.F.Shop.ID
	}
	c.State.Flow, c.State.Step, c.State.Since = name, "", c.In.At
	c.State.Draft = chat.Draft{Happened: d.Happened, Then: d.Then, Aside: d.Aside, At: c.In.At,
		V: c.E.Flows[name].Version}
	_ = c.openDraft() // a new draft has no form yet
}

// GoTo names the next screen.
func (c *Talk) GoTo(step string) { c.State.Step = step }

// When is when the things told now happened: what midnight finds on a card was there by its last answer.
func (c *Talk) When() time.Time {
	at := c.In.At
	if f, d := c.Flow(), c.State.Draft; f != nil && f.Late && !d.At.IsZero() && !c.rested() &&
		reminders.Today(c.F.Shop, d.At) != c.Today() {
		at = d.At
	}
	return cmp.Or(c.State.Draft.Happened, at)
}

// Record writes one record and takes it into the books at hand, so that the rest of the step sees it.
func (c *Talk) Record(r books.Record) (books.Entry, error) {
	r.Happened = c.When().UTC()
	r.Photos, c.State.Draft.Photos = append(r.Photos, c.State.Draft.Photos...), nil
	entry := c.Entry(r, c.M.Seq+1)
	m := c.M.Clone()
	if _, err := m.Post(entry); err != nil {
		return entry, err
	}
	c.M = m
	c.Records = append(c.Records, entry.Record)
	return entry, nil
}

// Entry is a record of this step in its place in the ledger, by the rule of arithmetic that holds now.
func (c *Talk) Entry(r books.Record, seq int64) books.Entry {
	r.Day = telling.RecordDay(c.Teller, r)
	return books.Entry{
		Record: books.Ruled(r), Machine: c.M.ID, Seq: seq, By: c.F.Person.ID,
		Settings: c.F.Shop.Version, Recorded: c.In.At.UTC(),
	}
}

// speaks reports whether an input holds words that can speak of a robbery.
func speaks(in chat.Input) bool {
	return (in.Kind == chat.Text || in.Kind == chat.Picture || in.Kind == chat.Secret) && wording.Wordy(in.Text)
}
