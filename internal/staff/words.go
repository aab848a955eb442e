// Package staff is who works in a shop, in words, and what may be done about whom.
package staff

import (
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/names"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/trust"
)

// NotFree says why somebody new cannot be called so: another is, or was, or would
// be taken for one who is, and nobody's name is a role.
func NotFree(t *telling.Teller, name string) string {
	for _, r := range shop.Roles() {
		if names.Same(name, t.V.Say("role."+string(r))) {
			return t.V.Say("name-role")
		}
	}
	if p, ok := Called(t.F.Shop, name); ok {
		return t.V.Say("name-taken", "who", p.Name)
	}
	return ""
}

// Called finds whoever of a shop has a name, or had it, or one that looks like it.
func Called(s *shop.Shop, name string) (shop.Person, bool) {
	for _, list := range [][]shop.Person{s.People, s.Former} {
		for _, p := range list {
			if names.Same(p.Name, name) {
				return p, true
			}
		}
	}
	return shop.Person{}, false
}

// Stands reports whether whoever gave the link out may still do so.
func Stands(l *chat.Link) bool {
	if l.By == 0 {
		return true
	}
	by, ok := l.Shop.Person(l.By)
	return ok && access.MayManage(by.Acts(), l.Role)
}

func Taken(s *shop.Shop, name string) bool {
	_, found := Called(s, name)
	return found
}

// Account tells what a newcomer's account is called: what they chose themselves
// in quotes, and apart from it the name that is theirs alone.
func Account(t *telling.Teller, in chat.Input) []string {
	var lines []string
	if chosen := names.Quoted(in.From); chosen != "" {
		lines = append(lines, t.V.Say("told.joined-account", "account", chosen))
	}
	if public := names.Seen(in.Public); public != "" {
		lines = append(lines, t.V.Say("told.joined-public", "name", public))
	}
	return append(lines, t.V.Say("told.joined-check"))
}

// FormerNamed are people who left and still have their name; only an owner may see to them.
func FormerNamed(t *telling.Teller) []shop.Person {
	if t.F.Person.Role != shop.Owner {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(t.F.Shop.Former), func(p shop.Person) bool { return p.Name == "" })
}

func Phones(t *telling.Teller) []chat.Phone {
	if t.F.Ask.Phones == nil {
		return nil
	}
	return t.F.Ask.Phones()
}

func RoleName(t *telling.Teller, p shop.Person) string {
	if p.Deputy {
		return t.V.Say("role.deputy")
	}
	return t.V.Say("role." + string(p.Role))
}

// PhoneWord says what is special about a person's phone.
func PhoneWord(t *telling.Teller, phones []chat.Phone, who shop.Person) string {
	if who.Disputed {
		return t.V.Say("phone.disputed")
	}
	word := "phone.none"
	for _, p := range phones {
		switch {
		case p.Person != who.ID:
		case p.Frozen:
			return t.V.Say("phone.frozen")
		case p.Gone:
			return t.V.Say("phone.gone")
		case p.Shared:
			return t.V.Say("phone.shared")
		default:
			word = ""
		}
	}
	if word == "" {
		return ""
	}
	return t.V.Say(word)
}

// MayManage reports whether the speaker may change somebody.
func MayManage(t *telling.Teller, p shop.Person) bool {
	return p.ID == t.F.Person.ID || access.MayManage(t.F.Person.Role, p.Role)
}

// Actions are what the speaker can do about somebody now.
func Actions(t *telling.Teller, p shop.Person) []string {
	live, frozen, shared := PhonesOf(t, p.ID)
	var list []string
	if t.F.Person.Role == shop.Owner || p.ID != t.F.Person.ID {
		list = append(list, "role")
	}
	switch {
	case p.Deputy:
		list = append(list, "no-deputy")
	case p.Role == shop.Staff:
		list = append(list, "deputy")
	}
	switch {
	case shared:
		list = append(list, "unshare")
	case live && !LastOwner(t, p): // somebody must be able to take the mark off again
		list = append(list, "share")
	}
	if p.ID != t.F.Person.ID && p.Disputed {
		if trust.MayDecide(t.F.Person, p) {
			list = append(list, "old", "new")
		}
	} else if p.ID != t.F.Person.ID {
		list = append(list, "phone")
	}
	if p.ID != t.F.Person.ID {
		if frozen {
			list = append(list, "thaw")
		} else if live {
			list = append(list, "freeze")
		}
		if p.Signs || t.F.Ask.Coded != nil && t.F.Ask.Coded(p.ID) {
			list = append(list, "void")
		} else {
			list = append(list, "may-sign")
		}
	}
	return append(list, "remove")
}

func PhonesOf(t *telling.Teller, id shop.PersonID) (live, frozen, shared bool) {
	for _, p := range Phones(t) {
		if p.Person == id {
			live, frozen, shared = live || !p.Frozen, frozen || p.Frozen, shared || p.Shared
		}
	}
	return live, frozen, shared
}

// Counters are a button for each of a shop who may count, for the phone on the counter.
func Counters(s *shop.Shop) (rows [][]chat.Button) {
	for _, p := range s.People {
		if access.Counting.Has(p.Acts()) {
			rows = append(rows, []chat.Button{{Label: p.Name, Data: "who-" + strconv.FormatInt(int64(p.ID), 10)}})
		}
	}
	return rows
}

// LastOwner reports whether nobody would own the shop without a person.
func LastOwner(t *telling.Teller, p shop.Person) bool {
	return p.Role == shop.Owner && !slices.ContainsFunc(t.F.Shop.People, func(o shop.Person) bool {
		return o.Role == shop.Owner && o.ID != p.ID
	})
}

// NamedRole takes the role from behind a name: "Priya staff", "Sam as manager". What is a role's
// word alone is left, since it is no name either.
func NamedRole(t *telling.Teller, s string) (name string, role shop.Role) {
	words := strings.Fields(s)
	if len(words) < 2 {
		return s, ""
	}
	last := strings.Trim(words[len(words)-1], ".,!")
	for _, r := range shop.Roles() {
		if strings.EqualFold(last, t.V.Say("role."+string(r))) {
			words, role = words[:len(words)-1], r
		}
	}
	if role == "" {
		return s, ""
	}
	for len(words) > 1 && slices.Contains(t.V.List("words.role-as"), strings.ToLower(words[len(words)-1])) {
		words = words[:len(words)-1]
	}
	return strings.TrimRight(strings.Join(words, " "), " ,:-"), role
}
