package dialogs

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/guides"
	"shopfloat/internal/shop"
)

// Walk is a guide under way in a chat. It runs beside the dialog, which stays
// as it is.
type Walk struct {
	Guide string    `json:"guide"`
	Step  string    `json:"step"`
	Taken []string  `json:"taken,omitempty"` // words of the choices so far
	Fault int64     `json:"fault,omitempty"` // record of its incident; 0: there is none
	Last  time.Time `json:"last,omitzero"`   // somebody last said or tapped something in it

	Machine shop.MachineID `json:"machine,omitempty"` // whose incident it is

	// Under is the guide for a fault that a question interrupted.
	Under *Walk `json:"under,omitempty"`
}

func (w *Walk) clone() *Walk {
	if w == nil {
		return nil
	}
	n := *w
	n.Taken = slices.Clone(w.Taken)
	n.Under = w.Under.clone()
	return &n
}

func (w *Walk) run() guides.Run { return guides.Run{Guide: w.Guide, Step: w.Step, Taken: w.Taken} }

// walkTime is how long a guide waits for words; taps are always welcome.
const walkTime = 30 * time.Minute

// walking gives the guide that a message may be about, or nil.
func (c *talk) walking() *Walk {
	if w := c.State.Walk; w != nil && c.in.At.Sub(w.Last) <= walkTime {
		return w
	}
	return nil
}

// walkFrom begins a guide. A question does not end the guide for a fault that
// is under way; another fault does.
func (c *talk) walkFrom(id string) {
	run, err := c.e.library().Start(id)
	if err != nil {
		c.Notice = c.v.Say("notice.unknown")
		return
	}
	if old := c.State.Walk; old != nil && old.Guide == id && old.Step == run.Step && old.Machine == c.m.ID {
		old.Last = c.in.At
		c.walkCard(false)
		return
	}
	c.retireWalk()
	w := &Walk{Guide: id, Step: run.Step, Last: c.in.At, Machine: c.m.ID, Under: c.leaveWalk(id)}
	w.Fault = c.beginFault(id)
	c.State.Walk = w
	c.walkCard(false)
}

// leaveWalk sees to the guide that was under way when another begins, and gives
// the one to come back to, if any.
func (c *talk) leaveWalk(next string) *Walk {
	old := c.State.Walk
	switch {
	case old == nil || next == Robbery:
		return nil // during a robbery nothing is tidied up: an open fault stays open
	case light(next) && !light(old.Guide):
		return old
	}
	under := old.Under
	c.leaveFault(old, books.Elsewhere)
	if !light(next) && under != nil {
		c.leaveFault(under, books.Elsewhere)
		under = nil
	}
	return under
}

func walkKey(rev int) string { return "g" + strconv.Itoa(rev) }

// retireWalk makes the buttons of the guide's newest card dead.
func (c *talk) retireWalk() {
	if c.State.Walk != nil {
		c.State.Cards++
	}
}

// walkCard shows where the guide is: in place of the tapped card, or as a new
// message. At an end the guide is over.
func (c *talk) walkCard(edit bool) {
	w := c.State.Walk
	v, err := c.e.library().View(w.run(), c.guideSettings())
	if err != nil { // the owner put another guide in its place meanwhile
		c.State.Walk = nil
		c.say(c.v.Say("trouble.changed"))
		return
	}
	old := walkKey(c.State.Cards)
	c.State.Cards++
	r := Reply{Body: c.walkBody(w, v), Key: walkKey(c.State.Cards)}
	if edit {
		r.Edit = old
	} else if c.State.Cards > 1 {
		r.Retire = old
	}
	if v.End != guides.EndNone {
		c.endWalk(w, v, r)
		return
	}
	for i, label := range v.Choices {
		r.Buttons = append(r.Buttons, []Button{{short(label, labelMax),
			"o:guide:" + strconv.Itoa(c.State.Cards) + "." + strconv.Itoa(i)}})
	}
	if w.Step == "retry" && w.Guide == "note-jam" && c.kit != nil && c.kit.TestDispense {
		r.Buttons = append(r.Buttons, c.button("guide-test", "o:guide:do."+doTest))
	}
	r.Buttons = append(r.Buttons, c.walkFoot(w)...)
	c.send(r)
}

// walkFoot are the buttons under each step. A robbery asks for nothing.
func (c *talk) walkFoot(w *Walk) [][]Button {
	if w.Guide == Robbery {
		return nil
	}
	var rows [][]Button
	if len(w.Taken) > 0 && slices.Contains(findingGuides, w.Guide) {
		rows = append(rows, c.button("guide-found", "o:guide:"+strconv.Itoa(c.State.Cards)+".found"))
	}
	return append(rows, c.button("guide-stop", "o:guide:"+strconv.Itoa(c.State.Cards)+".stop"))
}

// findingGuides are those in which notes come to light.
var findingGuides = []string{"note-jam", "wrong-notes", "customer-claim"}

// walkBody words a step: cautions before anything else, the provider's own
// instruction before ours.
func (c *talk) walkBody(w *Walk, v guides.View) []Block {
	head := v.Title
	if w.Guide != Robbery {
		head = c.v.Say("trouble.step", "title", v.Title, "n", v.Number, "of", v.Of)
	}
	lines := append([]string{head}, v.Cautions...)
	if v.Own != "" {
		lines = append(lines, c.v.Say("trouble.own", "text", v.Own))
	}
	lines = append(lines, v.Text)
	return []Block{text(append(lines, c.callLines(v.Call)...)...)}
}

// callLines say whom to ring. A number stands at the end of its line, so that
// the phone makes a link of it.
func (c *talk) callLines(calls []guides.Call) []string {
	var lines []string
	for _, call := range calls {
		who := c.v.Say("call." + string(call.Contact))
		if call.Number == "" {
			lines = append(lines, c.v.Say("call-unknown", "who", who))
			continue
		}
		lines = append(lines, c.v.Say("call", "who", who, "number", call.Number))
	}
	return lines
}

func guideCard() standing {
	return standing{name: doGuide, rights: rights{access.Everyone, anyPhone, onceSetUp}, tap: (*talk).guideTap}
}

// guideTap answers a tap on a guide's card or on a list of guides.
func (c *talk) guideTap(arg string) {
	what, rest, _ := strings.Cut(arg, ".")
	switch n, ok := index(what, c.State.Cards+1); {
	case what == "ask":
		c.walkFrom(rest)
		c.backToDialog(c.e)
	case what == "list":
		page, _ := index(rest, maxScreens)
		c.listFrom(page)
	case what == "do":
		c.offeredTap(rest)
	case !ok || c.State.Walk == nil || n != c.State.Cards:
		c.Notice = c.v.Say("notice.stale")
		c.walkAgain()
	case rest == "stop":
		c.stopWalk()
	case rest == "found":
		c.recordFound()
	default:
		if i, ok := index(rest, maxScreens); !ok || !c.stepOn(i) {
			c.Notice = c.v.Say("notice.unknown")
		}
	}
}

// stepOn takes a choice of the guide's present step.
func (c *talk) stepOn(choice int) bool {
	w := c.State.Walk
	run, err := c.e.library().Choose(w.run(), c.guideSettings(), choice)
	if err != nil {
		return false
	}
	first := len(w.Taken) == 0
	w.Step, w.Taken, w.Last = run.Step, run.Taken, c.in.At
	if first && w.Guide == Robbery {
		c.news(w.Fault, books.Trouble{Steps: w.Taken}) // whoever spoke says that it is over
	}
	c.walkCard(c.in.Kind == Press)
	return true
}

// walkTyped takes a typed choice: its number or its words.
func (c *talk) walkTyped() bool {
	w := c.walking()
	if w == nil {
		return false
	}
	v, err := c.e.library().View(w.run(), c.guideSettings())
	if err != nil {
		return false
	}
	low := fold(strings.Trim(c.in.Text, ".! "))
	for i, label := range v.Choices {
		if low == fold(label) || c.State.Flow == "" && low == strconv.Itoa(i+1) {
			return c.stepOn(i)
		}
	}
	return false
}

// walkAgain shows the guide's card anew, after taps may have been lost.
func (c *talk) walkAgain() {
	if c.State.Walk != nil && c.State.Walk.Machine == c.m.ID {
		c.walkCard(false)
	}
}

// stopWalk leaves a guide before its end.
func (c *talk) stopWalk() {
	w := c.State.Walk
	r := Reply{Key: walkKey(c.State.Cards + 1)}
	if old := walkKey(c.State.Cards); c.in.Kind == Press {
		r.Edit = old
	} else {
		r.Retire = old
	}
	c.State.Cards++
	c.leaveFault(w, books.Stopped)
	title := c.e.guideTitle(w.Guide)
	r.Body = []Block{{Text: c.v.Say("trouble.stopped", "title", title)}}
	if f := c.m.Fault(w.Fault); f != nil && w.Machine == c.m.ID && f.Unsolved() {
		r.Body = []Block{{Text: c.v.Say("trouble.stopped-open", "title", title)}}
		r.Buttons = c.faultButtons(f)
	}
	c.State.Walk = w.Under
	c.send(r)
	c.comeBack()
}

// comeBack shows the guide that a question interrupted, or says where the
// dialog stands.
func (c *talk) comeBack() {
	if w := c.State.Walk; w != nil {
		w.Last = c.in.At
		c.first(c.v.Say("back-to", "what", c.e.guideTitle(w.Guide)))
		c.walkCard(false)
	}
	c.backToDialog(c.e)
}

// backToDialog shows where the dialog under way stands.
func (c *talk) backToDialog(e *Engine) {
	if c.flow() != nil && !c.quiet() {
		c.redraw()
	}
}

// quiet: a robbery is under way in this chat, and nothing is asked.
func (c *talk) quiet() bool {
	w := c.State.Walk
	if w == nil || w.Guide != Robbery || len(w.Taken) > 0 {
		return false
	}
	f := c.m.Fault(w.Fault)
	return f == nil || f.Unsolved() // a manager may have said meanwhile that it is over
}

func (e *Engine) guideTitle(id string) string {
	if g, ok := e.library().Guide(id); ok {
		return g.Title
	}
	return id
}

// recordFound begins the record of notes found, unless a count under way asks
// for them anyway.
func (c *talk) recordFound() {
	if c.screen().finds {
		c.first(c.v.Say("trouble.found-in-count"))
		c.redraw()
		return
	}
	c.carryOut(doFound)
}
