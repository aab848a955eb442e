package telling_test

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/counts"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/helping"
	"shopfloat/internal/lines"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

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
	counted := count + "12 60 80; none; none; [Confirm]\n"
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
			floor.Expect(t, told(helping.Now(talk(f, "staff1").Teller, may(s.may))), s.want, s.not)
		})
	}
}

// shut closes the shop for longer than an opening is looked for.
func shut() []shop.Change { return []shop.Change{{From: "2026-11-25", To: "2026-12-31", Closed: true}} }

// Who was not understood is told what can be done, after a word on it.
func TestUnheard(t *testing.T) {
	f := floor.New(t, dialogs.New)
	floor.Expect(t, told(helping.Unheard(talk(f, "staff1").Teller, "I did not understand.", may("open"))),
		"I did not understand.\nNext: opening, before 07:00", "")
	f.Play("staff1: open 40 150 200; [Confirm]")
	floor.Expect(t, told(helping.Unheard(talk(f, "staff1").Teller, "I did not understand.",
		may("open status"))),
		"I did not understand.|o:guide:list.0", "Opened 06:40")
}

// Money that came and was not said how much is probably what is due first; a sum with a
// fraction is not put into a button.
func TestCame(t *testing.T) {
	f := floor.New(t, dialogs.New)
	if r, ok := helping.Came(talk(f, "owner").Teller); ok {
		t.Errorf("nothing is due: %s", told(r))
	}
	claim := func(seq int64, day shop.Date, value string) books.Claim {
		return books.Claim{Seq: seq, Day: day, On: day.Add(1), Settled: day.Time().Add(20 * time.Hour),
			Value: decimal.RequireFromString(value)}
	}
	f.Machine.Claims = []books.Claim{claim(3, "2026-11-23", "300"), claim(4, "2026-11-24", "500")}
	f.Machine.Claims[0].Paid = decimal.NewFromInt(300)
	r, ok := helping.Came(talk(f, "owner").Teller)
	if !ok {
		t.Fatal("500 are due")
	}
	floor.Expect(t, told(r), "Tue 24 Nov|€500|o:guide:do.credit.500.for.2026-11-24", "€300")
	f.Machine.Claims[1] = claim(4, "2026-11-24", "500.50")
	r, _ = helping.Came(talk(f, "owner").Teller)
	floor.Expect(t, told(r), "€500.50|o:guide:do.credit", "credit.500")
}

// Overdue money is spoken of from its day on, of a claim that is paid or dated on no day never.
func TestOverdue(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Machine.Claims = []books.Claim{{Seq: 3, Day: "2026-11-02", On: "2026-11-03", Settled: f.Now,
		Value: decimal.NewFromInt(300)}, {Seq: 4, Day: "2026-11-24", Settled: f.Now,
		Value: decimal.NewFromInt(5)},
		{Seq: 5, Day: "2026-11-24", On: "2026-11-25", Settled: f.Now, Value: decimal.NewFromInt(5),
			Paid: decimal.NewFromInt(5)}}
	tell := talk(f, "owner").Teller
	if at, ok := telling.OwedBegan(tell, 3); !ok || at.Before(shop.Date("2026-11-03").Time()) {
		t.Errorf("overdue since %s, %t", at, ok)
	}
	for _, no := range []int64{4, 5, 99} {
		if at, ok := telling.OwedBegan(tell, no); ok {
			t.Errorf("%d is overdue since %s", no, at)
		}
	}
	for i, want := range []bool{true, false, false} {
		if got := telling.LongOverdue(tell, tell.M.Claims[i]); got != want {
			t.Errorf("claim %d long overdue: %t", i, got)
		}
	}
	for i, want := range []string{"late, was due Tue 3 Nov", "no date known", "due Wed 25 Nov"} {
		if got := telling.DueWord(tell, tell.M.Claims[i]); got != want {
			t.Errorf("claim %d: %q", i, got)
		}
	}
	list := reminders.Rung{To: shop.List}
	if got := telling.WhoHas(tell, 3, "2026-11-25", reminders.Fault, list); len(got) != 1 || got[0] != 3 {
		t.Errorf("the first to be told: %v", got)
	}
	if got := telling.WhoHas(tell, 77, "2026-11-25", reminders.Fault, list); len(got) == 1 && got[0] == 77 {
		t.Errorf("somebody who left is told: %v", got)
	}
	f.Shop.CreditDays = 0
	if got := telling.DueOn(talk(f, "owner").Teller, f.Now); got != "" {
		t.Errorf("no rule, due %s", got)
	}
}

// A hold says until when, why and by whom, as far as it is known.
func TestHoldLines(t *testing.T) {
	tell := talk(floor.New(t, dialogs.New), "owner").Teller
	for want, h := range map[string]shop.Hold{
		"Do not load the machine.\nSaid by Ada.":                  {By: 1},
		"Do not load the machine until Fri 27 Nov.\nSaid by Ben.": {By: 2, Until: "2026-11-27"},
		"Do not load the machine until Fri 27 Nov.\nWhy: “robbed next door”\nSaid by Ben.": {By: 2,
			Until: "2026-11-27",
			Why:   "robbed next door"},
	} {
		if got := strings.Join(telling.HoldLines(tell, h), "\n"); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if got := telling.LiftButton(tell); got[0][0].Data != "o:lift:hold" {
		t.Errorf("%+v", got)
	}
}

// Words are about the machine at hand, another by its name, or all of the shop.
func TestScope(t *testing.T) {
	f := floor.New(t, dialogs.New)
	one, rest := talk(f, "owner").Scope("back machine yesterday")
	if len(one) != 1 || rest != "back machine yesterday" || telling.Place(one) != "" {
		t.Errorf("a shop of one machine: %d, %q", len(one), rest)
	}
	f.Shop.Machines = append(f.Shop.Machines, shop.Machine{ID: 2, Name: "Back"},
		shop.Machine{ID: 3, Name: "Back room"})
	blind := false
	f.Knows = func(facts *chat.Facts) {
		facts.Ask.At = func(id shop.MachineID) (*books.Machine, bool, chat.Ask) {
			return books.New(id), blind, chat.Ask{}
		}
	}
	tell := talk(f, "owner").Teller
	for words, want := range map[string]string{
		"yesterday": "1; yesterday; Cash machine", "back yesterday": "2; yesterday; Back",
		"Back room": "3; ; Back room", "yesterday back room": "3; yesterday; Back room",
		"together yesterday": "1 2 3; yesterday; all machines", "": "1; ; Cash machine",
	} {
		of, rest := tell.Scope(words)
		var ids []string
		for _, t := range of {
			ids = append(ids, string('0'+rune(t.M.ID)))
		}
		parts := strings.Split(want, "; ")
		if strings.Join(ids, " ") != parts[0] || rest != parts[1] || hidden(of) {
			t.Errorf("%q: %v, %q left, hidden %t", words, ids, rest, hidden(of))
		}
		if place := telling.Place(of); len(of) == 1 && !strings.Contains(place, parts[2]) ||
			!strings.Contains(place, f.Shop.Name) {
			t.Errorf("%q is told of %q", words, place)
		}
	}
	blind = true // somebody counts there
	if of, _ := tell.Scope("back"); !hidden(of) {
		t.Error("a count at another machine hides nothing")
	}
	if of, _ := tell.Scope("together"); !hidden(of) {
		t.Error("a count at one of all hides nothing")
	}
}

// A refusal says why and what to do, for every reason that the books have.
func TestRefusal(t *testing.T) {
	tell := talk(floor.New(t, dialogs.New), "staff1").Teller
	other := telling.Refusal(tell, errors.New("disk"))
	floor.Expect(t, other, "\n", "disk|refused.")
	for _, where := range []books.Place{books.Till, books.Tray, books.BoxPlace(1)} {
		got := telling.Refusal(tell, &books.Refusal{Code: books.TooFew, Face: "20", From: where})
		if got == other || strings.Contains(got, "refused.") || strings.Contains(got, "place.") {
			t.Errorf("too few at %s: %q", where, got)
		}
	}
	for _, code := range books.Codes() {
		if got := telling.Refusal(tell, &books.Refusal{Code: code, Face: "20"}); strings.Contains(got,
			"refused.") {
			t.Errorf("%s has no words: %q", code, got)
		}
	}
}

// A count that cannot be read is told with the right form for its boxes.
func TestCountProblem(t *testing.T) {
	tell := talk(floor.New(t, dialogs.New), "staff1").Teller
	list := []lines.Line{{Box: 1, Of: 2, Face: "50"}, {Box: 2, Of: 2, Face: "20"}}
	if got := lineExample(list); got != "50x40 20x70" {
		t.Errorf("the right form is %q", got)
	}
	for code, want := range map[counts.Code]string{counts.Unreadable: "abc", counts.TooFew: "missing",
		counts.TooMany: "50x40 20x70"} {
		got := telling.CountProblem(tell, list, counts.Problem{Code: code, Near: "abc", Face: "20"})
		if strings.HasPrefix(got, "problem.") || !strings.Contains(got, want) {
			t.Errorf("%s: %q, want %q", code, got, want)
		}
	}
}

func lineExample(list []lines.Line) string { return telling.LineExample(list) }

// Hours with a pause are two spans; a day of every year has no year.
func TestSpan(t *testing.T) {
	for want, h := range map[string]shop.Hours{"07:00-21:00": {Open: 420, Close: 1260},
		"09:00-12:30, 14:00-18:00": {Open: 540, PauseFrom: 750, PauseTo: 840, Close: 1080}} {
		if got := telling.Span(h); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	who := talk(floor.New(t, dialogs.New), "owner").Teller
	for day, want := range map[string]string{"12-24": "Thu 24 Dec", "02-29": "Sat 28 Feb"} { // of 2026
		if got := telling.YearDay(who, day); got != want {
			t.Errorf("%s is %q, want %s", day, got, want)
		}
	}
}

// hidden reports whether something of machines stays unseen.
func hidden(of []*telling.Teller) bool {
	return slices.ContainsFunc(of, (*telling.Teller).Hidden)
}
