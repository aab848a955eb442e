package when

import "testing"

func TestSpokenHours(t *testing.T) {
	for said, want := range map[string]string{
		"nine to five thirty":                     "nine to 5:30",
		"seven-fifteen to eight forty five":       "7:15 to 8:45",
		"9 in the morning till 6 in the evening":  "9am till 6pm",
		"9 in morning to 8:30 at night":           "9am to 8:30pm",
		"8 in the morning to 2 in the night":      "8am to 2am",
		"noon to 12 at night":                     "noon to 12am",
		"from 18 in the evening":                  "from 18",
		"mon-fri 7-21":                            "mon-fri 7-21",
		"money on sunday nine to five forty-five": "money on sunday nine to 5:45",
	} {
		if got := spokenHours(said); got != want {
			t.Errorf("%q: %q, want %q", said, got, want)
		}
	}
}
