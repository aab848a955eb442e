// Package stated says what a bank's statement holds and what its lines may be for, as the dialog
// about it shows them.
package stated

import (
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/matching"
	"shopfloat/internal/names"
	"shopfloat/internal/settling"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// Label makes words fit on a button.
func Label(s string) string { return texts.Short(s, texts.LabelMax) }

// Kept lists the shops whose books the speaker keeps.
func Kept(t *telling.Teller) (list []*shop.Shop) {
	if t.F.Ask.Sites == nil {
		return nil
	}
	for _, s := range t.F.Ask.Sites() {
		same := func(o *shop.Shop) bool { return o.ID == s.Shop.ID }
		if s.Machine != nil && access.Keeping.Has(s.Person.Role) && !slices.ContainsFunc(list, same) {
			list = append(list, s.Shop)
		}
	}
	return list
}

// Head says what a statement is: its account, how long, and whether its
// balances agree with the lines.
func Head(t *telling.Teller, r *settling.Reading) string {
	parts := []string{t.V.Count("statement.lines", int64(r.Lines))}
	if r.From != "" {
		parts = append(parts, t.V.Say("statement.span", "from", t.V.Day(r.From.Time()), "to", t.V.Day(r.To.Time())))
	}
	if r.Ends != "" {
		parts = append(parts, t.V.Say("statement.ends", "ends", r.Ends))
	}
	line := strings.Join(parts, ", ") + "."
	if r.Balance != "none" && r.Balance != "" {
		line += " " + t.V.Say("statement.balance-"+string(r.Balance))
	}
	return line
}

// Unread says why nothing can be done with a file; nil: it was read, or a person can say
// how to.
func Unread(t *telling.Teller, r *settling.Reading) []chat.Block {
	switch {
	case r == nil:
		return []chat.Block{chat.Lines(t.V.Say("statement.lost"))}
	case r.Problem == "", r.Unsure != nil && (r.Unsure.Dates != "" || len(r.Unsure.Columns) > 0):
		return nil
	}
	return []chat.Block{chat.Lines(r.Problem, t.V.Say("statement.nothing"))}
}

// in writes an amount of a line in the money of its shop.
func in(t *telling.Teller, d decimal.Decimal, shops []*shop.Shop, id shop.ID) string {
	for _, s := range shops {
		if s.ID == id && s.Currency != t.F.Shop.Currency {
			return d.String() + " " + s.Currency
		}
	}
	return t.V.Money(d)
}

// WayDays names the days that a line may be for, with their shops where there are several.
func WayDays(t *telling.Teller, w *settling.Way, shops []*shop.Shop) string {
	var list []string
	for _, p := range w.Parts {
		if p.Seq == 0 {
			continue
		}
		if name := partDay(t, p, shops); !slices.Contains(list, name) {
			list = append(list, name)
		}
	}
	return strings.Join(list, " + ")
}

// partDay names a day of a machine.
func partDay(t *telling.Teller, p settling.Part, shops []*shop.Shop) string {
	day := t.V.Day(p.Day.Time())
	for _, s := range shops {
		if s.ID != p.Shop {
			continue
		}
		if len(shops) > 1 {
			day += ", " + s.Name
		}
		if kit := s.Machine(p.Machine); kit != nil && len(s.Machines) > 1 {
			day += ", " + kit.Name
		}
	}
	return day
}

// Sure tells the lines without a doubt, each with its days.
func Sure(t *telling.Teller, r *settling.Reading, list []*settling.Offer, all int, more bool,
	shops []*shop.Shop) []chat.Block {
	var rows [][]string
	for _, o := range list {
		w := &o.Ways[0]
		rows = append(rows, []string{WayDays(t, w, shops), in(t, o.Amount, shops, w.Parts[0].Shop)})
	}
	body := []chat.Block{chat.Lines(Head(t, r), t.V.Count("statement.sure", int64(all))),
		chat.Columns(1, rows)}
	if more {
		body = append(body, chat.Lines(t.V.Say("statement.sure-more")))
	}
	return body
}

// Line tells a line and what it may be for, the best first, with a reason each.
func Line(t *telling.Teller, o *settling.Offer, ways []settling.Way, shops []*shop.Shop) []chat.Block {
	lines := []string{lineHead(t, o, &ways[0], shops)}
	if o.From != "" {
		lines = append(lines, t.V.Say("statement.from", "near", o.From))
	}
	for i := range ways {
		lines = append(lines, t.V.Say("statement.way", "n", i+1, "day", WayDays(t, &ways[i], shops),
			"why", wayWhy(t, &ways[i])))
	}
	return []chat.Block{chat.Lines(append(lines, t.V.Say("statement.which"))...)}
}

func lineHead(t *telling.Teller, o *settling.Offer, w *settling.Way, shops []*shop.Shop) string {
	id := "statement.came"
	if o.Amount.IsNegative() {
		id = "statement.taken"
	}
	return t.V.Say(id, "n", o.No, "day", t.V.Day(o.Line.Day.Time()),
		"money", in(t, o.Amount.Abs(), shops, w.Parts[0].Shop))
}

// wayWhy is the reason for a way in one line.
func wayWhy(t *telling.Teller, w *settling.Way) string {
	why := []string{t.V.Say("way." + string(w.Why))}
	if (w.Why == matching.InParts || w.Why == matching.TakenBack) && w.Other > 0 {
		why = append(why, t.V.Say("way.other", "n", w.Other))
	}
	if w.Same {
		why = append(why, t.V.Say("way.same"))
	}
	if w.Late {
		why = append(why, t.V.Say("way.late"))
	}
	return strings.Join(why, "; ")
}

// Way reads back what a line is to be booked as.
func Way(t *telling.Teller, o *settling.Offer, w *settling.Way, shops []*shop.Shop) []chat.Block {
	var rows [][]string
	for _, p := range w.Parts {
		name := partDay(t, p, shops)
		if p.Seq == 0 || p.As == matching.Dispute {
			name = strings.TrimSpace(t.V.Say("part."+string(p.As)) + " " + texts.Either(p.Seq == 0, "", name))
		}
		rows = append(rows, []string{name, in(t, p.Value, shops, w.Parts[0].Shop)})
	}
	return []chat.Block{chat.Lines(lineHead(t, o, w, shops)), chat.Columns(1, rows)}
}

// Done tells what came of a statement.
func Done(t *telling.Teller, r *settling.Reading, booked, left int) []chat.Block {
	lines := []string{t.V.Count("statement.booked", int64(booked))}
	for _, x := range []struct {
		id string
		n  int
	}{{"statement.left", left}, {"statement.foreign", r.Foreign}, {"statement.seen", r.Seen}} {
		if x.n > 0 {
			lines = append(lines, t.V.Count(x.id, int64(x.n)))
		}
	}
	body := []chat.Block{chat.Lines(append(lines, t.V.Say("statement.owed"))...)}
	return append(body, othersOf(t, r)...)
}

// othersOf lists the first lines that are for no machine, and says which numbers they have.
func othersOf(t *telling.Teller, r *settling.Reading) []chat.Block {
	if len(r.Others) == 0 {
		return nil
	}
	var rows [][]string
	for _, o := range r.Others {
		money := t.V.Money(o.Amount)
		if o.Currency != "" && o.Currency != t.F.Shop.Currency {
			money = o.Amount.String() + " " + o.Currency
		}
		rows = append(rows, []string{strconv.Itoa(o.No) + ". " + t.V.Day(o.Day.Time()),
			names.Words(texts.Short(o.From, otherLetters)), money})
	}
	return []chat.Block{chat.Lines(t.V.Say("statement.others", "lines", r.Numbers)), chat.Columns(2, rows)}
}

// otherLetters bounds what is shown of who is at the other end of such a line.
const otherLetters = 18
