// Package guides holds the troubleshooting texts: guides as data, checked when
// they are read, walked step by step by a pure value.
//
// A guide is a plain text file that a person who does not program can review:
//
//	guide: note-jam
//	title: Notes are stuck in the machine
//	hazards: fingers
//	record: which machine; notes found, per value
//
//	== start
//	! fingers: Keep sleeves and hair away from the rollers.
//	Stop the service so that nobody starts a payout.
//	[lock=dial] Open with the card that came with the lock.
//	[else] Open the safe.
//	- Notes in sight -> take-out
//	- [test=yes] Nothing there -> try
//
//	== take-out
//	...
//	call: provider
//	end: out of service
//
//	== asked as
//	notes are stuck
//
// Lines that begin with "#" are remarks. "!" is a caution with the hazard it
// is for, at the latest in the step that lays a hand on the machine.
// "[setting=value|value]" in front of a line or a choice keeps it to
// shops with that setting; in a run of such lines the first that fits is shown
// and "[else]" fits always. A step ends with choices or with an end, never
// with both. The lines under "== asked as" are what people say when they need
// the guide; the question search learns from them.
package guides
