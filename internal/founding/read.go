package founding

import (
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// Bounds of a machine, common practice, no source.
const (
	maxBoxes    = 12
	MaxCapacity = 10_000
)

// At gives one of several numbers; 0 where there is none.
func At(list []int64, i int) int64 {
	if i < len(list) {
		return list[i]
	}
	return 0
}

func Kinds(t *telling.Teller, faces []cashmath.Face) string {
	names := make([]string, len(faces))
	for i, f := range faces {
		names[i] = t.V.Kind(f)
	}
	return strings.Join(names, ", ")
}

// Boxes takes face values from the top box to the bottom one: "50 20 10".
func Boxes(t *telling.Teller, s string) (faces []cashmath.Face, problem string) {
	parted := func(r rune) bool { return unicode.IsSpace(r) || r == ',' || r == ';' }
	for _, word := range strings.FieldsFunc(s, parted) {
		f, err := cashmath.ParseFace(strings.TrimFunc(word, func(r rune) bool { return !unicode.IsDigit(r) }))
		if err != nil {
			return nil, t.V.Say("boxes-unread", "near", word)
		}
		faces = append(faces, f)
	}
	if len(faces) == 0 || len(faces) > maxBoxes {
		return nil, t.V.Say("boxes-number", "max", maxBoxes)
	}
	return faces, ""
}

// Numbers takes one number for all, or one for each of n.
func Numbers(s string, n int, fits func(i int, number int64) bool) (list []int64, ok bool) {
	for _, word := range strings.Fields(strings.NewReplacer(";", " ", ", ", " ", ",", "").Replace(s)) {
		number, err := strconv.ParseInt(word, 10, 32)
		if err != nil {
			return nil, false
		}
		list = append(list, number)
	}
	if len(list) == 1 {
		list = slices.Repeat(list, n)
	}
	for i, number := range list {
		if len(list) != n || !fits(i, number) {
			return nil, false
		}
	}
	return list, len(list) == n
}

func AsRoom(_ int, n int64) bool { return n > 0 && n <= MaxCapacity }

func CountryName(code string) string {
	if c, ok := shop.CountryOf(code); ok {
		return c.Name
	}
	return code
}

// Country takes a name or the two letters of ISO 3166. Of a country that is
// not in the table zone and currency are asked.
func Country(t *telling.Teller, s string) (value, problem string) {
	if known, ok := shop.CountryOf(s); ok {
		return known.Code, ""
	}
	s = strings.ToUpper(strings.TrimSpace(s))
	if len(s) == 2 && s[0] >= 'A' && s[0] <= 'Z' && s[1] >= 'A' && s[1] <= 'Z' {
		return s, ""
	}
	return "", t.V.Say("country-unknown")
}

// ZoneCity is the part of a zone's name people know.
func ZoneCity(zone string) string {
	return strings.ReplaceAll(zone[strings.LastIndexByte(zone, '/')+1:], "_", " ")
}

func Zone(t *telling.Teller, s string) (value, problem string) {
	s = strings.TrimSpace(s)
	if !strings.Contains(s, "/") || strings.Contains(s, "..") || len(s) > 40 {
		return "", t.V.Say("zone-unknown")
	}
	if _, err := time.LoadLocation(s); err != nil {
		return "", t.V.Say("zone-unknown")
	}
	return s, ""
}

// Hours writes a week, days that are alike together, Monday first.
func Hours(t *telling.Teller, week [7]shop.Hours) string {
	var out []string
	for i := 1; i <= 7; {
		last := i
		for last < 7 && week[(last+1)%7] == week[i%7] {
			last++
		}
		days := t.V.Say("weekday." + strconv.Itoa(i%7))
		if last > i {
			days += "-" + t.V.Say("weekday."+strconv.Itoa(last%7))
		}
		what := t.V.Say("closed-day")
		if h := week[i%7]; h != (shop.Hours{}) {
			what = telling.Span(h)
		}
		out = append(out, days+" "+what)
		i = last + 1
	}
	return strings.Join(out, ", ")
}

// Saturday is the first one from a date on.
func Saturday(d shop.Date) shop.Date {
	return d.Add((int(time.Saturday-d.Weekday()) + 7) % 7)
}
