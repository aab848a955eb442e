package tasks_test

import (
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/tasks"
)

// Somebody at a count is left alone for 20 minutes after they moved, then asked, and only
// 20 minutes after that the others hear.
func TestCounting(t *testing.T) {
	at := func(minute int) time.Time { return time.Date(2026, 11, 25, 21, minute, 0, 0, time.UTC) }
	never := time.Time{}
	for name, x := range map[string]struct {
		moved, asked, now time.Time
		do                tasks.Count
		again             time.Time
	}{
		"just begun":           {never, never, at(5), tasks.Wait, at(20)},
		"moved":                {at(15), never, at(25), tasks.Wait, at(35)},
		"stands still":         {at(5), never, at(25), tasks.AskThem, at(45)},
		"asked":                {at(5), at(25), at(30), tasks.Wait, at(45)},
		"asked and no answer":  {at(5), at(25), at(45), tasks.GoAhead, never},
		"asked and went on":    {at(30), at(25), at(49), tasks.Wait, at(50)},
		"went on, still again": {at(30), at(25), at(50), tasks.AskThem, at(70)},
	} {
		a := &chat.Activity{Since: at(0), Moved: x.moved}
		if do, again := tasks.Counting(a, x.asked, x.now); do != x.do || !again.Equal(x.again) {
			t.Errorf("%s: %q again %s, want %q %s", name, do, again, x.do, x.again)
		}
	}
	if do, _ := tasks.Counting(nil, never, at(0)); do != tasks.GoAhead {
		t.Errorf("nobody there: %q", do)
	}
}

// Nobody gets more than three messages of a task, and only one by any way but the list.
func TestFolds(t *testing.T) {
	for _, x := range []struct {
		times int
		to    shop.Group
		folds bool
	}{{0, shop.List, false}, {2, shop.List, false}, {3, shop.List, true}, {9, shop.List, true},
		{0, shop.Managers, false}, {1, shop.Managers, true}, {1, shop.Owners, true}} {
		r := tasks.Reach{Told: []chat.Told{{Person: 7, Times: x.times}, {Person: 8, Times: 5}}}
		if r.Folds(7, x.to) != x.folds {
			t.Errorf("told %d times, to %s: folds %t", x.times, x.to, !x.folds)
		}
	}
}

// Who blocked the bot, lost the phone or has none is away; unknown phones keep nobody away.
func TestAway(t *testing.T) {
	r := tasks.Reach{Phones: []chat.Phone{{Person: 1}, {Person: 2, Gone: true}, {Person: 3, Frozen: true},
		{Person: 4, Gone: true}, {Person: 4}}}
	for person, away := range map[shop.PersonID]bool{1: false, 2: true, 3: true, 4: false, 5: true} {
		if r.Away(person) != away {
			t.Errorf("%d is away: %t", person, !away)
		}
	}
	if (tasks.Reach{}).Away(1) {
		t.Error("away where no phones are known")
	}
}
