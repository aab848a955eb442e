package counsel_test

import (
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/advice"
	"shopfloat/internal/chat"
	"shopfloat/internal/counsel"
	"shopfloat/internal/demand"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// teller is what the owner is told by, on Wednesday 25 November 2026 at 06:40.
func teller(t *testing.T) *telling.Teller {
	t.Helper()
	f := floor.New(t, dialogs.New)
	return f.Engine.Talk(chat.State{V: chat.StateFormat}, chat.Input{Kind: chat.Text,
		Chat: floor.ChatOf("owner"),
		At:   f.Now}, f.Facts("owner")).Teller
}

var said = floor.Said

// An advice says how often it is enough, on how little it rests, and why it is less than
// enough where it is: a line for each reason.
func TestAdviceWords(t *testing.T) {
	day := demand.DayOf(2026, 11, 25)
	enough := []advice.Line{{Face: "50", Notes: 40, Enough: 40, Known: true},
		{Face: "20", Notes: 150, Enough: 150, Known: true}}
	cut := func(why advice.Cut) []advice.Line {
		return []advice.Line{{Face: "50", Notes: 40, Enough: 60, Known: true, Cut: why}, enough[1]}
	}
	for name, s := range map[string]struct {
		a         advice.Advice
		want, not string
	}{
		"nothing known": {advice.Advice{Lines: enough}, "No closed day is known yet", "days in 100"},
		"enough": {advice.Advice{KnownDays: 40, Share: 0.95, Lines: enough, Days: []demand.Day{day}},
			"That is enough on 95 days in 100.", "Careful"},
		"for several days": {advice.Advice{KnownDays: 40, Share: 0.946, Lines: enough,
			Days: []demand.Day{day, day + 1}},
			"That is enough for such days 95 times in 100.", "Careful"},
		"on few days": {advice.Advice{KnownDays: 5, Thin: true, Share: 0.9, Lines: enough},
			"enough on 90 days in 100.|Careful: only 5 days of your own figures", ""},
		"on one day": {advice.Advice{KnownDays: 1, Thin: true, Share: 0.9, Lines: enough},
			"only 1 day of", "1 days"},
		"a full box": {advice.Advice{KnownDays: 40, Share: 0.95, Lines: cut(advice.Capacity)},
			"Fuller than 85 in 100, a box feeds badly. Enough 95 times in 100 would be 60 x 50s.",
			"That is enough|20s"},
		"the insured limit": {advice.Advice{KnownDays: 40, Share: 0.95, Lines: cut(advice.Limit)},
			"The insured limit of €40,000 allows no more. Enough 95 times", "That is enough"},
		"whole bundles": {advice.Advice{KnownDays: 40, Share: 0.95, Lines: cut(advice.Bundle)},
			"Another whole bundle does not fit.", "That is enough"},
		"notes at hand": {advice.Advice{KnownDays: 40, Share: 0.95, Lines: cut(advice.Hand)},
			"Enough 95 times in 100 would be 60 x 50s.", "That is enough|limit"},
		"notes at hand, nothing known": {advice.Advice{Lines: cut(advice.Hand)},
			"Usual would be 60 x 50s.", "Enough"},
		"in place of bigger ones": {advice.Advice{KnownDays: 40, Share: 0.95, Lines: []advice.Line{
			{Face: "20", Notes: 170, Enough: 150, Instead: 20, Known: true}}},
			"20s: 20 of them stand in for bigger notes you lack.", "Likely empty"},
		"likely empty": {advice.Advice{KnownDays: 40, Share: 0.95, Lines: []advice.Line{{Face: "20",
			Notes:  10,
			Enough: 150, Cut: advice.Hand, Known: true, Empty: time.Date(2026, 11, 25, 14, 40, 0, 0,
				time.UTC)}}},
			"Likely empty: 20s about 14:30.", "14:40"}, // to the half hour
	} {
		tell := teller(t)
		got := strings.Join(append(counsel.AdviceHolds(tell, s.a), counsel.AdviceCuts(tell, s.a)...), "\n")
		t.Run(name, func(t *testing.T) { floor.Expect(t, got, s.want, s.not) })
	}
}

// Why so much: what each kind goes by, and on how many days it rests.
func TestAdviceWhy(t *testing.T) {
	day := demand.DayOf(2026, 11, 25)
	forecast := demand.Forecast{Day: day, Mean: 119.6, Terms: []demand.Term{{Notes: 110},
		{Kind: demand.Payday, Factor: 1.09}}}
	one := advice.Advice{From: "2026-11-25", To: "2026-11-25", Days: []demand.Day{day}, Share: 0.95,
		KnownDays: 12,
		Thin:      true, Lines: []advice.Line{{Face: "50", Notes: 40}, {Face: "20", Notes: 150, Enough: 150,
			Known:    true,
			Forecast: forecast}}}
	floor.Expect(t, strings.Join(counsel.AdviceWhy(teller(t), one), "\n"),
		"50s: nothing is known yet; 40 goes by what was laid down|"+
			"20s: a usual Wednesday 110, payday +9 %|120|150|"+
			"Known so far: 12 days of your own.|With so few", "together")
	two := one
	two.To, two.Days, two.Thin = "2026-11-26", []demand.Day{day, day + 1}, false
	two.Lines = []advice.Line{{Face: "20", Notes: 300, Enough: 300, Known: true,
		Forecast: demand.Forecast{Mean: 240}}}
	floor.Expect(t, strings.Join(counsel.AdviceWhy(teller(t), two), "\n"),
		"Thu 26 Nov together: expect 240; 300 is enough 95 times in 100.", "a usual|With so few")
	none := advice.Advice{Lines: []advice.Line{{Face: "50", Notes: 40}}}
	floor.Expect(t, strings.Join(counsel.AdviceWhy(teller(t), none), "\n"), "50s: nothing is known yet",
		"Known so far")
}

// Before an opening one line stands: nothing to load says nothing, and few days are said.
func TestAdviceBefore(t *testing.T) {
	load := []advice.Line{{Face: "50", Notes: 40}, {Face: "20", Notes: 150}}
	for want, a := range map[string]advice.Advice{
		"": {KnownDays: 30, Lines: []advice.Line{{Face: "50"}}},
		"No day is known yet. Usual: 40 x 50s, 150 x 20s.":            {Lines: load},
		"Advice for today: 40 x 50s, 150 x 20s. We know only 1 day.":  {KnownDays: 1, Lines: load},
		"Advice for today: 40 x 50s, 150 x 20s. We know only 9 days.": {KnownDays: 9, Lines: load},
		"Advice for today: 40 x 50s, 150 x 20s.":                      {KnownDays: 10, Lines: load},
	} {
		if got := counsel.AdviceBefore(teller(t), a); got != want {
			t.Errorf("%d days: %q, want %q", a.KnownDays, got, want)
		}
	}
}

// The shop's own cash: how long each kind lasts, what to order by when, and what the
// bank owes until then. Today is Wednesday 25 November 2026.
func TestCashPlan(t *testing.T) {
	plan := func(order, fetch, out shop.Date) advice.Plan {
		return advice.Plan{Sight: "2026-12-09", Share: 0.95, RunsOut: out, Fetch: fetch, OrderBy: order,
			Through: "2026-12-04", Value: decimal.NewFromInt(4000), Lines: []advice.Own{{Face: "50"},
				{Face: "20", Known: true, RunsOut: out, Order: 200}, {Face: "10", Known: true}}}
	}
	for name, s := range map[string]struct {
		p         advice.Plan
		want, not string
	}{
		"in time": {plan("2026-11-26", "2026-11-27", "2026-11-30"),
			"50s: nothing is known yet|20s may run out Mon 30 Nov.|10s last until Wed 9 Dec at least.|" +
				"Order from the bank by Thu 26 Nov, fetch by Fri 27 Nov|200 x 20s, €4,000.|" +
				"all last through Fri 4 Dec, in 95 cases of 100.", "at once"},
		"today": {plan("2026-11-25", "2026-11-26", "2026-11-27"),
			"Order from the bank today, fetch by Thu 26 Nov", "at once"},
		"too late to order ahead": {plan("2026-11-24", "2026-11-25", "2026-11-26"),
			"Ask the bank at once, fetch by today", "Order from"},
		"too late": {plan("2026-11-23", "2026-11-24", "2026-11-25"),
			"20s may run out today.|no banking day is left before that", "fetch by"},
		"all last": {advice.Plan{Sight: "2026-12-09", Lines: []advice.Own{{Face: "20", Known: true}},
			Credits: decimal.NewFromInt(300), Late: decimal.NewFromInt(20), Undated: decimal.NewFromInt(7)},
			"20s last until Wed 9 Dec|Due from the bank until Wed 9 Dec: €300.|" +
				"Late from the bank: €20.|day not known: €7.",
			"Order|cases of 100"},
	} {
		t.Run(name, func(t *testing.T) {
			floor.Expect(t, said(counsel.CashPlan(teller(t), s.p)), s.want,
				s.not)
		})
	}
}

// Looking back: days that ran out and what was left over, added up over the kinds. By
// hand: 10 notes of 20 and 20 of 10 a day are 400 left over as advised.
func TestLookedBack(t *testing.T) {
	first := demand.DayOf(2026, 11, 2)
	tested := []advice.Tested{
		{Face: "20", From: first, To: first + 9, Advised: advice.Tally{Days: 10, RanOut: 1, Over: 10,
			Idle: 100},
			Loaded: advice.Tally{Days: 10, RanOut: 3, Over: 10, Idle: 300}, Weekly: advice.Tally{Days: 10,
				RanOut: 5}},
		{Face: "10", From: first + 1, To: first + 10, Advised: advice.Tally{Days: 10, RanOut: 0, Over: 10,
			Idle: 200},
			Loaded: advice.Tally{Days: 10, RanOut: 1, Over: 10, Idle: 0}, Weekly: advice.Tally{Days: 10,
				RanOut: 4}},
	}
	got := said(counsel.LookedBack(teller(t), tested)...)
	floor.Expect(t, got, "Mon 2 Nov to Thu 12 Nov|as advised|1 of 20|€400|as loaded|4 of 20|€600|"+
		"as last week|9 of 20|"+
		"over 2 kinds of note", "too early")
	young := []advice.Tested{{Face: "20"}}
	floor.Expect(t, said(counsel.LookedBack(teller(t), young)...), "too early to look back", "of 0")
}

// The level in force by its name; none is balanced.
func TestFullName(t *testing.T) {
	tell := teller(t)
	for want, l := range map[string]shop.Load{"balanced, enough on ": {},
		"rarely empty, enough on ":       {Level: "rarely-empty"},
		"little cash inside, enough on ": {Level: "little-cash"}} {
		if got := counsel.FullName(tell, l); !strings.HasPrefix(got, want) {
			t.Errorf("%+v: %q", l, got)
		}
	}
	if got := counsel.FullName(tell, shop.Load{Level: "brim"}); got != "brim" {
		t.Errorf("a level that is none: %q", got)
	}
}
