package telling_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/diagnosis"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/dues"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// What was answered so far: one part without its name, several each under it, and those of
// which there is nothing together on a line.
func TestSoFar(t *testing.T) {
	tell := talk(floor.New(t, dialogs.New), "staff1").Teller
	left := telling.Part{Name: "left", Lines: []string{"50s 12", "20s 60"}, Again: "12 60"}
	tray := telling.Part{Name: "tray", Lines: []string{"20s 0"}, None: true, Again: "none"}
	paid := telling.Part{Name: "paid", Lines: []string{"50s 28"}}
	back := telling.Part{Name: "back", Lines: []string{"50s 0"}, None: true}
	kept := func(p telling.Part) telling.Part { p.Kept = true; return p }
	for _, x := range []struct {
		parts                   []telling.Part
		all, unrecorded, before string
	}{
		{nil, "Nothing was typed yet.", "Nothing was typed yet.", ""},
		{[]telling.Part{{Name: "left"}}, "Nothing was typed yet.", "Nothing was typed yet.", ""},
		{[]telling.Part{left}, "So far: 50s 12, 20s 60.", "So far: 50s 12, 20s 60.", "50s 12, 20s 60"},
		{[]telling.Part{tray}, "So far: 20s 0.", "So far: 20s 0.", "none"},
		{[]telling.Part{left, tray}, "So far:\nLeft in the boxes: 50s 12, 20s 60\nBox for refused notes: none",
			"So far:\nLeft in the boxes: 50s 12, 20s 60\nBox for refused notes: none",
			"Left in the boxes: 50s 12, 20s 60; Box for refused notes: none"},
		{[]telling.Part{tray, back, paid},
			"So far:\nBox for refused notes, cancelled, not paid out: none\nPaid out: 50s 28",
			"So far:\nBox for refused notes, cancelled, not paid out: none\nPaid out: 50s 28",
			"Box for refused notes: none; Cancelled, not paid out: none; Paid out: 50s 28"},
		{[]telling.Part{kept(left), kept(tray), paid},
			"So far:\nLeft in the boxes: 50s 12, 20s 60\nBox for refused notes: none\nPaid out: 50s 28",
			"So far: 50s 28.", "50s 28"},
		{[]telling.Part{kept(left), kept(tray)},
			"So far:\nLeft in the boxes: 50s 12, 20s 60\nBox for refused notes: none", "", ""},
	} {
		if got := telling.SoFar(tell, x.parts); got != x.all {
			t.Errorf("%+v:\n%q, want\n%q", x.parts, got, x.all)
		}
		if got := telling.Unrecorded(tell, x.parts); got != x.unrecorded {
			t.Errorf("%+v: unrecorded is\n%q, want\n%q", x.parts, got, x.unrecorded)
		}
		if got, _ := telling.TypedBefore(tell, x.parts); got != x.before {
			t.Errorf("%+v: typed before\n%q, want\n%q", x.parts, got, x.before)
		}
	}
	if _, again := telling.TypedBefore(tell, []telling.Part{left, kept(tray), paid}); len(again) != 1 ||
		again["left"] != "12 60" {
		t.Errorf("to be typed again: %v", again)
	}
	if telling.SomeKept([]telling.Part{left, {Kept: true}}) ||
		!telling.SomeKept([]telling.Part{left, kept(tray)}) {
		t.Error("what is kept is not known")
	}
}

// A dialog about a machine that is open fits machines that are, one about a count that waits
// those where one does; none fits somebody who may not count.
func TestFitting(t *testing.T) {
	f := floor.New(t, dialogs.New)
	owner, _ := f.Shop.Person(1)
	keeper := owner
	keeper.Role = shop.Bookkeeper
	site := func() chat.Site { return chat.Site{Shop: f.Shop, Person: owner, Machine: f.Machine} }
	shut := site()
	f.Play("staff1: open 40 150 200; [Confirm]")
	open := site()
	f.Play(count + "12 60 80; none; none; [Confirm]")
	waits := site()
	all := []chat.Site{shut, open, waits, {Shop: f.Shop, Person: owner},
		{Shop: f.Shop, Person: keeper, Machine: open.Machine}}
	for dialog, want := range map[string]string{"open": "closed, waits", "close": "open, waits",
		"finish": "waits", "second": "waits", "topup": "open", "level": "open", "credit": "", "blue": ""} {
		list, ok := telling.Fitting(all, dialog, f.Now)
		var names []string
		for _, s := range list {
			switch s.Machine {
			case shut.Machine:
				names = append(names, "closed")
			case open.Machine:
				names = append(names, "open")
			case waits.Machine:
				names = append(names, "waits")
			}
		}
		if got := strings.Join(names, ", "); got != want || ok != (want != "") || len(names) != len(list) {
			t.Errorf("%s fits %q, %t", dialog, got, ok)
		}
	}
	if list, ok := telling.Fitting([]chat.Site{open}, "open", f.Now.Add(24*time.Hour)); !ok || len(list) != 1 {
		t.Error("what is open since yesterday cannot be opened today")
	}
	if _, ok := telling.Fitting([]chat.Site{shut}, "topup", f.Now); ok {
		t.Error("a machine that is not open is topped up")
	}
}

// Sums of several currencies stand side by side.
func TestSums(t *testing.T) {
	v := talk(floor.New(t, dialogs.New), "owner").V
	for want, parts := range map[string][]string{"": nil, "€13,200": {"€13,200"},
		"€13,200 and £2,150": {"€13,200", "£2,150"}, "€1, £2 and ¥3": {"€1", "£2", "¥3"}} {
		if got := telling.Sums(v, parts); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// The same time of day on another date, by the shop's clock: in summer that is an hour earlier
// in Greenwich. The change of the clocks of Ireland is the last Sunday of March, see the EU's
// directive 2000/84/EC.
func TestOnDate(t *testing.T) {
	tell := talk(floor.New(t, dialogs.New), "owner").Teller
	at := time.Date(2026, 11, 25, 21, 5, 30, 0, time.UTC)
	for date, want := range map[shop.Date]string{"2026-11-24": "2026-11-24T21:05:00Z",
		"2026-06-01": "2026-06-01T20:05:00Z"} {
		if got := tell.OnDate(at, date).Format(time.RFC3339); got != want {
			t.Errorf("%s: %s, want %s", date, got, want)
		}
	}
}

// Whoever had their name erased is told by letters that stay the same and differ from those of
// others; who was never there is somebody.
func TestPseudonym(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Shop.People[1].Name = ""
	tell := talk(f, "owner").Teller
	seen := map[string]shop.PersonID{}
	for id := shop.PersonID(1); id < 2000; id++ {
		name := tell.Pseudonym(id)
		if other := seen[name]; other != 0 {
			t.Fatalf("%d and %d are both %s", id, other, name)
		}
		seen[name] = id
		if code := strings.Fields(name); strings.ContainsAny(code[len(code)-1], "IO01") {
			t.Fatalf("%q is easily misread", name)
		}
	}
	if got := tell.Name(2); got != tell.Pseudonym(2) || got == "" {
		t.Errorf("erased: %q", got)
	}
	if got := tell.Name(1); got != "Ada" {
		t.Errorf("%q", got)
	}
	if got := tell.Name(99); got != tell.V.Say("somebody") {
		t.Errorf("nobody: %q", got)
	}
}

// While a machine is counted nothing is told of the period that is counted, nor of what came
// since; a count of what was counted before hides that day, too.
func TestUnseen(t *testing.T) {
	f := floor.Owed(t, dialogs.New)
	f.Play("staff1: open 40 150 200; [Confirm]\n@2026-11-26 15:00\nstaff1: settle 10 0 0; none; [Confirm]")
	tell := talk(f, "owner").Teller
	if tell.Hides = func() bool { return false }; telling.UnseenFrom(tell) != "" ||
		telling.SeenUntil(tell, "2026-11-30") != "2026-11-30" || telling.Settled(tell) != tell {
		t.Error("something is hidden while nobody counts")
	}
	all := tell.Owed("")
	tell.Hides = func() bool { return true }
	tell.F.Others = []chat.Activity{{Person: 3, Blind: true, Flow: "closing", Since: f.Now}}
	if got := telling.UnseenFrom(tell); got != "2026-11-26" {
		t.Errorf("hidden from %s on", got)
	}
	for to, want := range map[shop.Date]shop.Date{"2026-11-30": "2026-11-25", "2026-11-26": "2026-11-25",
		"2026-11-25": "2026-11-25", "2026-11-01": "2026-11-01"} {
		if got := telling.SeenUntil(tell, to); got != want {
			t.Errorf("up to %s: seen until %s, want %s", to, got, want)
		}
	}
	expect(t, telling.Counted(tell), "Thu 26 Nov|Cleo|15:00", "Ben")
	settled := telling.Settled(tell)
	if got := settled.Owed(""); all.Sum.String() != "6380" || got.Sum.String() != "5880" || got.Count != 3 {
		t.Errorf("owed %s and, without what is counted, %s of %d", all.Sum, got.Sum, got.Count)
	}
	if len(tell.M.Claims) != 4 {
		t.Errorf("%d claims are left of four", len(tell.M.Claims))
	}
	if got := settled.DueBefore("2026-11-26"); got.Sum.String() != "4880" || got.Count != 2 { // 4,380 and 500
		t.Errorf("due before Thursday: %s of %d", got.Sum, got.Count)
	}
	// by sums that are kept, the same
	settled.F.Ask.Owed = func(shop.Date) dues.Owed { return all }
	settled.F.Ask.Claims = func(w dues.Wanted) []books.Claim { return w.Among(f.Machine.Claims) }
	if got := settled.Owed(""); got.Sum.String() != "5880" || got.Count != 3 {
		t.Errorf("by sums that are kept: %s of %d", got.Sum, got.Count)
	}
	tell.F.Others[0].Blind = false
	if got := telling.Counted(tell); got != tell.V.Say("hidden") {
		t.Errorf("nobody counts: %q", got)
	}
}

// What was typed in by top-ups, record by record; a swap stands for no record alone.
func TestLotRecords(t *testing.T) {
	f := opened(t, "staff1: top up 10x4; [Confirm]; top up 20x5; [Confirm]")
	tell := talk(f, "owner").Teller
	if got := telling.LotRecords(tell, f.Machine.Current()); !slices.Equal(got, []int64{2, 3}) {
		t.Errorf("records %v", got)
	}
	tell.M = f.Machine.Clone()
	tell.M.Recent = tell.M.Recent[len(tell.M.Recent)-1:] // the first one is no longer at hand
	if got := telling.LotRecords(tell, f.Machine.Current()); !slices.Equal(got, []int64{0}) {
		t.Errorf("where they are not all at hand: %v", got)
	}
}

// Figures that would be other ones, from and to; one that was counted would be no blind one.
func TestChanges(t *testing.T) {
	tell := talk(floor.New(t, dialogs.New), "owner").Teller
	typed := diagnosis.Change{Field: diagnosis.Dispensed, Face: "20", From: 98, To: 89}
	expect(t, floor.Said(telling.Changes(tell, []diagnosis.Change{typed})...), "20s|98  →  89",
		tell.V.Say("fix.not-blind"))
	counted := diagnosis.Change{Field: diagnosis.Remaining, Face: "20", From: 16, To: 61}
	expect(t, floor.Said(telling.Changes(tell, []diagnosis.Change{typed, counted})...), "98  →  89|16  →  61|"+
		tell.V.Say("fix.not-blind"), "")
	if got := telling.ChangeWord(tell, counted); got != "20s: 61" {
		t.Errorf("%q", got)
	}
}

// Of refused notes a slip and a count may tell otherwise: what was found, that nothing was, or
// that nobody looked.
func TestRefusedSlip(t *testing.T) {
	tell := talk(floor.New(t, dialogs.New), "owner").Teller
	paid := []int64{28, 90, 120}
	none := decimal.NullDecimal{}
	p := &books.Period{Tray: books.Notes{"20": 3, "10": 1}}
	expect(t, telling.RefusedSlip(tell, p, paid, none, 5), "28, 90, 120|says 5 refused; you found 4 in", "€")
	expect(t, telling.RefusedSlip(tell, &books.Period{}, paid, none, 5),
		"28, 90, 120|you found none in that box", "€")
	total := decimal.NewNullDecimal(decimal.NewFromInt(4400))
	expect(t, telling.RefusedSlip(tell, p, nil, total, 5), "Paid out €4,400.|found 4 in", "28")
	unlooked := &books.Period{Marks: []books.Mark{books.NoTray}}
	expect(t, telling.RefusedSlip(tell, unlooked, paid, none, 5), "28, 90, 120|5 refused; nobody looked",
		"found")
}

// A period is found by its day, the last of several, and by its number however old it is.
func TestOldPeriods(t *testing.T) {
	f := floor.New(t, dialogs.New)
	for _, date := range []string{"2026-11-02", "2026-11-23", "2026-11-24", "2026-11-25"} {
		f.Play(floor.Day(date, "30 150 200", "10 0 0", "none"))
	}
	f.At("2026-11-26 09:00")
	tell := talk(f, "owner").Teller
	for date, want := range map[shop.Date]int64{"2026-11-02": 1, "2026-11-24": 9, "2026-11-03": 0} {
		if got := telling.PeriodOn(tell, date); got != want {
			t.Errorf("%s: period %d, want %d", date, got, want)
		}
	}
	if f.Machine.Period(1) != nil {
		t.Fatal("the first period is still at hand")
	}
	if p := tell.PeriodOf(1); p == nil || tell.DayOf(p) != "2026-11-02" {
		t.Errorf("period 1 is %+v", p)
	}
	if p := tell.PeriodOf(2); p != nil {
		t.Errorf("period 2 is %+v", p)
	}
	asked := 0
	then := books.New(1)
	tell.F.Ask.Lately = func(shop.Date) (*books.Machine, []books.Entry) { asked++; return then, f.Entries[12:] }
	for range 2 {
		if m, since := tell.Lately("2026-11-25"); m != then || len(since) != len(f.Entries)-12 {
			t.Errorf("%d entries since", len(since))
		}
	}
	if asked != 1 {
		t.Errorf("read %d times", asked)
	}
	tell.F.Ask.Lately = func(shop.Date) (*books.Machine, []books.Entry) { return nil, f.Entries }
	if m, since := tell.Lately("2026-11-01"); m == nil || m.Seq != 0 || len(since) != len(f.Entries) {
		t.Errorf("before the first record: %+v, %d entries", m, len(since))
	}
	tell.F.Ask.Before = func(seq int64) (*books.Machine, []books.Entry) { return nil, f.Entries[seq-1:] }
	if m, since := tell.Back(9); m == nil || m.Seq != 0 || len(since) == 0 || since[0].Seq != 9 {
		t.Errorf("back to 9: %+v, %d entries", m, len(since))
	}
	tell.F.Ask.Entries = nil
	if tell.HasLedger() || tell.Ledger() != nil || tell.PeriodOf(1) != nil || tell.Look("2026-11-02") != tell.M {
		t.Error("a ledger that cannot be had is told of")
	}
}
