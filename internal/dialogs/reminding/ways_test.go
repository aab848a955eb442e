package reminding_test

import (
	"bufio"
	"os"
	"strings"
	"testing"

	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// What owners say of hours, holidays, pauses, days off and who comes, in their own words, and what they
// are asked or have read back. It is said on Tuesday 30 December in an Irish shop that is open from 9 to
// 18 but on Sundays; the table leaves out what stands on each card.
func TestWaysToSay(t *testing.T) {
	file, err := os.Open("testdata/ways.tsv")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = file.Close() }()
	n, lines := 0, bufio.NewScanner(file)
	for lines.Scan() {
		text, want, is := strings.Cut(lines.Text(), "\t")
		if strings.HasPrefix(text, "#") || !is {
			continue
		}
		n++
		if got := readBack(t, text); got != want {
			t.Errorf("%s\t%s\nwant %s", text, got, want)
		}
	}
	if n < 100 {
		t.Errorf("%d ways", n)
	}
}

// readBack is what an owner is answered, in a line.
func readBack(t *testing.T, text string) string {
	f := floor.New(t, dialogs.New)
	day := shop.Hours{Open: 9 * 60, Close: 18 * 60}
	f.Shop.Hours = [7]shop.Hours{{}, day, day, day, day, day, day}
	f.Shop.Plan.Changes = []shop.Change{{From: "2025-12-01", To: shop.ForGood, Absent: 3, Each: "fri"}}
	f.At("2025-12-30 12:00")
	var said []string
	for line := range strings.Lines(f.Says("owner", text)) {
		line = strings.Join(strings.Fields(strings.TrimPrefix(line, "bot> ")), " ")
		if !everywhere(line) {
			said = append(said, line)
		}
	}
	return strings.Join(said, " / ")
}

// everywhere reports whether a line stands on each card.
func everywhere(line string) bool {
	return line == "" || line == "Right?" || line == "Hours" || line == "Change of plan" || line[0] == '[' ||
		strings.HasPrefix(line, "Opening is due") || line == "Public holidays: closed." ||
		strings.Contains(line, "Cleo cannot come") && line[0] == '-' || strings.HasPrefix(line, "To change it type")
}
