package engine_test

import (
	"testing"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/guides/search"
	"shopfloat/internal/shop"
)

// confirming is a made-up dialog that books what it shows unless somebody was
// quicker.
func confirming(booked *int) *engine.Flow {
	return floor.MadeUp("ask", screens{"ask": floor.Screen("right?", taps{"confirm": func(c *engine.Talk) {
		if !c.Overtaken() {
			*booked++
			c.Close(chat.Lines("kept"))
		}
	}})})
}

// A record that came in since the card was shown is told, by its kind, person and
// time; what changes nothing anybody relies on is not.
func TestOvertaken(t *testing.T) {
	booked := 0
	f := floor.New(t, floor.Of(confirming(&booked)))
	opens(f, 1)
	f.Says("staff1", "move")
	beside := books.Record{Kind: books.Incident, Trouble: &books.Trouble{Topic: "jam"}, Happened: f.Now.UTC()}
	f.Record(3, beside)
	if f.Chooses("staff1", "confirm"); booked != 1 {
		t.Fatal("an incident held a booking up")
	}
	f.Says("staff1", "move")
	f.Now = f.Now.Add(time.Minute)
	f.Record(3, books.Record{Kind: books.Level, Period: 1, Happened: f.Now.UTC(), Figures: level()})
	f.Record(3, beside)
	expect(t, f.Chooses("staff1", "confirm"),
		"Something changed meanwhile: level check by Cleo, 06:41.|right?", "kept")
	expect(t, f.Chooses("staff1", "confirm"), "kept", "changed")
	if booked != 2 {
		t.Errorf("booked %d times", booked)
	}
}

func level() (figures []books.Figure) {
	for _, x := range opening().Figures {
		x.Field = books.Shown
		figures = append(figures, x)
	}
	return figures
}

// A record has the time it is about, and the step sees it at once; what the books
// refuse is not recorded.
func TestRecord(t *testing.T) {
	f := floor.New(t, floor.Of())
	before := f.Now.Add(-time.Hour)
	st := f.State("owner")
	st.Draft.Happened, st.Draft.Photos = before, []books.Photo{photo("1")}
	f.States[floor.ChatOf("owner")] = st
	c := talks(t, f)
	e, err := c.Record(opening())
	if err != nil || e.Seq != 1 || e.By != 1 || e.Machine != 1 || e.Settings != 1 || !e.Happened.Equal(before) ||
		!e.Recorded.Equal(f.Now) || len(e.Photos) != 1 || len(c.State.Draft.Photos) != 0 {
		t.Errorf("recorded %+v: %v", e, err)
	}
	if len(c.Records) != 1 || c.M.Current() == nil || c.Before().Current() != nil || f.Machine.Current() != nil {
		t.Error("the step does not see it, or somebody else does")
	}
	if _, err := c.Record(opening()); err == nil || len(c.Records) != 1 || c.M.Seq != 1 {
		t.Errorf("opened twice: %d records, %v", len(c.Records), err)
	}
	if e, _ := c.Record(books.Record{Kind: books.Incident, Trouble: &books.Trouble{Topic: "jam"}}); e.Seq != 2 {
		t.Errorf("the next one is number %d", e.Seq)
	}
	c.F.Machine = nil
	if m := c.Before(); m.ID != 1 || m.Seq != 0 {
		t.Errorf("before it were %+v", m)
	}
}

// Times are told on the shop's clock, with the day when that is not today's.
func TestTimes(t *testing.T) {
	f := floor.New(t, floor.Of())
	c := talks(t, f)
	if got := c.Clock(f.Now.UTC()); got != "06:40" {
		t.Errorf("told %q", got)
	}
	if got := c.Clock(f.Now.AddDate(0, 0, -1)); got != "Tue 24 Nov, 06:40" {
		t.Errorf("told %q", got)
	}
	if got := c.Clock(f.Now.AddDate(-1, 0, 0)); got == "06:40" {
		t.Errorf("the same day of another year is told as today: %q", got)
	}
	if got := c.DayClock(f.Now); got != "Wed 25 Nov, 06:40" {
		t.Errorf("told %q", got)
	}
	if got := c.Today(); got != "2026-11-25" {
		t.Errorf("today is %s", got)
	}
	if got := c.DayOf(&books.Period{Opened: f.Now.AddDate(0, 0, -2)}); got != "2026-11-23" {
		t.Errorf("the period is for %s", got)
	}
	if got := c.Lock(); got != "Now close and lock the safe." {
		t.Errorf("reminded by %q", got)
	}
	c.State.Draft.Happened = f.Now.Add(-time.Hour)
	if c.Lock() != "" || !c.When().Equal(c.State.Draft.Happened) {
		t.Error("something from earlier is taken for now")
	}
}

// A time from earlier that was asked for is not there yet when another dialog is
// begun at that question: it is for now, and says so.
func TestForNow(t *testing.T) {
	asks := floor.MadeUp("ask", screens{"ask": {Dates: true, Ask: func(*engine.Talk) *engine.Card {
		return &engine.Card{Body: []chat.Block{{Text: "when?"}}}
	}}})
	paper, now := another(engine.DoOpen, "opening"), another(engine.DoFloat, "setup")
	paper.Paper = engine.ThatDay
	f := floor.New(t, floor.Of(asks, paper, now))
	f.Says("staff1", "move")
	expect(t, f.Says("staff1", "open"), "This is for now.|opening?", "")
	f.Says("staff1", "move")
	expect(t, f.Says("staff1", "float"), "setup?", "No earlier time")
	f.Says("staff1", "cancel")
	expect(t, f.Says("staff1", "open"), "opening?", "No earlier time")
}

// An engine knows the guides it is given, and none before.
func TestGuiding(t *testing.T) {
	bare := engine.New(floor.Texts(t), nil)
	if got := bare.Find("notes are stuck"); len(got.IDs) != 0 {
		t.Errorf("found %+v", got)
	}
	e := bare.Guide(engine.Guiding{Library: floor.Guiding(t).Library,
		Find: func(text string) search.Answer { return search.Answer{IDs: []string{text}} }})
	id := e.Guiding.Library.IDs()[0]
	if got := e.Find(id); len(got.IDs) != 1 || got.IDs[0] != id {
		t.Errorf("found %+v", got)
	}
}

// Who manages by the role they have at present.
func TestManages(t *testing.T) {
	for p, want := range map[shop.Person]bool{{Role: shop.Owner}: true, {Role: shop.Manager}: true,
		{Role: shop.Staff}:               false,
		{Role: shop.Staff, Deputy: true}: true, {Role: shop.Bookkeeper, Deputy: true}: false, {}: false} {
		if engine.Manages(p) != want || access.Managing.Has(p.Acts()) != want {
			t.Errorf("%+v manages %t", p, !want)
		}
	}
}

// What is lost by leaving a dialog, and what is said when it is given up.
func TestStopping(t *testing.T) {
	f := floor.New(t, floor.Of(twoScreens()))
	f.Says("owner", "move")
	c := talks(t, f)
	if engine.LosesNothing(c) || engine.LosesCounts(c) {
		t.Error("something is lost before anything was typed")
	}
	c.Put("left", []int64{1})
	if engine.LosesNothing(c) || !engine.LosesCounts(c) {
		t.Error("a count is not lost, or more")
	}
	if got := engine.NothingBooked(c); got != "Stopped: moving notes. Nothing of it was booked." {
		t.Errorf("said %q", got)
	}
	if got := engine.NothingChanged(c); got != "Stopped: moving notes. Nothing was changed." {
		t.Errorf("said %q", got)
	}
}
