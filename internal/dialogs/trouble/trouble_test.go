package trouble_test

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

func TestGuides(t *testing.T) {
	const stopped = "staff1: guides; [Notes are; [Stop this guide]; "
	tell(t, []story{
		{"found by words", "staff1: notes are stuck",
			"Notes are stuck in the machine. Step 1|rollers|[It is stopped]", "[Record notes"},
		{"asked again", "staff1: notes are stuck; notes are stuck", "Step 1", "Step 2"},
		{"a step on", "staff1: notes are stuck; [It is stopped]",
			"Step 2|[Record notes found]|[Stop this guide]", ""},
		{"by number", "staff1: notes are stuck; 1", "Step 2", ""},
		{"by words", "staff1: notes are stuck; it is stopped", "Step 2", ""},
		{"within a dialog no number", "staff1: notes are stuck; close; 1", "20s (middle box)", "Step 2"},
		{"within a dialog by words", "staff1: notes are stuck; close; it is stopped", "Step 2", ""},
		{"by words of one's own", "staff1: notes are stuck; its stopped now", "Step 2", ""},
		{"too late for those", "staff1: notes are stuck\n@2026-11-25 07:30\nstaff1: its stopped now", "", "Step 2"},
		{"never too late for a button's words", "staff1: notes are stuck\n@2026-11-25 07:30\nstaff1: it is stopped",
			"Step 2", ""},
		{"never too late for a tap", "staff1: notes are stuck\n@2026-11-25 07:30\nstaff1: [It is stopped]",
			"Step 2", ""},
		{"an end that needs help", "staff1: notes are stuck; [Smoke]",
			"Noted: out of service|Write down:|Emergency: 112|Provider: no number yet|[It works again]|[Never out",
			"[It was nothing]"},
		{"stopped", "staff1: guides; [Notes are; [Stop this guide]",
			"stopped here. It stays on|[It works again]|[It was nothing]|[Out of service from 06:40]|[Add the", ""},
		{"stopped by a word", "staff1: notes are stuck; cancel", "stopped here", ""},
		{"nothing to stop", "staff1: cancel", "", "stopped here"},
		{"solved", stopped + "[It works again]", "solved, 06:40.|[Out of service from 06:40]",
			"Out of service for"},
		{"solved twice", stopped + "[It works again]; [It works again]", "solved already", ""},
		{"it was nothing", stopped + "[It was nothing]", "begun by mistake", ""},
		{"it was nothing, twice", stopped + "[It was nothing]; [It was nothing]", "solved already", ""},
		{"out of service", stopped + "[Out of service]\n@2026-11-25 09:10\nstaff1: [It works again]",
			"solved, 09:10.|Out of service for 2 h 30 min.", "[Out of service"},
		{"never out of service", "staff1: notes are stuck; [Smoke]; [Never out]", "in service all the time", ""},
		{"reference asked", stopped + "[Add the reference]", "Type reference and then", ""},
		{"reference", stopped + "reference rm 48-213", "Reference RM 48-213 noted with: Notes are stuck", ""},
		{"no reference", stopped + "reference of theirs", "Type reference", "noted"},
		{"reference for nothing", "staff1: reference 4711", "No faults on record", ""},
		{"notes found", "staff1: notes are stuck; [It is stopped]; [Record notes found]",
			"Which notes were found?", ""},
		{"notes found, typed", "staff1: notes are stuck; 20x2", "Where did you put them?", "Step"},
		{"notes found in a count", "staff1: notes are stuck; [It is stopped]; close 12; [Record notes found]",
			"asks for notes found in a moment|20s (middle box)", ""},
		{"notes found at the end", "staff1: wrong notes come out; [Stop this guide]", "stopped here", ""},
		{"several guides", "staff1: machine dont work",
			"Which of these is it?|[The machine has no connection]|[None of these]",
			"Step"},
		{"one of several", "staff1: machine dont work; [The machine has no]", "Step 1", ""},
		{"none of several", "staff1: machine dont work; [None of these]", "What is it about?", ""},
		{"solved in the middle", "staff1: guides; [Notes are\nowner: faults; [Solved",
			"Notes are stuck in the machine: solved", ""},
		{"no guide", "staff1: vortex bison klaxon", "nothing close|[Show the list]|[Something is wrong]", "Step"},
		{"no guide within a dialog", "staff1: close 12; vortex bison klaxon",
			"Nothing is lost|20s (middle box)", ""},
		{"the list", "staff1: guides", "What is it about?|[More]", ""},
		{"the list goes on", "staff1: guides; [More]", "What is it about?", "[More]"},
		{"one of the list", "staff1: guides; [Notes are", "Step 1", ""},
		{"whom to ring", "staff1: vortex bison klaxon; [Something is wrong]", "What is it about?", ""},
		{"a sentence", "staff1: close the machine please", "Closing of|top box", "Step|could not read"},
		{"no command", "staff1: test failed", "Step 1", "Test payout"},
		{"a box is no question", "staff1: swap middle box", "20s", "Step 1"},
		{"a question within a guide",
			"staff1: notes are stuck; what do i do with a ripped one; [Torn]; [Yes, more]; [In the",
			"Back to Notes are stuck in the machine|Step 1", ""},
		{"another fault within a guide", "staff1: notes are stuck; machine is offline", "Step 1",
			"Notes are stuck"},
	})
}

// What a guide leaves on record: how it began, went on and ended.
//
// Words alone put nothing on record before the first step is answered.
func TestIncidents(t *testing.T) {
	for _, script := range []string{"notes are stuck", "notes are stuck; [Stop this", "notes are stuck; stop",
		"notes are stuck; machine is offline", "what do i do with a ripped one"} {
		f := morning(t)
		if f.Play("staff1: " + script); len(f.Machine.Faults) != 0 {
			t.Errorf("%q is on record as %+v", script, f.Machine.Faults)
		}
	}
	for script, want := range map[string]books.Fault{
		"guides; [Notes are; [It is stopped]; [A note came; [Open": {Topic: "note-jam"},
		"notes are stuck; [It is stopped]":                         {Topic: "note-jam"},
		"notes are stuck; its stopped; stop":                       {Topic: "note-jam", Ending: books.Stopped},
		"guides; [Notes are":                                       {Topic: "note-jam"},
		"guides; [Notes are; [Stop this":                           {Topic: "note-jam", Ending: books.Stopped},
		"guides; [Notes are; [Smoke":                               {Topic: "note-jam", Ending: books.OutOfService},
		"guides; [Notes are; [Stop this; [It works":                {Topic: "note-jam", Ending: books.Solved},
		"guides; [Notes are; [Stop this; [It was":                  {Topic: "note-jam", Ending: books.Mistake},
		"guides; [Notes are; [Stop this; reference a-1": {Topic: "note-jam", Ending: books.Stopped,
			Reference: "A-1"},
		"guides; [Notes are; guides; [The machine has": {Topic: "offline"},
		"guides; [More]; [Torn":                        {Topic: "damaged-note", Light: true},
		"guides; [More]; [Torn; [Stop this": {Topic: "damaged-note", Light: true,
			Ending: books.Stopped},
		"guides; [More]; [Torn; guides; [Notes are":                 {Topic: "note-jam"},
		"guides; [Notes are; [Stop; guides; [Notes are; [Stop this": {Topic: "note-jam", Ending: books.Stopped},
	} {
		f := morning(t)
		f.Play("staff1: " + script)
		if got := fault(f); got.Topic != want.Topic || got.Ending != want.Ending || got.Light != want.Light ||
			got.Reference != want.Reference {
			t.Errorf("%q is on record as %+v", script, got)
		}
	}
	f := morning(t)
	f.Play("staff1: guides; [Notes are; [Stop; guides; [Notes are; [Stop; guides; [The machine has")
	if n := len(f.Machine.Faults); n != 2 {
		t.Errorf("%d incidents, want one of each", n)
	}
	if before := f.Machine.Faults[0]; before.Ending != books.Stopped {
		t.Errorf("the first is %+v", before)
	}
}

// Whoever looks at what another is at leaves it open when they go.
func TestAnothersIncident(t *testing.T) {
	f := morning(t)
	f.Play("staff1: guides; [Notes are\nstaff2: guides; [Notes are; [Stop this guide]")
	if got := fault(f); len(f.Machine.Faults) != 1 || got.Ending != "" || got.By != floor.People["staff1"] {
		t.Errorf("on record as %+v", got)
	}
}

// A reference goes to the newest fault that is not solved, else to the newest.
func TestReference(t *testing.T) {
	f := morning(t)
	f.Play("staff1: guides; [Notes are; [Stop; guides; [The machine has; [Stop; reference 4710")
	if a, b := f.Machine.Faults[0], f.Machine.Faults[1]; a.Reference != "" || b.Reference != "4710" {
		t.Errorf("got %+v and %+v", a, b)
	}
	f.Play("staff1: [It works; reference 4711")
	if a, b := f.Machine.Faults[0], f.Machine.Faults[1]; a.Reference != "4711" || b.Reference != "4710" {
		t.Errorf("got %+v and %+v", a, b)
	}
	f.Press("owner", chat.Button{Data: "o:fault:back." + strconv.FormatInt(f.Machine.Faults[0].Seq, 10)})
	f.Play("staff1: reference 4712")
	if a, b := f.Machine.Faults[0], f.Machine.Faults[1]; a.Reference != "4711" || b.Reference != "4712" {
		t.Errorf("got %+v and %+v", a, b)
	}
}

// Where one guide takes another's place the first is noted as left for it.
func TestElsewhere(t *testing.T) {
	f := morning(t)
	f.Play("staff1: guides; [Notes are; guides; [The machine has")
	if before := f.Machine.Faults[0]; before.Ending != books.Elsewhere {
		t.Errorf("the first is %+v", before)
	}
	f.Expect(f.Says("owner", "faults"), "The machine has no connection", "Notes are stuck")
	f = morning(t)
	f.Play("staff1: guides; [Notes are; guides; [More]; [Torn; guides; [The machine has")
	if len(f.Machine.Faults) != 3 || f.Machine.Faults[0].Ending != books.Elsewhere ||
		f.Machine.Faults[1].Ending != books.Elsewhere || f.State("staff1").Walk.Under != nil {
		t.Errorf("got %+v", f.Machine.Faults)
	}
}

// Buttons of cards that are past, of other machines and of nothing do nothing.
func TestDeadButtons(t *testing.T) {
	f := morning(t)
	f.Play("staff1: guides; [Notes are; [Stop this guide]")
	n := len(f.Entries)
	for data, want := range map[string]string{
		"o:fault:back.99": "does not work any more", "o:fault:back.x": "does not work any more",
		"o:fault:what." + seq(f): "does not work any more", "o:guide:1.0": "earlier step",
		"o:guide:do.month": "does not work any more", "o:guide:ask.none": "does not work any more",
		"o:guide:list.9": "What is it about?",
	} {
		f.Expect(f.Press("staff1", chat.Button{Data: data}), want, "Step 1")
	}
	f.Play("staff1: guides; [Notes are")
	for _, choice := range []string{"9", "x"} {
		data := "o:guide:" + strconv.Itoa(f.State("staff1").Cards) + "." + choice
		f.Expect(f.Press("staff1", chat.Button{Data: data}), "does not work any more", "Step 2")
	}
	if got := len(f.Entries); got != n {
		t.Errorf("%d records were made", got-n)
	}
	f.Expect(f.Press("staff1", chat.Button{Data: "o:fault:guide." + seq(f)}), "Step 1", "")
}

func seq(f *floor.Floor) string { return strconv.FormatInt(fault(f).Seq, 10) }

// A guide that somebody changed meanwhile is begun anew, and one shown again
// after taps were lost is where it was.
func TestGuideShownAgain(t *testing.T) {
	f := morning(t)
	f.Play("staff1: notes are stuck; [It is stopped]")
	f.Expect(f.Step("staff1", chat.Input{Kind: chat.Redraw}, "(again)"), "Step 2", "")
	st := f.State("staff1")
	st.Walk.Step = "gone"
	f.States[floor.ChatOf("staff1")] = st
	f.Expect(f.Step("staff1", chat.Input{Kind: chat.Redraw}, "(again)"), "changed meanwhile", "Step")
	if f.State("staff1").Walk != nil {
		t.Error("it goes on")
	}
}

// A photo that is sent in a guide is kept with its incident, and not much later.
func TestPhoto(t *testing.T) {
	picture := chat.Input{Kind: chat.Picture, Photo: books.Photo{ID: "jam", Unique: "jam"}}
	for after, kept := range map[time.Duration]bool{0: true, 10 * time.Minute: true, 11 * time.Minute: false} {
		f := morning(t)
		f.Play("staff1: guides; [Notes are")
		f.Now = f.Now.Add(after)
		f.Expect(f.Step("staff1", picture, "(photo)"), "", "Step 2")
		e := f.Entries[len(f.Entries)-1]
		if got := e.Kind == books.Attachment && e.Target == fault(f).Seq; got != kept {
			t.Errorf("after %s it is kept: %t", after, got)
		}
	}
	f := morning(t)
	f.Play("staff1: guides; [Notes are; close 12")
	f.Expect(f.Step("staff1", picture, "(photo)"), "Photo noted with: Notes are stuck|20s (middle box)", "")
}

// The list of incidents, with the time out of service in each month: the first
// from 22:00 on 31 October to 02:30, the second for 25 minutes.
func TestFaults(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Expect(f.Says("staff1", "faults"), "No faults on record", "")
	f.Expect(f.Play(
		"@2026-10-31 22:00\nstaff1: guides; [Notes are; [Smoke]\n@2026-11-01 02:30\nstaff1: [It works again]\n"+
			"@2026-11-24 08:00\nstaff1: guides; [The machine has; [Stop this; [Out of service]; reference 4711\n"+
			"@2026-11-24 08:25\nstaff1: [It works again]\n"+
			"@2026-11-25 09:00\nstaff2: guides; [Notes are; [Stop this; [It was\n"+
			"staff2: guides; [More]; [Torn; [Stop this\nowner: guides; [Notes are\nstaff2: faults"),
		"Notes are stuck in the machine: solved. Ben. Out for 4 h 30 min.|begun by mistake. Cleo.|"+
			"under way. Ada.|Reference 4711.|"+
			"Sep 2026  0 faults       out of service 0 min|Oct 2026   1 fault   out of service 2 h 0 min|"+
			"Nov 2026  2 faults  out of service 2 h 55 min|[Solved: Notes are stuck", "")
}

// Long ago is not listed; what is still open is, however old.
func TestFaultsOfLongAgo(t *testing.T) {
	f := floor.New(t, dialogs.New)
	out := f.Play("@2026-05-02 08:00\nstaff1: guides; [Notes are; [Stop this; [It works\n" +
		"@2026-05-03 08:00\nstaff1: guides; [The machine has; [Stop this\n@2026-11-25 08:00\nstaff1: faults")
	f.Expect(out, "guide stopped. Ben", "Notes are stuck|2026-05")
	f = floor.New(t, dialogs.New)
	out = f.Play("@2026-11-02 08:00\nstaff1: guides; [Notes are; [Stop this\n@2026-11-25 08:00\nstaff1: faults")
	f.Expect(out, "Nov 2026   1 fault        not solved yet", "")
}

// due plays a deadline of the machine and gives who is told.
func due(f *floor.Floor, name string, after time.Duration) (to []shop.PersonID, text string) {
	f.Now = f.Now.Add(after)
	in := chat.Input{Kind: chat.Remind, Text: name, At: f.Now, Due: f.Now, Chat: chat.MachineChat(1)}
	facts := f.Facts("staff1")
	facts.Person = shop.Person{}
	for _, r := range f.Engine.Step(chat.State{V: chat.StateFormat}, in, facts).Replies {
		to, text = append(to, r.To.Person), text+r.Body[0].Text
	}
	return to, text
}

// A fault that stays open is asked for again: of whoever has it, then of those
// above; one that is solved no more.
func TestFaultIsRemembered(t *testing.T) {
	f := morning(t)
	f.Play("staff1: notes are stuck; [Smoke]")
	d := f.Due[len(f.Due)-1]
	to, text := due(f, d.Name, d.At.Sub(f.Now))
	if len(to) != 1 || to[0] != floor.People["staff1"] ||
		!strings.Contains(text,
			"Not solved yet: Notes are stuck in the machine, since 06:40.\nThe machine is out") {
		t.Errorf("%v is told %q", to, text)
	}
	f.Play("staff1: [It works again]")
	if d := f.Due[len(f.Due)-1]; !d.At.IsZero() {
		t.Errorf("still due at %s", d.At)
	}
	if to, text := due(f, d.Name, time.Hour); len(to) != 0 {
		t.Errorf("%v is told %q", to, text)
	}
}

// A robbery: one message, nothing asked, managers told once, and only a manager
// says that it is over.
func TestRobbery(t *testing.T) {
	f := morning(t)
	f.Expect(f.Says("staff1", "man with a gun"),
		"Do as told|others> Please look now: Ben wrote at 06:40.|Robbery or threat.|Ring 112|[It is over]", "?")
	f.Expect(f.Says("staff1", "he has a gun"), "Do as told", "others>|?")
	for _, text := range []string{"hello there", "where is everybody"} {
		f.Expect(f.Says("staff1", text), "Do as told", "?")
	}
	d := "fault-" + seq(f)
	if to, _ := due(f, d, 3*time.Hour); len(to) > 0 && to[0] != floor.People["owner"] {
		t.Errorf("%v is told", to)
	}
	tap := chat.Button{Data: "o:fault:back." + seq(f)}
	f.Expect(f.Press("staff1", tap), "Only a manager", "solved")
	f.Expect(f.Press("staff1", chat.Button{Data: "o:fault:nothing." + seq(f)}), "Only a manager", "mistake")
	f.Expect(f.Press("owner", tap), "Robbery or threat: solved", "?")
	if fault(f).Unsolved() {
		t.Errorf("on record as %+v", fault(f))
	}
}

// A robbery that is reported anew after its guide came to an end is the same
// one: saying that it is over ends all of it, and its guide.
func TestRobberyReportedAnew(t *testing.T) {
	f := morning(t)
	f.Play("staff1: man with a gun; [It is over]; [Rung]; [Done]; [Done]")
	f.Step("staff1", chat.Input{Kind: chat.Secret, Text: chat.Robbery}, "(dropped)")
	if n := len(f.Machine.Faults); n != 2 {
		t.Fatalf("%d incidents", n)
	}
	f.Shop.People[1].Role = shop.Manager
	f.Press("staff1", chat.Button{Data: "o:fault:back." + seq(f)})
	for _, x := range f.Machine.Faults {
		if x.Unsolved() {
			t.Errorf("still open: %+v", x)
		}
	}
	if f.State("staff1").Walk != nil {
		t.Error("its guide goes on")
	}
}

// Words of an injury are answered at once and change nothing.
func TestInjury(t *testing.T) {
	f := morning(t)
	f.Play("staff1: close 12")
	n := len(f.Entries)
	f.Expect(f.Says("staff1", "i cut my finger"), "Somebody is hurt: stop, and ring 112", "?|[")
	f.Expect(f.Step("staff1", chat.Input{Kind: chat.Secret, Text: chat.Hurt}, "(dropped)"),
		"Somebody is hurt", "?")
	if len(f.Entries) != n || f.State("staff1").Flow != "close" {
		t.Errorf("%d records, %s", len(f.Entries)-n, f.State("staff1").Flow)
	}
	f.Shop.Country = "GB"
	f.Expect(f.Says("staff1", "i cut my finger"), "999", "112")
}

// On the phone on the counter a guide helps before anybody says who they are.
func TestGuideAtTheCounter(t *testing.T) {
	f := morning(t)
	f.Knows = func(facts *chat.Facts) { facts.Shared, facts.Person = true, shop.Person{} }
	f.Expect(f.Says("staff1", "notes are stuck"), "Step 1", "Who is this")
	f.Expect(f.Says("staff1", "its stopped"), "Step 2", "Who is this")
	if e := f.Entries[len(f.Entries)-1]; !e.Has(books.SharedPhone) {
		t.Errorf("on record as %+v", e.Record)
	}
}

// Without a machine on the books there is nothing to put an incident on.
func TestGuideWithoutMachine(t *testing.T) {
	f := morning(t)
	f.Knows = func(facts *chat.Facts) { facts.Machine = nil }
	n := len(f.Entries)
	f.Expect(f.Says("staff1", "notes are stuck"), "Step 1", "")
	f.Expect(f.Taps("staff1", "Smoke"), "out of service", "[It works")
	if len(f.Entries) != n {
		t.Errorf("recorded %+v", f.Entries[n:])
	}
}
