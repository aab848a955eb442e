package trouble

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/guides"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// note writes a record beside the dialog under way, which neither lends it its
// time and photos nor is overtaken by it.
func note(c *engine.Talk, r books.Record) bool {
	if c.F.Machine == nil {
		return false
	}
	r.Happened = c.In.At.UTC()
	if c.F.Shared && c.F.Person.ID == 0 {
		r.Marks = append(r.Marks, books.SharedPhone)
	}
	entry := c.Entry(r, c.M.Seq+1)
	m := c.M.Clone()
	if _, err := m.Post(entry); err != nil {
		c.Notice = c.V.Say("notice.unknown")
		return false
	}
	if c.State.Draft.Seq == c.M.Seq {
		c.State.Draft.Seq = entry.Seq
	}
	c.M = m
	c.Records = append(c.Records, entry.Record)
	return true
}

// beginFault puts an incident on record and gives its number; 0 where there is
// no machine yet. A fault that is not solved goes on: going through its guide
// once more makes no second one.
func beginFault(c *engine.Talk, topic string) int64 {
	for _, f := range slices.Backward(c.M.Faults) {
		if f.Topic == topic && f.Unsolved() && !f.Light && (topic != chat.Robbery || f.Ending == "") {
			return f.Seq
		}
	}
	if !note(c, books.Record{Kind: books.Incident, Trouble: &books.Trouble{Topic: topic, Light: light(topic)}}) {
		return 0
	}
	if !light(topic) {
		c.Climb(trade.FaultName+strconv.FormatInt(c.M.Seq, 10), c.In.At, reminders.Fault)
	}
	return c.M.Seq
}

// news puts on record how an incident goes on. One of another machine, or one
// that nobody can reach any more, is left alone.
func news(c *engine.Talk, seq int64, t books.Trouble) bool {
	if c.M.Fault(seq) == nil || !note(c, books.Record{Kind: books.News, Target: seq, Trouble: &t}) {
		return false
	}
	if f := c.M.Fault(seq); f == nil || !f.Unsolved() {
		c.Deadline(trade.FaultName+strconv.FormatInt(seq, 10), time.Time{})
	}
	return true
}

// photoGuide is how long after something was said in a guide a photo is taken
// to belong to it, even when a dialog is under way as well.
const photoGuide = 10 * time.Minute

// pictured keeps a photo with the incident of the guide under way.
func pictured(c *engine.Talk) bool {
	w := walking(c)
	if w == nil || w.Machine != c.M.ID || c.M.Fault(w.Fault) == nil || c.In.At.Sub(w.Last) > photoGuide {
		return false
	}
	r := books.Record{Kind: books.Attachment, Target: w.Fault, Photos: []books.Photo{c.In.Photo}}
	if !note(c, r) {
		return false
	}
	w.Last = c.In.At
	if !c.Quiet() {
		c.Say(c.V.Say("trouble.photo", "title", c.E.GuideTitle(w.Guide)))
	}
	backToDialog(c, c.E)
	return true
}

// leaveFault puts on record that the speaker left a guide before its end. What
// somebody else is at, or what is known to need help, stays as it is.
func leaveFault(c *engine.Talk, w *chat.Walk, ending books.Ending) {
	f := c.M.Fault(w.Fault)
	if f == nil || w.Machine != c.M.ID {
		return
	}
	t := books.Trouble{Steps: w.Taken}
	if f.Ending == "" && f.By == c.F.Person.ID {
		t.Ending = ending
	}
	if t.Ending != "" || len(t.Steps) > 0 {
		news(c, w.Fault, t)
	}
}

// endings are the records that the ends of guides make.
var endings = map[guides.End]books.Ending{
	guides.EndSolved: books.Solved, guides.EndCall: books.CalledHelp, guides.EndOutOfService: books.OutOfService,
}

// endWalk puts the end of a guide on record and finishes its card.
func endWalk(c *engine.Talk, w *chat.Walk, v guides.View, r chat.Reply) {
	t := books.Trouble{Ending: endings[v.End], Steps: w.Taken}
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
	lines := []string{c.V.Say("trouble.end-" + string(endings[v.End]))}
	if len(v.Record) > 0 {
		lines = append(lines, c.V.Say("trouble.record", "what", strings.Join(v.Record, ", ")))
	}
	r.Body = append(r.Body, engine.Text(lines...))
	if slices.Contains(findingGuides, w.Guide) {
		r.Buttons = append(r.Buttons, c.Button("guide-found", "o:fault:found."+strconv.FormatInt(w.Fault, 10)))
	}
	if f != nil && (!f.Light || f.Unsolved()) {
		r.Buttons = append(r.Buttons, faultButtons(c, f)...)
	}
	c.State.Walk = w.Under
	c.Send(r)
	if w.Guide != chat.Robbery { // a count that waits is for later, when the police have said so
		comeBack(c)
	}
}

// faultButtons are what can be said of an incident after its guide.
func faultButtons(c *engine.Talk, f *books.Fault) [][]chat.Button {
	ref := "." + strconv.FormatInt(f.Seq, 10)
	var rows [][]chat.Button
	switch {
	case !f.Unsolved() || !trade.MayEnd(c, f):
	case f.Topic == chat.Robbery:
		rows = append(rows, c.Button("robbery-over", "o:fault:back"+ref))
	default:
		rows = append(rows, c.Button("fault-back", "o:fault:back"+ref))
	}
	if f.Unsolved() && f.Out.IsZero() && trade.MayEnd(c, f) {
		rows = append(rows, c.Button("fault-nothing", "o:fault:nothing"+ref))
	}
	switch {
	case f.Topic == chat.Robbery:
	case f.Out.IsZero():
		rows = append(rows, c.Button("fault-out", "o:fault:out"+ref, "when", c.Clock(f.Began)))
	default:
		rows = append(rows, c.Button("fault-served", "o:fault:served"+ref))
	}
	if f.Reference == "" && f.Ending != books.Solved {
		rows = append(rows, c.Button("fault-reference", "o:fault:reference"+ref))
	}
	return rows
}

func FaultCard() engine.Standing {
	return engine.Standing{Name: engine.DoFault,
		Rights: engine.May(access.Everyone, engine.AnyPhone, engine.OnceSetUp), Tap: faultTap}
}

// faultTap answers a tap about an incident.
func faultTap(c *engine.Talk, arg string) {
	what, no, _ := strings.Cut(arg, ".")
	seq, err := strconv.ParseInt(no, 10, 64)
	f := c.M.Fault(seq)
	switch {
	case what == "found":
		recordFound(c)
	case err != nil || f == nil:
		c.Notice = c.V.Say("notice.unknown")
	case what == "back" && !f.Unsolved():
		c.Notice = c.V.Say("notice.solved")
	case what == "back" && !trade.MayEnd(c, f):
		c.Notice = c.V.Say("hold.manager")
	case what == "back":
		solve(c, f)
	case what == "nothing" && !f.Unsolved():
		c.Notice = c.V.Say("notice.solved")
	case what == "nothing" && !trade.MayEnd(c, f):
		c.Notice = c.V.Say("hold.manager")
	case what == "nothing":
		nothing(c, f)
	case what == "out":
		news(c, seq, books.Trouble{Out: f.Began})
		c.Say(c.V.Say("fault-out", "title", c.E.GuideTitle(f.Topic), "when", c.Clock(f.Began)))
	case what == "served":
		news(c, seq, books.Trouble{Served: true})
		c.Say(c.V.Say("fault-served", "title", c.E.GuideTitle(f.Topic)))
	case what == "reference":
		c.Say(c.V.Say("fault-reference"))
	case what == "guide":
		walkFrom(c, f.Topic)
	default:
		c.Notice = c.V.Say("notice.unknown")
	}
}

// nothing puts on record that a guide was begun by mistake.
func nothing(c *engine.Talk, f *books.Fault) {
	seq, title := f.Seq, c.E.GuideTitle(f.Topic)
	if w := c.State.Walk; w != nil && w.Fault == seq && w.Machine == c.M.ID {
		retireWalk(c)
		c.State.Walk = w.Under
	}
	if news(c, seq, books.Trouble{Ending: books.Mistake}) {
		c.Say(c.V.Say("fault-nothing", "title", title))
	}
}

// solve puts on record that a fault is over.
func solve(c *engine.Talk, f *books.Fault) {
	seq := f.Seq
	if w := c.State.Walk; w != nil && w.Fault == seq && w.Machine == c.M.ID {
		retireWalk(c)
		c.State.Walk = w.Under
	}
	if !news(c, seq, books.Trouble{Ending: books.Solved}) {
		return
	}
	if f.Topic == chat.Robbery {
		endRobberies(c)
	}
	lines := []string{c.V.Say("fault-solved", "title", c.E.GuideTitle(f.Topic), "when", c.Clock(c.In.At))}
	f = c.M.Fault(seq)
	if f == nil {
		c.Say(lines[0])
		return
	}
	if !f.Out.IsZero() {
		lines = append(lines, c.V.Say("fault-down", "time", trade.HowLong(c, f.Down(f.Out, c.In.At, c.In.At))))
	}
	c.RewriteAll(trade.FaultName+strconv.FormatInt(seq, 10),
		engine.Text(lines[0], c.V.Say("due.done-by", "who", c.F.Person.Name, "when", c.Clock(c.In.At))))
	var rows [][]chat.Button
	if f.Out.IsZero() && !f.Light {
		rows = [][]chat.Button{
			c.Button("fault-out", "o:fault:out."+strconv.FormatInt(seq, 10), "when", c.Clock(f.Began))}
	}
	c.Send(chat.Reply{Body: []chat.Block{engine.Text(lines...)}, Buttons: rows})
}

// referenceMax is the longest a reference may be.
const referenceMax = 30

func ReferenceCommand() engine.Command {
	return engine.Command{Name: engine.DoReference,
		Rights: engine.May(access.Everyone, engine.AnyPhone, engine.OnceSetUp), Does: engine.TellsOnly,
		Help: engine.HelpMore, Takes: engine.OnlyFigures, Run: reference}
}

// reference notes the provider's reference of the newest incident that is not
// solved, or else the newest.
func reference(c *engine.Talk) {
	ref := strings.ToUpper(strings.Join(strings.Fields(c.Rest), " "))
	if len(ref) > referenceMax || !strings.ContainsAny(ref, "0123456789") || !referring(ref) {
		c.Say(c.V.Say("fault-reference"))
		return
	}
	f := newestFault(c)
	if f == nil {
		c.Say(c.V.Say("faults-none"))
		return
	}
	title := c.E.GuideTitle(f.Topic)
	if news(c, f.Seq, books.Trouble{Reference: ref}) {
		c.Say(c.V.Say("fault-referred", "ref", ref, "title", title))
	}
}

// referring: letters, figures and what stands between them.
func referring(s string) bool {
	return strings.Trim(s, "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-/. #") == ""
}

func newestFault(c *engine.Talk) *books.Fault {
	var best *books.Fault
	for i := range c.M.Faults {
		if f := &c.M.Faults[i]; best == nil || f.Unsolved() || !best.Unsolved() {
			best = f
		}
	}
	return best
}

func faultBegan(c *engine.Talk, no int64) (time.Time, bool) {
	f := c.M.Fault(no)
	if f == nil || !f.Unsolved() {
		return time.Time{}, false
	}
	return f.Began, true
}

// tellFault says that an incident is open: to whoever has it, then to those
// above; of a robbery to managers alone.
func tellFault(c *engine.Talk, no int64, r reminders.Rung) {
	f := c.M.Fault(no)
	people, over := c.WhoHas(f.By, c.Today(), reminders.Fault, r), "fault-back"
	if f.Topic == chat.Robbery {
		people = reminders.People(c.F.Shop, c.Today(), reminders.Fault, shop.Managers)
		over = "robbery-over"
	}
	lines := []string{c.V.Say("due.fault", "title", c.E.GuideTitle(f.Topic), "when", c.Clock(f.Began)),
		c.Which()}
	if !f.Out.IsZero() {
		lines = append(lines, c.V.Say("due.fault-out"))
	}
	key := trade.FaultName + strconv.FormatInt(no, 10)
	c.TellPeople(
		people,
		chat.Reply{Body: []chat.Block{engine.Text(lines...)}, Key: key, Retire: key, Buttons: [][]chat.Button{
			c.Button(
				over,
				"o:fault:back."+strconv.FormatInt(no, 10),
			), c.Button("fault-guide", "o:fault:guide."+strconv.FormatInt(no, 10))}},
	)
}
