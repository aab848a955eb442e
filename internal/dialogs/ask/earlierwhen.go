package ask

import (
	"time"

	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/when"
)

// Earliest is how far back something may be entered.
const Earliest = when.LatelyDays * 24 * time.Hour

// ParseWhen reads "06:40", "yesterday 18:30", "24.11. 06:40", "24 Nov, 06:40" or "Tue 24 Nov, 06:40", as
// the cards write it, on the shop's clock. A time without a date is the last one that has passed.
func ParseWhen(c *engine.Talk, s string) (time.Time, bool) {
	now := c.Local(c.In.At)
	r := telling.Reader(c.Teller)
	r.Today = shop.DateOf(now) // the calendar's, also in the night of a shop that trades past midnight
	m, why := r.Moment(s)
	if why != when.OK {
		return time.Time{}, false
	}
	year, month, day := m.Day.Time().Date()
	t := time.Date(year, month, day, m.Minutes/60, m.Minutes%60, 0, 0, now.Location())
	if t.After(now) {
		t = t.AddDate(0, 0, -m.Every)
	}
	return t, true
}
