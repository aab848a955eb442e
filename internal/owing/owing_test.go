package owing_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/dues"
	"shopfloat/internal/owing"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

func owed(t *testing.T) *floor.Floor {
	t.Helper()
	return floor.Owed(t, dialogs.New)
}

// teller is what the owner is told by.
func teller(f *floor.Floor) *telling.Teller { return f.Talk("owner").Teller }

func said(blocks []chat.Block) string { return floor.Said(blocks...) }

// What is owed is told for each day while there are few, with what is late, and with
// what came and is not matched.
func TestOwed(t *testing.T) {
	for name, s := range map[string]struct{ script, ask, want, not string }{
		"three days": {"", "owed", "Mon 23 Nov  €4,380  late, was due Tue 24 Nov|" +
			"Wed 25 Nov  €1,000  due Thu 26 Nov|" +
			"together    €5,880|has 1 bank day to pay", "Not matched|[More]"},
		"a part came": {"owner: credit 4308 for monday; [Mon 23 Nov, €72 still]", "owed",
			"Mon 23 Nov     €72  late|together    €1,572", "4,380"},
		"it is not known for what": {"owner: credit 520 for tuesday; [I don't know]", "owed",
			"together    €5,380|Not matched: €20, Thu 26 Nov.|Write match", "Tue 24 Nov  "},
		"paid back by the till": {"owner: credit 77; [Another shop]; [Confirm]", "owed",
			"together    €5,880|€77|Write match", ""},
		"nothing is owed": {"owner: credit 5880 for monday to wednesday; [Confirm]", "owed",
			"The bank owes nothing", "together|late"},
		"charges are no debt": {"owner: debit 15; [The bank's]; [Confirm]", "owed", "together    €5,880",
			"15"},
		"taken back is owed again": {"owner: credit 5880 for monday to wednesday; [Confirm]; " +
			"debit 300 for tuesday; [Confirm]", "owed", "Tue 24 Nov  €300  late|together    €300",
			"Mon 23"},
		"at the end of a day": {"", "owed on 24 november", "at the end of Tue 24 Nov:|" +
			"Mon 23 Nov  €4,380  €4,380 still owed|together    €4,880|still owed  €4,880", "Wed 25"},
		"what became of it": {"owner: credit 4308 for monday; [Mon 23 Nov, €72 still]; " +
			"credit 500 for tuesday; [Confirm]", "owed on 24 november",
			"Mon 23 Nov  €4,380  €72 still owed|Tue 24 Nov    €500  paid since|" +
				"paid since  €4,808|still owed     €72", "1,000"},
		"given up since": {"owner: write off 500 for tuesday; [The bank will not pay]; [Confirm]",
			"owed on 24 november",
			"Tue 24 Nov        €500  €500 given up|given up since    €500|still owed      €4,380",
			"paid since"},
		"before all of it": {"", "owed on 20 november", "Fri 20 Nov", "together|4,380"},
		"no day":           {"", "owed on 31 february", "31 february", "together"},
		"several days":     {"", "owed on monday to tuesday", "monday to tuesday", "together"},
	} {
		t.Run(name, func(t *testing.T) {
			f := owed(t)
			f.Play(s.script)
			f.Expect(f.Says("owner", s.ask), s.want, s.not)
		})
	}
}

// claims puts so many days on the books that are owed, from a Monday in August on,
// 100 for the first, 101 for the next.
func claims(m *books.Machine, n int) {
	for i := range n {
		date := shop.Date("2026-08-03").Add(i)
		m.Claims = append(m.Claims, books.Claim{Seq: int64(100 + i), Day: date, On: date.Add(1),
			Settled: date.Time().Add(20 * time.Hour), Value: decimal.NewFromInt(int64(100 + i))})
	}
}

// page is one of the pages of what is owed.
func page(t *testing.T, f *floor.Floor, arg string) chat.Reply {
	t.Helper()
	r, ok := owing.OwedPage(teller(f), arg)
	if !ok {
		t.Fatalf("there is no page %s", arg)
	}
	return r
}

// More than six days are added up by their age, and listed page by page.
func TestManyDays(t *testing.T) {
	f := floor.New(t, dialogs.New)
	claims(f.Machine, 8) // 100 + 101 + ... + 107 = 828
	body, more := owing.Owed(teller(f))
	floor.Expect(t, said(body), "together|€828", "€101")
	if !more {
		t.Error("eight days are told one by one")
	}
	first := page(t, f, "0")
	floor.Expect(t, said(first.Body), "Mon 3 Aug  €100|€105", "€106")
	if len(first.Buttons) != 1 || !strings.HasSuffix(first.Buttons[0][0].Data, ":6:1") {
		t.Errorf("no way on: %+v", first.Buttons)
	}
	last := page(t, f, "6")
	floor.Expect(t, said(last.Body), "€106|€107", "€105")
	if len(last.Buttons) != 0 {
		t.Errorf("a way on from the last page: %+v", last.Buttons)
	}
	for _, from := range []int{-1, 8, 99} { // what is paid meanwhile makes the list shorter
		if got := said(page(t, f, fmt.Sprint(from)).Body); got != said(first.Body) {
			t.Errorf("from %d: %s", from, got)
		}
	}
	for _, arg := range []string{"", "x", "6.", "6.2026-02-30", "6.2026-08-10.x", "6.2026-08-10.1.1"} {
		if r, ok := owing.OwedPage(teller(f), arg); ok {
			t.Errorf("%q is a page: %s", arg, said(r.Body))
		}
	}
	f.Machine.Claims = nil
	floor.Expect(t, said(page(t, f, "3").Body), "The bank owes nothing", "€")
}

// An old debt among few is told by its age too, and a settlement in part is at least that.
func TestOldAndInPart(t *testing.T) {
	f := floor.New(t, dialogs.New)
	claims(f.Machine, 2)
	f.Machine.Claims[1].Part = true
	body, more := owing.Owed(teller(f))
	floor.Expect(t, said(body), "Mon 3 Aug|€100|€101|at least|€201", "")
	if more || len(body) != 4 {
		t.Errorf("%d blocks, more %t: %s", len(body), more, said(body))
	}
}

// What the bank paid too much for a day and what is for nothing known stands beside.
func TestNotMatched(t *testing.T) {
	f := floor.New(t, dialogs.New)
	claims(f.Machine, 1)
	f.Machine.Claims[0].Paid = decimal.NewFromInt(130)
	f.Machine.Loose = []books.Loose{
		{Seq: 7, As: books.Unknown, Value: decimal.NewFromInt(-45), Happened: f.Now}}
	body, _ := owing.Owed(teller(f))
	floor.Expect(t, said(body), "€30|Mon 3 Aug|€45", "Write match")
	f.Machine.Loose[0].Value = decimal.NewFromInt(45)
	body, _ = owing.Owed(teller(f))
	floor.Expect(t, said(body), "Not matched: €45|Write match", "")
}

// The rule by which the bank pays is told as it is laid down.
func TestRule(t *testing.T) {
	for name, s := range map[string]struct {
		set       func(*shop.Settings)
		want, not string
	}{
		"none": {func(s *shop.Settings) { s.CreditDays = 0 }, "", "bank day to pay|bank days to pay"},
		"one": {func(s *shop.Settings) { s.CreditDays = 1 }, "1 bank day to pay|also from a weekend",
			"15:00"},
		"three":   {func(s *shop.Settings) { s.CreditDays = 3 }, "3 bank days to pay", ""},
		"a limit": {func(s *shop.Settings) { s.CreditDays, s.CreditCut = 1, 15*60 }, "15:00", ""},
		"moved": {func(s *shop.Settings) { s.CreditDays, s.CreditRoll = 1, true }, "1 bank day to pay",
			"also from a weekend"},
		"a currency without a calendar": {func(s *shop.Settings) { s.CreditDays, s.Currency = 1, "KWD" },
			"1 bank day to pay|weekend", ""},
	} {
		t.Run(name, func(t *testing.T) {
			f := floor.New(t, dialogs.New)
			s.set(&f.Shop.Settings)
			body, _ := owing.Owed(teller(f))
			floor.Expect(t, said(body), s.want, s.not)
		})
	}
}

// Several machines stand on a line each, with a sum; each has a button of its own.
func TestOwedTogether(t *testing.T) {
	f := owed(t)
	front := teller(f)
	back := *front
	back.Kit, back.M = &shop.Machine{ID: 2, Name: "Back machine"}, books.New(2)
	claims(back.M, 1)
	back.F.Ask.Claims = func(w dues.Wanted) []books.Claim { return w.Among(back.M.Claims) }
	body := said(owing.OwedTogether([]*telling.Teller{front, &back}))
	floor.Expect(t, body, "Cash machine  €5,880|Back machine    €100|together      €5,980|"+
		"0 to 7 days   €5,880|over 90 days    €100|1 bank day",
		"Mon 23 Nov")
	f.Shop.Machines = append(f.Shop.Machines, shop.Machine{ID: 2, Name: "Back machine"})
	one, _ := owing.Owed(teller(f))
	floor.Expect(t, said(one), "together    €5,880|owed together", "€100")
}

// While somebody counts without seeing the figures, nothing is told that gives them away.
func TestHiddenInCount(t *testing.T) {
	f := owed(t)
	f.Play("@2026-11-26 06:40\nstaff1: open 40 150 200; [Confirm]\n@2026-11-26 21:05\nstaff1: close 40 150")
	f.Expect(f.Says("owner", "owed"), "Thu 26 Nov is being counted (Ben, since 21:05).|together    €5,880", "")
	f.Expect(f.Says("owner", "owed at today"), "is being counted", "€")
	f.Expect(f.Says("owner", "owed on tuesday"), "€", "counted")
}

// A message to the bank names the shop, the day, the time of the slip and the gap, and
// no more of what a figure may be than fits exactly.
func TestBankMessages(t *testing.T) {
	f := owed(t)
	late := said(owing.AboutLate(teller(f), f.Machine.Claims[0]))
	floor.Expect(t, late, "Copy it|Example corner shop, Mon 23 Nov|printed at 21:05: €4,380|"+
		"Tue 24 Nov|Please check",
		"You paid us")
	for script, want := range map[string]string{
		"credit 4308 for monday":  "You paid us €4,308|€72 is missing",
		"credit 520 for tuesday":  "You paid us €520|€20",
		"credit 4311 for monday":  "€69 is missing",
		"credit 43800 for monday": "You paid us €43,800|€39,420",
	} {
		f := owed(t)
		f.Says("owner", script)
		if _, ok := f.Button("owner", "Write to the bank"); !ok {
			f.Taps("owner", "More")
		}
		message, _, _ := strings.Cut(f.Taps("owner", "Write to the bank"), "bot> Money from")
		f.Expect(message, want+"|Please check and tell us.", "Two digits are")
	}
}

// Days that a payment is for are named one by one, in a row, or both; what is no day
// is not taken for one.
func TestClaimsNamed(t *testing.T) {
	f := owed(t)
	tell := teller(f)
	seq := func(days ...int) (list []int64) {
		for _, i := range days {
			list = append(list, f.Machine.Claims[i].Seq)
		}
		return list
	}
	for text, want := range map[string][]int64{
		"monday": seq(0), "Tuesday": seq(1), "monday and wednesday": seq(0, 2), "monday, tuesday": seq(0,
			1),
		"wednesday + monday": seq(0, 2), "monday & monday": seq(0), "monday to wednesday": seq(0, 1, 2),
		"24 november": seq(1), "sunday": {}, "23": seq(0), "for 23 and 24": seq(0, 1), "23 to 25": seq(0, 1, 2),
		"23, 24 and 25 november": seq(0, 1, 2), "23 and 24 october": {}, "23 and tuesday": seq(0, 1),
	} {
		of, ok := owing.ClaimsNamed(tell, text)
		if !ok || fmt.Sprint(of) != fmt.Sprint(want) {
			t.Errorf("%q: %v %t, want %v", text, of, ok, want)
		}
	}
	for _, text := range []string{"", " and ", "blue moon", "monday and blue moon"} {
		if of, ok := owing.ClaimsNamed(tell, text); ok {
			t.Errorf("%q names %v", text, of)
		}
	}
}

// Digits in groups of three with a space between are one figure (ISO 80000-1, 7.3.1).
func TestGroupsOfThree(t *testing.T) {
	tell := teller(floor.New(t, dialogs.New))
	for text, want := range map[string]string{
		"1 200": "1200|", "1 200 for monday": "1200|for monday", "€1 200,50": "1200.5|",
		"12 345 678 for 24 november": "12345678|for 24 november", "1 200 euro": "1200|",
		"500 24 november": "500|24 november", "1000 500": "1000|500", "200 2026": "200|2026",
	} {
		v, rest, ok := owing.MoneyFirst(tell, text)
		if got := v.String() + "|" + rest; !ok || got != want {
			t.Errorf("%q: %s %t, want %s", text, got, ok, want)
		}
	}
	f := owed(t)
	f.Expect(f.Says("owner", "credit 1 000"), "due for Wed 25 Nov  €1,000|exactly what is due", "€1.")
}

// An amount stands first; charges and fees stand beside what else is said.
func TestAmountsInText(t *testing.T) {
	tell := teller(floor.New(t, dialogs.New))
	for text, want := range map[string]string{
		"520 for tuesday": "520|for tuesday", "€4,380.50": "4380.5|",
		"500 euro for monday": "500|for monday",
		"1.200,50":            "1200.5|", "500, for tuesday": "500|for tuesday", "500,": "500|",
		"500 euro, charges 6": "500|charges 6", "1 200, charges 6": "1200|charges 6",
		"1 200,50, 24 november": "1200.5|24 november",
	} {
		v, rest, ok := owing.MoneyFirst(tell, text)
		if got := v.String() + "|" + rest; !ok || got != want {
			t.Errorf("%q: %s %t, want %s", text, got, ok, want)
		}
	}
	for _, text := range []string{"", "0", "-5", "monday 5", "43o8x", ",", ", 500", "monday, 500"} {
		if v, _, ok := owing.MoneyFirst(tell, text); ok {
			t.Errorf("%q is %s", text, v)
		}
	}
	for text, want := range map[string]string{
		"for monday, charges 12.50, fee 4": "12.5|4|for monday",
		"bank charges 20":                  "20|0|",
		"10 charges":                       "10|0|",
		"monday less 10 charges":           "10|0|monday",
		"monday":                           "0|0|monday",
		"charges":                          "0|0|charges",
		"charges 5, charges 6 for tuesday": "11|0|for tuesday",
	} {
		charged, fee, rest := owing.Beside(tell, text)
		if got := charged.String() + "|" + fee.String() + "|" + rest; got != want {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
}

// A reason is one at hand, or somebody's own words as they were typed.
func TestWhy(t *testing.T) {
	tell := teller(floor.New(t, dialogs.New))
	if got := owing.Why(tell, books.TooSmall, ""); got == "" || strings.Contains(got,
		string(books.TooSmall)+".") {
		t.Errorf("a reason at hand: %q", got)
	}
	floor.Expect(t, owing.Why(tell, books.TooSmall, "They said no"), "They said no", "reason.")
}
