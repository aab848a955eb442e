// Package settling tells the matcher what the books know: what the bank owes, and
// which of its lines are booked. It is pure.
package settling

import (
	"cmp"
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/matching"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/statement"
)

// Machine is one machine with all that its ledger tells.
type Machine struct {
	Shop  *shop.Shop
	ID    shop.MachineID
	Books *books.Machine // by [books.History]
}

// recent is for how many days a paid claim is kept in mind, for customers' claims
// about it: card schemes allow about 120, common practice, no source.
const recent = 130

// Facts collects what the machines of one or more shops are owed.
func Facts(machines []Machine) matching.Facts {
	var f matching.Facts
	var late []int
	var read lines
	for _, m := range machines {
		days := reminders.NewDays(m.Shop)
		claims := map[int64]matching.Claim{}
		for _, c := range m.Books.Claims {
			x := claimOf(m, days, c)
			claims[c.Seq] = x
			if x.Left.IsPositive() {
				f.Claims = append(f.Claims, x)
			} else {
				f.Closed = append(f.Closed, x)
			}
		}
		for _, p := range m.Books.Payments {
			b := bookedOf(m, p, claims)
			if late = append(late, lateness(b)...); p.Line == nil {
				f.Booked = append(f.Booked, b)
			} else {
				read.add(p, b)
			}
		}
	}
	f.Fee = feeOf(machines)
	f.Booked = append(f.Booked, read.booked()...)
	f.Closed = latest(f.Closed)
	f.Slack = slack(late)
	return f
}

// feeOf is what comes in for one payout, where all of the shops say the same of it.
func feeOf(machines []Machine) (unit decimal.Decimal) {
	for i, m := range machines {
		if u := m.Shop.Fee.Unit(); i == 0 {
			unit = u
		} else if !u.Equal(unit) {
			return decimal.Zero
		}
	}
	return unit
}

func claimOf(m Machine, days *reminders.Days, c books.Claim) matching.Claim {
	return matching.Claim{Shop: m.Shop.ID, Machine: m.ID, Seq: c.Seq, Day: cmp.Or(c.Day, days.DayOf(c.Opened)),
		Due: c.On, Left: c.Left(), Value: c.Value, Currency: m.Shop.Currency}
}

func bookedOf(m Machine, p books.Payment, claims map[int64]matching.Claim) matching.Booked {
	b := matching.Booked{Day: shop.DateOf(p.Happened.In(m.Shop.Location)), Amount: p.Value,
		Currency: m.Shop.Currency}
	for _, part := range p.Parts {
		if c, ok := claims[part.Of]; ok && part.As == books.Pays {
			b.Claims = append(b.Claims, c)
		}
	}
	return b
}

// lateness is how many days after its due one each claim of a payment was paid.
func lateness(b matching.Booked) (days []int) {
	for _, c := range b.Claims {
		if c.Due != "" && b.Amount.IsPositive() {
			days = append(days, max(0, int(b.Day.Time().Sub(c.Due.Time()).Hours()/24)))
		}
	}
	return days
}

// Bounds of what is learnt about the usual delay.
const (
	enough   = 8 // payments
	maxSlack = 3 // banking days
)

// slack is within how many days after the due one nine of ten payments came.
func slack(late []int) int {
	if len(late) < enough {
		return 1
	}
	slices.Sort(late)
	return min(max(1, late[len(late)*9/10]), maxSlack)
}

// latest keeps claims of the last months, counted from the newest.
func latest(claims []matching.Claim) []matching.Claim {
	if len(claims) == 0 {
		return nil
	}
	slices.SortStableFunc(claims, func(a, b matching.Claim) int { return cmp.Compare(a.Day, b.Day) })
	from := claims[len(claims)-1].Day.Add(-recent)
	return slices.DeleteFunc(claims, func(c matching.Claim) bool { return c.Day < from })
}

// DateOrder is how a shop's country writes dates.
func DateOrder(machines []Machine) statement.Order {
	for _, m := range machines {
		if m.Shop.Country != "US" {
			return statement.DayFirst
		}
	}
	return statement.MonthDay
}
