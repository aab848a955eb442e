package reminders

import (
	"time"

	"shopfloat/internal/shop"
)

// Owed is money of the bank that did not come. It begins when it is overdue.
const Owed Task = "owed"

// Notice is when things that have no time of their own are told on a date.
func Notice(s *shop.Shop, date shop.Date) time.Time { return Instant(s.Location, date, noticeTime) }
