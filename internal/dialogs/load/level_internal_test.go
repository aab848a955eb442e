package load

import (
	"testing"

	"shopfloat/internal/shop"
)

func TestCosts(t *testing.T) {
	for text, want := range map[string]string{
		"costs 1.20 0.10": "1.2 0.1", "1,20 0,10": "1.2 0.1", "€8 €4": "8 4", "costs 80; 20": "80 20",
		"costs 1": "", "costs 0 1": "", "1 -2": "", "one two": "", "1 2 3": "", "1e9999999 2": "", "": "",
	} {
		got := ""
		if l := shop.Costs(text); l != nil {
			got = l.Missed.String() + " " + l.Idle.String()
		}
		if got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// Whatever is typed: no panic, and costs that are taken are in order for the settings.
func FuzzCosts(f *testing.F) {
	for _, s := range []string{"costs 1.20 0.10", "€8/4", "1e5 2", "\x00", "99999999999999 1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		l := shop.Costs(s)
		if l == nil {
			return
		}
		again := shop.Costs(l.Missed.String() + " " + l.Idle.String())
		if again == nil || !again.Missed.Equal(l.Missed) || !again.Idle.Equal(l.Idle) {
			t.Fatalf("%q is %v, which reads %v", s, l, again)
		}
		settings := shop.Example()
		settings.Load = *l
		if _, err := shop.New(1, 1, settings); err != nil {
			t.Fatalf("%q: %v", s, err)
		}
	})
}
