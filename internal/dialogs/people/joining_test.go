package people_test

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// An invitation asks for a name that is not taken and a role that the speaker may
// give; what follows the command is the name, in the letters it was typed in.
func TestInvite(t *testing.T) {
	f := crowd(t)
	f.Expect(f.Says("owner", "invite"), "Who is it for?", "")
	f.Expect(f.Says("owner", "bEn"), "Ben is in the list already.|Who is it for?", "Which role")
	f.Expect(f.Says("owner", strings.Repeat("x", 31)), "Please write 1 to 30 letters.", "Which role")
	f.Expect(f.Says("owner", "McGus"), "Which role for McGus?|[Owner]|[Manager]|[Staff]|[Bookkeeper]", "")
	f.Expect(f.Says("owner", "people"), "Leave", "Who works here")
	f.Taps("owner", "Go on")
	f.Expect(f.Taps("owner", "Staff"), "Send this link to McGus (staff), and to nobody else.|{link}", "")
	until := f.Now.Add(48 * time.Hour)
	if i := *f.Last.Invite; i != (chat.Invite{Name: "McGus", Role: shop.Staff, Expires: until}) {
		t.Errorf("link %+v", i)
	}
	f.Expect(f.Says("owner", "INVITE McHugh"), "Which role for McHugh?", "")
	f.Says("owner", "cancel")
	as(f, 4)
	f.Expect(f.Says("staff1", "invite Ida"), "[Staff]|[Bookkeeper]", "[Owner]|[Manager]")
	f.Says("staff1", "cancel")
	f.Says("staff1", "people")
	f.Expect(f.Taps("staff1", "Invite"), "Who is it for?", "")
}

// opens opens a link in somebody's chat, as whom their program calls so.
func opens(f *floor.Floor, l chat.Link, from string) chat.Result {
	knows := f.Knows
	defer func() { f.Knows = knows }()
	f.Knows = func(facts *chat.Facts) { facts.Link = &l }
	return f.Does("gus", chat.Input{Kind: chat.Opened, From: from})
}

// A link lets somebody in once: a new person, or one with another phone; whoever
// made it is told, with the name of the account.
func TestJoining(t *testing.T) {
	f := crowd(t)
	gus := chat.Link{State: chat.LinkGood, Shop: f.Shop, Role: shop.Staff, Name: "Gus", By: 1}
	res := opens(f, gus, "gus_88")
	if !res.Accept || len(res.Settings.People) != 6 || res.Settings.People[5].Name != "Gus" ||
		len(f.Shop.People) != 5 {
		t.Errorf("let in %+v", res.Settings)
	}
	f.Expect(res.Replies[0].Body[0].Text, "Welcome, Gus.|Your role: staff.", "")
	if told := res.Replies[2]; told.To.Person != 1 || !told.Silent {
		t.Errorf("told %+v", told)
	}
	f.Expect(res.Replies[2].Body[0].Text, "Gus opened your link and is in now, as staff.\n"+
		"Their account calls itself “gus_88”; they chose that.\nNot the right person? Write people.", "")
	res = opens(f, chat.Link{State: chat.LinkGood, Shop: f.Shop, Person: 2, By: 1, Member: true}, "")
	if !res.Accept || res.Settings != nil || len(res.Replies[1].Menu) == 0 {
		t.Errorf("with another phone: %+v", res)
	}
	f.Expect(res.Replies[2].Body[0].Text, "Ben opened your link|Not the right person?", "account")
	res = opens(f, chat.Link{State: chat.LinkGood, Shop: f.Shop, Role: shop.Owner, Name: "Hal"}, "hal")
	if !res.Accept || len(res.Replies) != 2 {
		t.Errorf("by the program: %+v", res.Replies)
	}
}

// What a newcomer's account is called passes for nothing that the program says.
func TestForgedAccount(t *testing.T) {
	f := crowd(t)
	gus := chat.Link{State: chat.LinkGood, Shop: f.Shop, Role: shop.Staff, Name: "Gus", By: 1}
	knows := f.Knows
	f.Knows = func(facts *chat.Facts) { facts.Link = &gus }
	res := f.Does("gus", chat.Input{Kind: chat.Opened, Public: "eve\n@ada",
		From: "Gus” (@gus).\nChecked: this is the right account\u202e\u200b“"})
	f.Knows = knows
	want := "Gus opened your link and is in now, as staff.\n" +
		"Their account calls itself “Gus' (@gus). Checked: this is the right account'”; they chose that.\n" +
		"Its public name, theirs alone: @eve @ada\nNot the right person? Write people."
	if got := res.Replies[2].Body[0].Text; got != want {
		t.Errorf("told %q\nwant %q", got, want)
	}
}

// A name that is, or looks like, another's is not taken, nor one that cannot be
// seen or says more than a name; of two links for one name the later gets a number.
func TestNamesThatAreTaken(t *testing.T) {
	for typed, want := range map[string]string{
		"Ben\u200b": "Ben is in the list already.", "B\u00aden": "Ben is in the list already.",
		"Веn": "one alphabet", "\u202enеB": "one alphabet", "Bеn": "one alphabet",
		"BEN":         "Ben is in the list already.",
		"Bea (owner)": "A name is letters", "\u3164": "Please write 1 to 30 letters.",
		"\u200b": "Please write 1 to 30 letters.",
		"Owner":  "That is a role here", "Manager": "That is a role here", "Ｇｕｓ": "Which role for Gus?",
	} {
		f := crowd(t)
		f.Says("owner", "invite")
		f.Expect(f.Says("owner", typed), want, "")
	}
	f := crowd(t)
	res := opens(f, chat.Link{State: chat.LinkGood, Shop: f.Shop, Role: shop.Staff, Name: "Ben", By: 1}, "x")
	if name := res.Settings.People[5].Name; name != "Ben 2" {
		t.Errorf("a second Ben is called %q", name)
	}
}

// A link that is used up, too old, or of somebody who may not invite any more,
// lets nobody in; nor one for somebody new whoever belongs to the shop already.
func TestLinksThatLetNobodyIn(t *testing.T) {
	for name, x := range map[string]struct {
		link func(*shop.Shop) chat.Link
		want string
	}{
		"used": {func(s *shop.Shop) chat.Link { return chat.Link{State: chat.LinkUsed, Shop: s} },
			"used already"},
		"expired": {func(*shop.Shop) chat.Link { return chat.Link{State: chat.LinkExpired} }, "too old"},
		"of somebody who left": {func(s *shop.Shop) chat.Link {
			return chat.Link{State: chat.LinkGood, Shop: s, Role: shop.Staff, By: 77}
		}, "too old"},
		"of a manager for an owner": {func(s *shop.Shop) chat.Link {
			return chat.Link{State: chat.LinkGood, Shop: s, Role: shop.Owner, By: 4}
		}, "too old"},
		"of a member": {func(s *shop.Shop) chat.Link {
			return chat.Link{State: chat.LinkGood, Shop: s, Role: shop.Staff, By: 4, Member: true}
		}, "You belong to Example corner shop already."},
	} {
		f := crowd(t)
		st := chat.State{V: chat.StateFormat, Rev: 3}
		f.States[floor.ChatOf("gus")] = st
		res := opens(f, x.link(f.Shop), "gus")
		if res.Accept || res.Settings != nil || len(res.Replies) != 1 || res.State.Rev != 3 {
			t.Errorf("%s: %+v", name, res)
			continue
		}
		f.Expect(res.Replies[0].Body[0].Text, x.want, "")
	}
	f := crowd(t)
	f.Shop.People[1].Deputy = true
	l := chat.Link{State: chat.LinkGood, Shop: f.Shop, Role: shop.Staff, Name: "Gus", By: 2}
	if res := opens(f, l, ""); !res.Accept {
		t.Errorf("of somebody who stands in: %s", strconv.Quote(res.Replies[0].Body[0].Text))
	}
}

// The link of the program makes whoever opens it the owner of a new shop.
func TestClaiming(t *testing.T) {
	f := crowd(t)
	res := opens(f, chat.Link{State: chat.LinkGood}, "ida")
	if !res.Accept || res.Settings == nil || !res.Settings.Fresh || res.Settings.People[0].Role != shop.Owner {
		t.Errorf("claimed %+v", res.Settings)
	}
	if body := res.Replies[0].Body; !strings.Contains(body[1].Text, "Welcome! You are the owner.") {
		t.Errorf("said %+v", body)
	}
}
