package dialogs

import "shopfloat/internal/access"

// Each dialog, each command and each card that stands by itself is declared
// once, with every property that others ask for. The zero value of a property
// means that nobody has said; a test refuses it.

// safe says how the safe stands meanwhile.
type safe int

const (
	safeShut safe = iota + 1
	safeOpen      // each card offers "Customers came"
)

// presence says where the person is.
type presence int

const (
	atWork   presence = iota + 1 // at the machine; another person is told before beginning there
	outOfWay                     // in nobody's way
)

// company says whether a dialog begins while another person is at work.
type company int

const (
	oneAtATime company = iota + 1 // only if that one's work is taken over
	sideBySide                    // two people may do it at once
)

// telling says whether the cards tell what should be there, or what was paid
// out, so that they are shut while somebody counts.
type telling int

const (
	tellsNothing telling = iota + 1
	tellsFigures
)

// again says what the words are that follow the dialog's own command within it.
type again int

const (
	answersAgain again = iota + 1 // an answer to the open question
	begunAgain                    // those of the dialog begun afresh
)

// paper says whether something from earlier, like a day kept on paper, is entered by the dialog.
type paper int

const (
	offPaper  paper = iota + 1 // it is about now
	alongside                  // it has no part on the paper form; a time that was asked for is its time
	thatDay                    // of a day that is not closed yet
	anyDay                     // of a closed day, too
)

// phone says on which phones something can be done.
type phone int

const (
	anyPhone phone = iota + 1
	ownPhone       // not on the phone on the counter
)

// ready says when something can be done.
type ready int

const (
	onceSetUp ready = iota + 1
	fromStart       // also before the shop is set up
)

// rights say who may do something, where and when.
type rights struct {
	role  access.Circle
	phone phone
	ready ready
}

// or takes from other rights what these leave unsaid.
func (r rights) or(other rights) rights {
	if r.role == 0 {
		r.role = other.role
	}
	if r.phone == 0 {
		r.phone = other.phone
	}
	if r.ready == 0 {
		r.ready = other.ready
	}
	return r
}

// counting tells apart the dialogs that count.
type counting struct {
	closes bool // the count ends the period, and the printed figures may wait
	own    bool // the period goes on, and the count has a difference of its own
	second bool // another person counted before
	slip   bool // the printed figures alone are taken
}

// banking tells apart the two ways the bank moves money.
type banking struct{ took bool }

// command is something a person can ask for by a word or two. The words for it
// stand in the catalogue under "words.<name>", set apart by commas; help shows
// the first. Where it belongs to a dialog its rights are the dialog's, unless it
// says otherwise.
type command struct {
	name string
	rights
	does  doing
	run   func(*talk) // nil: it begins the dialog it belongs to
	help  helping
	takes words
	menu  int // place in the platform's menu, from 1 on; 0 for none

	boxes   bool   // a note box may be named after it, whatever else it takes
	answers bool   // its words may be an answer to the open question, too
	plea    bool   // a call for help: with more words it is a question, and in a robbery it gets the guide
	offer   string // button that offers it for a plain sentence about the day's work
	guided  bool   // a guide's card offers it

	flow string // of the dialog it begins; the engine fills it in
}

// doing says what a command does to the dialog under way.
type doing int

const (
	startsDialog doing = iota + 1 // another dialog takes its place
	tellsOnly                     // it stays, and its card is shown again
	endsDialog                    // it is given up
)

// helping says where help shows a command.
type helping int

const (
	helpOften helping = iota + 1 // at once
	helpMore                     // on the further pages
	helpNever
)

// words say what can follow a command.
type words int

const (
	anyWords    words = iota + 1
	onlyFigures       // no words, only figures and units
)

// standing is a card that stands by itself: its buttons carry its name. Where
// it belongs to a dialog its rights are the dialog's, unless it says otherwise.
type standing struct {
	name string
	rights
	tap func(*talk, string)
}

// asked is a question of a dialog, as far as the engine has to know it.
type asked interface {
	Called() string
	Answered(*talk) []string // the lines that are answered, like "20s 150"; nil when it was passed over
	Noughts(*talk) bool      // each line that is answered is none
	Kept(*talk) bool         // the answers stand in a record by now
	Retype(*talk) string     // the answers as they could be typed again
}

// declaration is a part of the engine's table.
type declaration interface{ declare(*Engine) }

func (f *flow) declare(e *Engine) {
	e.flows[f.name] = f
	e.listed = append(e.listed, f)
	e.allow(f.name, f.rights)
	for _, cmd := range f.commands {
		cmd.rights = cmd.or(f.rights)
		if cmd.does == startsDialog {
			cmd.flow = f.name
		}
		cmd.declare(e)
	}
	for _, s := range f.cards {
		s.rights = s.or(f.rights)
		s.declare(e)
	}
}

func (cmd command) declare(e *Engine) {
	if cmd.run == nil {
		cmd.run = func(c *talk) { c.begin(cmd.flow) }
	}
	e.commands = append(e.commands, cmd)
	e.allow(cmd.name, cmd.rights)
}

func (s standing) declare(e *Engine) {
	e.cards[s.name] = s
	e.allow(s.name, s.rights)
}

// allow lays down who may do something. A dialog, its command and its card may
// have one name; then they have the same rights.
func (e *Engine) allow(name string, r rights) { e.rights[name] = r }
