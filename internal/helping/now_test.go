package helping_test

import (
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/helping"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

func teller(f *floor.Floor, name string) *telling.Teller { return f.Talk(name).Teller }

// told is a message with its buttons, as it is read.
func told(r chat.Reply) string {
	var all []string
	for _, b := range r.Body {
		all = append(all, b.Text)
	}
	for _, row := range r.Buttons {
		for _, b := range row {
			all = append(all, "["+b.Label+"] "+b.Data)
		}
	}
	return strings.Join(all, "\n")
}

// may lets somebody do some commands.
func may(list string) func(string) bool {
	return func(name string) bool { return strings.Contains(" "+list+" ", " "+name+" ") }
}

// What can be done now, by the state of the machine and of the day. 25 November 2026 is
// a Wednesday; the shop trades from 7 to 21.
func TestNow(t *testing.T) {
	const open = "staff1: open 40 150 200; [Confirm]\n"
	const ticked = open + "staff1: [All done]\nstaff1: [With]\nstaff1: [Back]\nstaff1: [No]\n"
	const slip = "staff1: 28 90 120; none; [Confirm]\n"
	const counted = "@2026-11-25 21:05\nstaff1: close 12 60 80; none; none; [Confirm]\n"
	for name, s := range map[string]struct {
		script, may string
		set         func(*floor.Floor)
		want, not   string
	}{
		"before opening": {"", "open", nil,
			"Next: opening, before 07:00. Count the notes, then type 50s 20s 10s.|o:guide:do.open",
			"due since"},
		"opening is late": {"@2026-11-25 07:30\n", "open", nil, "Next: opening, due since 07:00.",
			"before"},
		"opened, list not done": {open, "open", nil, "Opened 06:40 by Ben.", "Next: closing"},
		"opened, all done": {ticked, "open level topup", nil,
			"Nothing to do now. Next: closing, 21:15.|o:guide:do.level|o:guide:do.topup", "Opened"},
		"a day without a closing": {ticked, "open", func(f *floor.Floor) {
			f.Shop.Plan.Changes = []shop.Change{{From: "2026-11-25", To: "2026-11-25", Closed: true}}
		}, "Nothing to do now. Next: closing.", "21:15|do.level"},
		"counted, the slip is missing": {open + counted, "open finish", nil,
			"Next: the slip of Wed 25 Nov. What was paid out: 50s 20s 10s?|o:guide:do.finish",
			"You can go"},
		"closed": {ticked + counted + slip + "staff1: [All done]\n", "open", nil,
			"You can go. Next: opening, Thu 26 Nov, 07:00.", "due since"},
		"closed, and no opening for two weeks": {ticked + counted + slip + "staff1: [All done]\n", "open",
			func(f *floor.Floor) { f.Shop.Plan.Changes = shut() }, "You can go. No opening is planned.",
			"Next"},
		"not traded today": {"", "open", func(f *floor.Floor) {
			f.Shop.Plan.Changes = []shop.Change{{From: "2026-11-25", To: "2026-11-25", Closed: true}}
		}, "Nothing to do today. Next: opening, Thu 26 Nov, 07:00.", "before"},
		"no opening for two weeks": {"", "open", func(f *floor.Floor) { f.Shop.Plan.Changes = shut() },
			"Nothing to do. No opening is planned.", "Next"},
		"closed, the list for the night is not done": {ticked + counted + slip, "open", nil,
			"Closing of Wed 25 Nov recorded, 21:05.|[All done]|[Something is different]", "You can go|Next"},
		"the morning after a night of which nobody ticked off the list": {
			ticked + counted + slip + "@2026-11-26 06:00\n", "open", nil,
			"Next: opening, before 07:00.", "Closing of|[All done]"},
		"no opening but in fourteen days": {"", "open", func(f *floor.Floor) {
			f.Shop.Plan.Changes = []shop.Change{{From: "2026-11-25", To: "2026-12-08", Closed: true}}
		}, "Nothing to do today. Next: opening, Wed 9 Dec, 07:00.", "No opening"},
		"somebody walked off from a count": {"staff2: open 40 150\n@2026-11-25 09:40\n", "open", nil,
			"Next: opening, due since 07:00.", "is counting"},
		"somebody may walk off a minute later": {"staff2: open 40 150\n@2026-11-25 09:39\n", "open", nil,
			"Cleo is counting.", "Next"},
		"somebody is counting": {"staff2: open 40 150", "open", nil,
			"Cleo is counting. Nothing for you now.", "Next"},
		"money is due": {ticked + counted + slip + "staff1: [All done]\n@2026-11-26 09:00\n",
			"open credit", nil,
			// 28x50 + 90x20 + 120x10
			"Wed 25 Nov is closed. From the bank, due by now: €4,400.|" +
				"o:guide:do.credit.4400.for.2026-11-25", "Next"},
		"money is due, for a bookkeeper": {open + counted + slip + "@2026-11-26 09:00\n", "credit status",
			nil,
			"due by now: €4,400", "Next"},
		"not due yet": {open + counted + slip, "credit status", nil,
			"Nothing for you now.|o:guide:do.status", "€"},
		"who may nothing": {"", "", nil, "Nothing for you now.|o:guide:list.0", "o:guide:do"},
	} {
		t.Run(name, func(t *testing.T) {
			f := floor.New(t, dialogs.New)
			f.Play(s.script)
			if s.set != nil {
				s.set(f)
			}
			floor.Expect(t, told(helping.Now(teller(f, "staff1"), may(s.may))), s.want, s.not)
		})
	}
}

// shut closes the shop for longer than an opening is looked for.
func shut() []shop.Change { return []shop.Change{{From: "2026-11-25", To: "2026-12-31", Closed: true}} }

// Who was not understood is told what can be done, after a word on it.
func TestUnheard(t *testing.T) {
	f := floor.New(t, dialogs.New)
	floor.Expect(t, told(helping.Unheard(teller(f, "staff1"), "I did not understand.", may("open"))),
		"I did not understand.\nNext: opening, before 07:00", "")
	f.Play("staff1: open 40 150 200; [Confirm]")
	floor.Expect(t, told(helping.Unheard(teller(f, "staff1"), "I did not understand.",
		may("open status"))),
		"I did not understand.|o:guide:list.0", "Opened 06:40")
}

// Money that came and was not said how much is probably what is due first; a sum with a
// fraction is not put into a button.
func TestCame(t *testing.T) {
	f := floor.New(t, dialogs.New)
	if r, ok := helping.Came(teller(f, "owner")); ok {
		t.Errorf("nothing is due: %s", told(r))
	}
	claim := func(seq int64, day shop.Date, value string) books.Claim {
		return books.Claim{Seq: seq, Day: day, On: day.Add(1), Settled: day.Time().Add(20 * time.Hour),
			Value: decimal.RequireFromString(value)}
	}
	f.Machine.Claims = []books.Claim{claim(3, "2026-11-23", "300"), claim(4, "2026-11-24", "500")}
	f.Machine.Claims[0].Paid = decimal.NewFromInt(300)
	r, ok := helping.Came(teller(f, "owner"))
	if !ok {
		t.Fatal("500 are due")
	}
	floor.Expect(t, told(r), "Tue 24 Nov|€500|o:guide:do.credit.500.for.2026-11-24", "€300")
	f.Machine.Claims[1] = claim(4, "2026-11-24", "500.50")
	r, _ = helping.Came(teller(f, "owner"))
	floor.Expect(t, told(r), "€500.50|o:guide:do.credit", "credit.500")
}

// What came is told of the day on which it is due, not before, and of one that is due on no day
// never; a sum with a fraction is typed.
func TestDueToday(t *testing.T) {
	claim := func(seq int64, on shop.Date, value string) books.Claim {
		return books.Claim{Seq: seq, Day: "2026-11-24", On: on, Settled: time.Unix(0, 0),
			Value: decimal.RequireFromString(value)}
	}
	for name, s := range map[string]struct {
		claims    []books.Claim
		want, not string
	}{
		"today": {[]books.Claim{claim(3, "2026-11-25", "300")},
			"€300.|o:guide:do.credit.300.for.2026-11-24", ""},
		"tomorrow": {[]books.Claim{claim(3, "2026-11-26", "300")}, "Nothing for you now.", "€"},
		"no day":   {[]books.Claim{claim(3, "", "300")}, "Nothing for you now.", "€"},
		"the next is": {[]books.Claim{claim(3, "", "300"), claim(4, "2026-11-24", "70")},
			"€70.|credit.70.for", "€300"},
		"with a fraction": {[]books.Claim{claim(3, "2026-11-25", "300.5")},
			"€300.50.|o:guide:do.credit", "credit.3"},
	} {
		f := floor.New(t, dialogs.New)
		f.Machine.Claims = s.claims
		t.Run(name, func(t *testing.T) {
			floor.Expect(t, told(helping.Now(teller(f, "owner"), may("credit status"))), s.want, s.not)
			floor.Expect(t, told(helping.Now(teller(f, "staff1"), may("status"))), "Nothing for you now.", "€")
		})
	}
}

// Help has what comes next on top, of a checklist three lines; within a dialog it is
// only words, for the dialog says what comes next.
func TestHelpOnTop(t *testing.T) {
	asked := helping.Asked{May: may("open finish"), Often: []string{"open"}, All: []string{"open", "undo"}}
	f := floor.New(t, dialogs.New)
	floor.Expect(t, told(helping.Help(teller(f, "staff1"), asked)), "Next: opening|what you do: open|"+
		"o:guide:do.open", "Rarely")
	f.Play("staff1: open 40 150 200; [Confirm]")
	waits := told(helping.Help(teller(f, "staff1"), asked))
	floor.Expect(t, waits, "Opened 06:40 by Ben.|40, 150, 200|[Show the list] o:ticks:1.show|"+
		"o:guide:list.0", "Next:")
	list, _, _ := strings.Cut(waits, "Write what")
	if got := strings.Count(list, "\n"); got != 3 {
		t.Errorf("%d lines of a checklist:\n%s", got, list)
	}
	asked.Within = true
	asked.Seldom = []string{"undo"}
	floor.Expect(t, told(helping.Help(teller(f, "staff1"), asked)), "undo", "Opened|[")
	asked.Page = 1
	floor.Expect(t, told(helping.Help(teller(f, "staff1"), asked)), "open|undo", "[|help 2")
	asked.All = []string{"open", "undo", "close", "topup", "level", "spot", "status"}
	floor.Expect(t, told(helping.Help(teller(f, "staff1"), asked)), "open|help 2", "status")
	asked.Page = 2
	floor.Expect(t, told(helping.Help(teller(f, "staff1"), asked)), "status", "undo|help 3")
}
