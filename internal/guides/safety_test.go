package guides_test

import (
	"regexp"
	"strings"
	"testing"

	"shopfloat/internal/guides"
)

func firstView(t *testing.T, id string, set guides.Settings) guides.View {
	t.Helper()
	lib := builtin(t)
	run, err := lib.Start(id)
	if err != nil {
		t.Fatal(err)
	}
	v, err := lib.View(run, set)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// 112 in every member state of the Union: Directive (EU) 2018/1972, article
// 109. 999, 911, 111 and 000 are the numbers public advice for shops in these
// countries names (Cheshire Police; OSHA 3153; New Zealand Police; Queensland
// Police).
func TestEmergencyNumbers(t *testing.T) {
	for country, want := range map[string]string{
		"GB": "999", "US": "911", "CA": "911", "NZ": "111", "AU": "000",
		"DE": "112", "IE": "112", "FR": "112", "PL": "112", "SE": "112", "BG": "112",
		"": "your country's emergency number", "NG": "your country's emergency number",
		"JP": "110 (police) or 119 (fire, ambulance)", "CH": "112",
		"gb": "your country's emergency number",
	} {
		if got := guides.EmergencyNumber(country); got != want {
			t.Errorf("%q: got %s, want %s", country, got, want)
		}
	}
}

// During a robbery the number stands there and nothing is asked: one button,
// for afterwards. (Cheshire Police and New Zealand Police: do as told, no
// heroics, no chase.)
func TestRobberyAsksNothing(t *testing.T) {
	v := firstView(t, "robbery", guides.Settings{Country: "AU"})
	all := strings.Join(v.Cautions, " ") + " " + v.Text
	if !strings.Contains(all, "000") || strings.Contains(all, "?") || len(v.Choices) != 1 {
		t.Errorf("got %+v", v)
	}
	for _, want := range []string{"Do as told", "no chase"} {
		if !strings.Contains(all, want) {
			t.Errorf("does not say %q: %s", want, all)
		}
	}
}

// What to do with a suspect note differs: hand it back if at risk in the
// United Kingdom (Bank of England advice, bira.co.uk 2021), never return it in
// the United States (Secret Service advice), police or national central bank
// in the euro area (National Bank of Belgium). Elsewhere there is no rule.
func TestSuspectNoteFollowsTheCountry(t *testing.T) {
	for country, want := range map[string]string{
		"GB": "United Kingdom: you may refuse it or hand it back",
		"US": "United States: do not give it back",
		"BE": "Euro area: do not accept it",
		"SE": "For your country I have no rule",
		"":   "For your country I have no rule",
	} {
		set := guides.Settings{Country: country}
		lib := builtin(t)
		run, _ := lib.Start("suspect-note")
		run, err := lib.Choose(run, set, 0)
		if err != nil {
			t.Fatal(err)
		}
		if v, err := lib.View(run, set); err != nil || !strings.HasPrefix(v.Text, want) {
			t.Errorf("%q: got %q, %v", country, v.Text, err)
		}
	}
}

// More than half of a note: Decision ECB/2013/10 article 3 for the euro, the
// Bureau of Engraving and Printing's "clearly more than 50 %" for the dollar.
func TestDamagedNoteFollowsTheCountry(t *testing.T) {
	g, _ := builtin(t).Guide("damaged-note")
	whole := g.Whole(guides.Settings{})
	for _, want := range []string{
		"(euro) Euro area: a national central bank exchanges it when more than half is presented.",
		"(US) United States: it is redeemed when clearly more than half remains.",
		"only the victim may exchange them, with a written explanation.",
		"(all others) I have no rule for your country: ask your bank or central bank.",
	} {
		if !strings.Contains(whole, want) {
			t.Errorf("does not say %q", want)
		}
	}
}

// Forcing, codes in the chat, the mains and promises of money hurt people.
func TestGuidesKeepTheRules(t *testing.T) {
	lib := builtin(t)
	for id, wants := range map[string][]string{
		"note-jam":       {"Never pull hard", "Nothing behind a screw", "Nobody types"},
		"safe-lock":      {"Never force the handle", "Nobody types codes here, not even to me", "card"},
		"power":          {"Never open a cover", "everybody out", "must not be switched on again"},
		"tampering":      {"do not touch the machine, and take nothing off", "Keep people away"},
		"restart":        {"Do not switch off in between", "10 minutes"},
		"customer-claim": {"Never the card number, never the code"},
		"credit-missing": {"never from a message that reached you"},
		"overnight":      {"insurer"},
	} {
		g, _ := lib.Guide(id)
		whole := g.Whole(guides.Settings{})
		for _, want := range wants {
			if !strings.Contains(whole, want) {
				t.Errorf("%s does not say %q", id, want)
			}
		}
	}
}

// Guides name no number to ring but through the shop's settings, and no long
// row of digits that could be a code.
func TestGuidesHoldNoNumbersToRing(t *testing.T) {
	digits := regexp.MustCompile(`\d{5,}|\b(999|911|112)\b`)
	for _, id := range every(builtin(t)) {
		g, _ := builtin(t).Guide(id)
		if found := digits.FindString(g.Whole(guides.Settings{})); found != "" {
			t.Errorf("%s: %q", id, found)
		}
	}
}

func TestRestartMinutesAreTheShops(t *testing.T) {
	lib := builtin(t)
	g, _ := lib.Guide("restart")
	if whole := g.Whole(guides.Settings{RestartMinutes: 17}); !strings.Contains(whole, "about 17 minutes") {
		t.Errorf("not 17 minutes:\n%s", whole)
	}
}
