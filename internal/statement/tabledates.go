package statement

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/shop"
)

// Order is the order of day, month and year in the dates of a table.
type Order string

// The orders. Dates that begin with the year or name the month need none.
const (
	AnyOrder Order = ""
	DayFirst Order = "dmy"
	MonthDay Order = "mdy"
	YearDay  Order = "ymd" // with years of two digits
)

// dateParts are the numbers of a date in the order in which they stand.
type dateParts struct {
	a, b, year int
	sure       bool // a is the month, b the day
	short      bool // the year has two digits
}

// partsOf takes a date apart: 2026-11-09, 20261109, 9.11.26, 09/11/2026, 9 Nov 2026, Mon, Nov 9, 2026.
func partsOf(s string) (p dateParts, ok bool) {
	s = strings.TrimSpace(s)
	if i := strings.IndexAny(s, "T "); i >= 8 && strings.Contains(s[i:], ":") {
		s = s[:i]
	}
	if len(s) == 8 && digits(s) {
		s = s[:4] + "-" + s[4:6] + "-" + s[6:]
	}
	f := strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune("-/. ,", r) })
	if len(f) == 4 && !digitsIn(f[0]) {
		f = f[1:] // the day of the week
	}
	if len(f) != 3 {
		return p, false
	}
	if m := monthNamed(f[1]); m > 0 {
		f[1], p.sure = f[0], true
		f[0] = strconv.Itoa(m)
	} else if m := monthNamed(f[0]); m > 0 {
		f[0], p.sure = strconv.Itoa(m), true
	} else if len(f[0]) == 4 {
		f[0], f[1], f[2], p.sure = f[1], f[2], f[0], true
	}
	return p, p.set(f)
}

func (p *dateParts) set(f []string) bool {
	var n [3]int
	for i, s := range f {
		v, err := strconv.Atoi(s)
		if err != nil || v <= 0 || len(s) > 4 || i < 2 && (v > 31 || len(s) > 2) {
			return false
		}
		n[i] = v
	}
	if p.a, p.b, p.year = n[0], n[1], n[2]; len(f[2]) <= 2 {
		p.short = true
		p.year += 2000
	}
	return p.year > 1900
}

// in gives the day in an order.
func (p dateParts) in(o Order) (shop.Date, bool) {
	year, month, day := p.year, p.a, p.b
	switch {
	case p.sure, o == MonthDay:
	case o == YearDay:
		year, month, day = p.a+2000, p.b, p.year-2000
	default:
		month, day = p.b, p.a
	}
	if o == YearDay && !p.sure && (!p.short || day > 31) {
		return "", false
	}
	d, err := shop.ParseDate(fmt.Sprintf("%04d-%02d-%02d", year, month, day))
	return d, err == nil
}

// months are the first letters of months in several languages, from memory.
var months = [12]string{"jan,ian,gen,ene,sty,led,sau", "feb,fev,fév,lut,úno,unor,vas",
	"mar,mär,maer,mrt,mars,kov",
	"apr,avr,abr,kwi,dub", "may,mai,mag,mei,maj,kvě,geg", "jun,juin,giu,cze,čer,bir", "jul,juil,lug,lip,črv,lie",
	"aug,aou,aoû,ago,sie,srp,rugp", "sep,set,wrz,zář,rugs", "oct,okt,ott,out,paź,paz,říj,spa",
	"nov,lis,list,lap", "dec,dez,déc,dic,gru,pro,gruo"}

// monthStarts finds a month by its first letters.
var monthStarts = func() map[string]int {
	all := map[string]int{}
	for i, list := range months {
		for m := range strings.SplitSeq(list, ",") {
			all[m] = i + 1
		}
	}
	return all
}()

func monthNamed(s string) int {
	if s == "" || s[0] <= '9' {
		return 0
	}
	s = strings.ToLower(strings.TrimSuffix(s, "."))
	for n := 4; n >= 3; n-- {
		if m := monthStarts[clip(s, n)]; m > 0 {
			return m
		}
	}
	return 0
}

// orderOf decides from a column's dates in which order they are written: what
// only one order can read, else the one in which days go one way, else what the
// file's country writes.
func orderOf(dates []string, usual Order) (Order, error) {
	if inYear(dates, YearDay) && !inYear(dates, DayFirst) && !inYear(dates, MonthDay) {
		return YearDay, nil
	}
	day, month, open := true, true, false
	for _, s := range dates {
		p, ok := partsOf(s)
		if !ok || p.sure {
			continue
		}
		_, d := p.in(DayFirst)
		_, m := p.in(MonthDay)
		day, month, open = day && d, month && m, open || p.a != p.b
	}
	switch {
	case !day && !month:
		return "", about(BadDate, strings.Join(dates[:min(2, len(dates))], ", "))
	case day != month && day, !open:
		return DayFirst, nil
	case day != month:
		return MonthDay, nil
	}
	if dotted(dates) {
		return DayFirst, nil
	}
	d, m := oneWay(dates, DayFirst), oneWay(dates, MonthDay)
	switch {
	case usual != AnyOrder && distinct(dates) < fewDays:
		return usual, nil
	case d && !m:
		return DayFirst, nil
	case m && !d:
		return MonthDay, nil
	case usual != AnyOrder:
		return usual, nil
	}
	either := slices.IndexFunc(dates, func(s string) bool {
		p, ok := partsOf(s)
		return ok && !p.sure && p.a != p.b
	})
	return "", about(DateOrder, dates[max(either, 0)])
}

// inYear reports whether all dates are days in an order, of a year at most.
func inYear(dates []string, o Order) bool {
	var first, last shop.Date
	for _, s := range dates {
		p, _ := partsOf(s)
		d, ok := p.in(o)
		if !ok {
			return false
		}
		first, last = cmp.Or(min(first, d), d), max(last, d)
	}
	return first != "" && last <= first.Add(366)
}

// dotted reports whether dates are written with points. Wherever they are, the day
// comes first (short patterns of the Unicode CLDR, from memory).
func dotted(dates []string) bool {
	return !slices.ContainsFunc(dates, func(s string) bool { return strings.Count(s, ".") < 2 })
}

// fewDays is how many different days are needed for their order to say more than
// the country does.
const fewDays = 4

func distinct(list []string) int {
	seen := map[string]bool{}
	for _, s := range list {
		seen[s] = true
	}
	return len(seen)
}

// oneWay reports whether days in an order never turn back.
func oneWay(dates []string, o Order) bool {
	up, down := true, true
	var last shop.Date
	for _, s := range dates {
		p, _ := partsOf(s)
		d, ok := p.in(o)
		if !ok {
			continue
		}
		if last != "" {
			up, down = up && d >= last, down && d <= last
		}
		last = d
	}
	return up || down
}
