package counts_test

import (
	"strings"
	"testing"

	"shopfloat/internal/counts"
)

// What a problem says beside its code: the piece, the kind of note, the line, the amount, the numbers.
func TestProblems(t *testing.T) {
	for text, want := range map[string]counts.Problem{
		"": {Code: counts.Empty, Line: -1},

		strings.Repeat("7", 501): {Code: counts.TooLong, Near: strings.Repeat("7", 20), Line: -1},

		"12k":               {Code: counts.Unreadable, Near: "12k", Face: "50"},
		"€3k":               {Code: counts.Unreadable, Near: "€3k", Face: "50"},
		"€3k in 20s":        {Code: counts.Unreadable, Near: "€3k in 20s", Face: "20", Line: 1},
		"20s 150 botom":     {Code: counts.Unreadable, Near: "botom", Line: -1},
		"the queue is long": {Code: counts.Unreadable, Near: "queue", Line: -1},

		"please put it in": {Code: counts.Unreadable, Near: "please put it in", Line: -1},

		"all 100":      {Code: counts.Unreadable, Near: "100", Line: -1},
		"20s 12345678": {Code: counts.TooBig, Near: "20s 12345678", Face: "20", Line: 1},
		"150 -5":       {Code: counts.Negative, Near: "-5", Face: "20", Line: 1},
		"40, 150.5":    {Code: counts.Fraction, Near: "150.5", Face: "20", Line: 1},
		"box 30s 5":    {Code: counts.UnknownFace, Near: "30s 5", Face: "30", Line: -1},
		"0.25x5":       {Code: counts.UnknownFace, Near: "0.25x5", Face: "0.25", Line: -1},
		"£3000 in 20s": {Code: counts.OtherCurrency, Near: "£3000 in 20s", Face: "20", Line: 1},
		"20 150":       {Code: counts.FaceOrNotes, Near: "20", Line: -1},
		"top 5, top 6": {Code: counts.Twice, Near: "top 6", Face: "50"},

		"€3010.50 in 20s": {
			Code: counts.NotWhole, Near: "€3010.50 in 20s", Face: "20", Line: 1, Value: "3010.5",
		},

		"€0 in 30s":      {Code: counts.UnknownFace, Near: "€0 in 30s", Face: "30", Line: -1},
		"10s, 40 50s":    {Code: counts.NoCount, Near: "10s", Face: "10", Line: 2},
		"1 2 3 4":        {Code: counts.TooMany, Near: "4", Line: -1, Want: 3, Got: 4},
		"bottom 1, 2":    {Code: counts.TooMany, Near: "2", Line: -1},
		"7,8,9,6,20x150": {Code: counts.TooMany, Near: "6", Line: -1},
		"20s 1 500":      {Code: counts.TooMany, Near: "20s 1 500", Face: "20", Line: 1},
		"1 500 twenties": {Code: counts.TooMany, Near: "1 500 twenties", Face: "20", Line: 1},
		"40 150":         {Code: counts.TooFew, Line: -1, Want: 3, Got: 2},
		"total 7,000.00": {Code: counts.TotalOnly, Near: "7,000.00", Line: -1, Value: "7000"},
		"total 0.505":    {Code: counts.Fraction, Near: "0.505", Line: -1},
		"total $5":       {Code: counts.OtherCurrency, Near: "$5", Line: -1},

		"größenunterschiedlichkeiten": {Code: counts.Unreadable, Near: "größenunterschiedlic", Line: -1},
	} {
		got := counts.Parse(text, shop()).Problem
		if got == nil || *got != want {
			t.Errorf("%q: %+v, want %+v", text, got, want)
		}
	}
}

// A line's own text of its face is given back where only the line is known.
func TestProblemOfOneFaceInTwoBoxes(t *testing.T) {
	req := counts.Request{Lines: []counts.Line{{Face: "20.00"}, {Face: "5"}, {Face: "20"}}}
	for text, want := range map[string]counts.Problem{
		"20s 150":        {Code: counts.AmbiguousFace, Near: "20s 150", Face: "20", Line: -1},
		"1x20 2x20 3x20": {Code: counts.Twice, Near: "1x20", Face: "20", Line: -1},
		"20s 2b":         {Code: counts.AmbiguousFace, Near: "20s 2b", Face: "20", Line: -1},
		"5s 2b":          {Code: counts.NoBundle, Near: "5s 2b", Face: "5", Line: 1},
		"2b":             {Code: counts.NoBundle, Near: "2b", Face: "20.00"},
	} {
		got := counts.Parse(text, req).Problem
		if got == nil || *got != want {
			t.Errorf("%q: %+v, want %+v", text, got, want)
		}
	}
}
