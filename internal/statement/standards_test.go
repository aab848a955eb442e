package statement_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/statement"
)

// The standards' own samples are read as they say of themselves: testdata/standards/README.md
// has where each is from.
func TestStandardsSamples(t *testing.T) {
	for name, c := range map[string]struct {
		lines, pending int
		in, out        string // sums, by what the sample says of itself or by hand
		balance        statement.Check
		has            string
	}{
		// balances 500,000 and 435,678.50
		"iso.camt053.xml": {3, 0, "135678.50", "200000", statement.Agrees,
			"1 2010-10-18 105678.50 SEK AAAASESS-FP-CN_98765/01|MUELLER|MUELL/FINP/RA12345\n"},
		"iso.camt054.xml": {1, 0, "105678.50", "0", statement.Unchecked, "105678.50 SEK AAAASESS-FP-CN_98765/01"},
		"ofx.ofx":         {2, 0, "0", "500", statement.Unchecked, "2 2005-10-20 -300.00 USD 00003||\n"},
		// TxsSummry: credits 23,075.00, debits 9,430.17; ten entries, of which two are told by transaction
		"finland.camt053.xml": {13, 0, "23075.00", "9430.17", statement.Agrees,
			"9 2009-10-29 2120.00 EUR 091029ACCTSTMTARCH06|DEBTOR NAME|INVOICE US20291092 charges 20\n"},
		// by hand: the entries of 2,000, 500 and 3,000 in, 4,230.05 and 1,000 out
		"finland.camt054.xml": {11, 1, "5500", "5230.05", statement.Unchecked,
			"2 2009-10-29 100.00 EUR D091029N987654321S002|PAYERS NAME2|43216\n"},
	} {
		data, err := os.ReadFile(filepath.Join("testdata", "standards", name))
		if err != nil {
			t.Fatal(err)
		}
		got, rep, err := read(data, statement.Options{})
		if err != nil || rep.Lines != c.lines || rep.Pending != c.pending || rep.Balance != c.balance ||
			!strings.Contains(got, c.has) {
			t.Errorf("%s: %v %+v\n%s", name, err, rep, got)
		}
		in, out := decimal.Zero, decimal.Zero
		for l := range strings.Lines(got) {
			if d := decimal.RequireFromString(strings.Fields(l)[2]); d.IsPositive() {
				in = in.Add(d)
			} else {
				out = out.Sub(d)
			}
		}
		if in.String() != decimal.RequireFromString(c.in).String() || !out.Equal(decimal.RequireFromString(c.out)) {
			t.Errorf("%s: %s in and %s out, want %s and %s", name, in, out, c.in, c.out)
		}
	}
}

// A reference that several transactions of one booking carry is none of theirs: the Finnish
// sample has it so. Two of the same sum are two, not one that comes twice.
func TestReferenceOfABatch(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("testdata", "standards", "finland.camt053.xml"))
	if err != nil {
		t.Fatal(err)
	}
	got, _, err := read(data, statement.Options{})
	if want := "12 2009-10-29 -100.00 EUR ||\n13 2009-10-29 -100.00 EUR ||\n"; err != nil ||
		!strings.HasSuffix(got, want) {
		t.Errorf("%v\n%s", err, got)
	}
}
