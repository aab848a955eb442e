package desk_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/desk"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// What the agenda lists is what is really sent, minute by minute, over a change-over and a public
// holiday: of the openings on days on which nobody opens, of the closing and of what is unclosed
// after one that somebody opened.
func TestAgendaIsWhatIsSent(t *testing.T) {
	for zone, from := range map[string]time.Time{
		"Europe/Dublin":      time.Date(2026, 10, 22, 5, 0, 0, 0, time.UTC),
		"America/New_York":   time.Date(2026, 10, 29, 9, 0, 0, 0, time.UTC),
		"Asia/Tokyo":         time.Date(2026, 11, 19, 20, 0, 0, 0, time.UTC),
		"Australia/Adelaide": time.Date(2026, 10, 1, 20, 0, 0, 0, time.UTC),
	} {
		t.Run(zone, func(t *testing.T) {
			s := shop.Example()
			s.Zone = zone
			if zone == "Asia/Tokyo" {
				s.Country, s.Currency = "JP", "JPY"
			}
			c := newCorner(t, t.TempDir()+"/shop.db", s, from)
			opened := reminders.DayOf(c.shop, from)
			c.opens(t)
			sent := map[string]bool{}
			c.heard = func(o desk.Out) {
				if n, _, ok := reminders.ParseKey(o.Reply.Key); ok && strings.HasPrefix(o.Reply.Key, "due-") {
					sent[fmt.Sprint(c.clock.UTC().Format("2006-01-02 15:04"), " ", n.Date, " ", n.Task)] = true
				}
			}
			until := from.AddDate(0, 0, 6)
			for {
				due, some, err := c.desk.NextDue(context.Background())
				ok(t, err)
				if !some || !due.Before(until) {
					break
				}
				c.clock = due
				c.tick(t)
			}
			want := map[string]bool{}
			for _, item := range reminders.Agenda(c.shop, from, until) {
				of := item.Task == reminders.Opening && item.Date != opened ||
					(item.Task == reminders.Closing || item.Task == reminders.Unclosed) && item.Date == opened ||
					item.Task == reminders.Eve
				if of {
					want[fmt.Sprint(item.At.UTC().Format("2006-01-02 15:04"), " ", item.Date, " ", item.Task)] = true
				}
			}
			if len(want) < 10 {
				t.Errorf("only %d reminders", len(want))
			}
			for key := range want {
				if !sent[key] {
					t.Errorf("on the agenda and not sent: %s", key)
				}
			}
			for key := range sent {
				if !want[key] && !slices.Contains([]string{"summary", "doubt"}, key[strings.LastIndex(key, " ")+1:]) {
					t.Errorf("sent and not on the agenda: %s", key)
				}
			}
		})
	}
}
