package sheet_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"shopfloat/internal/sheet"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

var update = flag.Bool("update", false, "write the golden files anew")

func TestWriteGolden(t *testing.T) {
	for name, s := range shops() {
		got := form(t, s)
		file := filepath.Join("testdata", name+".golden")
		if *update {
			if err := os.WriteFile(file, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, want) {
			t.Errorf("the form of shop %q differs from %s; run with -update and look at the difference", name, file)
		}
	}
}

// A page of A4 takes 70 lines at six to the inch, 79 columns at ten to the inch.
func TestWriteFitsPaper(t *testing.T) {
	for name, s := range shops() {
		pages := strings.Split(string(form(t, s)), "\f")
		if len(pages) != 2 {
			t.Errorf("%s: %d pages, want 2", name, len(pages))
		}
		for i, page := range pages {
			if lines := strings.Count(page, "\n"); lines > 70 {
				t.Errorf("%s: page %d has %d lines", name, i+1, lines)
			}
			for line := range strings.Lines(page) {
				if width := utf8.RuneCountInString(strings.TrimRight(line, "\n")); width > 79 {
					t.Errorf("%s: %d columns: %q", name, width, line)
				}
			}
		}
	}
}

// The chat asks in this order, and the form is copied in from top to bottom. The
// slips stand below the counts, so that nobody knows the result while counting.
func TestWriteFollowsTheChat(t *testing.T) {
	text := string(form(t, shops()["euro"]))
	for _, part := range []string{
		"Door locked", "OPENING", "Total on the machine's slip", "PUT IN LATER", "MOVED", "TEST PAYOUTS", "LEVELS",
		"CLOSING COUNT", "left in the box", "Box for refused notes", "Found on the way", "Paid out", "Cancelled",
		"OVERNIGHT", "(signature)",
	} {
		_, rest, found := strings.Cut(text, part)
		if !found {
			t.Fatalf("%q is missing, or stands too early", part)
		}
		text = rest
	}
}

// Staff fill it in: everyday words only.
func TestWriteSpeaksPlainly(t *testing.T) {
	text := strings.ToLower(string(form(t, shops()["euro"])))
	for _, word := range []string{
		"cassette", "denomination", "dispens", "reject", "purge", "reconcil", "settlement", "variance", "revers",
		"replenish",
	} {
		if strings.Contains(text, word) {
			t.Errorf("the form says %q", word)
		}
	}
}

func form(t *testing.T, s *shop.Shop) []byte {
	t.Helper()
	catalogue, err := texts.Load()
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := sheet.Write(&out, catalogue.In("en", s.Country, s.Currency), s, &s.Machines[0]); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func shops() map[string]*shop.Shop {
	return map[string]*shop.Shop{
		"euro": {Settings: shop.Settings{
			Name: "Harbour Corner", Country: "IE", Currency: "EUR", Nightly: true, SafeOpen: true, Checked: true,
			Limit: decimal.NewFromInt(40_000),
			Machines: []shop.Machine{{ID: 1, Name: "Front machine", TestDispense: true, Boxes: []shop.Box{
				{Position: 1, Face: "50"}, {Position: 2, Face: "20"}, {Position: 3, Face: "10"},
			}}},
		}},
		"yen": {Settings: shop.Settings{ // one kind in two boxes, notes stay in, no try-outs, no limit
			Name: "Pier Shop", Country: "JP", Currency: "JPY",
			Machines: []shop.Machine{{ID: 1, Name: "Hall", Boxes: []shop.Box{
				{Position: 1, Face: "10000"}, {Position: 2, Face: "10000"},
				{Position: 3, Face: "5000"}, {Position: 4, Face: "1000"},
			}}},
		}},
	}
}
