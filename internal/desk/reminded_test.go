package desk_test

import (
	"testing"
	"time"

	"shopfloat/internal/shop"
)

// What people were reminded of is known for a letter of the week, when all else that went
// out is forgotten, and no longer; a message that changed counts from the first one on.
func TestRemindersAreKeptForTheLetter(t *testing.T) {
	c := newCorner(t, t.TempDir()+"/shop.db", shop.Example(), time.Date(2026, 11, 25, 6, 0, 0, 0, time.UTC))
	c.types(t, owner, "status")
	c.tick(t)
	for _, clock := range []int{6*60 + 45, 7 * 60, 7*60 + 20, 7*60 + 45, 8*60 + 30} {
		c.at(25, clock/60, clock%60)
		c.tick(t)
	}
	for day, want := range map[int]int{26: 1, 30: 1, 32: 1} {
		c.at(day, 9, 30)
		ok(t, c.desk.Prune())
		tx, err := c.db.Begin(c.clock)
		ok(t, err)
		list, err := tx.Reminders(staff1, c.clock.AddDate(0, 0, -9))
		ok(t, err)
		tx.Rollback()
		if len(list) != want || list[0].Key != "due-2026-11-25-opening-1" ||
			list[0].First.Format("15:04") != "06:45" || list[0].Last.Format("15:04") != "07:20" {
			t.Errorf("after %d days: %+v", day-25, list)
		}
	}
	c.at(37, 9, 30)
	ok(t, c.desk.Prune())
	if left := c.ask("SELECT count(*) FROM outbox WHERE key GLOB 'due-2026-11-25-*'"); left != "0" {
		t.Errorf("%s rows are left after twelve days", left)
	}
}
