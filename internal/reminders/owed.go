package reminders

import (
	"time"

	"shopfloat/internal/bankdays"
	"shopfloat/internal/shop"
)

// Owed is money of the bank that did not come. It begins when it is spoken of, see
// [Overdue].
const Owed Task = "owed"

// LongOwed is money of the bank that is later than any way of looking explains.
const LongOwed Task = "owed-long"

// longLate is how many banking days late money is spoken of at once, however seldom
// somebody looks at the bank. Common practice, no source.
const longLate = 10

// Overdue is when a credit that was due on a date is spoken of: on the next banking day,
// or, where the shop looks at its bank less often, when it looks next: on a Monday, or
// when a new month has begun. One that is more than ten banking days late does not wait.
func Overdue(s *shop.Shop, due shop.Date) time.Time {
	looks := bankdays.Next(s.Currency, due.Add(1))
	switch s.BankLook {
	case shop.LooksWeekly:
		for looks.Weekday() != time.Monday {
			looks = looks.Add(1)
		}
	case shop.LooksByStatement:
		for looks.Time().Month() == due.Time().Month() {
			looks = looks.Add(1)
		}
	}
	looks = bankdays.Next(s.Currency, looks)
	return Notice(s, min(looks, dateOf(s, LongOverdue(s, due))))
}

// LongOverdue is when a credit that was due on a date is more than ten banking days late.
func LongOverdue(s *shop.Shop, due shop.Date) time.Time {
	return Notice(s, bankdays.Rule{Days: longLate + 1}.After(s.Currency, due))
}

// Notice is when things that have no time of their own are told on a date.
func Notice(s *shop.Shop, date shop.Date) time.Time { return Instant(s.Location, date, noticeTime) }

func dateOf(s *shop.Shop, at time.Time) shop.Date { return shop.DateOf(at.In(s.Location)) }
