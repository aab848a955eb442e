package engine_test

import (
	"slices"
	"testing"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// Rights hold for the role, the phone and the shop together.
func TestMay(t *testing.T) {
	command := tells(engine.DoFloat, "float")
	for _, x := range []struct {
		rights        engine.Rights
		role          shop.Role
		shared, fresh bool
		may           bool
	}{
		{engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp), shop.Staff, true, false, true},
		{engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp), shop.Bookkeeper, false, false, false},
		{engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp), shop.Staff, false, true, false},
		{engine.May(access.Counting, engine.OwnPhone, engine.OnceSetUp), shop.Staff, true, false, false},
		{engine.May(access.Counting, engine.OwnPhone, engine.OnceSetUp), shop.Staff, false, false, true},
		{engine.May(access.Counting, engine.OwnPhone, engine.FromStart), shop.Owner, false, true, true},
		{engine.May(access.Managing, engine.AnyPhone, engine.FromStart), shop.Staff, false, true, false},
		{engine.May(access.Everyone, engine.AnyPhone, engine.FromStart), "", false, false, false},
	} {
		command.Rights = x.rights
		f := floor.New(t, floor.Of(command))
		f.Shop.Fresh = x.fresh
		facts := f.Facts("owner")
		facts.Shared, facts.Person.Role = x.shared, x.role
		c := f.Engine.Talk(chat.State{}, chat.Input{At: f.Now}, facts)
		if got := c.May(engine.DoFloat); got != x.may {
			t.Errorf("%+v: %t", x, got)
		}
		if got := f.Engine.Allows(x.role, engine.DoFloat); got != x.rights.Role.Has(x.role) {
			t.Errorf("%+v allows %t", x, got)
		}
		if c.May("no such thing") || f.Engine.Allows(x.role, "") {
			t.Error("what is not declared may be done")
		}
	}
}

// Whose phone it is is said only where that is why.
func TestOwnPhoneIsSaid(t *testing.T) {
	own, any := tells(engine.DoFloat, "float"), tells(engine.DoOpen, "open")
	own.Phone, own.Role, any.Role = engine.OwnPhone, access.Managing, access.Managing
	f := floor.New(t, floor.Of(own, any))
	expect(t, f.Says("staff1", "float"), "not part of your role", "own phone")
	f.Knows = func(facts *chat.Facts) { facts.Shared = true }
	expect(t, f.Says("owner", "float"), "Please do that on your own phone.", "your role")
	expect(t, f.Says("staff1", "open"), "not part of your role", "own phone")
}

// In a shop that is not set up, what comes next is said; within a dialog that
// goes on first.
func TestNotSetUp(t *testing.T) {
	flow := twoScreens()
	flow.Rights.Ready = engine.FromStart
	next := engine.Moments{Fresh: func(c *engine.Talk) { c.Say("name the shop") }}
	f := floor.New(t, floor.Of(flow, tells(engine.DoFloat, "float"), next))
	f.Shop.Fresh = true
	expect(t, f.Says("owner", "float"), "name the shop", "bot> float")
	expect(t, f.Says("owner", "hm"), "name the shop", "understand")
	f.Says("owner", "move")
	expect(t, f.Says("owner", "float"), "First let us finish this.|how?", "name the shop|bot> float")
	expect(t, f.Says("owner", "hm"), "I did not understand that.|how?", "name the shop")
	f.Shop.Fresh = false
	expect(t, f.Says("owner", "float"), "bot> float", "")
}

// A role that changes while a dialog is open ends it at the next input, but for
// a deadline.
func TestBarred(t *testing.T) {
	flow := twoScreens()
	flow.Rights.Role = access.Managing
	f := floor.New(t, floor.Of(flow))
	f.Says("owner", "move")
	f.Shop.People[0].Role = shop.Staff
	f.Does("owner", chat.Input{Kind: chat.Remind, Text: "x"})
	if flowOf(f, "owner") == "" {
		t.Error("ended by a deadline")
	}
	expect(t, f.Chooses("owner", "next"), "Your role has changed, you are staff now.|Stopped: moving notes.",
		"where?")
	if flowOf(f, "owner") != "" {
		t.Error("goes on")
	}
}

// A dialog about a period that is no longer at hand ends, unless it may be about
// such a one.
func TestOutlived(t *testing.T) {
	flow := twoScreens()
	flow.Start = func(c *engine.Talk) { c.State.Draft.Period = 1; c.GoTo("first") }
	f := floor.New(t, floor.Of(flow))
	opens(f, 1)
	f.Says("staff1", "move")
	expect(t, f.Chooses("staff1", "next"), "where?", "ago")
	f.Machine = books.New(1) // its opening was taken back
	f.Does("staff1", chat.Input{Kind: chat.Remind, Text: "x"})
	expect(t, sees(f, "staff1"), "That cannot be booked.|too long ago", "where?")
	if flowOf(f, "staff1") != "" {
		t.Error("goes on")
	}
	flow.Lasts = true
	f.Says("staff1", "move")
	expect(t, f.Chooses("staff1", "next"), "where?", "ago")
	flow.Lasts = false
	res := f.Does("staff1", chat.Input{Kind: chat.Secret, Message: 9})
	if res.Replies[0].Delete != 9 || flowOf(f, "staff1") != "" {
		t.Errorf("a secret stays: %+v", res.Replies)
	}
}

// All that can be done, the words for it, and the menu by role and place.
func TestLists(t *testing.T) {
	first, second := tells(engine.DoFloat, "float"), tells(engine.DoOpen, "open")
	first.Menu, second.Menu, second.Role = 3, 2, access.Managing
	f := floor.New(t, floor.Of(first, second, tapped()))
	want := []string{"busy", "cancel", "float", "help", "my-code", "open", "renewed", "say"}
	if got := f.Engine.Actions(); !slices.Equal(got, want) {
		t.Errorf("actions %v", got)
	}
	if got := floor.Words(f.Engine)[:2]; !slices.Equal(got, []floor.Word{{Command: "float", Word: "float"},
		{Command: "open", Word: "open"}}) {
		t.Errorf("words %v", got)
	}
	c := f.Engine.Talk(chat.State{}, chat.Input{At: f.Now}, f.Facts("owner"))
	for role, want := range map[shop.Role][]string{shop.Owner: {"open", "float", "help"},
		shop.Staff: {"float", "help"}, "": nil} {
		r := c.Menu(chat.Audience{Person: 3}, role)
		var names []string
		for _, item := range r.Menu {
			names = append(names, item.Name)
			if item.Text == "" || item.Text == "help."+item.Name {
				t.Errorf("%s says %q", item.Name, item.Text)
			}
		}
		if !slices.Equal(names, want) || r.To.Person != 3 {
			t.Errorf("%s: %v to %+v", role, names, r.To)
		}
	}
	if f.Engine.Named("nothing") != nil || f.Engine.Named(engine.DoOpen).Name != engine.DoOpen {
		t.Error("a command is not found by its name")
	}
}

// A command can be carried out as if its word had been typed.
func TestCarryOut(t *testing.T) {
	f := floor.New(t, floor.Of(tells(engine.DoFloat, "float"),
		engine.Moments{Stray: func(c *engine.Talk, _ *engine.Flow) bool {
			c.Rest = "left over"
			c.CarryOut(engine.DoFloat)
			return true
		}}))
	if got := f.Says("staff1", "hm"); got != "bot> float \n" {
		t.Errorf("said %q", got)
	}
}

// A tap that nothing takes is said to be of no use, once.
func TestUnknownTap(t *testing.T) {
	f := floor.New(t, floor.Of())
	c := f.Engine.Talk(chat.State{}, chat.Input{At: f.Now}, f.Facts("owner"))
	if c.UnknownTap(); c.Notice != "That button does not work any more. Nothing was booked." {
		t.Errorf("noted %q", c.Notice)
	}
	c.Notice = "this first"
	if c.UnknownTap(); c.Notice != "this first" {
		t.Errorf("noted %q", c.Notice)
	}
}

// A message that was dropped unread is taken out of the chat, and the dialog
// goes on.
func TestSecret(t *testing.T) {
	f := floor.New(t, floor.Of(twoScreens()))
	res := f.Does("staff1", chat.Input{Kind: chat.Secret, Message: 9})
	if len(res.Replies) != 2 || res.Replies[0].Delete != 9 {
		t.Errorf("got %+v", res.Replies)
	}
	expect(t, said(res), "That looked like a safe combination or a code.", "")
	f.Says("staff1", "move")
	res = f.Does("staff1", chat.Input{Kind: chat.Secret})
	if expect(t, said(res), "That looked like a safe combination or a code.|how?", ""); len(res.Replies) != 1 {
		t.Errorf("got %+v", res.Replies)
	}
}
