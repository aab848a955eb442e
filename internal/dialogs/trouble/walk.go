package trouble

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/choosing"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/guides"
	"shopfloat/internal/incidents"
	"shopfloat/internal/texts"
)

func run(w *chat.Walk) guides.Run { return guides.Run{Guide: w.Guide, Step: w.Step, Taken: w.Taken} }

// walkTime is how long a guide waits for words; taps, and what stands on a button, are always welcome.
const walkTime = 30 * time.Minute

// walking gives the guide that a message may be about, or nil.
func walking(c *engine.Talk) *chat.Walk {
	if w := c.State.Walk; w != nil && c.In.At.Sub(w.Last) <= walkTime {
		return w
	}
	return nil
}

// walkFrom begins a guide, and puts on record that there is a fault. A question does not
// end the guide for a fault that is under way; another fault does.
func walkFrom(c *engine.Talk, id string) { walk(c, id, true) }

// walk begins a guide. One that was found by words alone is on record only once its first
// step is answered: nobody said yet that this is what is wrong.
func walk(c *engine.Talk, id string, sure bool) {
	run, err := c.Guides.Start(id)
	if err != nil {
		c.Notice = c.V.Say("notice.unknown")
		return
	}
	if old := c.State.Walk; old != nil && old.Guide == id && old.Step == run.Step && old.Machine == c.M.ID {
		old.Last = c.In.At
		walkCard(c, false)
		return
	}
	retireWalk(c)
	w := &chat.Walk{Guide: id, Step: run.Step, Last: c.In.At, Machine: c.M.ID, Under: leaveWalk(c, id)}
	if c.State.Walk = w; sure {
		w.Fault = beginFault(c, id)
	}
	walkCard(c, false)
}

// leaveWalk sees to the guide that was under way when another begins, and gives
// the one to come back to, if any.
func leaveWalk(c *engine.Talk, next string) *chat.Walk {
	old := c.State.Walk
	switch {
	case old == nil || next == chat.Robbery:
		return nil // during a robbery nothing is tidied up: an open fault stays open
	case guides.Question(next) && !guides.Question(old.Guide):
		return old
	}
	under := old.Under
	leaveFault(c, old, books.Elsewhere)
	if !guides.Question(next) && under != nil {
		leaveFault(c, under, books.Elsewhere)
		under = nil
	}
	return under
}

func walkKey(rev int) string { return "g" + strconv.Itoa(rev) }

// ofGuide is what a button of the guide's newest card says.
func ofGuide(c *engine.Talk, what string) string {
	return "o:guide:" + strconv.Itoa(c.State.Cards) + "." + what
}

// retireWalk makes the buttons of the guide's newest card dead.
func retireWalk(c *engine.Talk) {
	if c.State.Walk != nil {
		c.State.Cards++
	}
}

// walkCard shows where the guide is, in place of the tapped card or anew. At an end the guide is over.
func walkCard(c *engine.Talk, edit bool) {
	w := c.State.Walk
	v, err := c.Guides.View(run(w), incidents.GuideSettings(c.Teller))
	if err != nil { // the owner put another guide in its place meanwhile
		c.State.Walk = nil
		c.Say(c.V.Say("trouble.changed"))
		return
	}
	old := walkKey(c.State.Cards)
	c.State.Cards++
	r := chat.Reply{Body: incidents.GuideStep(c.Teller, w.Guide, v), Key: walkKey(c.State.Cards)}
	if edit {
		r.Edit = old
	} else if c.State.Cards > 1 {
		r.Retire = old
	}
	if v.End != guides.EndNone {
		endWalk(c, w, v, r)
		return
	}
	for i, label := range v.Choices {
		r.Buttons = append(r.Buttons,
			[]chat.Button{{Label: texts.Short(label, texts.LabelMax), Data: ofGuide(c, strconv.Itoa(i))}})
	}
	if w.Step == "retry" && w.Guide == "note-jam" && c.Kit != nil && c.Kit.TestDispense {
		r.Buttons = append(r.Buttons, c.Button("guide-test", chat.Begins(engine.DoTest)))
	}
	r.Buttons = append(r.Buttons, walkFoot(c, w)...)
	c.Send(r)
}

// walkFoot are the buttons under each step. A robbery asks for nothing.
func walkFoot(c *engine.Talk, w *chat.Walk) [][]chat.Button {
	if w.Guide == chat.Robbery {
		return nil
	}
	var rows [][]chat.Button
	if len(w.Taken) > 0 && incidents.Finds(w.Guide) {
		rows = append(rows, c.Button("guide-found", ofGuide(c, "found")))
	}
	return append(rows, c.Button("guide-stop", ofGuide(c, "stop")))
}

// GuideCard are the buttons of guides and of lists of them.
func GuideCard() engine.Standing {
	return engine.Standing{Name: engine.DoGuide, Rights: everyone, Tap: guideTap, Typed: chat.AnyTyped}
}

// guideTap answers a tap on a guide's card or on a list of guides.
func guideTap(c *engine.Talk, arg string) {
	what, rest, _ := strings.Cut(arg, ".")
	switch n, ok := chat.Index(what, c.State.Cards+1); {
	case what == "ask":
		walkFrom(c, rest)
		backToDialog(c)
	case what == "list":
		page, _ := chat.Index(rest, engine.MaxScreens)
		listFrom(c, page)
	case what == "do":
		offeredTap(c, rest)
	case !ok || c.State.Walk == nil || n != c.State.Cards:
		c.Notice = c.V.Say("notice.stale")
		walkAgain(c)
	case rest == "stop":
		stopWalk(c)
	case rest == "found":
		recordFound(c)
	default:
		if i, ok := chat.Index(rest, engine.MaxScreens); !ok || !stepOn(c, i) {
			c.Notice = c.V.Say("notice.unknown")
		}
	}
}

// stepOn takes a choice of the guide's present step.
func stepOn(c *engine.Talk, choice int) bool {
	w := c.State.Walk
	run, err := c.Guides.Choose(run(w), incidents.GuideSettings(c.Teller), choice)
	if err != nil {
		return false
	}
	first := len(w.Taken) == 0
	onRecord(c, w)
	w.Step, w.Taken, w.Last = run.Step, run.Taken, c.In.At
	if first && w.Guide == chat.Robbery {
		news(c, w.Fault, books.Trouble{Steps: w.Taken}) // whoever spoke says that it is over
	}
	walkCard(c, c.In.Kind == chat.Press)
	return true
}

// onRecord puts the fault of a guide on record that was begun without.
func onRecord(c *engine.Talk, w *chat.Walk) {
	if w.Fault == 0 && w.Machine == c.M.ID {
		w.Fault = beginFault(c, w.Guide)
	}
}

// beside gives words to the guide first that end it, and what is said where no dialog is
// open or the guide was talked of last. Figures are for the dialog.
func beside(c *engine.Talk, f *engine.Flow) bool {
	w := walking(c)
	if w == nil || f != nil && !w.Last.After(c.State.Since) {
		return false
	}
	low := texts.Fold(strings.Trim(c.In.Text, ".! "))
	if w.Guide != chat.Robbery && slices.Contains(c.V.List("words.stop-guide"), low) {
		stopWalk(c)
		return true
	}
	cmd, _ := c.Command()
	latest := w.Last.Equal(c.State.Last) && cmd == nil && !strings.ContainsAny(low, "0123456789")
	if f != nil && !latest || walkTyped(c) {
		return f == nil || latest
	}
	works := w.Guide != chat.Robbery && slices.Contains(c.V.List("words.works"), low)
	if works {
		stopWalk(c) // its last card has a button for that
	}
	return works
}

// walkTyped takes a typed choice: its number, its words or everyday words for it.
func walkTyped(c *engine.Talk) bool {
	w := walking(c)
	if w == nil {
		return false
	}
	v, err := c.Guides.View(run(w), incidents.GuideSettings(c.Teller))
	if err != nil {
		return false
	}
	low := strings.Trim(c.In.Text, ".! ")
	if i, ok := chat.Index(low, len(v.Choices)+1); ok && i > 0 && c.State.Flow == "" {
		return stepOn(c, i-1)
	}
	i := choosing.Choose(c.In.Text, v.Choices)
	return i >= 0 && stepOn(c, i)
}

// walkAgain shows the guide's card anew, after taps may have been lost.
func walkAgain(c *engine.Talk) {
	if c.State.Walk != nil && c.State.Walk.Machine == c.M.ID {
		walkCard(c, false)
	}
}

// stopWalk leaves a guide before its end.
func stopWalk(c *engine.Talk) {
	w := c.State.Walk
	old := walkKey(c.State.Cards)
	c.State.Cards++
	leaveFault(c, w, books.Stopped)
	f := c.M.Fault(w.Fault)
	if w.Machine != c.M.ID {
		f = nil
	}
	r := incidents.Stopped(c.Teller, w.Guide, f)
	if r.Key = walkKey(c.State.Cards); c.In.Kind == chat.Press {
		r.Edit = old
	} else {
		r.Retire = old
	}
	c.State.Walk = w.Under
	c.Send(r)
	comeBack(c)
}

// comeBack shows the guide that a question interrupted, or says where the dialog stands.
func comeBack(c *engine.Talk) {
	if w := c.State.Walk; w != nil {
		w.Last = c.In.At
		c.First(c.V.Say("back-to", "what", c.GuideTitle(w.Guide)))
		walkCard(c, false)
	}
	backToDialog(c)
}

// backToDialog shows where the dialog under way stands.
func backToDialog(c *engine.Talk) {
	if c.Flow() != nil && !c.Quiet() {
		c.BackTo()
	}
}

// recordFound begins the record of notes found, unless a count under way asks for them anyway.
func recordFound(c *engine.Talk) {
	if c.Screen().Finds {
		c.First(c.V.Say("trouble.found-in-count"))
		c.Redraw()
		return
	}
	c.CarryOut(engine.DoFound)
}
