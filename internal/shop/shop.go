// Package shop holds what a shop is: its machines and their note boxes, its
// people and their roles, its hours and its limits. All of it is versioned
// data; a period in the books names the version that was in force.
package shop

import (
	"fmt"
	"slices"
	"sync"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/cashmath"
)

// ID numbers a shop within one store.
type ID int64

// MachineID numbers a machine within one store.
type MachineID int64

// PersonID is a random number that stands for a person in every record. It
// says nothing about the account the person writes from.
type PersonID int64

// Role says what a person may do.
type Role string

// The roles. An owner may do what a manager may, a manager what staff may.
const (
	Owner   Role = "owner"
	Manager Role = "manager"
	Staff   Role = "staff"

	// A bookkeeper records and matches what the bank pays and exports; never counts.
	Bookkeeper Role = "bookkeeper"
)

// Roles lists every role, the most powerful first.
func Roles() []Role { return []Role{Owner, Manager, Staff, Bookkeeper} }

// Manages reports whether the role is told of differences and open tasks.
func (r Role) Manages() bool { return r == Owner || r == Manager }

// Person is somebody who works in the shop.
type Person struct {
	ID   PersonID `json:"id"`
	Name string   `json:"name,omitempty"` // kept apart from the versions, so that it can be erased
	Role Role     `json:"role"`

	// Deputy: stands in for an absent manager.
	Deputy bool `json:"deputy,omitempty"`

	// Signs: may choose a personal code on the phone at the counter, with the first
	// record there.
	Signs bool `json:"signs,omitempty"`

	// Disputed: an earlier phone of theirs said that the new one is not theirs, and no
	// owner has decided yet.
	Disputed bool `json:"disputed,omitempty"`
}

// Acts is the role a person has at present: staff who stand in act as manager.
func (p Person) Acts() Role {
	if p.Deputy && p.Role == Staff {
		return Manager
	}
	return p.Role
}

// Box is a note box (cassette) of a machine. Two boxes may hold one face value.
type Box struct {
	Position int           `json:"position"` // 1 is the top one
	Face     cashmath.Face `json:"face"`
	Capacity int64         `json:"capacity"` // notes
	Low      int64         `json:"low"`      // notes; at or below it the box counts as nearly empty
	Usual    int64         `json:"usual"`    // notes usually loaded, until the books know better
}

// Machine is one cash machine.
type Machine struct {
	ID              MachineID `json:"id"`
	Name            string    `json:"name"`
	Boxes           []Box     `json:"boxes"`                  // by position
	LargestDispense int64     `json:"largest_dispense"`       // notes in one payout
	TestDispense    bool      `json:"test_dispense"`          // the shop tries a payout after loading
	Lock            string    `json:"lock,omitempty"`         // of the safe: key, dial or electronic
	Prints          string    `json:"prints,omitempty"`       // what its slip shows: notes, money, both or nothing
	SlipOrder       string    `json:"slip_order,omitempty"`   // of kinds on its slip: high or low first; empty: as the boxes
	SlipCancels     bool      `json:"slip_cancels,omitempty"` // it shows cancelled payouts, which are asked for then

	RestartMinutes int `json:"restart_minutes,omitempty"` // how long a restart takes; 0 is not laid down
}

// FaceNotes is a number of notes laid down for one face value.
type FaceNotes struct {
	Face  cashmath.Face `json:"face"`
	Notes int64         `json:"notes"`
}

// Settings is one version of everything a shop has laid down.
type Settings struct {
	Name      string          `json:"name"`
	Country   string          `json:"country"`          // ISO 3166-1 alpha-2
	Region    string          `json:"region,omitempty"` // as the table of holidays names it
	Zone      string          `json:"zone"`             // IANA name
	Currency  string          `json:"currency"`         // ISO 4217
	Nightly   bool            `json:"nightly"`          // emptied every night; false: notes stay in
	Limit     decimal.Decimal `json:"limit"`            // most cash allowed inside, by the insurer; 0 is none
	SafeOpen  bool            `json:"safe_open"`        // empty safe is left open overnight, agreed with insurer and operator
	Checked   bool            `json:"checked"`          // the law asks the shop to check notes before they are paid out
	Hours     [7]Hours        `json:"hours"`            // Sunday first, like time.Weekday
	Machines  []Machine       `json:"machines"`
	People    []Person        `json:"people"`
	Bundles   []FaceNotes     `json:"bundles"`   // notes per bundle
	Tolerance []FaceNotes     `json:"tolerance"` // notes of difference that ask no reason
	Plan      Plan            `json:"plan,omitzero"`
	Load      Load            `json:"load,omitzero"` // how much to load

	Numbers []Number `json:"numbers,omitempty"` // whom to ring
	Advice  []Advice `json:"advice,omitempty"`  // the provider's own, by topic

	Former     []Person `json:"former,omitempty"`      // worked here; their records still name them
	TwoPersons bool     `json:"two_persons,omitempty"` // a closing count needs a second person
	OwnCorrect bool     `json:"own_correct,omitempty"` // whoever closed a day may correct it alone, other managers or not
	CreditDays int      `json:"credit_days,omitempty"` // working days until the bank credits; 0 is not known
	CreditHow  string   `json:"credit_how,omitempty"`  // each: settlement by settlement; together: in one sum
	CreditCut  int      `json:"credit_cut,omitempty"`  // minutes after midnight; a later settlement is the next day's; 0: none
	CreditRoll bool     `json:"credit_roll,omitempty"` // one on a day without banking counts as the next banking day's
	BankLook   string   `json:"bank_look,omitempty"`   // how often somebody looks at the bank; empty: daily
	Bank       Bank     `json:"bank,omitzero"`         // what was said of the bank's statements
	Fee        Fee      `json:"fee,omitzero"`          // the shop's own income for each payout

	FeesBefore []FeeUntil `json:"fees_before,omitempty"` // what it was before, oldest first
	Fresh      bool       `json:"fresh,omitempty"`       // claimed, and not set up yet
	By         PersonID   `json:"by,omitempty"`          // who laid this version down; 0 is the program
}

// How often somebody looks at what the bank paid.
const (
	LooksDaily       = "daily"
	LooksWeekly      = "weekly"
	LooksByStatement = "statement" // when the statement of a month has come
)

// Shop is one version of a shop's settings, ready for use.
type Shop struct {
	ID       ID
	Version  int64
	Location *time.Location
	Settings
}

// zones holds every zone that was asked for: reading one takes longer and fills more
// memory than all the rest of a shop, and what is read never changes.
var zones sync.Map // of *time.Location by name

func location(name string) (*time.Location, error) {
	if known, ok := zones.Load(name); ok {
		return known.(*time.Location), nil
	}
	loc, err := time.LoadLocation(name)
	if err != nil {
		return nil, err
	}
	kept, _ := zones.LoadOrStore(name, loc)
	return kept.(*time.Location), nil
}

// New checks settings and finds the zone.
func New(id ID, version int64, s Settings) (*Shop, error) {
	loc, err := location(s.Zone)
	if err != nil {
		return nil, fmt.Errorf("shop %d: zone: %w", id, err)
	}
	if _, err := cashmath.LookupCurrency(s.Currency); err != nil {
		return nil, fmt.Errorf("shop %d: %w", id, err)
	}
	if err := s.Plan.check(); err != nil {
		return nil, fmt.Errorf("shop %d: %w", id, err)
	}
	if s.endsEndless() {
		return nil, fmt.Errorf("shop %d: days begin or cease to have an end from a later day on", id)
	}
	if err := s.Load.check(); err != nil {
		return nil, fmt.Errorf("shop %d: %w", id, err)
	}
	if err := s.checkTrouble(); err != nil {
		return nil, fmt.Errorf("shop %d: %w", id, err)
	}
	for _, m := range s.Machines {
		for i, b := range m.Boxes {
			if b.Position != i+1 || b.Capacity <= 0 || b.Face == "" {
				return nil, fmt.Errorf("shop %d: machine %d: box %d is not well formed", id, m.ID, i+1)
			}
		}
	}
	return &Shop{ID: id, Version: version, Location: loc, Settings: s}, nil
}

// Machine finds a machine of the shop, or nil.
func (s *Shop) Machine(id MachineID) *Machine {
	for i := range s.Machines {
		if s.Machines[i].ID == id {
			return &s.Machines[i]
		}
	}
	return nil
}

// Meant is the first machine of some that the shop has, or its first one; 0 where it has none.
func (s *Shop) Meant(wanted ...MachineID) MachineID {
	for _, id := range wanted {
		if s.Machine(id) != nil {
			return id
		}
	}
	if len(s.Machines) > 0 {
		return s.Machines[0].ID
	}
	return 0
}

// Person finds a person of the shop.
func (s *Shop) Person(id PersonID) (Person, bool) {
	i := slices.IndexFunc(s.People, func(p Person) bool { return p.ID == id })
	if i < 0 {
		return Person{}, false
	}
	return s.People[i], true
}

// Managed reports whether somebody besides the owners manages the shop.
func (s *Shop) Managed() bool {
	return slices.ContainsFunc(s.People, func(p Person) bool { return p.Acts() == Manager })
}

// Known finds a person who works in the shop or worked there.
func (s *Shop) Known(id PersonID) (Person, bool) {
	if p, ok := s.Person(id); ok {
		return p, true
	}
	i := slices.IndexFunc(s.Former, func(p Person) bool { return p.ID == id })
	if i < 0 {
		return Person{}, false
	}
	return s.Former[i], true
}

// Bundle gives the notes in one bundle of a face value; 0 is unknown.
func (s *Shop) Bundle(f cashmath.Face) int64 { return lookup(s.Bundles, f) }

// Allowed gives the difference in notes that asks no reason.
func (s *Shop) Allowed(f cashmath.Face) int64 { return lookup(s.Tolerance, f) }

func lookup(list []FaceNotes, f cashmath.Face) int64 {
	for _, fn := range list {
		if fn.Face == f {
			return fn.Notes
		}
	}
	return 0
}

// Faces lists the machine's face values, each once, highest first.
func (m *Machine) Faces() []cashmath.Face {
	var faces []cashmath.Face
	for _, b := range m.Boxes {
		if !slices.Contains(faces, b.Face) {
			faces = append(faces, b.Face)
		}
	}
	slices.SortFunc(faces, func(a, b cashmath.Face) int { return b.Cmp(a) })
	return faces
}
