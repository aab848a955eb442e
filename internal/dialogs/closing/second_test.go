package closing_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// first is a count of 12, 60 and 80 notes with two twenties refused and a ten found.
const first = "staff1: close 12 60 80; 20x2 10x1; [Confirm]\n"

// Two counts agree only where each part does: the boxes, refused notes, found ones.
func TestSecondCompares(t *testing.T) {
	for mine, agree := range map[string]bool{
		"12 60 80; 20x2 10x1": true, "12 61 80; 20x2 10x1": false, "12 60 80; 20x1 10x1": false,
		"12 60 80; 20x2; none": false, "12 62 80; 10x1; none": false, "12 60 81; 20x2; none": false,
	} {
		f := opened(t)
		out := f.Play(first + "staff2: second count " + mine + "; [Confirm]")
		if agree != strings.Contains(out, "Both counts agree") || agree == strings.Contains(out, "differ") {
			t.Errorf("%q, agrees %t:\n%s", mine, agree, out)
		}
		if agree {
			e := last(f, books.Spot)
			if !slices.Equal(e.Marks, []books.Mark{books.Second}) || e.By != floor.People["staff2"] {
				t.Errorf("on record as %+v", e)
			}
		}
	}
}

// Where the kinds agree the boxes need not: notes of one kind are counted as one.
func TestSecondOfTwoBoxes(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Shop.Machines[0].Boxes[2].Face = "20"
	f.Play("staff1: open 40 150 200; [Confirm]\n@2026-11-25 21:05")
	out := f.Play(
		"staff1: close 12 60 80; none; none; [Confirm]\nstaff2: second count 12 70 70; none; none; [Confirm]")
	f.Expect(out, "Both counts agree", "")
}

func TestSecondCount(t *testing.T) {
	const other = first + "staff2: second count 11 60 80; 20x2 10x1; [Confirm]; "
	tell(t, opened, []story{
		{"nothing to count again", "staff2: second count", "no closing count", "top box"},
		{"by whoever counted first", first + "staff1: [I must go]; second count", "another person than Ben",
			"top box"},
		{"taken", other + "[Use my count]", "Your count counts now|others> Second count by Cleo: it replaced", ""},
		{"kept", other + "[Keep the first]", "The first count stays|others> Second count by Cleo: it differed", ""},
		{"closed meanwhile", first + "staff2: second count 12 60\nstaff1: 28 90 120; none; [Confirm]; [Skip]\n" +
			"staff2: 80; 20x2 10x1; [Confirm]", "Ben closed meanwhile|Both counts agree|others> Second count", ""},
		{"closed meanwhile, differs", first +
			"staff2: second count 12 60\nstaff1: 28 90 120; none; [Confirm]; [Skip]\n" +
			"staff2: 79; 20x2 10x1; [Confirm]", "10s     81      80|Please look together", "agree"},
		{"told at the figures", first + "staff2: second count 12 60\nstaff1: 28", "", "second time"},
		{"told at the result", first + "staff2: second count 12 60\nstaff1: 28 90 120; none",
			"Cleo is counting a second time", ""},
		{"taken back meanwhile", first + "staff2: second count 12 60\nstaff1: cancel; undo; [Confirm]\n" +
			"staff2: 80; 20x2 10x1; [Confirm]", "first count was taken back|Yours is on record", ""},
		{"given up", first + "staff2: second count 12; cancel", "Stopped", "stays"},
		{"notes of the day before taken in", "staff1: close 12 60 80; none; none; [Confirm]; [I must go]\n" +
			"@2026-11-26 06:40\nstaff1: open 40 150 200; [Confirm]\nstaff2: second count", "", "top box"},
	})
}

// Whose count it is decides, also where the phone on the counter asks who only
// at the end; whoever knows the result is marked.
func TestSecondCountMarks(t *testing.T) {
	f := opened(t)
	f.Play(first + "staff2: second count 12 61 80; [Not looked]; [Use my count]")
	want := []books.Mark{books.Second, books.NoTray}
	if e := last(f, books.Count); !slices.Equal(e.Marks, want) || e.By != floor.People["staff2"] {
		t.Errorf("on record as %+v, want %v", e, want)
	}
	f = opened(t)
	f.Play(first + "staff1: [I must go]\nstaff2: finish; 28 90 120; none; cancel; second count 12 61 80; " +
		"20x2 10x1; [Confirm]; [Keep")
	if e := last(f, books.Spot); !e.Has(books.NotBlind) {
		t.Errorf("known to the second counter: %+v", e)
	}
}

// The phone on the counter asks who it is when the count is chosen.
func TestSecondCountOnTheCounter(t *testing.T) {
	f := opened(t)
	f.Play(first + "staff2: second count 12 61 80; 20x2 10x1; [Confirm]")
	f.Knows = func(facts *chat.Facts) {
		facts.Person, _ = f.Shop.Person(floor.People["staff1"]) // the one who counted first has come to it
	}
	n := len(f.Entries)
	f.Expect(f.Taps("staff2", "Keep the first"), "another person than Ben", "")
	if len(f.Entries) != n {
		t.Errorf("recorded all the same: %+v", f.Entries[n:])
	}
}

// Whoever closes has seen the difference and is not told it; nor is the one who
// counts a second time, before that count is in.
func TestNobodyIsToldTheirOwn(t *testing.T) {
	people := func(f *floor.Floor) {
		f.Shop.People[1].Role, f.Shop.People[2].Role = shop.Manager, shop.Manager
	}
	f := opened(t)
	people(f)
	f.Play("staff1: close 12 55 80; none; none; [Confirm]\nstaff2: second count 12\nstaff1: 28 90 120; none")
	list := heard(f)
	f.Taps("staff1", "Confirm")
	var to []shop.PersonID
	for _, r := range *list {
		if strings.Contains(r.Body[0].Text, "one thing to look at") {
			to = append(to, r.To.Person)
		}
	}
	if !slices.Equal(to, []shop.PersonID{floor.People["owner"]}) {
		t.Errorf("told the difference: %v", to)
	}
	f.Expect(f.Says("staff2", "cancel"), "one thing to look at|5 missing", "")

	// at the phone on the counter it may be whoever closed who gives that count up
	f = opened(t)
	people(f)
	f.Play("staff1: close 12 55 80; none; none; [Confirm]\nstaff2: second count 12\n" +
		"staff1: 28 90 120; none; [Confirm]")
	f.Knows = func(facts *chat.Facts) { facts.Person, _ = f.Shop.Person(floor.People["staff1"]) }
	f.Expect(f.Says("staff2", "cancel"), "", "5 missing|one thing to look at")
}

// Where nobody counts a second time the managers are told, without whoever closed.
func TestManagersAreTold(t *testing.T) {
	f := opened(t)
	f.Play("staff1: close 12 55 80; none; none; [Confirm]; 28 90 120; none")
	list := heard(f)
	f.Taps("staff1", "Confirm")
	n := 0
	for _, r := range *list {
		if strings.Contains(r.Body[0].Text, "one thing to look at") && r.To.Managers {
			n++
		}
	}
	if n != 1 {
		t.Errorf("managers told %d times", n)
	}
}

// inTwos is the floor of a shop in which two persons count at closing.
func inTwos(t testing.TB) *floor.Floor {
	f := opened(t)
	f.Shop.TwoPersons = true
	return f
}

func TestWitness(t *testing.T) {
	tell(t, inTwos, []story{
		{"asked", counted + "staff1: 28", "A second person stands by it|[I am alone today]", "[I counted too]"},
		{"by another on their phone", counted + "staff1: cancel\nstaff2: finish", "[I counted too]|[I am alone",
			""},
		{"there", counted + "staff1: cancel\nstaff2: finish; [I counted too]",
			"Recorded, 21:05|Now the slip, paid out", ""},
		{"alone", counted + "staff1: [I am alone]",
			"others> Closing count of Wed 25 Nov by Ben: no second|paid out", ""},
		{"alone, figures", counted + "staff1: [I am alone]; 28 90 120; none", "It balances", ""},
	})
}

// The card of whoever is asked to stand by holds while the count waits for one,
// and for nobody who counted.
func TestWitnessCard(t *testing.T) {
	card := func(f *floor.Floor) (b chat.Button) {
		list := heard(f)
		f.Play(counted)
		for _, r := range *list {
			if r.To.Others {
				f.Expect(r.Body[0].Text+r.Body[1].Text, "Ben counted and asks|20s  60 notes", "")
				b = r.Buttons[0][0]
			}
		}
		return b
	}
	f := inTwos(t)
	b := card(f)
	f.Expect(f.Press("staff1", b), "another than Ben", "Recorded")
	f.Expect(f.Press("staff2", b), "Cleo stands by the count|others> Cleo stands by your count", "")
	if w := last(f, books.Witness); w.By != floor.People["staff2"] || w.Target != last(f, books.Count).Seq {
		t.Errorf("on record: %+v", w)
	}
	f.Expect(f.Press("owner", b), "earlier step", "stands by")
	f.Expect(f.Taps("staff1", "More"), "", "alone")
	f.Expect(f.Press("staff1", chat.Button{Data: "o:go-on:dialog"}), "Now the slip, paid out", "")
	f.Play("staff1: cancel")
	f.Expect(f.Press("staff1", chat.Button{Data: "o:go-on:dialog"}), "earlier step", "")
	for data, want := range map[string]string{"o:witness:1.2.2": "other machine", "o:witness:x": "other machine",
		"o:witness:9.2.1": "earlier step"} {
		f.Expect(f.Press("owner", chat.Button{Data: data}), want, "stands by")
	}
}

// A count from paper needs nobody to stand by it.
func TestWitnessOfPaper(t *testing.T) {
	f := inTwos(t)
	out := f.Play(
		"owner: earlier 24.11. 06:40; [Opening]; 40 150 200; [Confirm]; earlier 24.11. 20:30; [Closing]; " +
			"12 60 80; none; none; [Confirm]")
	f.Expect(out, "Now the slip, paid out", "second person")
}

// A dialog of three hours ago gets in nobody's way, a second count neither.
func TestSecondCountForgotten(t *testing.T) {
	f := opened(t)
	f.Play(first + "staff2: second count 12")
	f.Now = f.Now.Add(3 * time.Hour)
	f.Expect(f.Play("staff1: 28 90 120; none"), "The result", "second time")
}
