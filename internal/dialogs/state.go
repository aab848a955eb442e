package dialogs

import (
	"maps"
	"slices"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// State is what the bot remembers of one chat. It is stored as JSON.
type State struct {
	V       int            `json:"v"` // format, see stateFormat
	Machine shop.MachineID `json:"machine,omitempty"`
	Flow    string         `json:"flow,omitempty"` // dialog under way; empty for none
	Step    string         `json:"step,omitempty"` // its screen
	Rev     int            `json:"rev"`            // number of the newest card; older ones book nothing
	Draft   Draft          `json:"draft,omitzero"`
	Since   time.Time      `json:"since,omitzero"` // the dialog began
	Last    time.Time      `json:"last,omitzero"`  // the last input

	Planned time.Time      `json:"planned,omitzero"`  // reminders are planned so far for all that this chat knows
	Snoozed map[string]int `json:"snoozed,omitempty"` // how often a task of a day was put off here
	Held    *Held          `json:"held,omitempty"`    // on a shared phone: a tap that waits for who it is

	Seen map[shop.MachineID]int64 `json:"seen,omitempty"` // the last period whose result was shown here

	Walk  *Walk `json:"walk,omitempty"`  // the guide under way beside the dialog
	Cards int   `json:"cards,omitempty"` // number of the newest card of a guide
}

// stateFormat is written into every state; an older one is dropped with a word to the person.
const stateFormat = 1

// Draft is what has been answered so far and is in no record yet.
type Draft struct {
	Period   int64              `json:"period,omitempty"`
	Seq      int64              `json:"seq,omitempty"`     // the machine's last entry when the card was shown
	Happened time.Time          `json:"happened,omitzero"` // when it is not now
	Counts   map[string][]int64 `json:"counts,omitempty"`  // by question; -1 is not answered yet
	Choices  map[string]string  `json:"choices,omitempty"` // by question
	Leave    *Leave             `json:"leave,omitempty"`   // another command that waits for a yes
	Photos   []books.Photo      `json:"photos,omitempty"`  // to be kept with the record
}

// Leave is a command that would end the dialog under way.
type Leave struct {
	Command string `json:"command"`
	Rest    string `json:"rest,omitempty"`
}

func (s State) clone() State {
	c := s
	c.Draft.Counts = make(map[string][]int64, len(s.Draft.Counts))
	for k, v := range s.Draft.Counts {
		c.Draft.Counts[k] = slices.Clone(v)
	}
	c.Snoozed = maps.Clone(s.Snoozed)
	c.Seen = maps.Clone(s.Seen)
	c.Walk = s.Walk.clone()
	c.Draft.Choices = maps.Clone(s.Draft.Choices)
	c.Draft.Photos = slices.Clone(s.Draft.Photos)
	return c
}

// screen is the one the chat is at, or one of no kind.
func (s State) screen() screen {
	if f := declared[s.Flow]; f != nil {
		return f.screens[s.Step]
	}
	return screen{}
}

// blind reports whether nobody may see now what should be in the machine.
func (s State) blind() bool { return s.screen().blind }

// Under gives the activity a state stands for.
func (s State) Under(chat Chat, person shop.PersonID) (a Activity, ok bool) {
	if f := declared[s.Flow]; f == nil || f.presence == outOfWay {
		return a, false
	}
	return Activity{Chat: chat, Person: person, Machine: s.Machine, Flow: s.Flow, Blind: s.blind(), Since: s.Since}, true
}
