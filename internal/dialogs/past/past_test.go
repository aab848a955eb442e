package past_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
)

var expect = floor.Expect

// month is a shop on Thursday 26 November 2026. By hand, in euro:
//
//	30 October: 50x20 = 1,000 paid out; nothing differs.
//	23 November: 28x50 + 89x20 + 120x10 = 4,380 paid out, 2x20 of it cancelled;
//	  150 - 89 + 2 = 63 twenties should be inside, 61 are: 40 missing. Due 4,340.
//	24 November: 10x50 = 500 paid out; nothing differs. 12.50 charges.
//	25 November: open, ten twenties lent to the till.
func month(t *testing.T) *floor.Floor {
	t.Helper()
	f := floor.New(t, dialogs.New)
	f.Play(floor.Day("2026-10-30", "40 100 200", "0 50 0", "none") +
		floor.Day("2026-11-23", "12 61 80", "28 89 120", "[Change]\nstaff1: [Cancelled, 20s: 0]\nstaff1: 2") +
		"staff1: [Skip]\n" + floor.Day("2026-11-24", "30 150 200", "10 0 0", "none") + `
		owner: credit 520 for tuesday
		owner: [€20 of it]
		owner: debit 12.50
		owner: [The bank's charges]
		owner: [Confirm]
		@2026-11-25 06:40
		staff1: open 40 150 200
		staff1: [Confirm]
		staff1: borrow 10x20
		staff1: [Confirm]
		@2026-11-26 06:00`)
	f.Out.Reset()
	return f
}

// What is shown of days that were.
func TestDays(t *testing.T) {
	for said, s := range map[string]struct{ want, not string }{
		"day monday": {"put in           €7,000|paid out         €4,380|cancelled of it     €40|" +
			"€40 is missing. (20s 2 missing)|" +
			"due from the bank  €4,340|still to come      €4,340", "bank charges"},
		"day tuesday": {"It balances|due from the bank    €500|paid by the bank     €500|" +
			"fee income            €20|" +
			"bank charges       €12.50", "still to come"},
		"day wednesday":  {"taken out    €200|Not closed yet|from the till  -€200", "paid out"},
		"day":            {"Nothing is recorded for Thu 26 Nov", "put in"},
		"day 30 october": {"Fri 30 Oct:|paid out  €1,000|still to come      €1,000", "cancelled"},
		"day blue":       {"do not know the day: blue", "put in"},
		"day monday to tuesday": {"Mon 23 Nov to Tue 24 Nov:|together      €4,880     -€40   €4,340|" +
			"our fees|charges: €12.50",
			"Wed 25"},
		"month": {"Sun 1 Nov to Mon 30 Nov|Wed 25 Nov         ?         ?        ?|" +
			"together      €4,880  -€40 + ?   €4,340",
			"Oct"},
		"month october": {"Fri 30 Oct    €1,000|together      €1,000       €0   €1,000",
			"Nov|fee income|charges"},
		"month may":  {"Nothing is recorded for that time", "together"},
		"month foo":  {"do not know the month: foo", "together"},
		"export foo": {"do not know the month: foo", "csv"},
		"export may": {"Nothing is recorded for that time", "csv"},
		"history monday": {"Mon 23 Nov:|5. |8. Mon 23 Nov, 21:05 closing, Ben: difference -€40",
			"4. |9. "},
		"history":                   {"7. Mon|16. Wed 25 Nov, 06:40 notes moved", " 6. "},
		"history sunday":            {"Nothing is recorded for Sun 22 Nov", "1. "},
		"history monday to tuesday": {"do not know the day", "5. "},
		"float": {"in the machine     €6,800|owed by the till     €200|owed by the bank   €5,340|" +
			"together          €12,340|" +
			"paid to the account        -€507.50|money put in             €12,372.50|" +
			"€32.50 less|The machine is open", "broken"},
		"float monday": {"at the end of Mon 23 Nov|back in the safe  €2,620|" +
			"together          €7,960|€40 less", "open"},
		"float 29 october":        {"before my first record, which is of Fri 30 Oct", "together"},
		"float foo":               {"do not know the day: foo", "together"},
		"float monday to tuesday": {"do not know the day", "together"},
		"export": {"3 days, with totals|2026-11.csv|" +
			"2026-11-23,0.00,0.00,4380.00,40.00,0.00,-40.00,4340.00,0.00,0.00,0.00,4340.00,Ben|" +
			"2026-11-24,0.00,0.00,500.00,0.00,0.00,0.00,500.00,500.00,20.00,12.50,0.00,Ben|" +
			"2026-11-25,-200.00,0.00,0.00,0.00,0.00,,0.00,0.00,0.00,0.00,0.00,|" +
			"total,-200.00,0.00,4880.00,40.00,0.00,,4840.00,500.00,20.00,12.50,4340.00,", "2026-10"},
	} {
		t.Run(said, func(t *testing.T) { expect(t, month(t).Says("owner", said), s.want, s.not) })
	}
}

// Notes that the till brings back are no top-up, be it a part or all of what came;
// what the bank brings is told apart.
func TestBroughtBack(t *testing.T) {
	for name, s := range map[string]struct{ script, want, not string }{
		"a part": {"bring back 4x20",
			"taken out             €200|back from the till     €80|from the till  -€120", "topped up"},
		"all": {"bring back 10x20", "back from the till    €200", "topped up|from the till  -"},
		"a top-up beside": {"bring back 10x20\nstaff1: [Confirm]\nstaff1: top up 10x5",
			"topped up              €50|back from the till    €200", "€250"},
		"only a top-up": {"top up 10x5", "topped up     €50|from the till  -€200", "back from"},
	} {
		t.Run(name, func(t *testing.T) {
			f := month(t)
			f.Play("@2026-11-25 12:00\nstaff1: " + s.script + "\nstaff1: [Confirm]")
			expect(t, f.Says("owner", "day wednesday"), s.want, s.not)
		})
	}
}

// What came from the bank, what a customer claims and what went back there are told
// by the day it happened, and add up.
func TestMoneyOfDays(t *testing.T) {
	f := month(t)
	bank := func(from, to books.Place, notes int64) {
		reason := books.FromBank
		f.Record(1, books.Ruled(books.Record{Kind: books.Moved, Reason: reason, Happened: f.Now.UTC(),
			Moves: []books.Move{{Face: "50", Notes: notes, From: from, To: to}}}))
	}
	bank(books.Bank, books.Cash, 10)
	bank(books.Cash, books.Bank, 3)
	f.Play("owner: debit 50\nowner: [A customer]\nowner: monday\nowner: [Confirm]\n" +
		"staff1: bring back 4x20\nstaff1: [Confirm]\n" +
		"staff1: test\nstaff1: [1 of each]\nstaff1: [Yes]\nstaff1: [Box for]\nstaff1: [Confirm]")
	// 10 x 50 - 3 x 50 = 350 from the bank, 4 x 20 = 80 from the till
	expect(t, f.Says("owner", "day"),
		"from the till                 €80|from the bank, in notes      €350|claims   €50", "still to come")
	expect(t, f.Says("owner", "export"),
		"2026-11-25,-200.00,0.00,0.00,0.00,80.00,|2026-11-26,80.00,350.00,0.00|total,-120.00,350.00,4880.00", "")
}

// While somebody counts, nothing is told by which the count could be guessed, and all that
// tells nothing of it is answered.
func TestHidden(t *testing.T) {
	f := month(t)
	f.Play("@2026-11-25 21:05\nstaff1: close 40 150 190")
	const counted = "Wed 25 Nov is being counted (Ben, since 21:05)."
	for _, said := range []string{"day", "day 25 november", "float", "printed"} {
		expect(t, f.Says("owner", said), counted, "€|csv")
	}
	for _, said := range []string{"month", "export", "owed", "history"} {
		expect(t, f.Says("owner", said), counted, "Wed 25 Nov  ")
	}
	for _, said := range []string{"day monday", "float 24 november"} {
		expect(t, f.Says("owner", said), "€", "counted")
	}
	expect(t, f.Says("owner", "history monday"), "€4,380", "")
	expect(t, f.Says("owner", "status"), counted, "Put in")
}

// abroad is a shop of another country with a machine of three boxes, which was
// closed on Wednesday 25 November 2026.
func abroad(t *testing.T, country, currency, zone, left, paid string, faces ...cashmath.Face) *floor.Floor {
	t.Helper()
	f := floor.Abroad(t, dialogs.New, country, currency, zone, faces...)
	f.Play(floor.Day("2026-11-25", left, paid, "none"))
	return f
}

// Money without decimals and with three, in zones where the day begins on another
// date than in Greenwich. 10x10,000 + 5x5,000 + 40x1,000 = 165,000 yen, and one
// 1,000 is missing; 10x20 + 10x10 + 5x0.5 = 302.5 dinars; 28x50 + 89x20 + 120x10 =
// 4,380 dollars.
func TestOtherMoney(t *testing.T) {
	for currency, s := range map[string]struct {
		floor     *floor.Floor
		day, file string
	}{
		"JPY": {abroad(t, "JP", "JPY", "Asia/Tokyo", "30 145 159", "10 5 40",
			"10000", "5000", "1000"), "Wed 25 Nov|165,000|1,000",
			"2026-11-25,0,0,165000,0,0,-1000,165000,0,0,0,165000,Ben|total,0,0,165000,0,0,-1000,165000,0,0,0,165000,"},
		"KWD": {abroad(t, "KW", "KWD", "Asia/Kuwait", "30 140 195", "10 10 5",
			"20", "10", "0.5"), "Wed 25 Nov|302.500|It balances",
			"2026-11-25,0.000,0.000,302.500,0.000,0.000,0.000,302.500,0.000,0.000,0.000,302.500,Ben"},
		"USD": {abroad(t, "US", "USD", "Pacific/Honolulu", "12 61 80", "28 89 120",
			"50", "20", "10"), "Wed 25 Nov|4,380",
			"2026-11-25,0.00,0.00,4380.00,0.00,0.00,0.00,4380.00,0.00,0.00,0.00,4380.00,Ben"},
	} {
		t.Run(currency, func(t *testing.T) {
			s.floor.T = t
			expect(t, s.floor.Says("owner", "day wednesday"), s.day, "")
			s.floor.At("2026-11-30 09:00")
			expect(t, s.floor.Says("owner", "export"), s.file, "2026-11-26|2026-11-24")
			expect(t, s.floor.Says("owner", "float 25 november"), s.day[:10], "before my first")
			expect(t, s.floor.Says("owner", "float 24 november"), "before my first record", "together")
			expect(t, s.floor.Says("owner", "history 25 november"), "1. |4. ", "")
		})
	}
}

// The last record is taken back by who made it, within a quarter of an hour, and
// what is light is looked past.
func TestUndo(t *testing.T) {
	const open = "staff1: open 40 150 200\nstaff1: [Confirm]\n"
	for name, s := range map[string]struct {
		script, want, not string
		target            int64 // 0: nothing is taken back
	}{
		"an opening":   {open + "staff1: undo\nstaff1: [Confirm]", "Taken back|opening", "", 1},
		"just in time": {open + "@2026-11-25 06:55\nstaff1: undo\nstaff1: [Confirm]", "Taken back", "", 1},
		"too late":     {open + "@2026-11-25 06:56\nstaff1: undo", "too long ago", "[Confirm]", 0},
		"by another":   {open + "staff2: undo", "last record is by Ben", "[Confirm]", 0},
		"nothing":      {"staff1: undo", "nothing to take back", "[Confirm]", 0},
		"a level is light": {open + "staff1: level 40 140 200\nstaff1: [Confirm]\n" +
			"staff1: undo\nstaff1: [Confirm]", "opening", "", 1},
		"the one before it": {open + "staff1: top up 10x5\nstaff1: [Confirm]\n" +
			"staff1: undo\nstaff1: [Confirm]\nstaff1: undo\nstaff1: [Confirm]", "opening", "", 1},
		"somebody was faster": {open + "staff1: undo\nstaff2: top up 10x5\nstaff2: [Confirm]\n" +
			"staff1: [Confirm]", "Cleo", "Taken back", 0},
	} {
		t.Run(name, func(t *testing.T) {
			f := floor.New(t, dialogs.New)
			expect(t, f.Play(s.script), s.want, s.not)
			last := books.Entry{}
			if n := len(f.Entries); n > 0 {
				last = f.Entries[n-1]
			}
			if (last.Kind == books.Undo) != (s.target > 0) || s.target > 0 && last.Target != s.target {
				t.Errorf("the last record is %s of %d", last.Kind, last.Target)
			}
		})
	}
}

// What the same person recorded meanwhile is not taken back in place of what was
// asked about.
func TestUndoMeanwhile(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play("staff1: open 40 150 200\nstaff1: [Confirm]\nstaff1: undo")
	f.Record(floor.People["staff1"], books.Record{Kind: books.TopUp, Period: 1, Happened: f.Now.UTC(),
		Figures: []books.Figure{{Field: books.Added, Box: 3, Face: "10", Notes: 5}}})
	n := len(f.Entries)
	expect(t, f.Taps("staff1", "Confirm"), "Something changed meanwhile", "[Confirm]")
	f.Chooses("staff1", "confirm")
	if len(f.Entries) != n {
		t.Fatalf("took back %+v", f.Entries[n].Record)
	}
}

// Whoever counts again after a result was shown is known to have seen it; a close
// is finished anew.
func TestUndoClose(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play(floor.Day("2026-11-25", "12 60 80", "28 90 120", "none"))
	expect(t, f.Play("staff1: undo\nstaff1: [Confirm]"), "closing", "count again")
	f.Play("staff1: undo\nstaff1: [Confirm]\nstaff1: undo\nstaff1: [Confirm]")
	last := f.Entries[len(f.Entries)-1]
	if last.Kind != books.Undo || last.Target != 2 || !slices.Contains(last.Marks, books.NotBlind) {
		t.Errorf("the count was taken back as %+v", last.Record)
	}
}

// The total that the machine printed. 40x50 + 150x20 + 200x10 = 7,000.
func TestPrinted(t *testing.T) {
	const open = "staff1: open 40 150 200\nstaff1: [Confirm]\nstaff1: "
	for name, s := range map[string]struct{ script, want, not string }{
		"agrees":          {open + "printed 7000\nstaff1: [Confirm]", "agrees|€7,000", "likely"},
		"a bare amount":   {open + "7000\nstaff1: [Confirm]", "agrees", ""},
		"bare words":      {open + "seven", "", "agrees"},
		"asked":           {open + "printed\nstaff1: 7000\nstaff1: [Confirm]", "agrees", ""},
		"no money":        {open + "printed abc", "could not read|as money", "agrees"},
		"no money, asked": {open + "printed\nstaff1: abc", "What total", "agrees"},
		"510 for 150 twenties": {open + "printed 14200\nstaff1: [Confirm]",
			"€14,200|€7,000|20s (middle box)|510|150", "agrees"},
		"nothing that fits":      {open + "printed 7010", "€7,010|€7,000", "agrees"},
		"a bare one after hours": {open + "status\n@2026-11-25 08:40\nstaff1: 7000", "", "agrees"},
		"with a top-up": {open + "top up 10x5\nstaff1: [Confirm]\n" +
			"staff1: printed 7050\nstaff1: [Confirm]", "agrees", ""},
		"nothing open": {"staff1: printed 7000", "not open", "agrees"},
	} {
		t.Run(name, func(t *testing.T) {
			f := floor.New(t, dialogs.New)
			expect(t, f.Play(s.script), s.want, s.not)
			p := f.Machine.Current()
			left := p != nil && slices.Contains(p.Ticks, "total")
			if p != nil && left == strings.Contains(s.want, "agrees") {
				t.Errorf("the printed total is still to be ticked off: %v", left)
			}
		})
	}
}

// How things stand: what is open, inside and still to be done.
func TestStatus(t *testing.T) {
	const open = "staff1: open 40 150 200\nstaff1: [Confirm]\nstaff1: "
	for name, s := range map[string]struct{ script, want, not string }{
		"nothing yet": {"staff1: status", "not open", "Put in"},
		"open": {open + "status",
			"since 06:40 by Ben|20s  150 notes|€7,000|things are not ticked|[Show the list]", ""},
		"a level": {open + "level 40 140 200\nstaff1: [Confirm]\n" +
			"staff1: top up 20x5\nstaff1: [Confirm]\nstaff1: status",
			"20s  145 notes", "150 notes"},
		"closed": {floor.Day("2026-11-25", "12 60 80", "28 90 120", "none") + "staff1: status", "21:05 by Ben",
			"Put in"},
	} {
		t.Run(name, func(t *testing.T) { expect(t, floor.New(t, dialogs.New).Play(s.script), s.want, s.not) })
	}
}

// The week of 23 to 29 November: opened in time on three of seven days, closed on
// two. 28 + 10 fifties, 89 - 2 twenties and 120 tens were paid out.
func TestWeek(t *testing.T) {
	f := month(t)
	week := func(date string) string {
		f.At(date + " 09:00")
		return f.Step("owner", chat.Input{Kind: chat.Remind, Text: "due:" + date + ":summary", Due: f.Now},
			"(week)")
	}
	expect(t, week("2026-11-30"), "Mon 23 Nov|Sun 29 Nov|On time: opened 3, closed 2 of 7 days|"+
		"Mon 23 Nov: €40|€4,840, 38 x 50s, 87 x 20s, 120 x 10s|Check word of the records: kept", "Fri 30 Oct")
	expect(t, week("2026-12-28"), "", "Mon")
}

// Where the money was at the end of a day that has been; a day to come, several days, no day
// and a day before the first record are said to be that.
func TestFloatOfDays(t *testing.T) {
	f := month(t)
	for said, s := range map[string]struct{ want, not string }{
		// 30x50 + 150x20 + 200x10 are back, 1,000 + 4,340 are owed; 20 came more, 12.50 less, 40 are missing
		"float 24 november": {"at the end of Tue 24 Nov:|back in the safe   €6,500|owed by the bank   €5,340|" +
			"together          €11,840|paid to the account        -€507.50|€32.50 less than put in", "till  €200"},
		"float 30 february":       {"There is no such day: 30 february.", "€"},
		"float monday to tuesday": {"monday to tuesday", "€"},
		"float 1 october":         {"before my first record, which is of Fri 30 Oct", "€"},
	} {
		expect(t, f.Says("owner", said), s.want, s.not)
	}
	f = floor.New(t, dialogs.New)
	expect(t, f.Says("owner", "float"), "Nothing is recorded", "€")
}

func money(n int64) decimal.Decimal { return decimal.NewFromInt(n) }
