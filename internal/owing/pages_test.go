package owing_test

import (
	"fmt"
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/owing"
	"shopfloat/internal/shop"
)

// paging is eleven days that the bank owes for and that it paid since in various ways, with
// what each came to on each day by plain sums.
type paging struct {
	f    *floor.Floor
	paid map[int64][]pay // of a claim
}

type pay struct {
	day   shop.Date
	value int64
}

func newPaging(t *testing.T) *paging {
	t.Helper()
	p := &paging{f: floor.New(t, dialogs.New), paid: map[int64][]pay{}}
	p.f.Long = true
	claims(p.f.Machine, 11) // 100 for Mon 3 Aug, 101 for Tue 4 Aug ... 110 for Thu 13 Aug
	for i := range p.f.Machine.Claims {
		c := &p.f.Machine.Claims[i]
		c.Seq = int64(i + 1)
		slip := books.Record{Kind: books.Settlement, Day: c.Day, Happened: c.Settled}
		p.f.Entries = append(p.f.Entries, books.Entry{Record: slip, Machine: 1, Seq: c.Seq})
	}
	p.f.Machine.Seq = int64(len(p.f.Entries))
	for _, x := range []struct {
		of    int64
		day   shop.Date
		value int64
	}{
		{1, "2026-08-05", 100}, {2, "2026-08-05", 40}, {3, "2026-08-07", 110}, {2, "2026-08-10", 61},
		{5, "2026-08-10", 104}, {9, "2026-08-17", 8}, {11, "2026-08-18", 110},
	} {
		p.f.At(string(x.day) + " 10:00")
		value := money(x.value)
		p.f.Record(1, books.Ruled(books.Record{Kind: books.Credit, Day: x.day, Happened: p.f.Now,
			Amounts: []books.Amount{{Field: books.Credited, Value: value}},
			Parts:   []books.Part{{As: books.Pays, Of: x.of, Value: value}}}))
		p.paid[x.of] = append(p.paid[x.of], pay{x.day, x.value})
	}
	p.f.At("2026-08-20 09:00")
	return p
}

// owes is what was owed for a claim at the end of a day.
func (p *paging) owes(c *books.Claim, day shop.Date) int64 {
	if c.Day > day {
		return 0
	}
	left := c.Value.IntPart()
	for _, x := range p.paid[c.Seq] {
		if x.day <= day {
			left -= x.value
		}
	}
	return left
}

// read goes through pages by their buttons and gives the rows, spaces between figures made one.
func (p *paging) read(t *testing.T, arg string) (rows []string) {
	t.Helper()
	for range 9 {
		r := page(t, p.f, arg)
		lines := strings.Split(r.Body[len(r.Body)-1].Text, "\n")
		for _, line := range lines {
			name, rest, _ := strings.Cut(line, "  ")
			sum, _, _ := strings.Cut(strings.TrimSpace(rest), " ")
			rows = append(rows, name+" "+sum)
		}
		if len(lines) > 6 {
			t.Errorf("page %s has %d lines", arg, len(lines))
		}
		if len(r.Buttons) == 0 {
			return rows
		}
		arg = strings.Split(r.Buttons[0][0].Data, ":")[2]
	}
	t.Fatalf("the pages do not end: %v", rows)
	return nil
}

// What was owed on each day, told in all and page by page, against plain sums over the payments.
func TestPagesOfEachDay(t *testing.T) {
	p := newPaging(t)
	seen := map[string]bool{}
	for day := shop.Date("2026-08-02"); day <= "2026-08-19"; day = day.Add(1) {
		var want []string
		sum, still, since := int64(0), int64(0), int64(0)
		for i := range p.f.Machine.Claims {
			c := &p.f.Machine.Claims[i]
			then, now := p.owes(c, day), p.owes(c, "2026-08-19")
			if c.Day > day {
				continue
			}
			if since += then - now; then != 0 {
				want = append(want, c.Day.Time().Format("Mon 2 Jan ")+euro(then))
			}
			sum, still = sum+then, still+now
		}
		got, back := owing.SumAt(teller(p.f), day)
		if !got.Owed.Equal(money(sum)) || !got.Paid.Equal(money(since)) || (sum == 0) != (back == "") {
			t.Errorf("%s: owed %s, paid since %s (%s), want %d and %d", day, got.Owed, got.Paid, back, sum, since)
		}
		if sum == 0 {
			continue
		}
		whole := said(owing.OwedBy(teller(p.f), "at "+string(day)).Body)
		words := strings.Join(strings.Fields(whole), " ")
		floor.Expect(t, words, fmt.Sprintf("together %s", euro(sum)), "")
		if since > 0 {
			floor.Expect(t, words, fmt.Sprintf("paid since %s", euro(since)), "")
		}
		if still != 0 {
			floor.Expect(t, words, fmt.Sprintf("still owed %s", euro(still)), "")
		}
		rows := p.read(t, "0."+string(day))
		if strings.Join(rows, "\n") != strings.Join(want, "\n") {
			t.Errorf("%s:\n%s\nwant:\n%s", day, strings.Join(rows, "\n"), strings.Join(want, "\n"))
		}
		seen[fmt.Sprintf("%d pages", (len(rows)+5)/6)] = true
	}
	if !seen["1 pages"] || !seen["2 pages"] {
		t.Errorf("only %v were seen", seen)
	}
}

// euro is a sum as it is written.
func euro(n int64) string {
	if n < 0 {
		return "-" + euro(-n)
	}
	if n >= 1000 {
		return fmt.Sprintf("€%d,%03d", n/1000, n%1000)
	}
	return fmt.Sprintf("€%d", n)
}
