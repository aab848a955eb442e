package chat

import "shopfloat/internal/shop"

// EventKind says what somebody is told besides what a dialog says.
type EventKind string

// What gives one person power over the name of another. It is told to that
// person and to all owners, whoever does it and by whatever dialog.
const (
	CodeSet   EventKind = "code"       // they chose a code on the phone at the counter
	CodeVoid  EventKind = "code-void"  // their personal code is of no use any more
	MaySign   EventKind = "may-sign"   // What says "on" or "off"
	PhoneLink EventKind = "phone-link" // a link was made with which a phone becomes theirs
	PhoneNew  EventKind = "phone-new"  // another phone is theirs now
	PhoneOpen EventKind = "shared"     // their phone is one that several people use, What says "on" or "off"
	RoleSet   EventKind = "role"       // What is the role
	Deputy    EventKind = "deputy"     // What says "on" or "off"
	Frozen    EventKind = "frozen"
	Thawed    EventKind = "thawed"
	Erased    EventKind = "erased"
	Removed   EventKind = "removed"
	SignedAs  EventKind = "signed" // something was recorded in their name on the phone that several use
	Locked    EventKind = "locked" // somebody guessed at their personal code

	// Another phone speaks for them, and the earlier one says that this is not right;
	// an owner says which is. What says "old" or "new".
	Objected EventKind = "objected"
	Decided  EventKind = "decided"
)

// What became of a message, or of a photo.
const (
	NotDelivered EventKind = "refused"   // the chat server does not take it
	NotDeleted   EventKind = "undeleted" // a message that should have gone is still to be seen
	PhotoLost    EventKind = "photo"     // it cannot be had
	CannotReach  EventKind = "gone"      // the person's chat takes no messages
)

// Event is something that people are told whatever dialog it comes from.
type Event struct {
	Kind   EventKind
	Person shop.PersonID // in whose name; 0: whoever the chat is of
	Name   string        // what they are called, where the settings do not say it any more
	What   string
	Phones []Chat // that were the person's until now
}

// Fate is an input that says what became of a message; Text is the kind of event.
const Fate Kind = "fate"
