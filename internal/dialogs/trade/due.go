package trade

import (
	"strconv"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/reminders"
	"shopfloat/internal/tasks"
	"shopfloat/internal/telling"
)

// RemindOf plans when a claim that is overdue is spoken of, as often as the shop looks at
// its bank: it ends when the claim is paid.
func RemindOf(c *engine.Talk, x books.Claim) {
	if x.On != "" && x.Left().IsPositive() {
		no := strconv.FormatInt(x.Seq, 10)
		c.Climb(tasks.LongName+no, reminders.LongOverdue(c.F.Shop, x.On), reminders.LongOwed)
		c.Climb(tasks.OwedName+no, telling.OverdueFrom(c.Teller, x), reminders.Owed)
	}
}

// QuietPaid drops the reminders of claims that are paid.
func QuietPaid(c *engine.Talk, of []int64) {
	for _, seq := range of {
		if x := c.M.Claim(seq); x != nil && !x.Left().IsPositive() {
			c.Deadline(tasks.LongName+strconv.FormatInt(seq, 10), time.Time{})
			c.Deadline(tasks.OwedName+strconv.FormatInt(seq, 10), time.Time{})
		}
	}
}
