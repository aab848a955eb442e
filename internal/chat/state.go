package chat

import (
	"encoding/json"
	"maps"
	"slices"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// State is what the bot remembers of one chat. It is stored as JSON.
type State struct {
	V       int            `json:"v"` // format, see StateFormat
	Machine shop.MachineID `json:"machine,omitempty"`
	Flow    string         `json:"flow,omitempty"` // dialog under way; empty for none
	Step    string         `json:"step,omitempty"` // its screen
	Rev     int            `json:"rev"`            // number of the newest card; older ones book nothing
	Draft   Draft          `json:"draft,omitzero"`

	// After a restore numbers are left out: the cards behind the first and up to the second
	// were sent by a program whose file is gone, and book nothing.
	LostFrom int `json:"lost_from,omitempty"`
	LostTo   int `json:"lost_to,omitempty"`

	Since time.Time `json:"since,omitzero"` // the dialog began
	Last  time.Time `json:"last,omitzero"`  // the last input

	Planned time.Time      `json:"planned,omitzero"`  // reminders are planned so far for all that this chat knows
	Snoozed map[string]int `json:"snoozed,omitempty"` // how often a task of a day was put off here
	Held    *Held          `json:"held,omitempty"`    // on a shared phone: a tap that waits for who it is

	Works bool `json:"works,omitempty"` // the dialog is work at the machine, which other people are told of
	Blind bool `json:"blind,omitempty"` // nobody may see now what should be in the machine
	Left  bool `json:"left,omitempty"`  // its person said that they had to go, and was not back since
	Code  bool `json:"code,omitempty"`  // digits typed now are a personal code that is set

	Turned time.Time `json:"turned,omitzero"` // when somebody last said which machine they are at

	Small shop.Date `json:"small,omitempty"` // the last day on which small talk was answered

	Seen map[shop.MachineID]int64 `json:"seen,omitempty"` // the last period whose result was shown here

	Walk  *Walk `json:"walk,omitempty"`  // the guide under way beside the dialog
	Cards int   `json:"cards,omitempty"` // number of the newest card of a guide

	Shown []Button `json:"shown,omitempty"` // of the newest card: their words may be typed

	Lessons map[string]int `json:"lessons,omitempty"` // how often a drawing still comes by itself
}

// StateFormat is written into every state. A dialog under way in an older one is
// told to its person and not gone on with.
const StateFormat = 2

// Draft is what has been answered so far and is in no record yet.
type Draft struct {
	Period   int64               `json:"period,omitempty"`
	Seq      int64               `json:"seq,omitempty"`     // the machine's last entry when the card was shown
	Happened time.Time           `json:"happened,omitzero"` // when it is not now
	At       time.Time           `json:"at,omitzero"`       // its person last answered; cards shown again are no answer
	Form     json.RawMessage     `json:"form,omitempty"`    // what else was answered, as the dialog keeps it
	Answers  map[string]*Answers `json:"answers,omitempty"` // counts that were asked for, by question
	Pending  string              `json:"pending,omitempty"` // a number that waits for a look at the draft
	Typed    string              `json:"typed,omitempty"`   // words that wait for their question or a yes
	Page     int                 `json:"page,omitempty"`    // of a long list, from 0 on
	Read     string              `json:"read,omitempty"`    // the page of answers that is read
	Taught   []string            `json:"taught,omitempty"`  // drawings that came with this dialog
	Counts   map[string][]int64  `json:"counts,omitempty"`  // by question, as formats before 2 kept them
	Choices  map[string]string   `json:"choices,omitempty"` // by question
	Leave    *Leave              `json:"leave,omitempty"`   // another command that waits for a yes
	Then     *Leave              `json:"then,omitempty"`    // a command that goes on once the dialog has ended
	Aside    *Aside              `json:"aside,omitempty"`   // a dialog to be settled once the count is in
	Head     string              `json:"head,omitempty"`    // the first line of the newest card
	Holds    Holding             `json:"holds,omitzero"`    // how long that line stands as it is
	Photos   []books.Photo       `json:"photos,omitempty"`  // to be kept with the record
	V        int                 `json:"v,omitempty"`       // version of the dialog that wrote it
	Retyped  map[string]string   `json:"retyped,omitempty"` // answers to be given when their screen asks
	Chosen   *PIN                `json:"chosen,omitempty"`  // a personal code that was typed once
	Renewed  *Renewed            `json:"renewed,omitempty"` // what an older program had asked
}

// Holding says under what a first line that names a day stays as it is, so that nobody
// needs to ask the plan of days for it. The zero value is none.
type Holding struct {
	Shop    shop.ID   `json:"shop"`
	Version int64     `json:"version"` // of its settings
	Lang    string    `json:"lang"`
	Title   string    `json:"title"`
	From    time.Time `json:"from"`
	Until   time.Time `json:"until"` // no longer at this instant
}

// Answers are what was answered of one question about counts. They stand apart
// from what else a dialog keeps, so that a newer form of it can still tell them.
type Answers struct {
	Counts []int64        `json:"counts,omitempty"` // by line; -1 is not answered yet
	Sure   map[int]int64  `json:"sure,omitempty"`   // by line: a count that was insisted on
	Money  map[int]string `json:"money,omitempty"`  // by line: the amount of money a count was written as
	Lone   string         `json:"lone,omitempty"`   // a figure, as typed, whose line is not known
	Mended bool           `json:"mended,omitempty"` // a count was money; the others may be, too
	Told   bool           `json:"told,omitempty"`   // what stands above the question was shown
}

func (a *Answers) clone() *Answers {
	n := *a
	n.Counts, n.Sure, n.Money = slices.Clone(a.Counts), maps.Clone(a.Sure), maps.Clone(a.Money)
	return &n
}

// Renewed is a dialog that an older program had under way.
type Renewed struct {
	Flow    string            `json:"flow"`
	Told    string            `json:"told,omitempty"`    // the figures typed so far, in words
	Retyped map[string]string `json:"retyped,omitempty"` // the same, by screen, as they could be typed again
	Period  int64             `json:"period,omitempty"`  // what they are about; 0: no period

	Works bool `json:"works,omitempty"` // as in State, of the screen that was open
	Blind bool `json:"blind,omitempty"`
	Code  bool `json:"code,omitempty"` // a personal code may be typed still
}

// Leave is a command that would end the dialog under way.
type Leave struct {
	Command string    `json:"command"` // empty: the tap that books, hours later
	Rest    string    `json:"rest,omitempty"`
	Left    time.Time `json:"left,omitzero"` // nothing was answered since, for hours, at the last card
}

// Aside is a dialog that was left with figures, which happened.
type Aside struct {
	Flow  string          `json:"flow"`
	Step  string          `json:"step"`
	Draft json.RawMessage `json:"draft"` // what it held, a [Draft]
}

// Clone gives a copy that shares nothing with the state which a step may change.
func (s State) Clone() State {
	c := s
	c.Draft.Answers = make(map[string]*Answers, len(s.Draft.Answers))
	for name, a := range s.Draft.Answers {
		c.Draft.Answers[name] = a.clone()
	}
	c.Lessons, c.Draft.Taught = maps.Clone(s.Lessons), slices.Clone(s.Draft.Taught)
	c.Draft.Form, c.Shown = slices.Clone(s.Draft.Form), slices.Clone(s.Shown)
	c.Draft.Counts = maps.Clone(s.Draft.Counts)
	for name, v := range s.Draft.Counts {
		c.Draft.Counts[name] = slices.Clone(v)
	}
	c.Snoozed = maps.Clone(s.Snoozed)
	c.Seen = maps.Clone(s.Seen)
	if s.Walk != nil {
		c.Walk = s.Walk.clone()
	}
	c.Draft.Choices = maps.Clone(s.Draft.Choices)
	c.Draft.Photos = slices.Clone(s.Draft.Photos)
	c.Draft.Retyped = maps.Clone(s.Draft.Retyped)
	if s.Draft.Leave != nil || s.Draft.Renewed != nil || s.Draft.Then != nil || s.Draft.Aside != nil {
		c.Draft.Leave, c.Draft.Renewed = copied(s.Draft.Leave), copied(s.Draft.Renewed)
		if c.Draft.Then = copied(s.Draft.Then); s.Draft.Aside != nil {
			c.Draft.Aside = copied(s.Draft.Aside)
			c.Draft.Aside.Draft = slices.Clone(s.Draft.Aside.Draft)
		}
	}
	if s.Held != nil {
		c.Held = s.Held.clone()
	}
	if s.Draft.Chosen != nil {
		c.Draft.Chosen = s.Draft.Chosen.clone()
	}
	if c.Draft.Renewed != nil {
		c.Draft.Renewed.Retyped = maps.Clone(s.Draft.Renewed.Retyped)
	}
	return c
}

func copied[T any](p *T) *T {
	if p == nil {
		return nil
	}
	n := *p
	return &n
}

// older reports whether a dialog is under way that an older program wrote down.
func (s State) older() bool { return s.Flow != "" && s.V < StateFormat }

// Under gives the activity a state stands for. One of an older program is taken
// for a count until its person is told that it cannot go on.
func (s State) Under(chat Chat, person shop.PersonID) (a Activity, ok bool) {
	if !s.Works && !s.older() {
		return a, false
	}
	a = Activity{Chat: chat, Person: person, Machine: s.Machine, Flow: s.Flow, Blind: s.Blind || s.older(),
		Period: s.Draft.Period,
		Since:  s.Since, Began: s.Since}
	if s.Left {
		a.Since = a.Since.Add(-longAgo)
	}
	return a, true
}

// longAgo is how much longer than it is somebody's work is taken to rest who said that they
// had to go, so that they are in nobody's way.
const longAgo = 24 * time.Hour

// Walk is a guide under way in a chat. It runs beside the dialog, which stays
// as it is.
type Walk struct {
	Guide string    `json:"guide"`
	Step  string    `json:"step"`
	Taken []string  `json:"taken,omitempty"` // words of the choices so far
	Fault int64     `json:"fault,omitempty"` // record of its incident; 0: there is none
	Last  time.Time `json:"last,omitzero"`   // somebody last said or tapped something in it

	Machine shop.MachineID `json:"machine,omitempty"` // whose incident it is

	// Under is the guide for a fault that a question interrupted.
	Under *Walk `json:"under,omitempty"`
}

func (w *Walk) clone() *Walk {
	n := *w
	n.Taken = slices.Clone(w.Taken)
	if w.Under != nil {
		n.Under = w.Under.clone()
	}
	return &n
}

// Of gives what was answered of a question so far, making room at first.
func (d *Draft) Of(question string) *Answers {
	a := d.Answers[question]
	if a == nil {
		a = &Answers{}
		if d.Answers == nil {
			d.Answers = map[string]*Answers{}
		}
		d.Answers[question] = a
	}
	return a
}

// Counted gives the counts of a question that was asked; nil for one that was not.
func (d *Draft) Counted(question string) []int64 {
	if a := d.Answers[question]; a != nil {
		return a.Counts
	}
	return nil
}

// Drop drops the counts of questions; what was said above them stays said.
func (d *Draft) Drop(questions ...string) {
	for _, name := range questions {
		if a := d.Answers[name]; a != nil {
			a.Counts = nil
		}
	}
}

// Begun reports whether any count was begun.
func (d *Draft) Begun() bool {
	for _, a := range d.Answers {
		if a.Lone != "" || slices.ContainsFunc(a.Counts, func(n int64) bool { return n >= 0 }) {
			return true
		}
	}
	return false
}
