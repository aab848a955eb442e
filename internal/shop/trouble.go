package shop

import (
	"fmt"
	"unicode/utf8"
)

// Number is somebody the shop can ring about the machine.
type Number struct {
	Who    string `json:"who"`    // by its name in package guides: provider, engineer, bank and so on
	Number string `json:"number"` // as it is dialled
}

// Advice is what the provider itself tells the shop to do about a topic. It
// comes before what the guide says.
type Advice struct {
	Topic string `json:"topic"` // the guide's name
	Text  string `json:"text"`
}

// AdviceMax is the longest that one piece of advice may be, in characters:
// it has to fit on a phone above the step it belongs to.
const AdviceMax = 300

// RestartMax bounds how long a restart may be said to take, in minutes.
const RestartMax = 120

// Call gives the number of somebody the shop can ring, or "".
func (s *Settings) Call(who string) string {
	for _, n := range s.Numbers {
		if n.Who == who {
			return n.Number
		}
	}
	return ""
}

// checkTrouble holds numbers and advice to their bounds.
func (s *Settings) checkTrouble() error {
	for _, n := range s.Numbers {
		if n.Who == "" || n.Number == "" {
			return fmt.Errorf("a number to ring belongs to nobody or is empty")
		}
	}
	for _, a := range s.Advice {
		if n := utf8.RuneCountInString(a.Text); a.Topic == "" || n == 0 || n > AdviceMax {
			return fmt.Errorf("advice about %q has %d characters, want 1 to %d", a.Topic, n, AdviceMax)
		}
	}
	for _, m := range s.Machines {
		if m.RestartMinutes < 0 || m.RestartMinutes > RestartMax {
			return fmt.Errorf("machine %d: a restart of %d minutes", m.ID, m.RestartMinutes)
		}
	}
	return nil
}
