package engine_test

import (
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/counts"
	"shopfloat/internal/texts"
	"shopfloat/internal/wording"
)

func TestLettersAndWords(t *testing.T) {
	for in, want := range map[string]string{"über": "Über", "20s": "20s", "a": "A", "": ""} {
		if got := texts.Upper(in); got != want && in != "" {
			t.Errorf("%q begins as %q", in, got)
		}
	}
	if got := chat.Lines("a", "", "b"); got.Text != "a\nb" || got.Fixed {
		t.Errorf("lines %+v", got)
	}
	for in, want := range map[string]bool{"20x5 eur": true, "20x5": false, "1b 37 ab": false, "äöü": true,
		"": false} {
		if wording.Wordy(in) != want {
			t.Errorf("%q has words: %t", in, !want)
		}
	}
	for in, want := range map[string]bool{"40": true, "0": true, "": false, "4 0": false, "-4": false,
		"4x": false} {
		if counts.Digits(in) != want {
			t.Errorf("%q is a number: %t", in, !want)
		}
	}
	if texts.Either(true, "a", "b") != "a" || texts.Either(false, "a", "b") != "b" {
		t.Error("one is taken for the other")
	}
	if texts.Fold("  Ab C ") != "ab c" {
		t.Errorf("folded to %q", texts.Fold("  Ab C "))
	}
}
