package advice

import (
	"shopfloat/internal/cashmath"
	"shopfloat/internal/demand"
	"shopfloat/internal/shop"
)

// Tally says how one way of loading did on past days.
type Tally struct {
	Days   int   // judged
	RanOut int   // of these: less was loaded than customers asked for
	Over   int   // days on which it is known how much was left
	Idle   int64 // notes left over on them, added up
	Open   int   // days that ran out in truth, where this load is more than was paid: nobody knows
}

// Left is the mean of the notes left over a day, to the nearest note.
func (t Tally) Left() int64 {
	days := int64(max(t.Over, 1))
	return (t.Idle + days/2) / days
}

// judge takes in one day: load against what customers asked for.
func (t *Tally) judge(load int64, asked demand.Observed) {
	left := float64(load) - asked.Notes
	switch {
	case asked.Known == demand.Full && left >= 0:
		t.Over++
		t.Idle += int64(left)
	case asked.Known == demand.AtLeast && left > 0:
		t.Open++
		return
	case asked.Known == demand.Full:
		t.Over++
		t.RanOut++
	default:
		t.RanOut++ // at least so much was asked for, and no more was there
	}
	t.Days++
}

// Tested is one kind of note looked back at. The three ways are judged on the
// same days.
type Tested struct {
	Face    cashmath.Face
	From    demand.Day
	To      demand.Day
	Advised Tally // what the advice of the evening before would have been
	Loaded  Tally // what was put in, top-ups with it
	Weekly  Tally // what was paid out on the same weekday of the week before
}

// Backtest looks back over up to so many days up to the end of the past. A
// day counts when it had a load of its own, its demand is known at least in part,
// and the same day of the week before has a figure. Each day's advice knows
// only the days before it; caps by boxes, insurance and cash at hand are left out.
func Backtest(s *shop.Shop, kit *shop.Machine, past *Past, days int) ([]Tested, error) {
	share, err := Share(s.Load)
	if err != nil {
		return nil, err
	}
	advised := evenings{shop: s, past: past, models: map[demand.Day]map[cashmath.Face]*demand.Model{}}
	var list []Tested
	for _, face := range kit.Faces() {
		h := past.Paid[face]
		t := Tested{Face: face}
		for i := max(weekAgo, len(h.Days)-days); i < len(h.Days); i++ {
			if err := t.day(&advised, i, share); err != nil {
				return nil, err
			}
		}
		list = append(list, t)
	}
	return list, nil
}

// evenings are what was known on the evening before each day.
type evenings struct {
	shop   *shop.Shop
	past   *Past
	models map[demand.Day]map[cashmath.Face]*demand.Model
}

func (e *evenings) before(day demand.Day) (map[cashmath.Face]*demand.Model, error) {
	if m := e.models[day]; m != nil {
		return m, nil
	}
	known := map[cashmath.Face]demand.History{}
	for face, h := range e.past.Paid {
		known[face] = upTo(h, day)
	}
	m, err := fit(known, options(e.shop, e.past, day))
	e.models[day] = m
	return m, err
}

const weekAgo = 7

// enoughDays of own figures come before the first day that is looked back at.
const enoughDays = 14

func (t *Tested) day(e *evenings, i int, share float64) error {
	s, past, h := e.shop, e.past, e.past.Paid[t.Face]
	day, asked, before := h.First+demand.Day(i), h.Days[i], h.Days[i-weekAgo]
	loaded, ok := past.loaded(t.Face, day)
	if !ok || asked.Known == demand.Missing || before.Known == demand.Missing || i < enoughDays {
		return nil
	}
	models, err := e.before(day)
	if err != nil || models[t.Face] == nil {
		return err
	}
	f, err := models[t.Face].Ahead(1)
	if err != nil {
		return err
	}
	q, err := f.Quantile(kindShare(share, len(past.Paid)))
	if err != nil {
		return err
	}
	if t.From == 0 {
		t.From = day
	}
	t.To = day
	r := rounding{}
	if n := s.Bundle(t.Face); s.Load.Whole && n > 0 {
		r = rounding{step: n, whole: true}
	}
	t.Advised.judge(r.up(ceil(q)), asked)
	if loaded.out {
		loaded.notes = min(loaded.notes, int64(asked.Notes)) // what the machine kept back is no use to anybody
	}
	t.Loaded.judge(loaded.notes, asked)
	t.Weekly.judge(ceil(before.Notes), asked)
	return nil
}
