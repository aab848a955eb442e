package engine_test

import (
	"slices"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/reminders"
	"shopfloat/internal/telling"
)

// ladder is a made-up matter that climbs the ladder of faults, and what was
// said of it.
type ladder struct {
	*floor.Floor
	began time.Time
	done  bool
	said  []int // numbers of the rungs, in the order in which they spoke
	due   map[string]time.Time
}

func (l *ladder) matters() []engine.Matter {
	other := engine.Matter{Prefix: "other-", Began: func(*telling.Teller, int64) (time.Time, bool) {
		l.T.Fatal("another matter was asked")
		return time.Time{}, false
	}}
	return []engine.Matter{other, {Prefix: "made-", Task: reminders.Fault,
		Began: func(_ *telling.Teller, no int64) (time.Time, bool) { return l.began, !l.done && no == 7 },
		Tell:  func(_ *engine.Talk, _ int64, r reminders.Rung) { l.said = append(l.said, r.No) },
	}}
}

// wakes delivers a deadline at an instant, so much late.
func (l *ladder) wakes(name string, due time.Time, late time.Duration, again bool) {
	l.T.Helper()
	l.Now = due.Add(late)
	res := l.Does("owner", chat.Input{Kind: chat.Remind, Text: name, Due: due, Again: again})
	delete(l.due, name)
	for _, d := range res.Deadlines {
		l.due[d.Name] = d.At
	}
}

func climbing(t *testing.T, began string) *ladder {
	t.Helper()
	l := &ladder{due: map[string]time.Time{}}
	l.Floor = floor.New(t, floor.Of(engine.Moments{Matters: l.matters(),
		Due: func(c *engine.Talk) { c.DueMatter(c.E.OpenMatters()) }}))
	l.At(began)
	l.began = l.Now
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

// Of rungs that came due while nothing ran, that of who is told first speaks; the next, for others, waits.
func TestMatterAfterAnOutage(t *testing.T) {
	l := climbing(t, "2026-11-25 09:00")
	l.wakes("made-7", l.began.Add(time.Hour), 5*time.Hour, false)
	later := l.due["made-7:2"]
	if !slices.Equal(l.said, []int{1}) || !later.After(l.Now) || !later.Before(l.began.Add(24*time.Hour)) {
		t.Errorf("said %v, the next at %v", l.said, later)
	}
	l.wakes("made-7:2", later, 0, false)
	if !slices.Equal(l.said, []int{1, 2}) {
		t.Errorf("said %v", l.said)
	}
}

// What comes late, in a quiet night, waits for its end and is said then.
func TestMatterIsQuietAtNight(t *testing.T) {
	l := climbing(t, "2026-11-25 18:00")
	l.wakes("made-7", l.began.Add(time.Hour), 5*time.Hour-time.Minute, false)
	night := l.Now
	morning := l.due["made-7:2"]
	if len(l.said) != 0 || !reminders.Quiet(l.Shop, night) ||
		!morning.Equal(reminders.Awake(l.Shop, night)) || !morning.After(night) {
		t.Errorf("said %v at %v, next %v", l.said, night, morning)
	}
	l.wakes("made-7:2", morning, 0, false)
	if !slices.Equal(l.said, []int{2}) {
		t.Errorf("in the morning %v was said", l.said)
	}
}

// What is seen to asks for nothing more, and neither does what is no matter.
func TestMatterThatIsOver(t *testing.T) {
	l := climbing(t, "2026-11-25 09:00")
	l.wakes("made-8", l.began.Add(time.Hour), 0, false)
	l.wakes("made-x", l.began.Add(time.Hour), 0, false)
	l.wakes("7", l.began.Add(time.Hour), 0, false)
	l.done = true
	l.wakes("made-7", l.began.Add(time.Hour), 0, false)
	if len(l.said) != 0 || len(l.due) != 0 {
		t.Errorf("said %v, planned %v", l.said, l.due)
	}
}
