package rota

import (
	"slices"
	"strings"

	"shopfloat/internal/holidays"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
	"shopfloat/internal/when"
)

// afterHoliday puts what is said of all public holidays behind one word for them: on bank
// holidays closed, open on every bank holiday.
func afterHoliday(t *telling.Teller, line string) string {
	word := t.V.List("words.holidays")[0] + " "
	list := slices.Concat(t.V.List("words.holiday-lines"), t.V.List("words.on-holidays"))
	slices.SortFunc(list, func(a, b string) int { return len(b) - len(a) })
	for _, said := range list {
		before, rest, is := strings.Cut(" "+line, " "+said)
		if !is || rest != "" && rest[0] != ' ' && rest[0] != ':' {
			continue
		}
		before = (&manner{t: t}).bare(before)
		rest = strings.TrimSpace(strings.TrimPrefix(rest, ":"))
		if before == "" || t.IsWord("closed", before) || t.IsWord("open-day", before) {
			return word + strings.TrimSpace(before+" "+(&manner{t: t}).bare(rest))
		}
	}
	return line
}

// onHolidays reads how public holidays are kept: closed, 10-16, like sundays, open except
// christmas day.
func (d *Draft) onHolidays(t *telling.Teller, rest string) bool {
	for _, but := range t.V.List("words.except") {
		how, names, is := strings.Cut(rest, " "+but+" ")
		if !is {
			continue
		}
		var feasts []shop.HolidayChoice
		for _, and := range telling.Reader(t).Words.And {
			names = strings.ReplaceAll(names, " "+and+" ", ",")
		}
		for name := range strings.SplitSeq(names, ",") {
			h, ok := named(t, strings.TrimSpace(name))
			if !ok {
				return false
			}
			feasts = append(feasts, shop.HolidayChoice{Name: h, Trades: t.IsWord("closed", how)})
		}
		d.Feasts = append(d.Feasts, feasts...)
		return flag(t, &d.Holidays, how) || d.holidayHours(t, how)
	}
	return flag(t, &d.Holidays, rest) || d.holidayHours(t, rest)
}

// named finds a public holiday of the place by its name, or as people call it.
func named(t *telling.Teller, s string) (string, bool) {
	for _, h := range reminders.Coming(&t.F.Shop.Settings, t.Today()) {
		if texts.Fold(h.Name) == s {
			return h.Name, true
		}
	}
	date, why := telling.Reader(t).Day(s, when.Ahead)
	h := holidays.At(t.F.Shop.Place(), date)
	return h.Name, why == when.OK && h.Name != ""
}

// shutOn lays down that the shop closes on days of every year, MM-DD. One that never closes
// but then keeps no other holiday.
func (d *Draft) shutOn(t *telling.Teller, days []string) bool {
	s := d.Over(t.F.Shop.Settings, t.Today())
	if _, _, endless := s.Endless(); endless && d.Holidays == nil {
		open := true
		d.Holidays = &open
	}
	for _, day := range days {
		plan := reminders.ShutOn(&s, day, t.Today())
		if len(plan.Seasons) > len(s.Plan.Seasons) {
			d.Seasons = append(d.Seasons, plan.Seasons[len(plan.Seasons)-1])
		} else {
			d.Feasts = append(d.Feasts, plan.Holidays[len(plan.Holidays)-1])
		}
	}
	return true
}

// holidayHours reads the hours of public holidays, on which the shop then trades; like sundays
// are those of a day of the week.
func (d *Draft) holidayHours(t *telling.Teller, rest string) bool {
	r := d.reader(t)
	h, ok := d.oneDay(r, rest)
	for _, like := range t.V.List("words.like") {
		if name, is := strings.CutPrefix(rest, like+" "); is && !ok {
			days, left, why := r.Weekdays(name)
			if ok = why == when.OK && left == "" && len(days) == 1; ok {
				h = r.Usual[days[0]]
			}
		}
	}
	if ok {
		open := h != (shop.Hours{})
		if d.Holidays = &open; open {
			d.Kept = &h
		}
	}
	return ok
}

// region reads a part of the shop's country, by its name or code.
func (d *Draft) region(t *telling.Teller, rest string) bool {
	r, ok := holidays.RegionOf(t.F.Shop.Country, rest)
	if ok {
		d.Region = &r.Code
	}
	return ok
}

// feastIn reads how a single public holiday is kept: "christmas day closed", "good friday
// 9-13", "epiphany open".
func (d *Draft) feastIn(t *telling.Teller, line string) (choice shop.HolidayChoice, ok bool) {
	rest := ""
	for _, h := range reminders.Coming(&t.F.Shop.Settings, t.Today()) {
		after, is := strings.CutPrefix(line, texts.Fold(h.Name)+" ")
		if is && len(h.Name) > len(choice.Name) {
			choice.Name, rest = h.Name, strings.TrimSpace(after)
		}
	}
	if choice.Name == "" {
		return choice, false
	}
	switch hours, hoursSaid := d.oneDay(d.reader(t), rest); {
	case t.IsWord("closed", rest):
		return choice, true
	case t.IsWord("open-day", rest):
		choice.Trades = true
	case !hoursSaid:
		return choice, false
	default:
		choice.Trades, choice.Hours = true, &hours
	}
	return choice, true
}
