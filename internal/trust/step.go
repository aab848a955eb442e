package trust

import (
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
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
	o.As, o.Turn, o.Accept, o.Found = 0, 0, false, false // what changes nothing of others'
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
