package filed_test

import (
	"bytes"
	"compress/zlib"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
	_ "time/tzdata"
	"unicode/utf16"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/filed"
	"shopfloat/internal/sheet"
	"shopfloat/internal/shop"
	"shopfloat/internal/tally"
	"shopfloat/internal/texts"
)

var keep = flag.String("keep", "", "write the papers into this folder, to look at")

// streams inflates what a paper consists of (ISO 32000-1, 7.3.8 and 7.4.4).
func streams(t *testing.T, paper []byte) (list [][]byte) {
	t.Helper()
	for _, part := range bytes.Split(paper, []byte("stream\n"))[1:] {
		z, err := zlib.NewReader(bytes.NewReader(part))
		if err != nil {
			continue
		}
		data, err := io.ReadAll(z)
		if err == nil {
			list = append(list, data)
		}
	}
	return list
}

var shown = regexp.MustCompile(`(?s)\(((?:[^()\\]|\\.)*)\) ?Tj`)

// textOf reads the words of a paper back: strings that are shown, two bytes a
// letter (ISO 32000-1, 9.4.3 and 9.7.5; the font maps letters to themselves).
func textOf(t *testing.T, paper []byte) string {
	t.Helper()
	var b strings.Builder
	for _, s := range streams(t, paper) {
		for _, m := range shown.FindAllSubmatch(s, -1) {
			raw := regexp.MustCompile(`(?s)\\(.)`).ReplaceAllFunc(m[1], func(e []byte) []byte {
				if e[1] == 'r' {
					return []byte{'\r'}
				}
				return e[1:]
			})
			var units []uint16
			for i := 0; i+1 < len(raw); i += 2 {
				units = append(units, uint16(raw[i])<<8|uint16(raw[i+1]))
			}
			b.WriteString(string(utf16.Decode(units)) + "\n")
		}
	}
	return b.String()
}

func kept(t *testing.T, name string, paper []byte) {
	t.Helper()
	if *keep == "" {
		return
	}
	if err := os.WriteFile(filepath.Join(*keep, name), paper, 0o600); err != nil {
		t.Fatal(err)
	}
}

// sample is a machine with one closed period by the numbers of a worked day: 150
// twenties in, 90 paid out, 1 cancelled, 60 left, so one is missing.
func sample(t *testing.T, name, currency, country string) *tally.Machine {
	t.Helper()
	set := shop.Example()
	set.Name, set.Currency, set.Country = name, currency, country
	set.Machines[0].Name = "Łódź, Ελλάδα, ¥ → €"
	s, err := shop.New(1, 1, set)
	if err != nil {
		t.Fatal(err)
	}
	p := &books.Period{No: 1, Status: books.Closed, Boxes: []books.BoxState{{Position: 1, Face: "20",
		Loaded:    150,
		Remaining: 60}}, Slips: []books.Slip{{PaidOut: books.Notes{"20": 90}, Back: books.Notes{"20": 1}}},
		ByFace: books.Notes{"20": -1}, Variance: decimal.NewFromInt(-20), EndedBy: 2,
		Ended: time.Date(2026, 11, 9, 21, 5, 0, 0, time.UTC)}
	m := &tally.Machine{Shop: s, Kit: &s.Machines[0], From: "2026-11-01", To: "2026-11-30",
		Word: "tin-lamp-oak"}
	for i := range 30 {
		d := &tally.Day{Date: shop.Date("2026-11-01").Add(i), Due: decimal.RequireFromString("1780"),
			PaidOut: decimal.NewFromInt(1800), Back: decimal.NewFromInt(20), Variance: decimal.NewFromInt(-20)}
		if d.Date == "2026-11-09" {
			d.Periods = []*books.Period{p}
		}
		d.Unknown = d.Date == "2026-11-30"
		m.Days = append(m.Days, d)
	}
	return m
}

func options(t *testing.T, m *tally.Machine, letter bool) filed.Options {
	t.Helper()
	c, err := texts.Load()
	if err != nil {
		t.Fatal(err)
	}
	return filed.Options{Letter: letter, Voice: c.In("en", m.Shop.Country, m.Shop.Currency),
		Names: func(shop.PersonID) string { return "Zoë" }, Made: time.Date(2026, 12, 1, 8, 0, 0, 0, time.UTC)}
}

// The words of the day come back out of the paper, in letters of three alphabets.
func TestDay(t *testing.T) {
	m := sample(t, "Sklep Łódź (1)", "EUR", "IE")
	var b bytes.Buffer
	if err := filed.Day(&b, m, "2026-11-09", options(t, m, false)); err != nil {
		t.Fatal(err)
	}
	kept(t, "day.pdf", b.Bytes())
	got := textOf(t, b.Bytes())
	for _, want := range []string{"Sklep Łódź (1)", "Łódź, Ελλάδα, ¥ → €", "tin-lamp-oak", "150\n", "€3,000",
		"€1,800",
		"-1\n", "-€20", "Zoë", "21:05", "Counted by", "1 / 1", "not", "advises on tax"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
	if n := len(b.Bytes()); n > 60_000 {
		t.Errorf("%d bytes: the font is embedded with more letters than are used", n)
	}
}

var box = regexp.MustCompile(`/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]`)

// A month has its pages, numbered, on the paper that was asked for, with totals
// worked out by hand: 30 days of 1,780 due.
func TestMonth(t *testing.T) {
	for _, c := range []struct {
		letter            bool
		currency, country string
		wide, high, due   string
	}{{false, "EUR", "IE", "841.89", "595.28", "€53,400"}, {true, "USD", "US", "792", "612", "$53,400"},
		{false, "JPY", "JP", "841.89", "595.28", "¥53,400"}} {
		m := sample(t, "Shop", c.currency, c.country)
		m.Days = append(m.Days, &tally.Day{Date: "2026-12-01"}) // the longest month
		var b bytes.Buffer
		if err := filed.Month(&b, m, options(t, m, c.letter)); err != nil {
			t.Fatal(err)
		}
		kept(t, fmt.Sprintf("month-%s.pdf", c.currency), b.Bytes())
		size := box.FindSubmatch(b.Bytes())
		if size == nil || !strings.HasPrefix(string(size[1]), c.wide) || !strings.HasPrefix(string(size[2]),
			c.high) {
			t.Errorf("paper %s, want %s x %s points", size, c.wide, c.high)
		}
		got := textOf(t, b.Bytes())
		pages := bytes.Count(b.Bytes(), []byte("/Type /Page\n"))
		for _, want := range []string{"Total", c.due, "not known", "Checked by", fmt.Sprintf("%d / %[1]d", pages)} {
			if !strings.Contains(got, want) {
				t.Errorf("%s: no %q in\n%s", c.currency, want, got)
			}
		}
		if first, _, _ := strings.Cut(got, "1 / "); !strings.Contains(first, "Total") {
			t.Errorf("%s: the total is not on the page of the days", c.currency)
		}
		if pages < 2 || strings.Count(got, "tin-lamp-oak") != pages {
			t.Errorf("%d pages, the word stands %d times", pages, strings.Count(got, "tin-lamp-oak"))
		}
	}
}

// Behind the days stands what the bank paid and took, by what it was for, with the bank's
// own reference; by hand, 1,780 and 30 fee income less 12.50 of charges came.
func TestMonthHasPayments(t *testing.T) {
	n := decimal.RequireFromString
	m := sample(t, "Shop", "EUR", "IE")
	m.Payments = []tally.Payment{
		{Date: "2026-11-10", Ref: "RF18-5390", Entry: 9, ClaimDay: "2026-11-09", Paid: n("1780")},
		{Date: "2026-11-10", Ref: "RF18-5390", Entry: 9, Fee: n("30")},
		{Date: "2026-11-11", Entry: 12, Charge: n("12.5")}}
	var b bytes.Buffer
	if err := filed.Month(&b, m, options(t, m, false)); err != nil {
		t.Fatal(err)
	}
	kept(t, "month-payments.pdf", b.Bytes())
	_, got, _ := strings.Cut(textOf(t, b.Bytes()), "on the account\n")
	for _, want := range []string{"RF18-5390\nMon 9 Nov\n€1,780\n", "12\n€0\n€0\n€12.50\n€0\n€0\n-€12.50\n",
		"Total\n€1,780\n€30\n€12.50\n€0\n€0\n€1,797.50\n"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
}

// The same month gives the same bytes, and a day without records says so.
func TestAlikeAndEmpty(t *testing.T) {
	m := sample(t, "Shop", "EUR", "IE")
	var one, two, none bytes.Buffer
	if err := filed.Month(&one, m, options(t, m, false)); err != nil {
		t.Fatal(err)
	}
	if err := filed.Month(&two, m, options(t, m, false)); err != nil || !bytes.Equal(one.Bytes(), two.Bytes()) {
		t.Errorf("differs from the first: %v", err)
	}
	if err := filed.Day(&none, m, "2026-12-09", options(t, m, true)); err != nil {
		t.Fatal(err)
	}
	if got := textOf(t, none.Bytes()); !strings.Contains(got, "Nothing is recorded") {
		t.Errorf("%s", got)
	}
}

// The paper form of a machine goes on two pages, with all its words, a line for each box and a box
// to tick for each that the text has.
func TestForm(t *testing.T) {
	m := sample(t, "Corner shop", "EUR", "IE")
	o := options(t, m, false)
	var text, b bytes.Buffer
	if err := sheet.Write(&text, o.Voice, m.Shop, m.Kit); err != nil {
		t.Fatal(err)
	}
	if err := filed.Form(&b, m.Shop, m.Kit, o); err != nil {
		t.Fatal(err)
	}
	kept(t, "form.pdf", b.Bytes())
	got := textOf(t, b.Bytes())
	words := strings.NewReplacer("_", " ", "===", " ", "[ ]", " ").Replace(text.String())
	for word := range strings.FieldsSeq(words) {
		if strings.Trim(word, "=") == "" {
			continue
		}
		if !strings.Contains(got, word) {
			t.Errorf("no %q in\n%s", word, got)
		}
	}
	drawn := string(bytes.Join(streams(t, b.Bytes()), nil))
	if ticks := strings.Count(text.String(), "[ ]"); ticks < 10 || strings.Count(drawn, " re S") != ticks {
		t.Errorf("%d boxes to tick, want %d", strings.Count(drawn, " re S"), ticks)
	}
	if !strings.Contains(got, "2 / 2") || b.Len() > 60_000 {
		t.Errorf("%d bytes, no second page in\n%s", b.Len(), got)
	}
}

// A list that was ticked within seconds of being shown is marked on the day's sheet, and no other.
func TestTickedAtOnce(t *testing.T) {
	for _, atOnce := range []bool{false, true} {
		m := sample(t, "Corner shop", "EUR", "IE")
		if atOnce {
			for _, d := range m.Days {
				for _, p := range d.Periods {
					p.Marks = append(p.Marks, books.AtOnce)
				}
			}
		}
		var b bytes.Buffer
		if err := filed.Day(&b, m, "2026-11-09", options(t, m, false)); err != nil {
			t.Fatal(err)
		}
		if got := textOf(t, b.Bytes()); strings.Contains(got, "ticked at once") != atOnce {
			t.Errorf("at once %t:\n%s", atOnce, got)
		}
	}
}

// No head of a column is cut, in any country's words for money, and the longest name of a shop
// leaves its check word on the paper.
func TestNothingIsCut(t *testing.T) {
	m := sample(t, strings.Repeat("Łódź Ελλάδα ", 5), "EUR", "IE")
	m.Payments = []tally.Payment{{Date: "2026-11-10", Ref: "RF18-5390", Entry: 9, ClaimDay: "2026-11-09",
		Paid: decimal.NewFromInt(1780)}}
	m.Shop.Fee.VAT = decimal.NewFromInt(23)
	var b bytes.Buffer
	if err := filed.Month(&b, m, options(t, m, true)); err != nil {
		t.Fatal(err)
	}
	kept(t, "month-long.pdf", b.Bytes())
	got := textOf(t, b.Bytes())
	if strings.Contains(got, "…") || !strings.Contains(got, "Check word tin-lamp-oak") {
		t.Errorf("cut:\n%s", got)
	}
}
