package trust_test

import (
	"fmt"
	"strings"
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
	"shopfloat/internal/trust"
)

// to writes whom a reply is for.
func to(a chat.Audience) string {
	var parts []string
	add := func(is bool, what string) {
		if is {
			parts = append(parts, what)
		}
	}
	add(a.Chat != "", string(a.Chat))
	add(a.Person != 0, fmt.Sprintf("person %d", a.Person))
	add(a.Own, "own phones")
	add(a.Managers, "managers")
	add(a.Owners, "owners")
	add(a.Not != 0, fmt.Sprintf("not %d", a.Not))
	if len(parts) == 0 {
		return "here"
	}
	return strings.Join(parts, " ")
}

// Who hears of what, word for word: the person by the phones that are theirs or were, the
// owners beside, nobody of what they did themselves. Ada (1) is the owner and speaks, Ben
// (2) works there; events of an owner's own name stay between the owners.
func TestEvent(t *testing.T) {
	catalogue, err := texts.Load()
	if err != nil {
		t.Fatal(err)
	}
	sh, err := shop.New(1, 1, shop.Example())
	if err != nil {
		t.Fatal(err)
	}
	ada, _ := sh.Person(1)
	for name, x := range map[string]struct {
		e    chat.Event
		want []string // for whom, and words of it
		not  string
	}{
		"a role": {chat.Event{Kind: chat.RoleSet, Person: 2, What: "manager"},
			[]string{"person 2|manager", "owners not 2|Ben"}, "deputy"},
		"the own role": {chat.Event{Kind: chat.RoleSet, Person: 1, What: "staff"}, nil, ""},
		"deputy on": {chat.Event{Kind: chat.Deputy, Person: 2, What: "on"},
			[]string{"person 2|from now on", "owners not 2|Ben"}, ""},
		"deputy off": {chat.Event{Kind: chat.Deputy, Person: 2, What: "off"},
			[]string{"person 2|no longer", "owners not 2|Ben"}, ""},
		"removed": {chat.Event{Kind: chat.Removed, Person: 2, Phones: []chat.Chat{"tg:7", "tg:8"}},
			[]string{"tg:7|", "tg:8|", "owners not 2|Ben"}, ""},
		"erased": {chat.Event{Kind: chat.Erased, Person: 2, Name: "Cara"}, []string{"owners not 2|Cara"}, "Ben"},
		"a new phone of one's own": {chat.Event{Kind: chat.PhoneNew, Person: 1},
			[]string{"owners not 1|Ada"}, ""},
		"not delivered":  {chat.Event{Kind: chat.NotDelivered}, []string{"here|"}, ""},
		"not deleted":    {chat.Event{Kind: chat.NotDeleted}, []string{"here|"}, ""},
		"gone":           {chat.Event{Kind: chat.CannotReach, Person: 2}, []string{"managers|Ben"}, ""},
		"a photo":        {chat.Event{Kind: chat.PhotoLost, Person: 2}, []string{"person 2|photo"}, ""},
		"nobody's photo": {chat.Event{Kind: chat.PhotoLost}, []string{"managers|photo"}, ""},
		"locked": {chat.Event{Kind: chat.Locked, Person: 2},
			[]string{"person 2 own phones|", "managers not 2|Ben"}, ""},
		"signed": {chat.Event{Kind: chat.SignedAs, Person: 2, What: "opening"},
			[]string{"person 2 own phones|" + "pening"}, ""},
	} {
		f := chat.Facts{Shop: sh, Person: ada, Lang: "en"}
		list := trust.Teller{Texts: catalogue}.Event(x.e, f)
		if len(list) != len(x.want) {
			t.Errorf("%s: %d told, want %d: %+v", name, len(list), len(x.want), list)
			continue
		}
		for i, r := range list {
			whom, words, _ := strings.Cut(x.want[i], "|")
			text := r.Body[0].Text
			if to(r.To) != whom || !strings.Contains(text, words) || x.not != "" && strings.Contains(text, x.not) {
				t.Errorf("%s: %s are told %q, want %s told of %q", name, to(r.To), text, whom, words)
			}
			if !r.Event || r.Silent != (x.e.Kind == chat.SignedAs) || strings.Contains(text, "{{") ||
				strings.TrimSpace(text) == "" {
				t.Errorf("%s: %+v", name, r)
			}
		}
	}
}

// Two ends of a thing are told in other words, so that nobody takes one for the other.
func TestBothEnds(t *testing.T) {
	catalogue, err := texts.Load()
	if err != nil {
		t.Fatal(err)
	}
	sh, err := shop.New(1, 1, shop.Example())
	if err != nil {
		t.Fatal(err)
	}
	said := map[string]chat.Event{}
	for _, e := range []chat.Event{
		{Kind: chat.Deputy, Person: 2, What: "on"}, {Kind: chat.Deputy, Person: 2, What: "off"},
		{Kind: chat.PhoneOpen, Person: 2, What: "on"}, {Kind: chat.PhoneOpen, Person: 2, What: "off"},
		{Kind: chat.Frozen, Person: 2}, {Kind: chat.Thawed, Person: 2}, {Kind: chat.PhoneLink, Person: 2},
		{Kind: chat.PhoneNew, Person: 2}, {Kind: chat.CodeSet, Person: 2},
	} {
		ada, _ := sh.Person(1)
		for _, r := range (trust.Teller{Texts: catalogue}).Event(e, chat.Facts{Shop: sh, Person: ada, Lang: "en"}) {
			text := r.Body[0].Text
			if other, ok := said[text]; ok {
				t.Errorf("%+v and %+v are told alike: %q", e, other, text)
			}
			said[text] = e
		}
	}
	if len(said) < 18 {
		t.Errorf("only %d sentences", len(said))
	}
}
