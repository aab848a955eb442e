package trust

import (
	"slices"
	"strconv"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
)

// How a record came by its name, where the phone does not say it all. The books
// carry these marks and make nothing of them.
const (
	SignedCode  books.Mark = "signed"       // on a shared phone, with the person's own code
	SignedFirst books.Mark = "signed-first" // there, with a code that was chosen that moment
	InDispute   books.Mark = "disputed"     // from one of two phones, while it is open whose is theirs
)

// Changed is what new settings do with people who were there before.
func Changed(before, after chat.Facts, res *chat.Result) (list []chat.Event) {
	if res.Settings == nil || before.Shop == nil || before.Shop.ID != after.Shop.ID {
		return nil
	}
	for _, was := range before.Shop.People {
		now, here := after.Shop.Person(was.ID)
		switch {
		case !here:
			continue // see Removed
		case now.Role != was.Role:
			list = append(list, chat.Event{Kind: chat.RoleSet, Person: was.ID, What: string(now.Role)})
		case now.Deputy != was.Deputy:
			list = append(list, chat.Event{Kind: chat.Deputy, Person: was.ID, What: OnOff(now.Deputy)})
		case now.Signs != was.Signs && res.Void != was.ID:
			list = append(list, chat.Event{Kind: chat.MaySign, Person: was.ID, What: OnOff(now.Signs)})
		}
	}
	return list
}

// OnOff says in an event whether something holds from now on.
func OnOff(on bool) string {
	if on {
		return "on"
	}
	return "off"
}

// Stopped reports whether a step changes something in the name of somebody of whom
// it is open which phone is theirs.
func Stopped(f chat.Facts, res *chat.Result) bool {
	who := f.Person
	if res.As != 0 {
		who, _ = f.Shop.Person(res.As)
	}
	return who.Disputed && changes(res)
}

// changes reports whether a step changes more than its chat's dialog and the books.
func changes(res *chat.Result) bool {
	o := res.Orders
	// what changes nothing of others'
	o.As, o.Turn, o.Accept, o.Found, o.Missed = 0, 0, false, false, ""
	return res.Settings != nil && !res.Accept && !res.Found || o != (chat.Orders{})
}

// Signed says how the records of a step come by their name; nothing, where they
// are from a phone that is one person's alone.
func Signed(f chat.Facts, res chat.Result) books.Mark {
	switch {
	case res.As != 0 && res.PIN != nil:
		return SignedFirst
	case res.As != 0:
		return SignedCode
	case f.Person.Disputed:
		return InDispute
	}
	return ""
}

// Said says that a dialog tells somebody by itself.
func Said(replies []chat.Reply, to chat.Audience) bool {
	return slices.ContainsFunc(replies, func(r chat.Reply) bool {
		return len(r.Body) > 0 && !r.Event && (to.Person != 0 && r.To.Person == to.Person ||
			to.Owners && r.To.Managers)
	})
}

// Ordered are what orders do with people. Phones are those that were cut off by it, whose
// says to whom one belongs; 0 is nobody.
func Ordered(
	in chat.Input, before chat.Facts, res *chat.Result, phones []chat.Chat, whose func(chat.Chat) shop.PersonID,
) (list []chat.Event) {
	add := func(kind chat.EventKind, who shop.PersonID, what string) {
		if who != 0 {
			list = append(list, chat.Event{Kind: kind, Person: who, What: what, Phones: phones})
		}
	}
	add(chat.Removed, res.Remove, "")
	add(chat.Frozen, res.Freeze, "")
	add(chat.Thawed, res.Thaw, "")
	if before.Shop != nil {
		if p, ok := before.Shop.Known(res.Erase); ok {
			list = append(list, chat.Event{Kind: chat.Erased, Person: p.ID, Name: p.Name})
		}
	}
	if res.PIN != nil && before.Shared {
		add(chat.CodeSet, res.PIN.Person, "")
	}
	add(chat.CodeVoid, res.Void, "")
	if d := res.Decide; d != nil {
		what := "new"
		if d.Old {
			what = "old"
		}
		add(chat.Decided, d.Person, what)
	}
	if res.Invite != nil {
		add(chat.PhoneLink, res.Invite.Person, "")
	}
	if res.Accept && before.Link != nil {
		what := ""
		if before.Link.By == 0 {
			what = ByComputer
		}
		add(chat.PhoneNew, before.Link.Person, what)
	}
	if res.Share != nil {
		if who := whose(res.Share.Chat); who != before.Person.ID {
			add(chat.PhoneOpen, who, OnOff(res.Share.Shared))
		}
	}
	if len(res.Records) > 0 && res.As != 0 && res.As != before.Person.ID {
		add(chat.SignedAs, res.As, string(res.Records[0].Kind))
	}
	if in.Kind == chat.Proof && in.What != "" {
		who, _ := strconv.ParseInt(in.What, 10, 64) // as the desk found it
		add(chat.Locked, shop.PersonID(who), "")
	}
	return list
}

// ByComputer says in an event that the link was made at the computer, by whoever
// may do everything there.
const ByComputer = "computer"
