package matching_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"shopfloat/internal/checks"
	"shopfloat/internal/matching"
	"shopfloat/internal/shop"
	"shopfloat/internal/statement"
)

func money(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// owed reads claims written "2026-11-09 4380", due on the next day but one that is
// named behind it: "2026-11-07 4380 2026-11-09".
func owed(list ...string) (claims []matching.Claim) {
	for i, s := range list {
		f := strings.Fields(s)
		c := matching.Claim{Shop: 1, Machine: 1, Seq: int64(i + 1), Day: shop.Date(f[0]), Left: money(f[1]),
			Currency: "EUR"}
		if c.Value, c.Due = c.Left, c.Day.Add(1); len(f) > 2 {
			c.Due = shop.Date(f[2])
		}
		claims = append(claims, c)
	}
	return claims
}

// lines reads lines written "2026-11-10 4380.00 words".
func lines(list ...string) (all []statement.Line) {
	for i, s := range list {
		f := strings.SplitN(s, " ", 3)
		l := statement.Line{No: i + 1, Account: "A", Day: shop.Date(f[0]), Amount: money(f[1]), Currency: "EUR"}
		if len(f) > 2 {
			l.Text = f[2]
		}
		all = append(all, l)
	}
	return all
}

// told words an outcome: a line a proposal.
func told(o matching.Outcome) string {
	var b strings.Builder
	for i, list := range [][]matching.Proposal{o.Matched, o.Offered} {
		for _, p := range list {
			fmt.Fprintf(&b, "%d %s %s", p.Line, []string{"matched", "offered"}[i], p.Why)
			for _, c := range p.For {
				fmt.Fprintf(&b, " %s", c.Day[8:])
			}
			for _, part := range p.Parts {
				fmt.Fprintf(&b, ", %s %s", part.Value, part.As)
			}
			b.WriteByte('\n')
		}
	}
	for _, n := range o.Foreign {
		fmt.Fprintf(&b, "%d foreign\n", n)
	}
	for _, n := range o.Seen {
		fmt.Fprintf(&b, "%d seen\n", n)
	}
	return b.String()
}

// Two days of the same sum are told apart by the day that a payment names, where three others
// of the same payer named their own and none another.
func TestNamedDays(t *testing.T) {
	days := owed("2026-11-02 4100", "2026-11-03 4200", "2026-11-04 4300", "2026-11-05 4400", "2026-11-06 4400")
	const three = "2026-11-03 4100 BANK 2026-11-02|2026-11-04 4200 BANK 03.11.2026|2026-11-05 4300 BANK %s|"
	named := fmt.Sprintf(three, "20261104")
	for name, c := range map[string]struct{ lines, want string }{
		"named": {named + "2026-11-09 4400 BANK 2026-11-05", "4 matched named 05, 4400 pays\n"},
		"both named": {named + "2026-11-09 4400 BANK 2026-11-05|2026-11-09 4400 BANK 06/11/2026",
			"4 matched named 05, 4400 pays\n5 matched named 06, 4400 pays\n"},
		"with another near": {"2026-11-06 4400 BANK",
			"1 offered exact 05, 4400 pays\n1 offered exact 06, 4400 pays\n"},
		"not named":     {named + "2026-11-09 4400 BANK", "4 offered exact 06, 4400 pays\n4 offered"},
		"of the line":   {named + "2026-11-06 4400 BANK 2026-11-06", "4 offered"},
		"of neither":    {named + "2026-11-09 4400 BANK 2026-11-07", "4 offered"},
		"named twice":   {named + "2026-11-09 4400 BANK 2026-11-05|2026-11-09 4400 BANK 2026-11-05", "5 offered"},
		"names another": {fmt.Sprintf(three, "2026-11-03") + "2026-11-09 4400 BANK 2026-11-05", "4 offered"},
		"only two":      {strings.SplitAfterN(named, "|", 2)[1] + "2026-11-09 4400 BANK 2026-11-05", "3 offered"},
	} {
		got := told(matching.Match(lines(strings.Split(c.lines, "|")...), matching.Facts{Claims: days}))
		sure := strings.Contains(got, "matched named")
		guessed := name == "with another near" && (strings.Contains(got, " more ") ||
			strings.Contains(got, " less "))
		if !strings.Contains(got, c.want) || sure != strings.Contains(c.want, "matched") || guessed {
			t.Errorf("%s: want %q in\n%s", name, c.want, got)
		}
	}
}

// Each case is one way in which a bank pays; what is to come of it was worked
// out by hand from what the trade expects.
func TestMatch(t *testing.T) {
	week := owed("2026-11-09 4380", "2026-11-10 4400", "2026-11-11 3950")
	for name, c := range map[string]struct {
		claims []matching.Claim
		lines  []statement.Line
		facts  matching.Facts
		want   string
	}{
		"one day": {week, lines("2026-11-10 4380.00 payout", "2026-11-10 -61.15 rent"), matching.Facts{},
			"1 matched exact 09, 4380 pays\n2 foreign\n"},
		"two days of one sum": {owed("2026-11-09 4400", "2026-11-10 4400"), lines("2026-11-11 4400 payout"),
			matching.Facts{}, "1 offered exact 10, 4400 pays\n1 offered exact 09, 4400 pays\n"},
		"not before its day": {owed("2026-11-09 4400", "2026-11-12 4400"), lines("2026-11-10 4400 payout"),
			matching.Facts{}, "1 matched exact 09, 4400 pays\n"},
		"one sum, one line each": {owed("2026-11-09 4400", "2026-11-10 4400"),
			lines("2026-11-10 4400 payout", "2026-11-11 4400 payout"), matching.Facts{},
			"1 offered exact 09, 4400 pays\n1 offered exact 10, 4400 pays\n" +
				"2 offered exact 10, 4400 pays\n2 offered exact 09, 4400 pays\n"},
		"two lines for one day": {owed("2026-11-09 4400"), lines("2026-11-10 4400 payout",
			"2026-11-10 4400 payout"),
			matching.Facts{}, "1 offered exact 09, 4400 pays\n2 offered exact 09, 4400 pays\n"},
		"weekend in one": {owed("2026-11-06 1000 2026-11-09", "2026-11-07 1200 2026-11-09",
			"2026-11-08 1470 2026-11-09"),
			lines("2026-11-09 3670 payout"), matching.Facts{},
			"1 matched several 06 07 08, 1000 pays, 1200 pays, 1470 pays\n"},
		"late": {owed("2026-11-09 4380"), lines("2026-11-19 4380 payout"), matching.Facts{},
			"1 offered exact 09, 4380 pays\n"},
		"parts of the smallest coin": {owed("2026-11-09 4380"), lines("2026-11-10 4380.004 payout",
			"2026-11-10 4379.999999999999 payout"), matching.Facts{}, "1 foreign\n2 foreign\n"},
		"charges off": {owed("2026-11-09 4380"), lines("2026-11-10 4372.50 payout"), matching.Facts{},
			"1 offered less 09, 4380 pays, -7.5 charge\n"},
		"fees within": {owed("2026-11-09 4380"), lines("2026-11-10 4410.50 payout"), matching.Facts{
			Fee: money("0.50")},
			"1 offered fee 09, 4380 pays, 30.5 fee\n"},
		"fees unknown": {owed("2026-11-09 4380"), lines("2026-11-10 4410.50 payout"), matching.Facts{},
			"1 offered more 09, 4380 pays, 30.5 fee\n"},
		"two parts": {owed("2026-11-09 4380"), lines("2026-11-10 3000 payout", "2026-11-11 1380 payout"),
			matching.Facts{},
			"1 offered parts 09, 3000 pays\n2 offered parts 09, 1380 pays\n"},
		"taken back, booked again": {owed("2026-11-09 4380"), lines("2026-11-10 4380 payout",
			"2026-11-11 -4380 payout", "2026-11-11 4380 payout"), matching.Facts{},
			"3 matched exact 09, 4380 pays\n1 offered taken-back 09, 4380 pays\n2 offered taken-back 09," +
				" -4380 pays\n"},
		"a customer's claim": {week, lines("2026-11-12 -40 chargeback 10.11.2026"), matching.Facts{},
			"1 offered claimed 10, -40 dispute\n"},
		"of a day paid long ago": {nil, lines("2026-11-12 -40 chargeback 10.10.2026"),
			matching.Facts{Closed: owed("2026-10-10 4000", "2026-11-10 4000")}, "1 offered claimed 10, -40 dispute\n"},
		"of a stranger": {week, lines("2026-11-12 -40 fuel"), matching.Facts{}, "1 foreign\n"},
		"collides while late": {week, lines("2026-11-10 4380 shop one", "2026-11-11 4400 ready cash",
			"2026-11-12 3950 ready cash"),
			matching.Facts{Payers: []string{"ready cash"}},
			"2 matched exact 10, 4400 pays\n3 matched exact 11, 3950 pays\n" +
				"1 offered exact 09, 4380 pays\n"},
		"may be another reduced": {owed("2026-11-09 4390", "2026-11-10 4380"), lines("2026-11-11 4380 payout"),
			matching.Facts{}, "1 offered exact 10, 4380 pays\n1 offered less 09, 4390 pays, -10 charge\n"},
		"nothing owed": {nil, lines("2026-11-10 4380 payout"), matching.Facts{}, "1 foreign\n"},
	} {
		c.facts.Claims = c.claims
		if got := told(matching.Match(c.lines, c.facts)); got != c.want {
			t.Errorf("%s: got\n%swant\n%s", name, got, c.want)
		}
	}
}

// Charges that the bank states make a reduced line exact; other money is foreign.
func TestStatedChargesAndOtherMoney(t *testing.T) {
	list := lines("2026-11-10 4372.50 payout", "2026-11-10 4380 payout")
	list[0].Charges, list[1].Currency = money("7.5"), "USD"
	want := "1 matched stated 09, 4380 pays, -7.5 charge\n2 foreign\n"
	if got := told(matching.Match(list, matching.Facts{Claims: owed("2026-11-09 4380")})); got != want {
		t.Errorf("got\n%s", got)
	}
}

// Two machines paid in one line, of one shop or two.
func TestMachinesInOneLine(t *testing.T) {
	claims := owed("2026-11-09 4380", "2026-11-09 1200", "2026-11-10 900", "2026-11-10 2000")
	claims[1].Machine, claims[3].Machine = 2, 2
	claims[1].Shop, claims[3].Shop = 2, 2
	got := told(matching.Match(lines("2026-11-10 5580 payout", "2026-11-11 2900 payout"), matching.Facts{
		Claims: claims}))
	want := "1 matched several 09 09, 4380 pays, 1200 pays\n2 matched several 10 10, 900 pays, 2000 pays\n"
	if got != want {
		t.Errorf("got\n%s", got)
	}
}

func booked(list []statement.Line) (b []matching.Booked) {
	for _, l := range list {
		b = append(b, matching.Booked{Day: l.Day, Amount: l.Amount, Currency: l.Currency, Key: matching.KeyOf(l)})
	}
	return b
}

// A line is booked once, in whichever file and format it comes again.
func TestSeen(t *testing.T) {
	withRefs := func(prefix string, list []statement.Line) []statement.Line {
		for i := range list {
			list[i].Ref = prefix + fmt.Sprint(i)
		}
		return list
	}
	list := func() []statement.Line {
		return lines("2026-11-10 4400 a", "2026-11-10 4400 b", "2026-11-11 100 c")
	}
	for name, c := range map[string]struct {
		before []matching.Booked
		now    []statement.Line
		want   []int
	}{
		"the same file":       {booked(withRefs("R", list())), withRefs("R", list()), []int{1, 2, 3}},
		"another format":      {booked(withRefs("R", list())), withRefs("X", list()), []int{1, 2, 3}},
		"without references":  {booked(withRefs("R", list())), list(), []int{1, 2, 3}},
		"none had references": {booked(list()), list(), []int{1, 2, 3}},
		"overlap":             {booked(list()[1:]), list(), []int{1, 3}},
		"one was booked":      {booked(withRefs("R", list())[1:2]), withRefs("R", list()), []int{2}},
		"typed by hand": {[]matching.Booked{{Day: "2026-11-12", Amount: money("100"), Currency: "EUR"}},
			list(), []int{3}},
		"typed of another day": {[]matching.Booked{{Day: "2026-11-22", Amount: money("100"), Currency: "EUR"}},
			list(), nil},
		"typed once of two": {[]matching.Booked{{Day: "2026-11-10", Amount: money("4400"), Currency: "EUR"}},
			list(), []int{1}},
		"new":               {nil, list(), nil},
		"twice in one file": {nil, withRefs("R", lines("2026-11-10 1 a"))[:1:1], nil},
	} {
		var got []int
		for no := range matching.Seen(c.now, c.before) {
			got = append(got, no)
		}
		slices.Sort(got)
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
	twice := lines("2026-11-10 1 a", "2026-11-10 1 a")
	twice[0].Ref, twice[1].Ref = "R", "R"
	if got := matching.Seen(twice, nil); len(got) != 1 || !got[2] {
		t.Errorf("one reference twice in a file: %v", got)
	}
}

// A reference of a table may be the payer's, the same on each payment: a line of another day is
// another payment, and so is a second one of a day.
func TestSeenByLooseReferences(t *testing.T) {
	loose := func(list []statement.Line) []statement.Line {
		for i := range list {
			list[i].Ref, list[i].Loose = "PAYER 7", true
		}
		return list
	}
	for name, c := range map[string]struct {
		before, now []statement.Line
		want        []int
	}{
		"two days":     {nil, loose(lines("2026-11-10 4400 a", "2026-11-11 4400 a")), nil},
		"two of a day": {nil, loose(lines("2026-11-10 4400 a", "2026-11-10 4400 a")), nil},
		"a week later": {loose(lines("2026-11-10 4400 a")), loose(lines("2026-11-17 4400 a")), nil},
		"again": {loose(lines("2026-11-10 4400 a", "2026-11-10 4400 a")),
			loose(lines("2026-11-10 4400 a", "2026-11-10 4400 a", "2026-11-11 4400 a")), []int{1, 2}},
		"one of two": {loose(lines("2026-11-10 4400 a")),
			loose(lines("2026-11-10 4400 a", "2026-11-10 4400 a")), []int{1}},
		"in another format": {lines("2026-11-10 4400 a"), loose(lines("2026-11-10 4400 a")), []int{1}},
	} {
		var got []int
		for no := range matching.Seen(c.now, booked(c.before)) {
			got = append(got, no)
		}
		if slices.Sort(got); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}

// drawn gives claims and lines at random, of few sums so that they meet.
func drawn(t *rapid.T) ([]statement.Line, matching.Facts) {
	amounts := []string{"100", "200", "300", "300.50", "90", "60", "40", "-100", "-30", "0"}
	names := []string{"ready cash", "corner shop", ""}
	day := func(s string) shop.Date { return shop.Date("2026-11-01").Add(rapid.IntRange(0, 12).Draw(t, s)) }
	var f matching.Facts
	for range rapid.IntRange(0, 8).Draw(t, "claims") {
		v := money(amounts[rapid.IntRange(0, 6).Draw(t, "owed")])
		c := matching.Claim{Shop: 1, Machine: shop.MachineID(rapid.IntRange(1, 2).Draw(t, "machine")),
			Seq: int64(len(f.Claims) + 1), Day: day("day"), Left: v, Value: v, Currency: "EUR"}
		if rapid.Bool().Draw(t, "rule") {
			c.Due = c.Day.Add(1)
		}
		f.Claims = append(f.Claims, c)
	}
	if rapid.Bool().Draw(t, "fees") {
		f.Fee = money("0.25")
	}
	var list []statement.Line
	for i := range rapid.IntRange(0, 9).Draw(t, "lines") {
		l := statement.Line{No: i + 1, Day: day("booked"), Amount: money(rapid.SampledFrom(amounts).Draw(t,
			"amount")),
			Currency: "EUR", Name: rapid.SampledFrom(names).Draw(t, "name"),
			Text: rapid.SampledFrom([]string{"", "chargeback", "payout 03.11.2026"}).Draw(t, "text")}
		if rapid.IntRange(0, 9).Draw(t, "with charges") == 0 {
			l.Charges = money("0.50")
		}
		list = append(list, l)
	}
	for _, l := range list {
		if rapid.IntRange(0, 9).Draw(t, "was booked") == 0 {
			f.Booked = append(f.Booked, booked([]statement.Line{l})...)
		}
	}
	return list, f
}

// Every cent of a statement is matched, known as foreign, open, or booked before;
// the parts of a proposal add up; what is sure never pays more than is owed.
func TestEveryCent(t *testing.T) {
	checks.Rapid(t, 500, 2_000, 100_000, func(t *rapid.T) {
		list, f := drawn(t)
		o := matching.Match(list, f)
		where, sum := map[int]string{}, decimal.Zero
		put := func(no int, class string) {
			if was, ok := where[no]; ok && (was != class || class != "offered") {
				t.Fatalf("line %d is %s and %s", no, was, class)
			}
			if _, ok := where[no]; !ok {
				sum = sum.Add(list[no-1].Amount)
			}
			where[no] = class
		}
		for _, p := range o.Offered {
			put(p.Line, "offered")
			if p.Sure {
				t.Fatalf("line %d is offered and sure", p.Line)
			}
		}
		for _, no := range o.Foreign {
			put(no, "foreign")
		}
		for _, no := range o.Seen {
			put(no, "seen")
		}
		paid := map[*matching.Claim]decimal.Decimal{}
		for _, p := range o.Matched {
			put(p.Line, "matched")
			for _, part := range p.Parts {
				if part.Claim != nil {
					paid[part.Claim] = paid[part.Claim].Add(part.Value)
				}
			}
		}
		for c, v := range paid {
			if !v.Equal(c.Left) {
				t.Fatalf("%s is surely paid %s of %s", c.Day, v, c.Left)
			}
		}
		for _, p := range slices.Concat(o.Matched, o.Offered) {
			rest := p.Amount
			for _, part := range p.Parts {
				rest = rest.Sub(part.Value)
			}
			if !rest.IsZero() || !p.Amount.Equal(list[p.Line-1].Amount) || len(p.For) == 0 {
				t.Fatalf("line %d: the parts leave %s: %+v", p.Line, rest, p)
			}
		}
		all := decimal.Zero
		for _, l := range list {
			all = all.Add(l.Amount)
		}
		if len(where) != len(list) || !sum.Equal(all) {
			t.Fatalf("%d of %d lines, %s of %s", len(where), len(list), sum, all)
		}
	})
}

// What is found does not depend on the order of claims, and the second time all
// that was booked is seen.
func TestOrderAndAgain(t *testing.T) {
	checks.Rapid(t, 200, 800, 20_000, func(t *rapid.T) {
		list, f := drawn(t)
		f.Booked = nil
		want := told(matching.Match(list, f))
		slices.Reverse(f.Claims)
		if got := told(matching.Match(list, f)); got != want {
			t.Fatalf("got\n%swant\n%s", got, want)
		}
		f.Booked = booked(list)
		if o := matching.Match(list, f); len(o.Seen) != len(list) {
			t.Fatalf("of %d lines booked %d are seen", len(list), len(o.Seen))
		}
	})
}

// Of a statement of any length those lines stay that are the sum of days owed, or of what is
// booked, however their digits are written and whichever way they go.
func TestSieve(t *testing.T) {
	claims := owed("2026-11-09 4380.000000", "2026-11-10 4400.5", "2026-11-11 1e3")
	s := matching.NewSieve(matching.Facts{Claims: claims,
		Booked: []matching.Booked{{Day: "2026-11-02", Amount: money("77.77"), Currency: "EUR"}}})
	worth := []string{"4380", "4380.00", "-4380.0", "4400.50", "8780.50", "1000", "9780.500", "5400.5", "77.77"}
	for i := range 5_000 {
		s.Add(lines("2026-11-12 17.10 foreign")[0])
		if i%500 == 499 {
			for _, w := range worth {
				s.Add(lines("2026-11-12 " + w + " ours")[0])
			}
		}
	}
	other := lines("2026-11-12 4380 in dollars")[0]
	other.Currency = "USD"
	s.Add(other)
	charged := lines("2026-11-12 4370 charges off")[0]
	charged.Charges = money("10")
	s.Add(charged)
	ours := 0
	for _, l := range s.Lines() {
		if l.Text == "ours" {
			ours++
		} else if l.Text != "charges off" {
			t.Errorf("kept: %s %s", l.Amount, l.Text)
		}
	}
	if ours != 10*len(worth) || len(s.Lines()) != ours+1 {
		t.Errorf("%d of %d lines", ours, len(s.Lines()))
	}
}
