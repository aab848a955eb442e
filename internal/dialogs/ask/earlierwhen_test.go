package ask_test

import (
	"strings"
	"testing"
	"unicode"

	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/floor"
)

// 2026-11-26 is a Thursday.
func TestParseWhen(t *testing.T) {
	for _, x := range []struct{ now, typed, want string }{
		{"2026-11-26 09:00", "06:40", "2026-11-26 06:40"},
		{"2026-11-26 09:00", "18:30", "2026-11-25 18:30"},
		{"2026-11-26 09:00", "yesterday, 18:30", "2026-11-25 18:30"},
		{"2026-11-26 09:00", "Yesterday at 6.30 pm", "2026-11-25 18:30"},
		{"2026-11-26 09:00", "yesterday at 6:30 pm", "2026-11-25 18:30"},
		{"2026-11-26 09:00", "today 08:00", "2026-11-26 08:00"},
		{"2026-11-26 09:00", "24.11. 06:40", "2026-11-24 06:40"},
		{"2026-11-26 09:00", "24.11.2026 06:40", "2026-11-24 06:40"},
		{"2026-11-26 09:00", "24/11 06:40", "2026-11-24 06:40"},
		{"2026-11-26 09:00", "2026-11-24 06:40", "2026-11-24 06:40"},
		{"2026-11-26 09:00", "25 Nov 11:00", "2026-11-25 11:00"},
		{"2026-11-26 09:00", "25 Nov, 11:00", "2026-11-25 11:00"},
		{"2026-11-26 09:00", "Wed 25 Nov, 11:00", "2026-11-25 11:00"},
		{"2026-11-26 09:00", "Wed, 25th November 2026, 11:00", "2026-11-25 11:00"},
		{"2026-11-26 09:00", "November 25 at 2 pm", "2026-11-25 14:00"},
		{"2026-11-26 09:00", "wed 13:00", "2026-11-25 13:00"},
		{"2026-11-26 09:00", "thursday 08:00", "2026-11-26 08:00"},
		{"2026-11-26 09:00", "thursday 13:00", "2026-11-19 13:00"},
		{"2026-11-26 09:00", "26 Nov 14:00", "2026-11-26 14:00"}, // has not come yet: said, not guessed
		{"2026-11-26 09:00", "30.11. 08:00", "2026-11-30 08:00"},
		{"2027-01-02 09:00", "30 Dec 21:00", "2026-12-30 21:00"},
		{"2026-11-26 09:00", "30 Feb 11:00", ""},
		{"2026-11-26 09:00", "0 Nov 11:00", ""},
		{"2026-11-26 09:00", "25 Nov", ""},
		{"2026-11-26 09:00", "25:99", ""},
		{"2026-11-26 09:00", "", ""},
	} {
		got, ok := ask.ParseWhen(floor.Talk(t, x.now), x.typed)
		if s := got.Format("2006-01-02 15:04"); ok != (x.want != "") || ok && s != x.want {
			t.Errorf("%s, at %s: %s %v, want %q", x.typed, x.now, s, ok, x.want)
		}
	}
}

// Whatever is typed: no panic, a time to the minute, and none without a figure.
func FuzzParseWhen(f *testing.F) {
	for _, s := range []string{"06:40", "yesterday 18:30", "Wed 25 Nov, 11:00", "24.11. 06:40", "٢٥ nov 11:00"} {
		f.Add(s)
	}
	c := floor.Talk(f, "2026-11-26 09:00")
	f.Fuzz(func(t *testing.T, s string) {
		at, ok := ask.ParseWhen(c, s)
		if ok && (at.Second() != 0 || !strings.ContainsFunc(s, unicode.IsDigit)) {
			t.Errorf("%q is read as %v", s, at)
		}
	})
}
