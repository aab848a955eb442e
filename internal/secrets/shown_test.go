package secrets_test

import (
	"testing"

	"shopfloat/internal/secrets"
)

// A code that the machine shows is told from a secret, a count and a number of a paper.
func TestShown(t *testing.T) {
	for text, want := range map[string]string{
		"screen shows code 4411": "4411", "error 4411 on the display": "4411", "the machine says code 4411": "4411",
		"fault code 4411 again": "4411", "it shows error 17": "17", "code 4411": "4411", "err 31": "31",
		"safe code 4411": "", "my code is 4411": "", "4411": "", "slip says code 91": "", "code 387105": "",
		"screen shows 30 120 100": "", "it shows code 1 and 2": "", "what does code 4411 mean": "", "": "",
		"code on the receipt 4411": "", "screen says out of paper": "", "the screen shows €4411": "",
	} {
		if got, ok := secrets.Shown(text); ok != (want != "") || ok && got != want {
			t.Errorf("%q: %q %v, want %q", text, got, ok, want)
		}
	}
}
