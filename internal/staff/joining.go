package staff

import (
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// AsTyped is what followed a command, in the letters it was typed in.
func AsTyped(text, rest string) string {
	if at := len(text) - len(rest); at > 0 && strings.EqualFold(text[at:], rest) {
		return text[at:]
	}
	return rest
}

// LinkOver says why a link that was opened leads nowhere any more; empty where it does.
func LinkOver(v *texts.Voice, l *chat.Link) string {
	state := l.State
	if state == chat.LinkGood && l.Shop != nil && !Stands(l) {
		state = chat.LinkExpired
	}
	switch {
	case state == chat.LinkUsed || state == chat.LinkExpired:
		return v.Say("link-" + string(state))
	case l.Member && l.Person == 0:
		return v.Say("link-member", "place", l.Shop.Name)
	}
	return ""
}

// Newcomer is whom a link lets in. Somebody new whose name was taken meanwhile gets a number
// behind it, and settings with them in.
func Newcomer(l *chat.Link) (p shop.Person, s *shop.Settings) {
	if l.Person != 0 {
		p, _ = l.Shop.Person(l.Person)
		return p, nil
	}
	p = shop.Person{Name: l.Name, Role: l.Role}
	for n := 2; Taken(l.Shop, p.Name); n++ {
		p.Name = l.Name + " " + strconv.Itoa(n)
	}
	with := l.Shop.Settings
	with.People = append(slices.Clone(with.People), p)
	return p, &with
}
