package terminal

import (
	"errors"
	"fmt"
	"strings"
	"time"
)

// Wall is what a clock on the wall shows, with its distance from UTC when a
// script says which of two repeated hours it means.
type Wall struct {
	shown  time.Time // fields only; its zone says nothing
	offset *int      // seconds east of UTC
}

const wallForm = "2006-01-02 15:04"

// ParseWall reads "2026-11-25 07:40", or "2026-10-25 02:30 +01:00".
func ParseWall(s string) (Wall, error) {
	clock, zone, offset := s, "", false
	if len(s) > len(wallForm) {
		clock, zone, offset = s[:len(wallForm)], strings.TrimSpace(s[len(wallForm):]), true
	}
	shown, err := time.Parse(wallForm, clock)
	if err != nil {
		return Wall{}, errors.New("write a time as @2026-11-25 07:40, " +
			"in a repeated hour as @2026-10-25 02:30 +01:00")
	}
	if !offset {
		return Wall{shown: shown}, nil
	}
	east, err := time.Parse("-07:00", zone)
	if err != nil {
		return Wall{}, fmt.Errorf("%q is not a distance from UTC like +01:00", zone)
	}
	_, seconds := east.Zone()
	return Wall{shown: shown, offset: &seconds}, nil
}

// In gives the instant at which clocks at loc show w. Of a repeated hour it is
// the first unless w says otherwise; in a missing hour it is the first instant
// after it. A distance from UTC that clocks there do not have then is an error.
func (w Wall) In(loc *time.Location) (time.Time, error) {
	if w.offset == nil {
		return w.first(loc), nil
	}
	t := w.shown.Add(-time.Duration(*w.offset) * time.Second).In(loc)
	if _, have := t.Zone(); have != *w.offset {
		return time.Time{}, fmt.Errorf("clocks in %s are not %s from UTC then", loc, w.east())
	}
	return t, nil
}

func (w Wall) east() string {
	return time.Time{}.In(time.FixedZone("", *w.offset)).Format("-07:00")
}

// first looks at the distances from UTC around w. No zone shifts twice within
// two days, so they are those before and after one change at most.
func (w Wall) first(loc *time.Location) time.Time {
	_, before := w.shown.AddDate(0, 0, -1).In(loc).Zone()
	_, after := w.shown.AddDate(0, 0, 1).In(loc).Zone()
	early := w.shown.Add(-time.Duration(max(before, after)) * time.Second).In(loc)
	late := w.shown.Add(-time.Duration(min(before, after)) * time.Second).In(loc)
	switch {
	case sameWall(early, w.shown):
		return early
	case sameWall(late, w.shown):
		return late
	}
	change, _ := late.ZoneBounds()
	return change.In(loc)
}

func sameWall(a, b time.Time) bool { return a.Format(wallForm) == b.Format(wallForm) }
