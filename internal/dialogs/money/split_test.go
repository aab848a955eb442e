package money_test

import (
	"slices"
	"testing"

	"shopfloat/internal/abacus"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// two is a shop of two machines alike on Thursday 26 November 2026, whose bank owes 500 for
// Tuesday at each. Nobody said yet which machine their chat is about.
func two(t *testing.T) *floor.Floor {
	t.Helper()
	s := shop.Example()
	hall := s.Machines[0]
	hall.ID, hall.Name, hall.Boxes = 2, "Hall", slices.Clone(hall.Boxes)
	s.Machines = append(s.Machines, hall)
	made, err := shop.New(1, 1, s)
	if err != nil {
		t.Fatal(err)
	}
	f := floor.New(t, dialogs.New)
	f.Takes(made)
	f.Knows = func(facts *chat.Facts) {
		facts.Ask.At = func(id shop.MachineID) (*books.Machine, bool, chat.Ask) {
			defer f.TurnTo(f.Machine.ID)
			f.TurnTo(id)
			entries := f.Entries
			since := func(seq int64) []books.Entry { return abacus.From(entries, seq) }
			return f.Machine, false, chat.Ask{Since: since}
		}
	}
	for _, name := range []string{"Cash machine", "Hall"} {
		f.Play("@2026-11-24 06:40\nstaff1: open 40 150 200; [Example corner shop, " + name + "]; [Confirm]\n" +
			"@2026-11-24 21:05\nstaff1: close 30 150 200; none; none; [Confirm]; 10 0 0; none; [Confirm]; [All done]")
	}
	f.At("2026-11-26 09:00")
	f.Out.Reset()
	return f
}

// owes is what the bank owes at a machine.
func owes(f *floor.Floor, id shop.MachineID) string {
	defer f.TurnTo(f.Machine.ID)
	f.TurnTo(id)
	return f.Machine.ByBank().String()
}

// One payment of the bank for two machines: what is for this one is booked here, and the rest by
// a card of the other one, with the bank's reference.
func TestSplit(t *testing.T) {
	f := two(t)
	f.Expect(f.Play("owner: credit 1000 for tuesday, ref AB12"), "€500 more than Tue 24 Nov.|"+
		"It is exactly what Hall is owed for Tue 24 Nov.|[€500 of it is for Hall]", "is for Cash")
	f.Expect(f.Taps("owner", "€500 of it is for Hall"), "Nothing more is to come for Tue 24 Nov.|"+
		"The rest of the payment is not written down yet.|€500 of it is for Hall.|[Write it down for Hall]", "")
	first := f.Entries[len(f.Entries)-1]
	if first.Machine != 1 || first.Ref != "AB12" || parts(f) != "500 pays" || owes(f, 1) != "0" ||
		owes(f, 2) != "500" {
		t.Errorf("booked at %d with %q: %s", first.Machine, first.Ref, parts(f))
	}
	f.Expect(f.Taps("owner", "Write it down"), "Hall|came                €500|due for Tue 24 Nov  €500|"+
		"reference: “AB12”", "Cash machine")
	f.Expect(f.Taps("owner", "Confirm"), "recorded, 09:00", "")
	if e := f.Entries[len(f.Entries)-1]; e.Machine != 2 || e.Kind != books.Credit || e.Ref != "AB12" ||
		parts(f) != "500 pays" || owes(f, 2) != "0" {
		t.Errorf("the rest is booked at %d with %q: %s", e.Machine, e.Ref, parts(f))
	}
}

// A payment that fits, one that is short, and the rest of an earlier one are not split.
func TestNotSplit(t *testing.T) {
	f := two(t)
	for _, script := range []string{"credit 500 for tuesday", "credit 480 for tuesday",
		"credit 520; [Another day]; [I don't know]; [Confirm]; match; [Thu 26 Nov, €520]; tuesday"} {
		f.Expect(f.Play("owner: "+script), "Tue 24 Nov", "for Hall]")
		f.Says("owner", "cancel")
	}
	f = owing(t)
	f.Expect(f.Play("owner: credit 520 for tuesday"), "[€20 of it is our fee income]", "of it is for")
}

// Where another machine is named, nothing is asked or booked at this one: a card of that one
// begins there with what was typed.
func TestElsewhere(t *testing.T) {
	for typed, s := range map[string]struct{ want, kind, parts string }{
		"credit 500 hall for tuesday": {"due for Tue 24 Nov  €500|[Confirm]", "credit", "500 pays"},
		"credit 500 for hall":         {"due for Tue 24 Nov  €500|[Confirm]", "credit", "500 pays"},
		"write off hall 120 for tuesday": {"Why?|[Too little to ask for]", "write-off",
			"120 given-up"},
		"debit 20 hall": {"€20. Why did the bank take it?|[The bank's charges]", "debit", "-20 charge"},
		"credit hall":   {"How much did the bank pay", "", ""},
		"credit 494 for tuesday, charges 6, hall": {"charges in it         €6|exactly what is due|[Confirm]",
			"credit", "500 pays, -6 charge"},
		"credit hall 494, charges 6, for tuesday": {"charges in it         €6|exactly what is due|[Confirm]",
			"credit", "500 pays, -6 charge"},
		"credit hall 504 for 24 november, charges 6 fee 10": {"exactly what is due|[Confirm]", "credit",
			"500 pays, -6 charge, 10 fee"},
	} {
		t.Run(typed, func(t *testing.T) {
			f := two(t)
			f.Expect(f.Says("owner", typed), "That is for Hall, as you say, and this is Cash machine.|"+
				"[Write it down for Hall]", "What is it for|Why")
			if f.State("owner").Flow != "" {
				t.Errorf("%s goes on at this machine", f.State("owner").Flow)
			}
			f.Expect(f.Taps("owner", "Write it down"), "Hall|"+s.want, "Cash machine|as you say")
			switch s.kind {
			case "":
				return
			case "debit":
				f.Taps("owner", "The bank's charges")
			case "write-off":
				f.Taps("owner", "Too little")
			}
			f.Taps("owner", "Confirm")
			e := f.Entries[len(f.Entries)-1]
			if e.Machine != 2 || string(e.Kind) != s.kind || parts(f) != s.parts || owes(f, 1) != "500" {
				t.Errorf("booked a %s at %d: %s", e.Kind, e.Machine, parts(f))
			}
		})
	}
	f := two(t)
	f.Expect(f.Says("owner", "credit 500 for tuesday hall ref AB12"),
		"Not taken along: “ab12”. Type it again there.", "")
	f = two(t)
	f.Expect(f.Says("owner", "credit 500 for the cash machine"), "due for Tue 24 Nov  €500|[Confirm]",
		"as you say|For that day")
}

// The card of late money at a machine begins there, and goes on there, also in a chat that was
// never told which machine it is about.
func TestLateAtAnother(t *testing.T) {
	f := two(t)
	f.Expect(f.Press("owner", chat.Button{Label: "The bank paid", Data: "o:credit:3:2"}), "Hall|How much", "")
	f.Expect(f.Says("owner", "500"), "Hall|due for Tue 24 Nov  €500", "Cash machine")
	f.Taps("owner", "Confirm")
	if owes(f, 2) != "0" || owes(f, 1) != "500" {
		t.Errorf("booked so that the bank owes %s here and %s there", owes(f, 1), owes(f, 2))
	}
}

// The bank's reference of a payment that is on record: of the one that is meant, or chosen.
func TestReference(t *testing.T) {
	const paid = "credit 4380 for monday; [Confirm]; credit 500 for tuesday; [Confirm]; " // 13 and 14
	const none = "There is no such payment. Type it like: bank reference AB123 for monday."
	for name, s := range map[string]struct {
		script, want, not string
		of                int64
	}{
		"chosen": {paid + "bank reference RF18-5390; [Thu 26 Nov, €4,380]",
			"13. 09:00 bank paid, Ada: paid €4,380|The bank's reference: “RF18-5390”|[Confirm]", "€500", 13},
		"of a day": {paid + "bank reference RF18-5390 for tuesday",
			"14. 09:00 bank paid, Ada: paid €500|“RF18-5390”|[Confirm]", "Of which|€4,380", 14},
		"change": {paid + "bank reference RF18-5390 for tuesday; [Change]",
			"Of which payment? Tap it.|[Thu 26 Nov, €500]", "[Confirm]|€4,380", 0},
		"of a day not paid": {paid + "bank reference RF18-5390 for wednesday", none, "[", 0},
		"without one":       {paid + "bank reference", none, "[", 0},
		"nothing paid":      {"bank reference RF18-5390", none, "[", 0},
		"taken by the bank": {paid + "debit 12.50; [The bank's charges]; [Confirm]; bank reference RF18-5390",
			"[Thu 26 Nov, €4,380]|[Thu 26 Nov, €500]|[Thu 26 Nov, €12.50]", "[Confirm]", 0},
	} {
		t.Run(name, func(t *testing.T) {
			f := owing(t)
			f.Expect(f.Play("owner: "+s.script), s.want, s.not)
			if s.of == 0 {
				return
			}
			n := len(f.Entries)
			f.Expect(f.Taps("owner", "Confirm"), "The reference is kept, 09:00.", "")
			e := f.Entries[len(f.Entries)-1]
			if len(f.Entries) != n+1 || e.Kind != books.Correction || e.Target != s.of ||
				e.Instead == nil || e.Instead.Ref != "RF18-5390" || e.Instead.Kind != books.Credit {
				t.Errorf("booked %+v", e.Record)
			}
			if owed := f.Machine.ByBank().String(); owed != "1000" {
				t.Errorf("a reference changes what is owed to %s", owed)
			}
		})
	}
}

// Only the newest payments are buttons, and one that was taken back meanwhile gets no reference.
func TestReferenceMeanwhile(t *testing.T) {
	f := owing(t)
	f.Play("owner: credit 500 for tuesday; [Confirm]; bank reference RF18 for tuesday")
	f.Shop.People[2].Role = shop.Manager
	before := len(f.Entries)
	f.Play("staff2: correct 13; [It never]; [Typed]; [Confirm]")
	if len(f.Entries) != before+1 {
		t.Fatal("the payment still holds")
	}
	f.Expect(f.Taps("owner", "Confirm"), "There is no such payment.", "The reference is kept")
	if len(f.Entries) != before+1 {
		t.Errorf("booked %+v", f.Entries[before+1].Record)
	}
	f = owing(t)
	for _, sum := range []string{"71", "72", "73", "74", "75", "76", "77"} {
		f.Play("owner: credit " + sum + "; [Our fee income]; [Confirm]")
	}
	f.Expect(f.Says("owner", "bank reference RF18"), "[Thu 26 Nov, €72]|[Thu 26 Nov, €77]", "€71]")
}
