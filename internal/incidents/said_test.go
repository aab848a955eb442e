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
)

// Others hear of a danger without a sound, and the first line, which a locked phone shows,
// does not name it. Whoever spoke of it is told what to do, with the number of the country.
func TestDangers(t *testing.T) {
	f := floor.New(t, dialogs.New)
	tell := teller(f, "staff1")
	for _, no := range []int64{0, 7} {
		r := incidents.Robbed(tell, no)
		if first := r.Body[0].Text; !r.Silent || first != "Please look now: Ben wrote at 06:40." {
			t.Errorf("%t %q", r.Silent, first)
		}
		floor.Expect(t, said(r.Body), "Robbery or threat.|Ring 112 if nobody has", "")
		if (len(r.Buttons) == 2) != (no != 0) || no != 0 && r.Buttons[1][0].Data != "o:fault:nothing.7" {
			t.Errorf("record %d: %+v", no, r.Buttons)
		}
	}
	for danger, word := range map[string]string{"fire": "Fire", "hurt": "hurt", "caller": "code"} {
		own, r := incidents.Danger(tell, danger)
		if !strings.Contains(own, "112") || !r.Silent || r.Body[0].Text != "Please look now: Ben wrote at 06:40." ||
			!strings.Contains(r.Body[1].Text, word) {
			t.Errorf("%s: %q, %+v", danger, own, r)
		}
	}
	tell.F.Person.Name = ""
	if got := incidents.Speaker(tell); got != "somebody who left" {
		t.Errorf("a speaker without a name: %q", got)
	}
}

// The end of a guide says what was noted and what to write down; what can be said of its
// incident stands below, for questions only while it is open.
func TestOver(t *testing.T) {
	f := floor.New(t, dialogs.New)
	tell := teller(f, "staff1")
	open := &books.Fault{Seq: 3, Topic: "offline", Began: f.Now, By: 2}
	for name, s := range map[string]struct {
		guide string
		view  guides.View
		fault *books.Fault
		want  string
		how   books.Ending
		rows  string
	}{
		"solved, of no incident": {"offline", guides.View{End: guides.EndSolved}, nil, "Noted as solved.",
			books.Solved, ""},
		"help": {"offline", guides.View{End: guides.EndCall, Record: []string{"when", "the light"}}, open,
			"Noted: help is needed.\nWrite down: when, the light.", books.CalledHelp,
			"It works again|It was nothing|Out of service from 06:40|Add the reference"},
		"notes come to light": {"note-jam", guides.View{End: guides.EndOutOfService}, nil,
			"Noted: out of service.", books.OutOfService, "Record notes found"},
		"a question that is answered": {"offline", guides.View{End: guides.EndSolved},
			&books.Fault{Seq: 3, Light: true, Ending: books.Solved}, "Noted as solved.", books.Solved, ""},
	} {
		if got := incidents.EndOf(s.view); got != s.how {
			t.Errorf("%s: it ends as %q", name, got)
		}
		block, rows := incidents.Over(tell, &chat.Walk{Guide: s.guide, Fault: 3}, s.view, s.fault)
		if got := said([]chat.Block{block}); got != s.want || labels(rows) != s.rows {
			t.Errorf("%s: %q, %q", name, got, labels(rows))
		}
	}
	for guide, finds := range map[string]bool{"note-jam": true, "wrong-notes": true, "customer-claim": true,
		"offline": false, chat.Robbery: false} {
		if incidents.Finds(guide) != finds {
			t.Errorf("%s: notes come to light: %t", guide, !finds)
		}
	}
}

// An incident that is over is told with how long the machine was out; where nobody said
// that it was, that can be said now, but not of a question.
func TestSolved(t *testing.T) {
	f := floor.New(t, dialogs.New)
	tell := teller(f, "owner")
	title := tell.GuideTitle("offline")
	began := tell.Now.Add(-90 * time.Minute)
	for name, s := range map[string]struct {
		fault    books.Fault
		want, to string
	}{
		"out": {books.Fault{Out: began, Back: tell.Now, Ended: tell.Now},
			"\nOut of service for 1 h 30 min.", ""},
		"not out":    {books.Fault{}, "", "Out of service from 05:10"},
		"a question": {books.Fault{Light: true}, "", ""},
	} {
		s.fault.Topic, s.fault.Began, s.fault.Seq = "offline", began, 3
		first, r := incidents.Solved(tell, &s.fault)
		got := said(r.Body)
		if first != title+": solved, 06:40." || got != first+s.want || labels(r.Buttons) != s.to {
			t.Errorf("%s: %q, %q", name, got, labels(r.Buttons))
		}
	}
}

// An incident that stays open is told with its two buttons, under the key of its cards.
func TestStillOpen(t *testing.T) {
	f := floor.New(t, dialogs.New)
	tell := teller(f, "owner")
	fault := &books.Fault{Seq: 3, Topic: "offline", Began: f.Now}
	r := incidents.StillOpen(tell, fault, "fault-3")
	if r.Key != "fault-3" || r.Retire != "fault-3" || r.Buttons[0][0].Data != "o:fault:back.3" ||
		r.Buttons[1][0].Data != "o:fault:guide.3" {
		t.Errorf("%+v", r)
	}
	floor.Expect(t, said(r.Body), "Not solved yet: |since 06:40", "out of service")
	fault.Out = f.Now
	floor.Expect(t, said(incidents.StillOpen(tell, fault, "x").Body), "The machine is out of service", "")
}

// A guide that is left says whether its incident stays on the list.
func TestStopped(t *testing.T) {
	f := floor.New(t, dialogs.New)
	tell := teller(f, "owner")
	for want, fault := range map[string]*books.Fault{
		"stopped here. It stays on the list": {Seq: 3, Topic: "offline"},
		"stopped here.":                      {Seq: 3, Topic: "offline", Ending: books.Solved, Ended: f.Now},
	} {
		r := incidents.Stopped(tell, "offline", fault)
		if !strings.Contains(said(r.Body), want) || (len(r.Buttons) > 0) != fault.Unsolved() {
			t.Errorf("%q: %q, %s", want, said(r.Body), labels(r.Buttons))
		}
	}
	r := incidents.Stopped(tell, "offline", nil)
	if len(r.Buttons) != 0 || strings.Contains(said(r.Body), "list") {
		t.Errorf("of no incident: %+v", r)
	}
}

// A topic that comes up again goes on with its incident while that is open; a robbery only
// until something was said of it, and a question makes one of its own each time.
func TestGoesOn(t *testing.T) {
	for name, s := range map[string]struct {
		list  []books.Fault
		topic string
		want  int64
	}{
		"none":        {nil, "offline", 0},
		"open":        {[]books.Fault{{Seq: 1, Topic: "offline"}, {Seq: 2, Topic: "note-jam"}}, "offline", 1},
		"the newer":   {[]books.Fault{{Seq: 1, Topic: "offline"}, {Seq: 2, Topic: "offline"}}, "offline", 2},
		"over":        {[]books.Fault{{Seq: 1, Topic: "offline", Ending: books.Solved}}, "offline", 0},
		"a question":  {[]books.Fault{{Seq: 1, Topic: "offline", Light: true}}, "offline", 0},
		"help called": {[]books.Fault{{Seq: 1, Topic: "offline", Ending: books.CalledHelp}}, "offline", 1},
		"a robbery":   {[]books.Fault{{Seq: 1, Topic: chat.Robbery}}, chat.Robbery, 1},
		"a robbery, spoken of": {[]books.Fault{{Seq: 1, Topic: chat.Robbery, Ending: books.CalledHelp}},
			chat.Robbery, 0},
	} {
		if got := incidents.GoesOn(s.list, s.topic); got != s.want {
			t.Errorf("%s: %d, want %d", name, got, s.want)
		}
	}
}

// Whoever leaves a guide ends what they began themselves; of others' incidents, and of those
// that need help, only the steps are noted, and nothing where there are none.
func TestLeft(t *testing.T) {
	tell := teller(floor.New(t, dialogs.New), "staff1") // person 2
	for name, s := range map[string]struct {
		fault  books.Fault
		steps  []string
		ending books.Ending
		ok     bool
	}{
		"one's own":      {books.Fault{By: 2}, nil, books.Stopped, true},
		"with steps":     {books.Fault{By: 2}, []string{"yes"}, books.Stopped, true},
		"another's":      {books.Fault{By: 3}, []string{"yes"}, "", true},
		"another's, new": {books.Fault{By: 3}, nil, "", false},
		"help is needed": {books.Fault{By: 2, Ending: books.CalledHelp}, nil, "", false},
	} {
		got, ok := incidents.Left(tell, &s.fault, s.steps, books.Stopped)
		if ok != s.ok || got.Ending != s.ending || len(got.Steps) != len(s.steps) {
			t.Errorf("%s: %+v, %t", name, got, ok)
		}
	}
}
