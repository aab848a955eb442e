package letters_test

import (
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/advice"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/letters"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// played is a shop after a script, as a letter of the Monday in this sees it.
func played(
	t *testing.T, monday string, set func(*floor.Floor), script string,
) (*telling.Teller, chat.Estate) {
	t.Helper()
	f := floor.New(t, dialogs.New)
	f.Shop.Machines[0].TestDispense = false
	if set != nil {
		set(f)
	}
	f.Play(script)
	f.At(monday + " 09:30")
	entries := f.Entries
	tell := f.Talk("owner").Teller
	tell.M = f.Machine
	past := func() []books.Entry { return entries }
	learned := func() (advice.State, error) { return advice.Learned(f.Machine.ID, entries) }
	return tell, chat.Estate{Shop: f.Shop, Machine: f.Machine, Past: past, Learned: learned, Check: "kept",
		Due: dueOf(f.Machine)}
}

func letter(tell *telling.Teller, until shop.Date, list ...chat.Estate) string {
	voice := func(*shop.Shop) *texts.Voice { return tell.V }
	return floor.Said(letters.Weekly(tell, list, until, voice)...)
}

// Before days without a bank the letter says what to order and by when. Christmas Day 2026
// is a Friday on which euro banks are shut, and so is the Saturday (ECB, TARGET closing
// days), so there is no bank from Friday 25 to Sunday 27 December; Thursday is the last day
// to order on. A shop on hold, or one that nobody uses, orders nothing.
func TestOrdersBeforeDaysWithoutABank(t *testing.T) {
	day := floor.Day("2026-12-16", "12 60 80", "28 90 120", "none")
	tell, e := played(t, "2026-12-21", nil, day)
	got := letter(tell, "2026-12-21", e)
	line := ""
	for _, s := range strings.Split(got, "\n") {
		if strings.HasPrefix(s, "No bank") {
			line = s
		}
	}
	if !strings.HasPrefix(line, "No bank Fri 25 Dec to Sun 27 Dec. Order by Thu 24 Dec: ") ||
		!strings.Contains(line, " x 20s, ") || !strings.Contains(line, "in all.") {
		t.Errorf("%q in\n%s", line, got)
	}
	held := *e.Shop
	held.Plan.Hold = &shop.Hold{By: 1, Why: "police"}
	e.Shop = &held
	floor.Expect(t, letter(tell, "2026-12-21", e),
		"Order by Thu 24 Dec: nothing, no machine pays then.|not to be loaded",
		"in all")
	tell, e = played(t, "2026-11-23", nil, floor.Day("2026-11-18", "12 60 80", "28 90 120", "none"))
	floor.Expect(t, letter(tell, "2026-11-23", e), "Your week", "No bank")
}

// What a letter alone tells of: records that were put right or taken back, visits, and counts
// that nobody stood by; only those of the week.
func TestNotedInTheWeek(t *testing.T) {
	script := "@2026-11-24 06:40\nstaff1: open 40 150 200; [Confirm]\n" +
		"@2026-11-24 12:00\nstaff1: top up 0 0 30; [Confirm]\nstaff1: undo; [Confirm]\n" +
		"@2026-11-24 21:05\nstaff1: close 12 60 80; none; none; [Confirm]\n" +
		"staff1: 28 90 120; none; [Confirm]\n"
	tell, e := played(t, "2026-11-30", nil, script)
	entries := e.Past()
	if !slices.ContainsFunc(entries, func(x books.Entry) bool { return x.Kind == books.Undo }) {
		t.Fatalf("nothing was taken back: %+v", entries)
	}
	floor.Expect(t, letter(tell, "2026-11-30", e), "1 record corrected or taken back", "visit")
	last := entries[len(entries)-1]
	last.Record = books.Record{Kind: books.VisitBegun, Happened: last.Happened}
	last.Seq++
	alone := last
	alone.Record = books.Record{Kind: books.Witness, Happened: last.Happened, Marks: []books.Mark{books.Alone}}
	alone.Seq++
	seen := alone
	seen.Marks = nil
	seen.Seq++
	e.Past = func() []books.Entry { return append(slices.Clone(entries), last, alone, seen) }
	floor.Expect(t, letter(tell, "2026-11-30", e), "1 record corrected or taken back|"+
		"2 visits or counts alone", "")
	floor.Expect(t, letter(tell, "2026-12-07", e), "", "taken back|visits")
}

// Where notes stay in, each slip is a day, and nobody is late with an opening.
func TestWhereNotesStayIn(t *testing.T) {
	stays := func(f *floor.Floor) { f.Shop.Nightly = false }
	tell, e := played(t, "2026-11-30", stays, "@2026-11-24 06:40\nstaff1: open 40 150 200; [Confirm]\n"+
		"@2026-11-24 21:05\nstaff1: settle; 10 20 30; 20x2; [Confirm]\n")
	if !slices.ContainsFunc(e.Past(), func(x books.Entry) bool { return x.Kind == books.Settlement }) {
		t.Fatal("no slip was booked")
	}
	// 10 x 50 + 18 x 20 + 30 x 10 = 1,160
	floor.Expect(t, letter(tell, "2026-11-30", e), "Printed figures on time: 1 of 6 days|Paid out: €1,160, "+
		"10 x 50s, 18 x 20s, 30 x 10s", "opened on time")
}

// Two machines of one shop are told apart by their names, two currencies by their signs.
func TestNamesAndCurrencies(t *testing.T) {
	tell, euro := played(t, "2026-11-30", nil,
		floor.Day("2026-11-25", "11 60 80", "28 90 120", "none")+"staff1: [Skip]")
	second := *euro.Shop
	second.Machines = append(slices.Clone(second.Machines),
		shop.Machine{ID: 2, Name: "Hall", Boxes: second.Machines[0].Boxes})
	euro.Shop = &second
	hall := euro
	hall.Machine = euro.Machine.Clone()
	hall.Machine.ID = 2
	floor.Expect(t, letter(tell, "2026-11-30", euro, hall), "2 machines.|Example corner shop, Cash machine: |"+
		"Example corner shop, Hall: |Paid out: €8,800", "")

	pounds := *euro.Shop
	pounds.ID, pounds.Name, pounds.Currency, pounds.Country = 2, "Northern shop", "GBP", "GB"
	abroad := euro
	abroad.Shop = &pounds
	all := floor.Texts(t)
	voice := func(s *shop.Shop) *texts.Voice { return all.In("en", s.Country, s.Currency) }
	got := floor.Said(letters.Weekly(tell, []chat.Estate{euro, abroad}, "2026-11-30", voice)...)
	floor.Expect(t, got, "Paid out: €4,400 and £4,400", "8,800")
	nobody := chat.Estate{Shop: &pounds, Machine: books.New(1), Past: func() []books.Entry { return nil }}
	if got := letter(tell, "2026-11-30", nobody, nobody); strings.Contains(got, "Paid out") {
		t.Errorf("machines that paid nothing:\n%s", got)
	}
}
