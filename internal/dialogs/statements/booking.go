package statements

import (
	"slices"
	"strconv"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/settling"
	"shopfloat/internal/shop"
	"shopfloat/internal/stated"
)

// waysMax is how many things a card offers a line to be for.
const waysMax = 4

// ledgers are the books that lines are booked to.
func ledgers(c *engine.Talk) *settling.Ledgers { return settling.NewLedgers(c.F.Ask.Books) }

// book writes what a line is for; false where the books do not have it any more.
func book(c *engine.Talk, k *settling.Ledgers, o *settling.Offer, w *settling.Way) bool {
	list, after, ok := k.Post(o, w, c.F.Person.ID, c.In.At)
	if !ok {
		return false
	}
	d := drafted(c)
	for id, m := range after {
		d.Reading.At[id] = m.Seq
		remind(c, id, m, w.Of(id))
	}
	c.Result.Beside = append(c.Result.Beside, list...)
	d.Booked++
	return true
}

// remind takes the reminders back of what was paid, and plans those of what was
// taken back. Other shops' reminders look into the books by themselves.
func remind(c *engine.Talk, id shop.MachineID, m *books.Machine, of []int64) {
	if id != c.M.ID {
		return
	}
	c.M = m
	trade.QuietPaid(c, of)
	for _, x := range m.ClaimsOf(of) {
		trade.RemindOf(c, x)
	}
}

// overtaken reports whether money was booked since the statement was read; it is then read anew.
func overtaken(c *engine.Talk) bool {
	for id, seq := range drafted(c).Reading.At {
		if c.F.Ask.Books == nil {
			return true
		}
		_, m := c.F.Ask.Books(id, nil)
		if m == nil || settling.Moved(m, seq) {
			c.First(c.V.Say("statement.overtaken"))
			readAgain(c)
			return true
		}
	}
	return false
}

// sureBooking shows all lines without a doubt; one tap books them.
func sureBooking() ask.Booking {
	return ask.Booking{Sure: "statement-all", Plan: true, Asks: func(*engine.Talk) string { return "" },
		Read: func(c *engine.Talk) []chat.Block {
			c.Nowhere = true
			list := drafted(c).Reading.Sure()
			if len(list) == 0 {
				next(c, 0)
				return nil
			}
			from, to, more := ask.Paged(c, len(list))
			shops := stated.Kept(c.Teller)
			return stated.Sure(c.Teller, drafted(c).Reading, list[from:to], len(list), more, shops)
		},
		Also: func(c *engine.Talk) [][]chat.Button {
			rows := [][]chat.Button{c.Button("statement-leave", "leave-sure")}
			if _, _, more := ask.Paged(c, len(drafted(c).Reading.Sure())); more {
				rows = append(rows, c.Button("more", "more"))
			}
			return rows
		},
		Taps: map[string]func(*engine.Talk){"more": ask.NextPage, "leave-sure": func(c *engine.Talk) {
			drafted(c).Left += len(drafted(c).Reading.Sure())
			next(c, 0)
		}},
		Book: bookSure, What: "what.statement-sure"}
}

func bookSure(c *engine.Talk) {
	if overtaken(c) {
		return
	}
	k := ledgers(c)
	for _, o := range drafted(c).Reading.Sure() {
		if !book(c, k, o, &o.Ways[0]) {
			drafted(c).Left++
		}
	}
	next(c, 0)
}

// next goes to the first line from a place on that can be for something, or ends.
func next(c *engine.Talk, from int) {
	d := drafted(c)
	c.State.Draft.Page, d.Parts = 0, nil
	for d.At = from; d.At < len(d.Reading.Offers); d.At++ {
		o := &d.Reading.Offers[d.At]
		if o.Sure() {
			continue
		}
		o.Ways = slices.DeleteFunc(slices.Clone(o.Ways), func(w settling.Way) bool {
			return !ledgers(c).Can(o, &w, c.In.At)
		})
		if len(o.Ways) > 0 {
			c.GoTo("line")
			return
		}
		d.Left++
	}
	if n := len(d.Reading.Offers); d.Reading.More && n > 0 {
		d.Want.After = d.Reading.Offers[n-1].No
		readAgain(c)
		return
	}
	c.Nowhere = true
	c.Close(stated.Done(c.Teller, d.Reading, d.Booked, d.Left)...)
}

func offer(c *engine.Talk) *settling.Offer { d := drafted(c); return &d.Reading.Offers[d.At] }

func askLine(c *engine.Talk) *engine.Card {
	c.Nowhere = true
	o := offer(c)
	ways := o.Ways[:min(len(o.Ways), waysMax)]
	return &engine.Card{Body: stated.Line(c.Teller, o, ways, stated.Kept(c.Teller))}
}

func wayOptions(c *engine.Talk) (list []ask.Option) {
	o := offer(c)
	for i := range o.Ways[:min(len(o.Ways), waysMax)] {
		label := strconv.Itoa(i+1) + ". " + stated.WayDays(c.Teller, &o.Ways[i], stated.Kept(c.Teller))
		list = append(list, ask.Option{Label: stated.Label(label), Value: "w-" + strconv.Itoa(i),
			Take: func(c *engine.Talk) {
				drafted(c).Way = i
				c.GoTo("review")
			}})
	}
	if o.Amount.IsPositive() {
		list = append(list, ask.Option{Label: c.V.Say("button.statement-split"), Value: "split",
			Take: func(c *engine.Talk) { drafted(c).Parts = nil; c.GoTo("split") }})
	}
	return append(list, ask.Option{Label: c.V.Say("button.statement-skip"), Value: "skip",
		Take: func(c *engine.Talk) {
			drafted(c).Left++
			next(c, drafted(c).At+1)
		}})
}

// lineBooking reads back what a line was said to be for.
func lineBooking() ask.Booking {
	way := func(c *engine.Talk) *settling.Way { return &offer(c).Ways[drafted(c).Way] }
	return ask.Booking{Plan: true, Other: ask.BackTo("line"),
		Read: func(c *engine.Talk) []chat.Block {
			c.Nowhere = true
			return stated.Way(c.Teller, offer(c), way(c), stated.Kept(c.Teller))
		},
		Book: func(c *engine.Talk) {
			if overtaken(c) {
				return
			}
			if !book(c, ledgers(c), offer(c), way(c)) {
				c.First(c.V.Say("statement.overtaken"))
				readAgain(c)
				return
			}
			next(c, drafted(c).At+1)
		}, What: "what.statement-review"}
}

// stopped says what stays of a statement that is left.
func stopped(c *engine.Talk) string {
	if !engine.Keeps[draft](c) || drafted(c).Booked == 0 {
		return engine.NothingBooked(c)
	}
	return c.V.Count("statement.stopped", int64(drafted(c).Booked))
}
