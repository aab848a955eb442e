package incidents_test

import (
	"strings"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/guides"
	"shopfloat/internal/incidents"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// teller is what somebody is told by.
func teller(f *floor.Floor, name string) *telling.Teller { return f.Talk(name).Teller }

func said(blocks []chat.Block) string { return floor.Said(blocks...) }

func labels(rows [][]chat.Button) string {
	var list []string
	for _, row := range rows {
		for _, b := range row {
			list = append(list, b.Label)
		}
	}
	return strings.Join(list, "|")
}

// at is an instant of November 2026 unless another month is said.
func at(month time.Month, day, hour, minute int) time.Time {
	return time.Date(2026, month, day, hour, minute, 0, 0, time.UTC)
}

// Three months are told, the newest incident last, with how each ended and how long the
// machine was out; a month across which it was out has its own part of that.
func TestFaults(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.At("2026-11-25 12:00")
	if got := incidents.Faults(teller(f, "owner")); got != nil {
		t.Errorf("no fault is told as %s", said(got))
	}
	f.Machine.Faults = []books.Fault{
		{Seq: 1, Topic: "offline", By: 2, Began: at(8, 30, 9, 0), Ended: at(8, 30, 10, 0),
			Ending: books.Solved},
		// out from 31 October 22:00 to 1 November 01:30: two hours in October, one and a half in November
		{Seq: 2, Topic: "note-jam", By: 2, Began: at(10, 31, 22, 0), Out: at(10, 31, 22, 0),
			Back: at(11, 1, 1, 30), Ended: at(11, 1, 1, 30), Ending: books.Solved, Reference: "RM 48-213"},
		{Seq: 3, Topic: "offline", By: 3, Began: at(11, 10, 9, 0), Ended: at(11, 10, 9, 5),
			Ending: books.Mistake},
		{Seq: 4, Topic: "offline", By: 3, Began: at(11, 25, 11, 0)},
		{Seq: 5, Topic: "offline", By: 3, Began: at(11, 25, 11, 0), Ending: books.Elsewhere,
			Ended: at(11, 25, 11, 1)},
	}
	tell := teller(f, "owner")
	tell.F.Ask.Entries = nil
	floor.Expect(t, said(incidents.Faults(tell)),
		"the newest last|Sat 31 Oct, 22:00  Notes are stuck in the machine: |"+
			"Ben. Out for 3 h 30 min. Reference RM 48-213.|11:00  The machine has no connection: |"+
			"Sep 2026  0 faults       out of service 0 min|Oct 2026   1 fault   out of service 2 h 0 min|"+
			"Nov 2026   1 fault  out of service 1 h 30 min", "30 Aug")
	f.Machine.Faults = f.Machine.Faults[3:4] // how long it is out is not known yet
	tell = teller(f, "owner")
	tell.F.Ask.Entries = nil
	floor.Expect(t, said(incidents.Faults(tell)), "Nov 2026   1 fault        not solved yet",
		"Oct 2026   1")
}

// At most twelve lines are shown, the newest; all of them are counted.
func TestManyFaults(t *testing.T) {
	f := floor.New(t, dialogs.New)
	for i := range 15 {
		began := at(11, 1+i, 9, 0)
		f.Machine.Faults = append(f.Machine.Faults, books.Fault{Seq: int64(i + 1), Topic: "offline", By: 2,
			Began: began, Ended: began.Add(time.Hour), Ending: books.Solved})
	}
	tell := teller(f, "owner")
	tell.F.Ask.Entries = nil
	got := said(incidents.Faults(tell))
	floor.Expect(t, got, "Wed 4 Nov, 09:00|Sun 15 Nov, 09:00|Nov 2026  15 faults", "Tue 3 Nov, 09:00")
	if n := strings.Count(got, "\n- "); n != 12 {
		t.Errorf("%d lines", n)
	}
}

// What a played incident becomes: it is on record with what can be said of it.
func TestPlayed(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play("staff1: open 40 150 200; [Confirm]; notes are stuck; [It is stopped]; [Stop this guide]")
	fault := &f.Machine.Faults[0]
	for what, s := range map[string]struct {
		change    func(*books.Fault)
		want, not string
	}{
		"open": {func(*books.Fault) {}, "It works again|It was nothing|Out of service from 06:40|" +
			"Add the reference",
			"Never out"},
		"out": {func(x *books.Fault) { x.Out = f.Now },
			"It works again|Never out|Add the reference", "It was nothing"},
		"reference": {func(x *books.Fault) { x.Reference = "RM 1" }, "It works again", "Add the reference"},
		"solved": {func(x *books.Fault) { x.Ending, x.Ended = books.Solved, f.Now },
			"Out of service from 06:40",
			"It works again|It was nothing|Add the reference"},
		"robbery": {func(x *books.Fault) { x.Topic = chat.Robbery }, "Add the reference",
			"It works again|Out of service"},
	} {
		x := *fault
		s.change(&x)
		t.Run(what, func(t *testing.T) {
			floor.Expect(t, labels(incidents.FaultButtons(teller(f, "staff1"), &x)), s.want, s.not)
		})
	}
	if incidents.OverButton(fault) == incidents.OverButton(&books.Fault{Topic: chat.Robbery}) {
		t.Error("a robbery is over by the same button as a fault")
	}
	if got := incidents.OfFault("back", 12); got != "o:fault:back.12" {
		t.Errorf("a button says %q", got)
	}
	tell := teller(f, "owner")
	if began, ok := incidents.FaultBegan(tell, fault.Seq); !ok || !began.Equal(fault.Began) {
		t.Errorf("it began %s, %t", began, ok)
	}
	if _, ok := incidents.FaultBegan(tell, 99); ok {
		t.Error("a fault that is not there has begun")
	}
	f.Taps("staff1", "It works again")
	if _, ok := incidents.FaultBegan(teller(f, "owner"), fault.Seq); ok {
		t.Error("a solved fault is still reminded of")
	}
}

// The incident that is spoken of is the newest open one, else the newest; a robbery is
// open until a manager says otherwise.
func TestWhichFault(t *testing.T) {
	f := floor.New(t, dialogs.New)
	tell := teller(f, "owner")
	if incidents.NewestFault(tell) != nil || incidents.OpenRobbery(tell) != nil {
		t.Error("a machine without faults has one")
	}
	open := func(seq int64, topic string) books.Fault {
		return books.Fault{Seq: seq, Topic: topic,
			Began: f.Now}
	}
	over := func(seq int64, topic string) books.Fault {
		x := open(seq, topic)
		x.Ending, x.Ended = books.Solved, f.Now
		return x
	}
	for name, s := range map[string]struct {
		list            []books.Fault
		newest, robbery int64
	}{
		"the newest of two":      {[]books.Fault{open(1, "offline"), open(2, "note-jam")}, 2, 0},
		"the open one":           {[]books.Fault{open(1, "offline"), over(2, "note-jam")}, 1, 0},
		"all are over":           {[]books.Fault{over(1, "offline"), over(2, "note-jam")}, 2, 0},
		"a robbery":              {[]books.Fault{open(1, chat.Robbery), over(2, "note-jam")}, 1, 1},
		"the newer of two":       {[]books.Fault{open(1, chat.Robbery), open(2, chat.Robbery)}, 2, 2},
		"a robbery that is over": {[]books.Fault{over(1, chat.Robbery), open(2, "offline")}, 2, 0},
	} {
		f.Machine.Faults = s.list
		tell := teller(f, "owner")
		if got := incidents.NewestFault(tell); got == nil || got.Seq != s.newest {
			t.Errorf("%s: the newest is %+v", name, got)
		}
		got := incidents.OpenRobbery(tell)
		if (got != nil) != (s.robbery != 0) || got != nil && got.Seq != s.robbery {
			t.Errorf("%s: the robbery is %+v", name, got)
		}
	}
}

// A step says its cautions first, the provider's own words before ours, and a number at
// the end of its line; a number nobody knows is said to be missing.
func TestGuideStep(t *testing.T) {
	f := floor.New(t, dialogs.New)
	tell := teller(f, "staff1")
	view := guides.View{Title: "Notes are stuck", Number: 2, Of: 5,
		Cautions: []string{"Sign on, nobody near."},
		Text:     "Open the lid.", Own: "Press the blue lever",
		Call: []guides.Call{{Contact: "emergency", Number: "112"}, {Contact: "provider"}}}
	got := said(incidents.GuideStep(tell, "note-jam", view))
	floor.Expect(t, got, "Step 2|Press the blue lever|Emergency: 112\nProvider: no number yet", "")
	order := []string{"Step 2", "Sign on", "blue lever", "Open the lid", "112"}
	for i, piece := range order[1:] {
		if strings.Index(got, order[i]) > strings.Index(got, piece) {
			t.Errorf("%q stands before %q:\n%s", piece, order[i], got)
		}
	}
	view.Own, view.Call = "", nil
	floor.Expect(t, said(incidents.GuideStep(tell, chat.Robbery, view)), "Notes are stuck\nSign on",
		"Step|lever|112")
}

// What a guide says goes by the shop: its country, its lock, its numbers, its provider's
// own advice.
func TestGuideSettings(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Shop.Machines[0].Lock, f.Shop.Machines[0].RestartMinutes = "key", 15
	f.Shop.Numbers = []shop.Number{{Who: "provider", Number: "5550 100"}}
	f.Shop.Advice = []shop.Advice{{Topic: "offline", Text: "Wait a quarter of an hour"}}
	s := incidents.GuideSettings(teller(f, "staff1"))
	if s.Country != "IE" || s.Lock != "key" || !s.TestDispense || s.RestartMinutes != 15 ||
		s.Contacts["provider"] != "5550 100" || s.Provider["offline"] != "Wait a quarter of an hour" {
		t.Errorf("%+v", s)
	}
	tell := teller(f, "staff1")
	tell.Kit = nil
	if s := incidents.GuideSettings(tell); s.Lock != "" || s.TestDispense || s.Country != "IE" {
		t.Errorf("without a machine: %+v", s)
	}
}
