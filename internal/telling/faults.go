package telling

import (
	"strconv"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/guides"
	"shopfloat/internal/names"
	"shopfloat/internal/texts"
)

// HowLong words a length of time: 25 min, 3 h 10 min, 2 days 4 h.
func HowLong(t *Teller, d time.Duration) string {
	minutes := int64(d.Round(time.Minute) / time.Minute)
	switch hours := minutes / 60; {
	case hours >= 24:
		return t.V.Say("span.days", "days", hours/24, "hours", hours%24)
	case hours > 0:
		return t.V.Say("span.hours", "hours", hours, "minutes", minutes%60)
	}
	return t.V.Say("span.minutes", "minutes", minutes)
}

// OpenFaults are lines about the incidents that are not solved.
func OpenFaults(t *Teller) (lines []string, rows [][]chat.Button) {
	for i := range t.M.Faults {
		f := &t.M.Faults[i]
		if !f.Unsolved() {
			continue
		}
		id := "fault-open"
		if !f.Out.IsZero() {
			id = "fault-open-out"
		}
		lines = append(lines, t.V.Say(id, "title", t.GuideTitle(f.Topic), "when", t.Clock(f.Began)))
		if !MayEnd(t, f) {
			continue
		}
		label := texts.Short(t.V.Say("button.fault-solved", "title", t.GuideTitle(f.Topic)), texts.LabelMax)
		rows = append(rows, []chat.Button{{Label: label, Data: "o:fault:back." + strconv.FormatInt(f.Seq, 10)}})
	}
	return lines, rows
}

// MayEnd reports whether the speaker may say that an incident is over. Staff
// may be made to say that of a robbery.
func MayEnd(t *Teller, f *books.Fault) bool {
	return f.Topic != chat.Robbery || t.F.Person.ID != 0 && t.F.Person.Acts().Manages()
}

// FaultsIn sums up the machine's faults during a period; empty for none.
func FaultsIn(t *Teller, m *books.Machine, p *books.Period) string {
	end := p.CountedAt
	if end.IsZero() {
		end = t.Now
	}
	n, open, down := int64(0), int64(0), time.Duration(0)
	for i := range m.Faults {
		f := &m.Faults[i]
		down += f.Down(p.Opened, end, t.Now)
		if f.Began.Before(p.Opened) || f.Began.After(end) || f.Light {
			continue
		}
		n++
		if f.Unsolved() {
			open++
		}
	}
	if n == 0 && down == 0 {
		return ""
	}
	line := t.V.Count("note.faults", n)
	if down > 0 {
		line += " " + t.V.Say("note.down", "time", HowLong(t, down))
	}
	if open > 0 {
		line += " " + t.V.Say("note.unsolved", "n", open)
	}
	return line
}

// GuideSettings are the facts of the shop that change what a guide says.
func GuideSettings(t *Teller) guides.Settings {
	s := guides.Settings{Country: t.F.Shop.Country, Contacts: map[guides.Contact]string{},
		Provider: map[string]string{}}
	if t.Kit != nil {
		s.Lock, s.Prints = guides.Lock(t.Kit.Lock), guides.Prints(t.Kit.Prints)
		s.TestDispense, s.RestartMinutes = t.Kit.TestDispense, t.Kit.RestartMinutes
	}
	for _, n := range t.F.Shop.Numbers {
		s.Contacts[guides.Contact(n.Who)] = n.Number
	}
	for _, a := range t.F.Shop.Advice {
		s.Provider[a.Topic] = a.Text
	}
	return s
}

// CallLines say whom to ring. A number stands at the end of its line, so that
// the phone makes a link of it.
func CallLines(t *Teller, calls []guides.Call) []string {
	var lines []string
	for _, call := range calls {
		who := t.V.Say("call." + string(call.Contact))
		if call.Number == "" {
			lines = append(lines, t.V.Say("call-unknown", "who", who))
			continue
		}
		lines = append(lines, t.V.Say("call", "who", who, "number", call.Number))
	}
	return lines
}

// OfFault is what a button says of an incident.
func OfFault(what string, seq int64) string {
	return "o:fault:" + what + "." + strconv.FormatInt(seq, 10)
}

// FaultButtons are what can be said of an incident after its guide.
func FaultButtons(t *Teller, f *books.Fault) [][]chat.Button {
	var rows [][]chat.Button
	if f.Unsolved() && MayEnd(t, f) {
		rows = append(rows, t.Button(OverButton(f), OfFault("back", f.Seq)))
		if f.Out.IsZero() {
			rows = append(rows, t.Button("fault-nothing", OfFault("nothing", f.Seq)))
		}
	}
	switch {
	case f.Topic == chat.Robbery:
	case f.Out.IsZero():
		rows = append(rows, t.Button("fault-out", OfFault("out", f.Seq), "when", t.Clock(f.Began)))
	default:
		rows = append(rows, t.Button("fault-served", OfFault("served", f.Seq)))
	}
	if f.Reference == "" && f.Ending != books.Solved {
		rows = append(rows, t.Button("fault-reference", OfFault("reference", f.Seq)))
	}
	return rows
}

// OverButton says that an incident is over.
func OverButton(f *books.Fault) string {
	return texts.Either(f.Topic == chat.Robbery, "robbery-over", "fault-back")
}

func NewestFault(t *Teller) *books.Fault {
	var best *books.Fault
	for i := range t.M.Faults {
		if f := &t.M.Faults[i]; best == nil || f.Unsolved() || !best.Unsolved() {
			best = f
		}
	}
	return best
}

func FaultBegan(t *Teller, no int64) (time.Time, bool) {
	f := t.M.Fault(no)
	if f == nil || !f.Unsolved() {
		return time.Time{}, false
	}
	return f.Began, true
}

// GuideStep words a step: cautions before anything else, the provider's own
// instruction before ours.
func GuideStep(t *Teller, guide string, v guides.View) []chat.Block {
	head := v.Title
	if guide != chat.Robbery {
		head = t.V.Say("trouble.step", "title", v.Title, "n", v.Number, "of", v.Of)
	}
	lines := append([]string{head}, v.Cautions...)
	if v.Own != "" {
		lines = append(lines, t.V.Say("trouble.own", "text", names.Words(v.Own)))
	}
	lines = append(lines, v.Text)
	return []chat.Block{chat.Lines(append(lines, CallLines(t, v.Call)...)...)}
}

// Robbery reports whether an incident is a robbery that no manager has said is over.
func Robbery(f books.Fault) bool { return f.Topic == chat.Robbery && f.Unsolved() }

// OpenRobbery is the newest one on record, or nil.
func OpenRobbery(t *Teller) *books.Fault {
	for i := len(t.M.Faults) - 1; i >= 0; i-- {
		if f := &t.M.Faults[i]; Robbery(*f) {
			return f
		}
	}
	return nil
}
