package lines

import (
	"slices"
	"strings"

	"shopfloat/internal/counts"
)

// partWordsMax is how many words a part has at most that may have been meant for a count.
const partWordsMax = 5

// Half reads a list of which some parts are counts and some are not: "150 and some, 200". Each
// part is for the line at its place, from Request.Next on. What is a count is an item; the first
// part that is none is the problem. A text that is no such list has no items.
func Half(text string, req counts.Request) counts.Result {
	parts := strings.FieldsFunc(counts.Fold(text), func(r rune) bool { return strings.ContainsRune(",;\n", r) })
	if len(parts) < 2 || req.Next < 0 || len(parts) > len(req.Lines)-req.Next {
		return counts.Result{}
	}
	var out counts.Result
	for i, part := range parts {
		words := strings.Fields(part)
		if len(words) > partWordsMax || !hasFigure(part) {
			return counts.Result{}
		}
		one := req
		one.Next = req.Next + i
		res := counts.Parse(strings.Join(words, " "), one)
		switch {
		case res.Problem == nil && res.Bare && len(res.Items) == 1:
			out.Items = append(out.Items, res.Items...)
		case len(words) == 1:
			return counts.Result{} // a figure that is no count is told by itself
		case out.Problem == nil:
			out.Problem = &counts.Problem{Code: counts.Unreadable, Near: strings.Join(words, " "), Line: -1}
		}
	}
	if out.Problem == nil {
		return counts.Result{}
	}
	return out
}

// Whole gives the counts of a text that has a number for each of several lines and nothing else:
// it names no kind of note and no box. Nil: it is none.
func Whole(text string, req counts.Request) []int64 {
	res := counts.Parse(text, req)
	if strings.Trim(counts.Fold(text), "0123456789 ,;/\n") != "" || res.Problem != nil ||
		len(req.Lines) < 2 || len(res.Items) != len(req.Lines) {
		return nil
	}
	return ByLine(len(req.Lines), res.Items)
}

// ByLine gives counts by line, of so many, -1 where there is none.
func ByLine(n int, items []counts.Item) []int64 {
	v := slices.Repeat([]int64{-1}, n)
	for _, it := range items {
		v[it.Line] = it.Notes
	}
	return v
}

// Unread reports whether counts stand beside a word that may change what they mean: "cancelled 1 twenty".
func Unread(res counts.Result) bool {
	return len(res.Items) > 0 && res.Problem != nil && res.Problem.Code == counts.Unreadable &&
		!hasFigure(res.Problem.Near)
}

// LoneMoney gives a figure that was written as an amount of money, alone.
func LoneMoney(res counts.Result) string {
	if len(res.Items) == 1 && res.Items[0].FromValue {
		return res.Items[0].Value
	}
	if res.Problem != nil && res.Problem.Code == counts.NotWhole {
		return res.Problem.Value
	}
	return ""
}

// Unfinished reports whether a kind of note was typed without its number: "20x".
func Unfinished(s string) bool {
	digits := strings.TrimRight(s, "x×* ")
	return digits != s && counts.Digits(digits)
}
