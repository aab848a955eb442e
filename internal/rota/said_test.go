package rota_test

import (
	"bufio"
	"os"
	"strings"
	"testing"

	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/rota"
	"shopfloat/internal/shop"
)

// The ways people say in the chat how single days are kept and who cannot come, each as it is
// read on Tuesday 6 January 2026 in a shop that is open from 9 to 18 but on Sundays. What
// leaves a word unexplained is not read.
func TestSaid(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.At("2026-01-06 08:00")
	day := shop.Hours{Open: 9 * 60, Close: 18 * 60}
	f.Shop.Hours = [7]shop.Hours{{}, day, day, day, day, day, day}
	f.Shop.Plan.Changes = []shop.Change{{From: "2026-01-05", To: "2026-01-09", Absent: 3}}
	tell := teller(f, "owner") // Ada, person 1
	file, err := os.Open("testdata/said.tsv")
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
		list, ok := rota.Said(tell, text)
		if !ok {
			list, ok = rota.Read(tell, "away", text, "")
		}
		got := "-"
		if ok {
			got = ""
			for _, c := range list {
				got += "; " + strings.Replace(summed(c), string(c.From)+" "+string(c.To), short(c), 1)
			}
			got = strings.TrimPrefix(got, "; ")
		}
		if got != want {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
	if n < 100 {
		t.Errorf("%d ways", n)
	}
}

// short writes days as 01-06, or 01-06..01-09; a year stands where it is another one.
func short(c shop.Change) string {
	day := func(d shop.Date) string { return strings.TrimPrefix(string(d), "2026-") }
	if c.From == c.To {
		return day(c.From)
	}
	return day(c.From) + ".." + day(c.To)
}
