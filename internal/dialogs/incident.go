package dialogs

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/guides"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// faultName begins the name of the deadline of an incident that is not solved.
const faultName = "fault-"

// beside are kinds of record that come in while others are at work and change
// nothing they rely on.
var beside = []books.Kind{books.Incident, books.News, books.Attachment}

// needsName reports whether a record needs to know who makes it, on a phone that
// several people use. Whoever stands before a fault is not held up by that.
func needsName(r books.Record) bool { return !r.Has(books.SharedPhone) }

// note writes a record beside the dialog under way, which neither lends it its
// time and photos nor is overtaken by it.
func (c *talk) note(r books.Record) bool {
	if c.f.Machine == nil {
		return false
	}
	r.Happened = c.in.At.UTC()
	if c.f.Shared && c.f.Person.ID == 0 {
		r.Marks = append(r.Marks, books.SharedPhone)
	}
	entry := books.Entry{
		Record: r, Machine: c.m.ID, Seq: c.m.Seq + 1, By: c.f.Person.ID,
		Settings: c.f.Shop.Version, Recorded: c.in.At.UTC(),
	}
	m := c.m.Clone()
	if _, err := m.Post(entry); err != nil {
		c.Notice = c.v.Say("notice.unknown")
		return false
	}
	if c.State.Draft.Seq == c.m.Seq {
		c.State.Draft.Seq = entry.Seq
	}
	c.m = m
	c.Records = append(c.Records, r)
	return true
}

// beginFault puts an incident on record and gives its number; 0 where there is
// no machine yet. A fault that is not solved goes on: going through its guide
// once more makes no second one.
func (c *talk) beginFault(topic string) int64 {
	for _, f := range slices.Backward(c.m.Faults) {
		if f.Topic == topic && f.Unsolved() && !f.Light && (topic != Robbery || f.Ending == "") {
			return f.Seq
		}
	}
	if !c.note(books.Record{Kind: books.Incident, Trouble: &books.Trouble{Topic: topic, Light: light(topic)}}) {
		return 0
	}
	if !light(topic) {
		c.climb(faultName+strconv.FormatInt(c.m.Seq, 10), c.in.At, reminders.Fault)
	}
	return c.m.Seq
}

// news puts on record how an incident goes on. One of another machine, or one
// that nobody can reach any more, is left alone.
func (c *talk) news(seq int64, t books.Trouble) bool {
	if c.m.Fault(seq) == nil || !c.note(books.Record{Kind: books.News, Target: seq, Trouble: &t}) {
		return false
	}
	if f := c.m.Fault(seq); f == nil || !f.Unsolved() {
		c.deadline(faultName+strconv.FormatInt(seq, 10), time.Time{})
	}
	return true
}

// photoGuide is how long after something was said in a guide a photo is taken
// to belong to it, even when a dialog is under way as well.
const photoGuide = 10 * time.Minute

// pictured keeps a photo with the incident of the guide under way.
func (c *talk) pictured() bool {
	w := c.walking()
	if w == nil || w.Machine != c.m.ID || c.m.Fault(w.Fault) == nil || c.in.At.Sub(w.Last) > photoGuide {
		return false
	}
	r := books.Record{Kind: books.Attachment, Target: w.Fault, Photos: []books.Photo{c.in.Photo}}
	if !c.note(r) {
		return false
	}
	w.Last = c.in.At
	if !c.quiet() {
		c.say(c.v.Say("trouble.photo", "title", c.e.guideTitle(w.Guide)))
	}
	c.backToDialog(c.e)
	return true
}

// leaveFault puts on record that the speaker left a guide before its end. What
// somebody else is at, or what is known to need help, stays as it is.
func (c *talk) leaveFault(w *Walk, ending books.Ending) {
	f := c.m.Fault(w.Fault)
	if f == nil || w.Machine != c.m.ID {
		return
	}
	t := books.Trouble{Steps: w.Taken}
	if f.Ending == "" && f.By == c.f.Person.ID {
		t.Ending = ending
	}
	if t.Ending != "" || len(t.Steps) > 0 {
		c.news(w.Fault, t)
	}
}

// endings are the records that the ends of guides make.
var endings = map[guides.End]books.Ending{
	guides.EndSolved: books.Solved, guides.EndCall: books.CalledHelp, guides.EndOutOfService: books.OutOfService,
}

// endWalk puts the end of a guide on record and finishes its card.
func (c *talk) endWalk(w *Walk, v guides.View, r Reply) {
	t := books.Trouble{Ending: endings[v.End], Steps: w.Taken}
	f := c.m.Fault(w.Fault)
	if w.Machine != c.m.ID {
		f = nil
	}
	if f != nil && v.End == guides.EndOutOfService {
		t.Out = f.Began
	}
	if f != nil && c.news(w.Fault, t) {
		f = c.m.Fault(w.Fault)
	}
	lines := []string{c.v.Say("trouble.end-" + string(endings[v.End]))}
	if len(v.Record) > 0 {
		lines = append(lines, c.v.Say("trouble.record", "what", strings.Join(v.Record, ", ")))
	}
	r.Body = append(r.Body, text(lines...))
	if slices.Contains(findingGuides, w.Guide) {
		r.Buttons = append(r.Buttons, c.button("guide-found", "o:fault:found."+strconv.FormatInt(w.Fault, 10)))
	}
	if f != nil && (!f.Light || f.Unsolved()) {
		r.Buttons = append(r.Buttons, c.faultButtons(f)...)
	}
	c.State.Walk = w.Under
	c.send(r)
	if w.Guide != Robbery { // a count that waits is for later, when the police have said so
		c.comeBack()
	}
}

// faultButtons are what can be said of an incident after its guide.
func (c *talk) faultButtons(f *books.Fault) [][]Button {
	ref := "." + strconv.FormatInt(f.Seq, 10)
	var rows [][]Button
	switch {
	case !f.Unsolved() || !c.mayEnd(f):
	case f.Topic == Robbery:
		rows = append(rows, c.button("robbery-over", "o:fault:back"+ref))
	default:
		rows = append(rows, c.button("fault-back", "o:fault:back"+ref))
	}
	if f.Unsolved() && f.Out.IsZero() && c.mayEnd(f) {
		rows = append(rows, c.button("fault-nothing", "o:fault:nothing"+ref))
	}
	switch {
	case f.Topic == Robbery:
	case f.Out.IsZero():
		rows = append(rows, c.button("fault-out", "o:fault:out"+ref, "when", c.clock(f.Began)))
	default:
		rows = append(rows, c.button("fault-served", "o:fault:served"+ref))
	}
	if f.Reference == "" && f.Ending != books.Solved {
		rows = append(rows, c.button("fault-reference", "o:fault:reference"+ref))
	}
	return rows
}

func faultCard() standing {
	return standing{name: doFault, rights: rights{access.Everyone, anyPhone, onceSetUp}, tap: (*talk).faultTap}
}

// faultTap answers a tap about an incident.
func (c *talk) faultTap(arg string) {
	what, no, _ := strings.Cut(arg, ".")
	seq, err := strconv.ParseInt(no, 10, 64)
	f := c.m.Fault(seq)
	switch {
	case what == "found":
		c.recordFound()
	case err != nil || f == nil:
		c.Notice = c.v.Say("notice.unknown")
	case what == "back" && !f.Unsolved():
		c.Notice = c.v.Say("notice.solved")
	case what == "back" && !c.mayEnd(f):
		c.Notice = c.v.Say("hold.manager")
	case what == "back":
		c.solve(f)
	case what == "nothing" && !f.Unsolved():
		c.Notice = c.v.Say("notice.solved")
	case what == "nothing" && !c.mayEnd(f):
		c.Notice = c.v.Say("hold.manager")
	case what == "nothing":
		c.nothing(f)
	case what == "out":
		c.news(seq, books.Trouble{Out: f.Began})
		c.say(c.v.Say("fault-out", "title", c.e.guideTitle(f.Topic), "when", c.clock(f.Began)))
	case what == "served":
		c.news(seq, books.Trouble{Served: true})
		c.say(c.v.Say("fault-served", "title", c.e.guideTitle(f.Topic)))
	case what == "reference":
		c.say(c.v.Say("fault-reference"))
	case what == "guide":
		c.walkFrom(f.Topic)
	default:
		c.Notice = c.v.Say("notice.unknown")
	}
}

// nothing puts on record that a guide was begun by mistake.
func (c *talk) nothing(f *books.Fault) {
	seq, title := f.Seq, c.e.guideTitle(f.Topic)
	if w := c.State.Walk; w != nil && w.Fault == seq && w.Machine == c.m.ID {
		c.retireWalk()
		c.State.Walk = w.Under
	}
	if c.news(seq, books.Trouble{Ending: books.Mistake}) {
		c.say(c.v.Say("fault-nothing", "title", title))
	}
}

// solve puts on record that a fault is over.
func (c *talk) solve(f *books.Fault) {
	seq := f.Seq
	if w := c.State.Walk; w != nil && w.Fault == seq && w.Machine == c.m.ID {
		c.retireWalk()
		c.State.Walk = w.Under
	}
	if !c.news(seq, books.Trouble{Ending: books.Solved}) {
		return
	}
	if f.Topic == Robbery {
		c.endRobberies()
	}
	lines := []string{c.v.Say("fault-solved", "title", c.e.guideTitle(f.Topic), "when", c.clock(c.in.At))}
	f = c.m.Fault(seq)
	if f == nil {
		c.say(lines[0])
		return
	}
	if !f.Out.IsZero() {
		lines = append(lines, c.v.Say("fault-down", "time", c.howLong(f.Down(f.Out, c.in.At, c.in.At))))
	}
	c.rewriteAll(faultName+strconv.FormatInt(seq, 10),
		text(lines[0], c.v.Say("due.done-by", "who", c.f.Person.Name, "when", c.clock(c.in.At))))
	var rows [][]Button
	if f.Out.IsZero() && !f.Light {
		rows = [][]Button{c.button("fault-out", "o:fault:out."+strconv.FormatInt(seq, 10), "when", c.clock(f.Began))}
	}
	c.send(Reply{Body: []Block{text(lines...)}, Buttons: rows})
}

// referenceMax is the longest a reference may be.
const referenceMax = 30

func referenceCommand() command {
	return command{name: doReference, rights: rights{access.Everyone, anyPhone, onceSetUp},
		does: tellsOnly, help: helpMore, takes: onlyFigures, run: (*talk).reference}
}

// reference notes the provider's reference of the newest incident that is not
// solved, or else the newest.
func (c *talk) reference() {
	ref := strings.ToUpper(strings.Join(strings.Fields(c.rest), " "))
	if len(ref) > referenceMax || !strings.ContainsAny(ref, "0123456789") || !referring(ref) {
		c.say(c.v.Say("fault-reference"))
		return
	}
	f := c.newestFault()
	if f == nil {
		c.say(c.v.Say("faults-none"))
		return
	}
	title := c.e.guideTitle(f.Topic)
	if c.news(f.Seq, books.Trouble{Reference: ref}) {
		c.say(c.v.Say("fault-referred", "ref", ref, "title", title))
	}
}

// referring: letters, figures and what stands between them.
func referring(s string) bool {
	return strings.Trim(s, "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-/. #") == ""
}

func (c *talk) newestFault() *books.Fault {
	var best *books.Fault
	for i := range c.m.Faults {
		if f := &c.m.Faults[i]; best == nil || f.Unsolved() || !best.Unsolved() {
			best = f
		}
	}
	return best
}

// howLong words a length of time: 25 min, 3 h 10 min, 2 days 4 h.
func (c *talk) howLong(d time.Duration) string {
	minutes := int64(d.Round(time.Minute) / time.Minute)
	switch hours := minutes / 60; {
	case hours >= 24:
		return c.v.Say("span.days", "days", hours/24, "hours", hours%24)
	case hours > 0:
		return c.v.Say("span.hours", "hours", hours, "minutes", minutes%60)
	}
	return c.v.Say("span.minutes", "minutes", minutes)
}

// openFaults are lines about the incidents that are not solved.
func (c *talk) openFaults() (lines []string, rows [][]Button) {
	for i := range c.m.Faults {
		f := &c.m.Faults[i]
		if !f.Unsolved() {
			continue
		}
		id := "fault-open"
		if !f.Out.IsZero() {
			id = "fault-open-out"
		}
		lines = append(lines, c.v.Say(id, "title", c.e.guideTitle(f.Topic), "when", c.clock(f.Began)))
		if !c.mayEnd(f) {
			continue
		}
		label := short(c.v.Say("button.fault-solved", "title", c.e.guideTitle(f.Topic)), labelMax)
		rows = append(rows, []Button{{label, "o:fault:back." + strconv.FormatInt(f.Seq, 10)}})
	}
	return lines, rows
}

func faultBegan(c *talk, no int64) (time.Time, bool) {
	f := c.m.Fault(no)
	if f == nil || !f.Unsolved() {
		return time.Time{}, false
	}
	return f.Began, true
}

// tellFault says that an incident is open: to whoever has it, then to those
// above; of a robbery to managers alone.
func (c *talk) tellFault(no int64, r reminders.Rung) {
	f := c.m.Fault(no)
	people, over := c.whoHas(f.By, c.today(), reminders.Fault, r), "fault-back"
	if f.Topic == Robbery {
		people = reminders.People(c.f.Shop, c.today(), reminders.Fault, shop.Managers)
		over = "robbery-over"
	}
	lines := []string{c.v.Say("due.fault", "title", c.e.guideTitle(f.Topic), "when", c.clock(f.Began)), c.which()}
	if !f.Out.IsZero() {
		lines = append(lines, c.v.Say("due.fault-out"))
	}
	key := faultName + strconv.FormatInt(no, 10)
	c.tellPeople(people, Reply{Body: []Block{text(lines...)}, Key: key, Retire: key, Buttons: [][]Button{
		c.button(over, "o:fault:back."+strconv.FormatInt(no, 10)), c.button("fault-guide", "o:fault:guide."+strconv.FormatInt(no, 10))}})
}
