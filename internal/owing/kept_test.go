package owing_test

import (
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/owing"
	"shopfloat/internal/shop"
)

// After its month is finished what was owed for a day stays; a day that comes late and one
// that is taken back have lines of their own. By hand: 28x50 + 89x20 + 120x10 = 4,380.
func TestOwedOfFinishedMonths(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play(floor.Day("2026-11-23", "12 61 80", "28 89 120", "none"))
	upto := int64(len(f.Entries))
	done := []shop.Finished{{Month: "2026-11", By: 1, At: f.Now, Upto: map[shop.MachineID]int64{1: upto}}}
	f.Knows = func(facts *chat.Facts) { facts.Ask.Finished = func() []shop.Finished { return done } }
	owed := func(words string) string {
		t.Helper()
		return floor.Said(owing.OwedBy(f.Talk("owner").Teller, words).Body...)
	}
	floor.Expect(t, owed(""), "Mon 23 Nov  €4,380|together    €4,380", "for ")
	f.Play(floor.Day("2026-11-24", "12 61 80", "28 89 120", "none"))
	floor.Expect(t, owed(""), "Mon 23 Nov      €4,380|for Tue 24 Nov  €4,380|together        €8,760", "")
	floor.Expect(t, owed("at 30 november"), "", "Tue")
	f.Play("@2026-12-02 09:00\nowner: credit 4380 for 24 november; [Confirm]")
	floor.Expect(t, owed(""), "Mon 23 Nov  €4,380|together    €4,380", "for ")
	floor.Expect(t, owed("at 30 november"), "Mon 23 Nov       €4,380  €4,380 still owed|"+
		"for Tue 24 Nov   €4,380  since the month was finished|together         €4,380|"+
		"put right since  €4,380|paid since       €4,380|still owed       €4,380", "")
	f.Play("@2026-12-02 09:05\nowner: undo; [Confirm]")
	floor.Expect(t, owed(""), "for Tue 24 Nov  €4,380|together        €8,760", "")
}
