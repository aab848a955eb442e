package trust_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/trust"
)

// facts are those of the example shop; Ada (1), its owner, speaks.
func facts(t *testing.T) chat.Facts {
	t.Helper()
	sh, err := shop.New(1, 1, shop.Example())
	if err != nil {
		t.Fatal(err)
	}
	ada, _ := sh.Person(1)
	return chat.Facts{Shop: sh, Person: ada}
}

// told writes events as "kind person what".
func told(list []chat.Event) string {
	var out []string
	for _, e := range list {
		out = append(out, strings.TrimSpace(fmt.Sprint(e.Kind, " ", e.Person, " ", e.What)))
	}
	return strings.Join(out, ", ")
}

// New settings are told by what they do with people who were there before: nobody new, nobody
// who left, nothing of another shop, and a code made void is told as that.
func TestChanged(t *testing.T) {
	for name, s := range map[string]struct {
		change func(*shop.Shop, *chat.Result)
		want   string
	}{
		"nothing": {func(*shop.Shop, *chat.Result) {}, ""},
		"a role": {func(s *shop.Shop, _ *chat.Result) { s.People[1].Role = shop.Manager },
			fmt.Sprint(chat.RoleSet, " 2 manager")},
		"stands in": {func(s *shop.Shop, _ *chat.Result) { s.People[1].Deputy = true },
			fmt.Sprint(chat.Deputy, " 2 on")},
		"may sign": {func(s *shop.Shop, _ *chat.Result) { s.People[2].Signs = true },
			fmt.Sprint(chat.MaySign, " 3 on")},
		"code made void": {func(s *shop.Shop, r *chat.Result) { s.People[2].Signs, r.Void = true, 3 }, ""},
		"somebody new": {func(s *shop.Shop, _ *chat.Result) {
			s.People = append(s.People, shop.Person{ID: 9, Role: shop.Owner})
		}, ""},
		"somebody left": {func(s *shop.Shop, _ *chat.Result) { s.People = s.People[:2] }, ""},
		"no settings": {func(s *shop.Shop, r *chat.Result) {
			s.People[1].Role, r.Settings = shop.Owner, nil
		}, ""},
		"another shop": {func(s *shop.Shop, _ *chat.Result) { s.ID, s.People[1].Role = 2, shop.Owner }, ""},
	} {
		before, after := facts(t), facts(t)
		after.Shop.People = slices.Clone(after.Shop.People)
		res := chat.Result{Settings: &after.Shop.Settings}
		s.change(after.Shop, &res)
		if got := told(trust.Changed(before, after, &res)); got != s.want {
			t.Errorf("%s: %q, want %q", name, got, s.want)
		}
	}
}

// While it is open which phone is somebody's, a step in their name changes nothing: by
// whoever speaks, or by who signs on a shared phone. What is only of the chat itself may be.
func TestStopped(t *testing.T) {
	f := facts(t)
	disputed := f
	disputed.Person.Disputed = true
	f.Shop.People[1].Disputed = true // Ben
	for name, s := range map[string]struct {
		f    chat.Facts
		res  chat.Result
		want bool
	}{
		"no dispute":           {f, chat.Result{Settings: &shop.Settings{}}, false},
		"settings":             {disputed, chat.Result{Settings: &shop.Settings{}}, true},
		"an order":             {disputed, orders(chat.Orders{Freeze: 2}), true},
		"nothing":              {disputed, chat.Result{}, false},
		"turns to a shop":      {disputed, orders(chat.Orders{Turn: 2, Missed: "x"}), false},
		"comes in by a link":   {disputed, settled(chat.Orders{Accept: true}), false},
		"founds a shop":        {disputed, settled(chat.Orders{Found: true}), false},
		"somebody else signs":  {f, settled(chat.Orders{As: 2}), true},
		"signed by a sure one": {disputed, settled(chat.Orders{As: 3}), false},
	} {
		if got := trust.Stopped(s.f, &s.res); got != s.want {
			t.Errorf("%s: stopped %t", name, got)
		}
	}
}

// How a record comes by its name, where the phone does not say it all.
func TestSigned(t *testing.T) {
	f := facts(t)
	disputed := f
	disputed.Person.Disputed = true
	for name, s := range map[string]struct {
		f    chat.Facts
		res  chat.Result
		want books.Mark
	}{
		"own phone":     {f, chat.Result{}, ""},
		"with a code":   {f, orders(chat.Orders{As: 2}), trust.SignedCode},
		"a first code":  {f, orders(chat.Orders{As: 2, PIN: &chat.NewPIN{}}), trust.SignedFirst},
		"in a dispute":  {disputed, chat.Result{}, trust.InDispute},
		"code, dispute": {disputed, orders(chat.Orders{As: 2}), trust.SignedCode},
		"own new code":  {f, orders(chat.Orders{PIN: &chat.NewPIN{}}), ""},
	} {
		if got := trust.Signed(s.f, s.res); got != s.want {
			t.Errorf("%s: %q, want %q", name, got, s.want)
		}
	}
}

// A dialog that tells somebody by itself needs nobody else to; an event is not its telling.
func TestSaid(t *testing.T) {
	say := func(to chat.Audience, event bool) chat.Reply {
		return chat.Reply{To: to, Event: event, Body: []chat.Block{{Text: "x"}}}
	}
	ben, owners := chat.Audience{Person: 2}, chat.Audience{Owners: true}
	for name, s := range map[string]struct {
		reply chat.Reply
		to    chat.Audience
		want  bool
	}{
		"the person":                   {say(ben, false), ben, true},
		"another":                      {say(chat.Audience{Person: 3}, false), ben, false},
		"nobody":                       {say(chat.Audience{}, false), chat.Audience{}, false},
		"managers, of whom owners are": {say(chat.Audience{Managers: true}, false), owners, true},
		"an event":                     {say(ben, true), ben, false},
		"without words":                {chat.Reply{To: ben}, ben, false},
		"here, for an owner":           {say(chat.Audience{}, false), owners, false},
	} {
		if got := trust.Said([]chat.Reply{s.reply}, s.to); got != s.want {
			t.Errorf("%s: said %t", name, got)
		}
	}
}

// Each order is told as what it does with whom; what concerns nobody, or is one's own, is not.
func TestOrdered(t *testing.T) {
	f := facts(t)
	shared, link, made := f, f, f
	shared.Shared = true
	link.Link, made.Link = &chat.Link{Person: 2, By: 1}, &chat.Link{Person: 2}
	opening := []books.Record{{Kind: books.Opening}}
	for name, s := range map[string]struct {
		in   chat.Input
		f    chat.Facts
		res  chat.Result
		want string
	}{
		"nothing":  {chat.Input{}, f, chat.Result{}, ""},
		"removed":  {chat.Input{}, f, orders(chat.Orders{Remove: 2}), fmt.Sprint(chat.Removed, " 2")},
		"frozen":   {chat.Input{}, f, orders(chat.Orders{Freeze: 2}), fmt.Sprint(chat.Frozen, " 2")},
		"thawed":   {chat.Input{}, f, orders(chat.Orders{Thaw: 2}), fmt.Sprint(chat.Thawed, " 2")},
		"erased":   {chat.Input{}, f, orders(chat.Orders{Erase: 3}), fmt.Sprint(chat.Erased, " 3")},
		"unknown":  {chat.Input{}, f, orders(chat.Orders{Erase: 99}), ""},
		"void":     {chat.Input{}, f, orders(chat.Orders{Void: 3}), fmt.Sprint(chat.CodeVoid, " 3")},
		"old":      {chat.Input{}, f, decided(true), fmt.Sprint(chat.Decided, " 2 old")},
		"new":      {chat.Input{}, f, decided(false), fmt.Sprint(chat.Decided, " 2 new")},
		"own code": {chat.Input{}, f, orders(chat.Orders{PIN: &chat.NewPIN{Person: 2}}), ""},
		"code at the counter": {chat.Input{}, shared, orders(chat.Orders{PIN: &chat.NewPIN{Person: 2}}),
			fmt.Sprint(chat.CodeSet, " 2")},
		"a link for another phone": {chat.Input{}, f, orders(chat.Orders{Invite: &chat.Invite{Person: 2}}),
			fmt.Sprint(chat.PhoneLink, " 2")},
		"a link for somebody new": {chat.Input{}, f, orders(chat.Orders{Invite: &chat.Invite{}}), ""},
		"another phone came": {chat.Input{}, link, orders(chat.Orders{Accept: true}),
			fmt.Sprint(chat.PhoneNew, " 2")},
		"by a link of the computer": {chat.Input{}, made, orders(chat.Orders{Accept: true}),
			fmt.Sprint(chat.PhoneNew, " 2 ", trust.ByComputer)},
		"another's phone is shared": {chat.Input{}, f, share("ben"), fmt.Sprint(chat.PhoneOpen, " 2 on")},
		"the own phone is shared":   {chat.Input{}, f, share("ada"), ""},
		"signed for": {chat.Input{}, f, chat.Result{Records: opening, Orders: chat.Orders{As: 2}},
			fmt.Sprint(chat.SignedAs, " 2 opening")},
		"signed for oneself": {chat.Input{}, f, chat.Result{Records: opening, Orders: chat.Orders{As: 1}}, ""},
		"locked": {chat.Input{Kind: chat.Proof, What: "3"}, f, chat.Result{},
			fmt.Sprint(chat.Locked, " 3")},
		"not locked": {chat.Input{Kind: chat.Text, What: "3"}, f, chat.Result{}, ""},
	} {
		whose := func(c chat.Chat) shop.PersonID { return map[chat.Chat]shop.PersonID{"ada": 1, "ben": 2}[c] }
		list := trust.Ordered(s.in, s.f, &s.res, []chat.Chat{"tg:7"}, whose)
		if got := told(list); got != s.want {
			t.Errorf("%s: %q, want %q", name, got, s.want)
		}
		if name == "frozen" && !slices.Equal(list[0].Phones, []chat.Chat{"tg:7"}) {
			t.Errorf("%s: phones %v", name, list[0].Phones)
		}
		if name == "erased" && list[0].Name != "Cleo" {
			t.Errorf("%s: called %q", name, list[0].Name)
		}
	}
}

// orders is a step that orders something, settled one that lays something down besides.
func orders(o chat.Orders) chat.Result  { return chat.Result{Orders: o} }
func settled(o chat.Orders) chat.Result { return chat.Result{Settings: &shop.Settings{}, Orders: o} }

func decided(old bool) chat.Result {
	return orders(chat.Orders{Decide: &chat.Decision{Person: 2, Old: old}})
}

func share(where chat.Chat) chat.Result {
	return orders(chat.Orders{Share: &chat.Phone{Chat: where, Shared: true}})
}
