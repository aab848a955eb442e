package statement_test

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"shopfloat/internal/statement"
)

var update = flag.Bool("update", false, "write the statements of the demo shop anew")

// demoWeek is what the demo shop's bank says of its trading from 9 to 12 November
// 2026; testdata/chats has the trading. A payment of a day; one that could be for
// either of two days; one with charges off; a customer's claim; others' money;
// one not booked yet.
var demoWeek = []told{
	{"2026-11-09", "-61.15", "B-1", "Bäckerei Süß & Söhne", "Invoice 77", ""},
	{"2026-11-10", "250.00", "B-2", "Card takings", "9 Nov", ""},
	{"2026-11-10", "4380.00", "B-3", "Ready Cash Settlements", "BATCH 0912", ""},
	{"2026-11-10", "-12.50", "B-4", "The bank", "Account fee", ""},
	{"2026-11-12", "4400.00", "B-5", "Ready Cash Settlements", "BATCH 0914", ""},
	{"2026-11-13", "3945.00", "B-6", "Ready Cash Settlements", "BATCH 0916", ""},
	{"2026-11-13", "99.00", "B-7", "Card takings", "held", "pending"},
	{"2026-11-13", "-40.00", "B-8", "Ready Cash Settlements", "CHARGEBACK 09.11.2026", ""},
}

// The demo shop's statements of every format in testdata/statements are what the
// generator of the tests writes, and are read back as the same lines.
func TestDemoFiles(t *testing.T) {
	utf16 := wide(camt(8, demoWeek), false)
	want, _, err := read([]byte(camt(8, demoWeek)), statement.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for name, data := range map[string][]byte{
		"demo.camt053.02.xml": []byte(camt(2, demoWeek)), "demo.camt053.08.xml": []byte(camt(8, demoWeek)),
		"demo.camt053.13.xml": []byte(camt(13, demoWeek)), "demo.camt053.xml.gz": gzipped(t, []byte(camt(4,
			demoWeek))),
		"demo.camt053.zip":   zipped(t, map[string][]byte{"demo.xml": []byte(camt(6, demoWeek))}),
		"demo.camt054.xml":   []byte(camt054(demoWeek)),
		"demo.utf16.xml":     utf16,
		"demo.ofx1.ofx":      windows(t, ofx1(demoWeek)),
		"demo.ofx2.ofx":      []byte(ofx2(demoWeek)),
		"demo.plain.csv":     []byte(csvFile(demoWeek)),
		"demo.semicolon.csv": windows(t, csvSemicolons(demoWeek)),
	} {
		path := filepath.Join("..", "..", "testdata", "statements", name)
		if *update {
			if err := os.WriteFile(path, data, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		kept, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		// Another packer writes other bytes.
		packed := strings.HasSuffix(name, ".gz") || strings.HasSuffix(name, ".zip")
		if !packed && string(kept) != string(data) {
			t.Errorf("%s is not what the generator writes", name)
		}
		got, _, err := read(kept, statement.Options{})
		if err != nil || got != want {
			t.Errorf("%s: %v\n%s", name, err, got)
		}
	}
}
