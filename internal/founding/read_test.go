package founding_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/founding"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

func teller(t *testing.T) *telling.Teller {
	t.Helper()
	return &telling.Teller{V: floor.Texts(t).In("en", "IE", "EUR")}
}

// Boxes are typed as people list them, with the mark of the currency or an s; a word that
// is no note is told back.
func TestBoxes(t *testing.T) {
	twelve := strings.Repeat("20 ", 12)
	for typed, want := range map[string]string{
		"50 20 10":       "50 20 10",
		"50, 20; 10":     "50 20 10",
		"50s,20s\n\t€10": "50 20 10",
		"20 20":          "20 20", // two boxes of one kind
		twelve:           strings.TrimSpace(twelve),
		twelve + "20":    "1 to 12 boxes",
		"":               "1 to 12 boxes",
		" , ":            "1 to 12 boxes",
		"50 twenty 10":   `could not read "twenty"`,
		"50 20 0":        `could not read "0"`,
	} {
		faces, problem := (&founding.Answers{}).ReadBoxes(teller(t), typed)
		words := []string{}
		for _, f := range faces {
			words = append(words, string(f))
		}
		if got := strings.Join(words, " "); problem == "" && got != want {
			t.Errorf("%q: %q, want %q", typed, got, want)
		} else if problem != "" && (!strings.Contains(problem, want) || faces != nil) {
			t.Errorf("%q: %q, want %q", typed, problem, want)
		}
	}
	if got := founding.Kinds(teller(t), []cashmath.Face{"50", "5"}); got != "50s, 5s" {
		t.Errorf("read back: %q", got)
	}
}

// One number is for all boxes, else there is one for each. "1,000 2,000" are two numbers
// and "100, 200" too, as people write them.
func TestNumbers(t *testing.T) {
	d := founding.Answers{Boxes: &[]cashmath.Face{"50", "20"}}
	for typed, want := range map[string]string{
		"2000":              "[2000 2000]",
		"2,000":             "[2000 2000]",
		"1,000 2,000":       "[1000 2000]",
		"100, 200":          "[100 200]",
		"100;200":           "[100 200]",
		"100 200 300":       "no",
		"":                  "no",
		"some":              "no",
		"100 more":          "no",
		"1.5":               "no",
		"0 100":             "no", // no box holds nothing
		"-1":                "no",
		"10000":             "[10000 10000]",
		"10001":             "no",
		"100 10001":         "no",
		"99999999999999999": "no",
	} {
		got := "no"
		if list, problem := d.ReadCapacity(teller(t), typed); problem == "" {
			got = fmt.Sprint(list)
		}
		if got != want {
			t.Errorf("%q: %s, want %s", typed, got, want)
		}
	}
	if founding.At([]int64{3}, 0) != 3 || founding.At([]int64{3}, 1) != 0 {
		t.Error("a number that was not given is 0")
	}
}

// Countries are taken by name or by the two letters of ISO 3166-1; a slip is asked back elsewhere.
func TestCountry(t *testing.T) {
	for typed, want := range map[string]string{
		"Ireland": "IE", "ireland ": "IE", "ie": "IE",
		"zz": "", " NZ ": "NZ",
		"Atlantis": "", "i1": "", "1e": "", "[]": "", "i[": "", "{a": "", "é": "", "": "", "I": "",
	} {
		got, problem := (&founding.Answers{}).ReadCountry(teller(t), typed)
		if got != want || (problem == "") != (want != "") {
			t.Errorf("%q: %q, %q", typed, got, problem)
		}
	}
	if founding.CountryName("IE") != "Ireland" || founding.CountryName("ZZ") != "ZZ" {
		t.Error("a country by its name, or by its letters")
	}
}

// A zone is one of the names of the IANA database; nothing else reaches the place where
// zones are read from.
func TestZone(t *testing.T) {
	for typed, want := range map[string]string{
		"Europe/Dublin": "Europe/Dublin", " Europe/Dublin ": "Europe/Dublin",
		"America/Argentina/Buenos_Aires": "America/Argentina/Buenos_Aires",
		"Dublin":                         "", "UTC": "", "Europe/Nowhere": "", "../Europe/Dublin": "",
		"Europe/../UTC": "", "/etc/hosts": "", "": "", "Europe/" + strings.Repeat("x", 40): "",
	} {
		got, problem := founding.Zone(teller(t), typed)
		if got != want || (problem == "") != (want != "") {
			t.Errorf("%q: %q, %q", typed, got, problem)
		}
	}
	for zone, city := range map[string]string{"Europe/Dublin": "Dublin", "America/New_York": "New York",
		"America/Argentina/Buenos_Aires": "Buenos Aires", "UTC": "UTC"} {
		if got := founding.ZoneCity(zone); got != city {
			t.Errorf("%s: %q", zone, got)
		}
	}
}

// A week is read back from Monday, days that are alike together.
func TestHours(t *testing.T) {
	day := shop.Hours{Open: 7 * 60, Close: 21 * 60}
	lunch := shop.Hours{Open: 9 * 60, Close: 18 * 60, PauseFrom: 13 * 60, PauseTo: 14*60 + 30}
	closed := shop.Hours{}
	for want, week := range map[string][7]shop.Hours{ // Sunday first
		"Mon-Sun 07:00-21:00":             {day, day, day, day, day, day, day},
		"Mon-Sat 07:00-21:00, Sun closed": {closed, day, day, day, day, day, day},
		"Mon closed, Tue-Fri 07:00-21:00, Sat 09:00-13:00, 14:30-18:00, Sun closed": {
			closed, closed, day, day, day, day, lunch},
		"Mon-Sun closed": {},
	} {
		if got := founding.Hours(teller(t), week); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// The first Saturday from each day of the week of Monday 23 November 2026 on.
func TestSaturday(t *testing.T) {
	for from, want := range map[shop.Date]shop.Date{"2026-11-23": "2026-11-28", "2026-11-27": "2026-11-28",
		"2026-11-28": "2026-11-28", "2026-11-29": "2026-12-05"} {
		if got := founding.Saturday(from); got != want {
			t.Errorf("%s: %s, want %s", from, got, want)
		}
	}
}

// A number may be said to be for each; words that say nothing of the kind are no number.
func TestInEach(t *testing.T) {
	d := &founding.Answers{Boxes: &[]cashmath.Face{"20", "10"}}
	for typed, want := range map[string]string{"2000 in each": "[2000 2000]", "1500 for all": "[1500 1500]",
		"100 notes": "[100 100]", "2000 1500": "[2000 1500]", "in each": "[]", "2000 in eachs": "[]"} {
		if list, _ := d.ReadCapacity(teller(t), typed); fmt.Sprint(list) != want {
			t.Errorf("%q: %v, want %s", typed, list, want)
		}
	}
}

// A part of a country that is typed for the country answers the question for the part, too.
func TestTakePart(t *testing.T) {
	for typed, want := range map[string]string{"scotland": "GB SCT", "UK": "GB -", "Wales": "GB WLS",
		"Ireland": "IE -"} {
		d := &founding.Answers{}
		code, _ := d.ReadCountry(teller(t), typed)
		d.Country = &code
		d.TakePart()
		part := "-"
		if d.Region != nil {
			part = *d.Region
		}
		if got := code + " " + part; got != want || d.Part != "" {
			t.Errorf("%q: %s %q, want %s", typed, got, d.Part, want)
		}
	}
}

// Days of every year on which a shop closes go with the hours they were said with: others that
// are chosen later have none.
func TestShutGoesWithItsHours(t *testing.T) {
	tell := teller(t)
	of, err := shop.New(1, 1, shop.Example())
	if err != nil {
		t.Fatal(err)
	}
	tell.F.Shop = of
	tell.Now = time.Date(2026, 11, 26, 9, 0, 0, 0, time.UTC)
	var d founding.Answers
	week, problem := d.ReadHours(tell, "mon-sat 9-18, except christmas day")
	if problem != "" {
		t.Fatal(problem)
	}
	shown := func(h [7]shop.Hours) (text string, kept int) {
		d.Hours = &h
		s := d.Over(shop.Example(), &shop.Machine{})
		return d.ShutOn(tell), len(s.Plan.Seasons) + len(s.Plan.Holidays)
	}
	if text, kept := shown(week); !strings.Contains(text, "25 Dec") || kept != 1 {
		t.Errorf("%q, %d kept", text, kept)
	}
	day := shop.Hours{Open: 480, Close: 1200}
	if text, kept := shown([7]shop.Hours{day, day, day, day, day, day, day}); text != "" || kept != 0 {
		t.Errorf("with other hours %q, %d kept", text, kept)
	}
	if text, kept := shown(week); text == "" || kept != 1 {
		t.Errorf("back again %q, %d kept", text, kept)
	}
}
