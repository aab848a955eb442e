package engine_test

import (
	"testing"

	"shopfloat/internal/dialogs/engine"
)

// Columns line up by letters, those of the left to the left, and no line ends
// in blanks.
func TestColumns(t *testing.T) {
	for _, x := range []struct {
		left int
		rows [][]string
		want string
	}{
		{1, [][]string{{"50s", "40", "€2,000"}, {"10s", "200", ""}, {"", "", "€7"}},
			"50s   40  €2,000\n10s  200\n              €7"},
		{2, [][]string{{"a", "bb", "c"}, {"aa", "b", "cc"}}, "a   bb   c\naa  b   cc"},
		{0, [][]string{{"é", "b"}, {"aa", "bb", "more"}}, " é   b\naa  bb  more"},
		{1, nil, ""},
	} {
		got := engine.Columns(x.left, x.rows)
		if got.Text != x.want || !got.Fixed {
			t.Errorf("%d to the left:\n%s\nwant\n%s", x.left, got.Text, x.want)
		}
	}
}

func TestLettersAndWords(t *testing.T) {
	for in, want := range map[string]string{"über": "Über", "20s": "20s", "a": "A", "": ""} {
		if got := engine.Upper(in); got != want && in != "" {
			t.Errorf("%q begins as %q", in, got)
		}
	}
	if got := engine.Text("a", "", "b"); got.Text != "a\nb" || got.Fixed {
		t.Errorf("lines %+v", got)
	}
	for in, want := range map[string]bool{"20x5 eur": true, "20x5": false, "1b 37 ab": false, "äöü": true,
		"": false} {
		if engine.Wordy(in) != want {
			t.Errorf("%q has words: %t", in, !want)
		}
	}
	for in, want := range map[string]bool{"40": true, "0": true, "": false, "4 0": false, "-4": false,
		"4x": false} {
		if engine.BareNumber(in) != want {
			t.Errorf("%q is a number: %t", in, !want)
		}
	}
	for in, want := range map[string]string{"12.50": "12.5", "x": "0", "": "0"} {
		if got := engine.AmountOf(in); got.String() != want {
			t.Errorf("%q is %s", in, got)
		}
	}
	if engine.Either(true, "a", "b") != "a" || engine.Either(false, "a", "b") != "b" {
		t.Error("one is taken for the other")
	}
	if engine.Fold("  Ab C ") != "ab c" {
		t.Errorf("folded to %q", engine.Fold("  Ab C "))
	}
}
