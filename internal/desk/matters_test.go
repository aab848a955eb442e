package desk_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"shopfloat/internal/shop"
)

// lateOpening is a shop that opened at 17:30 on 25 November and left its
// checklist open: staff is told at 18:00, owners, as is laid down there, at 22:30
// and on the next day at 17:30. The night is quiet from 23:00 to 06:00.
func lateOpening(t *testing.T) *corner {
	settings := shop.Example()
	settings.Plan.Ladders.Ticks = []shop.Rung{
		{After: 30, To: shop.List}, {After: 300, To: shop.Owners}, {After: 24 * 60, To: shop.Owners}}
	c := newCorner(t, t.TempDir()+"/shop.db", settings, time.Date(2026, 11, 25, 17, 30, 0, 0, time.UTC))
	c.opens(t)
	c.at(25, 18, 0)
	c.tick(t)
	c.wantAsked(t, "term:staff1 ticks-1-1")
	return c
}

// wantAsked compares who was told of an open checklist since the last time.
func (c *corner) wantAsked(t *testing.T, want ...string) {
	t.Helper()
	got := c.matters
	c.matters = nil
	slices.Sort(got)
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("%s: told %q\nwant %q", c.clock.Format("2 15:04"), got, want)
	}
}

// upInTheNight is down over the owners' rung and up again when nobody is to
// be woken.
func upInTheNight(t *testing.T) *corner {
	c := lateOpening(t)
	c.at(26, 1, 0)
	c.again(t)
	c.tick(t)
	c.wantAsked(t)
	return c
}

// A rung that came due while the bot was down waits for the morning, is said
// then, once, and the ladder goes on.
func TestMatterWaitsForTheMorning(t *testing.T) {
	c := upInTheNight(t)
	c.at(26, 6, 0)
	c.tick(t)
	c.wantAsked(t, "term:owner ticks-1-1")
	c.again(t)
	c.at(26, 6, 1)
	c.tick(t)
	c.wantAsked(t)
	c.at(26, 17, 30)
	c.tick(t)
	c.wantAsked(t, "term:owner ticks-1-1")
}

// Done by the morning: nobody is told.
func TestMatterDoneInTheNight(t *testing.T) {
	c := upInTheNight(t)
	c.types(t, staff1, "[All done", "[All done", "[With") // a list of yesterday is shown with its day first
	c.matters = nil
	c.at(26, 6, 0)
	c.tick(t)
	c.at(26, 17, 30)
	c.tick(t)
	c.wantAsked(t)
}

// A part of it done in the night begins the ladder anew: what waited is over.
func TestMatterBegunAnewInTheNight(t *testing.T) {
	c := upInTheNight(t)
	c.at(26, 5, 50)
	c.types(t, staff1, "[Something", "[Something", "[Safe locked", "[The rest")
	c.matters = nil
	c.at(26, 6, 0)
	c.tick(t)
	c.wantAsked(t)
	c.at(26, 6, 20)
	c.tick(t)
	c.wantAsked(t, "term:staff1 ticks-1-1")
}

// Down again from the night until after the next rung: that one speaks alone.
func TestMatterClimbedPastTheMorning(t *testing.T) {
	c := upInTheNight(t)
	c.at(26, 17, 40)
	c.again(t)
	c.tick(t)
	c.wantAsked(t, "term:owner ticks-1-1")
}

// The quiet night was made longer meanwhile: it waits on.
func TestMatterWaitsOn(t *testing.T) {
	c := upInTheNight(t)
	c.types(t, owner, "hours mon-sun 10-21", "[Confirm", "hours night 23-7", "[Confirm")
	c.at(26, 6, 0)
	c.tick(t)
	c.wantAsked(t)
	c.at(26, 7, 0)
	c.tick(t)
	c.wantAsked(t, "term:owner ticks-1-1")
}

// The clock goes back over the morning: it is not said again.
func TestMatterAndTheClock(t *testing.T) {
	c := upInTheNight(t)
	c.at(26, 6, 0)
	c.tick(t)
	c.wantAsked(t, "term:owner ticks-1-1")
	c.at(26, 1, 0)
	c.types(t, staff1, "status")
	c.tick(t)
	c.at(26, 6, 0)
	c.tick(t)
	c.wantAsked(t)
}
