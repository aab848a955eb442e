package engine_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
)

// standing is a made-up dialog whose tap books something that needs no period.
func standing(change func(*engine.Flow)) *engine.Flow {
	return leaving(func(f *engine.Flow) {
		f.Screens["review"] = floor.Screen("right?", taps{
			"confirm": func(c *engine.Talk) {
				_, err := c.Record(books.Record{Kind: books.Incident, Trouble: &books.Trouble{Topic: "offline"}})
				if err != nil {
					c.Refuse(err)
				}
				c.Close(chat.Lines("booked for " + c.Clock(c.When())))
			},
			"look": func(c *engine.Talk) { c.First("looked") },
		})
		if change != nil {
			change(f)
		}
	})
}

// A tap that books after hours asks when it was; what is told then is booked as of then, or of
// now, after its card was shown once more. Other taps, and taps before, do as ever.
func TestStoodCard(t *testing.T) {
	for name, s := range map[string]struct {
		change        func(*engine.Flow)
		rest          time.Duration
		choice, then  string
		asked, shown  bool
		booked, after string
	}{
		"not so long": {rest: 2*time.Hour - time.Second, choice: "confirm", booked: "booked for 08:39"},
		"it did": {rest: 2 * time.Hour, choice: "confirm", then: "did", asked: true,
			after: "booked for 06:40"},
		"just now": {rest: 3 * time.Hour, choice: "confirm", then: "just-now", asked: true,
			after: "booked for 09:40"},
		"nothing is booked": {rest: 3 * time.Hour, choice: "look"},
		"of no time": {change: func(f *engine.Flow) { f.Paper = engine.OffPaper }, rest: 3 * time.Hour,
			choice: "confirm", shown: true, after: "booked for 09:40"},
	} {
		f := floor.New(t, floor.Of(standing(s.change)))
		f.Says("staff1", "move")
		f.Now = f.Now.Add(s.rest)
		f.Chooses("staff1", s.choice)
		got := f.Out.String()
		const left = "Left since 06:40, not recorded: Moving notes of Wed 25 Nov."
		if asked := strings.Contains(got, left); asked != s.asked {
			t.Errorf("%s: asked %t\n%s", name, asked, got)
		}
		if shown := strings.Contains(got, "This card is from Wed 25 Nov, 06:40."); shown != s.shown {
			t.Errorf("%s: shown %t\n%s", name, shown, got)
		}
		if !strings.Contains(got, s.booked) || s.booked == "" && len(f.Entries) > 0 {
			t.Errorf("%s: %d records\n%s", name, len(f.Entries), got)
		}
		if s.then != "" {
			f.Chooses("staff1", s.then)
		}
		if s.after != "" {
			f.Chooses("staff1", "confirm")
		}
		if got = f.Out.String(); !strings.Contains(got, s.after) || len(f.Entries) > 1 {
			t.Errorf("%s: %d records\n%s", name, len(f.Entries), got)
		}
	}
}

// A card that other words bring again has stood for as long; it is asked by words as well.
func TestStoodCardComesAgain(t *testing.T) {
	f := floor.New(t, floor.Of(standing(nil), tells(engine.DoStatus, "all well")))
	f.Says("staff1", "move")
	f.Now = f.Now.Add(3 * time.Hour)
	f.Says("staff1", "status")
	f.Chooses("staff1", "confirm")
	labels := func() (list []string) {
		for _, b := range f.State("staff1").Shown {
			list = append(list, b.Label)
		}
		return list
	}
	if got := labels(); !slices.Equal(got, []string{"It did", "Just now", "No"}) {
		t.Errorf("%q\n%s", got, f.Out.String())
	}
	expect(t, f.Says("staff1", "just now"), "right?", "Left since")
	f.Chooses("staff1", "confirm")
	if len(f.Entries) != 1 || !f.Entries[0].Happened.Equal(f.Now) {
		t.Errorf("%+v\n%s", f.Entries, f.Out.String())
	}
	f.Says("staff1", "move")
	f.Now = f.Now.Add(3 * time.Hour)
	f.Chooses("staff1", "confirm")
	expect(t, f.Says("staff1", "no"), "Stopped: moving notes. Nothing of it was booked.", "right?")
}
