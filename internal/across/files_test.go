package across_test

import (
	"encoding/csv"
	"io"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
	"shopfloat/internal/tally"
)

// files are what the floor was sent for some words.
func files(f *floor.Floor, said string) (sent []*chat.File, text string) {
	f.Out.Reset()
	in := chat.Input{Kind: chat.Text, Chat: floor.ChatOf("owner"), Text: said, At: f.Now}
	for _, r := range f.Does("owner", in).Replies {
		text += floor.Said(r.Body...) + "\n"
		if r.File != nil {
			sent = append(sent, r.File)
		}
	}
	return sent, text
}

// A file over all machines has the figures of each but those that are being counted, in the money
// of each: 33 shops in euro without the one, 16 in pounds, 4,340 due to each.
func TestFileOfAll(t *testing.T) {
	f, _ := chain(t)
	sent, text := files(f, "export all november")
	if len(sent) != 1 || sent[0].Name != "2026-11.csv" {
		t.Fatalf("sent %v with %q", sent, text)
	}
	rows, err := csv.NewReader(strings.NewReader(string(sent[0].Data))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	at := map[string]int{}
	for i, name := range rows[0] {
		if _, twice := at[name]; !twice {
			at[name] = i
		}
	}
	due, shops := map[string]decimal.Decimal{}, map[string]bool{}
	for _, row := range rows[1:] {
		if row[at["date"]] == "2026-11-23" {
			currency := row[at["currency"]]
			due[currency] = due[currency].Add(decimal.RequireFromString(row[at["due"]]))
			shops[row[at["shop"]]] = true
		}
	}
	if len(shops) != fifty-1 || shops["Shop 17"] ||
		due["EUR"].String() != "143220" || due["GBP"].String() != "69440" {
		t.Errorf("%d shops, due %v", len(shops), due)
	}
	floor.Expect(t, text,
		"Sun 1 Nov to Mon 30 Nov|never added up.|Not in the sums: Shop 17. Somebody counts", "")
}

// A file of one machine only is offered machine by machine, and one for all holds each once.
func TestKindsOfFile(t *testing.T) {
	f, _ := chain(t)
	sent, text := files(f, "export all november pdf")
	if len(sent) != 0 {
		t.Errorf("a page of all machines was sent: %s", sent[0].Name)
	}
	floor.Expect(t, text, "Each machine has its own file of this kind. Tap one.", "All your machines are in it")
	sent, _ = files(f, "export all november journal")
	if len(sent) != 1 || strings.Count(string(sent[0].Data), "* opening, entry 1\n") != fifty-1 ||
		strings.Contains(string(sent[0].Data), "Shop 17") {
		t.Errorf("%d files; the journal has not every machine once", len(sent))
	}
}

// A workbook is written by what the engine was given for it, once with all machines that are not
// being counted; where nothing was given none is sent.
func TestWorkbookOfAll(t *testing.T) {
	f, _ := chain(t)
	if sent, text := files(f, "export all november xlsx"); len(sent) != 0 {
		t.Errorf("a workbook that nothing writes: %s", text)
	}
	shops := map[string]int{}
	f.Engine.Book = func(to io.Writer, list []*tally.Machine, _ func(shop.PersonID) string) error {
		for _, m := range list {
			shops[m.Shop.Name]++
		}
		_, err := io.WriteString(to, "as written")
		return err
	}
	sent, _ := files(f, "export all november xlsx")
	if len(sent) != 1 || sent[0].Name != "2026-11.xlsx" || string(sent[0].Data) != "as written" {
		t.Fatalf("%d workbooks", len(sent))
	}
	if len(shops) != fifty-1 || shops["Shop 01"] != 1 || shops["Shop 17"] != 0 {
		t.Errorf("of %v", shops)
	}
}

// The overview of many goes on by number.
func TestOverviewGoesOn(t *testing.T) {
	f, _ := chain(t)
	f.Expect(f.Says("owner", "overview"),
		"Shop 01|Shop 05|Closing of Mon 23 Nov: €40 is missing.|overview 2", "Shop 06")
	f.Expect(f.Says("owner", "overview 4"), "Shop 16|Shop 17|Shop 20|overview 5", "Shop 15|Shop 21")
}

// What was owed long ago is told a machine at a time, a day or month that is none is said to be
// none, and a machine that should have been closed the evening before stands with its day.
func TestOneAtATime(t *testing.T) {
	f, _ := chain(t)
	f.Expect(f.Says("owner", "owed all at 1 june"), "one machine at a time|[Shop 01]|[Next ones]", "together")
	f.Expect(f.Says("owner", "month all brumaire"), "brumaire", "[Shop 01]")
	f.Expect(f.Says("owner", "owed together"), "all machines|Shop 01", "")
	f.Play("@2026-11-26 06:40\nstaff1: open 40 150 200\nstaff1: [Confirm]\n@2026-11-27 09:00")
	f.Expect(f.Says("owner", "overview all"), "Shop 01  open Thu 26 Nov", "closed")
}
