package trade

import (
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/guides"
)

// FaultName begins the name of the deadline of an incident that is not solved.
const FaultName = "fault-"

// HowLong words a length of time: 25 min, 3 h 10 min, 2 days 4 h.
func HowLong(c *engine.Talk, d time.Duration) string {
	minutes := int64(d.Round(time.Minute) / time.Minute)
	switch hours := minutes / 60; {
	case hours >= 24:
		return c.V.Say("span.days", "days", hours/24, "hours", hours%24)
	case hours > 0:
		return c.V.Say("span.hours", "hours", hours, "minutes", minutes%60)
	}
	return c.V.Say("span.minutes", "minutes", minutes)
}

// OpenFaults are lines about the incidents that are not solved.
func OpenFaults(c *engine.Talk) (lines []string, rows [][]chat.Button) {
	for i := range c.M.Faults {
		f := &c.M.Faults[i]
		if !f.Unsolved() {
			continue
		}
		id := "fault-open"
		if !f.Out.IsZero() {
			id = "fault-open-out"
		}
		lines = append(lines, c.V.Say(id, "title", c.E.GuideTitle(f.Topic), "when", c.Clock(f.Began)))
		if !MayEnd(c, f) {
			continue
		}
		label := ask.Short(c.V.Say("button.fault-solved", "title", c.E.GuideTitle(f.Topic)), ask.LabelMax)
		rows = append(rows, []chat.Button{{Label: label, Data: "o:fault:back." + strconv.FormatInt(f.Seq, 10)}})
	}
	return lines, rows
}

// MayEnd reports whether the speaker may say that an incident is over. Staff
// may be made to say that of a robbery.
func MayEnd(c *engine.Talk, f *books.Fault) bool {
	return f.Topic != chat.Robbery || c.F.Person.ID != 0 && engine.Manages(c.F.Person)
}

// FaultsIn sums up the machine's faults during a period; empty for none.
func FaultsIn(c *engine.Talk, m *books.Machine, p *books.Period) string {
	end := p.CountedAt
	if end.IsZero() {
		end = c.In.At
	}
	n, open, down := int64(0), int64(0), time.Duration(0)
	for i := range m.Faults {
		f := &m.Faults[i]
		down += f.Down(p.Opened, end, c.In.At)
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
	line := c.V.Count("note.faults", n)
	if down > 0 {
		line += " " + c.V.Say("note.down", "time", HowLong(c, down))
	}
	if open > 0 {
		line += " " + c.V.Say("note.unsolved", "n", open)
	}
	return line
}

// Note writes a record beside the dialog under way, which neither lends it its
// time and photos nor is overtaken by it.
func Note(c *engine.Talk, r books.Record) bool {
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

// GuideSettings are the facts of the shop that change what a guide says.
func GuideSettings(c *engine.Talk) guides.Settings {
	s := guides.Settings{Country: c.F.Shop.Country, Contacts: map[guides.Contact]string{},
		Provider: map[string]string{}}
	if c.Kit != nil {
		s.Lock, s.Prints = guides.Lock(c.Kit.Lock), guides.Prints(c.Kit.Prints)
		s.TestDispense, s.RestartMinutes = c.Kit.TestDispense, c.Kit.RestartMinutes
	}
	for _, n := range c.F.Shop.Numbers {
		s.Contacts[guides.Contact(n.Who)] = n.Number
	}
	for _, a := range c.F.Shop.Advice {
		s.Provider[a.Topic] = a.Text
	}
	return s
}

// CallLines say whom to ring. A number stands at the end of its line, so that
// the phone makes a link of it.
func CallLines(c *engine.Talk, calls []guides.Call) []string {
	var lines []string
	for _, call := range calls {
		who := c.V.Say("call." + string(call.Contact))
		if call.Number == "" {
			lines = append(lines, c.V.Say("call-unknown", "who", who))
			continue
		}
		lines = append(lines, c.V.Say("call", "who", who, "number", call.Number))
	}
	return lines
}

// referenceMax is the longest a reference may be.
const referenceMax = 30

// Reference reads what a provider calls an incident or a visit by: letters,
// figures and what stands between them, at least one figure among them.
func Reference(s string) (ref string, ok bool) {
	ref = strings.ToUpper(strings.Join(strings.Fields(s), " "))
	return ref, len(ref) <= referenceMax && strings.ContainsAny(ref, "0123456789") &&
		strings.Trim(ref, "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-/. #") == ""
}
