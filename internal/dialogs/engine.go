package dialogs

import (
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// A flow is one dialog: a table of screens. The interpreter below walks it.
// What is optional says so; all else must be said of each.
type flow struct {
	name     string
	title    string // catalogue name of what it is called to people
	version  int    // of the form in which its draft is kept; another one is not gone on with
	safe     safe
	presence presence
	company  company
	tells    telling
	again    again
	paper    paper
	loses    func(*talk) bool   // leaving it now would lose something: it asks first
	stopped  func(*talk) string // what is said when it is given up
	rights   rights
	start    func(*talk)       // rest of the command in c.rest
	screens  map[string]screen // by step

	part     int                     // optional: place on the paper form, from 1 on
	count    *counting               // optional: how it counts
	bank     *banking                // optional: money between shop and bank
	parting  func(*talk) func(*talk) // optional: what is told once it has ended; nil from it: nothing
	lasts    bool                    // optional: it may be about a period that is no longer at hand
	asks     []asked                 // optional: the questions among its screens, in the order they are asked
	commands []command               // optional: its own, as help lists them
	cards    []standing              // optional: its own that stand by themselves
}

// A screen asks one thing. A nil card from ask means nothing is left to ask
// here; ask has then shown the next screen.
type screen struct {
	ask    func(*talk) *card
	answer func(*talk, string) bool // a typed answer; false when it is none
	taps   map[string]func(*talk)   // by choice
	tap    func(*talk, string) bool // choices that name a line
	what   string                   // catalogue name of the answer to "What is this?"
	typed  []string                 // taps whose word may be typed, because they book nothing
	free   bool                     // any words are an answer, also those that begin like a command
	blind  bool                     // nobody may see what should be in the machine
	finds  bool                     // part of a count that asks for notes found, too
	code   bool                     // digits typed here are a personal code that is set
	dates  bool                     // asks for the time of something from earlier
}

// A card is what a screen shows.
type card struct {
	body    []Block
	buttons [][]Button
}

// talk is the working set of one step.
type talk struct {
	Result
	e    *Engine
	in   Input
	f    Facts
	v    *texts.Voice
	all  *texts.Catalogue
	m    *books.Machine // the books, with what this step recorded
	kit  *shop.Machine  // the machine itself
	rest string         // what followed the command word
	lead []Block        // said before the next question
	edit string         // key of the card that was tapped

	older   bool // a dialog of an older program was under way
	unsure  bool // there are several machines, and the person never said which
	nowhere bool // what is said is about no place

	slips map[int64]printed // once they were looked up in the ledger
}

// Engine answers inputs. It holds only tables.
type Engine struct {
	texts    *texts.Catalogue
	flows    map[string]*flow
	listed   []*flow // in the order they are declared
	commands []command
	cards    map[string]standing
	rights   map[string]rights
	moments  []moments
	opens    func(*Engine, State, Input, Facts) Result
	guiding  Guiding
}

// build makes an engine of what rooms declare, over a catalogue of texts.
func build(catalogue *texts.Catalogue, parts []declaration) *Engine {
	e := &Engine{
		texts: catalogue, flows: map[string]*flow{}, cards: map[string]standing{},
		rights: map[string]rights{},
	}
	for _, d := range parts {
		d.declare(e)
	}
	return e
}

// Step takes one input. It is total: every input in every state gives a
// result, and none changes the state it was given.
func (e *Engine) Step(st State, in Input, f Facts) Result {
	switch {
	case in.Kind == Opened && f.Link != nil && f.Link.State != LinkUnknown:
		return e.opens(e, st, in, f)
	case f.Shop == nil:
		return e.stranger(in, f)
	}
	if speaks(in) {
		if c := e.talk(st, in, f.nobody()); c.alarmed() {
			return c.done()
		}
	}
	if f.Shared {
		if st.V != StateFormat {
			st.Held = nil // what it waits with is of another form
		}
		return e.shared(st, in, f)
	}
	st.Held = nil // the phone is no longer shared
	return e.step(st, in, f)
}

// step takes an input of somebody who is known.
func (e *Engine) step(st State, in Input, f Facts) Result {
	c := e.talk(st, in, f)
	if c.kit == nil && !f.Shop.Fresh {
		c.say(c.v.Say("no-machine"))
		return c.Result
	}
	if c.barred() || c.outlived() {
		return c.done()
	}
	if c.older && in.Kind != Remind && in.Kind != Redraw {
		c.toldOlder()
		return c.done()
	}
	switch in.Kind {
	case Press:
		c.press()
	case Text:
		c.text()
	case Picture:
		c.picture()
	case Redraw:
		c.redraw()
		c.showBeside()
	case Remind:
		c.cameDue()
	case Secret:
		c.secret()
	case Proof:
		c.proof()
	case Opened:
		c.help()
	case Edited:
		c.say(c.v.Say("edited"))
	default:
		c.say(c.v.Say("foreign"))
	}
	if in.Kind != Remind && in.Kind != Redraw {
		c.State.Last = in.At
		c.ledTo()
	}
	return c.done()
}

func (e *Engine) stranger(in Input, f Facts) Result {
	v := e.texts.In(f.Lang, "", "")
	return Result{Replies: []Reply{{Body: []Block{{Text: v.Say("stranger")}}}}}
}

func (e *Engine) talk(st State, in Input, f Facts) *talk {
	v := e.texts.In(f.Lang, f.Shop.Country, f.Shop.Currency)
	c := &talk{e: e, in: in, f: f, all: e.texts, m: f.Machine, v: v}
	c.State = st.clone()
	if in.Kind == Remind && f.Machine != nil {
		c.State.Machine = f.Machine.ID
	}
	c.unsure = c.State.Machine == 0 && len(f.Shop.Machines) > 1
	if c.State.Machine == 0 && len(f.Shop.Machines) > 0 {
		c.State.Machine = f.Shop.Machines[0].ID
	}
	c.kit = f.Shop.Machine(c.State.Machine)
	if f.Machine != nil {
		c.kit = f.Shop.Machine(f.Machine.ID)
	}
	if c.m == nil {
		c.m = books.New(c.State.Machine)
	}
	c.renew()
	return c
}

// flow is the dialog under way, or nil.
func (c *talk) flow() *flow { return c.e.flows[c.State.Flow] }

// screen is the one that is open, or one of no kind.
func (c *talk) screen() screen {
	if f := c.flow(); f != nil {
		return f.screens[c.State.Step]
	}
	return screen{}
}

// count says how the dialog under way counts; the zero value if it does not.
func (c *talk) count() counting { return c.e.counts(c.State.Flow) }

// counts says how a dialog counts; the zero value for one that does not.
func (e *Engine) counts(name string) counting {
	if f := e.flows[name]; f != nil && f.count != nil {
		return *f.count
	}
	return counting{}
}

// show goes to a step of the dialog and asks.
func (c *talk) show() {
	for range maxScreens {
		f := c.flow()
		if f == nil || c.curtain(f) {
			return
		}
		step := c.State.Step
		if c.retype(f, step) {
			continue
		}
		q := f.screens[step].ask(c)
		if q == nil && c.State.Step != step {
			continue // answered already: ask the next screen
		}
		if q == nil {
			return // the dialog ended
		}
		c.State.Draft.Seq = c.m.Seq
		c.card(f, f.screens[step], q)
		return
	}
}

// maxScreens bounds the screens that one input may pass through.
const maxScreens = 20

// card sends the card of a screen: in place of the tapped one, or as a new
// message after a typed answer.
func (c *talk) card(f *flow, s screen, q *card) {
	old := c.key()
	c.State.Rev++
	c.warned(f)
	r := Reply{Body: c.titled(f, q.body), Key: c.key()}
	r.Buttons = append(r.Buttons, c.tag(q.buttons)...)
	var foot []Button
	if s.what != "" {
		foot = append(foot, Button{c.v.Say("button.what"), "what"})
	}
	if f.safe == safeOpen {
		foot = append(foot, Button{c.v.Say("button.customers"), "customers"})
	}
	foot = append(foot, Button{c.v.Say("button.cancel"), "cancel"})
	r.Buttons = append(r.Buttons, c.tag([][]Button{foot})...)
	if c.State.Rev == 1 {
		old = "" // there was none
	}
	c.inPlace(old, r)
}

// titled puts the dialog's name on the first line, which a locked phone shows,
// then what is to be said first, then the question.
func (c *talk) titled(f *flow, body []Block) []Block {
	all := append([]Block{{Text: c.v.Say("title." + f.title)}}, c.lead...)
	c.lead = nil
	return append(all, body...)
}

// close ends the dialog with last words, in place of the tapped card.
func (c *talk) close(body ...Block) {
	old, parting := c.key(), c.parting()
	c.end()
	c.inPlace(old, Reply{Body: body, Key: c.key()})
	if parting != nil {
		parting(c)
	}
}

// parting is what is told once the dialog under way has ended, or nil.
func (c *talk) parting() func(*talk) {
	if f := c.flow(); f != nil && f.parting != nil {
		return f.parting(c)
	}
	return nil
}

// end forgets the dialog; its buttons are stale from now on.
func (c *talk) end() {
	c.State.Flow, c.State.Step, c.State.Draft, c.State.Since = "", "", Draft{}, time.Time{}
	c.State.Rev++
}

// begin starts a dialog, unless another person is at work at the machine.
func (c *talk) begin(name string) {
	f := c.e.flows[name]
	if c.unsure && f.company == oneAtATime {
		c.askWhich(name)
		return
	}
	if busy := c.busy(f); busy != nil {
		c.askTakeOver(f, *busy)
		return
	}
	c.enter(name)
	f.start(c)
	c.show()
}

// enter makes a dialog the one under way, with an empty draft; a time given
// for something from earlier stays.
func (c *talk) enter(name string) {
	c.forNow(c.e.flows[name])
	happened := c.State.Draft.Happened
	if c.State.Machine = c.m.ID; c.f.Elsewhere {
		c.Turn = c.f.Shop.ID
	}
	c.State.Flow, c.State.Step, c.State.Since = name, "", c.in.At
	c.State.Draft = Draft{Happened: happened, V: c.e.flows[name].version}
}

// goTo names the next screen.
func (c *talk) goTo(step string) { c.State.Step = step }

// when is the time the things told now happened.
func (c *talk) when() time.Time {
	if !c.State.Draft.Happened.IsZero() {
		return c.State.Draft.Happened
	}
	return c.in.At
}

// local puts a time on the shop's clock.
func (c *talk) local(t time.Time) time.Time { return t.In(c.f.Shop.Location) }

// clock writes a time, with the day when it is not today.
func (c *talk) clock(t time.Time) string {
	l, now := c.local(t), c.local(c.in.At)
	if sameDay(l, now) {
		return c.v.Clock(l)
	}
	return c.v.Day(l) + ", " + c.v.Clock(l)
}

// dayClock writes a time with its day.
func (c *talk) dayClock(t time.Time) string {
	l := c.local(t)
	return c.v.Day(l) + ", " + c.v.Clock(l)
}

func sameDay(a, b time.Time) bool { return a.Year() == b.Year() && a.YearDay() == b.YearDay() }

// record writes one record and takes it into the books at hand, so that the
// rest of the step sees it.
func (c *talk) record(r books.Record) (books.Entry, error) {
	r.Happened = c.when().UTC()
	r.Photos, c.State.Draft.Photos = append(r.Photos, c.State.Draft.Photos...), nil
	entry := books.Entry{
		Record: r, Machine: c.m.ID, Seq: c.m.Seq + 1, By: c.f.Person.ID,
		Settings: c.f.Shop.Version, Recorded: c.in.At.UTC(),
	}
	m := c.m.Clone()
	if _, err := m.Post(entry); err != nil {
		return entry, err
	}
	c.m = m
	c.Records = append(c.Records, r)
	return entry, nil
}

// name gives a person's name; somebody who left keeps it in their records.
func (c *talk) name(id shop.PersonID) string {
	if p, ok := c.f.Shop.Known(id); ok {
		return c.called(p)
	}
	return c.v.Say("somebody")
}

func fold(s string) string { return strings.ToLower(strings.TrimSpace(s)) }
