package reminders

import (
	"slices"

	"shopfloat/internal/shop"
)

// People gives who a group is for a task of a day: never somebody who said they
// cannot come, as long as there is anybody else. A group of nobody gives way to
// the next one.
func People(s *shop.Shop, date shop.Date, task Task, to shop.Group) []shop.PersonID {
	if to == shop.List {
		if list := onList(s, date, task); len(list) > 0 {
			return list
		}
		to = shop.Managers
	}
	if to == shop.Managers {
		if list := withRole(s, date, shop.Manager); len(list) > 0 {
			return list
		}
	}
	if list := withRole(s, date, shop.Owner); len(list) > 0 {
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

// onList is whoever is down for the task, or all staff.
func onList(s *shop.Shop, date shop.Date, task Task) []shop.PersonID {
	d := On(s, date)
	down := d.Duty.Closes
	if task == Opening || task == Ticks {
		down = d.Duty.Opens
	}
	if _, works := s.Person(down); works && !s.Plan.Absent(down, date) {
		return []shop.PersonID{down}
	}
	return withRole(s, date, shop.Staff)
}

func withRole(s *shop.Shop, date shop.Date, role shop.Role) []shop.PersonID {
	var list []shop.PersonID
	for _, p := range s.People {
		if (p.Role == role || p.Acts() == role) && !s.Plan.Absent(p.ID, date) && !slices.Contains(list, p.ID) {
			list = append(list, p.ID)
		}
	}
	return list
}
