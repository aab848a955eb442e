package books

// Rule says by which arithmetic a record is posted. A record that is written
// keeps its own for good, so that a file gives the same movements in every later
// program. 0, and so a record that says none, is the first one of its kind.
type Rule int

// rules are those of new records. A kind that is not here never had another than
// the first, and its records say none.
var rules = map[Kind]Rule{
	Close: closesWhole,
	Count: carriesLast,
	Moved: movesSome,
	Test:  tillOwes,

	Correction: forgoesLater,
}

// The rules that came after the first.
const (
	carriesLast Rule = 1 // Count: the next opening fills up from the last count of a day, not from its first
	closesWhole Rule = 1 // Close: tests on no slip make no difference; what a late day left was taken over
	tillOwes    Rule = 1 // Test: notes that went to the till are owed by it
	movesSome   Rule = 1 // Moved: fewer than one note out of a box are refused; fewer than none went into it

	// Correction: a slip that is moved to another period takes effect where it was, if that
	// had begun, so that what was paid for it since stays paid for it.
	slipKeepsPlace Rule = 1
	// Correction: a payment is for a slip also where one of the two now takes effect such that the
	// slip comes after it; until then it is kept apart.
	paysLater Rule = 2
	// Correction: what was given up before it stays given up where less is due by it, where the
	// slip takes effect only later, or where there is none any more: then nothing is given up.
	forgoesLater Rule = 3
)

// Ruled gives a new record, and what it puts in the place of another, the rule
// that holds now. Whoever makes records hands them through it before they are
// posted; a record that is in the ledger never is.
func Ruled(r Record) Record {
	r.Rule = rules[r.Kind]
	if r.Instead != nil {
		in := Ruled(*r.Instead)
		r.Instead = &in
	}
	return r
}
