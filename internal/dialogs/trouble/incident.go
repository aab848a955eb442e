package trouble

import (
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/guides"
	"shopfloat/internal/incidents"
	"shopfloat/internal/owing"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/tasks"
	"shopfloat/internal/telling"
)

// beginFault puts an incident on record and gives its number; 0 where there is no machine yet. A fault that
// is not solved goes on: going through its guide once more makes no second one.
func beginFault(c *engine.Talk, topic string) int64 {
	if no := incidents.GoesOn(c.M.Faults, topic); no != 0 {
		return no
	}
	t := books.Trouble{Topic: topic, Light: guides.Question(topic)}
	if !trade.Note(c, books.Record{Kind: books.Incident, Trouble: &t}) {
		return 0
	}
	if !t.Light {
		c.Climb(faultKey(c.M.Seq), c.In.At, reminders.Fault)
	}
	return c.M.Seq
}

// faultKey names the deadline and the cards of an incident.
func faultKey(seq int64) string { return tasks.FaultName + strconv.FormatInt(seq, 10) }

// news puts on record how an incident goes on. One of another machine, or one
// that nobody can reach any more, is left alone.
func news(c *engine.Talk, seq int64, t books.Trouble) bool {
	if c.M.Fault(seq) == nil || !trade.Note(c, books.Record{Kind: books.News, Target: seq, Trouble: &t}) {
		return false
	}
	if f := c.M.Fault(seq); f == nil || !f.Unsolved() {
		c.Deadline(faultKey(seq), time.Time{})
	}
	return true
}

// photoGuide is how long after something was said in a guide a photo is taken
// to belong to it, even when a dialog is under way as well.
const photoGuide = 10 * time.Minute

// pictured keeps a photo with the incident of the guide under way.
func pictured(c *engine.Talk) bool {
	w := walking(c)
	if w == nil || w.Machine != c.M.ID || c.In.At.Sub(w.Last) > photoGuide {
		return false
	}
	if onRecord(c, w); c.M.Fault(w.Fault) == nil {
		return false
	}
	r := books.Record{Kind: books.Attachment, Target: w.Fault, Photos: []books.Photo{c.In.Photo}}
	if !trade.Note(c, r) {
		return false
	}
	w.Last = c.In.At
	if !c.Quiet() {
		c.Say(c.V.Say("trouble.photo", "title", c.GuideTitle(w.Guide)))
	}
	backToDialog(c)
	return true
}

// leaveFault puts on record that the speaker left a guide before its end. What
// somebody else is at, or what is known to need help, stays as it is.
func leaveFault(c *engine.Talk, w *chat.Walk, ending books.Ending) {
	f := c.M.Fault(w.Fault)
	if f == nil || w.Machine != c.M.ID {
		return
	}
	if t, ok := incidents.Left(c.Teller, f, w.Taken, ending); ok {
		news(c, w.Fault, t)
	}
}

// endWalk puts the end of a guide on record and finishes its card.
func endWalk(c *engine.Talk, w *chat.Walk, v guides.View, r chat.Reply) {
	t := books.Trouble{Ending: incidents.EndOf(v), Steps: w.Taken}
	f := c.M.Fault(w.Fault)
	if w.Machine != c.M.ID {
		f = nil
	}
	if f != nil && v.End == guides.EndOutOfService {
		t.Out = f.Began
	}
	if f != nil && news(c, w.Fault, t) {
		f = c.M.Fault(w.Fault)
	}
	said, rows := incidents.Over(c.Teller, w, v, f)
	r.Body, r.Buttons = append(r.Body, said), rows
	c.State.Walk = w.Under
	c.Send(r)
	if w.Guide != chat.Robbery { // a count that waits is for later, when the police have said so
		comeBack(c)
	}
}

// FaultCard are the buttons about incidents.
func FaultCard() engine.Standing {
	return engine.Standing{Name: engine.DoFault, Rights: everyone, Tap: faultTap, Typed: chat.AnyTyped}
}

// faultTap answers a tap about an incident.
func faultTap(c *engine.Talk, arg string) {
	what, no, _ := strings.Cut(arg, ".")
	seq, err := strconv.ParseInt(no, 10, 64)
	f, ends := c.M.Fault(seq), what == "back" || what == "nothing"
	switch {
	case what == "found":
		recordFound(c)
	case err != nil || f == nil:
		c.Notice = c.V.Say("notice.unknown")
	case ends && !f.Unsolved():
		c.Notice = c.V.Say("notice.solved")
	case ends && !telling.MayEnd(c.Teller, f):
		c.Notice = c.V.Say("hold.manager")
	case what == "back":
		solve(c, f)
	case what == "nothing":
		nothing(c, f)
	case what == "out":
		news(c, seq, books.Trouble{Out: f.Began})
		c.Say(c.V.Say("fault-out", "title", c.GuideTitle(f.Topic), "when", c.Clock(f.Began)))
	case what == "served":
		news(c, seq, books.Trouble{Served: true})
		c.Say(c.V.Say("fault-served", "title", c.GuideTitle(f.Topic)))
	case what == "reference":
		c.Say(c.V.Say("fault-reference"))
	case what == "guide":
		walkFrom(c, f.Topic)
	default:
		c.Notice = c.V.Say("notice.unknown")
	}
}

// ended puts on record that an incident is over; so is its guide.
func ended(c *engine.Talk, f *books.Fault, how books.Ending) bool {
	if w := c.State.Walk; w != nil && w.Fault == f.Seq && w.Machine == c.M.ID {
		retireWalk(c)
		c.State.Walk = w.Under
	}
	return news(c, f.Seq, books.Trouble{Ending: how})
}

// nothing puts on record that a guide was begun by mistake.
func nothing(c *engine.Talk, f *books.Fault) {
	title := c.GuideTitle(f.Topic)
	if ended(c, f, books.Mistake) {
		c.Say(c.V.Say("fault-nothing", "title", title))
	}
}

// solve puts on record that a fault is over.
func solve(c *engine.Talk, f *books.Fault) {
	if !ended(c, f, books.Solved) {
		return
	}
	if f.Topic == chat.Robbery {
		endRobberies(c)
	}
	now := c.M.Fault(f.Seq)
	if now == nil {
		now = &books.Fault{Topic: f.Topic, Light: true}
	}
	first, r := incidents.Solved(c.Teller, now)
	if now.Seq != 0 {
		c.RewriteAll(faultKey(now.Seq),
			chat.Lines(first, c.V.Say("due.done-by", "who", c.F.Person.Name, "when", c.Clock(c.In.At))))
	}
	c.Send(r)
}

// ReferenceCommand notes what the provider calls an incident by.
func ReferenceCommand() engine.Command { return tells(engine.DoReference, reference) }

// reference notes the provider's reference of the newest incident that is not solved, or else the newest.
func reference(c *engine.Talk) {
	if _, _, day := owing.Referred(c.Teller, c.Rest, c.In.Text); day && c.May(engine.DoBankRef) {
		c.Obey(c.E.Named(engine.DoBankRef)) // of a payment: AB12 for tuesday
		return
	}
	ref, ok := incidents.ReadReference(c.Rest)
	if !ok {
		c.Say(c.V.Say("fault-reference"))
		return
	}
	f := incidents.NewestFault(c.Teller)
	if f == nil {
		c.Say(c.V.Say("faults-none"))
		return
	}
	title := c.GuideTitle(f.Topic)
	if news(c, f.Seq, books.Trouble{Reference: ref}) {
		c.Say(c.V.Say("fault-referred", "ref", ref, "title", title))
	}
}

// tellFault says that an incident is open: to whoever has it, then to those
// above; of a robbery to managers alone.
func tellFault(c *engine.Talk, no int64, r reminders.Rung) {
	f := c.M.Fault(no)
	people := telling.WhoHas(c.Teller, f.By, c.Today(), reminders.Fault, r)
	if f.Topic == chat.Robbery {
		people = reminders.People(c.F.Shop, c.Today(), reminders.Fault, shop.Managers)
	}
	c.TellPeople(people, incidents.StillOpen(c.Teller, f, faultKey(no)))
}

// FaultsCommand looks back at incidents.
func FaultsCommand() engine.Command { return tells(engine.DoFaults, faults) }

// faults lists the incidents of the last months, and how long the machine was out of service in each month.
func faults(c *engine.Talk) {
	body := incidents.Faults(c.Teller)
	if body == nil {
		c.Say(c.V.Say("faults-none"))
		return
	}
	_, rows := telling.OpenFaults(c.Teller)
	c.Send(chat.Reply{Body: body, Buttons: rows})
}
