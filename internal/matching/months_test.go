package matching_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/checks"
	"shopfloat/internal/matching"
	"shopfloat/internal/shop"
	"shopfloat/internal/statement"
)

// month is an invented month of a shop's account: what the bank owes, the lines
// of its statement, and what each line is really for. It is made from the trade
// alone and uses nothing of the matcher: days of trade, the bank's delay, and
// what goes otherwise — late, merged, split, reduced, fees within, foreign
// lines, equal sums, sums that collide, taken back and booked again, customers'
// claims, other money.
type month struct {
	rng    *rand.Rand
	facts  matching.Facts
	lines  []statement.Line
	truth  map[string][]shop.Date // by reference; none: foreign
	kinds  map[string]string
	delay  int
	feed   bool // fees come within each line
	weekly bool // the days from Friday to Sunday come in one payment
	next   int
}

// chance is true in so many of a thousand cases.
func (m *month) chance(perMille int) bool { return m.rng.IntN(1000) < perMille }

func newMonth(seed uint64) *month {
	m := &month{rng: rand.New(rand.NewPCG(seed, 19)), truth: map[string][]shop.Date{},
		kinds: map[string]string{}}
	m.delay = 1 + m.rng.IntN(3)
	m.feed, m.weekly = m.chance(100), m.chance(600)
	if m.feed {
		m.facts.Fee = decimal.New(int64(25*(1+m.rng.IntN(6))), -2)
		if m.chance(300) {
			m.facts.Fee = decimal.Zero // the shop has not said so
		}
	}
	return m
}

// bankDay goes so many days from Monday to Friday on.
func bankDay(d shop.Date, n int) shop.Date {
	for n > 0 {
		if d = d.Add(1); d.Weekday() != time.Saturday && d.Weekday() != time.Sunday {
			n--
		}
	}
	return d
}

// line puts a line onto the account.
func (m *month) line(kind string, day shop.Date, amount decimal.Decimal, name, text string,
	truth ...shop.Date) {
	m.next++
	ref := fmt.Sprintf("R%d", m.next)
	m.lines = append(m.lines, statement.Line{Account: "A", Day: day, Amount: amount, Currency: "EUR", Ref: ref,
		Name: name, Text: text})
	m.truth[ref], m.kinds[ref] = truth, kind
}

const payer = "Ready Cash Settlements"

func (m *month) word(day shop.Date) string {
	switch m.rng.IntN(3) {
	case 0:
		return "SETTLEMENT " + strings.ReplaceAll(string(day), "-", "")
	case 1:
		return fmt.Sprintf("BATCH %06d", m.rng.IntN(1e6))
	}
	return "CARD PAYOUTS"
}

// trade makes the days of the month and what the bank owes for them.
func (m *month) trade(first shop.Date, days int) {
	closed := time.Weekday(m.rng.IntN(9)) // some shops are closed on one day
	var last decimal.Decimal
	for i := range days {
		day := first.Add(i)
		if day.Weekday() == closed {
			continue
		}
		value := decimal.NewFromInt(int64(2000 + 10*m.rng.IntN(600)))
		if m.chance(60) && !last.IsZero() {
			value = last // two days of the same sum
		}
		last = value
		m.facts.Claims = append(m.facts.Claims, matching.Claim{Shop: 1, Machine: 1, Seq: int64(i + 1), Day: day,
			Due: bankDay(day, m.delay), Left: value, Value: value, Currency: "EUR"})
	}
}

// pay makes the bank's payments; every way to go wrong has its share.
func (m *month) pay() {
	claims := m.facts.Claims
	for i := 0; i < len(claims); {
		n := 1
		for m.weekly && i+n < len(claims) && claims[i+n].Due == claims[i].Due {
			n++
		}
		if !m.weekly && m.chance(25) && i+1 < len(claims) {
			n = 2
		}
		m.payOne(claims[i : i+n])
		i += n
	}
}

func (m *month) payOne(claims []matching.Claim) {
	last := claims[len(claims)-1]
	day, sum := last.Due, decimal.Zero
	var days []shop.Date
	for _, c := range claims {
		sum, days = sum.Add(c.Left), append(days, c.Day)
	}
	text := m.word(last.Day)
	if m.chance(60) {
		day = bankDay(day, 1+m.rng.IntN(6))
	}
	if m.feed {
		fee := m.facts.Fee
		if fee.IsZero() {
			fee = decimal.RequireFromString("0.50")
		}
		sum = sum.Add(fee.Mul(decimal.NewFromInt(int64(20 + m.rng.IntN(60)))))
		if m.chance(100) { // the tax on it is taken off
			sum = sum.Sub(decimal.New(int64(100+m.rng.IntN(400)), -2))
		}
	}
	switch {
	case m.chance(15): // never comes
	case m.chance(25): // in two parts
		part := sum.Mul(decimal.NewFromInt(int64(20 + m.rng.IntN(60)))).Div(decimal.NewFromInt(100)).Round(0)
		m.line("split", day, part, payer, text, days...)
		m.line("split", bankDay(day, m.rng.IntN(2)), sum.Sub(part), payer, text, days...)
	case m.chance(35): // charges taken off
		m.line("reduced", day, sum.Sub(decimal.New(int64(50+m.rng.IntN(4000)), -2)), payer, text, days...)
	case m.chance(12): // taken back and booked again
		m.line("again", day, sum, payer, text, days...)
		m.line("back", bankDay(day, 1), sum.Neg(), payer, text+" RETURNED", days...)
		m.line("again", bankDay(day, 1+m.rng.IntN(2)), sum, payer, text, days...)
	default:
		m.line("paid", day, sum, payer, text, days...)
	}
	if m.chance(15) {
		m.line("claimed", bankDay(day, 2+m.rng.IntN(5)), decimal.NewFromInt(-int64(10*(1+m.rng.IntN(20)))), payer,
			"CHARGEBACK PAYOUT OF "+strings.ReplaceAll(string(last.Day), "-", ""), last.Day)
	}
}

var strangers = []string{"Corner Wholesale", "City Power", "Bright Cleaning", "Card Takings",
	"Tax Office", "Rent Ltd"}

// others makes what else happens on the account.
func (m *month) others(first shop.Date, days int) {
	for i := range days {
		day := first.Add(i)
		if w := day.Weekday(); w == time.Saturday || w == time.Sunday {
			continue
		}
		for range m.rng.IntN(3) {
			amount := decimal.New(int64(m.rng.IntN(900000)-500000), -2)
			m.line("foreign", day, amount, strangers[m.rng.IntN(len(strangers))], fmt.Sprint("INVOICE ",
				m.rng.IntN(1e5)))
		}
		if m.chance(25) { // the very sum of a day that is owed
			c := m.facts.Claims[m.rng.IntN(len(m.facts.Claims))]
			m.line("collides", day, c.Left, strangers[m.rng.IntN(len(strangers))], "INVOICE")
		}
		if m.chance(10) {
			c := m.facts.Claims[m.rng.IntN(len(m.facts.Claims))]
			m.line("other money", day, c.Left, payer, "")
			m.lines[len(m.lines)-1].Currency = "USD"
		}
	}
}

func (m *month) statement() []statement.Line {
	m.rng.Shuffle(len(m.lines), func(i, j int) { m.lines[i], m.lines[j] = m.lines[j], m.lines[i] })
	slices.SortStableFunc(m.lines, func(a, b statement.Line) int {
		return strings.Compare(string(a.Day),
			string(b.Day))
	})
	end := m.facts.Claims[len(m.facts.Claims)-1].Day.Add(2)
	m.lines = slices.DeleteFunc(m.lines, func(l statement.Line) bool { return l.Day > end })
	for i := range m.lines {
		m.lines[i].No = i + 1
	}
	return m.lines
}

func makeMonth(seed uint64) (*month, []statement.Line) {
	m := newMonth(seed)
	first := shop.Date("2026-01-01").Add(m.rng.IntN(700))
	m.trade(first, 31)
	m.pay()
	m.others(first, 31)
	return m, m.statement()
}

// tally is what a run over months counts.
type tally struct {
	lines, pays, sure, wrong, ours, first int
	kinds                                 map[string][3]int // lines, sure, first
}

func (y *tally) month(t *testing.T, seed uint64) {
	m, lines := makeMonth(seed)
	o := matching.Match(lines, m.facts)
	first := map[int]matching.Proposal{}
	for _, p := range slices.Backward(slices.Concat(o.Matched, o.Offered)) {
		first[p.Line] = p
	}
	for _, l := range lines {
		kind, truth := m.kinds[l.Ref], m.truth[l.Ref]
		k := y.kinds[kind]
		k[0]++
		y.lines++
		p, found := first[l.No]
		var days []shop.Date
		for _, c := range p.For {
			days = append(days, c.Day)
		}
		right := slices.Equal(days, truth)
		if found && p.Sure {
			y.sure++
			k[1]++
			if !right {
				y.wrong++
				t.Errorf("month %d: line %d of %s, %s (%s) is surely for %v, but it is for %v", seed, l.No, l.Day,
					l.Amount, kind, days, truth)
			}
		}
		if len(truth) > 0 {
			y.ours++
			if kind != "back" && kind != "claimed" {
				y.pays++
			}
			if found && right {
				y.first++
				k[2]++
			}
		}
		y.kinds[kind] = k
	}
}

// Of invented months no line is surely matched to another day than its own, most
// lines that pay are sure, and what is offered first is nearly always right.
func TestMonths(t *testing.T) {
	y := tally{kinds: map[string][3]int{}}
	months := checks.Size(t, 50, 300, 3000)
	for seed := range months {
		y.month(t, uint64(seed))
	}
	sure, first := 100*float64(y.sure)/float64(y.pays), 100*float64(y.first)/float64(y.ours)
	t.Logf("%d months, %d lines, %d ours, %d of %d payments sure (%.1f %%), %d wrong, first right %.2f %%,"+
		" by kind "+
		"(lines, sure, first): %v", months, y.lines, y.ours, y.sure, y.pays, sure, y.wrong, first, y.kinds)
	if y.wrong > 0 || sure < 60 || first < 98 {
		t.Errorf("%d wrong, %.1f %% sure, first right %.2f %%; want 0, 60, 98", y.wrong, sure, first)
	}
}
