package trade

import (
	"strconv"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/reminders"
	"shopfloat/internal/telling"
)

// OwedName names the deadline of a claim that is overdue.
const OwedName = "owed-"

// RemindOf plans the ladder of a claim from the morning after its due date on
// which banks pay: it ends when the claim is paid.
func RemindOf(c *engine.Talk, x books.Claim) {
	if x.On != "" && x.Left().IsPositive() {
		c.Climb(OwedName+strconv.FormatInt(x.Seq, 10), telling.OverdueFrom(c.Teller, x), reminders.Owed)
	}
}

// QuietPaid drops the reminders of claims that are paid.
func QuietPaid(c *engine.Talk, of []int64) {
	for _, seq := range of {
		if x := c.M.Claim(seq); x != nil && !x.Left().IsPositive() {
			c.Deadline(OwedName+strconv.FormatInt(seq, 10), time.Time{})
		}
	}
}
