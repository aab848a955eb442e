// Package dayrule says in a few letters which days a holiday falls on:
//
//	f 1225           a fixed day
//	e -2, o 1        days after Easter Sunday, western and orthodox
//	w 05 1 1         the first Monday of May; -1 is the last
//	a 0620 6         the first Saturday on or after 20 June
//	m 1225 2.....2   a fixed day that moves by its weekday, Sunday first: a figure is so
//	                 many days on, a letter so many back (a is one), a full stop none
//	d 261225,271227  a list, YYMMDD, of this century
//
// Years may stand in front, "2023- " or "-2023 " or "2023-2025 ". Weekdays count from
// Sunday, 0. It is pure.
package dayrule

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/shop"
)

// Rule gives the days of a year.
type Rule struct {
	from, to int // years; 0 is no bound
	days     func(year int) []time.Time
}

// In lists the days of a year, or those of the days that moved into the next or the
// one before.
func (r Rule) In(year int) []shop.Date {
	if r.from != 0 && year < r.from || r.to != 0 && year > r.to {
		return nil
	}
	var list []shop.Date
	for _, t := range r.days(year) {
		list = append(list, shop.DateOf(t))
	}
	return list
}

// Parse reads a rule.
func Parse(text string) (Rule, error) {
	words := strings.Fields(text)
	r, words, err := span(words)
	if err == nil && len(words) < 2 {
		err = fmt.Errorf("no rule")
	}
	if err == nil {
		r.days, err = daysOf(words[0], words[1:])
	}
	if err != nil {
		return Rule{}, fmt.Errorf("rule %q: %w", text, err)
	}
	return r, nil
}

// span reads the years in front.
func span(words []string) (r Rule, rest []string, err error) {
	if len(words) == 0 {
		return r, words, nil
	}
	from, to, is := strings.Cut(words[0], "-")
	if !is {
		return r, words, nil
	}
	for text, year := range map[*string]*int{&from: &r.from, &to: &r.to} {
		if *text != "" {
			if *year, err = strconv.Atoi(*text); err != nil {
				return r, nil, err
			}
		}
	}
	return r, words[1:], nil
}

func daysOf(kind string, args []string) (func(int) []time.Time, error) {
	switch kind {
	case "f":
		return fixed(args)
	case "e":
		return afterEaster(args, Easter)
	case "o":
		return afterEaster(args, Orthodox)
	case "w":
		return weekdayOf(args)
	case "a":
		return onOrAfter(args)
	case "m":
		return moving(args)
	case "d":
		return listed(args)
	}
	return nil, fmt.Errorf("there is no kind %q", kind)
}

func date(year, month, day int) time.Time {
	return time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
}

// numbers reads so many whole numbers.
func numbers(args []string, want int) ([]int, error) {
	if len(args) != want {
		return nil, fmt.Errorf("%d words, want %d", len(args), want)
	}
	list := make([]int, want)
	for i, a := range args {
		var err error
		if list[i], err = strconv.Atoi(a); err != nil {
			return nil, err
		}
	}
	return list, nil
}

// monthDay splits 1225.
func monthDay(n int) (month, day int, err error) {
	month, day = n/100, n%100
	if t := date(2024, month, day); int(t.Month()) != month || t.Day() != day {
		return 0, 0, fmt.Errorf("no such day %d", n)
	}
	return month, day, nil
}

func fixed(args []string) (func(int) []time.Time, error) {
	n, err := numbers(args, 1)
	if err != nil {
		return nil, err
	}
	month, day, err := monthDay(n[0])
	return func(year int) []time.Time { return []time.Time{date(year, month, day)} }, err
}

func afterEaster(args []string, easter func(int) time.Time) (func(int) []time.Time, error) {
	n, err := numbers(args, 1)
	if err != nil {
		return nil, err
	}
	return func(year int) []time.Time { return []time.Time{easter(year).AddDate(0, 0, n[0])} }, nil
}

func weekdayOf(args []string) (func(int) []time.Time, error) {
	n, err := numbers(args, 3)
	if err != nil {
		return nil, err
	}
	month, nth, weekday := n[0], n[1], n[2]
	if month < 1 || month > 12 || nth == 0 || nth < -1 || nth > 4 || weekday < 0 || weekday > 6 {
		return nil, fmt.Errorf("no such weekday of a month")
	}
	return func(year int) []time.Time {
		if nth < 0 {
			last := date(year, month+1, 0)
			return []time.Time{last.AddDate(0, 0, -((int(last.Weekday()) - weekday + 7) % 7))}
		}
		return []time.Time{from(date(year, month, 1), weekday).AddDate(0, 0, 7*(nth-1))}
	}, nil
}

// from is the first of a weekday on or after a day.
func from(t time.Time, weekday int) time.Time {
	return t.AddDate(0, 0, (weekday-int(t.Weekday())+7)%7)
}

func onOrAfter(args []string) (func(int) []time.Time, error) {
	n, err := numbers(args, 2)
	if err != nil {
		return nil, err
	}
	month, day, err := monthDay(n[0])
	if err == nil && (n[1] < 0 || n[1] > 6) {
		err = fmt.Errorf("no such weekday %d", n[1])
	}
	return func(year int) []time.Time { return []time.Time{from(date(year, month, day), n[1])} }, err
}

func moving(args []string) (func(int) []time.Time, error) {
	if len(args) != 2 || len(args[1]) != 7 {
		return nil, fmt.Errorf("want a day and seven letters")
	}
	n, err := numbers(args[:1], 1)
	if err != nil {
		return nil, err
	}
	month, day, err := monthDay(n[0])
	if err == nil && strings.Trim(args[1], "0123456abcdef.") != "" {
		err = fmt.Errorf("letters that say nothing")
	}
	return func(year int) []time.Time {
		at := date(year, month, day)
		switch by := args[1][at.Weekday()]; {
		case by == '.':
			return nil
		case by <= '9':
			return []time.Time{at.AddDate(0, 0, int(by-'0'))}
		default:
			return []time.Time{at.AddDate(0, 0, -int(by-'a'+1))}
		}
	}, err
}

func listed(args []string) (func(int) []time.Time, error) {
	if len(args) != 1 {
		return nil, fmt.Errorf("want one list")
	}
	years := map[int][]time.Time{}
	for text := range strings.SplitSeq(args[0], ",") {
		t, err := time.Parse("20060102", "20"+text)
		if err != nil {
			return nil, err
		}
		years[t.Year()] = append(years[t.Year()], t)
	}
	return func(year int) []time.Time { return years[year] }, nil
}
