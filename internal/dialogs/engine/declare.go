package engine

import (
	"cmp"
	"shopfloat/internal/access"
)

// Each dialog, each command and each card that stands by itself is declared once, with every property that
// others ask for. The zero value of a property means that nobody has said; a test refuses it.

// safe says how the safe stands meanwhile.
type safe string

const (
	SafeShut safe = "shut"
	SafeOpen safe = "open" // each card offers "Customers came"
)

// presence says where the person is.
type presence string

const (
	AtWork   presence = "at work"        // at the machine; another person is told before beginning there
	OutOfWay presence = "out of the way" // in nobody's way
)

// company says whether a dialog begins while another person is at work.
type company string

const (
	OneAtATime company = "one at a time" // only if that one's work is taken over
	SideBySide company = "side by side"  // two people may do it at once
)

// tells says whether the cards tell what should be there, or what was paid
// out, so that they are shut while somebody counts.
type tells string

const (
	TellsNothing tells = "nothing"
	TellsFigures tells = "figures"
)

// again says what the words are that follow the dialog's own command within it.
type again string

const (
	AnswersAgain again = "answers"      // an answer to the open question
	BegunAgain   again = "begun afresh" // those of the dialog begun afresh
)

// paper says whether something from earlier, like a day kept on paper, is entered by the dialog.
type paper string

const (
	OffPaper  paper = "off"       // it is about now
	Alongside paper = "alongside" // it has no part on the paper form; a time that was asked for is its time
	ThatDay   paper = "that day"  // of a day that is not closed yet
	AnyDay    paper = "any day"   // of a closed day, too
)

// phone says on which phones something can be done, the wider first.
type phone int

const (
	AnyPhone  phone = 1
	OwnPhone  phone = 2 // not on the phone on the counter
	SurePhone phone = 3 // nor while it is open which of two phones is the speaker's
)

// ready says when something can be done.
type ready string

const (
	OnceSetUp ready = "once set up"
	FromStart ready = "from the start" // also before the shop is set up
)

// Rights say who may do something, where and when.
type Rights struct {
	Role  access.Circle
	Phone phone
	Ready ready
}

// May says all of who may do something, on which phones, and from when on.
func May(role access.Circle, phone phone, ready ready) Rights {
	return Rights{Role: role, Phone: phone, Ready: ready}
}

// or takes from other rights what these leave unsaid.
func (r Rights) or(other Rights) Rights {
	return Rights{Role: cmp.Or(r.Role, other.Role), Phone: cmp.Or(r.Phone, other.Phone),
		Ready: cmp.Or(r.Ready, other.Ready)}
}

// Banking tells apart the two ways the bank moves money.
type Banking struct{ Took bool }

// Command is something a person can ask for by a word or two. The words for it stand in the catalogue under
// "words.<name>", set apart by commas; help shows the first. Where it belongs to a dialog its rights are the
// dialog's, unless it says otherwise.
type Command struct {
	Name string
	Rights
	Does  doing
	Run   func(*Talk) // nil: it begins the dialog it belongs to
	Help  Helping
	Takes words
	Menu  int // place in the platform's menu, from 1 on; 0 for none

	Dated   bool             // today behind its words is a day of its own, and no courtesy
	Boxes   bool             // a note box may be named after it, whatever else it takes
	Answers bool             // its words may be an answer to the open question, too
	Finds   bool             // they may be one where notes in the box for refused notes are asked for
	Plea    bool             // a call for help: with more words a question, in a robbery it gets the guide
	Guided  bool             // a guide's card offers it
	Hours   bool             // hours or a day behind its words are about the plan: it is not begun
	Printed func(*Talk) bool // it asks for the printed figures of a count under way

	flow string // of the dialog it begins; the engine fills it in
}

// doing says what a command does to the dialog under way.
type doing string

const (
	StartsDialog doing = "starts" // another dialog takes its place
	TellsOnly    doing = "tells"  // it stays, and its card is shown again
	endsDialog   doing = "ends"   // it is given up
)

// Helping says where help shows a command.
type Helping string

const (
	HelpOften Helping = "often" // at once
	HelpMore  Helping = "more"  // on the further pages
	HelpNever Helping = "never"
)

// words say what can follow a command.
type words string

const (
	AnyWords    words = "any"
	OnlyFigures words = "figures" // no words, only figures and units
	NoWords     words = "none"    // not even these: what begins with its words may be a sentence
)

// Standing is a card that stands by itself: its buttons carry its name. Where
// it belongs to a dialog its rights are the dialog's, unless it says otherwise.
type Standing struct {
	Name string
	Rights
	Tap   func(*Talk, string)
	Typed func(arg string) bool // optional: whether the words of its buttons may be typed, as they book nothing
}

// Asked is a question of a dialog, as far as the engine has to know it.
type Asked interface {
	Called() string
	Answered(*Talk) []string // the lines that are answered, like "20s 150"; nil when it was passed over
	Noughts(*Talk) bool      // each line that is answered is none
	Kept(*Talk) bool         // the answers stand in a record by now
	Retype(*Talk) string     // the answers as they could be typed again
}

// Declaration is a part of the engine's table.
type Declaration interface{ declare(*Engine) }

func (f *Flow) declare(e *Engine) {
	e.Flows[f.Name] = f
	e.Listed = append(e.Listed, f)
	e.allow(f.Name, f.Rights)
	for _, cmd := range f.Commands {
		cmd.Rights = cmd.or(f.Rights)
		if cmd.Does == StartsDialog {
			cmd.flow = f.Name
		}
		cmd.declare(e)
	}
	for _, s := range f.Cards {
		s.Rights = s.or(f.Rights)
		s.declare(e)
	}
}

func (cmd Command) declare(e *Engine) {
	if cmd.Run == nil {
		cmd.Run = func(c *Talk) { c.Begin(cmd.flow) }
	}
	e.commands = append(e.commands, cmd)
	e.allow(cmd.Name, cmd.Rights)
}

func (s Standing) declare(e *Engine) {
	e.cards[s.Name] = s
	e.allow(s.Name, s.Rights)
}

// allow lays down who may do something. A dialog, its command and its card may
// have one name; then they have the same rights.
func (e *Engine) allow(name string, r Rights) { e.rights[name] = r }
