package telling_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/counts"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/lines"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

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
		"500 for the back": "2; 500; Back", "500 for back for monday": "2; 500  for monday; Back",
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
