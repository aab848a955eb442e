package desk_test

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// What everybody gets of one missed opening, and of one closing that is missed until the
// next noon: messages, and changes of one that is there. DEVELOPERS.md has the table. By the
// ladder alone it would be one message a rung, which is counted here as well.
func TestMessagesOfAMissedTask(t *testing.T) {
	for name, x := range map[string]struct {
		people map[chat.Chat]shop.PersonID
		want   string
	}{
		"alone": {map[chat.Chat]shop.PersonID{owner: 1},
			"opening: term:owner 3+2 of 5; closing: term:owner 3+2 of 5; unclosed: term:owner 1+2 of 3"},
		"two staff and an owner": {map[chat.Chat]shop.PersonID{owner: 1, staff1: 2, staff2: 3},
			"opening: term:owner 1+1 of 2, term:staff1 3+0 of 3, term:staff2 3+0 of 3; " +
				"closing: term:owner 1+1 of 2, term:staff1 3+0 of 3, term:staff2 3+0 of 3; " +
				"unclosed: term:owner 1+1 of 2, term:staff1 1+0 of 1, term:staff2 1+0 of 1"},
	} {
		t.Run(name, func(t *testing.T) {
			if got := missed(t, x.people); got != x.want {
				t.Errorf("got  %s\nwant %s", got, x.want)
			}
		})
	}
}

// missed plays a day on which nobody opens, and one on which nobody closes.
func missed(t *testing.T, people map[chat.Chat]shop.PersonID) string {
	s := shop.Example()
	s.People = s.People[:len(people)]
	s.Checked, s.Machines[0].TestDispense = false, false
	sent, edits := map[string]int{}, map[string]int{}
	c := &corner{buttons: map[chat.Chat][]chat.Button{}}
	c.office = &office{t: t, path: t.TempDir() + "/shop.db",
		clock: time.Date(2026, 11, 25, 6, 0, 0, 0, time.UTC)}
	c.open()
	_, err := c.db.AddShops(c.clock, []store.NewShop{{Settings: s, Accounts: people}})
	ok(t, err)
	c.heard = func(o desk.Out) {
		key := o.Reply.Key
		if n, _, is := reminders.ParseKey(key); is && len(o.Reply.Buttons) > 0 {
			what := string(n.Task) + " " + string(o.Chat)
			if o.Reply.Edit == "" {
				sent[what]++
			} else {
				edits[what]++
			}
		}
	}
	c.types(t, owner, "status") // from now on reminders are planned
	pass := func(until time.Time) { c.until(t, until) }
	pass(time.Date(2026, 11, 25, 20, 0, 0, 0, time.UTC))
	opening := counts(people, reminders.Opening, s, sent, edits)
	c.types(t, owner, "open 40 150 200", "[Confirm", "[All done")
	pass(time.Date(2026, 11, 26, 6, 30, 0, 0, time.UTC))
	closing := counts(people, reminders.Closing, s, sent, edits)
	pass(time.Date(2026, 11, 26, 14, 0, 0, 0, time.UTC))
	return opening + "; " + closing + "; " + counts(people, reminders.Unclosed, s, sent, edits)
}

// counts tells what each got of a task: messages, changes, and rungs of the ladder for them.
func counts(
	people map[chat.Chat]shop.PersonID, task reminders.Task, s shop.Settings, sent, edits map[string]int,
) string {
	sh, err := shop.New(1, 1, s)
	if err != nil {
		return err.Error()
	}
	var list []string
	for _, who := range []chat.Chat{owner, staff1, staff2} {
		id, there := people[who]
		if !there {
			continue
		}
		rungs := 0
		for _, r := range reminders.Rungs(sh, "2026-11-25", task) {
			for _, told := range reminders.People(sh, "2026-11-25", task, r.To) {
				if told == id {
					rungs++
				}
			}
		}
		what := string(task) + " " + string(who)
		list = append(list, fmt.Sprintf("%s %d+%d of %d", who, sent[what], edits[what], rungs))
	}
	return string(task) + ": " + strings.Join(list, ", ")
}

// Whom a checklist that nobody ticks off is told: whoever opened, twice, the second time in place of
// the first; then who manages. An owner is not told at once, see [reminders.AtOnce]; one who is alone
// opened it, and hears of it as whoever opens does.
func TestUntickedList(t *testing.T) {
	three := map[chat.Chat]shop.PersonID{owner: 1, staff1: 2, staff2: 3}
	for name, x := range map[string]struct {
		people  map[chat.Chat]shop.PersonID
		manager bool
		opens   chat.Chat
		want    string
	}{
		"alone":                  {map[chat.Chat]shop.PersonID{owner: 1}, false, owner, "owner 2"},
		"two staff and an owner": {three, false, staff1, "staff1 2"},
		"with a manager":         {three, true, staff1, "staff1 2, staff2 1"},
		"opened by the owner":    {three, false, owner, "owner 2"},
	} {
		t.Run(name, func(t *testing.T) {
			s := shop.Example()
			if s.People = s.People[:len(x.people)]; x.manager {
				s.People[2].Role = shop.Manager
			}
			c := &corner{buttons: map[chat.Chat][]chat.Button{}}
			c.office = &office{t: t, path: t.TempDir() + "/shop.db",
				clock: time.Date(2026, 11, 25, 6, 30, 0, 0, time.UTC)}
			c.open()
			_, err := c.db.AddShops(c.clock, []store.NewShop{{Settings: s, Accounts: x.people}})
			ok(t, err)
			c.types(t, x.opens, "open 40 150 200", "[Confirm")
			c.matters = nil
			c.until(t, time.Date(2026, 11, 25, 20, 0, 0, 0, time.UTC))
			told := map[string]int{}
			for _, m := range c.matters {
				who, _, _ := strings.Cut(strings.TrimPrefix(m, "term:"), " ")
				told[who]++
			}
			var got []string
			for _, who := range slices.Sorted(maps.Keys(told)) {
				got = append(got, fmt.Sprint(who, " ", told[who]))
			}
			if strings.Join(got, ", ") != x.want {
				t.Errorf("told %v, want %s", got, x.want)
			}
		})
	}
}

// Down from before a closing that is missing until after the next morning: nobody was told in time,
// so it is told then, once.
func TestMissedWhileDown(t *testing.T) {
	for name, up := range map[string]time.Time{
		"up before the next telling": time.Date(2026, 11, 27, 7, 30, 0, 0, time.UTC),
		"up after it":                time.Date(2026, 11, 27, 9, 0, 0, 0, time.UTC),
		"days later":                 time.Date(2026, 11, 30, 9, 0, 0, 0, time.UTC),
	} {
		t.Run(name, func(t *testing.T) {
			c := newCorner(t, t.TempDir()+"/shop.db", shop.Example(), time.Date(2026, 11, 25, 6, 40, 0, 0, time.UTC))
			c.opens(t)
			c.until(t, time.Date(2026, 11, 25, 20, 0, 0, 0, time.UTC))
			c.clock, c.told = up, nil
			c.again(t)
			c.tick(t)
			c.until(t, up.Add(5*24*time.Hour))
			var told []string
			for _, m := range c.reminded() {
				if strings.HasPrefix(m, "term:staff") && !strings.Contains(m, "-opening-") {
					told = append(told, m)
				}
			}
			want := []string{"term:staff1 due-2026-11-25-unclosed-1", "term:staff2 due-2026-11-25-unclosed-1"}
			if !slices.Equal(told, want) {
				t.Errorf("told %q\nwant %q", told, want)
			}
		})
	}
}

// until lets what is due come due, one after the other.
func (c *corner) until(t *testing.T, at time.Time) {
	t.Helper()
	for {
		due, some, err := c.desk.NextDue(context.Background())
		ok(t, err)
		if !some || due.After(at) {
			c.clock = at
			return
		}
		if due.After(c.clock) {
			c.clock = due
		}
		c.tick(t)
	}
}
