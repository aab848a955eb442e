package leaks

import (
	"math"
	"slices"
	"testing"
	"time"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/checks"
	"shopfloat/internal/shop"
)

var faces = []cashmath.Face{"50", "20", "10"}

// habit is how an invented shop's differences come about when nothing leaks.
type habit struct {
	name           string
	one, more, big float64 // chances a day and kind of one note, of two to five, of a bundle
}

var habits = []habit{
	{"careful", 0.02, 0.003, 0.001},
	{"ordinary", 0.06, 0.01, 0.003},
	{"careless", 0.15, 0.04, 0.01},
	{"very careless", 0.25, 0.06, 0.015},
}

func (h habit) draw(next func() float64) int64 {
	u, sign := next(), int64(1)
	if next() < 0.5 {
		sign = -1
	}
	switch {
	case u < h.one:
		return sign
	case u < h.one+h.more:
		return sign * (2 + int64(next()*4))
	case u < h.one+h.more+h.big:
		return sign * 50
	}
	return 0
}

// spell is a shop's days; leak is the chance a day that a twenty goes missing from the
// day of that index on, on that weekday only where one is given.
func spell(seed uint64, h habit, n int, leak float64, from int, only *time.Weekday) []Day {
	next := chance(seed)
	var days []Day
	date := shop.Date("2026-01-05")
	for i := range n {
		d := Day{Date: date.Add(i), By: shop.PersonID(1 + i%4), Notes: map[cashmath.Face]int64{}}
		for _, f := range faces {
			d.Notes[f] = h.draw(next)
		}
		if i >= from && (only == nil || *only == d.Date.Weekday()) && next() < leak {
			d.Notes["20"]--
		}
		days = append(days, d)
	}
	return days
}

// alarms counts what is told of a spell.
func alarms(days []Day) (n int) {
	for _, k := range Look(days, faces) {
		n += len(k.Leaks)
	}
	return n
}

// Nothing leaks: false alarms of a whole machine are at least two years apart.
func TestFalseAlarms(t *testing.T) {
	shops := checks.Size(t, 20, 80, 3_000)
	for _, h := range habits {
		n := 0
		for seed := range shops {
			n += alarms(spell(uint64(seed+1), h, alarmDays, 0, 0, nil))
		}
		rate := float64(n) / float64(shops)
		t.Logf("%s: %.2f false alarms in two years, %d shops", h.name, rate, shops)
		if rate > 1+3/math.Sqrt(float64(shops)) { // chance of so few shops
			t.Errorf("%s: %.2f false alarms in two years, want at most one", h.name, rate)
		}
	}
}

// seen is the first day, counted from the leak's begin, on whose evening it is told; -1: on none.
func seen(days []Day, from int, weekly bool) int {
	for i := from; i < len(days); i++ {
		for _, k := range Look(days[:i+1], faces) {
			for _, l := range k.Leaks {
				if k.Face == "20" && !l.Ended && !l.Over && (!weekly || l.Weekly) {
					return i - from + 1
				}
			}
		}
	}
	return -1
}

// thirds makes a twenty go missing every third day from an index on.
func thirds(seed uint64, h habit, n, from int) []Day {
	days := spell(seed, h, n, 0, 0, nil)
	for i := from; i < n; i += 3 {
		days[i].Notes["20"]--
	}
	return days
}

// A twenty every third day is seen within 30 days, after half a year without and from
// the first day on. By chance, one day in three, it takes some longer.
func TestANoteEveryThirdDay(t *testing.T) {
	shops := checks.Size(t, 4, 16, 600)
	for _, h := range habits {
		for _, from := range []int{0, 180} {
			exact, late := took(shops, func(seed uint64) int {
				return seen(thirds(seed, h, from+60, from), from, false)
			})
			random, after := took(shops, func(seed uint64) int {
				return seen(spell(seed, h, from+60, 1.0/3, from, nil), from, false)
			})
			t.Logf("%s, from day %d: median %d days, %d of %d later than 30; by chance %d days, %d later",
				h.name, from, exact, late, shops, random, after)
			most := shops // a careless shop's noise hides it longer
			if h.name == "careful" || h.name == "ordinary" {
				most = shops / 4
			}
			if late > most || exact > 30 && most < shops {
				t.Errorf("%s, from day %d: median %d days and %d of %d later than 30", h.name, from, exact, late, shops)
			}
		}
	}
}

// took gives the median of so many tries and how many were over 30 days or never.
func took(tries int, try func(seed uint64) int) (median, late int) {
	var list []int
	for i := range tries {
		n := try(uint64(i + 1000))
		if n < 0 {
			n = 999
		}
		list = append(list, n)
		if n > 30 {
			late++
		}
	}
	slices.Sort(list)
	return list[len(list)/2], late
}

// A twenty every Friday is seen as one of Fridays, and its weekday is named where four
// people closed in turn.
func TestANoteEveryFriday(t *testing.T) {
	friday := time.Friday
	days := spell(3, habits[0], 180, 1, 60, &friday)
	n := seen(days, 60, true)
	if n < 0 || n > 90 {
		t.Fatalf("seen after %d days", n)
	}
	for _, k := range Look(days, faces) {
		for _, l := range k.Leaks {
			if k.Face != "20" || !l.Weekly || l.Weekday != friday || !l.Named || l.Over || l.Times < 5 {
				t.Errorf("%+v", l)
			}
		}
	}
	for i := range days {
		days[i].By = shop.PersonID(1 + i%2)
	}
	for _, k := range Look(days, faces) {
		for _, l := range k.Leaks {
			if l.Named {
				t.Errorf("named though two people closed: %+v", l)
			}
		}
	}
}

// Too little to tell: nothing is said, however bad.
func TestTooLittle(t *testing.T) {
	days := spell(1, habits[0], DaysMin-1, 1, 0, nil)
	for _, k := range Look(days, faces) {
		if k.Enough() || len(k.Leaks) > 0 {
			t.Errorf("%+v", k)
		}
	}
	if got := Look(nil, faces); len(got) != 3 || got[0].Enough() {
		t.Errorf("%+v", got)
	}
}

// One bad evening is no leak, and what has stopped is told as stopped.
func TestOneBundleAndAnEnd(t *testing.T) {
	days := spell(5, habit{}, 60, 0, 0, nil)
	days[40].Notes["20"] = -100
	if n := alarms(days); n != 0 {
		t.Errorf("%d leaks from one evening", n)
	}
	days = spell(5, habit{}, 200, 0, 0, nil)
	for i := 30; i < 70; i += 2 {
		days[i].Notes["20"]--
	}
	k := Look(days, faces)[1]
	if len(k.Leaks) != 1 || !k.Leaks[0].Ended || k.Leaks[0].Since != days[30].Date || k.Leaks[0].Times < 15 {
		t.Errorf("%+v", k.Leaks)
	}
	if math.Abs(k.Sums[199]) > k.Limit {
		t.Errorf("the sum is still at %.1f", k.Sums[199])
	}
}
