package workbook_test

import (
	"archive/zip"
	"bytes"
	"io"
	"regexp"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/thedatashed/xlsxreader"

	"shopfloat/internal/shop"
	"shopfloat/internal/tally"
	"shopfloat/internal/workbook"
)

func machine(name, shopName, currency string, days ...*tally.Day) *tally.Machine {
	s := &shop.Shop{}
	s.Name, s.Currency = shopName, currency
	return &tally.Machine{Shop: s, Kit: &shop.Machine{Name: name}, From: "2026-11-01", To: "2026-11-30",
		Days: days,
		Word: "tin-lamp"}
}

func day(date shop.Date, paid, variance string, by ...shop.PersonID) *tally.Day {
	d := &tally.Day{Date: date, PaidOut: decimal.RequireFromString(paid), Due: decimal.RequireFromString(paid),
		Variance: decimal.RequireFromString(variance), Closed: by}
	return d
}

func book(t *testing.T, machines ...*tally.Machine) []byte {
	t.Helper()
	var b bytes.Buffer
	err := workbook.Write(&b, machines, func(shop.PersonID) string { return "=Ben" })
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// part reads a file of the package as it is.
func part(t *testing.T, data []byte, name string) string {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	f, err := z.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	all, err := io.ReadAll(f)
	if err != nil {
		t.Fatal(err)
	}
	return string(all)
}

// Sheets are called by what tells the machines apart: of one shop by theirs, of several by the
// shops', and by both where one has several.
func TestSheetNames(t *testing.T) {
	one, other := machine("Front", "One", "EUR"), machine("Front", "Two", "EUR")
	third := machine("Front", "Two", "EUR") // another shop that is called so, too
	back := *one
	back.Kit = &shop.Machine{Name: "Back"}
	for want, list := range map[string][]*tally.Machine{
		"Front|Back":                  {one, &back},
		"One, Front|One, Back|Two":    {one, &back, other},
		"One|Two|Two (2)|One / Three": {one, other, third, machine("Front", "One / Three", "EUR")},
	} {
		x, err := xlsxreader.NewReader(book(t, list...))
		if err != nil {
			t.Fatal(err)
		}
		want = strings.ReplaceAll(want, " / ", "   ")
		if got := strings.Join(x.Sheets, "|"); got != "All machines|"+want+"|Payments|About" {
			t.Errorf("sheets %s, want %s", got, want)
		}
	}
}

// Another library reads the days back as dates and numbers, to the cent, and what
// the formulas add up is the sum of what stands above them.
func TestReadBack(t *testing.T) {
	known := machine("Front", "One", "EUR", day("2026-11-09", "4380.00", "-20", 2), day("2026-11-10", "0.10",
		"0"))
	open := day("2026-11-11", "12345678901234.55", "0")
	open.Unknown = true
	yen := machine("Front", "Two", "JPY", open)
	data := book(t, known, yen)
	x, err := xlsxreader.NewReader(data)
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(x.Sheets, "|"); got != "All machines|One|Two|Payments|About" {
		t.Errorf("sheets %s", got)
	}
	var rows [][]string
	kinds := map[string]xlsxreader.CellType{}
	for row := range x.ReadRows("All machines") {
		if row.Error != nil {
			t.Fatal(row.Error)
		}
		var cells []string
		for _, c := range row.Cells {
			cells = append(cells, c.Value)
			kinds[c.Column+strings.Repeat("+", min(row.Index, 2))] = c.Type
		}
		rows = append(rows, cells)
	}
	if len(rows) != 6 || rows[1][3][:10] != "2026-11-09" || rows[1][6] != "4380" ||
		rows[3][6] != "12345678901234.55" ||
		rows[3][9] != "not known" {
		t.Fatalf("%q", rows)
	}
	if kinds["D++"] != xlsxreader.TypeDateTime || kinds["G++"] != xlsxreader.TypeNumerical {
		t.Errorf("types %v", kinds)
	}
	for sheet, wants := range map[string][]string{
		"xl/workbook.xml": {`fullCalcOnLoad="true"`},
		"xl/worksheets/sheet1.xml": {`SUMIF($C$2:$C$4,&#34;EUR&#34;,G2:G4)`,
			`SUMIF($C$2:$C$4,&#34;JPY&#34;,G2:G4)`, `state="frozen"`},
		"xl/worksheets/sheet2.xml": {`SUM(D2:D3)`, `state="frozen"`, `topLeftCell="A2"`},
	} {
		raw := strings.ReplaceAll(part(t, data, sheet), "&quot;", "&#34;")
		for _, want := range wants {
			if !strings.Contains(raw, want) {
				t.Errorf("%s has no %s", sheet, want)
			}
		}
	}
	added(t, data, "xl/worksheets/sheet2.xml", known.Days)
	if got := strings.Join(totalsOf(t, x, "All machines"), "|"); got !=
		"EUR|0|0|4380.1|0|0|-20|4380.1|0|0|0|0|4380.1|0|0|JPY|"+
			"0|0|12345678901234.55|0|0|0|12345678901234.55|0|0|0|0|12345678901234.55|0|0" {
		t.Errorf("totals of all %s", got)
	}
}

// totalsOf reads the values in the rows of totals, as a viewer shows them that does not reckon.
func totalsOf(t *testing.T, x *xlsxreader.XlsxFile, sheet string) (list []string) {
	t.Helper()
	for row := range x.ReadRows(sheet) {
		if row.Error != nil || !strings.HasPrefix(row.Cells[0].Value, "total") {
			continue
		}
		for i, c := range row.Cells[1:] {
			if i > 0 && c.Type != xlsxreader.TypeNumerical {
				t.Errorf("%s: %s%d is no number", sheet, c.Column, row.Index)
			}
			list = append(list, c.Value)
		}
	}
	return list
}

var (
	formula = regexp.MustCompile(
		`<c r="([A-Z]+)\d+"(?: s="\d+")?><f>SUM\(([A-Z]+)(\d+):[A-Z]+(\d+)\)</f><v>([^<]*)</v></c>`)
	number = regexp.MustCompile(`<c r="([A-Z]+)(\d+)"(?: s="\d+")?><v>([^<]*)</v></c>`)
)

// added works out every total of a sheet by hand and compares it with the days'.
func added(t *testing.T, data []byte, sheet string, days []*tally.Day) {
	t.Helper()
	raw, sums := part(t, data, sheet), map[string]decimal.Decimal{}
	for _, m := range number.FindAllStringSubmatch(raw, -1) {
		sums[m[1]] = sums[m[1]].Add(decimal.RequireFromString(m[3]))
	}
	formulas := formula.FindAllStringSubmatch(raw, -1)
	all := tally.Total(days)
	want := append(all.Amounts(), all.GivenUp, all.Tax)
	if len(formulas) != len(want) {
		t.Fatalf("%d totals, want %d", len(formulas), len(want))
	}
	for i, f := range formulas {
		if f[1] != f[2] || f[3] != "2" || f[4] != "3" || !sums[f[1]].Equal(want[i]) || f[5] != want[i].String() {
			t.Errorf("%v adds up to %s, the days to %s", f[0], sums[f[1]], want[i])
		}
	}
}

// No text of a person becomes a formula, and no name breaks a sheet.
func TestTextsStayTexts(t *testing.T) {
	data := book(t, machine("=1+1", "@SUM(A1)", "EUR", day("2026-11-09", "1", "0", 2)),
		machine("", "a/b:c[d]?*\\'", "EUR"),
		machine("", strings.Repeat("Łódź 😀", 12), "EUR"), machine("", "", "EUR"))
	x, err := xlsxreader.NewReader(data)
	if err != nil {
		t.Fatal(err)
	}
	if len(x.Sheets) != 7 || x.Sheets[2] != "a b c d" {
		t.Errorf("sheets %q", x.Sheets)
	}
	seen := ""
	for _, sheet := range x.Sheets[:2] {
		for row := range x.ReadRows(sheet) {
			for _, c := range row.Cells {
				seen += c.Value + "|"
			}
		}
	}
	for _, want := range []string{"=Ben|", "=1+1|", "@SUM(A1)|"} {
		if !strings.Contains(seen, want) {
			t.Errorf("%q is not a text in %s", want, seen)
		}
	}
	for i := range 2 {
		raw := part(t, data, "xl/worksheets/sheet"+string(rune('1'+i))+".xml")
		for _, f := range regexp.MustCompile(`<f>[^<]*</f>`).FindAllString(raw, -1) {
			if !strings.HasPrefix(f, "<f>SUM") {
				t.Errorf("a formula %s", f)
			}
		}
	}
}
