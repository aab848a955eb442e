package founding_test

import (
	"fmt"
	"strings"
	"testing"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/founding"
	"shopfloat/internal/shop"
)

// Sums of money as people write them.
func TestReadLimit(t *testing.T) {
	for _, c := range []struct{ currency, typed, want string }{
		{"GBP", "£40k", "40000"}, {"GBP", "40k", "40000"}, {"GBP", "40 thousand", "40000"},
		{"GBP", "40K £", "40000"},
		{"EUR", "40.000", "40000"}, {"EUR", "2,5k", "2500"},
		{"EUR", "40 thousand EUR", "40000"}, {"EUR", "40k eur", "40000"},
		{"JPY", "¥4000k", "4000000"}, {"EUR", "12.345,50", "12345.5"}, {"EUR", "k", "0"}, {"EUR", "lots", "0"},
		{"EUR", "0", "0"}, {"EUR", "-4k", "0"}, {"EUR", "40 million", "0"}, {"EUR", "40kk", "0"},
	} {
		d := founding.Answers{Currency: &c.currency}
		got, problem := d.ReadLimit(teller(t), c.typed)
		if got.String() != c.want || (problem == "") != (c.want != "0") {
			t.Errorf("%s %q: %s %q, want %s", c.currency, c.typed, got, problem, c.want)
		}
	}
}

// Examples are in the money of the draft and, once its boxes are known, for so many.
func TestExamples(t *testing.T) {
	for _, c := range []struct {
		currency string
		boxes    []cashmath.Face
		want     string
	}{
		{"JPY", nil, "[eg-kinds 10000 1000 eg-sizes 2000 eg-limit 8000000]"},
		{"EUR", []cashmath.Face{"50", "20", "10"}, "[eg-kinds 50 20 10 eg-sizes 2000 2000 1500 eg-limit 40000]"},
		{"GBP", []cashmath.Face{"20", "20"}, "[eg-kinds 20 10 eg-sizes 2000 1500 eg-limit 16000]"},
		{"XOF", nil, "[eg-kinds 50 20 10 eg-sizes 2000 eg-limit 40000]"}, // nothing is known
	} {
		d := founding.Answers{Currency: &c.currency}
		if c.boxes != nil {
			d.Boxes = &c.boxes
		}
		if got := fmt.Sprint(d.Examples()); got != c.want {
			t.Errorf("%s: %s, want %s", c.currency, got, c.want)
		}
	}
}

// Of each country whose money has usual kinds these are what is offered, and none of them is doubted.
func TestOfferedBoxes(t *testing.T) {
	for _, c := range shop.Countries() {
		d := founding.Answers{Currency: &c.Currency}
		if len(d.OfferedBoxes()) == 0 {
			t.Errorf("%s: nothing is offered in %s", c.Name, c.Currency)
		}
		for _, kinds := range d.OfferedBoxes() {
			if doubt := d.DoubtBoxes(teller(t), kinds); doubt != "" {
				t.Errorf("%s: %s", c.Name, doubt)
			}
		}
	}
}

// A country that is only nearly named is asked back, one that is not known in the program is told.
func TestReadCountry(t *testing.T) {
	var d founding.Answers
	if code, problem := d.ReadCountry(teller(t), "QQ"); code != "" || problem == "" {
		t.Errorf("QQ: %q %q", code, problem)
	}
	code, _ := d.ReadCountry(teller(t), "Polnad")
	if doubt := d.DoubtCountry(teller(t), code); code != "PL" || doubt != "Did you mean Poland?" {
		t.Errorf("%q %q", code, doubt)
	}
	code, _ = d.ReadCountry(teller(t), "Polska")
	if doubt := d.DoubtCountry(teller(t), code); code != "PL" || doubt != "" {
		t.Errorf("%q %q", code, doubt)
	}
	for code, known := range map[string]bool{"PL": true, "PY": false} {
		d.Country = &code
		if said := d.LittleKnown(teller(t)); (said == "") != known {
			t.Errorf("%s: %q", code, said)
		}
	}
}

// The kinds of the boxes and numbers for each of them, as people say them. What names no kind or
// leaves a box out is asked again; so is what says where a kind lies, since the first is the top one.
func TestReadBoxesAsSaid(t *testing.T) {
	aud := "AUD"
	for typed, want := range map[string]string{
		"50 20": "[50 20]", "50s, 20s": "[50 20]", "$50 and $20": "[50 20]", "fifties and twenties": "[50 20]",
		"50 then 20 notes": "[50 20]", "Tens & fivers": "[10 5]", "twenties below, fifties on top": "[]",
		"the usual": "[]", "and": "[]",
	} {
		d := founding.Answers{Currency: &aud}
		faces, problem := d.ReadBoxes(teller(t), typed)
		if fmt.Sprint(faces) != want || (problem == "") != (want != "[]") {
			t.Errorf("%q: %v %q, want %s", typed, faces, problem, want)
		}
	}
	boxes, room := []cashmath.Face{"50", "20"}, []int64{2000, 2000}
	d := founding.Answers{Currency: &aud, Boxes: &boxes, Capacity: &room}
	for typed, want := range map[string]string{
		"10 30": "[10 30]", "10 and 30": "[10 30]", "10 in each": "[10 10]", "bottom 30 top 10": "[10 30]",
		"50s 10, 20s 30": "[10 30]", "ten and thirty": "[10 30]", "25": "[25 25]", "about 10": "", "top 10": "",
		"$500 and $600": "", "1 2 3": "", "2000 10": "", "total 40": "", "no idea": "",
	} {
		list, problem := d.ReadLow(teller(t), typed)
		if (problem == "") != (want != "") || want != "" && fmt.Sprint(list) != want {
			t.Errorf("%q: %v %q, want %s", typed, list, problem, want)
		}
	}
}

// A part of a country that is typed for the country answers the question for the part; the name of
// the whole, its short form or its letters never do: Australia is not the Australian Capital Territory.
func TestTheWholeIsNoPart(t *testing.T) {
	part := func(typed string) (country, region string) {
		var d founding.Answers
		code, problem := d.ReadCountry(teller(t), typed)
		if problem != "" {
			t.Errorf("%q: %s", typed, problem)
		}
		d.Country = &code
		d.TakePart()
		return code, founding.Said(d.Region)
	}
	for typed, want := range map[string]string{"Scotland": "GB SCT", "england": "GB ENG"} {
		if code, region := part(typed); code+" "+region != want {
			t.Errorf("%q: %s %s, want %s", typed, code, region, want)
		}
	}
	for _, c := range shop.Countries() {
		for _, typed := range []string{c.Name, c.Code, strings.ToLower(c.Name)} {
			if code, region := part(typed); code != c.Code || region != "" {
				t.Errorf("%q: %s %q", typed, code, region)
			}
		}
	}
}
