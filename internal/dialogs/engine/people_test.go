package engine_test

import (
	"strconv"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

func photo(id string) books.Photo { return books.Photo{ID: id, Unique: "u" + id} }

// Two people do not work at one machine: the second is told who is at it, and
// may take over; then the first is told, and that one's card is dead.
func TestTakeOver(t *testing.T) {
	flow := twoScreens()
	flow.Start = func(c *engine.Talk) { c.First("with: " + c.Rest + "."); c.GoTo("first") }
	f := floor.New(t, floor.Of(flow))
	f.Says("staff1", "move")
	f.Now = f.Now.Add(10 * time.Minute)
	expect(t, f.Says("staff2", "move 20x5"),
		"Ben is busy at this machine: moving notes, since 06:40|[Take over]|[More]", "how?")
	if flowOf(f, "staff2") == engine.DoMove || !f.State("staff2").Since.Equal(f.Now) {
		t.Errorf("begun already: %+v", f.State("staff2"))
	}
	res := f.Does("staff2",
		chat.Input{Kind: chat.Press, Tap: "d:" + strconv.Itoa(f.State("staff2").Rev) + ":take-over"})
	if res.TakeOver != floor.ChatOf("staff1") || flowOf(f, "staff2") != engine.DoMove ||
		flowOf(f, "staff1") != "" {
		t.Errorf("taken over %q; %q and %q", res.TakeOver, flowOf(f, "staff1"), flowOf(f, "staff2"))
	}
	if len(res.Replies) != 2 || res.Replies[0].To.Person != 2 ||
		res.Replies[0].Body[0].Text != "Cleo took over: moving notes. What you typed was not booked." {
		t.Fatalf("told %+v", res.Replies)
	}
	if said := res.Replies[1].Body[1].Text; said != "with: 20x5." {
		t.Errorf("what followed the command became %q", said)
	}
}

// Nobody is asked where nobody is in the way: of two who may be at it at once,
// after three hours, or when the other has ended meanwhile.
func TestNobodyInTheWay(t *testing.T) {
	flow, beside := twoScreens(), another(engine.DoFloat, "setup")
	beside.Company = engine.SideBySide
	f := floor.New(t, floor.Of(flow, beside))
	f.Says("staff1", "move")
	expect(t, f.Says("staff2", "float"), "setup?", "busy")
	f.Says("staff2", "cancel")
	f.Now = f.Now.Add(3*time.Hour - time.Second)
	expect(t, f.Says("staff2", "move"), "Ben is busy", "how?")
	f.Now = f.Now.Add(time.Second)
	expect(t, sees(f, "staff2"), "how?", "busy")
	f.Says("staff2", "cancel")
	f.Says("staff1", "cancel")
	f.Says("staff1", "move")
	f.Says("staff2", "move")
	f.Says("staff1", "cancel")
	expect(t, f.Taps("staff2", "Take over"), "how?", "took over")
}

// Whoever counts a second time is in the way of another second count only.
func TestSecondCountIsInNobodysWay(t *testing.T) {
	second := another(engine.DoSecond, "second")
	second.Second = true
	counts := another(engine.DoFloat, "setup")
	f := floor.New(t, floor.Of(twoScreens(), second, counts))
	f.Says("staff1", "second count")
	expect(t, f.Says("staff2", "move"), "how?", "busy")
	f.Says("staff2", "cancel")
	expect(t, f.Says("staff2", "float"), "setup?", "busy")
	f.Says("staff2", "cancel")
	expect(t, f.Says("staff2", "second count"), "Ben is busy at this machine", "second?")
	for name, want := range map[string]bool{engine.DoSecond: true, engine.DoFloat: false, "nothing": false} {
		if f.Engine.Second(name) != want {
			t.Errorf("%s: %t", name, !want)
		}
	}
}

// A question whether to take over is work in nobody's way, given up without a loss.
func TestBusyIsGivenUp(t *testing.T) {
	f := floor.New(t, floor.Of(twoScreens()))
	f.Says("staff1", "move")
	f.Says("staff2", "move")
	if f.State("staff2").Works {
		t.Error("asking is taken for work at the machine")
	}
	expect(t, f.Says("staff2", "cancel"), "All right. Nothing was changed.", "how?")
}

// A dialog that this program does not know is called work all the same.
func TestBusyWithSomethingUnknown(t *testing.T) {
	f := floor.New(t, floor.Of(twoScreens()))
	f.States[floor.ChatOf("staff1")] = chat.State{V: chat.StateFormat, Flow: "gone", Works: true, Since: f.Now}
	expect(t, f.Says("staff2", "move"), "Ben is busy at this machine", "how?")
}

// A photo goes with the dialog under way, five of them at most.
func TestPhotosOfADialog(t *testing.T) {
	flow := twoScreens()
	second := flow.Screens["second"]
	second.Taps["confirm"] = func(c *engine.Talk) {
		if _, err := c.Record(opening()); err != nil {
			t.Error(err)
		}
		c.Close(chat.Lines("kept"))
	}
	f := floor.New(t, floor.Of(flow))
	f.Says("staff1", "move")
	for i := range 6 {
		said := f.Step("staff1", chat.Input{Kind: chat.Picture, Photo: photo(strconv.Itoa(i))}, "(photo)")
		if i < 5 {
			expect(t, said, "Photo noted with this moving notes.|how?", "enough")
		} else {
			expect(t, said, "5 photos are enough for one record.|how?", "kept")
		}
	}
	f.Chooses("staff1", "next")
	f.Chooses("staff1", "confirm")
	if got := f.Entries[0].Photos; len(got) != 5 || got[4] != photo("4") {
		t.Errorf("recorded with %v", got)
	}
}

// With no dialog open a photo goes with the speaker's last record, if that was
// made within half an hour and holds.
func TestPhotoOfTheLastRecord(t *testing.T) {
	picture := chat.Input{Kind: chat.Picture, Photo: photo("1")}
	for _, x := range []struct {
		by    shop.PersonID
		after time.Duration
		want  string
	}{
		{2, 30 * time.Minute, "Photo noted with opening, 06:40."},
		{2, 30*time.Minute + time.Second, "I don't know what this photo belongs to."},
		{3, time.Minute, "I don't know what this photo belongs to."},
	} {
		f := floor.New(t, floor.Of(twoScreens()))
		expect(t, f.Step("staff1", picture, "(photo)"), "I don't know what this photo belongs to", "")
		opens(f, x.by)
		f.Now = f.Now.Add(x.after)
		expect(t, f.Step("staff1", picture, "(photo)"), x.want, "")
		if n := len(f.Entries); (n == 2) != (x.want[0] == 'P') {
			t.Errorf("%d entries", n)
		}
	}
	f := floor.New(t, floor.Of(twoScreens()))
	opens(f, 2)
	f.Step("staff1", picture, "(photo)")
	f.Step("staff1", picture, "(photo)") // not with the record of the photo before
	for _, e := range f.Entries[1:] {
		if e.Kind != books.Attachment || e.Target != 1 || e.Period != 1 || len(e.Photos) != 1 {
			t.Errorf("recorded %+v", e.Record)
		}
	}
	f.Record(2, books.Record{Kind: books.Undo, Target: 1, Happened: f.Now.UTC()})
	expect(t, f.Step("staff1", picture, "(photo)"), "I don't know what this photo belongs to", "")
}

// Somebody whose name was erased is called the same everywhere, and no two alike;
// somebody unknown is somebody.
func TestNames(t *testing.T) {
	f := floor.New(t, floor.Of())
	c := f.Engine.Talk(chat.State{}, chat.Input{At: f.Now}, f.Facts("owner"))
	if got := c.Name(2); got != "Ben" {
		t.Errorf("called %q", got)
	}
	if got := c.Name(99); got != "somebody who left" {
		t.Errorf("called %q", got)
	}
	f.Shop.People[1].Name = ""
	// by hand: 24 letters, the lowest digit first; 2 = C, 25 = 1 + 1x24
	for id, want := range map[shop.PersonID]string{0: "AAAA", 2: "CAAA", 23: "ZAAA", 24: "ABAA", 25: "BBAA",
		24 * 24: "AABA"} {
		if got := c.Called(shop.Person{ID: id}); got != "Person "+want {
			t.Errorf("%d is called %q, want %s", id, got, want)
		}
	}
	if got := c.Called(shop.Person{ID: 2, Name: "Ben"}); got != "Ben" {
		t.Errorf("called %q", got)
	}
}
