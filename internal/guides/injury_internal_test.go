package guides

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"shopfloat/internal/checks"
)

// Whatever an expression of an injury matches, the words that are looked for first let it through.
func TestHurtIsHinted(t *testing.T) {
	plainly := func(text string) bool {
		return slices.ContainsFunc(hurt, func(s signs) bool { return s.re.MatchString(text) })
	}
	matched := 0
	for _, s := range hurt {
		like := rapid.StringMatching(s.re.String())
		checks.Rapid(t, 100, 2_000, 50_000, func(rt *rapid.T) {
			text := like.Draw(rt, "text")
			for _, said := range []string{text, strings.ToUpper(text), strings.ToLower(text) + ", yes"} {
				want := plainly(said)
				if Injury(said) != want {
					rt.Errorf("%q: %v, want %v", said, !want, want)
				}
				if want {
					matched++
				}
			}
		})
	}
	if matched < 100 {
		t.Errorf("only %d of what was tried is an injury", matched)
	}
	for _, text := range []string{"\u017fhe is hurt", "he is bro\u212aen", "\u017feizure",
		"\u212anee cut"} {
		if Injury(text) != plainly(text) {
			t.Errorf("%q: %v", text, Injury(text))
		}
	}
}
