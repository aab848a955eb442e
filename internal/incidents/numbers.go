package incidents

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"shopfloat/internal/chat"
	"shopfloat/internal/guides"
	"shopfloat/internal/names"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// Contacts are whom to ring, those without a number in one line; change says that the reader may
// enter it.
func Contacts(t *telling.Teller, change bool) chat.Block {
	set := GuideSettings(t)
	lines, missing := []string{t.V.Say("contacts")}, []string{}
	for _, who := range append([]guides.Contact{guides.Emergency}, guides.Contacts()...) {
		if call := (guides.Call{Contact: who, Number: set.Number(who)}); call.Number != "" {
			lines = append(lines, CallLines(t, []guides.Call{call})...)
		} else {
			missing = append(missing, t.V.Say("call."+string(who)))
		}
	}
	if len(missing) > 0 {
		lines = append(lines, t.V.Say(texts.Either(change, "contacts-missing", "contacts-ask"),
			"list", strings.Join(missing, "; ")))
	}
	return chat.Lines(lines...)
}

// Number is what is to be laid down for trouble: a number, how long a restart takes,
// or what the provider says to do about a guide's topic.
type Number struct {
	Who     guides.Contact `json:"who,omitempty"`     // whose number
	Minutes int            `json:"minutes,omitempty"` // of a restart; 0: it is not that
	Topic   string         `json:"topic,omitempty"`   // empty: it is not that
	Value   string         `json:"value,omitempty"`   // the number or the words; empty: it goes
}

// Label names what it is.
func (n Number) Label(t *telling.Teller) string {
	switch {
	case n.Minutes > 0:
		return t.V.Say("button.numbers-minutes")
	case n.Topic != "":
		return t.V.Say("button.numbers-advice")
	default:
		return t.V.Say("call." + string(n.Who))
	}
}

// Read reads it back.
func (n Number) Read(t *telling.Teller) string {
	what, value := n.Label(t), n.Value
	switch {
	case n.Minutes > 0:
		value = strconv.Itoa(n.Minutes)
	case n.Topic != "":
		what, value = t.GuideTitle(n.Topic), names.Words(value)
	}
	id := texts.Either(value == "", "numbers-review-none", "numbers-review")
	return t.V.Say(id, "what", what, "value", value)
}

// Into are settings with it laid down.
func (n Number) Into(s shop.Settings, machine shop.MachineID) shop.Settings {
	switch {
	case n.Minutes > 0:
		return s.WithRestart(machine, n.Minutes)
	case n.Topic != "":
		return s.WithAdvice(shop.Advice{Topic: n.Topic, Text: n.Value})
	}
	return s.WithNumber(shop.Number{Who: string(n.Who), Number: n.Value})
}

// Minutes reads how long a restart takes: 5, 5 min, 5 minutes.
func Minutes(s string) (int, bool) {
	s = strings.TrimSuffix(strings.TrimSuffix(texts.Fold(s), "utes"), "min")
	n, err := strconv.ParseUint(strings.TrimSpace(s), 10, 16)
	return int(n), err == nil && n > 0 && n <= shop.RestartMax
}

// Restart is how long a restart of the machine takes, as far as it is known.
func Restart(m *shop.Machine) int {
	if m != nil && m.RestartMinutes > 0 {
		return m.RestartMinutes
	}
	return guides.RestartMinutesUsual
}

// AdviceFits takes the provider's own words, as far as they are not too many; problem says so.
func AdviceFits(t *telling.Teller, s string) (words, problem string) {
	words = strings.TrimSpace(s)
	if n := utf8.RuneCountInString(words); n == 0 || n > shop.AdviceMax {
		return "", t.V.Say("advice-long", "max", shop.AdviceMax, "n", n)
	}
	return words, ""
}
