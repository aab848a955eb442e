package when_test

import (
	"bufio"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
	"shopfloat/internal/when"
)

// english are the words of the catalogue.
func english(tb testing.TB) *when.Words {
	tb.Helper()
	catalogue, err := texts.Load()
	if err != nil {
		tb.Fatal(err)
	}
	return when.WordsOf(catalogue.In("en", "IE", "EUR").List)
}

func reader(tb testing.TB, today shop.Date, country string) when.Reader {
	tb.Helper()
	return when.Reader{Words: english(tb), Today: today, Order: when.OrderOf(country)}
}

// read reads a text in one of the ways and words the result as the table does.
func read(r when.Reader, form, text string) string {
	refused := func(why when.Reason) string { return "! " + string(why) }
	switch form {
	case "ahead", "back", "alone":
		lean := when.Ahead
		if r.Alone = form == "alone"; form != "ahead" {
			lean = when.Back
		}
		days, rest, why := r.Days(text, lean)
		if why != when.OK {
			return refused(why)
		}
		return joined(spanWord(days), rest)
	case "some":
		days, rest, why := r.SomeDays(text)
		if why != when.OK {
			return refused(why)
		}
		var list []string
		for _, d := range days {
			list = append(list, spanWord(d))
		}
		return joined(strings.Join(list, " "), strings.Join(strings.Fields(rest), " "))
	case "month", "month-ahead":
		lean := when.Back
		if form == "month-ahead" {
			lean = when.Ahead
		}
		m, why := r.Month(text, lean)
		if why != when.OK {
			return refused(why)
		}
		return string(m.First()) + ".." + string(m.Last())
	case "clock":
		minutes, rest, why := when.Clock(text)
		if why != when.OK {
			return refused(why)
		}
		return joined(clockWord(minutes), rest)
	case "moment":
		m, why := r.Moment(text)
		if why != when.OK {
			return refused(why)
		}
		return fmt.Sprintf("%s %s /%d", m.Day, clockWord(m.Minutes), m.Every)
	}
	return readWeekly(r, form, text)
}

func readWeekly(r when.Reader, form, text string) string {
	switch form {
	case "hours":
		h, why := r.Hours(text)
		if why != when.OK {
			return "! " + string(why)
		}
		return hoursWord(h)
	case "weekdays":
		days, rest, why := r.Weekdays(text)
		if why != when.OK {
			return "! " + string(why)
		}
		var names []string
		for _, d := range days {
			names = append(names, d.String()[:3])
		}
		return joined(strings.Join(names, " "), rest)
	case "week":
		week, why := r.Week(text)
		if why != when.OK {
			return "! " + string(why)
		}
		var list []string
		for _, h := range week {
			list = append(list, hoursWord(h))
		}
		return strings.Join(list, " ")
	case "weekday":
		day, ok := r.Weekday(text)
		return fmt.Sprint(day, " ", ok)
	case "day":
		day, why := r.Day(text, when.Ahead)
		if why != when.OK {
			return "! " + string(why)
		}
		return string(day)
	}
	return "no such form"
}

func joined(what, rest string) string {
	if rest == "" {
		return what
	}
	return what + " | " + rest
}

func spanWord(d when.Range) string {
	if d.From == d.To {
		return string(d.From)
	}
	return string(d.From) + ".." + string(d.To)
}

func clockWord(minutes int) string { return fmt.Sprintf("%02d:%02d", minutes/60, minutes%60) }

func hoursWord(h shop.Hours) string {
	if h == (shop.Hours{}) {
		return "-"
	}
	return clockWord(h.Open) + "-" + clockWord(h.Close)
}

// example is a line of the table.
type example struct {
	line                               int
	form, today, country, typed, means string
}

func examples(tb testing.TB) (list []example) {
	tb.Helper()
	f, err := os.Open("testdata/examples.tsv")
	if err != nil {
		tb.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	lines := bufio.NewScanner(f)
	for n := 1; lines.Scan(); n++ {
		if strings.HasPrefix(lines.Text(), "#") || lines.Text() == "" {
			continue
		}
		x := strings.Split(lines.Text(), "\t")
		if len(x) != 5 {
			tb.Fatalf("line %d has %d columns", n, len(x))
		}
		list = append(list, example{n, x[0], x[1], x[2], x[3], x[4]})
	}
	if err := lines.Err(); err != nil || len(list) < 200 {
		tb.Fatal(len(list), err)
	}
	return list
}

func TestExamples(t *testing.T) {
	words := english(t)
	var forms []string
	for _, x := range examples(t) {
		r := when.Reader{Words: words, Today: shop.Date(x.today), Order: when.OrderOf(strings.Trim(x.country, "-"))}
		if got := read(r, x.form, x.typed); got != x.means {
			t.Errorf("line %d: %s of %q on %s in %s: %s, want %s",
				x.line, x.form, x.typed, x.today, x.country, got, x.means)
		}
		if !slices.Contains(forms, x.form) {
			forms = append(forms, x.form)
		}
	}
	if len(forms) < 12 {
		t.Errorf("the table has only %v", forms)
	}
}

// What fits two names is none of them, also where one is the first of the list.
func TestTwoNames(t *testing.T) {
	r := when.Reader{Words: &when.Words{Weekdays: []string{"maandag", "dinsdag", "maanddag"}}}
	if day, ok := r.Weekday("maan"); ok {
		t.Errorf("maan is %v", day)
	}
	if day, ok := r.Weekday("maanda"); !ok || day != 0 {
		t.Errorf("maanda is %v %v", day, ok)
	}
}

// Words of another language, where a beginning may fit two names.
func TestOtherWords(t *testing.T) {
	r := when.Reader{Today: "2026-11-26", Order: when.DayFirst, Words: &when.Words{
		Today: []string{"aujourd'hui"}, To: []string{"au", "jusqu'au"}, EveryDay: []string{"tous les jours"},
		Weekdays: []string{"dimanche", "lundi", "mardi", "mercredi", "jeudi", "vendredi", "samedi"},
		Months: []string{"janvier", "février", "mars", "avril", "mai", "juin", "juillet", "août",
			"septembre", "octobre", "novembre", "décembre"},
	}}
	for _, x := range []struct{ form, typed, means string }{
		{"ahead", "24 juin", "2027-06-24"}, {"ahead", "24 juil", "2027-07-24"}, {"ahead", "24 jui", "! unknown"},
		{"ahead", "24 au 27 DÉCEMBRE", "2026-12-24..2026-12-27"}, {"ahead", "1 fév", "2027-02-01"},
		{"ahead", "aujourd’hui jusqu’au vendredi", "2026-11-26..2026-11-27"}, {"ahead", "jui 24", "! unknown"},
		{"hours", "8h30 au 20h", "08:30-20:00"}, {"weekday", "mar", "Tuesday true"},
		{"weekdays", "tous les jours 8-20", "Sun Mon Tue Wed Thu Fri Sat | 8-20"},
		{"weekdays", "tous les lundis", "! unknown"}, {"ahead", "fé 1", "! unknown"},
	} {
		if got := read(r, x.form, x.typed); got != x.means {
			t.Errorf("%s of %q: %s, want %s", x.form, x.typed, got, x.means)
		}
	}
}
