package hearing

import (
	"shopfloat/internal/counts"
	"shopfloat/internal/hearing/phrases"
	"shopfloat/internal/shop"
	"shopfloat/internal/when"
)

// Kind says what sort of thing a person means.
type Kind int

// The kinds of readings.
const (
	Danger  Kind = iota + 1 // something is happening to somebody now
	Command                 // something to be done or shown
	Guide                   // something is wrong at the machine
	Small                   // courtesy, and what is no concern of ours
)

// Now is the command that all words of "what now?" mean.
const Now = "now"

// Reading is something that a text may mean.
type Reading struct {
	Kind  Kind
	ID    string  // which danger, command or guide
	Sure  float64 // of readings at 0.9 nine in ten are right
	Slots Slots
	Word  bool // it is said by the command's own words
}

// Name is the reading as a list of them writes it: do:open, danger:fire, note-jam.
func (r Reading) Name() string {
	switch r.Kind {
	case Danger:
		return dangerID + r.ID
	case Command:
		return commandID + r.ID
	case Guide:
		return r.ID
	}
	return None
}

// What the name of a reading begins with.
const (
	dangerID  = phrases.Danger
	commandID = "do:"
)

// None is the name of what is nothing to act on.
const None = "none"

// Slots are what a text says beside what it wants. Zero values are not said.
type Slots struct {
	Date     shop.Date
	From, To shop.Date        // days in a row
	Time     string           // 07:30
	Money    string           // a decimal number
	Counts   map[string]int64 // notes by face
	Person   string
	Text     string
}

// Situation is what is going on where a text is typed.
type Situation struct {
	Days   when.Reader
	Names  []string       // of the people of the shop
	Places []string       // names of shops, machines and boxes
	Counts counts.Request // what a count of its machine asks for
	Naming bool           // a name is asked for: a name is a name

	Taught func(phrase string) string // what a phrase means in the shop, by name; nil: none was taught
}

// Words are the words of a command, as help has them.
type Words struct {
	ID   string
	List []string
}
