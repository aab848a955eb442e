package settling_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"shopfloat/internal/books"
	"shopfloat/internal/checks"
	"shopfloat/internal/matching"
	"shopfloat/internal/settling"
	"shopfloat/internal/shop"
	"shopfloat/internal/statement"
)

var account = "IE29 AIBK 9311 5212 3456 78"

// owed is a machine of the example shop whose bank owes sums for days one after
// the other, the first one on Monday 2 November 2026. Its shop is number id.
func owed(t testing.TB, id int, sums ...int64) settling.Machine {
	t.Helper()
	settings := shop.Example()
	settings.Machines[0].ID = shop.MachineID(id)
	settings.Bank = settings.Bank.With(keyOf(t))
	s, err := shop.New(shop.ID(id), 1, settings)
	if err != nil {
		t.Fatal(err)
	}
	m := books.New(shop.MachineID(id))
	m.Seq = 100
	for i, sum := range sums {
		day := shop.Date("2026-11-02").Add(i)
		m.Claims = append(m.Claims, books.Claim{Seq: int64(10 + i), Period: int64(5 + i), Day: day,
			On: day.Add(1), Settled: day.Time().Add(20 * time.Hour), Value: decimal.NewFromInt(sum)})
	}
	return settling.Machine{Shop: s, ID: m.ID, Books: m}
}

// keyOf is by what the account is known, as the first reading says it.
func keyOf(t testing.TB) string {
	t.Helper()
	s, err := shop.New(9, 1, shop.Example())
	if err != nil {
		t.Fatal(err)
	}
	r := read(t, settling.Want{}, []settling.Machine{{Shop: s, ID: 1, Books: books.New(1)}}, "2026-11-02;x;1.00")
	if !r.Untied || len(r.Accounts) != 1 || strings.Contains(r.Accounts[0], "9311") || r.Ends != "5678" {
		t.Fatalf("an account that nobody named: %+v", r)
	}
	return r.Accounts[0]
}

func read(t testing.TB, want settling.Want, machines []settling.Machine, rows ...string) *settling.Reading {
	t.Helper()
	text := "Account;" + account + "\nDate;Text;Amount\n" + strings.Join(rows, "\n") + "\n"
	r := settling.Read(strings.NewReader(text), int64(len(text)), 0, want, machines)
	data, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	var back settling.Reading
	if err := json.Unmarshal(data, &back); err != nil {
		t.Fatal(err)
	}
	return &back // as it comes out of a file
}

var now = time.Date(2026, 11, 30, 9, 0, 0, 0, time.UTC)

func at(machines []settling.Machine) func(shop.MachineID) (*shop.Shop, *books.Machine) {
	return func(id shop.MachineID) (*shop.Shop, *books.Machine) {
		i := slices.IndexFunc(machines, func(m settling.Machine) bool { return m.ID == id })
		if i < 0 {
			return nil, nil
		}
		return machines[i].Shop, machines[i].Books
	}
}

// post books what a line is for; false where the books refuse it.
func post(t testing.TB, machines []settling.Machine, o *settling.Offer, w *settling.Way) bool {
	t.Helper()
	list, ok := o.Book(w, at(machines), now)
	for _, b := range list {
		i := slices.IndexFunc(machines, func(m settling.Machine) bool { return m.ID == b.Machine })
		m := machines[i].Books.Clone()
		e := books.Entry{Record: b.Record, Machine: b.Machine, Seq: m.Seq + 1, Recorded: now}
		if _, err := m.Post(e); ok && err != nil {
			t.Fatalf("line %d: %v", o.No, err)
		}
		machines[i].Books = m
	}
	return ok
}

// The bank's own reference goes with the record that a line becomes, as far as it is short
// and can be seen.
func TestBookHasReference(t *testing.T) {
	machines := []settling.Machine{owed(t, 1, 400)}
	text := "Date;Text;Reference;Amount\n2026-11-03;Settlement; NTRF 12/AB\u200b ;400.00\n"
	tied := settling.Read(strings.NewReader(text), int64(len(text)), 0, settling.Want{}, machines)
	machines[0].Shop.Bank = machines[0].Shop.Bank.With(tied.Accounts[0])
	r := settling.Read(strings.NewReader(text), int64(len(text)), 0, settling.Want{}, machines)
	if len(r.Offers) != 1 {
		t.Fatalf("%+v", r)
	}
	list, ok := r.Offers[0].Book(&r.Offers[0].Ways[0], func(shop.MachineID) (*shop.Shop, *books.Machine) {
		return machines[0].Shop, machines[0].Books
	}, shop.Date("2026-11-04").Time())
	if !ok || len(list) != 1 || list[0].Record.Ref != "NTRF 12/AB" {
		t.Errorf("%+v", list)
	}
}

// One line for the days of two shops becomes a payment in the books of each. By
// hand: 400 + 300 = 700.
func TestBookSplit(t *testing.T) {
	machines := []settling.Machine{owed(t, 1, 400), owed(t, 2, 300)}
	row := "2026-11-03;Settlement;700.00"
	r := read(t, settling.Want{}, machines, row)
	if len(r.Offers) != 1 || !r.Offers[0].Sure() || r.Lines != 1 {
		t.Fatalf("%+v", r)
	}
	if !post(t, machines, &r.Offers[0], &r.Offers[0].Ways[0]) {
		t.Fatal("not booked")
	}
	for i, want := range []int64{400, 300} {
		m := machines[i].Books
		p := m.Payments[len(m.Payments)-1]
		whole := p.Line != nil && p.Line.Value.Equal(decimal.NewFromInt(700))
		if left := m.Claims[0].Left(); !left.IsZero() || !whole || !p.Value.Equal(decimal.NewFromInt(want)) {
			t.Errorf("shop %d: %+v, left %s", i+1, p, left)
		}
	}
	if o := &r.Offers[0]; post(t, machines, o, &o.Ways[0]) {
		t.Error("the same line is booked twice")
	}
	again := read(t, settling.Want{}, machines, row)
	if again.Seen != 1 || len(again.Offers) != 0 || again.Foreign != 0 {
		t.Errorf("the same file again: %+v", again)
	}
	two := read(t, settling.Want{}, machines, row, row)
	if two.Seen != 1 || two.Foreign != 1 {
		t.Errorf("a second line like it: %+v", two)
	}
}

// What a line differs by, takes back or is disputed is booked as it is said.
func TestBookWays(t *testing.T) {
	for name, c := range map[string]struct {
		rows  []string
		line  int
		kind  books.Kind
		parts string
	}{
		"a day": {[]string{"2026-11-03;Settlement;400.00"}, 1, books.Credit, "400 pays"},
		"less":  {[]string{"2026-11-03;Settlement;395.00"}, 1, books.Credit, "400 pays, -5 charge"},
		"more":  {[]string{"2026-11-03;Settlement;402.00"}, 1, books.Credit, "400 pays, 2 fee"},
		"a customer's claim": {[]string{"2026-11-05;Chargeback 02.11.2026;-40.00"}, 1, books.Debit,
			"-40 dispute"},
	} {
		machines := []settling.Machine{owed(t, 1, 400)}
		r := read(t, settling.Want{}, machines, c.rows...)
		i := slices.IndexFunc(r.Offers, func(o settling.Offer) bool { return o.No == c.line })
		if i < 0 || !post(t, machines, &r.Offers[i], &r.Offers[i].Ways[0]) {
			t.Errorf("%s: not booked: %+v", name, r)
			continue
		}
		list, _ := r.Offers[i].Book(&r.Offers[i].Ways[0], at([]settling.Machine{owed(t, 1, 400)}), now)
		var parts []string
		for _, p := range list[0].Record.Parts {
			parts = append(parts, p.Value.String()+" "+string(p.As))
		}
		if got := strings.Join(parts, ", "); got != c.parts || list[0].Record.Kind != c.kind {
			t.Errorf("%s: %s %s, want %s %s", name, list[0].Record.Kind, got, c.kind, c.parts)
		}
	}
}

// A payment is dated as the bank does, at noon, not before its slip and not after now.
func TestBookHappened(t *testing.T) {
	for row, want := range map[string]string{
		"2026-11-03;Settlement;400.00": "2026-11-03 12:00", "2026-11-02;Settlement;400.00": "2026-11-02 20:00",
		"2026-12-24;Settlement;400.00": "2026-11-30 09:00",
	} {
		machines := []settling.Machine{owed(t, 1, 400)}
		r := read(t, settling.Want{}, machines, row)
		if len(r.Offers) != 1 {
			t.Fatalf("%s: %+v", row, r)
		}
		list, ok := r.Offers[0].Book(&r.Offers[0].Ways[0], at(machines), now)
		if !ok || list[0].Record.Happened.Format("2006-01-02 15:04") != want {
			t.Errorf("%s: %v %+v, want %s", row, ok, list, want)
		}
	}
}

// A reading holds at most 200 proposals; the next page begins behind the last of them.
func TestReadPages(t *testing.T) {
	var sums []int64
	var rows []string
	for i := range 60 {
		sums = append(sums, 400)
		for range 4 {
			rows = append(rows, fmt.Sprintf("%s;Settlement;400.00", shop.Date("2026-11-02").Add(i)))
		}
	}
	machines := []settling.Machine{owed(t, 1, sums...)}
	seen, pages := map[int]bool{}, 0
	for want := (settling.Want{}); ; pages++ {
		r := read(t, want, machines, rows...)
		ways := 0
		for _, o := range r.Offers {
			if ways += len(o.Ways); seen[o.No] && pages > 0 {
				t.Fatalf("line %d is on two pages", o.No)
			}
			seen[o.No], want.After = true, o.No
		}
		if ways > settling.MaxWays || len(r.Offers) == 0 {
			t.Fatalf("page %d has %d proposals", pages, ways)
		}
		if !r.More {
			break
		}
	}
	if pages == 0 || len(seen) != len(rows) {
		t.Errorf("%d pages, %d of %d lines", pages+1, len(seen), len(rows))
	}
}

// Whatever is booked from a statement, in whatever order and from however many copies
// of the file, no line is booked twice and nothing is paid beyond what is due.
func TestNothingTwice(t *testing.T) {
	checks.Rapid(t, 60, 600, 20_000, func(r *rapid.T) {
		sums := rapid.SliceOfN(rapid.Int64Range(3, 6), 1, 6).Draw(r, "sums")
		for i := range sums {
			sums[i] *= 100
		}
		machines := []settling.Machine{owed(t, 1, sums...), owed(t, 2, 300, 400)}
		var rows []string
		for range rapid.IntRange(1, 8).Draw(r, "lines") {
			rows = append(rows, fmt.Sprintf("%s;Settlement;%d.00",
				shop.Date("2026-11-03").Add(rapid.IntRange(0, 6).Draw(r, "day")),
				100*rapid.SampledFrom([]int{3, 4, 5, 6, 7, 9}).Draw(r, "sum")))
		}
		booked, there := map[string]int{}, map[string]int{}
		for _, row := range rows {
			there[row]++
		}
		for range rapid.IntRange(1, 4).Draw(r, "files") {
			from := rapid.IntRange(0, len(rows)-1).Draw(r, "from") // files overlap
			reading := read(t, settling.Want{}, machines, rows[from:]...)
			for i := range reading.Offers {
				o := &reading.Offers[i]
				way := rapid.IntRange(-1, len(o.Ways)-1).Draw(r, "way")
				if way >= 0 && post(t, machines, o, &o.Ways[way]) {
					booked[fmt.Sprintf("%s;Settlement;%s", o.Line.Day, o.Amount.StringFixed(2))]++
				}
			}
		}
		for row, n := range booked {
			if n > there[row] {
				r.Fatalf("%s is booked %d times and there %d times", row, n, there[row])
			}
		}
		for _, m := range machines {
			for _, c := range m.Books.Claims {
				if c.Left().IsNegative() || c.Paid.IsNegative() {
					r.Fatalf("%s of %s is paid for %s", c.Paid, c.Value, c.Day)
				}
			}
		}
	})
}

// Money that was booked since a reading is noticed, other records are not; where
// nobody knows any more it counts as money.
func TestMoved(t *testing.T) {
	brief := func(seq int64, kind books.Kind) books.Brief { return books.Brief{Seq: seq, Kind: kind} }
	for name, c := range map[string]struct {
		recent []books.Brief
		since  int64
		want   bool
	}{
		"nothing":   {[]books.Brief{brief(7, books.Credit)}, 7, false},
		"a count":   {[]books.Brief{brief(7, books.Credit), brief(8, books.Count)}, 7, false},
		"a payment": {[]books.Brief{brief(7, books.Count), brief(8, books.Credit)}, 7, true},
		"forgotten": {[]books.Brief{brief(9, books.Count)}, 7, true},
		"an undo":   {[]books.Brief{brief(8, books.Undo)}, 7, true},
	} {
		m := &books.Machine{Seq: c.recent[len(c.recent)-1].Seq, Recent: c.recent}
		if got := settling.Moved(m, c.since); got != c.want {
			t.Errorf("%s: %t", name, got)
		}
	}
}

// A layout comes back from what a shop remembers; one that is not whole does not.
func TestTable(t *testing.T) {
	l := statement.Layout{Columns: map[statement.Role]int{statement.ByDay: 1, statement.ByAmount: 0}, Point: ",",
		Width: 3, Dates: statement.DayFirst}
	back, err := settling.LayoutOf(settling.TableOf("h", l))
	if err != nil || back.Columns[statement.ByDay] != 1 || back.Point != "," || back.Width != 3 {
		t.Errorf("%+v, %v", back, err)
	}
	for _, bad := range []string{"", "{}", `{"columns":{"day":1}}`, "[]"} {
		if _, err := settling.LayoutOf(shop.Table{Head: "h", Layout: json.RawMessage(bad)}); err == nil {
			t.Errorf("%q is a layout", bad)
		}
	}
	if matching.Pays != matching.As(books.Pays) || matching.Charge != matching.As(books.Charge) ||
		matching.Fee != matching.As(books.Fee) || matching.Dispute != matching.As(books.Dispute) {
		t.Error("parts are worded in two ways")
	}
}
