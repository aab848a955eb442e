package shop

import (
	"errors"
	"fmt"
	"slices"
	"time"
)

// Plan is what a shop has laid down about its tasks beside its weekly hours.
// It stands in the settings, not in a machine's ledger: it is the shop's, every
// version is kept with its time, and each record of the books names the version
// in force. The zero plan is a sensible one.
type Plan struct {
	TradesOnHolidays bool     `json:"trades_on_holidays,omitempty"` // public holidays are days like others
	Duty             [7]Duty  `json:"duty,omitzero"`                // by weekday, Sunday first
	Ladders          Ladders  `json:"ladders,omitzero"`             // an empty one is the usual one
	Night            *Hours   `json:"night,omitempty"`              // quiet from Open to Close; nil: 23:00 to 06:00
	Summary          string   `json:"summary,omitempty"`            // day of the weekly summary, "mon"; or "off"; empty: Monday
	NoLevels         bool     `json:"no_levels,omitempty"`          // no nudge when a kind of note may run out
	EachClose        bool     `json:"each_close,omitempty"`         // owners get a note of each close, not the letter alone
	Changes          []Change `json:"changes,omitempty"`            // one-off, oldest first; a later one wins
	Hold             *Hold    `json:"hold,omitempty"`               // the machine must not be loaded

	// On a public holiday it trades in these hours, if it does; nil: as usual. Single ones
	// may be kept otherwise.
	HolidayHours *Hours          `json:"holiday_hours,omitempty"`
	Holidays     []HolidayChoice `json:"holidays,omitempty"`

	Seasons []Season `json:"seasons,omitempty"` // a later one wins

	// Of days without an end, in minutes after midnight: when the figures are printed, and
	// when the window for filling begins.
	Figures *int `json:"figures,omitempty"`
	Filling *int `json:"filling,omitempty"`
}

// Duty is who opens and who closes; zero: whoever of the staff is there.
type Duty struct {
	Opens  PersonID `json:"opens,omitempty"`
	Closes PersonID `json:"closes,omitempty"`
}

// Group is whom a reminder goes to.
type Group string

// The groups. A group of nobody gives way to the next one.
const (
	List     Group = "list"     // whoever is down for the task that day, else all staff
	Managers Group = "managers" // managers
	Owners   Group = "owners"   // owners
)

// Rung is one step of a ladder of reminders.
type Rung struct {
	After int   `json:"after"` // minutes after the task is due; negative: before
	To    Group `json:"to"`
}

// Ladders are the reminders of each task, in order of time.
type Ladders struct {
	Opening  []Rung `json:"opening,omitempty"`
	Closing  []Rung `json:"closing,omitempty"`
	Unclosed []Rung `json:"unclosed,omitempty"` // a closing of yesterday
	Ticks    []Rung `json:"ticks,omitempty"`    // an opening's checklist
	Fault    []Rung `json:"fault,omitempty"`    // a fault that is not solved
}

// Of gives the ladder of a task, to be read or laid down; that of a task whose
// ladder is not the shop's to lay down is always empty.
func (l *Ladders) Of(task string) *[]Rung {
	switch task {
	case "opening":
		return &l.Opening
	case "closing":
		return &l.Closing
	case "unclosed":
		return &l.Unclosed
	case "ticks":
		return &l.Ticks
	case "fault":
		return &l.Fault
	}
	return new([]Rung)
}

// Change is one thing that is different on some days. Empty fields leave the
// weekly plan as it is.
type Change struct {
	From   Date `json:"from"`
	To     Date `json:"to"` // included
	Usual  bool `json:"usual,omitempty"`
	Closed bool `json:"closed,omitempty"`
	Off    bool `json:"off,omitempty"`   // nobody comes, the machine stays off
	Open   *int `json:"open,omitempty"`  // minutes after midnight
	Close  *int `json:"close,omitempty"` // minutes after midnight, as in Hours
	// Where Open and Close are both said they are all of the day's hours, with this pause.
	PauseFrom int       `json:"pause_from,omitempty"`
	PauseTo   int       `json:"pause_to,omitempty"`
	Duty      Duty      `json:"duty,omitzero"`
	Absent    PersonID  `json:"absent,omitempty"` // cannot come
	Back      PersonID  `json:"back,omitempty"`   // can come after all
	Each      string    `json:"each,omitempty"`   // Absent on this day of each week alone, "wed"; empty: on all
	Mute      bool      `json:"mute,omitempty"`   // nobody is reminded; the shop trades
	By        PersonID  `json:"by"`
	At        time.Time `json:"at"`
}

// Hold forbids loading the machine until a manager lifts it.
type Hold struct {
	Until Date      `json:"until,omitempty"` // when to ask whether to lift it; empty: not known
	Why   string    `json:"why,omitempty"`
	By    PersonID  `json:"by"`
	At    time.Time `json:"at"`
}

// Bounds of a plan.
const (
	maxChanges = 200
	maxRungs   = 12
	maxAfter   = 24 * 60 // minutes
	maxWhy     = 200     // bytes
	maxChoices = 60      // of holidays, and of seasons
)

// Absent reports whether somebody said they cannot come on a date.
func (p *Plan) Absent(id PersonID, day Date) bool {
	absent := false
	for _, c := range p.Changes {
		if c.holds(day) && (c.Absent == id || c.Back == id || c.Usual) {
			absent = c.Absent == id
		}
	}
	return absent
}

// holds reports whether a change is about a date.
func (c *Change) holds(day Date) bool {
	return c.From <= day && day <= c.To && (c.Each == "" || c.Each == Weekdays()[day.Weekday()])
}

// ForGood is the last day of a change that is not to end. Trading as usual, from any day on, ends
// it: see [Plan.With].
const ForGood Date = "2099-12-31"

// With gives the plan with a change more, without those that ended well before a
// date, and without the oldest when there are too many.
func (p Plan) With(c Change, today Date) Plan {
	kept := make([]Change, 0, len(p.Changes)+1)
	for _, old := range p.Changes {
		again := old.To == ForGood && old.Closed && c.Usual // it opens again after all
		if again || c.Each != "" && old.Each == c.Each && old.Absent == max(c.Absent, c.Back) {
			old.To = c.From.Add(-1)
		}
		if old.To >= today.Add(-keepChanges) && old.From <= old.To {
			kept = append(kept, old)
		}
	}
	if p.Changes = kept; c.Each == "" || c.Back == 0 { // else a day of the week is free no more
		p.Changes = append(kept, c)
	}
	if over := len(p.Changes) - maxChanges; over > 0 {
		p.Changes = p.Changes[over:]
	}
	return p
}

// keepChanges is how many days a change that is over stays at hand, for what is
// still to be said about those days.
const keepChanges = 10

// check refuses a plan that cannot be meant.
func (p *Plan) check() error {
	if len(p.Changes) > maxChanges {
		return fmt.Errorf("more than %d changes of the plan", maxChanges)
	}
	for _, c := range p.Changes {
		if err := c.check(); err != nil {
			return err
		}
	}
	if err := p.checkHours(); err != nil {
		return err
	}
	l := p.Ladders
	for _, l := range [][]Rung{l.Opening, l.Closing, l.Unclosed, l.Ticks, l.Fault} {
		if err := checkLadder(l); err != nil {
			return err
		}
	}
	if p.Hold != nil && len(p.Hold.Why) > maxWhy {
		return fmt.Errorf("the reason of a hold is longer than %d bytes", maxWhy)
	}
	return nil
}

func (c *Change) check() error {
	if c.From.Time().IsZero() || c.To.Time().IsZero() || c.To < c.From {
		return fmt.Errorf("change from %q to %q: not days in order", c.From, c.To)
	}
	for _, m := range []*int{c.Open, c.Close} {
		if m != nil && (*m < 0 || *m > 24*60) {
			return errors.New("a time of day is outside the day")
		}
	}
	if c.Each != "" && (c.Absent == 0 || !slices.Contains(Weekdays(), c.Each)) {
		return fmt.Errorf("something is so each %q", c.Each)
	}
	if c.PauseFrom == c.PauseTo {
		return nil
	}
	if c.Open == nil || c.Close == nil {
		return errors.New("a pause without the hours it is in")
	}
	return Hours{*c.Open, *c.Close, c.PauseFrom, c.PauseTo}.check()
}

func checkLadder(l []Rung) error {
	if len(l) > maxRungs {
		return fmt.Errorf("a ladder has more than %d rungs", maxRungs)
	}
	for i, r := range l {
		if r.After < -maxAfter || r.After > maxAfter || i > 0 && r.After <= l[i-1].After {
			return errors.New("the rungs of a ladder are not in order, or more than a day away")
		}
		if !slices.Contains([]Group{List, Managers, Owners}, r.To) {
			return fmt.Errorf("a ladder leads to %q", r.To)
		}
	}
	return nil
}

// Silences reports whether a change leaves nothing to be done on its days.
func (c Change) Silences() bool { return c.Closed || c.Off }

// Mutes reports whether nobody is to be reminded on a date of what is to be done.
func (p *Plan) Mutes(day Date) bool {
	mute := false
	for _, c := range p.Changes {
		if c.From <= day && day <= c.To && (c.Mute || c.Usual) {
			mute = c.Mute
		}
	}
	return mute
}
