package founding

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/counts"
	"shopfloat/internal/lands"
	"shopfloat/internal/lines"
	"shopfloat/internal/rota"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
	"shopfloat/internal/when"
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

// numbers takes one number for all, or one for each box or kind: 2000 1500, or as counts are
// told, 10 and 30, bottom 1500 top 2000, 50s 10 20s 30.
func numbers(s string, of []counts.Line, fits func(i int, number int64) bool) (list []int64, ok bool) {
	for _, word := range strings.Fields(strings.NewReplacer(";", " ", ", ", " ", ",", "").Replace(s)) {
		number, err := strconv.ParseInt(word, 10, 32)
		if err != nil {
			list, ok = counted(s, of)
			break
		}
		list, ok = append(list, number), true
	}
	if len(list) == 1 {
		list = slices.Repeat(list, len(of))
	}
	for i, number := range list {
		ok = ok && len(list) == len(of) && fits(i, number)
	}
	return list, ok
}

// counted reads numbers of notes as counts are told: each of them, none as an amount of money.
func counted(s string, of []counts.Line) (list []int64, ok bool) {
	list = make([]int64, len(of))
	res := counts.Parse(s, counts.Request{Lines: of})
	for _, it := range res.Items {
		list[it.Line] = it.Notes
		if it.FromValue {
			return nil, false
		}
	}
	if res.Bare && len(res.Items) == 1 {
		return []int64{res.Items[0].Notes}, true
	}
	if res.Problem != nil || res.Prose || res.Total != "" || len(res.Items) != len(of) {
		return nil, false
	}
	return list, true
}

// boxLines are the note boxes of a draft, as they are named: the top one first.
func (d *Answers) boxLines(t *telling.Teller) (list []counts.Line) {
	all := Said(d.Boxes)
	for i, f := range all {
		name := telling.BoxName(t, lines.Line{Box: i + 1, Of: len(all), Face: f})
		list = append(list, counts.Line{Face: string(f), Position: i + 1, Name: name})
	}
	return list
}

// AsRoom reports whether so many notes fit into a box or a bundle.
func AsRoom(_ int, n int64) bool { return n > 0 && n <= MaxCapacity }

// CountryName is what a country is called in English.
func CountryName(code string) string {
	if c, ok := shop.CountryOf(code); ok {
		return c.Name
	}
	if l, ok := lands.Find(code); ok {
		return l.Name
	}
	return code
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

// ReadHours reads the hours of a week, and days of every year on which the shop closes all
// the same: 24/7 except christmas day.
func (d *Answers) ReadHours(t *telling.Teller, s string) (week [7]shop.Hours, problem string) {
	r := telling.Reader(t)
	s, d.Shut = r.ButFeasts(s)
	said, why := r.Trading(s)
	if why != when.OK || said.From != "" || said.Since != "" || said.Week == ([7]shop.Hours{}) {
		problem = cmp.Or(rota.Lacks(t, texts.Fold(s)), t.V.Say("hours-unread"))
	}
	d.Likely, d.ShutWith = [7]shop.Hours{}, said.Week
	if said.Doubt && said.Week != said.Literal {
		d.Likely = said.Week
	}
	return said.Week, problem
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

// ShutOn says on which days of every year the shop closes all the same.
func (d *Answers) ShutOn(t *telling.Teller) string {
	out := ""
	for _, day := range d.shut() {
		out += ", " + t.V.Say("shut-on", "day", telling.YearDay(t, day))
	}
	return out
}

// Saturday is the first one from a date on.
func Saturday(d shop.Date) shop.Date {
	return d.Add((int(time.Saturday-d.Weekday()) + 7) % 7)
}
