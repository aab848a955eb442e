package engine_test

import (
	"slices"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// talks gives a talk of the owner at the example shop's machine.
func talks(t *testing.T, f *floor.Floor) *engine.Talk {
	t.Helper()
	return f.Engine.Talk(f.State("owner"), chat.Input{At: f.Now}, f.Facts("owner"))
}

// Who a message goes to, and what is put in whose place.
func TestAudiences(t *testing.T) {
	hello := chat.Reply{Body: []chat.Block{{Text: "hello"}}, Key: "k"}
	for name, x := range map[string]struct {
		send func(*engine.Talk)
		want []chat.Reply
	}{
		"say":  {func(c *engine.Talk) { c.Say("hello") }, []chat.Reply{{}}},
		"post": {func(c *engine.Talk) { c.Post(hello) }, []chat.Reply{{Key: "k"}}},
		"person": {func(c *engine.Talk) { c.TellPerson(3, hello) },
			[]chat.Reply{{To: chat.Audience{Person: 3}, Key: "k"}}},
		"people": {func(c *engine.Talk) { c.TellPeople([]shop.PersonID{2, 3}, chat.Reply{}) },
			[]chat.Reply{{To: chat.Audience{Person: 2}}, {To: chat.Audience{Person: 3}}}},
		"managers": {func(c *engine.Talk) { c.Managers(chat.Lines("hello")) },
			[]chat.Reply{{To: chat.Audience{Managers: true}}}},
		"others": {func(c *engine.Talk) { c.TellOthers(hello) },
			[]chat.Reply{{To: chat.Audience{Others: true}, Key: "k"}}},
		"everybody": {func(c *engine.Talk) { c.Everybody(chat.Lines("hello")) },
			[]chat.Reply{{To: chat.Audience{Person: 2}}, {To: chat.Audience{Person: 3}}}},
		"rewrite": {func(c *engine.Talk) { c.Rewrite(hello) }, []chat.Reply{{Key: "k", Edit: "k"}}},
		"all told": {func(c *engine.Talk) { c.RewriteAll("k", chat.Lines("hello")) },
			[]chat.Reply{{To: chat.Audience{Told: "k"}, Key: "k", Edit: "k"}}},
		"amend": {func(c *engine.Talk) { c.Edit = "old"; c.Amend(hello); c.Amend(hello) },
			[]chat.Reply{{Key: "k", Edit: "old"}, {Key: "k"}}},
		"in place": {func(c *engine.Talk) { c.Edit = "old"; c.InPlace("before", hello) },
			[]chat.Reply{{Key: "k", Edit: "old"}}},
		"after text": {func(c *engine.Talk) { c.InPlace("before", hello) },
			[]chat.Reply{{Key: "k", Retire: "before"}}},
	} {
		c := talks(t, floor.New(t, floor.Of()))
		x.send(c)
		got := c.Replies
		if !slices.EqualFunc(got, x.want, func(a, b chat.Reply) bool {
			return a.To == b.To && a.Key == b.Key && a.Edit == b.Edit && a.Retire == b.Retire
		}) {
			t.Errorf("%s sends %+v", name, got)
		}
		if c.Edit != "" {
			t.Errorf("%s: the card is put in place of once more", name)
		}
	}
}

// What is to be said first stands above the next message, once.
func TestSaidFirst(t *testing.T) {
	c := talks(t, floor.New(t, floor.Of()))
	c.First("one")
	c.First("two")
	c.Post(chat.Reply{Body: []chat.Block{{Text: "to others"}}})
	c.Say("three")
	c.Say("four")
	var got []string
	for _, r := range c.Replies {
		for _, b := range r.Body {
			got = append(got, b.Text)
		}
	}
	if !slices.Equal(got, []string{"to others", "one", "two", "three", "four"}) {
		t.Errorf("said %q", got)
	}
}

// A message says where it happened: to others always, to the speaker where there
// are several places and it is a card or something was recorded.
func TestPlaces(t *testing.T) {
	for name, x := range map[string]struct {
		two, several, nowhere, records bool
		own, key, told                 string // the places of a message, a card, and a message to another
	}{
		"one shop":      {told: "Example corner shop"},
		"recorded":      {records: true, told: "Example corner shop"},
		"several shops": {several: true, key: "Example corner shop", told: "Example corner shop"},
		"there, recorded": {several: true, records: true, own: "Example corner shop", key: "Example corner shop",
			told: "Example corner shop"},
		"two machines": {two: true, key: "Example corner shop, Cash machine",
			told: "Example corner shop, Cash machine"},
		"about no machine": {two: true, nowhere: true},
	} {
		f := floor.New(t, floor.Of())
		if x.two {
			secondMachine(f)
		}
		f.Knows = func(facts *chat.Facts) { facts.Several = x.several }
		c := talks(t, f)
		c.Nowhere = x.nowhere
		if x.records {
			c.Records = []books.Record{{}}
		}
		body := []chat.Block{{Text: "x"}}
		c.Post(chat.Reply{Body: body})
		c.Post(chat.Reply{Body: body, Key: "d1"})
		c.TellPerson(3, chat.Reply{Body: body})
		c.Post(chat.Reply{Delete: 4, To: chat.Audience{Others: true}})
		res := c.Done()
		for i, want := range []string{x.own, x.key, x.told, ""} {
			if got := res.Replies[i].Place; got != want {
				t.Errorf("%s: reply %d is at %q, want %q", name, i, got, want)
			}
		}
	}
}

// Buttons of cards that stand by themselves name the machine, where there is one,
// once.
func TestButtonsNameTheMachine(t *testing.T) {
	for _, id := range []shop.MachineID{0, 7} {
		c := talks(t, floor.New(t, floor.Of()))
		c.M = books.New(id)
		c.Post(chat.Reply{Buttons: [][]chat.Button{{{Data: "o:say:1"}, {Data: "o:say:1:3"}, {Data: "d:1:x"}}}})
		var got []string
		for _, b := range c.Done().Replies[0].Buttons[0] {
			got = append(got, b.Data)
		}
		want := []string{"o:say:1", "o:say:1:3", "d:1:x"}
		if id != 0 {
			want[0] = "o:say:1:7"
		}
		if !slices.Equal(got, want) {
			t.Errorf("machine %d: %q", id, got)
		}
	}
}

// A shop of several machines names the one at hand; one machine needs no name.
func TestWhichMachineIsNamed(t *testing.T) {
	f := floor.New(t, floor.Of())
	if got := talks(t, f).Which(); got != "" {
		t.Errorf("named %q", got)
	}
	secondMachine(f)
	if got := talks(t, f).Which(); got != "Machine: Cash machine" {
		t.Errorf("named %q", got)
	}
}

// A dialog that begins at a card of another shop turns the chat to it.
func TestTurning(t *testing.T) {
	f := floor.New(t, floor.Of(twoScreens()))
	for _, elsewhere := range []bool{false, true} {
		f.Knows = func(facts *chat.Facts) { facts.Elsewhere = elsewhere }
		c := talks(t, f)
		if c.Begin(engine.DoMove); (c.Turn == f.Shop.ID) != elsewhere {
			t.Errorf("elsewhere %t: turned to %d", elsewhere, c.Turn)
		}
	}
}
