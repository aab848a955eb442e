package amends_test

import (
	"testing"

	"shopfloat/internal/amends"
)

func TestCut(t *testing.T) {
	for text, want := range map[string]string{
		"sorry, top is 140":                       "top is 140",
		"i mean 160":                              "160",
		"50s is 13 not 12":                        "50s is 13",
		"61 twenties not 60":                      "61 twenties",
		"61 twenties, instead of 60":              "61 twenties",
		"wait one of the 50s was 13":              "50s was 13",
		"wait, i made a mistake, twenties are 62": "twenties are 62",
		"i miscounted the twenties 62":            "the twenties 62",
		"change twenties to 62":                   "twenties 62",
		"20s should be 62":                        "20s 62",
		"150, sorry":                              "150",
	} {
		if got, amended := amends.Cut(text); got != want || !amended {
			t.Errorf("%q: %q, %t, want %q", text, got, amended, want)
		}
	}
	for _, text := range []string{"40 150 200", "no wait", "not 12", "2 to 3 notes", "waiting 12",
		"changed 40"} {
		if got, amended := amends.Cut(text); got != text || amended {
			t.Errorf("%q: %q, %t", text, got, amended)
		}
	}
}
