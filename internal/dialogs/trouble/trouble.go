package trouble

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/choosing"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/hearing"
	"shopfloat/internal/helping"
	"shopfloat/internal/incidents"
	"shopfloat/internal/reminders"
	"shopfloat/internal/secrets"
	"shopfloat/internal/tasks"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
	"shopfloat/internal/wording"
)

// Moments are an emergency, the guide under way, and words that are a question.
func Moments() engine.Moments {
	return engine.Moments{
		Alarm: emergency, Weighs: weighQuestion,
		Beside:   beside,
		Stray:    func(c *engine.Talk, f *engine.Flow) bool { return f != nil && walkTyped(c) || searched(c, f) },
		Pictured: pictured, Redrawn: walkAgain, Cancelled: walkCancelled,
		Matters: []engine.Matter{
			{Prefix: tasks.FaultName, Task: reminders.Fault, Began: incidents.FaultBegan, Tell: tellFault}},
	}
}

// weighQuestion begins what a plain sentence about the day's work means. In a robbery nothing is asked.
func weighQuestion(c *engine.Talk, f *engine.Flow, cmd *engine.Command, rest string) (*engine.Command, bool) {
	calm := f == nil && !c.Quiet()
	if calm && cmd != nil && cmd.Hours && wording.DaysWork(rest) {
		c.Rest = "" // it is begun, and no guide for a fault over an everyday word
		c.Obey(cmd)
		return cmd, true
	}
	if c.Quiet() && (cmd == nil || cmd.Plea) {
		walkCard(c, false) // whatever is typed now, nothing is asked
		return cmd, true
	}
	return cmd, calm && foundTyped(c)
}

// walkCancelled leaves the guide of this machine, if one is under way.
func walkCancelled(c *engine.Talk) bool {
	if c.State.Walk == nil || c.State.Walk.Machine != c.M.ID {
		return false
	}
	stopWalk(c)
	return true
}

// offeredTap begins a command that was offered, with what was said beside it.
func offeredTap(c *engine.Talk, name string) {
	name, code, _ := strings.Cut(name, ".")
	if cmd := c.E.Named(name); cmd == nil || !cmd.Guided && !c.May(name) || cmd.Help == engine.HelpNever {
		c.Notice = c.V.Say("notice.unknown")
		return
	}
	c.Rest = hearing.FromCode(code)
	c.Obey(c.E.Named(name))
}

// foundTyped takes "20x2" in a guide in which notes come to light for those.
func foundTyped(c *engine.Talk) bool {
	w := walking(c)
	if w == nil || !incidents.Finds(w.Guide) || !incidents.SeveralNotes(texts.Fold(c.In.Text)) {
		return false
	}
	c.Rest = texts.Fold(c.In.Text)
	c.Obey(c.E.Named(engine.DoFound))
	return true
}

// searched answers words that are neither an answer nor a command. False means
// that there is nothing to search in.
func searched(c *engine.Talk, f *engine.Flow) bool {
	if c.E.Guiding.Ear == nil || !strings.ContainsFunc(c.In.Text, unicode.IsLetter) {
		return false
	}
	d := c.Heard()
	goesOn := f != nil && slices.Contains(c.V.List("words.stay"), texts.Fold(strings.Trim(c.In.Text, ".! "))) ||
		f == nil && choosing.Agrees(c.In.Text) && !wording.Courtesy(c.In.Text) // all done
	wait := f != nil && c.IsWord("wait", texts.Plain(c.In.Text))
	if goesOn || wait || c.Asks() {
		now(c, f, texts.Either(wait, c.V.Say("take-time"), ""))
		return true
	}
	if f == nil {
		if r, ok := helping.Meant(c.Teller, c.State.Shown, c.In.Text, c.Wordy); ok {
			c.Send(r)
			return true
		}
	}
	if d.Act == hearing.Ignore && (wording.Courtesy(c.In.Text) || d.Small && f == nil) {
		small(c, f)
		return true
	}
	if f == nil && came(c, d) {
		return true
	}
	rows := meanings(c, d)
	code, shown := secrets.Shown(c.In.Text)
	switch {
	case shown && f != nil: // the open question comes first
		c.Send(chat.Reply{Body: []chat.Block{{Text: c.V.Say("trouble.code-within", "code", code)}},
			Buttons: [][]chat.Button{c.Button("guide-pays-not", "o:guide:ask.restart")}})
	case shown: // what it means only the provider knows; what matters is whether it pays
		c.Send(chat.Reply{Body: []chat.Block{{Text: c.V.Say("trouble.code", "code", code)}},
			Buttons: [][]chat.Button{c.Button("guide-pays", "o:guide:ask.contact"),
				c.Button("guide-pays-not", "o:guide:ask.restart")}})
	case d.Act != hearing.Ignore && (d.Act == hearing.Do && (f == nil || !hearing.Vague(d)) ||
		f == nil && len(rows) == 0) && carriedOut(c, d.Readings[0]):
		return true
	case len(rows) == 0, f != nil && (hearing.Vague(d) || onlyDays(c)):
		puzzled(c, f)
		notFound(c, f)
		return true
	case d.Act == hearing.Do && d.Readings[0].Kind == hearing.Guide && // figures are about the count under way
		(f == nil || !strings.ContainsAny(c.In.Text, "0123456789")):
		walk(c, d.Readings[0].ID, false)
	case f != nil:
		c.Send(chat.Reply{Body: []chat.Block{{Text: c.V.Say("trouble.or")}}, Buttons: rows[:1]})
	default:
		puzzled(c, f)
		offer(c, rows)
	}
	if f != nil {
		c.BackTo()
	}
	return true
}

// came meets "the money came" with what the bank owes first, where it says no sum.
func came(c *engine.Talk, d hearing.Decision) bool {
	if len(d.Readings) == 0 || d.Readings[0].Slots.Money != "" {
		return false
	}
	flow := c.E.Flows[d.Readings[0].ID]
	if flow == nil || flow.Bank == nil || flow.Bank.Took || !c.May(flow.Name) {
		return false
	}
	likely, ok := helping.Came(c.Teller)
	if ok {
		c.Send(likely)
	}
	return ok
}

// now answers "what now?": the open question again, or what can be done now. What is read
// back and waits for a yes is said not to be recorded.
func now(c *engine.Talk, f *engine.Flow, first string) {
	if f != nil && (!f.View || f.Loses(c)) { // a view does not come back
		if first == "" && c.Screen().Taps["confirm"] != nil && f.Loses(c) {
			first = c.V.Say("now.unrecorded")
		}
		if first != "" {
			c.First(first)
		}
		c.Redraw()
		return
	}
	if first != "" {
		c.Send(helping.Unheard(c.Teller, first, c.May))
		return
	}
	c.Send(helping.Now(c.Teller, c.May))
}

// small answers small talk and nothing else, once a day.
func small(c *engine.Talk, f *engine.Flow) {
	if today := c.Today(); c.State.Small != today {
		c.State.Small = today
		c.Say(c.V.Say("small." + texts.Either(wording.Thanks(c.In.Text), "thanks", "plain")))
	}
	if f != nil {
		c.BackTo()
	}
}

// onlyDays reports whether a text is days and nothing else: in a dialog they answer, or try to.
func onlyDays(c *engine.Talk) bool {
	_, _, rest := telling.Days(c.Teller, texts.Fold(c.In.Text))
	return rest == ""
}

// carriedOut does what was asked for: a view is shown, what records opens its card with what was said of it.
func carriedOut(c *engine.Talk, r hearing.Reading) bool {
	name, typed := r.Command(c.Today())
	cmd := c.E.Named(name)
	if r.Kind != hearing.Command || cmd == nil {
		return false
	}
	c.Rest = typed
	c.Obey(cmd)
	return true
}

// notFound says that nothing is close, and what can be done now.
func notFound(c *engine.Talk, f *engine.Flow) {
	now(c, f, c.V.Say(texts.Either(f != nil, "trouble.none-within", "trouble.none-now")))
}

// puzzled has what was not understood at once counted, unless it may answer what a dialog asked in words.
func puzzled(c *engine.Talk, f *engine.Flow) {
	if f == nil || f.Safe == engine.SafeOpen && !c.Screen().Free {
		c.Puzzled()
	}
}

// offer lets the person say which of a few things is meant.
func offer(c *engine.Talk, rows [][]chat.Button) {
	c.Send(chat.Reply{Body: []chat.Block{{Text: c.V.Say("trouble.which")}},
		Buttons: append(rows, c.Button("guide-none", "o:guide:list.0"))})
}

// meanings makes a row of what may be meant: a guide by its title, a command by
// what help says of it, as far as the person may have it.
func meanings(c *engine.Talk, d hearing.Decision) (rows [][]chat.Button) {
	for _, r := range d.Readings {
		if r.Kind == hearing.Guide {
			rows = append(rows, titles(c.E, []string{r.ID})...)
			continue
		}
		name, typed := r.Command(c.Today())
		if cmd := c.E.Named(name); r.Kind == hearing.Command && cmd != nil && c.May(cmd.Name) {
			label := texts.Upper(c.V.Say("help." + cmd.Name))
			data := strings.TrimSuffix(chat.Begins(cmd.Name)+"."+hearing.Code(typed), ".")
			rows = append(rows, []chat.Button{{Label: texts.Short(label, texts.LabelMax), Data: data}})
		}
	}
	return rows
}

// titles makes a row for each guide.
func titles(e *engine.Engine, ids []string) [][]chat.Button {
	var rows [][]chat.Button
	for _, id := range ids {
		g, ok := e.Guiding.Library.Guide(id)
		if data := "o:guide:ask." + id; ok && len(data) <= askMax && chat.Plain(id) {
			rows = append(rows, []chat.Button{{Label: texts.Short(g.Title, texts.LabelMax), Data: data}})
		}
	}
	return rows
}

const askMax = 44 // bytes of a payload, with room for the number of a machine

// listPage is how many guides are shown at once.
const listPage = 11

// everyone may see to trouble, on any phone.
var everyone = engine.May(access.Everyone, engine.AnyPhone, engine.OnceSetUp)

// tells makes a command that leaves the dialog under way as it is.
func tells(name string, run func(*engine.Talk)) engine.Command {
	return engine.Command{Name: name, Rights: everyone, Does: engine.TellsOnly, Help: engine.HelpMore,
		Takes: engine.OnlyFigures, Run: run}
}

// GuidesCommand lists the guides.
func GuidesCommand() engine.Command {
	return tells(engine.DoGuides, func(c *engine.Talk) { listFrom(c, 0) })
}

// listFrom shows the guides, a page at a time.
func listFrom(c *engine.Talk, page int) {
	ids := c.Guides.IDs()
	if page < 0 || page*listPage >= len(ids) {
		page = 0
	}
	end := min(len(ids), (page+1)*listPage)
	rows := titles(c.E, ids[page*listPage:end])
	if end < len(ids) {
		rows = append(rows, c.Button("guide-more", "o:guide:list."+strconv.Itoa(page+1)))
	}
	c.Send(chat.Reply{Body: []chat.Block{{Text: c.V.Say("trouble.list")}}, Buttons: rows})
}
