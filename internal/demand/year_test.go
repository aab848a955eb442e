package demand_test

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"shopfloat/internal/demand"
)

// An autumn that came twice is believed in more than one that came in place of another season: how
// much of last year's movement comes again is the shop's own.
func TestMovementThatCameAgainIsBelieved(t *testing.T) {
	autumn := func(days int, in2024 time.Month) float64 {
		s := cornerShop(days)
		s.factor = func(day demand.Day) float64 {
			year, month, _ := day.Date()
			first := time.September
			if year == 2024 {
				first = in2024
			}
			if month >= first && month < first+3 {
				return 1.4
			}
			return 1
		}
		term, _ := termOf(mustAhead(t, mustFit(t, s.history(), demand.Options{}), 50), demand.LastYear)
		return term.Factor
	}
	const toAugust2025, toAugust2026 = 595, 960
	once, again := autumn(toAugust2025, time.September), autumn(toAugust2026, time.September)
	instead := autumn(toAugust2026, time.May)
	if once < 1.15 || again < once+0.02 || instead > once-0.05 {
		t.Errorf("an autumn seen once gives %.3f, twice %.3f, instead of a spring %.3f", once, again, instead)
	}
}

// What one day was off by a year ago is expected again in a small part, on that day alone.
func TestSameDayLastYear(t *testing.T) {
	plain := cornerShop(735)
	chance := rand.New(rand.NewPCG(1, 2))
	noise := make([]float64, plain.days)
	for i := range noise {
		noise[i] = math.Exp(0.15 * chance.NormFloat64())
	}
	plain.observed = func(i int, notes float64) demand.Observed {
		return demand.Observed{Notes: notes * noise[i], Known: demand.Full}
	}
	odd := plain.history()
	ahead := 9
	odd.Days[len(odd.Days)+ahead-1-364].Notes *= 1.6
	options := demand.Options{Priors: demand.Shipped()}
	without, with := mustFit(t, plain.history(), options), mustFit(t, odd, options)
	ratio := func(ahead int) float64 {
		return mustAhead(t, with, ahead).Mean / mustAhead(t, without, ahead).Mean
	}
	if got := ratio(ahead); got < 1.015 || got > 1.08 {
		t.Errorf("the day a year later is expected %.3f times as high, want a little more", got)
	}
	near(t, "the same for the day after", ratio(ahead+1), 1, 0.012)
	near(t, "the same for the week after", ratio(ahead+7), 1, 0.012)
}

// A day of a weekday on which demand varies a lot tells less of the level than one of the others.
func TestQuietWeekdayTellsMore(t *testing.T) {
	const weeks, small = 29, 1.02 // so that nothing is doubted
	chance := rand.New(rand.NewPCG(3, 4))
	var noise [7 * (weeks + 1)]float64
	for i := range noise {
		noise[i] = 0.05 * chance.NormFloat64()
		if (cornerShop(1).first + demand.Day(i)).Weekday() == time.Sunday {
			noise[i] *= 6
		}
	}
	moved := func(weekday time.Weekday) float64 {
		s := cornerShop(7 * weeks)
		for (s.first + demand.Day(s.days-1)).Weekday() != weekday {
			s.days++
		}
		last := s.days - 1
		s.observed = func(i int, notes float64) demand.Observed {
			if i < last {
				notes *= math.Exp(noise[i])
			}
			return demand.Observed{Notes: notes, Known: demand.Full}
		}
		plain, more := s.history(), s.history()
		more.Days[last].Notes *= small
		options := demand.Options{Priors: demand.Shipped()}
		a, b := mustAhead(t, mustFit(t, plain, options), 37), mustAhead(t, mustFit(t, more, options), 37)
		return math.Log(b.Mean / a.Mean)
	}
	if friday, sunday := moved(time.Friday), moved(time.Sunday); friday < 1.5*sunday || sunday <= 0 {
		t.Errorf("2 %% more move the level by %.5f on a Friday and %.5f on a Sunday", friday, sunday)
	}
}
