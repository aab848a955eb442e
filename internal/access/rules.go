package access

import "shopfloat/internal/shop"

// Circle is a circle of people who may do something, told by their role. The
// zero circle is nobody. What each circle may do is declared where it is done.
type Circle int

// The circles. Counting are those who stand at the machine, Keeping those who
// keep the money's books, Managing those who answer for the shop.
const (
	Everyone Circle = iota + 1
	Counting
	Keeping
	Managing
	Owning
)

// Has reports whether a role belongs to the circle. A role that is none belongs
// to no circle.
func (c Circle) Has(role shop.Role) bool {
	switch role {
	case shop.Owner:
		return c != 0
	case shop.Manager:
		return c != 0 && c != Owning
	case shop.Staff:
		return c == Everyone || c == Counting
	case shop.Bookkeeper:
		return c == Everyone || c == Keeping
	}
	return false
}

// Correctors lists who may correct records, without one person: whoever manages.
func Correctors(s *shop.Settings, but shop.PersonID) (list []shop.Person) {
	for _, p := range s.People {
		if p.Acts().Manages() && !p.Disputed && p.ID != but {
			list = append(list, p)
		}
	}
	return list
}

// CorrectsFor lists who has to correct a day that somebody closed: another manager,
// where the shop has one and wants it so. Of nobody it is open to whoever closed it.
func CorrectsFor(s *shop.Settings, closer shop.PersonID) []shop.Person {
	if s.OwnCorrect || closer == 0 {
		return nil
	}
	return Correctors(s, closer)
}

// MayManage reports whether a role may invite, change or remove another: an
// owner everybody, a manager those who are not owners or managers.
func MayManage(role, other shop.Role) bool {
	switch role {
	case shop.Owner:
		return true
	case shop.Manager:
		return other == shop.Staff || other == shop.Bookkeeper
	}
	return false
}
