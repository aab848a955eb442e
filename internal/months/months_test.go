package months_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"shopfloat/internal/books"
	"shopfloat/internal/checks"
	"shopfloat/internal/months"
	"shopfloat/internal/shop"
)

// figure is what a day comes to; entries of these tests have it as their period.
type figure struct {
	day   shop.Date
	value int64
}

func book(entries []books.Entry, list []months.Month) *months.Book[*figure] {
	return &months.Book[*figure]{Entries: entries, Months: list, Local: shop.DateOf,
		Date: func(f *figure) shop.Date { return f.day },
		Days: func(entries []books.Entry, from, to shop.Date) (all []*figure) {
			sum := map[shop.Date]int64{}
			for _, e := range entries {
				if (from == "" || e.Day >= from) && (to == "" || e.Day <= to) {
					sum[e.Day] += e.Period
				}
			}
			for _, day := range slices.Sorted(maps.Keys(sum)) {
				all = append(all, &figure{day, sum[day]})
			}
			return all
		},
		Less: func(now, was *figure) (*figure, bool) {
			d := &figure{}
			if was != nil {
				d.day, d.value = was.day, -was.value
			}
			if now != nil {
				d.day, d.value = now.day, d.value+now.value
			}
			return d, d.value != 0
		}}
}

func entry(seq int64, recorded string, day shop.Date, value int64) books.Entry {
	at, err := time.Parse(time.DateOnly, recorded)
	if err != nil {
		panic(err) // the test is written wrongly
	}
	return books.Entry{Seq: seq, Recorded: at.Add(12 * time.Hour), Record: books.Record{Day: day, Period: value}}
}

func words(list []*figure) string {
	var all []string
	for _, f := range list {
		all = append(all, fmt.Sprint(f.day[5:], " ", f.value))
	}
	return strings.Join(all, ", ")
}

// By hand: November is finished after the third record. The fourth, of December, is
// for 14 November; the fifth takes 5 off it again in January.
func TestBetween(t *testing.T) {
	b := book([]books.Entry{
		entry(1, "2026-11-14", "2026-11-14", 40), entry(2, "2026-11-15", "2026-11-15", 50),
		entry(3, "2026-12-02", "2026-12-02", 60), entry(4, "2026-12-03", "2026-11-14", 7),
		entry(5, "2027-01-04", "2026-11-14", -5), entry(6, "2027-01-04", "2027-01-04", 1),
	}, months.Of([]shop.Finished{{Month: "2026-11", Upto: map[shop.MachineID]int64{1: 3}}}, 1))
	for span, want := range map[[2]shop.Date]string{
		{"2026-11-01", "2026-11-30"}: "11-14 40, 11-15 50; ",
		{"2026-11-15", "2026-11-15"}: "11-15 50; ",
		{"2026-12-01", "2026-12-31"}: "12-02 60; 11-14 7",
		{"2027-01-01", "2027-01-31"}: "01-04 1; 11-14 -5",
		{"2026-12-01", "2027-01-31"}: "12-02 60, 01-04 1; 11-14 2",
		{"", ""}:                     "11-14 40, 11-15 50, 12-02 60, 01-04 1; 11-14 2",
		{"2027-02-01", ""}:           "; ",
	} {
		days, late := b.Between(span[0], span[1])
		if got := words(days) + "; " + words(late); got != want {
			t.Errorf("%s to %s: %s, want %s", span[0], span[1], got, want)
		}
	}
}

// Whatever is recorded when for which day, and whichever months are finished when:
// the spans together come to what they come to where none is finished.
func TestSpansAddUp(t *testing.T) {
	checks.Rapid(t, 300, 3_000, 300_000, func(r *rapid.T) {
		var entries []books.Entry
		recorded := shop.Date("2026-01-01")
		sum := int64(0)
		for seq := range int64(rapid.IntRange(1, 20).Draw(r, "records")) {
			recorded = recorded.Add(rapid.IntRange(0, 20).Draw(r, "days"))
			value := rapid.Int64Range(-50, 50).Draw(r, "value")
			entries = append(entries, entry(seq+1, string(recorded),
				recorded.Add(-rapid.IntRange(0, 90).Draw(r, "late")), value))
			sum += value
		}
		var list []shop.Finished
		for i := range 15 {
			if rapid.Bool().Draw(r, "finished") {
				month := time.Date(2025, time.Month(10+i), 1, 0, 0, 0, 0, time.UTC)
				list = append(list, shop.Finished{Month: month.Format("2006-01"), Upto: map[shop.MachineID]int64{
					1: rapid.Int64Range(0, int64(len(entries))).Draw(r, "upto")}})
			}
		}
		b := book(entries, months.Of(list, 1))
		got := int64(0)
		for i := range 36 {
			first := time.Date(2025, time.Month(1+i), 1, 0, 0, 0, 0, time.UTC)
			days, late := b.Between(shop.DateOf(first), shop.DateOf(first.AddDate(0, 1, -1)))
			for _, f := range append(days, late...) {
				got += f.value
			}
		}
		if got != sum {
			r.Fatalf("all months come to %d, want %d", got, sum)
		}
	})
}
