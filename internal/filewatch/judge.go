package filewatch

// There says what lies in a place.
type There int

// What can lie in a place. A log without a byte in it is none.
const (
	Absent There = iota
	Empty
	Present
)

// Found is what is there at a start.
type Found struct {
	File, Log There
	Mark      *Mark // nil: none
	Garbled   bool  // what is in the place of the mark cannot be read
	Journal   bool  // a rollback journal lies beside the file

	Heads    Heads // of the file, where it could be read
	Followed bool  // the file holds the entry that the mark names, with its hash
}

// Verdict says what is to be done with what was found.
type Verdict int

// The verdicts.
const (
	Start Verdict = iota
	Note          // start; the log says why
	Word          // start; owners are told why
	Refuse
)

// Case names what was found; each has sentences of its own.
type Case string

// The cases, from the worst on.
const (
	Missing    Case = "missing"     // the file is gone or empty, its log is here
	Parted     Case = "parted"      // the file became a link, what belongs to it lies beside the link
	Journal    Case = "journal"     // a rollback journal is here, which the file has none of
	Vanished   Case = "vanished"    // the file is gone or empty, the mark tells of records
	Another    Case = "another"     // the records are not those the mark tells of
	Older      Case = "older"       // records are missing that were confirmed
	LogGone    Case = "log-gone"    // the last run was killed, and its log is gone
	MarkBad    Case = "mark-bad"    // the mark cannot be read
	WasDoubt   Case = "was-doubt"   // the last run stopped writing; nothing is missing
	WasRestore Case = "restored"    // the file was made out of a copy
	MarkNone   Case = "mark-none"   // first start of this version, or moved without its mark
	Unmarked   Case = "unmarked"    // written to by a program that keeps no mark
	StrangeLog Case = "strange-log" // the last run closed the file, yet there is a log
	Plain      Case = "plain"
	NewFile    Case = "new"
)

// Judge says what is to be done at a start. Nothing is written where it refuses.
func Judge(f Found) (Verdict, Case) {
	told := f.Mark != nil && (f.Mark.Inbox > 0 || f.Mark.Seq > 0)
	switch {
	case f.File != Present && f.Log == Present:
		return Refuse, Missing
	case f.File != Present && (told || f.Garbled):
		return Refuse, Vanished
	case f.File != Present:
		return Start, NewFile
	case f.Journal && told:
		return Refuse, Journal
	case f.Garbled:
		return Word, MarkBad
	case f.Mark == nil && f.Heads.Inbox == 0 && f.Heads.Seq == 0:
		return Start, NewFile
	case f.Mark == nil:
		return Note, MarkNone
	case f.Heads.Inbox < f.Mark.Inbox:
		return Refuse, Older
	case !f.Followed:
		return Refuse, Another
	}
	return f.held()
}

// held judges a file that holds everything its mark tells of.
func (f Found) held() (Verdict, Case) {
	ahead := f.Heads.Inbox > f.Mark.Inbox
	switch {
	case f.Mark.Ended == Restored:
		return Word, WasRestore
	case f.Mark.Ended == Running && f.Log != Present && !f.Mark.Bare:
		return Word, LogGone
	case f.Mark.Doubt != "":
		return Word, WasDoubt
	case f.Mark.Ended == Closed && ahead:
		return Note, Unmarked
	case f.Mark.Ended == Closed && f.Log == Present:
		return Note, StrangeLog
	}
	return Start, Plain
}
