package matching_test

import (
	"bytes"
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

// These months are made from the sheet of what a statement may hold, by somebody who had
// not read the matcher: what its other test takes for granted is not taken for granted here.
// Each month leaves as a camt.053 file and comes back through the reader.

// posted is a line of a statement with what it truly is.
type posted struct {
	day    shop.Date
	cents  int64
	kind   string
	name   string
	text   string
	stated int64           // charges that the bank says it took off
	money  string          // currency
	claims map[int64]int64 // what it truly pays, by settlement, in cents
}

// sheet is a month of one account.
type sheet struct {
	r      *rand.Rand
	seq    int64
	claims []*matching.Claim
	lines  []posted
	fee    int64  // of the shop, for each payout; 0: none
	per    int    // banking days until the bank pays
	says   bool   // the bank's text names the day that is paid
	style  string // each, runs: how payments come
	payer  string
	odd    int // of a hundred days so many go otherwise than planned
}

func workday(d shop.Date, n int) shop.Date {
	for n > 0 {
		d = d.Add(1)
		if w := d.Weekday(); w != time.Saturday && w != time.Sunday {
			n--
		}
	}
	return d
}

func (s *sheet) chance(percent int) bool { return s.r.IntN(100) < percent }

func (s *sheet) between(from, to int64) int64 { return from + s.r.Int64N(to-from+1) }

// usualOdd is how many of a hundred days go otherwise where nothing else is said.
const usualOdd = 19

// sheetOf makes November, or another month, of a shop.
func sheetOf(seed uint64, odd int) *sheet {
	s := &sheet{r: rand.New(rand.NewPCG(seed, 19)), per: 1, odd: odd}
	s.per, s.says, s.style, s.payer = 1+s.r.IntN(2), s.chance(40), "each", "NORTH QUAY CASH SERVICES"
	if s.chance(50) {
		s.fee = []int64{25, 50, 100, 135}[s.r.IntN(4)]
	}
	if s.chance(25) {
		s.style = "runs"
	}
	first := shop.Date(fmt.Sprintf("2026-%02d-01", 1+s.r.IntN(12)))
	machines := 1 + s.r.IntN(2)
	for i := range 28 {
		day := first.Add(i)
		if day.Weekday() == time.Sunday && s.chance(70) {
			continue // closed
		}
		for m := range machines {
			s.claim(day, shop.MachineID(m+1))
		}
	}
	s.pay(first)
	s.others(first)
	byDay := func(a, b posted) int { return strings.Compare(string(a.day), string(b.day)) }
	slices.SortStableFunc(s.lines, byDay)
	return s
}

// claim adds what the bank owes for a day. Some sums come twice, some are the sum of two others.
func (s *sheet) claim(day shop.Date, m shop.MachineID) {
	cents := s.between(40, 620) * 1000
	if n := len(s.claims); n > 2 && s.chance(5) {
		cents = s.claims[n-1-s.r.IntN(3)].Value.Shift(2).IntPart()
	} else if n > 2 && s.chance(3) {
		cents = s.claims[n-1].Value.Add(s.claims[n-2].Value).Shift(2).IntPart()
	}
	s.seq += 3
	value := decimal.New(cents, -2)
	s.claims = append(s.claims, &matching.Claim{Shop: 1, Machine: m, Seq: s.seq, Day: day,
		Due: workday(day, s.per), Left: value, Value: value, Currency: "EUR"})
}

func centsOf(c *matching.Claim) int64 { return c.Value.Shift(2).IntPart() }

func (s *sheet) line(t posted) {
	if t.money == "" {
		t.money = "EUR"
	}
	if t.claims == nil {
		t.claims = map[int64]int64{}
	}
	s.lines = append(s.lines, t)
}

// paid adds a payment of the machine's bank.
func (s *sheet) paid(kind string, day shop.Date, cents int64, of ...*matching.Claim) *posted {
	t := posted{day: day, cents: cents, kind: kind, name: s.payer, text: "CASH POINT SETTLEMENT",
		claims: map[int64]int64{}}
	if s.says {
		t.text += " " + string(of[0].Day)
	}
	for _, c := range of {
		t.claims[c.Seq] = centsOf(c)
	}
	s.line(t)
	return &s.lines[len(s.lines)-1]
}

// pay lets the bank pay, in all the ways of the sheet.
func (s *sheet) pay(first shop.Date) {
	end := first.Add(29)
	for i := 0; i < len(s.claims); i++ {
		c := s.claims[i]
		on, cents := c.Due, centsOf(c)
		if s.chance(10) {
			on = workday(on, 1)
		}
		if on > end {
			continue
		}
		if run := s.run(i); run > 1 && s.style == "runs" && s.chance(70) || run > 1 && s.chance(6) {
			of, sum := s.claims[i:i+run], int64(0)
			for _, x := range of {
				sum += centsOf(x)
			}
			if on = workday(of[run-1].Due, 0); on <= end {
				s.paid("merged", on, sum, of...)
			}
			i += run - 1
			continue
		}
		s.payOne(c, on, cents)
	}
}

// run is how many days in a row can come in one payment.
func (s *sheet) run(at int) int {
	n := 1
	for at+n < len(s.claims) && n < 3 && s.claims[at+n].Machine == s.claims[at].Machine &&
		s.claims[at+n].Day.Add(-n) == s.claims[at].Day {
		n++
	}
	return n
}

func (s *sheet) payOne(c *matching.Claim, on shop.Date, cents int64) {
	switch p := s.r.IntN(100) * usualOdd / s.odd; {
	case p < 4:
		s.paid("late", workday(on, 3+s.r.IntN(3)), cents, c)
	case p < 6:
		part := cents / 10 * s.between(2, 8)
		s.paid("split", on, part, c).claims[c.Seq] = part
		s.paid("split", workday(on, 1), cents-part, c).claims[c.Seq] = cents - part
	case p < 8:
		charge := s.between(35, 1500)
		s.paid("charged", on, cents-charge, c)
	case p < 10:
		charge := s.between(35, 1500)
		s.paid("stated", on, cents-charge, c).stated = charge
	case p < 14 && s.fee > 0:
		s.paid("fee in it", on, cents+s.fee*s.between(5, 60), c)
	case p < 16: // a service fee with 23 % of tax on it is taken off
		fee := s.between(100, 2500)
		s.paid("fee and tax off", on, cents-fee-fee*23/100, c)
	case p < 17: // booked, taken back and booked again
		s.paid("booked twice", on, cents, c)
		back := s.paid("taken back", workday(on, 1), -cents, c)
		back.text, back.claims[c.Seq] = "RETURN "+back.text, -cents
		s.paid("booked again", workday(on, 2), cents, c)
	case p < usualOdd: // never paid within the month
	default:
		s.paid("plain", on, cents, c)
	}
}

// others are the lines that are for no machine, and what customers claim.
func (s *sheet) others(first shop.Date) {
	for range 6 + s.r.IntN(10) {
		day := first.Add(s.r.IntN(28))
		t := posted{day: day, kind: "foreign", name: "BRIGHTWATER LETTINGS", text: "RENT",
			cents: -s.between(10_000, 300_000)}
		switch s.r.IntN(5) {
		case 0:
			t.name, t.text, t.cents = "CARD ACQUIRING", "CARD TAKINGS", s.between(5_000, 400_000)
		case 1:
			t.name, t.text, t.cents = "M. HOLLIS", "INVOICE 204", s.between(1_000, 90_000)
		case 2:
			t.text, t.cents = "ACCOUNT FEE", -s.between(100, 2_500)
		}
		s.line(t)
	}
	for range s.r.IntN(3) { // of another currency, with the very sum of a day
		c := s.claims[s.r.IntN(len(s.claims))]
		s.line(posted{day: c.Due, kind: "other currency", name: s.payer, text: "CASH POINT SETTLEMENT",
			cents: centsOf(c), money: "GBP"})
	}
	for range s.r.IntN(3) { // somebody else pays the same sum as the bank does
		c := s.claims[s.r.IntN(len(s.claims))]
		plain := func(l posted) bool { return l.claims[c.Seq] == centsOf(c) && l.kind == "plain" }
		if slices.ContainsFunc(s.lines, plain) {
			s.line(posted{day: workday(c.Due, s.r.IntN(2)), kind: "same sum", name: "M. HOLLIS",
				text: "INVOICE 77", cents: centsOf(c)})
		}
	}
	for range s.r.IntN(2) {
		s.line(posted{day: first.Add(10 + s.r.IntN(15)), kind: "customer", name: s.payer,
			text: "CARDHOLDER DISPUTE", cents: -s.between(2, 20) * 1000})
	}
}

// file writes the lines as camt.053.001.08 (ISO 20022), without balances.
func (s *sheet) file() []byte {
	var b bytes.Buffer
	b.WriteString(`<?xml version="1.0" encoding="UTF-8"?><Document ` +
		`xmlns="urn:iso:std:iso:20022:tech:xsd:camt.053.001.08"><BkToCstmrStmt><GrpHdr><MsgId>1</MsgId>` +
		`<CreDtTm>2026-12-01T00:00:00</CreDtTm></GrpHdr><Stmt><Id>1</Id><Acct><Id>` +
		`<IBAN>IE29AIBK93115212345678</IBAN></Id></Acct>`)
	for i, l := range s.lines {
		sign, cents := "CRDT", l.cents
		if cents < 0 {
			sign, cents = "DBIT", -cents
		}
		charges := ""
		if l.stated > 0 {
			charges = fmt.Sprintf(`<Chrgs><Rcrd><Amt Ccy="%s">%s</Amt><CdtDbtInd>DBIT</CdtDbtInd></Rcrd></Chrgs>`,
				l.money, decimal.New(l.stated, -2).StringFixed(2))
		}
		party := "Dbtr"
		if sign == "DBIT" {
			party = "Cdtr"
		}
		fmt.Fprintf(&b, `<Ntry><Amt Ccy="%s">%s</Amt><CdtDbtInd>%s</CdtDbtInd><Sts><Cd>BOOK</Cd></Sts>`+
			`<BookgDt><Dt>%s</Dt></BookgDt><AcctSvcrRef>R%d</AcctSvcrRef>%s<NtryDtls><TxDtls>`+
			`<RltdPties><%[7]s><Pty><Nm>%[8]s</Nm></Pty></%[7]s></RltdPties><RmtInf><Ustrd>%[9]s</Ustrd></RmtInf>`+
			`</TxDtls></NtryDtls></Ntry>`, l.money, decimal.New(cents, -2).StringFixed(2), sign, l.day, i+1,
			charges, party, l.name, l.text)
	}
	b.WriteString(`</Stmt></BkToCstmrStmt></Document>`)
	return b.Bytes()
}

// outcome counts how a month came out.
type outcome struct {
	lines, ours, sure, first, judged int
	wrong                            []string
	missed                           map[string]int
}

// twin reports whether another day that could be paid then is of the same sum. One is not
// that had its payment before the day itself, alone or with its neighbours: that payment can be
// for no other.
func (s *sheet) twin(c *matching.Claim, on shop.Date) bool {
	return slices.ContainsFunc(s.claims, func(x *matching.Claim) bool {
		near := x.Due.Time().Sub(c.Due.Time()).Abs() <= 3*24*time.Hour
		had := slices.ContainsFunc(s.lines, func(l posted) bool {
			its := l.cents+l.stated == centsOf(c) || l.kind == "merged" && l.claims[x.Seq] != 0
			return its && l.name == s.payer && x.Day <= l.day && l.day < c.Day
		})
		return x.Seq != c.Seq && near && !had && x.Day <= on && x.Value.Equal(c.Value)
	})
}

// right reports whether a proposal is what the line truly is; days of the same sum are as
// good as one another.
func (s *sheet) right(p *matching.Proposal, l *posted) bool {
	bySum := func(of map[int64]int64) (sums []int64) {
		for seq, cents := range of {
			c := s.claims[slices.IndexFunc(s.claims, func(x *matching.Claim) bool { return x.Seq == seq })]
			sums = append(sums, centsOf(c)*1_000_000+cents)
		}
		slices.Sort(sums)
		return sums
	}
	got := map[int64]int64{}
	for _, part := range p.Parts {
		if part.As == matching.Pays && part.Claim != nil {
			got[part.Claim.Seq] += part.Value.Shift(2).IntPart()
		}
	}
	want := bySum(l.claims)
	if l.kind == "charged" || l.kind == "fee and tax off" || l.kind == "stated" {
		// what was taken off may be told as a charge or left open: either way the day is right
		return len(got) == 1 && got[maxKey(l.claims)] != 0
	}
	return slices.Equal(bySum(got), want)
}

func maxKey(of map[int64]int64) (key int64) {
	for k := range of {
		key = max(key, k)
	}
	return key
}

func (s *sheet) judge(t *testing.T, sum *outcome) {
	t.Helper()
	file := s.file()
	var lines []statement.Line
	report, err := statement.Read(bytes.NewReader(file), int64(len(file)), statement.Options{Currency: "EUR"},
		func(l statement.Line) error { lines = append(lines, l); return nil })
	if err != nil || report.Lines != len(s.lines) {
		t.Fatalf("%d of %d lines: %v", report.Lines, len(s.lines), err)
	}
	facts := matching.Facts{Slack: 1, Fee: decimal.New(s.fee, -2)}
	for _, c := range s.claims {
		facts.Claims = append(facts.Claims, *c)
	}
	o := matching.Match(lines, facts)
	best := map[int]*matching.Proposal{}
	for _, list := range [][]matching.Proposal{o.Matched, o.Offered} {
		for i := range list {
			if best[list[i].Line] == nil {
				best[list[i].Line] = &list[i]
			}
		}
	}
	for i := range s.lines {
		s.judgeLine(sum, &s.lines[i], best[i+1])
	}
}

func (s *sheet) judgeLine(sum *outcome, l *posted, p *matching.Proposal) {
	sum.lines++
	ours := len(l.claims) > 0
	if ours {
		sum.ours++
	}
	if p != nil && p.Sure {
		sum.sure++
		bad := ""
		switch {
		case !ours || !s.right(p, l):
			bad = "is not that"
		case len(l.claims) == 1 && !s.says && s.twin(p.For[0], l.day):
			bad = "has a day of the same sum"
		}
		if bad != "" {
			sum.wrong = append(sum.wrong,
				fmt.Sprintf("%s of %d on %s, sure to be %s, %s", l.kind, l.cents, l.day, p.Why, bad))
		}
	}
	if ours {
		sum.judged++
		if p != nil && s.right(p, l) {
			sum.first++
		} else {
			sum.missed[l.kind]++
		}
	}
}

// Whatever a month has in it: what is called sure is so, most lines are, and of the others
// the right proposal comes first. That holds where more of the days go otherwise, too.
func TestMonthsOfTheSheet(t *testing.T) {
	for odd, sure := range map[int]int{usualOdd: 60, 22: 60, 30: 55} {
		t.Run(fmt.Sprintf("%d of a hundred days", odd), func(t *testing.T) {
			ofTheSheet(t, odd, sure, checks.Size(t, 20, 300, 20_000))
		})
	}
}

func ofTheSheet(t *testing.T, odd, sure, months int) {
	sum := outcome{missed: map[string]int{}}
	for seed := range months {
		s := sheetOf(uint64(seed), odd)
		before := len(sum.wrong)
		s.judge(t, &sum)
		for i := before; i < len(sum.wrong); i++ {
			sum.wrong[i] = fmt.Sprintf("month %d: %s", seed, sum.wrong[i])
		}
	}
	share := func(n, of int) float64 { return 100 * float64(n) / float64(of) }
	t.Logf("%d months, %d lines, %d of the machines: sure %.1f %% of these, right first %.2f %%; not first: %v",
		months, sum.lines, sum.ours, share(sum.sure, sum.ours), share(sum.first, sum.judged), sum.missed)
	for i, w := range sum.wrong {
		if i < 10 {
			t.Error(w)
		}
	}
	if len(sum.wrong) > 0 {
		t.Errorf("%d would be booked wrongly by one tap", len(sum.wrong))
	}
	if sum.sure*100 < sum.ours*sure {
		t.Errorf("only %d of %d lines are sure", sum.sure, sum.ours)
	}
	if sum.first*100 < sum.judged*98 {
		t.Errorf("the right proposal is first for %d of %d lines", sum.first, sum.judged)
	}
}
