package guides

import "slices"

// StepRunesMax is the longest a step may be on the phone, cautions included,
// in characters.
const StepRunesMax = 400

// StartStep is the name of the step every guide begins with.
const StartStep = "start"

// Guide is one fault or question, walked from the step named StartStep.
type Guide struct {
	ID      string // lower case words joined by "-", for example note-jam
	Title   string
	Hazards []Hazard
	Record  []string // what to write down, in the words for the person
	Steps   []Step   // in file order
	Asked   []string // what people say when they need this guide
	File    string   // where it came from, for messages
}

// Step is one message on the phone.
type Step struct {
	Name     string
	Cautions []Caution
	Lines    []Line
	Choices  []Choice
	Call     []Contact
	End      End // EndNone when there are choices
	FileLine int // line number in the guide's file, from 1
}

// Caution is a warning shown before the text of a step.
type Caution struct {
	Hazard Hazard
	Text   string
}

// Warns reports whether the step has a caution for a hazard.
func (s Step) Warns(h Hazard) bool {
	return slices.ContainsFunc(s.Cautions, func(c Caution) bool { return c.Hazard == h })
}

// Line is one line of text, shown in shops that When fits.
type Line struct {
	When Condition
	Text string
}

// Choice is a button and the step it leads to.
type Choice struct {
	When     Condition
	Text     string
	To       string
	FileLine int
}

// Hazard is a way in which the work of a guide can hurt somebody.
type Hazard string

// The hazards a guide can declare.
const (
	Fingers     Hazard = "fingers"     // rollers, belts, shutters
	Electricity Hazard = "electricity" // mains, wet or burnt equipment
	Lifting     Hazard = "lifting"     // full note boxes, low and twisted reach
	OpenCash    Hazard = "open cash"   // cash in sight while the safe is open
	Violence    Hazard = "violence"    // robbers, angry people
	Fire        Hazard = "fire"        // fire, smoke, gas
)

// End says how a branch ends.
type End string

// The ends of a branch; EndNone means the step has choices instead.
const (
	EndNone         End = ""
	EndSolved       End = "solved"
	EndCall         End = "call for help"
	EndOutOfService End = "out of service"
)

// Contact is somebody the shop can ring; the manager enters the numbers.
type Contact string

// The contacts a guide can name.
const (
	Manager   Contact = "manager"
	Deputy    Contact = "deputy" // who stands in for the manager; shown beside the manager
	Provider  Contact = "provider"
	Engineer  Contact = "engineer"
	Broadband Contact = "broadband"
	Police    Contact = "police"
	Bank      Contact = "bank"
	Insurer   Contact = "insurer"   // after a robbery or a loss
	Emergency Contact = "emergency" // filled from the shop's country
)

// Contacts lists whom a shop can enter a number for, in the order they are shown:
// who decides for the shop comes first.
func Contacts() []Contact {
	return []Contact{Manager, Deputy, Provider, Engineer, Broadband, Police, Bank, Insurer}
}

func knownHazard(h Hazard) bool {
	switch h {
	case Fingers, Electricity, Lifting, OpenCash, Violence, Fire:
		return true
	}
	return false
}

func knownEnd(e End) bool {
	switch e {
	case EndSolved, EndCall, EndOutOfService:
		return true
	}
	return false
}

func knownContact(c Contact) bool {
	return c == Emergency || slices.Contains(Contacts(), c)
}

// Step returns the step of that name and whether there is one.
func (g Guide) Step(name string) (Step, bool) {
	for _, s := range g.Steps {
		if s.Name == name {
			return s, true
		}
	}
	return Step{}, false
}
