package desk_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"shopfloat/internal/checks"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// month is the model of what ought to be said: which days were opened and
// closed, and up to when everything due has been looked at.
type month struct {
	shop   *shop.Shop
	looked time.Time
	open   shop.Date      // day of the period that is open; empty for none
	done   [][2]shop.Date // of periods that are counted: the day each was for, and the day it was counted
	sent   map[string]int // by day, task and rung
	later  []waiting      // rungs that wait after an outage
}

// waiting is a rung of others than those who were told first.
type waiting struct {
	date shop.Date
	task reminders.Task
	at   time.Time
	rung reminders.Rung
}

// needed is the model's own idea of what is to be done.
func (m *month) needed(date shop.Date, task reminders.Task) bool {
	switch task {
	case reminders.Opening:
		for _, p := range m.done {
			if p[0] >= date && p[1] >= date {
				return false
			}
		}
		return m.open < date
	case reminders.Closing:
		return m.open != "" && m.open <= date
	}
	return m.open != "" && m.open <= date // figures are always given with the count here
}

// over reports whether it was told that a day is not closed, on its evening and the next morning.
func (m *month) over(date shop.Date, task reminders.Task) bool {
	told := m.open
	for told != "" && reminders.On(m.shop, told).Closed != reminders.Trading {
		told = told.Add(1)
	}
	return task == reminders.Closing && told < date || task == reminders.Unclosed && told != date
}

// look gives what is to be said at an instant: of each task the highest rung
// that came due since the last look, to everybody it is for. A rung that came
// due while the task was done is over: what makes the task needed again after
// it, as was says, begins with the next rung.
func (m *month) look(now time.Time, was month) (want []string) {
	today := shop.DateOf(now.In(m.shop.Location))
	for date := today.Add(-3); date <= today.Add(1); date = date.Add(1) {
		for _, task := range []reminders.Task{reminders.Opening, reminders.Closing, reminders.Unclosed} {
			want = append(want, m.waited(now, date, task)...)
			due, next := m.cameDue(now, date, task)
			if len(due) == 0 || !was.needed(date, task) || !m.needed(date, task) ||
				!now.Before(reminders.Until(m.shop, date, task)) || m.over(date, task) {
				continue
			}
			first, rest := due[len(due)-1], []reminders.Rung(nil)
			if now.Sub(due[0].At) > 5*time.Minute { // the program was down
				first = due[0]
				for _, r := range due {
					if r.To == first.To && len(rest) == 0 {
						first = r
					} else {
						rest = append(rest, r)
					}
				}
			}
			for _, r := range rest {
				at := now.Add(r.At.Sub(first.At))
				if half := next.Sub(now) / 2; !next.IsZero() && half < at.Sub(now) {
					at = now.Add(half)
				}
				m.later = append(m.later, waiting{date, task, at, r})
			}
			want = append(want, m.tells(date, task, first)...)
		}
	}
	m.looked = now
	slices.Sort(want)
	return slices.Compact(want) // what waited and what comes due at one instant is one card
}

// cameDue gives the rungs of a task since the last look, and the instant of the next one.
func (m *month) cameDue(
	now time.Time, date shop.Date, task reminders.Task,
) (due []reminders.Rung, next time.Time) {
	for _, r := range reminders.Rungs(m.shop, date, task) {
		switch {
		case r.At.After(now) && next.IsZero():
			next = r.At
		case r.At.After(m.looked) && !r.At.After(now):
			due = append(due, r)
		}
	}
	return due, next
}

// waited gives what those hear who waited after an outage, unless another rung has come
// meanwhile, in a second one.
func (m *month) waited(now time.Time, date shop.Date, task reminders.Task) (want []string) {
	var left []waiting
	for _, w := range m.later {
		if w.date != date || w.task != task || w.at.After(now) {
			left = append(left, w)
			continue
		}
		_, climbed := reminders.Highest(reminders.Rungs(m.shop, date, task), w.at, now)
		if late := now.Sub(w.at) > 5*time.Minute; m.needed(date, task) &&
			now.Before(reminders.Until(m.shop, date, task)) && !(late && climbed) {
			want = append(want, m.tells(date, task, w.rung)...)
		}
	}
	m.later = left
	return want
}

// tells gives whom a rung tells.
func (m *month) tells(date shop.Date, task reminders.Task, r reminders.Rung) (want []string) {
	m.sent[fmt.Sprint(date, task, r.No)]++
	chats := []string{"term:owner"}
	if r.To == shop.List {
		chats = []string{"term:staff1", "term:staff2"}
	}
	for _, chat := range chats {
		want = append(want, chat+" due-"+string(date)+"-"+string(task)+"-1")
	}
	return want
}

// TestLadders: for any hours, zone, outages and times of recording, each rung
// of each task of each day is enqueued at most once, and exactly once when it
// came due while the bot was up and the task was not recorded.
func TestLadders(t *testing.T) {
	dir := t.TempDir()
	n := 0
	checks.Rapid(t, 8, 120, 20_000, func(rt *rapid.T) {
		n++
		settings, start := drawShop(rt)
		path := filepath.Join(dir, fmt.Sprint(n)+".db")
		c := newCorner(t, path, settings, start)
		defer func() { _ = os.Remove(path); _ = c.db.Close() }()
		m := &month{shop: c.shop, looked: start, sent: map[string]int{}}
		c.types(rt, owner, "status") // from now on reminders are planned
		c.tick(rt)
		for range rapid.IntRange(5, 30).Draw(rt, "steps") {
			c.wander(rt, m)
		}
		if strings.Contains(c.log.String(), "reminders were missing") { // see package watch
			rt.Errorf("what was not lost is planned again:\n%s", c.log.String())
		}
		for rung, times := range m.sent {
			if times > 1 {
				rt.Errorf("%s is said %d times", rung, times)
			}
		}
	})
}

// drawShop draws a plan, and a beginning near a change-over.
func drawShop(t *rapid.T) (shop.Settings, time.Time) {
	s := shop.Example()
	s.Zone = rapid.SampledFrom([]string{
		"Europe/Dublin", "America/New_York", "Australia/Lord_Howe", "America/Havana", "Asia/Kolkata",
	}).Draw(t, "zone")
	s.Country = "XX"
	s.Plan.Night = &shop.Hours{} // none: what waits for the morning is tested elsewhere
	for d := range s.Hours {
		s.Hours[d] = shop.Hours{Open: 15 * rapid.IntRange(0, 60).Draw(t, "open")}
		s.Hours[d].Close = s.Hours[d].Open + 15*rapid.IntRange(4, 34).Draw(t, "length")
		if s.Hours[d].Close > 24*60 {
			s.Hours[d].Close -= 24 * 60 // past midnight
		}
		if rapid.IntRange(0, 6).Draw(t, "closed") == 0 {
			s.Hours[d] = shop.Hours{}
		}
	}
	near := rapid.SampledFrom([]shop.Date{
		"2026-03-07", "2026-03-28", "2026-04-04", "2026-10-03", "2026-10-24", "2026-10-31", "2026-11-25",
	}).Draw(t, "near")
	loc, err := time.LoadLocation(s.Zone)
	if err != nil {
		t.Fatal(err)
	}
	return s, reminders.Instant(loc, near, rapid.IntRange(0, 24*60).Draw(t, "start"))
}

// wander lets time pass, up or down, and perhaps records what is next.
func (c *corner) wander(t *rapid.T, m *month) {
	after := time.Duration(rapid.IntRange(1, 400).Draw(t, "minutes")) * time.Minute
	until := c.clock.Add(after)
	down := rapid.IntRange(0, 2).Draw(t, "down") == 0
	for !down {
		due, ok, err := c.desk.NextDue(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		if !ok || due.After(until) {
			break
		}
		c.clock = due
		c.check(t, m, *m)
	}
	c.clock = until
	if down {
		c.again(t)
	}
	was := *m
	if rapid.Bool().Draw(t, "record") { // before the sweep: what people sent is taken first
		c.recordNext(t, m)
	}
	c.check(t, m, was)
}

func (c *corner) recordNext(t *rapid.T, m *month) {
	if m.open != "" {
		c.closes(t)
		m.done = append(m.done, [2]shop.Date{m.open, reminders.Today(m.shop, c.clock)})
		m.open = ""
		return
	}
	c.opens(t)
	m.open = reminders.DayOf(m.shop, c.clock)
}

func (c *corner) check(t *rapid.T, m *month, was month) {
	c.tick(t)
	want := m.look(c.clock, was)
	if got := c.reminded(); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Fatalf("%s (%s there): told %q\nwant %q", c.clock.UTC().Format("2006-01-02 15:04"),
			c.clock.In(m.shop.Location).Format("2006-01-02 15:04 -0700"), got, want)
	}
}

// Loaded ahead on a Sunday, counted again a minute after the first rung for
// Monday: nothing was needed at that rung, so it is over whether the bot was up
// then or not. The next one asks for the opening; counted before the first
// rung, that one does.
func TestCountedAgainAtTheRung(t *testing.T) {
	settings := shop.Example()
	settings.Zone, settings.Country = "America/New_York", "XX"
	settings.Plan.Night = &shop.Hours{}
	settings.Hours[0], settings.Hours[1] = shop.Hours{}, shop.Hours{Close: 60}
	zone, err := time.LoadLocation(settings.Zone)
	ok(t, err)
	sunday := func(minutes int) time.Time { return reminders.Instant(zone, "2026-10-25", minutes) }
	monday := []string{"term:staff1 due-2026-10-26-opening-1", "term:staff2 due-2026-10-26-opening-1"}
	const rung = 23*60 + 45
	for name, when := range map[string]struct {
		up      bool // at the rung
		counted int
		atRung  []string
	}{
		"up at the rung":   {true, rung + 1, nil},
		"down at the rung": {false, rung + 1, nil},
		"before the rung":  {true, rung - 1, monday},
	} {
		t.Run(name, func(t *testing.T) {
			c := newCorner(t, t.TempDir()+"/shop.db", settings, sunday(20*60))
			c.opens(t)
			c.tick(t)
			for _, minute := range []int{rung - 1, rung, rung + 1} {
				c.clock = sunday(minute)
				if minute == when.counted {
					c.closes(t)
				}
				if minute != rung || when.up {
					c.tick(t)
				}
			}
			c.wantReminded(t, when.atRung...)
			c.clock = sunday(24 * 60)
			c.tick(t)
			c.wantReminded(t, monday...)
		})
	}
}
