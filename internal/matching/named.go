package matching

import (
	"slices"
	"strings"
	"time"

	"shopfloat/internal/shop"
)

// namesEnough is how many payments have to name the very day that they pay for before a
// named day decides between two of the same sum. One that names another is one too many:
// then the bank's words tell of some other day, its own or the next.
const namesEnough = 3

// days reads the days that a line's words name in full, in either order of day and month.
// The day of the line itself says nothing.
func (l *line) days() (list []shop.Date) {
	for w := range strings.FieldsFuncSeq(l.Text, func(r rune) bool { return !isDateSign(r) }) {
		for _, layout := range []string{"2006-01-02", "20060102", "02.01.2006", "02/01/2006", "01/02/2006",
			"02-01-2006", "02012006"} {
			if t, err := time.Parse(layout, w); err == nil && shop.DateOf(t) != l.Day {
				list = append(list, shop.DateOf(t))
			}
		}
	}
	return list
}

func isDateSign(r rune) bool {
	return r >= '0' && r <= '9' || r == '-' || r == '.' || r == '/' || r >= 'A' && r <= 'z'
}

// byName looks once more at lines that two days of the same sum left in doubt, where the
// one who pays is known to name the day.
func (m *matcher) byName() {
	names := m.whoNames()
	for _, l := range m.byDay {
		if !names[l.payer] || !l.pays() || l.undone != nil || len(l.found) > 0 && l.found[0].Sure {
			continue
		}
		list := m.exact(l)
		if slices.ContainsFunc(list, func(r reading) bool { return len(r.claims) > 1 }) {
			continue
		}
		days := l.days()
		list = slices.DeleteFunc(list, func(r reading) bool { return !slices.Contains(days, r.claims[0].Day) })
		if len(list) != 1 || m.namedTwice(l, list[0].claims[0]) || !m.sure(l, list) {
			continue
		}
		l.found = nil
		m.propose(l, list[0])
		l.found[0].Why, l.found[0].Same, l.found[0].Sure = Named, false, true
		list[0].claims[0].gone = true
	}
}

// whoNames finds who names the day that is paid: told by the lines that are sure without.
func (m *matcher) whoNames() map[string]bool {
	right, wrong := map[string]int{}, map[string]int{}
	for _, l := range m.lines {
		if len(l.found) == 0 || !l.found[0].Sure || len(l.found[0].For) != 1 {
			continue
		}
		switch days := l.days(); {
		case len(days) == 0:
		case slices.Contains(days, l.found[0].For[0].Day):
			right[l.payer]++
		default:
			wrong[l.payer]++
		}
	}
	names := map[string]bool{}
	for p, n := range right {
		names[p] = n >= namesEnough && wrong[p] == 0
	}
	return names
}

// namedTwice reports whether another line of the same sum names the same day.
func (m *matcher) namedTwice(l *line, c *claim) bool {
	for o := range c.exact {
		if o != l && o.key == l.key && slices.Contains(o.days(), c.Day) {
			return true
		}
	}
	return false
}
