// Package founding is what is answered about a shop and one machine before it is laid down:
// how it is read, shown, and what settings it comes to.
package founding

import (
	"cmp"
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/guides"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// Answers are what was answered about a shop and one machine; nil is not yet.
type Answers struct {
	Me         *string          `json:"me,omitempty"` // what the speaker is called
	Shop       *string          `json:"shop,omitempty"`
	Country    *string          `json:"country,omitempty"`
	Meant      string           `json:"meant,omitempty"` // country whose name is a letter away from what was typed
	Part       string           `json:"part,omitempty"`  // what was typed for the country, which may be a part of it
	Region     *string          `json:"region,omitempty"`
	Zone       *string          `json:"zone,omitempty"`
	Currency   *string          `json:"currency,omitempty"`
	Machine    *string          `json:"machine,omitempty"`  // its name
	Boxes      *[]cashmath.Face `json:"boxes,omitempty"`    // from top to bottom
	Capacity   *[]int64         `json:"capacity,omitempty"` // by box
	Low        *[]int64         `json:"low,omitempty"`      // by box
	Bundle     *[]int64         `json:"bundle,omitempty"`   // by kind of note, highest first
	Night      *Night           `json:"night,omitempty"`
	Limit      *decimal.Decimal `json:"limit,omitempty"`
	Hours      *[7]shop.Hours   `json:"hours,omitempty"`
	Likely     [7]shop.Hours    `json:"likely,omitzero"`    // hours that are read in the likelier of two ways
	Shut       []string         `json:"shut,omitempty"`     // days of every year, MM-DD, on which it closes all the same
	ShutWith   [7]shop.Hours    `json:"shut_with,omitzero"` // the hours that those days were said with
	CreditDays *int             `json:"credit_days,omitempty"`
	CreditHow  *string          `json:"credit_how,omitempty"`
	BankLook   *string          `json:"bank_look,omitempty"`
	CreditCut  *int             `json:"credit_cut,omitempty"`
	CreditRoll *bool            `json:"credit_roll,omitempty"`
	Fee        *shop.Fee        `json:"fee,omitempty"`
	Prints     *string          `json:"prints,omitempty"`
	SlipOrder  *string          `json:"slip_order,omitempty"`
	Cancels    *bool            `json:"cancels,omitempty"`
	Lock       *string          `json:"lock,omitempty"`
	Trial      *bool            `json:"trial,omitempty"`
	Provider   *string          `json:"provider,omitempty"` // its telephone number; empty: later
	TwoPersons *bool            `json:"two_persons,omitempty"`
	OwnCorrect *bool            `json:"own_correct,omitempty"`
	NewMachine bool             `json:"new_machine,omitempty"` // it is about one that is not laid down yet
}

// Night is how a shop leaves its machine overnight.
type Night string

// The ways.
const (
	Locked Night = "locked" // emptied, the safe locked
	Open   Night = "open"   // emptied, the safe open
	Stay   Night = "stay"   // notes stay in
)

// AsBoxes says that a slip lists the kinds of note in the order of the boxes.
const AsBoxes = "boxes"

// Said gives an answer; the zero value where there is none.
func Said[T any](answer *T) (value T) {
	if answer != nil {
		value = *answer
	}
	return value
}

// Over gives settings with what the answers say of the shop and of one machine. A machine
// of number 0 is new.
func (d *Answers) Over(s shop.Settings, was *shop.Machine) shop.Settings {
	s.Name, s.Country, s.Zone, s.Currency = Said(d.Shop), Said(d.Country), Said(d.Zone), Said(d.Currency)
	if s.Region, s.BankLook = Said(d.Region), Said(d.BankLook); s.BankLook == shop.LooksDaily {
		s.BankLook = "" // as in every shop that said nothing
	}
	s.Nightly, s.SafeOpen = Said(d.Night) != Stay, Said(d.Night) == Open
	s.Limit, s.Hours = Said(d.Limit), Said(d.Hours)
	for _, day := range d.shut() {
		_, _, endless := s.Endless()
		s.Plan.TradesOnHolidays = s.Plan.TradesOnHolidays || endless // else it would keep the others
		s.Plan = reminders.ShutOn(&s, day, firstYear)
	}
	s.CreditDays, s.CreditHow = Said(d.CreditDays), Said(d.CreditHow)
	s.CreditCut, s.CreditRoll, s.Fee = Said(d.CreditCut), Said(d.CreditRoll), Said(d.Fee)
	s.Checked = s.Currency == "EUR" // Regulation (EC) 1338/2001, article 6; elsewhere nothing is known
	s.TwoPersons, s.OwnCorrect = Said(d.TwoPersons), Said(d.OwnCorrect)
	if d.Provider != nil {
		s = s.WithNumber(shop.Number{Who: string(guides.Provider), Number: *d.Provider})
	}
	m := *was
	m.Name, m.Lock, m.Prints, m.TestDispense = Said(d.Machine), Said(d.Lock), Said(d.Prints), Said(d.Trial)
	if m.SlipOrder, m.SlipCancels = Said(d.SlipOrder), Said(d.Cancels); m.SlipOrder == AsBoxes {
		m.SlipOrder = "" // as on every slip of which nobody said it
	}
	if m.LargestDispense == 0 {
		m.LargestDispense = usualDispense
	}
	m.Boxes = d.boxes(was)
	s.Bundles = d.bundles(s.Bundles, m.Faces())
	return s.WithMachine(m)
}

// shut gives the days of every year on which the shop closes all the same: they go with the
// hours they were said with, and are none of others that were chosen later.
func (d *Answers) shut() []string {
	if d.ShutWith != ([7]shop.Hours{}) && d.ShutWith != Said(d.Hours) {
		return nil
	}
	return d.Shut
}

// usualDispense is the most notes in one payout until somebody says otherwise.
// Common practice, no source.
const usualDispense = 40

// firstYear is a date of a year whose holidays are known: a day of every year has one name in all.
const firstYear shop.Date = "2026-01-01"

// PresentOn is [Present] of a date: hours from a day on that has come are those of the week.
func PresentOn(today shop.Date, of *shop.Shop, kit *shop.Machine) Answers {
	settled := *of
	settled.Settings = of.Settled(today)
	return Present(&settled, kit)
}

// Present gives the answers that the settings in force stand for; of no machine: nil.
func Present(of *shop.Shop, kit *shop.Machine) Answers {
	s := of.Settings
	night, how, look := Locked, cmp.Or(s.CreditHow, "unknown"), cmp.Or(s.BankLook, shop.LooksDaily)
	switch {
	case !s.Nightly:
		night = Stay
	case s.SafeOpen:
		night = Open
	}
	d := Answers{Shop: &s.Name, Country: &s.Country, Zone: &s.Zone, Currency: &s.Currency, Night: &night,
		Limit: &s.Limit, Hours: &s.Hours, CreditDays: &s.CreditDays, CreditHow: &how, CreditCut: &s.CreditCut,
		CreditRoll: &s.CreditRoll, TwoPersons: &s.TwoPersons, OwnCorrect: &s.OwnCorrect,
		Region: &s.Region, BankLook: &look, Fee: &s.Fee}
	if kit == nil {
		return d
	}
	m := *kit
	faces, capacity, low, bundle := []cashmath.Face{}, []int64{}, []int64{}, []int64{}
	for _, b := range m.Boxes {
		faces, capacity, low = append(faces, b.Face), append(capacity, b.Capacity), append(low, b.Low)
	}
	for _, f := range m.Faces() {
		bundle = append(bundle, of.Bundle(f))
	}
	m.Lock, m.Prints = cmp.Or(m.Lock, "key"), cmp.Or(m.Prints, "both")
	d.Machine, d.Boxes, d.Capacity, d.Low, d.Bundle = &m.Name, &faces, &capacity, &low, &bundle
	d.Trial, d.Lock, d.Prints = &m.TestDispense, &m.Lock, &m.Prints
	order := cmp.Or(m.SlipOrder, AsBoxes)
	d.SlipOrder, d.Cancels = &order, &m.SlipCancels
	return d
}

// Faces are the kinds of note in the draft, each once, highest first.
func (d *Answers) Faces() []cashmath.Face {
	m := shop.Machine{Boxes: d.boxes(&shop.Machine{})}
	return m.Faces()
}

// boxes are the note boxes of the draft; what a box that stays as it is
// usually holds is kept.
func (d *Answers) boxes(was *shop.Machine) []shop.Box {
	boxes := make([]shop.Box, len(Said(d.Boxes)))
	for i, f := range Said(d.Boxes) {
		boxes[i] = shop.Box{Position: i + 1, Face: f, Capacity: At(Said(d.Capacity), i), Low: At(Said(d.Low), i)}
		if i < len(was.Boxes) && was.Boxes[i].Face == f {
			boxes[i].Usual = was.Boxes[i].Usual
		}
	}
	return boxes
}

// bundles lays down the notes per bundle of the kinds in the draft; other
// kinds keep theirs.
func (d *Answers) bundles(was []shop.FaceNotes, faces []cashmath.Face) []shop.FaceNotes {
	list := slices.Clone(was)
	for i, f := range faces {
		n := At(Said(d.Bundle), i)
		if j := slices.IndexFunc(list, func(x shop.FaceNotes) bool { return x.Face == f }); j >= 0 {
			list[j].Notes = n
		} else {
			list = append(list, shop.FaceNotes{Face: f, Notes: n})
		}
	}
	return list
}

// AnotherMachine asks all about a machine that is new.
func (d *Answers) AnotherMachine() {
	d.NewMachine = true
	d.Machine, d.Boxes, d.Capacity, d.Low, d.Bundle = nil, nil, nil, nil, nil
	d.Lock, d.Prints, d.Trial, d.SlipOrder, d.Cancels = nil, nil, nil, nil, nil
}
