package when_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"shopfloat/internal/checks"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
	"shopfloat/internal/when"
)

// The days of ten years.
const firstDay, lastDay = shop.Date("2024-01-01"), shop.Date("2033-12-31")

var leans = []when.Lean{when.Ahead, when.Back}

// datedForms write a day in full, as every country does.
func datedForms(d shop.Date, voice *texts.Voice) []string {
	t := d.Time()
	ordinal := map[int]string{1: "st", 2: "nd", 3: "rd", 21: "st", 22: "nd", 23: "rd", 31: "st"}[t.Day()]
	if ordinal == "" {
		ordinal = "th"
	}
	return []string{
		string(d), strings.ReplaceAll(string(d), "-", "/"), t.Format("2.1.2006"), t.Format("02.01. 2006"),
		t.Format("2 January 2006"), t.Format("2 Jan 2006"), t.Format("2. Jan. 2006"),
		t.Format("January 2, 2006"),
		t.Format("Jan 2 2006"), t.Format("2") + ordinal + strings.ToLower(t.Format(" January 2006")),
		strings.ToUpper(t.Format("Jan 2")+ordinal) + t.Format(" 2006"),
		voice.Day(t) + t.Format(" 2006"), t.Format("Monday, 2 January 2006"),
	}
}

// orderedForms write it in full as a country does.
func orderedForms(d shop.Date, o when.Order) []string {
	if o == when.MonthFirst {
		return []string{d.Time().Format("1/2/2006"), d.Time().Format("01-02-2006")}
	}
	return []string{d.Time().Format("2/1/2006"), d.Time().Format("02-01-2006")}
}

// shortForms write it without its year.
func shortForms(d shop.Date, o when.Order) []string {
	t := d.Time()
	short := "2/1"
	if o == when.MonthFirst {
		short = "1/2"
	}
	return []string{
		t.Format("2.1."), t.Format("02.01"), t.Format(short), t.Format("2 January"), t.Format("Jan 2"),
		t.Format("2. Jan."), strings.ToLower(t.Format("on 2 Jan")),
	}
}

func TestEveryDayInEveryForm(t *testing.T) {
	words, voice := english(t), speaker(t)
	for d := firstDay; d <= lastDay; d = d.Add(1) {
		for _, form := range datedForms(d, voice) {
			r := when.Reader{Words: words, Today: "2030-07-01"}
			if got, why := r.Day(form, when.Ahead); got != d || why != when.OK {
				t.Fatalf("%s: %s %q", form, got, why)
			}
		}
		for _, o := range []when.Order{when.DayFirst, when.MonthFirst} {
			r := when.Reader{Words: words, Today: d, Order: o}
			for _, form := range orderedForms(d, o) {
				if got, why := r.Day(form, when.Back); got != d || why != when.OK {
					t.Fatalf("%s: %s %q", form, got, why)
				}
			}
			for _, form := range shortForms(d, o) {
				for _, lean := range leans {
					if got, why := r.Day(form, lean); got != d || why != when.OK {
						t.Fatalf("%s on that day, lean %d: %s %q", form, lean, got, why)
					}
				}
			}
		}
	}
}

func speaker(tb testing.TB) *texts.Voice {
	tb.Helper()
	catalogue, err := texts.Load()
	if err != nil {
		tb.Fatal(err)
	}
	return catalogue.In("en", "IE", "EUR")
}

// A day without its year against a walk through the calendar.
func TestNearestOfThatName(t *testing.T) {
	words := english(t)
	checks.Rapid(t, 50, 200, 5_000, func(t *rapid.T) {
		today := firstDay.Add(rapid.IntRange(0, 3652).Draw(t, "today"))
		d := firstDay.Add(rapid.IntRange(0, 3652).Draw(t, "day"))
		o := rapid.SampledFrom([]when.Order{when.DayFirst, when.MonthFirst}).Draw(t, "order")
		form := rapid.SampledFrom(shortForms(d, o)).Draw(t, "form")
		if rapid.Bool().Draw(t, "weekly") {
			name := d.Weekday().String()
			form = name[:rapid.IntRange(3, len(name)).Draw(t, "letters")]
		}
		for _, lean := range leans {
			step := 1
			if lean == when.Back {
				step = -1
			}
			want := today
			for !named(want, d, form) {
				want = want.Add(step)
			}
			r := when.Reader{Words: words, Today: today, Order: o}
			if got, why := r.Day(form, lean); got != want || why != when.OK {
				t.Fatalf("%s on %s, lean %d: %s %q, want %s", form, today, lean, got, why, want)
			}
		}
	})
}

// named reports whether a day has the name that a form gives another.
func named(day, like shop.Date, form string) bool {
	if strings.ContainsAny(form, "0123456789") {
		return day[4:] == like[4:]
	}
	return day.Weekday() == like.Weekday()
}

// Spans of days as the cards write them are read back.
func TestSpansReadBack(t *testing.T) {
	words, voice := english(t), speaker(t)
	checks.Rapid(t, 50, 200, 5_000, func(t *rapid.T) {
		today := firstDay.Add(rapid.IntRange(0, 3000).Draw(t, "today"))
		from := today.Add(rapid.IntRange(0, 300).Draw(t, "from"))
		to := from.Add(rapid.IntRange(1, 300).Draw(t, "long"))
		r := when.Reader{Words: words, Today: today, Order: when.DayFirst}
		forms := []string{
			voice.Day(from.Time()) + " to " + voice.Day(to.Time()),
			string(from) + " to " + string(to), string(from) + "-" + string(to),
			from.Time().Format("2.1.2006-") + to.Time().Format("2.1.2006"),
			from.Time().Format("2/1 - ") + to.Time().Format("2/1"),
		}
		if from[:7] == to[:7] {
			forms = append(forms, from.Time().Format("2-")+to.Time().Format("2 Jan"),
				from.Time().Format("Mon 2 to ")+to.Time().Format("Mon 2 January"),
				from.Time().Format("January 2 to ")+to.Time().Format("2"))
		}
		for _, form := range forms {
			days, rest, why := r.Days(form+", police warning", when.Ahead)
			if days != (when.Range{From: from, To: to}) || rest != "police warning" || why != when.OK {
				t.Fatalf("%s on %s: %v %q %q, want %s to %s", form, today, days, rest, why, from, to)
			}
		}
	})
}

func TestEveryMinute(t *testing.T) {
	for m := range 24*60 + 1 {
		hour, minute := m/60, m%60
		forms := []string{
			fmt.Sprintf("%d:%02d", hour, minute), fmt.Sprintf("%02d.%02d", hour, minute),
			fmt.Sprintf("%dh%02d", hour, minute), fmt.Sprintf("%d%02d", hour, minute),
			fmt.Sprintf("%02d%02d", hour, minute),
		}
		at := time.Date(2026, 1, 1, hour, minute, 0, 0, time.UTC)
		if hour < 24 {
			forms = append(forms, at.Format("3:04pm"), at.Format("3.04 PM"), at.Format("304pm"))
		}
		if hour < 24 && minute == 0 {
			forms = append(forms, at.Format("3pm"), at.Format("3 PM"))
		}
		if minute == 0 {
			forms = append(forms, fmt.Sprintf("%d", hour), fmt.Sprintf("%dh", hour))
		}
		for _, form := range forms {
			if got, rest, why := when.Clock(form + ", friday"); got != m || rest != "friday" || why != when.OK {
				t.Errorf("%s: %d %q %q", form, got, rest, why)
			}
		}
	}
}

// Hours of a week as the chat writes them are read back.
func TestWeeksReadBack(t *testing.T) {
	r := reader(t, "2026-11-26", "IE")
	checks.Rapid(t, 50, 200, 5_000, func(t *rapid.T) {
		var week [7]shop.Hours
		kinds := []shop.Hours{{}, {Open: 7 * 60, Close: 21 * 60}, {Open: 18 * 60, Close: 2 * 60},
			{Open: 0, Close: 24 * 60}, {Open: rapid.IntRange(0, 1439).Draw(t, "open"), Close: 1440}}
		var parts []string
		for d := range week {
			week[d] = rapid.SampledFrom(kinds).Draw(t, "hours")
		}
		for d := 0; d < 7; {
			last := d
			for last < 6 && week[last+1] == week[d] {
				last++
			}
			name := time.Weekday(d).String()[:3]
			if last > d {
				name += "-" + time.Weekday(last).String()[:3]
			}
			what := "closed"
			if week[d] != (shop.Hours{}) {
				what = hoursWord(week[d])
				if h, why := r.Hours(what); h != week[d] || why != when.OK {
					t.Fatalf("%s: %v %q", what, h, why)
				}
			}
			parts = append(parts, name+" "+what)
			d = last + 1
		}
		line := strings.Join(parts, rapid.SampledFrom([]string{", ", "; ", "\n"}).Draw(t, "between"))
		if got, why := r.Week(line); got != week || why != when.OK {
			t.Fatalf("%s: %v %q", line, got, why)
		}
	})
}

func TestEveryMonth(t *testing.T) {
	words := english(t)
	for d := firstDay; d <= lastDay; d = d.Add(1) {
		if d[8:] != "01" {
			continue
		}
		at := d.Time()
		want := when.Month{Year: at.Year(), Month: at.Month()}
		for _, x := range []struct {
			today shop.Date
			form  string
		}{
			{"2028-05-31", at.Format("2006-01")}, {"2028-05-31", at.Format("January 2006")},
			{"2028-05-31", at.Format("Jan, 2006")}, {d, at.Format("January")},
			{d.Add(20), strings.ToLower(at.Format("Jan."))}, {d.Add(20), "the month"},
			{want.Last(), at.Format("Jan")},
			{d.Add(31), at.Format("Jan")}, {d.Add(200), at.Format("January")},
			{want.Last().Add(1), "last month"}, {want.Last().Add(28), "the last month"},
		} {
			r := when.Reader{Words: words, Today: x.today}
			if got, why := r.Month(x.form, when.Back); got != want || why != when.OK {
				t.Errorf("%s on %s: %v %q", x.form, x.today, got, why)
			}
		}
		if want.First() != d || want.Last().Add(1).Time().Day() != 1 || want.Last()[:7] != d[:7] {
			t.Errorf("%v: %s to %s", want, want.First(), want.Last())
		}
	}
}

// A time of a day as the cards write it is read back.
func TestMomentsReadBack(t *testing.T) {
	words, voice := english(t), speaker(t)
	checks.Rapid(t, 50, 200, 5_000, func(t *rapid.T) {
		today := firstDay.Add(rapid.IntRange(100, 3652).Draw(t, "today"))
		day := today.Add(-rapid.IntRange(0, when.LatelyDays).Draw(t, "ago"))
		minutes := rapid.IntRange(0, 1439).Draw(t, "minutes")
		r := when.Reader{Words: words, Today: today, Order: when.DayFirst}
		at := day.Time()
		for _, date := range []string{
			voice.Day(at) + ",", string(day), at.Format("2.1."), at.Format("2/1"), at.Format("2-1"),
			at.Format("2 January at"), at.Format("2.1.2006,"), at.Format("Jan 2, 2006 at"),
			at.Format("Monday, 2 Jan 2006"),
		} {
			m, why := r.Moment(date + " " + clockWord(minutes))
			if m != (when.Moment{Day: day, Minutes: minutes}) || why != when.OK {
				t.Fatalf("%s %s on %s: %v %q", date, clockWord(minutes), today, m, why)
			}
		}
	})
}
