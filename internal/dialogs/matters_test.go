package dialogs

import (
	"slices"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/reminders"
)

// ladder is a made-up matter that climbs the ladder of faults, and what was
// said of it.
type ladder struct {
	*stage
	began time.Time
	done  bool
	said  []int // numbers of the rungs, in the order in which they spoke
	due   map[string]time.Time
}

func (l *ladder) matter() matter {
	return matter{prefix: "made-", task: reminders.Fault,
		began: func(_ *talk, no int64) (time.Time, bool) { return l.began, !l.done && no == 7 },
		tell:  func(_ *talk, _ int64, r reminders.Rung) { l.said = append(l.said, r.No) },
	}
}

// wakes delivers a deadline at an instant, so much late.
func (l *ladder) wakes(name string, due time.Time, late time.Duration, again bool) {
	l.now = due.Add(late)
	c := l.engine.talk(l.st, Input{Kind: Remind, Text: name, At: l.now, Due: due, Again: again}, l.facts)
	c.dueMatter([]matter{{prefix: "other-", began: func(*talk, int64) (time.Time, bool) {
		l.t.Fatal("another matter was asked")
		return time.Time{}, false
	}}, l.matter()})
	delete(l.due, name)
	for _, d := range c.Deadlines {
		l.due[d.Name] = d.At
	}
}

func climbing(t *testing.T, began string) *ladder {
	t.Helper()
	l := &ladder{stage: staged(t, "list", map[string]screen{"list": {ask: asking("ask.how")}}),
		due: map[string]time.Time{}}
	at, err := time.ParseInLocation("2006-01-02 15:04", began, l.facts.Shop.Location)
	if err != nil {
		t.Fatal(err)
	}
	l.began = at
	return l
}

// Each rung speaks once, in turn, and plans the next; after the last there is
// nothing more to come. A fault tells after 1 hour, 4 hours and a day.
func TestMatterClimbs(t *testing.T) {
	l := climbing(t, "2026-11-25 09:00")
	at := l.began.Add(time.Hour)
	var planned []time.Duration
	for range 3 {
		l.wakes("made-7", at, 0, false)
		at = l.due["made-7"]
		if !at.IsZero() {
			planned = append(planned, at.Sub(l.began))
		}
	}
	after := []time.Duration{4 * time.Hour, 24 * time.Hour}
	if !slices.Equal(l.said, []int{1, 2, 3}) || !slices.Equal(planned, after) || !at.IsZero() {
		t.Errorf("said %v, planned %v, then %v", l.said, planned, at)
	}
}

// A rung that was answered before the clock went back is not said twice, but the
// ladder goes on.
func TestMatterSaysNothingTwice(t *testing.T) {
	l := climbing(t, "2026-11-25 09:00")
	l.wakes("made-7", l.began.Add(time.Hour), 0, false)
	l.wakes("made-7", l.began.Add(time.Hour), 0, true)
	if !slices.Equal(l.said, []int{1}) || l.due["made-7"].Sub(l.began) != 4*time.Hour {
		t.Errorf("said %v, next after %v", l.said, l.due["made-7"].Sub(l.began))
	}
}

// Of rungs that came due while nothing ran, the highest speaks, alone.
func TestMatterAfterAnOutage(t *testing.T) {
	l := climbing(t, "2026-11-25 09:00")
	l.wakes("made-7", l.began.Add(time.Hour), 5*time.Hour, false)
	if !slices.Equal(l.said, []int{2}) {
		t.Errorf("said %v", l.said)
	}
}

// What comes late, in a quiet night, waits for its end.
func TestMatterIsQuietAtNight(t *testing.T) {
	l := climbing(t, "2026-11-25 18:00")
	l.wakes("made-7", l.began.Add(time.Hour), 5*time.Hour-time.Minute, false)
	night := l.now
	if morning := l.due["made-7"]; len(l.said) != 0 || !reminders.Quiet(l.facts.Shop, night) ||
		!morning.Equal(reminders.Awake(l.facts.Shop, night)) || !morning.After(night) {
		t.Errorf("said %v at %v, next %v", l.said, night, morning)
	}
}

// What is seen to asks for nothing more, and neither does what is no matter.
func TestMatterThatIsOver(t *testing.T) {
	l := climbing(t, "2026-11-25 09:00")
	l.wakes("made-8", l.began.Add(time.Hour), 0, false)
	l.wakes("made-x", l.began.Add(time.Hour), 0, false)
	l.done = true
	l.wakes("made-7", l.began.Add(time.Hour), 0, false)
	if len(l.said) != 0 || len(l.due) != 0 {
		t.Errorf("said %v, planned %v", l.said, l.due)
	}
}

// Each matter of the shop has a prefix and a ladder of its own; one that is not
// in the books is not open.
func TestOpenMatters(t *testing.T) {
	g := staged(t, "list", map[string]screen{"list": {ask: asking("ask.how")}})
	c := g.engine.talk(g.st, Input{At: g.now}, g.facts)
	c.m = books.New(1)
	seen := map[any]bool{}
	for _, m := range g.engine.openMatters() {
		if _, open := m.began(c, 7); open || seen[m.prefix] || seen[m.task] || m.tell == nil {
			t.Errorf("%s: open %t, seen %v", m.prefix, open, seen)
		}
		seen[m.prefix], seen[m.task] = true, true
		if len(reminders.Ladder(g.facts.Shop, m.task)) == 0 {
			t.Errorf("%s climbs nothing", m.prefix)
		}
	}
	if !seen[reminders.Ticks] || !seen[reminders.Fault] || !seen[reminders.Owed] {
		t.Errorf("seen %v", seen)
	}
}
