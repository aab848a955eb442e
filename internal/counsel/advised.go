// Package counsel words what is advised: how much to load and why, whether the shop's own
// cash lasts, and what the advice would have done on its past.
package counsel

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/advice"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/demand"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// AdviceHolds says how often that is enough, and on how little it rests. When it was
// cut, how often it would have been enough stands beside the cut.
func AdviceHolds(t *telling.Teller, a advice.Advice) []string {
	if a.KnownDays == 0 {
		return []string{t.V.Say("load.nothing-known")}
	}
	var out []string
	if !slices.ContainsFunc(a.Lines, func(l advice.Line) bool { return l.Cut != "" }) {
		id := texts.Either(len(a.Days) > 1, "load.enough-span", "load.enough")
		out = append(out, t.V.Say(id, "share", Share(a.Share)))
	}
	if a.Thin {
		out = append(out, t.V.Count("load.thin", int64(a.KnownDays)))
	}
	return out
}

// Share writes a probability as days in a hundred.
func Share(p float64) int { return int(p*100 + 0.5) }

// AdviceCuts says why less than enough is advised, a line for each reason, and what
// stands in for what.
func AdviceCuts(t *telling.Teller, a advice.Advice) []string {
	var out []string
	for _, cut := range []advice.Cut{advice.Capacity, advice.Bundle, advice.Limit, advice.Hand} {
		better := books.Notes{}
		for _, l := range a.Lines {
			if l.Cut == cut {
				better[l.Face] = l.Enough
			}
		}
		if len(better) > 0 {
			out = append(out, t.V.Say("load.cut-"+string(cut), "limit", t.V.Money(t.F.Shop.Limit),
				"instead", t.V.Say(texts.Either(a.KnownDays > 0, "load.better", "load.usual"),
					"counts", t.Notes(better), "share", Share(a.Share))))
		}
	}
	for _, l := range a.Lines {
		if l.Instead > 0 {
			out = append(out, t.V.Say("load.instead", "kind", t.V.Kind(l.Face), "n", t.V.Number(l.Instead)))
		}
	}
	return append(out, likelyEmpty(t, a)...)
}

// likelyEmpty says about when, to the half hour, kinds that were cut are out.
func likelyEmpty(t *telling.Teller, a advice.Advice) []string {
	var kinds []string
	for _, l := range a.Lines {
		if !l.Empty.IsZero() {
			kinds = append(kinds, t.V.Say("load.empty-kind", "kind", t.V.Kind(l.Face),
				"when", t.Clock(l.Empty.Round(half))))
		}
	}
	if len(kinds) == 0 {
		return nil
	}
	return []string{t.V.Say("load.empty", "kinds", strings.Join(kinds, ", "))}
}

const half = time.Hour / 2

// AdviceBefore is the advice before an opening, in one line: on how little it rests, and when
// nothing is known yet, what is laid down as usual. Empty where there is nothing to say.
func AdviceBefore(t *telling.Teller, a advice.Advice) string {
	load, some := books.Notes{}, int64(0)
	for _, l := range a.Lines {
		load[l.Face] = l.Notes
		some += l.Notes
	}
	switch {
	case some == 0:
		return ""
	case a.KnownDays == 0:
		return t.V.Say("load.opening-usual", "counts", t.Notes(load))
	case a.KnownDays < enoughToAdvise:
		return t.V.Count("load.opening-few", int64(a.KnownDays), "counts", t.Notes(load))
	}
	return t.V.Say("load.opening", "counts", t.Notes(load))
}

// enoughToAdvise is how many days must be known before the advice stands without a word on it.
const enoughToAdvise = 10

// AdviceWhy explains an advice in the words of the method, a line for each kind.
func AdviceWhy(t *telling.Teller, a advice.Advice) []string {
	var out []string
	for _, l := range a.Lines {
		if !l.Known {
			out = append(out, t.V.Say("why.usual", "kind", t.V.Kind(l.Face), "n", t.V.Number(l.Notes)))
			continue
		}
		because := t.V.Say("why.together", "days", t.Between(a.From, a.To))
		if len(l.Forecast.Terms) > 0 {
			because = terms(t, l.Forecast)
		}
		id := texts.Either(len(a.Days) > 1, "why-span", "why")
		out = append(out, t.V.Say(id, "kind", t.V.Kind(l.Face), "because", because,
			"mean", t.V.Number(whole(l.Forecast.Mean)), "n", t.V.Number(l.Enough), "share", Share(a.Share)))
	}
	if a.KnownDays > 0 {
		out = append(out, t.V.Count("why.known", int64(a.KnownDays)))
	}
	if a.KnownDays > 0 && a.Thin {
		out = append(out, t.V.Say("why.thin"))
	}
	return append(out, AdviceCuts(t, a)...)
}

func whole(notes float64) int64 { return int64(math.Round(notes)) }

// terms writes what a forecast is made of: a usual Friday 150, month's end +9 %.
func terms(t *telling.Teller, f demand.Forecast) string {
	usual := t.V.Number(whole(f.Terms[0].Notes))
	parts := []string{t.V.Say("why.weekday", "day", fullWeekday(t, f.Day.Weekday()), "n", usual)}
	for _, is := range f.Terms[1:] {
		if percent := whole(100 * (is.Factor - 1)); percent != 0 {
			parts = append(parts, termName(t, f, is)+" "+signed(percent))
		}
	}
	return strings.Join(parts, ", ")
}

// signed writes +9 % or −4 %, with the true minus sign.
func signed(percent int64) string {
	if percent < 0 {
		return fmt.Sprintf("−%d %%", -percent)
	}
	return fmt.Sprintf("+%d %%", percent)
}

func fullWeekday(t *telling.Teller, d time.Weekday) string {
	return texts.Upper(t.V.List("words.weekdays")[d])
}

// termName says what a term stands for.
func termName(t *telling.Teller, f demand.Forecast, is demand.Term) string {
	up := is.Factor > 1
	switch is.Kind {
	case demand.MonthEdge:
		return t.V.Say(texts.Either(is.Offset > 0, "why.month-start", "why.month-end"))
	case demand.Payday:
		return t.V.Say(texts.Either(is.Offset == 0, "why.payday", "why.after-payday"))
	case demand.Easter, demand.Christmas:
		if is.Name != "" {
			return is.Name
		}
		return t.V.Say(texts.Either(is.Kind == demand.Easter, "why.easter", "why.christmas"))
	case demand.Public:
		return t.V.Say("why.holiday-"+[]string{"before", "on", "after"}[is.Offset+1], "name", is.Name)
	case demand.Recent:
		return t.V.Say(texts.Either(up, "why.busy", "why.quiet"), "day", sinceWhen(t, f.Day, is.Since))
	case demand.Growth:
		return t.V.Say(texts.Either(up, "why.rising", "why.falling"))
	}
	return t.V.Say("why.last-year")
}

// sinceWhen names a day of the last week by its weekday, another by its date.
func sinceWhen(t *telling.Teller, day, since demand.Day) string {
	if day-since < 7 {
		return fullWeekday(t, since.Weekday())
	}
	return t.V.Day(dayTime(since))
}

// dayTime is a day's midnight in UTC, to be written.
func dayTime(d demand.Day) time.Time {
	year, month, dayOfMonth := d.Date()
	return time.Date(year, month, dayOfMonth, 0, 0, 0, 0, time.UTC)
}

// CashPlan says how long the shop's own cash lasts, what to order, and what the
// bank owes meanwhile.
func CashPlan(t *telling.Teller, p advice.Plan) chat.Block {
	return chat.Lines(slices.Concat([]string{t.V.Say("cash.head")}, lasting(t, p), orderLines(t, p),
		creditLines(t, p))...)
}

// lasting says of each kind how long it lasts.
func lasting(t *telling.Teller, p advice.Plan) (out []string) {
	for _, l := range p.Lines {
		switch kind := t.V.Kind(l.Face); {
		case !l.Known:
			out = append(out, t.V.Say("cash.unknown", "kind", kind))
		case l.RunsOut == "":
			out = append(out, t.V.Say("cash.lasts", "kind", kind, "day", t.V.Day(p.Sight.Time())))
		default:
			out = append(out, t.V.Say("cash.runs-out", "kind", kind, "day", dayName(t, l.RunsOut)))
		}
	}
	return out
}

// orderLines say what to order by when, and which days the bank is closed meanwhile.
func orderLines(t *telling.Teller, p advice.Plan) []string {
	if p.RunsOut == "" {
		return nil
	}
	order := books.Notes{}
	for _, l := range p.Lines {
		if l.Order > 0 {
			order[l.Face] = l.Order
		}
	}
	fill := []any{"counts", t.Notes(order), "money", t.V.Money(p.Value), "by", dayName(t, p.OrderBy),
		"fetch", dayName(t, p.Fetch), "through", t.V.Day(p.Through.Time()), "share", Share(p.Share)}
	id := "cash.order"
	switch today := t.Today(); {
	case p.Fetch < today:
		id = "cash.at-once"
	case p.OrderBy < today:
		id = "cash.fetch"
	case p.OrderBy == today:
		id = "cash.order-today"
	}
	return []string{t.V.Say(id, fill...), t.V.Say("cash.what", fill...), t.V.Say("cash.through", fill...)}
}

// dayName is a day by its name, today as such.
func dayName(t *telling.Teller, d shop.Date) string { return t.Between(d, d) }

// creditLines say what the bank owes meanwhile.
func creditLines(t *telling.Teller, p advice.Plan) (out []string) {
	until := p.Sight
	if p.Through != "" {
		until = p.Through
	}
	say := func(id string, sum decimal.Decimal) {
		if sum.IsPositive() {
			out = append(out, t.V.Say(id, "money", t.V.Money(sum), "day", t.V.Day(until.Time())))
		}
	}
	say("cash.credits", p.Credits)
	say("cash.late", p.Late)
	say("cash.undated", p.Undated)
	return out
}

// FullName names the level in force; an empty one is balanced.
func FullName(t *telling.Teller, l shop.Load) string {
	if l.Level == "" {
		l.Level = shop.Balanced
	}
	p, err := advice.Share(l)
	if err != nil {
		return string(l.Level) // settings are checked before they are in force
	}
	return t.V.Say("full.is-"+string(l.Level), "share", Share(p))
}
