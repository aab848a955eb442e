package counts_test

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"shopfloat/internal/checks"
	"shopfloat/internal/counts"
)

// forms write one count of a line in a way that names the line.
var forms = []func(l counts.Line, n int64) string{
	func(l counts.Line, n int64) string { return fmt.Sprintf("%sx%d", l.Face, n) },
	func(l counts.Line, n int64) string { return fmt.Sprintf("%s × %d", l.Face, n) },
	func(l counts.Line, n int64) string { return fmt.Sprintf("%s: %d", l.Face, n) },
	func(l counts.Line, n int64) string { return fmt.Sprintf("%ss %d", l.Face, n) },
	func(l counts.Line, n int64) string { return fmt.Sprintf("%ss = %d notes", l.Face, n) },
	func(l counts.Line, n int64) string { return fmt.Sprintf("%d %ss", n, l.Face) },
	func(l counts.Line, n int64) string { return fmt.Sprintf("%d notes of €%s", n, l.Face) },
	func(l counts.Line, n int64) string { return fmt.Sprintf("%s %d", l.Name, n) },
	func(l counts.Line, n int64) string { return fmt.Sprintf("%d in the %s box", n, l.Name) },
	func(l counts.Line, n int64) string { return fmt.Sprintf("box %d: %d", l.Position, n) },
	func(l counts.Line, n int64) string { return fmt.Sprintf("%ss %db+%d", l.Face, n/l.Bundle, n%l.Bundle) },
	func(l counts.Line, n int64) string { return fmt.Sprintf("%s: %d+%d", l.Name, n/3, n-n/3) },
	func(l counts.Line, n int64) string { return fmt.Sprintf("%s - %s", l.Name, grouped(n, ",")) },
}

// grouped writes a number with a thousands sign.
func grouped(n int64, sign string) string {
	s := strconv.FormatInt(n, 10)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + sign + s[i:]
	}
	return s
}

// What a form writes for some of the lines, in any order and with any separator, is read back.
func TestFormsReadBack(t *testing.T) {
	checks.Rapid(t, 1000, 20_000, 2_000_000, func(t *rapid.T) {
		req := shop()
		order := rapid.Permutation([]int{0, 1, 2}).Draw(t, "order")
		order = order[:rapid.IntRange(1, 3).Draw(t, "lines")]
		sep := rapid.SampledFrom([]string{", ", "; ", "\n", " and ", ". "}).Draw(t, "separator")
		want := map[int]int64{}
		var parts []string
		for _, line := range order {
			n := rapid.Int64Range(0, 5000).Draw(t, "notes")
			form := rapid.SampledFrom(forms).Draw(t, "form")
			want[line] = n
			parts = append(parts, form(req.Lines[line], n))
		}
		text := strings.Join(parts, sep)
		res := counts.Parse(text, req)
		if res.Problem != nil || res.Prose || len(res.Items) != len(want) {
			t.Fatalf("%q: %s", text, show(res))
		}
		for _, item := range res.Items {
			if item.Notes != want[item.Line] {
				t.Fatalf("%q: %s, want %v", text, show(res), want)
			}
		}
	})
}

// A whole line of counts is read back with every thousands sign and every script.
func TestWholeLineReadsBack(t *testing.T) {
	checks.Rapid(t, 1000, 20_000, 2_000_000, func(t *rapid.T) {
		sign := rapid.SampledFrom([]string{"", ",", ".", "'", "\u202f"}).Draw(t, "sign")
		sep := rapid.SampledFrom([]string{" ", ", ", "\n", "; ", " / "}).Draw(t, "separator")
		zero := rapid.SampledFrom([]rune("0٠۰०০０")).Draw(t, "zero")
		var want, parts []string
		for line := range 3 {
			n := rapid.Int64Range(0, 9999).Draw(t, "notes")
			want = append(want, fmt.Sprintf("%d=%d", line, n))
			parts = append(parts, grouped(n, sign))
		}
		text := inScript(strings.Join(parts, sep), zero)
		if got := show(counts.Parse(text, shop())); got != strings.Join(want, " ") {
			t.Fatalf("%q: %s, want %v", text, got, want)
		}
	})
}

func inScript(s string, zero rune) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return zero + r - '0'
		}
		return r
	}, s)
}

// A value is converted exactly or refused.
func TestValuesConvertOrAreRefused(t *testing.T) {
	checks.Rapid(t, 1000, 20_000, 2_000_000, func(t *rapid.T) {
		value := rapid.Int64Range(0, 50_000).Draw(t, "value")
		res := counts.Parse(fmt.Sprintf("€%d in 20s", value), shop())
		if value%20 == 0 {
			if len(res.Items) != 1 || res.Items[0].Notes != value/20 || !res.Items[0].FromValue {
				t.Fatalf("€%d: %s", value, show(res))
			}
			return
		}
		if len(res.Items) != 0 || res.Problem == nil || res.Problem.Code != counts.NotWhole {
			t.Fatalf("€%d: %s", value, show(res))
		}
	})
}

// Pieces of count language in any order never break what holds for every text.
func TestAnyPiecesHold(t *testing.T) {
	pieces := []string{
		"20", "150", "1,500", "40,150", "s", "x", ":", "=", "-", "+", ",", "\n", " ", " ", "€", "top",
		"box 2", "twenties",
		"one", "hundred", "b", "bundles", "and", "of", "none", "total", "all", "½", "/", "what", "%", "1)",
		".", "00", "$",
	}
	checks.Rapid(t, 1000, 20_000, 2_000_000, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 0, 30).Draw(t, "pieces"), "")
		req := shop()
		req.Next = rapid.IntRange(0, 3).Draw(t, "next")
		req.Values = rapid.Bool().Draw(t, "values")
		req.Lines[2].Face = rapid.SampledFrom([]string{"10", "20"}).Draw(t, "face")
		checkResult(t, text, req, counts.Parse(text, req))
	})
}

// joinings gives every way to make fewer numbers of those typed: a number of one to three figures that begins
// with no zero may go together with one of three figures behind it.
func joinings(typed []string) [][]string {
	if len(typed) == 0 {
		return [][]string{nil}
	}
	var ways [][]string
	for _, rest := range joinings(typed[1:]) {
		ways = append(ways, append([]string{typed[0]}, rest...))
	}
	if len(typed) > 1 && len(typed[0]) <= 3 && typed[0][0] != '0' && len(typed[1]) == 3 {
		for _, rest := range joinings(typed[2:]) {
			ways = append(ways, append([]string{typed[0] + typed[1]}, rest...))
		}
	}
	return ways
}

// Numbers parted by blanks fill the lines if they do so as they are, or in one way only. The model tries all.
func TestBlanksAgainstAllWays(t *testing.T) {
	checks.Rapid(t, 50, 200, 5_000, func(t *rapid.T) {
		boxes := rapid.IntRange(1, 4).Draw(t, "boxes")
		req := requestOf([]string{"10001", "10002", "10003", "10004"}[:boxes]...)
		number := rapid.OneOf(rapid.IntRange(1, 12), rapid.IntRange(100, 999), rapid.IntRange(100, 1200))
		var typed []string
		for _, n := range rapid.SliceOfN(number, 1, 7).Draw(t, "numbers") {
			typed = append(typed, strconv.Itoa(n))
		}
		var fit [][]string
		for _, way := range joinings(typed) {
			held := true
			for _, n := range way {
				held = held && len(n) <= 4
			}
			if len(way) == boxes && held {
				fit = append(fit, way)
			}
		}
		want := "too many"
		if len(typed) <= boxes {
			fit = [][]string{typed}
		}
		if len(fit) == 1 {
			var cells []string
			for line, n := range fit[0] {
				cells = append(cells, fmt.Sprintf("%d=%s", line, n))
			}
			want = strings.Join(cells, " ")
			if n := len(fit[0]); n > 1 && n < boxes {
				want += " too few"
			}
		}
		if got := show(counts.Parse(strings.Join(typed, " "), req)); got != want {
			t.Fatalf("%q for %d boxes is read as %q, want %q", typed, boxes, got, want)
		}
	})
}

// An amount is read back exactly however its thousands and its decimals are written, and refused when it is
// finer than the currency.
func TestAmountsReadBack(t *testing.T) {
	type signs struct{ thousands, point string }
	checks.Rapid(t, 50, 200, 5_000, func(t *rapid.T) {
		scale := rapid.IntRange(0, 3).Draw(t, "decimals")
		minor := rapid.IntRange(0, 3).Draw(t, "minor")
		whole := rapid.Int64Range(0, 999_999_999).Draw(t, "whole")
		fraction := rapid.Int64Range(0, []int64{0, 9, 99, 999}[scale]).Draw(t, "fraction")
		locales := []signs{{",", "."}, {".", ","}, {"'", "."}, {"\u202f", ","}, {"٬", "٫"}}
		s := rapid.SampledFrom(locales).Draw(t, "signs")
		text := grouped(whole, s.thousands)
		three := scale == 3 && whole > 0 && whole < 1000 && s.point != "٫"
		group := scale == 0 && whole >= 1000 && whole < 1_000_000 && s.thousands == "." && minor == 3
		if three || group {
			t.Skip("1.500: TestParseAmount says when that is thousands")
		}
		if scale > 0 {
			text += s.point + fmt.Sprintf("%0*d", scale, fraction)
		}
		currency := rapid.SampledFrom([]string{"%s", "€%s", "%s €", "EUR %s", "%s euro."}).Draw(t, "currency")
		got, code := counts.ParseAmount(fmt.Sprintf(currency, text), minor)
		if scale > minor {
			if code != counts.Fraction {
				t.Fatalf("%q with %d decimals: %q %v", text, minor, got, code)
			}
			return
		}
		want := decimal.NewFromInt(whole).Add(decimal.New(fraction, -int32(scale)))
		if code != counts.OK || got != want.String() {
			t.Fatalf("%q with %d decimals: %q %v, want %v", text, minor, got, code, want)
		}
	})
}

// Notes times the kind of note are the amount that was typed, to the last coin.
func TestNotesMakeTheAmount(t *testing.T) {
	checks.Rapid(t, 50, 200, 5_000, func(t *rapid.T) {
		face := rapid.SampledFrom([]string{"0.25", "0.5", "1", "2.5", "5", "20", "1000"}).Draw(t, "face")
		cents := rapid.Int64Range(0, 10_000_000).Draw(t, "cents")
		amount := decimal.New(cents, -2)
		res := counts.Parse("€"+amount.StringFixed(2), requestOf(face))
		notes := amount.Div(decimal.RequireFromString(face))
		if !notes.IsInteger() {
			if len(res.Items) > 0 || res.Problem == nil || res.Problem.Code != counts.NotWhole {
				t.Fatalf("%v in %s: %s", amount, face, show(res))
			}
			return
		}
		want := counts.Item{Notes: notes.IntPart(), FromValue: true, Value: amount.String()}
		if len(res.Items) != 1 || res.Items[0] != want {
			t.Fatalf("%v in %s: %s", amount, face, show(res))
		}
	})
}
