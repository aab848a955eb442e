package counts_test

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"shopfloat/internal/checks"
	"shopfloat/internal/counts"
)

// A list as people type one: numbered, with dashes, with dots, with names, one row a box.
func TestRowsOfAList(t *testing.T) {
	for _, row := range []string{
		"POS. N", "POS) N", "POS: N", "#POS N", "box POS N", "- N", "• N", "N",
		"NAME N", "NAME: N", "- NAME N", "- NAME: N", "• NAME - N", "* NAME N",
		"NAME\nN", "(NAME) N", "N NAME", "- N NAME", "N (NAME)",
		"[NAME] = N", "NAME → N", "NAME | N", "N.", "N,", "NAME N notes;",
	} {
		var rows []string
		for i, name := range []string{"top", "middle", "bottom"} {
			write := strings.NewReplacer("POS", strconv.Itoa(i+1), "NAME", name, "N", strconv.Itoa(31+i))
			rows = append(rows, write.Replace(row))
		}
		for _, end := range []string{"\n", "\r\n", "\n\n", " \n"} {
			text := strings.Join(rows, end)
			if got := show(counts.Parse(text, shop())); got != "0=31 1=32 2=33" {
				t.Errorf("%q is read as %q", text, got)
			}
		}
	}
}

// A total stands before or behind the counts and is none of them.
func TestTotals(t *testing.T) {
	for _, total := range []string{
		"total 7000", "total: 7000", "total of 7,000", "total = €7000", "TOTAL 7.000,00", "sum 7000 €",
		"total is 7000", "grand total: 7'000", "€7000 total", "€7000 in total", "total EUR 7000",
	} {
		for _, text := range []string{total + "\n20s 31, top 32", "20s 31, top 32; " + total} {
			if got := show(counts.Parse(text, shop())); got != "0=32 1=31 total 7000" {
				t.Errorf("%q is read as %q", text, got)
			}
		}
		printed := shop()
		printed.Values = true
		if got := show(counts.Parse(total, printed)); got != "total 7000" {
			t.Errorf("alone, %q is read as %q", total, got)
		}
	}
	runCases(t, shop(), []parseCase{
		{"total", "unreadable prose"}, {"20s 31 total", "1=31"},
		{"total total 7000", "total 7000 total only"},
		{"total 5, total 6", "total 6 total only"}, {"total -5", "negative"}, {"total £5", "other currency"},
		{"total 1,2,3", "unreadable"}, {"total forty", "total 40 total only"},
		{"40 150 200 7000 total", "too many"}, {"40 150 200, €7000 total", "0=40 1=150 2=200 total 7000"},
	})
}

// Words of no count language, of which none begins like a box of shop.
var otherWords = []string{
	"machine", "stuck", "what", "why", "queue", "ripped", "jammed", "where", "help", "screen", "door",
	"Karte", "ça", "не", "שלום", "貨", "bank", "called", "yesterday", "don't", "cannot", "light",
}

// A number among words is no count, however many of both there are; what names its line stays if it outweighs
// the words.
func TestNumbersAmongWords(t *testing.T) {
	checks.Rapid(t, 50, 200, 5_000, func(t *rapid.T) {
		word := rapid.SampledFrom(otherWords)
		number := rapid.Map(rapid.IntRange(0, 9999), func(n int) string { return fmt.Sprint(n) })
		words := rapid.SliceOfN(word, 1, 8).Draw(t, "words")
		at := rapid.IntRange(0, len(words)).Draw(t, "at")
		text := strings.Join(slices.Insert(slices.Clone(words), at, number.Draw(t, "number")), " ")
		res := counts.Parse(text, shop())
		if !res.Prose || len(res.Items) > 0 || res.Problem.Code != counts.Unreadable {
			t.Fatalf("%q is read as %s", text, show(res))
		}
		first := strings.Split(words[0], "'")[0]
		if near := res.Problem.Near; !strings.HasPrefix(near, first) && !strings.HasPrefix(first, near) {
			t.Fatalf("%q: the first word not understood is %q", text, near)
		}
		text = "20s 31, top 32, 10s 33\n" + words[0]
		if got := show(counts.Parse(text, shop())); got != "0=32 1=31 2=33 unreadable" {
			t.Fatalf("%q is read as %q", text, got)
		}
	})
}

// The order of the boxes in the question does not matter to counts that name them.
func TestOrderOfLines(t *testing.T) {
	texts := []string{
		"top 31 middle 32 bottom 33", "50s 31, 20s 32, 10s 33", "31x50 32x20 33x10", "50: 31\n20: 32\n10: 33",
		"31 fifties, 32 twenties and 33 tens", "€1550 in 50s, €640 in 20s, €330 in 10s",
	}
	checks.Rapid(t, 50, 200, 5_000, func(t *rapid.T) {
		req := shop()
		req.Lines = rapid.Permutation(req.Lines).Draw(t, "lines")
		req.Next = rapid.IntRange(0, 2).Draw(t, "next")
		text := rapid.SampledFrom(texts).Draw(t, "text")
		res := counts.Parse(text, req)
		if res.Problem != nil || len(res.Items) != 3 {
			t.Fatalf("%q: %s", text, show(res))
		}
		want := map[string]int64{"50": 31, "20": 32, "10": 33}
		for _, item := range res.Items {
			if face := req.Lines[item.Line].Face; item.Notes != want[face] {
				t.Fatalf("%q: %d notes of %s", text, item.Notes, face)
			}
		}
	})
}
