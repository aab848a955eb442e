package choosing

import (
	"strings"
	"testing"

	"shopfloat/internal/guides"
)

// Steps of guides, by their choices.
const (
	lights = "Yes, steady|Blinking or red|No lights|I can't find it"
	note   = "A note came out|Nothing to see|It will not come|Something is fixed on it"
	stop   = "It is stopped|Smoke, smell or sparks"
	pays   = "It pays|It jams again|Another fault shows"
	alone  = "Counted|I am alone"
	found  = "Found them|Not there"
	yesNo  = "That was it|No"
	works  = "It worked|It failed again"
	back   = "It is back|Still no connection"
)

// chosen are answers to the choices of a step; an empty one may be several, or something else.
var chosen = []struct{ labels, text, want string }{
	{lights, "yes steady", "Yes, steady"},
	{lights, "yes, steady!", "Yes, steady"},
	{lights, "Yes", "Yes, steady"},
	{lights, "steady green", "Yes, steady"},
	{lights, "red", "Blinking or red"},
	{lights, "it is red", "Blinking or red"},
	{lights, "its blinking", "Blinking or red"},
	{lights, "one is blinking red.", "Blinking or red"},
	{lights, "not red", ""},
	{lights, "no lights at all", "No lights"},
	{lights, "there is no light", "No lights"},
	{lights, "i cant find it", "I can't find it"},
	{lights, "can't find that thing", "I can't find it"},
	{lights, "cannot find it sorry", "I can't find it"},
	{lights, "is the red one the router?", ""},
	{lights, "how long must i wait", ""},
	{lights, "my boss is on holiday until tuesday and nobody told me anything", ""},
	{note, "note came out", "A note came out"},
	{note, "nothing", "Nothing to see"},
	{note, "i see nothing", "Nothing to see"},
	{note, "it wont come out", "It will not come"},
	{note, "something is stuck on it", ""},
	{note, "there is something fixed on it", "Something is fixed on it"},
	{stop, "done", "It is stopped"},
	{stop, "yes its stopped", "It is stopped"},
	{stop, "ok done", "It is stopped"},
	{stop, "it smells", "Smoke, smell or sparks"},
	{pays, "it works now", "It pays"},
	{pays, "it pays again", "It pays"},
	{pays, "jammed again", "It jams again"},
	{alone, "done", "Counted"},
	{alone, "im alone", "I am alone"},
	{alone, "only me here", "I am alone"},
	{alone, "i counted", "Counted"},
	{found, "found it", "Found them"},
	{found, "no", "Not there"},
	{found, "they are not there", "Not there"},
	{yesNo, "no", "No"},
	{yesNo, "nope", "No"},
	{yesNo, "yes that was it", "That was it"},
	{works, "it works now", "It worked"},
	{works, "works", "It worked"},
	{works, "still not working", "It failed again"},
	{works, "didn't help", "It failed again"},
	{back, "it is back", "It is back"},
	{back, "still nothing", "Still no connection"},
	{back, "no", "Still no connection"},
	{"Written down", "ok", "Written down"},
	{"Written down", "written it down", "Written down"},
	{"Written down", "done", "Written down"},
	{"Go on|I am alone", "ok", "Go on"},
	{"Not due yet|It is overdue|I don't know", "no idea", "I don't know"},
	{"Not due yet|It is overdue|I don't know", "not sure", "I don't know"},
	{"Yes|No", "yes", "Yes"},
	{"Yes|No", "no.", "No"},
	{"It opened|Not yet, second try", "its open now", "It opened"},
	{"They said: do it now|They said: wait|Nobody answers", "they dont answer", "Nobody answers"},
	{"They said: do it now|They said: wait|Nobody answers", "nobody answers the phone", "Nobody answers"},
	{"They said: do it now|They said: wait|Nobody answers", "wait", "They said: wait"},
}

func TestChoose(t *testing.T) {
	for _, c := range chosen {
		labels := strings.Split(c.labels, "|")
		got := ""
		if i := Choose(c.text, labels); i >= 0 {
			got = labels[i]
		}
		if got != c.want {
			t.Errorf("%q of %s: %q, want %q", c.text, c.labels, got, c.want)
		}
	}
}

// Every choice of every guide is found by its own words, small and without signs.
func TestChooseOwnWords(t *testing.T) {
	lib, err := guides.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	tried := 0
	for _, id := range lib.IDs() {
		g, _ := lib.Guide(id)
		for _, step := range g.Steps {
			var labels []string
			for _, ch := range step.Choices {
				labels = append(labels, ch.Text)
			}
			for i, l := range labels {
				tried++
				typed := strings.ToLower(strings.NewReplacer(",", "", "'", "", ".", "", ":", "").Replace(l))
				if got := Choose(typed, labels); got != i {
					t.Errorf("%s: %q is choice %d of %q", id, typed, got, labels)
				}
			}
		}
	}
	if tried < 200 {
		t.Errorf("only %d choices", tried)
	}
}

// What is named is a way to do a thing, in other words than its own; a mere no names none of them.
func TestNamed(t *testing.T) {
	night := []string{"Emptied, safe locked", "Emptied, safe left open", "Notes stay in"}
	slip := []string{"Each slip by itself", "Several in one sum", "I don't know yet"}
	second := []string{"No, one is enough", "Yes, two persons"}
	for _, x := range []struct {
		labels []string
		said   string
		want   int
	}{
		{night, "they stay inside", 2}, {night, "we empty it and lock the safe", 0}, {night, "locked", 0},
		{night, "the safe stays open?", -1}, {night, "no", -1}, {night, "done", -1}, {night, "emptied", -1},
		{slip, "no idea", 2}, {slip, "no", -1}, {slip, "we do not have one", -1}, {slip, "", -1},
		{second, "no, one only", 0}, {second, "yes please", 1}, {second, "two persons", 1},
	} {
		if got := Named(x.said, x.labels); got != x.want {
			t.Errorf("%q of %q: %d, want %d", x.said, x.labels, got, x.want)
		}
	}
}
