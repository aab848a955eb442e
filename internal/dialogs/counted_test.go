package dialogs_test

import (
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/floor"
)

// countedAnew is a day whose notes stay in: 60 twenties by the first count, 61
// by the second.
func countedAnew(t *testing.T) *floor.Floor {
	f := newFloor(t)
	f.Shop.Nightly = false
	f.Play(`
	staff1: open 40 150 200
	staff1: [Confirm]
	@2026-11-25 21:05
	staff1: close 12 60 80
	staff1: none
	staff1: none
	staff1: [Confirm]
	staff1: 28 89 120
	staff1: none
	staff1: [Count again]
	staff1: 12 61 80
	staff1: none
	staff1: none
	staff1: [Confirm]`)
	f.Expect(f.Play("staff1: [Confirm]"), "Nov recorded", "")
	return f
}

// The next opening brings what the second count leaves room for: 150 less 61.
func TestNextOpeningAfterACountAnew(t *testing.T) {
	f := countedAnew(t)
	f.Play("@2026-11-26 06:40\nstaff1: open 40 150 200\nstaff1: [Confirm]")
	if got := f.Machine.Balance.At(books.BoxPlace(2), "20"); got != 150 {
		t.Errorf("the middle box holds %d by the ledger, want 150\n%s", got, f.Out.String())
	}
}

// A count of the time before records said a rule is corrected: what holds in its
// place is a record of now, and the one that was written stays as it was.
func TestCorrectionSaysTheRuleOfNow(t *testing.T) {
	f := countedAnew(t)
	for i := range f.Entries {
		f.Entries[i].Rule = 0
	}
	f.Play(`
	owner: correct 3
	owner: [The figures]
	owner: [10s, left]
	owner: 81
	owner: [That is all]
	owner: [Counted wrongly]
	owner: [Confirm]`)
	last := f.Entries[len(f.Entries)-1]
	if last.Kind != books.Correction || last.Instead == nil || last.Instead.Rule != 1 || f.Entries[2].Rule != 0 {
		t.Errorf("%+v in the place of %+v\n%s", last.Instead, f.Entries[2].Record, f.Out.String())
	}
}
