// Package incidents words what went wrong with a machine: a step of a guide, what can be
// said of an incident, and the months of it. It asks nothing and writes nothing.
package incidents

import (
	"slices"
	"strconv"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/guides"
	"shopfloat/internal/names"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// GuideSettings are the facts of the shop that change what a guide says.
func GuideSettings(t *telling.Teller) guides.Settings {
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
func CallLines(t *telling.Teller, calls []guides.Call) []string {
	var lines []string
	for _, call := range calls {
		who := t.V.Say("call." + string(call.Contact))
		if call.Number == "" {
			none := texts.Either(t.F.Person.Role.Manages(), "call-none", "call-unknown")
			lines = append(lines, t.V.Say(none, "who", who))
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
func FaultButtons(t *telling.Teller, f *books.Fault) [][]chat.Button {
	var rows [][]chat.Button
	if f.Unsolved() && telling.MayEnd(t, f) {
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

func NewestFault(t *telling.Teller) *books.Fault {
	var best *books.Fault
	for i := range t.M.Faults {
		if f := &t.M.Faults[i]; best == nil || f.Unsolved() || !best.Unsolved() {
			best = f
		}
	}
	return best
}

func FaultBegan(t *telling.Teller, no int64) (time.Time, bool) {
	f := t.M.Fault(no)
	if f == nil || !f.Unsolved() {
		return time.Time{}, false
	}
	return f.Began, true
}

// GuideStep words a step: cautions before anything else, the provider's own
// instruction before ours.
func GuideStep(t *telling.Teller, guide string, v guides.View) []chat.Block {
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

// HushFor is how long nobody is reminded of the routine, or asked anything, after a robbery was spoken
// of. It is no longer, since a false alarm must not silence a day.
const HushFor = time.Hour

// Hushed reports whether a robbery was spoken of just now: a card that says "start
// now" may come while the robber stands there.
func Hushed(t *telling.Teller) bool {
	return slices.ContainsFunc(t.M.Faults, func(f books.Fault) bool {
		return Robbery(f) && t.Now.Sub(f.Began) < HushFor
	})
}

// OpenRobbery is the newest one on record, or nil.
func OpenRobbery(t *telling.Teller) *books.Fault {
	for i := len(t.M.Faults) - 1; i >= 0; i-- {
		if f := &t.M.Faults[i]; Robbery(*f) {
			return f
		}
	}
	return nil
}
