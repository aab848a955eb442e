package chat

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/settling"
	"shopfloat/internal/shop"
)

// Kind says what an input is.
type Kind string

// The kinds of input.
const (
	Text    Kind = "text"    // a message
	Press   Kind = "press"   // a tap on a button
	Picture Kind = "picture" // a photo, with Text as its caption
	Sent    Kind = "sent"    // a file that is no picture: Photo names it
	Read    Kind = "read"    // a statement was read: Reading says what is in it
	Redraw  Kind = "redraw"  // show the open card again: taps may have been lost
	Remind  Kind = "remind"  // a deadline came due; Text names it, see Deadline
	Edited  Kind = "edited"  // an earlier message was changed; what it says now is not told
	Foreign Kind = "foreign" // anything else a chat can send
)

// Chat names a private conversation: adapter and account, like "tg:1000001" or "term:owner".
type Chat string

// Input is one thing that happened in a chat.
type Input struct {
	Chat  Chat
	Kind  Kind
	Text  string
	Tap   string // Press: the button's payload as it came back, not to be trusted
	Photo books.Photo
	At    time.Time // when it took effect

	// Remind only. Due is the instant that was asked for, which may be long past;
	// Again says that the clock went back and it has been answered before.
	Due   time.Time
	Again bool

	From    string `json:",omitempty"` // Opened: what the person chose to be called in their chat program
	Public  string `json:",omitempty"` // Opened: the name that is theirs alone there, if they have one
	What    string `json:",omitempty"` // Secret: what was found, as package secrets names it
	Message int64  `json:",omitempty"` // number of the message in its chat, where it has one
	Kept    *PIN   `json:",omitempty"` // Proof

	// Card is a message of the bot's own that came along: it was tapped, answered or
	// forwarded. Its words are not to be trusted.
	Card *Card `json:",omitempty"`

	Statement int64             `json:",omitempty"` // Read: its number
	Reading   *settling.Reading `json:",omitempty"` // Read; nil: the file cannot be had
}

// Card is a message that the bot sent before.
type Card struct {
	Text string
	At   time.Time // sent, or changed last
}

// MachineChat stands for the chat of an input that comes from none: a deadline
// of a machine must not depend on whether some chat can be reached. Nothing can
// be sent there.
func MachineChat(id shop.MachineID) Chat { return Chat("machine:" + strconv.FormatInt(int64(id), 10)) }

// Facts are what a step may know besides the chat's own state.
type Facts struct {
	Shop    *shop.Shop     // nil: the chat belongs to no shop
	Person  shop.Person    // who speaks
	Machine *books.Machine // its books; not to be changed
	Others  []Activity     // dialogs other people have under way at this machine
	Lang    string         // language the person uses, "en" when unknown
	Link    *Link          // Opened: what it leads to
	Shared  bool           // the phone on the counter, which several people use
	Several bool           // the chat belongs to other shops too

	// Elsewhere: the tapped card is of another shop than the chat talks about.
	Elsewhere bool
	Ask       Ask
}

// Activity is a dialog under way at a machine.
type Activity struct {
	Chat    Chat
	Person  shop.PersonID
	Machine shop.MachineID
	Flow    string
	Blind   bool  // a count that nobody may see the expected figures of
	Period  int64 // that it is about; 0: none
	Since   time.Time
	Began   time.Time // as Since, also of somebody who said that they had to go
	Moved   time.Time // when its person was last heard; zero: not asked for
}

// Block is a piece of a message.
type Block struct {
	Text  string `json:"t"`           // lines
	Fixed bool   `json:"f,omitempty"` // figures in columns, to be shown in a fixed-width font
}

// Button is a button under a message. Data goes with a tap, at most 64 bytes.
type Button struct {
	Label string `json:"l"`
	Data  string `json:"d"`
}

// Audience says who a reply is for.
type Audience struct {
	Person   shop.PersonID `json:"person,omitempty"`   // this person
	Managers bool          `json:"managers,omitempty"` // managers and owners, without the speaker
	Calm     bool          `json:"calm,omitempty"`     // with Managers: no owners where somebody else manages
	Owners   bool          `json:"owners,omitempty"`   // owners, without the speaker
	Others   bool          `json:"others,omitempty"`   // everybody who counts, without the speaker
	Chat     Chat          `json:"chat,omitempty"`     // this chat, whoever it belongs to
	Own      bool          `json:"own,omitempty"`      // no phone that several people use
	Not      shop.PersonID `json:"not,omitempty"`      // without this person
	Told     string        `json:"told,omitempty"`     // every chat of the shop that was sent a message with this key
}

// Names reports whether the first line of a reply ends in a name.
func (r *Reply) Names(place string) bool {
	first, _, _ := strings.Cut(r.Body[0].Text, "\n")
	return strings.HasSuffix(first, place)
}

// Figures reports whether a message tells figures, which are of some machine.
func (r *Reply) Figures() bool {
	return r.File != nil || slices.ContainsFunc(r.Body, func(b Block) bool { return b.Fixed })
}

// Reply is a message to send, or an edit of one sent before.
type Reply struct {
	To      Audience   `json:"to,omitzero"` // zero: the chat the input came from
	Body    []Block    `json:"body"`
	Buttons [][]Button `json:"buttons,omitempty"`
	Key     string     `json:"key,omitempty"`    // names the message within its chat, for later edits
	Edit    string     `json:"edit,omitempty"`   // key of the message this replaces in place
	Retire  string     `json:"retire,omitempty"` // key of an earlier message whose buttons are dead from now on
	Silent  bool       `json:"silent,omitempty"` // no sound
	Urgent  bool       `json:"urgent,omitempty"` // goes out before everything else, in every chat
	File    *File      `json:"file,omitempty"`   // goes with it; such a reply is never edited
	Last    bool       `json:"last,omitempty"`   // nobody is told if it cannot be delivered
	Event   bool       `json:"-"`                // it tells of an event
	Link    []byte     `json:"link,omitempty"`   // a link's place at LinkMark, and the hash of its code

	Place  string     `json:"place,omitempty"`  // where it happened; shown first to people who have several
	Menu   []MenuItem `json:"menu,omitempty"`   // without a body: the commands this chat offers from now on
	Delete int64      `json:"delete,omitempty"` // without a body: number of the person's message to take away

	Stranger bool `json:"stranger,omitempty"` // the desk's: somebody without a shop asked
}

// Deadline asks for an input of kind Remind at an instant. A name is unique
// within its machine; asking again under the same name moves it, and a zero
// time drops it.
type Deadline struct {
	Name    string
	At      time.Time
	Machine shop.MachineID // of the same shop; 0: the one the input is about
}

// PlanAgain names the deadline at which a machine's other ones are planned: when
// somebody of the shop writes for the first time, and when the clock went back.
const PlanAgain = "plan-begin"

// PlanGoOn names the deadline at which they are planned anew, since the last of them comes near.
// A machine in use always has it or [PlanAgain].
const PlanGoOn = "plan"

// DaysMoved names the deadline at which the owners hear of days that are told
// otherwise since the file was brought up to date.
const DaysMoved = "days-moved"

// Result is what a step leads to.
type Result struct {
	State     State
	Records   []books.Record     // in order; the speaker's
	Beside    []settling.Booking // for machines of any shop that the speaker keeps the books of
	Replies   []Reply            // in order
	Notice    string             // a short notice on the tap, at most 200 characters
	Deadlines []Deadline
	Settings  *shop.Settings // the shop's next version; nil: they stay
	TakeOver  Chat           // this chat's dialog at the machine ends; its person was told by a reply
	Orders
}

// Changes reports whether a step lays something down or orders something. That the speaker
// turns to another shop of theirs is none of it.
func (r Result) Changes() bool {
	r.Turn = 0
	return r.ordered()
}

// Matters reports whether a step must not be done by nobody in particular: it records or
// changes something, or tells others of somebody.
func (r Result) Matters() bool {
	tells := func(r Reply) bool { return r.To.Person != 0 || r.To.Managers || r.To.Others }
	return slices.ContainsFunc(r.Records, books.Record.NeedsName) || r.ordered() ||
		slices.ContainsFunc(r.Replies, tells)
}

// ordered leaves out words that were not understood: they are nobody's.
func (r Result) ordered() bool {
	r.Missed = ""
	return r.Settings != nil || r.Orders != Orders{}
}

// PastReach is how far back a letter of the week looks: a week, and the days of trading
// that reach into it.
const PastReach = 9 * 24 * time.Hour
