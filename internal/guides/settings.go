package guides

import (
	"slices"
	"strconv"
	"strings"
)

// Lock is the kind of lock on the machine's safe.
type Lock string

// The kinds of lock.
const (
	KeyLock        Lock = "key"
	DialLock       Lock = "dial"
	ElectronicLock Lock = "electronic"
)

// Prints is what the machine's own slip shows at the end of the day.
type Prints string

// What a slip can show.
const (
	PrintsNotes   Prints = "notes"   // how many notes per box
	PrintsMoney   Prints = "money"   // sums of money
	PrintsBoth    Prints = "both"    // notes and money
	PrintsNothing Prints = "nothing" // no slip at all
)

// Settings are the facts of a shop that change what a guide says.
// The zero value is a shop that has entered nothing: a key lock, no test
// payout, a slip with both figures, a country without rules.
type Settings struct {
	Lock           Lock
	TestDispense   bool
	Prints         Prints
	Country        string // ISO 3166 two letters, upper case
	RestartMinutes int    // 0 means RestartMinutesUsual
	Contacts       map[Contact]string
	Provider       map[string]string // guide ID to the provider's own instruction
}

// RestartMinutesUsual is how long a restart takes where the shop has not said
// otherwise. Common practice, no source.
const RestartMinutesUsual = 10

// Condition keeps a line to shops whose setting has one of the values.
// The zero Condition fits every shop.
type Condition struct {
	Setting string // lock, test, prints or country; "else" fits always
	Values  []string
}

// Fits says whether the condition holds in a shop.
func (c Condition) Fits(set Settings) bool {
	switch c.Setting {
	case "", elseSetting:
		return true
	case countrySetting:
		return slices.ContainsFunc(c.Values, func(v string) bool { return inRegion(set.Country, v) })
	}
	return slices.Contains(c.Values, set.value(c.Setting))
}

const (
	elseSetting    = "else"
	countrySetting = "country"
)

// settingValues lists what a condition may compare with. Countries are
// checked apart, since any two letters can be one.
func settingValues(setting string) []string {
	switch setting {
	case "lock":
		return []string{string(KeyLock), string(DialLock), string(ElectronicLock)}
	case "test":
		return []string{"yes", "no"}
	case "prints":
		return []string{string(PrintsNotes), string(PrintsMoney), string(PrintsBoth), string(PrintsNothing)}
	}
	return nil
}

func (s Settings) value(setting string) string {
	switch setting {
	case "lock":
		return orElse(string(s.Lock), string(KeyLock))
	case "prints":
		return orElse(string(s.Prints), string(PrintsBoth))
	case "test":
		if s.TestDispense {
			return "yes"
		}
		return "no"
	}
	return ""
}

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

// fill puts the shop's own facts into a text.
func (s Settings) fill(text string) string {
	if !strings.Contains(text, "{") {
		return text
	}
	minutes := s.RestartMinutes
	if minutes == 0 {
		minutes = RestartMinutesUsual
	}
	return strings.NewReplacer(
		"{restart-minutes}", strconv.Itoa(minutes),
		"{emergency}", EmergencyNumber(s.Country),
	).Replace(text)
}

// Number returns what to ring for a contact, or "" when the manager has not
// entered it. The emergency number follows the country.
func (s Settings) Number(c Contact) string {
	if c == Emergency {
		return EmergencyNumber(s.Country)
	}
	return s.Contacts[c]
}

// calls gives contacts their numbers. Who stands in for the manager is rung next.
// Of these two nothing is said where the shop has laid down no number: everybody
// there knows its manager.
func (s Settings) calls(list []Contact) []Call {
	var calls []Call
	for _, c := range list {
		who := []Contact{c}
		if c == Manager {
			who = []Contact{Manager, Deputy}
		}
		for _, c := range who {
			if number := s.Number(c); number != "" || c != Manager && c != Deputy {
				calls = append(calls, Call{Contact: c, Number: number})
			}
		}
	}
	return calls
}
