package cashmath_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/checks"
)

// Worked pairs of R. B. Kester, Accounting Theory and Practice, vol. 1 (public
// domain), pages 87-89: the difference, its divisor and the quotient.
func TestRuleOfNineAgainstKester(t *testing.T) {
	hundredth := decimal.New(1, -2)
	cents := func(text string) int64 { return amount(t, text).Div(hundredth).IntPart() }
	columns := map[string]int{"one column": 1, "two columns": 2, "three columns": 3}
	for _, row := range readTable(t, "bookkeeping_transposition_slide.csv") {
		correct, written := cents(row["correct"]), cents(row["written"])
		difference, divisor := correct-written, number(t, row["divisor"])
		if difference != cents(row["difference"]) {
			t.Errorf("%s to %s differs by %d", row["correct"], row["written"], difference)
		}
		if got := cashmath.NinesDivisor(difference); got != divisor {
			t.Errorf("%s: divisor %d, want %d", row["difference"], got, divisor)
		}
		if difference/divisor != cents(row["quotient"]) {
			t.Errorf("%s / %d is not %s", row["difference"], divisor, row["quotient"])
		}
		kind, distance, _ := strings.Cut(row["kind"], " ")
		if kind == "transposition" {
			if got := cashmath.Transposition(written, correct); got != columns[distance] {
				t.Errorf("%s for %s: %d columns apart, want %s", row["written"], row["correct"], got, distance)
			}
		}
		if row["kind"] == "slide one column" && cashmath.Slide(written, correct) != cashmath.ZeroLost {
			t.Errorf("%s for %s is not seen as a slide", row["written"], row["correct"])
		}
	}
}

func TestNinesDivisor(t *testing.T) {
	for difference, want := range map[int64]int64{0: 0, 1: 0, 9: 9, -27: 9, 99: 99, -198: 99, 999: 999, 8: 0} {
		if got := cashmath.NinesDivisor(difference); got != want {
			t.Errorf("NinesDivisor(%d) = %d, want %d", difference, got, want)
		}
	}
}

// Rule of two, "How to Become a Lightning Calculator" (public domain): an item on the
// wrong side makes the difference twice the item.
func TestRuleOfTwo(t *testing.T) {
	checks.Rapid(t, 1000, 50_000, 5_000_000, func(t *rapid.T) {
		reversed := rapid.Int64Range(1, 500).Draw(t, "reversed")
		right := cashmath.Day{Loaded: notes{"20": 1000}, Reversed: notes{"20": reversed}}
		wrong := cashmath.Day{Loaded: notes{"20": 1000}, Dispensed: notes{"20": reversed}}
		difference := cashmath.Reconcile(right).Lines[0].Expected - cashmath.Reconcile(wrong).Lines[0].Expected
		if difference != 2*reversed {
			t.Fatalf("%d on the wrong side make a difference of %d", reversed, difference)
		}
	})
}

func TestTransposition(t *testing.T) {
	cases := []struct {
		written, correct int64
		want             int
	}{
		{510, 150, 1}, {105, 150, 1}, {51, 15, 1}, {501, 105, 2}, {150, 150, 0}, {15, 150, 0}, {155, 150, 0},
		{512, 125, 0}, {160, 151, 0}, {153, 150, 0}, {100, 1, 0}, {432, 423, 1}, {261, 150, 0}, {0, 0, 0},
		{12, 31, 0},
	}
	for _, c := range cases {
		if got := cashmath.Transposition(c.written, c.correct); got != c.want {
			t.Errorf("Transposition(%d, %d) = %d, want %d", c.written, c.correct, got, c.want)
		}
		if got := cashmath.Transposition(c.correct, c.written); got != c.want {
			t.Errorf("Transposition(%d, %d) = %d, want %d", c.correct, c.written, got, c.want)
		}
	}
}

func TestSlide(t *testing.T) {
	cases := []struct {
		written, correct int64
		want             cashmath.SlideKind
	}{
		{15, 150, cashmath.ZeroLost}, {1, 10, cashmath.ZeroLost}, {10, 100, cashmath.ZeroLost},
		{1500, 150, cashmath.ZeroAdded}, {105, 15, cashmath.ZeroAdded}, {30, 3, cashmath.ZeroAdded},
		{10, 1, cashmath.ZeroAdded}, {10, 0, cashmath.NoSlide}, {100, 0, cashmath.NoSlide},
		{50, 150, cashmath.DigitDropped}, {10, 150, cashmath.DigitDropped}, {15, 155, cashmath.DigitDropped},
		{5, 105, cashmath.DigitDropped}, {15, 105, cashmath.DigitDropped},
		{1150, 150, cashmath.DigitDoubled}, {1550, 150, cashmath.DigitDoubled}, {11, 1, cashmath.DigitDoubled},
		{1550, 155, cashmath.ZeroAdded}, {1555, 155, cashmath.DigitDoubled}, {150, 150, cashmath.NoSlide},
		{151, 150, cashmath.NoSlide}, {1250, 150, cashmath.NoSlide}, {0, 5, cashmath.NoSlide},
		{5, 0, cashmath.NoSlide}, {0, 0, cashmath.NoSlide}, {150, 50, cashmath.NoSlide},
		{151, 15, cashmath.NoSlide}, {1500, 15, cashmath.NoSlide},
	}
	for _, c := range cases {
		if got := cashmath.Slide(c.written, c.correct); got != c.want {
			t.Errorf("Slide(%d, %d) = %d, want %d", c.written, c.correct, got, c.want)
		}
	}
}

// Every way of taking out, doubling or adding a zero to a digit of the text is
// recognised, however long the figure.
func TestSlideRecognisesEveryEdit(t *testing.T) {
	parse := func(t *rapid.T, text string) int64 {
		n, err := strconv.ParseInt(text, 10, 64)
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	checks.Rapid(t, 1000, 50_000, 5_000_000, func(t *rapid.T) {
		correct := rapid.Int64Range(10, 1_000_000).Draw(t, "correct")
		text := strconv.FormatInt(correct, 10)
		at := rapid.IntRange(0, len(text)-1).Draw(t, "at")
		edits := map[string]string{
			"dropped": text[:at] + text[at+1:],
			"doubled": text[:at+1] + text[at:],
			"zero":    text[:at+1] + "0" + text[at+1:],
		}
		for name, edit := range edits {
			if written := parse(t, edit); cashmath.Slide(written, correct) == cashmath.NoSlide {
				t.Fatalf("%s: %d for %d is not recognised", name, written, correct)
			}
		}
	})
}

// slideByText is Slide on the digits as they are written: what stands there with one
// taken out, or what should stand there with one taken out.
func slideByText(written, correct string) cashmath.SlideKind {
	without := func(text string, i int) string {
		if left := strings.TrimLeft(text[:i]+text[i+1:], "0"); left != "" {
			return left
		}
		return "0"
	}
	if correct == written+"0" {
		return cashmath.ZeroLost
	}
	for i := range correct {
		if len(correct) > 1 && without(correct, i) == written {
			return cashmath.DigitDropped
		}
	}
	for i := range written {
		switch {
		case len(written) == 1 || without(written, i) != correct:
		case written[i] == '0':
			return cashmath.ZeroAdded
		case i > 0 && written[i-1] == written[i]:
			return cashmath.DigitDoubled
		}
	}
	return cashmath.NoSlide
}

// transposedByText is Transposition on the digits as they are written: every two of
// them exchanged in turn.
func transposedByText(written, correct string) int {
	for i := range correct {
		for j := i + 1; j < len(correct); j++ {
			text := []byte(correct)
			text[i], text[j] = text[j], text[i]
			if correct[i] != correct[j] && string(text) == written {
				return j - i
			}
		}
	}
	return 0
}

// All pairs of figures up to 1,100 are judged as their digits are.
func TestDigitsAgainstText(t *testing.T) {
	seen := map[string]int{}
	for correct := range int64(1100) {
		c := strconv.FormatInt(correct, 10)
		for written := range int64(1100) {
			w := strconv.FormatInt(written, 10)
			slide, columns := cashmath.Slide(written, correct), cashmath.Transposition(written, correct)
			if want := slideByText(w, c); slide != want {
				t.Fatalf("Slide(%d, %d) = %d, want %d", written, correct, slide, want)
			}
			if want := transposedByText(w, c); columns != want {
				t.Fatalf("Transposition(%d, %d) = %d, want %d", written, correct, columns, want)
			}
			seen["slide "+strconv.Itoa(int(slide))]++
			seen["columns "+strconv.Itoa(columns)]++
		}
	}
	if len(seen) != 5+3 { // no slide and four kinds of it; none, one or two columns
		t.Errorf("pairs of each kind: %v", seen)
	}
}
