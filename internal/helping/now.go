package helping

import (
	"slices"
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dues"
	"shopfloat/internal/reminders"
	"shopfloat/internal/rota"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// wrong is what a button says that lists what may be wrong.
const wrong = "o:guide:list.0"

// Unheard says what can be done now to somebody who was not understood: a checklist is
// only offered.
func Unheard(t *telling.Teller, first string, may func(string) bool) chat.Reply {
	r := Now(t, may)
	if r.Key != "" {
		r = next(t, first, may, "status")
		r.Buttons = slices.Concat(telling.TicksButtons(t), r.Buttons[len(r.Buttons)-1:])
		return r
	}
	r.Body = append([]chat.Block{{Text: first}}, r.Body...)
	return r
}

// Now says what can be done now, with one to three buttons: what waits, else what comes
// next. may tells what the person may do.
func Now(t *telling.Teller, may func(string) bool) chat.Reply {
	for _, a := range t.F.Others {
		if !t.Stale(a) {
			return next(t, t.V.Say("now.busy", "who", t.Name(a.Person)), may)
		}
	}
	if !may("open") {
		return nowMoney(t, may)
	}
	if p := t.M.Current(); p != nil {
		return nowOpen(t, p, may)
	}
	if list := t.M.Pending(); len(list) > 0 {
		kinds := make([]string, 0, len(list[0].Boxes))
		for _, b := range list[0].Boxes {
			kinds = append(kinds, t.V.Kind(b.Face))
		}
		return next(t, t.V.Say("now.slip", "day", t.V.Day(t.DayOf(list[0]).Time()),
			"kinds", strings.Join(kinds, " ")), may, "finish")
	}
	last := t.M.Last()
	if last != nil && len(last.Ticks) > 0 && t.DayOf(last) >= t.Today() {
		r := telling.TicksCard(t, last, telling.ClosedHead(t, last))
		r.Retire, r.Buttons = r.Key, r.Buttons[:2]
		return r
	}
	if r, ok := nowCredit(t, may); ok {
		return r
	}
	return nowClosed(t, last, may)
}

// next is a line of what comes next, with buttons for commands that the person may have,
// and one for whatever is wrong.
func next(t *telling.Teller, text string, may func(string) bool, commands ...string) chat.Reply {
	r := chat.Reply{Body: []chat.Block{{Text: text}}}
	for _, name := range commands {
		if may(name) {
			r.Buttons = append(r.Buttons, t.Button("now-"+name, chat.Begins(name)))
		}
	}
	r.Buttons = append(r.Buttons, t.Button("now-wrong", wrong))
	return r
}

// nowOpen is for a machine that is open.
func nowOpen(t *telling.Teller, p *books.Period, may func(string) bool) chat.Reply {
	if len(p.Ticks) > 0 {
		head := t.V.Say("now.ticks", "when", t.Clock(p.Opened), "who", t.Name(p.By))
		r := telling.TicksCard(t, p, head)
		r.Retire, r.Buttons = r.Key, r.Buttons[:2]
		return r
	}
	n := reminders.Name{Date: t.Today(), Task: reminders.Closing}
	task, begins := "now."+rota.Called(t, n.Task), texts.Either(t.F.Shop.Nightly, "close", "settle")
	at, ok := reminders.Due(t.F.Shop, n.Date, n.Task)
	if ok && t.Now.After(at) {
		if rota.Needs(t, t.M, n) {
			return next(t, t.V.Say(task+"-late", "when", t.Clock(at)), may, begins, "level")
		}
		at, ok = reminders.Due(t.F.Shop, n.Date.Add(1), n.Task)
	}
	if !ok {
		return next(t, t.V.Say("now.closing-any"), may, "level", "topup")
	}
	return next(t, t.V.Say(task, "when", t.Clock(at)), may, "level", "topup")
}

// nowClosed is for a machine that is closed, with everything done.
func nowClosed(t *telling.Teller, last *books.Period, may func(string) bool) chat.Reply {
	today := t.Today()
	done := last != nil && last.Status == books.Closed && t.DayOf(last) >= today
	if at, ok := reminders.Due(t.F.Shop, today, reminders.Opening); ok && !done {
		var kinds []string
		for _, m := range t.F.Shop.Machines {
			if m.ID != t.M.ID {
				continue
			}
			for _, b := range m.Boxes {
				kinds = append(kinds, t.V.Kind(b.Face))
			}
		}
		return next(t, t.V.Say(texts.Either(t.Now.After(at), "now.opening-late", "now.opening"),
			"when", t.V.Clock(t.Local(at)), "kinds", strings.Join(kinds, " ")), may, "open")
	}
	day, at := nextOpening(t, today)
	if day == "" {
		return next(t, t.V.Say(texts.Either(done, "now.go-home-ever", "now.nothing-ever")), may)
	}
	return next(t, t.V.Say(texts.Either(done, "now.go-home", "now.nothing"), "day", t.V.Day(day.Time()),
		"when", t.V.Clock(t.Local(at))), may)
}

// openingWithin is how many days are looked through for the next opening.
const openingWithin = 14

func nextOpening(t *telling.Teller, after shop.Date) (shop.Date, time.Time) {
	for n := 1; n <= openingWithin; n++ {
		day := after.Add(n)
		if at, ok := reminders.Due(t.F.Shop, day, reminders.Opening); ok {
			return day, at
		}
	}
	return "", time.Time{}
}

// oldestDue is how many of what is still to come are looked through for one that is due.
const oldestDue = 12

// nowCredit tells whoever sees to the bank's money what is to come today.
func nowCredit(t *telling.Teller, may func(string) bool) (chat.Reply, bool) {
	if !may("credit") {
		return chat.Reply{}, false
	}
	for _, x := range t.Claims(dues.Wanted{Is: dues.Still, Limit: oldestDue}) {
		if x.On == "" || x.On > t.Today() {
			continue
		}
		r := chat.Reply{Body: []chat.Block{{Text: t.V.Say("now.credit", "day", telling.ClaimDay(t, x),
			"money", t.V.Money(x.Left()))}}}
		r.Buttons = append(r.Buttons, t.Button("now-came", paying(t, x)),
			t.Button("now-amount", chat.Begins("credit")))
		return r, true
	}
	return chat.Reply{}, false
}

// paying is what a button says that begins the payment of a claim with its sum and its
// day; of a sum with a fraction, which such a button cannot say, without.
func paying(t *telling.Teller, x books.Claim) string {
	sum := x.Left().String()
	if strings.Contains(sum, ".") {
		return chat.Begins("credit")
	}
	return chat.Begins("credit") + "." + sum + ".for." + string(telling.SlipDay(t, x))
}

// nowMoney is for somebody who does not count.
func nowMoney(t *telling.Teller, may func(string) bool) chat.Reply {
	if r, ok := nowCredit(t, may); ok {
		return r
	}
	return next(t, t.V.Say("now.none"), may, "status")
}

// Came is the likely fact where somebody says that money came and not how much: what is
// due first. False where nothing is.
func Came(t *telling.Teller) (chat.Reply, bool) {
	for _, x := range t.Claims(dues.Wanted{Is: dues.Still, Limit: 1}) {
		money := t.V.Money(x.Left())
		r := chat.Reply{Body: []chat.Block{{Text: t.V.Say("came", "day", telling.ClaimDay(t, x), "money", money)}}}
		r.Buttons = append(r.Buttons, t.Button("came-yes", paying(t, x), "money", money),
			t.Button("now-amount", chat.Begins("credit")), t.Button("came-day", chat.Begins("credit")))
		return r, true
	}
	return chat.Reply{}, false
}

// Slip meets words of a slip while nothing is open: the one that is still to come, else what was
// typed of the last. False where there is none.
func Slip(t *telling.Teller, may func(string) bool) (chat.Reply, bool) {
	if list := t.M.Pending(); len(list) > 0 {
		return Now(t, may), len(list[0].Slips) == 0
	}
	last := t.M.Last()
	if last == nil || last.Status != books.Closed {
		return chat.Reply{}, false
	}
	paid, _ := last.Paid()
	return next(t, t.V.Say("now.last-slip", "when", t.Clock(last.Ended), "who", t.Name(last.EndedBy),
		"day", t.V.Day(t.DayOf(last).Time()), "money", t.V.Money(paid)), may, "correct", "open"), !paid.IsZero()
}
