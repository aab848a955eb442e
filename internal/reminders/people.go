package reminders

import (
	"slices"

	"shopfloat/internal/shop"
)

// People gives who a group is for a task of a day: never somebody who said they
// cannot come, as long as there is anybody else. A group of nobody gives way to
// the next one.
func People(s *shop.Shop, date shop.Date, task Task, to shop.Group) []shop.PersonID {
	return Reached(s, date, task, to, func(shop.PersonID) bool { return false })
}

// Reached is [People] without those who are away: whom no message can reach. A checklist that is not
// ticked off is nothing that an owner hears of at once, see [AtOnce]: where nobody manages it stands in
// the letter of the week, and whoever opened was asked for it, an owner who is alone among them.
func Reached(
	s *shop.Shop, date shop.Date, task Task, to shop.Group, away func(shop.PersonID) bool,
) []shop.PersonID {
	who, asked := group{s, date, away}, to
	if to == shop.List {
		if list := who.onList(task); len(list) > 0 {
			return list
		}
		to = shop.Managers
	}
	if to == shop.Managers {
		if list := who.withRole(shop.Manager); len(list) > 0 || task == Ticks && asked == to {
			return list
		}
	}
	if list := who.withRole(shop.Owner); len(list) > 0 {
		return list
	}
	var owners []shop.PersonID // even absent ones: somebody must be told
	for _, p := range s.People {
		if p.Role == shop.Owner {
			owners = append(owners, p.ID)
		}
	}
	return owners
}

// group looks for people of a shop who can act on a date.
type group struct {
	shop *shop.Shop
	date shop.Date
	away func(shop.PersonID) bool
}

func (g group) acts(id shop.PersonID) bool { return !g.shop.Plan.Absent(id, g.date) && !g.away(id) }

// onList is whoever is down for the task, or all staff.
func (g group) onList(task Task) []shop.PersonID {
	d := On(g.shop, g.date)
	down := d.Duty.Closes
	if task == Opening || task == Ticks {
		down = d.Duty.Opens
	}
	if _, works := g.shop.Person(down); works && g.acts(down) {
		return []shop.PersonID{down}
	}
	return g.withRole(shop.Staff)
}

func (g group) withRole(role shop.Role) []shop.PersonID {
	var list []shop.PersonID
	for _, p := range g.shop.People {
		if (p.Role == role || p.Acts() == role) && g.acts(p.ID) && !slices.Contains(list, p.ID) {
			list = append(list, p.ID)
		}
	}
	return list
}
