package desk_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
)

// A row that is lost while the program runs is planned again at the next sweep, whichever it is:
// the reminder comes at its time. What is done, put off or at rest is not taken for lost.
func TestLostRows(t *testing.T) {
	noon := time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)
	newShop := func(t *testing.T) *corner {
		c := newCorner(t, t.TempDir()+"/shop.db", shop.Example(), noon.Add(-6*time.Hour))
		c.opens(t)
		c.clock = noon
		c.tick(t)
		return c
	}
	rows := func(c *corner) string {
		return c.ask("SELECT group_concat(name || ' ' || due_at, '\n') FROM " +
			"(SELECT * FROM deadline WHERE name LIKE 'due:%' OR name LIKE 'plan%' ORDER BY name)")
	}
	for name, lost := range map[string]string{
		"closing of today":      "name = 'due:2026-11-25:closing'",
		"opening of tomorrow":   "name = 'due:2026-11-26:opening'",
		"the weekly letter":     "name = 'due:2026-11-30:summary'",
		"what plans the others": "name = 'plan'",
		"all days":              "name LIKE 'due:%'",
		"everything":            "1",
	} {
		t.Run(name, func(t *testing.T) {
			c := newShop(t)
			if name == "everything" { // of a shop that was laid down, a machine without a row is known, too
				tx, err := c.db.Begin(c.clock)
				ok(t, err)
				ok(t, tx.SaveSettings(1, c.shop.Settings))
				ok(t, tx.Commit())
			}
			before := rows(c)
			c.exec("DELETE FROM deadline WHERE " + lost)
			c.clock = c.clock.Add(time.Minute)
			c.tick(t)
			if after := rows(c); plans(after) != plans(before) {
				t.Errorf("planned:\n%s\nwant:\n%s", after, before)
			}
			c.told = nil
			c.clock = noon.Add(9*time.Hour + 15*time.Minute)
			c.tick(t)
			if fmt.Sprint(c.told) == "[]" {
				t.Error("nobody is reminded of the closing")
			}
		})
	}
	t.Run("nothing", func(t *testing.T) {
		c := newShop(t)
		before := rows(c)
		for range 3 {
			c.clock = c.clock.Add(time.Minute)
			c.tick(t)
		}
		if after := rows(c); after != before {
			t.Errorf("planned anew:\n%s\nwas:\n%s", after, before)
		}
	})
}

// So are rows of what stays open until somebody sees to it, as a checklist and money of the bank. What is
// done, paid, or was told for the last time is not taken for lost.
func TestLostMatters(t *testing.T) {
	for name, lost := range map[string]string{"nothing": "0", "each of them": matters,
		"the list": "name = 'ticks-6'", "the credit": "name LIKE 'owed-%'",
		"the credit that is long late": "name LIKE 'owedlong-%'"} {
		t.Run(name, func(t *testing.T) {
			s := shop.Example()
			s.CreditDays, s.Checked, s.Machines[0].TestDispense = 1, false, false
			c := newCorner(t, t.TempDir()+"/shop.db", s, time.Date(2026, 11, 25, 6, 0, 0, 0, time.UTC))
			c.types(t, staff1, "open 40 150 200", "[Confirm", "[All done", "close 12 60 80", "[I looked", "28 90 120",
				"[Confirm", "open 40 150 200", "[Confirm")
			c.tick(t)
			rows := func() string {
				return c.ask("SELECT group_concat(name || ' ' || due_at, '\n') FROM " +
					"(SELECT * FROM deadline WHERE " + matters + " ORDER BY name)")
			}
			before := rows()
			if n := strings.Count(before, "\n"); n != 2 {
				t.Fatalf("planned:\n%s", before)
			}
			c.exec("DELETE FROM deadline WHERE " + lost)
			c.clock = c.clock.Add(time.Minute)
			c.tick(t)
			if after := rows(); after != before {
				t.Errorf("planned:\n%s\nwant:\n%s", after, before)
			}
			if again := strings.Contains(c.log.String(), "reminders were missing"); again != (name != "nothing") {
				t.Errorf("planned again: %t", again)
			}
			c.until(t, c.clock.Add(30*24*time.Hour)) // the ladders come to their end
			if n := strings.Count(c.log.String(), "reminders were missing"); n > 1 {
				t.Errorf("planned again %d times:\n%s", n, c.log.String())
			}
		})
	}
}

// matters are the rows of what is open there: the second period is number 6.
const matters = "(name = 'ticks-6' OR name LIKE 'owed%')"

// plans leaves out when a plan goes on: that moves when it is made anew.
func plans(rows string) string {
	var kept []string
	for line := range strings.Lines(rows) {
		name, _, _ := strings.Cut(line, " ")
		if name == chat.PlanGoOn {
			line = name
		}
		kept = append(kept, line)
	}
	return strings.Join(kept, "")
}
