package money_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

var expect = floor.Expect

func owing(t *testing.T) *floor.Floor {
	t.Helper()
	return floor.Owed(t, dialogs.New)
}

// parts words how the last payment was shared out: 1000 pays, 20 fee.
func parts(f *floor.Floor) string {
	var list []string
	for _, p := range f.Entries[len(f.Entries)-1].Parts {
		list = append(list, p.Value.String()+" "+string(p.As))
	}
	return strings.Join(list, ", ")
}

// Payments and what they are booked as.
func TestCredit(t *testing.T) {
	for name, s := range map[string]struct{ script, want, not, parts, owed string }{
		"fits one day, so it is not asked": {"credit 1000",
			"due for Wed 25 Nov  €1,000|exactly what is due", "What is it", "", "5880"},
		"fits two days, 500 + 1,000": {"credit 1500; [Confirm]",
			"Nothing more is to come for Tue 24 Nov + Wed 25 Nov", "Still", "500 pays, 1000 pays", "4380"},
		"two days by name": {"credit 4880 for monday and tuesday; [Confirm]",
			"Mon 23 Nov + Tue 24 Nov", "", "4380 pays, 500 pays", "1000"},
		"meant for one, fits two": {"credit 4880 for monday; [It is for Mon 23 Nov + Tue]; [Confirm]",
			"Nothing more is to come for Mon 23 Nov + Tue 24 Nov", "", "4380 pays, 500 pays", "1000"},
		"days in a row": {"credit 5880 for monday to wednesday; [Confirm]",
			"Nothing more", "", "4380 pays, 500 pays, 1000 pays", "0"},
		"a part": {"credit 4308 for monday; [Mon 23 Nov, €72 still]",
			"Still to come for Mon 23 Nov: €72", "", "4308 pays", "1572"},
		"the oldest first": {"credit 4400 for monday and tuesday; [Mon 23 Nov + Tue 24 Nov, €480 still]",
			"Still to come for Mon 23 Nov + Tue 24 Nov: €480", "", "4380 pays, 20 pays", "1480"},
		"charges of it": {"credit 4308 for monday; [Mon 23 Nov, €72 are]",
			"Nothing more is to come for Mon 23 Nov", "", "4380 pays, -72 charge", "1500"},
		"our fee in it": {"credit 520 for tuesday; [€20 of it]",
			"Nothing more", "not matched", "500 pays, 20 fee", "5380"},
		"more than is due": {"credit 520 for tuesday; [€20 was paid]",
			"Nothing more", "", "500 pays, 20 extra", "5380"},
		"the rest is not known": {"credit 520 for tuesday; [I don't know]",
			"Write match", "", "500 pays, 20 unknown", "5380"},
		"all of it is fee income": {"credit 77; [Our fee income]; [Confirm]",
			"recorded", "come for", "77 fee", "5880"},
		"another shop's": {"credit 77; [Another shop]; [Confirm]",
			"Write match", "", "77 foreign", "5880"},
		"not known at all": {"credit 77; [I don't know]; [Confirm]",
			"Write match", "", "77 unknown", "5880"},
		"digits exchanged": {"credit 4308 for monday",
			"Two digits are exchanged|€72 less than Mon 23 Nov.", "[Confirm]", "", "5880"},
		"nothing fits": {"credit 4311 for monday",
			"Nothing on record fits", "", "", "5880"},
		"not money": {"credit; 43o8x",
			"43o8x", "", "", "5880"},
		"less than nothing": {"credit 0",
			"could not read \"0\"", "", "", "5880"},
		"a day that is none": {"credit; 520 for blue moon",
			"blue moon|What is it for", "", "", "5880"},
		"nothing due that day": {"credit 520 for sunday",
			"[Tue 24 Nov, €500]", "exactly", "", "5880"},
		"another amount": {"credit 520; 1000",
			"due for Wed 25 Nov  €1,000|exactly", "€520", "", "5880"},
		"asked step by step": {"credit; €500; [Confirm]",
			"Nothing more is to come for Tue 24 Nov", "", "500 pays", "5380"},
		"change asks anew": {"credit 1000; [Change]; [Mon 23 Nov]",
			"due for Mon 23 Nov  €4,380|€3,380", "due.\n", "", "5880"},
		"change of what it is": {"credit 77; [Our fee income]; [Change]; [Tue 24 Nov]; [Tue 24 Nov, €423 still]",
			"Still to come for Tue 24 Nov: €423", "", "77 pays", "5803"},
		"nearly what is due": {"credit 4280; [Mon 23 Nov, €100 are]",
			"Nothing more is to come for Mon 23 Nov", "What is it for", "4380 pays, -100 charge", "1500"},
		"charges and fees in the line": {"credit 4385 for monday, charges 20, fee 25; [Confirm]",
			"Nothing more is to come for Mon 23 Nov", "", "4380 pays, -20 charge, 25 fee", "1500"},
		"charges typed later": {"credit 4360 for monday; bank charges 20; [Confirm]",
			"Nothing more is to come for Mon 23 Nov", "", "4380 pays, -20 charge", "1500"},
		"two days less charges": {"credit 1490; tuesday and wednesday; 10 charges; [Confirm]",
			"Tue 24 Nov + Wed 25 Nov", "", "500 pays, 1000 pays, -10 charge", "4380"},
		"a message to the bank": {"credit 4308 for monday; [Write to the bank]",
			"You paid us €4,308; we saw it on Thu 26 Nov.|" +
				"printed at 21:05: €4,380|€72 is missing", "", "", "5880"},
	} {
		t.Run(name, func(t *testing.T) {
			f := owing(t)
			n := len(f.Entries)
			expect(t, f.Play("owner: "+s.script), s.want, s.not)
			if len(f.Entries) > n && parts(f) != s.parts || len(f.Entries) == n && s.parts != "" {
				t.Errorf("shared out as %s, want %s", parts(f), s.parts)
			}
			if owed := f.Machine.ByBank().String(); owed != s.owed {
				t.Errorf("the bank owes %s, want %s", owed, s.owed)
			}
		})
	}
}

// What the bank takes: back from days that were paid, for charges, or for what a
// customer claims.
func TestDebit(t *testing.T) {
	const paid = "credit 5880 for monday to wednesday; [Confirm]; "
	for name, s := range map[string]struct{ script, want, not, parts, owed string }{
		"a part of a day": {paid + "debit 300 for tuesday; [Confirm]",
			"Still to come for Tue 24 Nov: €300", "", "-300 pays", "300"},
		"just what was paid": {paid + "debit 500 for tuesday; [Confirm]",
			"Still to come for Tue 24 Nov: €500", "", "-500 pays", "500"},
		"more than was paid": {paid + "debit 530 for tuesday; [Confirm]",
			"Tue 24 Nov: €500", "", "-500 pays, -30 unknown", "500"},
		"of two days": {paid + "debit 4600 for monday and tuesday; [Confirm]",
			"€4,600", "", "-4380 pays, -220 pays", "4600"},
		"a day tapped": {paid + "debit 100; [Wed 25 Nov, €1,000]; [Confirm]",
			"Wed 25 Nov: €100", "", "-100 pays", "100"},
		"charges": {paid + "debit 12.50; [The bank's charges]; [Confirm]",
			"Recorded", "come for", "-12.5 charge", "0"},
		"a customer": {paid + "debit 50; [A customer]; tuesday; [Confirm]",
			"Recorded", "", "-50 dispute", "0"},
		"a day on which it was shut": {paid + "debit 50; [A customer]; sunday",
			"Sun 22 Nov", "[Confirm]", "", "0"},
		"no day": {paid + "debit 50; [A customer]; blue",
			"did not understand|Which day", "[Confirm]", "", "0"},
		"several days": {paid + "debit 50; [A customer]; monday to tuesday",
			"Which day", "[Confirm]", "", "0"},
		"nothing was paid yet": {"debit 50",
			"[A customer's claim]", "Mon 23", "", "5880"},
		"given back as too much": {"credit 520 for tuesday; [€20 was paid]; debit 20; [Paid too much]; [Confirm]",
			"Recorded", "", "-20 extra", "5380"},
		"more than was too much": {"credit 520 for tuesday; [€20 was paid]; debit 25; [Paid too much]; [Confirm]",
			"Recorded", "", "-20 extra, -5 unknown", "5380"},
		"change": {paid + "debit 50; [The bank's charges]; [Change]",
			"Why did the bank take it", "[Confirm]", "", "0"},
	} {
		t.Run(name, func(t *testing.T) {
			f := owing(t)
			expect(t, f.Play("owner: "+s.script), s.want, s.not)
			if s.parts != "" && parts(f) != s.parts {
				t.Errorf("shared out as %s, want %s", parts(f), s.parts)
			}
			if owed := f.Machine.ByBank().String(); owed != s.owed {
				t.Errorf("the bank owes %s, want %s", owed, s.owed)
			}
		})
	}
}

// A customer's claim may be about a day whose period is no longer at hand, and
// is booked for that period.
func TestDebitOfOldDay(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play(floor.Day("2026-11-02", "40 100 200", "0 50 0", "none"))
	old := f.Machine.Last().No
	for _, date := range []string{"2026-11-23", "2026-11-24", "2026-11-25"} {
		f.Play(floor.Day(date, "30 150 200", "10 0 0", "none"))
	}
	if f.Machine.Period(old) != nil {
		t.Fatal("the day is still at hand")
	}
	f.At("2026-11-26 09:00")
	expect(t, f.Play("owner: debit 50\nowner: [A customer]\nowner: 2 november"), "Mon 2 Nov|€50|[Confirm]", "")
	f.Taps("owner", "Confirm")
	if e := f.Entries[len(f.Entries)-1]; e.Kind != books.Debit || e.Period != old {
		t.Errorf("booked %s for period %d, want a debit for %d", e.Kind, e.Period, old)
	}
	expect(t, f.Says("owner", "owed"), "Mon 2 Nov   €1,000|together    €2,500", "")
}

// Slips bear the day on which they were printed, however late they are typed in,
// also when the day is no longer at hand.
func TestSlipOfOldDay(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play(`
		@2026-11-02 06:40
		staff1: open 40 150 200
		staff1: [Confirm]
		@2026-11-02 21:05
		staff1: close 40 100 200
		staff1: none
		staff1: none
		staff1: [Confirm]
		staff1: [I must go]
		@2026-11-04 09:00
		owner: close
		owner: 0 50 0
		owner: none
		owner: [Confirm]
	`)
	expect(t, f.Says("owner", "owed"), "Mon 2 Nov  €1,000", "Wed 4")
	for _, date := range []string{"2026-11-23", "2026-11-24", "2026-11-25"} {
		f.Play(floor.Day(date, "30 150 200", "10 0 0", "none"))
	}
	expect(t, f.Says("owner", "owed"), "Mon 2 Nov   €1,000", "Wed 4")
}

// Money that was kept apart is told what it was for later; it is no new money.
func TestMatch(t *testing.T) {
	f := owing(t)
	expect(t, f.Says("owner", "match"), "Every payment", "[Cancel]")
	f.Play("owner: credit 999\nowner: [Another day]\nowner: [I don't know]\nowner: [Confirm]")
	expect(t, f.Says("owner", "owed"), "together    €5,880|Not matched: €999|Write match", "")
	expect(t, f.Play("owner: match\nowner: [Thu 26 Nov, €999]\nowner: 500"), "€999. What is it for", "€500.")
	expect(t, f.Play("owner: tuesday"), "due for Tue 24 Nov  €500|€499 more than Tue 24 Nov.", "")
	f.Taps("owner", "€499 of it")
	e := f.Entries[len(f.Entries)-1]
	if e.Kind != books.Matched || parts(f) != "500 pays, 499 fee, -999 unknown" {
		t.Errorf("booked %s of %s", e.Kind, parts(f))
	}
	if owed := f.Machine.ByBank().String(); owed != "5380" || len(f.Machine.Loose) != 0 {
		t.Errorf("the bank owes %s, want 5,380; loose %v", owed, f.Machine.Loose)
	}
	expect(t, f.Says("owner", "match"), "Every payment", "")
}

// A payment that another manager matched meanwhile is not taken for new money.
func TestMatchedMeanwhile(t *testing.T) {
	f := owing(t)
	f.Shop.People[2].Role = shop.Manager
	f.Play(`
		owner: credit 500
		owner: [Change]
		owner: [I don't know]
		owner: [Confirm]
		owner: match
		owner: [Thu 26 Nov, €500]
		owner: tuesday
		staff2: match
		staff2: [Thu 26 Nov, €500]
		staff2: wednesday
		staff2: [Wed 25 Nov, €500 still]
	`)
	n := len(f.Entries)
	said := f.Taps("owner", "Confirm")
	if _, ok := f.Button("owner", "Confirm"); ok && slices.Contains(f.Choices("owner"), "confirm") {
		said += f.Taps("owner", "Confirm")
	}
	if owed := f.Machine.ByBank().String(); len(f.Entries) != n || owed != "5380" {
		t.Errorf("%d records more, and the bank owes %s, want 5,380:\n%s", len(f.Entries)-n, owed, said)
	}
}

// What the bank took back meanwhile of a payment is no longer there to be matched.
func TestTakenMeanwhile(t *testing.T) {
	f := owing(t)
	f.Shop.People[2].Role = shop.Manager
	f.Play("owner: credit 499; [Another day]; [I don't know]; [Confirm]; match; [Thu 26 Nov, €499]; tuesday")
	f.Play("staff2: debit 100\nstaff2: [Paid too much]\nstaff2: [Confirm]")
	expect(t, f.Taps("owner", "Tue 24 Nov, €1 still"),
		"Something changed meanwhile|came                €399", "€499")
	f.Taps("owner", "Tue 24 Nov, €101 still")
	if parts(f) != "399 pays, -399 unknown" {
		t.Errorf("shared out as %s", parts(f))
	}
}

// What the bank takes back is of what was paid too much last, and of a day of which
// a part was paid just that.
func TestDebitOfLast(t *testing.T) {
	f := owing(t)
	f.Play("owner: credit 520 for tuesday; [€20 was paid]; credit 1030 for wednesday; [€30 was paid]")
	last := int64(len(f.Entries))
	f.Play("owner: credit 4308 for monday; [Mon 23 Nov, €72 still]; debit 25; [Paid too much]; [Confirm]")
	if p := f.Entries[len(f.Entries)-1].Parts; len(p) != 1 || p[0].Of != last {
		t.Errorf("taken of %+v, want of %d", p, last)
	}
	expect(t, f.Play("owner: debit 12"), "[Mon 23 Nov, €4,308]", "")
}

// Two people say what the bank paid for the same day: the second sees what is
// still due before anything is booked.
func TestCreditMeanwhile(t *testing.T) {
	f := owing(t)
	f.Shop.People[2].Role = shop.Manager
	f.Play("owner: credit 500 for tuesday\nstaff2: credit 500 for tuesday\nstaff2: [Confirm]")
	n := len(f.Entries)
	expect(t, f.Taps("owner", "Confirm"), "due for Tue 24 Nov    €0|[€500 was paid too much]", "[Confirm]")
	if len(f.Entries) != n {
		t.Error("booked all the same")
	}
}

// Who counts just now is told nothing of money.
func TestHidden(t *testing.T) {
	f := owing(t)
	f.Play("staff1: open 40 150 200\nstaff1: [Confirm]\n@2026-11-26 18:00\n" +
		"staff1: settle 11 0 0; none; [Confirm]\n@2026-11-26 21:00\nowner: close")
	expect(t, f.Says("owner", "owed"), "Somebody is counting|Wed 25 Nov  €1,000|together    €5,880", "€550")
}

// What the bank owes: by age, a page of days at a time, with the rule in words.
func TestOwed(t *testing.T) {
	f := floor.New(t, dialogs.New)
	expect(t, f.Says("owner", "owed"), "owes nothing|1 bank day", "together")
	for _, date := range []string{"09", "10", "11", "12", "13", "14", "16", "17", "18", "19", "20", "21"} {
		f.Play(floor.Day("2026-11-"+date, "30 150 200", "10 0 0", "none"))
	}
	f.At("2026-11-22 09:00") // 12 x 500 = 6,000; six of them are of 15 November or later
	expect(t, f.Says("owner", "owed"), "0 to 7 days   €3,000|8 to 30 days  €3,000|together      €6,000",
		"Mon 9|Tue 10")
	expect(t, f.Taps("owner", "Day by day"), "1 to 6 of 12|Mon 9 Nov   €500  late|Sat 14 Nov  €500|[Next ones]",
		"Tue 17")
	expect(t, f.Taps("owner", "Next ones"), "7 to 12 of 12|Mon 16 Nov  €500|Sat 21 Nov  €500", "[More]")
	for rule, change := range map[string]func(*shop.Settings){
		"has not told": func(s *shop.Settings) { s.CreditDays = 0 },
		"2 bank days":  func(s *shop.Settings) { s.CreditDays, s.CreditCut = 2, 16*60 },
		"16:00":        func(s *shop.Settings) { s.CreditCut = 16 * 60 },
		"weekend":      func(s *shop.Settings) { s.CreditRoll = true },
	} {
		g := floor.New(t, dialogs.New)
		before := g.Says("owner", "owed")
		change(&g.Shop.Settings)
		if said := g.Says("owner", "owed"); said == before {
			t.Errorf("%s: the rule in words stays\n%s", rule, said)
		}
	}
}

// Nothing that is owed is lost to sight, however old: two months of days that are
// not paid can each be paid, given up, or told of in a customer's claim.
func TestOldClaims(t *testing.T) {
	f := floor.New(t, dialogs.New)
	for d := shop.Date("2026-10-01"); d <= "2026-11-25"; d = d.Add(1) {
		f.Play(floor.Day(string(d), "30 150 200", "10 0 0", "none"))
	}
	f.At("2026-11-26 09:00") // 56 days of 500: 7 of the last week, 23 before them, 26 older
	expect(t, f.Says("owner", "owed"),
		"0 to 7 days     €3,500|8 to 30 days   €11,500|31 to 90 days  €13,000|together       €28,000", "")
	expect(t, f.Says("owner", "credit 500 for 1 october"), "due for Thu 1 Oct  €500|exactly", "owes nothing")
	expect(t, f.Taps("owner", "Confirm"), "Nothing more is to come for Thu 1 Oct", "")
	expect(t, f.Play("owner: credit 700; [Earlier days]; [Earlier days]"), "[Sun 8 Nov, €500]", "[Sat 14 Nov")
	f.Play("owner: cancel; write off 3 october; [Too little]; [Confirm]")
	expect(t, f.Says("owner", "owed at 31 october"),
		"€15,500|paid since         €500|given up since     €500|€14,500", "")
	expect(t, f.Play("owner: debit 50; [A customer]; 20 october"), "claim about Tue 20 Oct", "")
	f.Play("owner: [Confirm]")
	if last := f.Entries[len(f.Entries)-1]; f.Entries[last.Period-1].Day != "2026-10-20" {
		t.Errorf("told of the period %d", last.Period)
	}
	if owed := f.Machine.ByBank().String(); owed != "27000" { // 28,000 - 500 - 500
		t.Errorf("the bank owes %s", owed)
	}
}

// What was owed on a day, and what became of it: figures by hand.
func TestOwedAt(t *testing.T) {
	f := owing(t) // 4,380, 500 and 1,000 for 23, 24 and 25 November
	expect(t, f.Says("owner", "owed at 22 november"), "owed nothing at the end of Sun 22 Nov", "€")
	f.Play("owner: credit 4380; [Confirm]; credit 300 for tuesday; [Tue 24 Nov, €200 still]")
	f.Play("owner: write off 200 for tuesday; [The bank will not]; [Confirm]")
	expect(t, f.Says("owner", "owed at 24 november"), "Mon 23 Nov      €4,380  paid since|"+
		"Tue 24 Nov        €500  €200 given up|together        €4,880|"+
		"paid since      €4,680|given up since    €200",
		"Wed 25|still owed")
	expect(t, f.Says("owner", "owed at today"), "€1,000  €1,000 still owed|still owed  €1,000", "Mon 23")
	expect(t, f.Says("owner", "owed at 31 february"), "There is no such day: 31 february", "€")
	expect(t, f.Says("owner", "write off monday"), "Nothing more is to come for Mon 23 Nov", "Why?")
}

// The bank owes at least what is known when the figures from before a restart of
// the counters are missing.
func TestOwedAtLeast(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play(`staff1: open 40 150 200
		staff1: [Confirm]
		@2026-11-25 21:05
		staff1: close 12 60 80
		staff1: none
		staff1: none
		staff1: [Confirm]
		staff1: [More]
		staff1: [Counters]
		staff1: [Skip]
		staff1: 10 30 40
		staff1: none
		staff1: [Confirm]`)
	// 10x50 + 30x20 + 40x10 = 1,500 at least
	expect(t, f.Says("owner", "owed"), "Wed 25 Nov  €1,500  at least|together    €1,500  at least", "")
}

// wakes delivers the last deadline that was asked for whose name begins so.
func wakes(t *testing.T, f *floor.Floor, name string) string {
	t.Helper()
	for _, d := range slices.Backward(f.Due) {
		if strings.HasPrefix(d.Name, name) && !d.At.IsZero() {
			f.Now = d.At
			return f.Step("owner", chat.Input{Kind: chat.Remind, Text: d.Name, Due: d.At}, "("+d.Name+")")
		}
	}
	t.Fatalf("no deadline %s", name)
	return ""
}

// Money that is late is told from the morning after its due date on which banks
// pay. Friday 27 November is due on Monday, so on Tuesday 1 December it is late.
func TestOverdue(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play(floor.Day("2026-11-27", "40 100 200", "0 50 0", "none"))
	said := wakes(t, f, "owed-")
	expect(t, said, "Money from the bank is late|for Fri 27 Nov and was due Mon 30 Nov|[The bank paid]", "")
	if date := f.Now.Format("2006-01-02"); date != "2026-12-01" {
		t.Errorf("told on %s", date)
	}
	seq := f.Machine.Claims[0].Seq
	tap := func(what string) string {
		return f.Press("owner", chat.Button{Label: what, Data: "o:" + what + ":" + strconv.FormatInt(seq, 10)})
	}
	expect(t, tap("bank"), "Due for Fri 27 Nov, printed at 21:05: €1,000.|Mon 30 Nov", "")
	expect(t, tap("credit"), "How much did the bank pay", "")
	f.Play("owner: 1000\nowner: [Confirm]")
	if last := f.Due[len(f.Due)-1]; !strings.HasPrefix(last.Name, "owed-") || !last.At.IsZero() {
		t.Errorf("a paid claim is still to be told of: %+v", last)
	}
	expect(t, tap("bank"), "It has come meanwhile", "printed at")
	f.At("2026-12-02 12:00")
	expect(t, wakes(t, f, "owed-"), "", "Money from") // it is paid
	seq = 99
	expect(t, tap("bank"), "", "printed at")
}

// Money that was paid and taken back again on the day it was due is late the
// morning after.
func TestOverdueAgain(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play(floor.Day("2026-11-27", "40 100 200", "0 50 0", "none"))
	f.Play("@2026-11-30 10:00\nowner: credit 1000\nowner: [Confirm]")
	if last := f.Due[len(f.Due)-1]; !last.At.IsZero() {
		t.Fatalf("a paid claim is to be told of at %s", last.At)
	}
	f.Play("@2026-11-30 15:00\nowner: debit 100 for friday\nowner: [Confirm]")
	if at := f.Due[len(f.Due)-1].At.Format("2006-01-02"); at != "2026-12-01" {
		t.Errorf("told of on %s", at)
	}
}

// Money without decimals, and with three. 10x10,000 + 5x5,000 + 40x1,000 yen are
// 165,000; 10x20 + 10x10 + 5x0.5 dinars are 302.5.
func TestOtherMoney(t *testing.T) {
	f := floor.Abroad(t, dialogs.New, "JP", "JPY", "Asia/Tokyo", "10000", "5000", "1000")
	f.Play(floor.Day("2026-11-26", "30 145 160", "10 5 40", "none"))
	expect(t, f.Says("owner", "owed"), "Thu 26 Nov|165,000", ".0")
	expect(t, f.Says("owner", "credit 164890 for thursday"), "164,890|110", ".0")
	expect(t, f.Says("owner", "credit 164890.50 for thursday"), "could not read", "")
	f.Play("owner: credit 164890 for thursday\nowner: [Thu 26 Nov, ¥110 are]")
	if parts(f) != "165000 pays, -110 charge" {
		t.Errorf("yen shared out as %s", parts(f))
	}
	f = floor.Abroad(t, dialogs.New, "KW", "KWD", "Asia/Kuwait", "20", "10", "0.5")
	f.Play(floor.Day("2026-11-26", "30 140 195", "10 10 5", "none"))
	expect(t, f.Says("owner", "owed"), "Thu 26 Nov|302.500", "")
	expect(t, f.Says("owner", "credit 302.375 for thursday"), "302.375|0.125", "")
	f.Taps("owner", "Thu 26 Nov, KWD\u00a00.125 still")
	if left := f.Machine.ByBank().String(); left != "0.125" {
		t.Errorf("%s dinars are left, want 0.125", left)
	}
}
