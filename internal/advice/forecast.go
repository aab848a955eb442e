package advice

import (
	"maps"
	"slices"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/demand"
	"shopfloat/internal/holidays"
	"shopfloat/internal/shop"
)

// Outlook forecasts what one shop's machine will pay. It holds what does not
// depend on the question asked.
type Outlook struct {
	shop   *shop.Shop
	kit    *shop.Machine
	past   *Past
	models map[cashmath.Face]*demand.Model
	next   demand.Day // first day the models do not cover
}

// NewOutlook fits each kind of note on what was paid before a date. A country
// whose holidays are not known has none.
func NewOutlook(s *shop.Shop, kit *shop.Machine, past *Past, date shop.Date) (*Outlook, error) {
	o := &Outlook{shop: s, kit: kit, past: past, next: dayOf(date), models: map[cashmath.Face]*demand.Model{}}
	known := map[cashmath.Face]demand.History{}
	for _, face := range kit.Faces() {
		known[face] = upTo(past.Paid[face], o.next)
	}
	if len(past.Paid) == 0 {
		return o, nil // nothing to fit, so nothing to make a calendar for
	}
	var err error
	o.models, err = fit(known, options(s, past, o.next))
	return o, err
}

// fit learns every kind together with the others. A kind without a figure has no model.
func fit(known map[cashmath.Face]demand.History, o demand.Options) (map[cashmath.Face]*demand.Model, error) {
	faces := slices.Sorted(maps.Keys(known))
	histories := make([]demand.History, len(faces))
	for i, face := range faces {
		histories[i] = known[face]
	}
	learned, err := demand.Together(histories, o)
	if err != nil {
		return nil, err
	}
	models := map[cashmath.Face]*demand.Model{}
	for i, m := range learned {
		if m != nil {
			models[faces[i]] = m
		}
	}
	return models, nil
}

// options are those of every fit of a shop's past, for days up to the farthest
// ahead of a date.
func options(s *shop.Shop, past *Past, date demand.Day) demand.Options {
	first, last := date, date+demand.AheadMax
	for _, h := range past.Paid {
		first = min(first, h.First)
	}
	from, _, _ := first.Date()
	to, _, _ := last.Date()
	known := Holidays(s.Country, from-1, to+1)
	return demand.Options{
		Calendar: demand.NewCalendar(first, last, known), Priors: priors(s.Country), Shifts: past.Shifts,
	}
}

// priors are what is believed of a shop before its own days speak: habits are a
// country's, and the shipped ones are England's.
func priors(country string) *demand.Priors {
	if country == "GB" {
		return demand.Shipped()
	}
	return demand.Abroad()
}

// Holidays lists the public holidays of a country, by its ISO 3166-1 code, as a
// forecast wants them, in the years from first to last. None for a country that
// is not known.
func Holidays(country string, first, last int) []demand.Holiday {
	var list []demand.Holiday
	for _, h := range holidays.Years(country, first, last) {
		list = append(list, demand.Holiday{Day: dayOf(h.Date), Name: h.Name})
	}
	return list
}

// upTo makes a history end the day before a date: longer ones are cut, shorter
// ones get days without a figure.
func upTo(h demand.History, date demand.Day) demand.History {
	if len(h.Days) == 0 || h.First >= date {
		return demand.History{First: date}
	}
	days := make([]demand.Observed, date-h.First)
	copy(days, h.Days)
	h.Days = days
	return h
}

// Of forecasts what days ask for together of one kind, in order and none before
// the outlook's date. It is false where nothing is known or a day is too far ahead.
func (o *Outlook) Of(face cashmath.Face, days []demand.Day) (demand.Forecast, bool) {
	m := o.models[face]
	if m == nil || len(days) == 0 {
		return demand.Forecast{}, false
	}
	if len(days) == 1 {
		f, err := m.Ahead(int(days[0]-o.next) + 1)
		return f, err == nil
	}
	aheads := make([]int, len(days))
	for i, d := range days {
		aheads[i] = int(d-o.next) + 1
	}
	f, err := m.TotalOf(aheads)
	return f, err == nil
}
