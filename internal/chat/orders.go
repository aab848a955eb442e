package chat

import (
	"slices"
	"time"

	"shopfloat/internal/advice"
	"shopfloat/internal/books"
	"shopfloat/internal/dues"
	"shopfloat/internal/reminders"
	"shopfloat/internal/settling"
	"shopfloat/internal/shop"
)

// Hurt stands for the words of a message that was dropped unread and spoke of
// somebody who is hurt.
const Hurt = "hurt"

// CheckMark stands in a reply where the check word of the machine's ledger is
// to be: it is known when the records of the step are written.
const CheckMark = "{check}"

// More kinds of input. None of them holds what a person typed.
const (
	Opened Kind = "link"   // a link was opened; Facts.Link tells what it leads to
	Secret Kind = "secret" // a message that seemed to hold a combination or code; its words are gone
	Proof  Kind = "proof"  // a personal code; Text is one of the proofs, Kept what is to be kept of a new one
)

// What became of a personal code that was typed.
const (
	ProofRight = "right"
	ProofWrong = "wrong"
	ProofWait  = "wait"  // too many wrong ones
	ProofNone  = "none"  // the person has no code yet
	ProofNew   = "new"   // a code that is to be set, typed for the first time
	ProofSame  = "same"  // typed again, the same
	ProofOther = "other" // typed again, another one
	ProofPoor  = "poor"  // not 4 to 8 digits, or all the same
	// ProofLocked is the guess after which no other is looked at for a while.
	ProofLocked = "locked"
	ProofAgain  = "again" // it was dropped unread, to be typed once more
)

// PIN is what is kept of a personal code.
type PIN struct {
	Salt []byte `json:"salt"`
	Hash []byte `json:"hash"`
}

func (p *PIN) clone() *PIN {
	n := copied(p)
	if n != nil {
		n.Salt, n.Hash = slices.Clone(p.Salt), slices.Clone(p.Hash)
	}
	return n
}

// LinkState says what a link is good for.
type LinkState string

// The states of a link. A link nobody made is unknown.
const (
	LinkGood    LinkState = "good"
	LinkUsed    LinkState = "used"
	LinkExpired LinkState = "expired"
	LinkUnknown LinkState = "unknown"
)

// Link is what the link somebody opened leads to.
type Link struct {
	State  LinkState
	Shop   *shop.Shop    // nil: to a shop of its own
	Person shop.PersonID // 0: somebody new
	Role   shop.Role
	Name   string
	By     shop.PersonID // who made it; 0: the program
	Member bool          // the chat belongs to that shop already
}

// Phone is an account of somebody of the shop.
type Phone struct {
	Chat   Chat
	Person shop.PersonID
	Shared bool
	Frozen bool
	Gone   bool // cannot be written to: its person blocked the bot, or deleted the account
}

// Told is somebody who was sent messages of one name.
type Told struct {
	Person shop.PersonID
	Times  int // messages that arrived, edits apart
	Last   time.Time
}

// Site is a machine that the speaker may look at, in any of their shops.
type Site struct {
	Shop    *shop.Shop
	Person  shop.Person // the speaker there
	Machine *books.Machine
	Blind   bool // somebody is counting it
	Shared  bool // the phone is one that several people use there: nobody is known to speak
	Ask     Ask  // of the machine; what the bank owes is what is still to come
}

// Did is a record in one line.
type Did struct {
	Machine  shop.MachineID
	Seq      int64
	Kind     books.Kind
	Happened time.Time
}

// Ask gives what only few steps need to know. Nil functions know nothing.
type Ask struct {
	Phones func() []Phone
	Sites  func() []Site
	Did    func(by shop.PersonID, since time.Time) []Did // oldest first

	Entries func() []books.Entry          // the machine's whole ledger, oldest first
	Since   func(seq int64) []books.Entry // of it what [books.From] gives
	// Lately gives what is to be read to tell of the days from one on: the machine's books
	// before any record of them, nil for none, and all entries since.
	Lately func(from shop.Date) (*books.Machine, []books.Entry)

	// Before gives what is to be read to work out anew what came from an entry on: the machine's
	// books before it, nil for none, and all entries since.
	Before func(seq int64) (*books.Machine, []books.Entry)

	// Learned gives what the ledger tells advice; nil: it is to be learned from all entries.
	Learned func() (advice.State, error)

	Claims func(dues.Wanted) []books.Claim  // of what the bank owes or owed for the machine
	Owed   func(since shop.Date) dues.Owed  // is still to come for days since one; empty: for all
	Due    func(before shop.Date) dues.Owed // is still to come that was due before a day

	// At gives another machine of the shop, whether somebody is counting it, and what can
	// be asked of it.
	At func(id shop.MachineID) (m *books.Machine, blind bool, ask Ask)

	// Told lists the people of the shop who were sent messages of a name, as far back as
	// is still known; only what has truly gone out counts.
	Told func(key string) []Told

	// Coded says whether somebody has a personal code.
	Coded func(shop.PersonID) bool
	// Books gives a machine of any shop that the speaker keeps the books of, with these
	// claims at hand; nil: they do not.
	Books func(id shop.MachineID, of []int64) (*shop.Shop, *books.Machine)

	Finished func() []shop.Finished // months of the shop whose figures stay

	Taught  func(phrase string) string // what words of the shop's own mean; empty: nobody said
	Phrases func() Phrases             // what was not understood of late, and what words mean

	Copied func() *Copied // the last copy of the file; nil: none is known of
	Proved func() *Proved // whether the records of the shop hold together; nil: nobody looked yet
	// Estates lists the machines of all shops of an owner of this one, by shop and machine;
	// none for somebody without a phone.
	Estates func(owner shop.PersonID) []Estate
}

// Proved tells of the last look at the records of a shop.
type Proved struct {
	At      time.Time
	Entries int
	Faults  int // things that do not hold together
}

// Estate is a machine of an owner, as the letter of the week tells of it.
type Estate struct {
	Shop     *shop.Shop
	Machine  *books.Machine       // with what the bank owes
	Past     func() []books.Entry // recorded within [PastReach], oldest first
	Learned  func() (advice.State, error)
	Reminded []Reminded                       // of its tasks, within the same time
	Blind    bool                             // somebody is counting it
	Check    string                           // the check word of its records
	Due      func(before shop.Date) dues.Owed // still to come that was due before a day
	Missed   []Missed                         // what was not understood in its shop of late
}

// Reminded is a task that people were sent reminders of.
type Reminded struct {
	Name        reminders.Name
	First, Last time.Time
}

// Copied tells of a copy of the file that all of this is kept in.
type Copied struct {
	At      time.Time
	Entries int
	Faults  int // things in it that do not hold together
}

// LinkMark stands in a reply where the link of an Invite is to be. The code in it
// is drawn when the message is sent, so that it never stands in the file.
const LinkMark = "{link}"

// Invite asks for a link that lets somebody in once.
type Invite struct {
	Person  shop.PersonID // somebody who has a place already; 0: somebody new
	Name    string
	Role    shop.Role
	Expires time.Time
}

// Decision says which phone is a person's, of the one that had been theirs and one
// that took its place.
type Decision struct {
	Person shop.PersonID
	Old    bool
}

// NewPIN is a personal code to be kept.
type NewPIN struct {
	Person shop.PersonID
	PIN
}

// Orders are what a step wants done besides records, settings and replies. They
// are carried out after those, in the order of the fields. In new settings a
// person or machine of number 0 is new and gets one.
type Orders struct {
	Remove shop.PersonID // accounts, dialogs, waiting messages and links of this person go
	Freeze shop.PersonID // accounts, dialogs and waiting messages are cut off
	Thaw   shop.PersonID // the accounts may talk again
	Found  bool          // the settings are those of a new shop, which the chat talks about from now on
	Accept bool          // the link is used up: from now on the chat talks for its person, or for the new one
	Share  *Phone        // mark this phone, or take the mark off
	Turn   shop.ID       // the chat talks about this shop from now on
	Erase  shop.PersonID // the name goes, the records stay
	PIN    *NewPIN       // of the speaker, or of whoever chose one at the counter
	Void   shop.PersonID // the personal code is of no use any more
	Decide *Decision     // which of two phones is a person's
	Invite *Invite
	Read   *ToRead       // a statement is to be read; an input of kind Read tells what is in it
	Tie    *Tie          // what was said of a bank's statements, to be remembered
	Finish string        // the figures of this month, like 2026-11, stay as they are
	Missed string        // words, in their plain form, that were not understood at once
	Teach  *Phrase       // what words mean from now on; without a meaning: nothing any more
	As     shop.PersonID // who makes the records on a shared phone; 0: whose chat it is
}

// ToRead asks for a statement to be read.
type ToRead struct {
	Statement int64       // 0: the one in Photo, which is new
	Photo     books.Photo // by which it is fetched
	Want      settling.Want
}

// Tie says of which shops an account is, and how its tables are understood.
type Tie struct {
	Shops    []shop.ID
	Accounts []string
	Table    *shop.Table
}

// MenuItem is a line of the menu of commands a chat offers.
type MenuItem struct {
	Name string `json:"n"`
	Text string `json:"t"`
}

// Robbery is the guide that wins over everything else.
const Robbery = "robbery"
