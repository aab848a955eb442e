package matching

import (
	"cmp"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/shop"
)

// Bounds of what is tried.
const (
	longest  = 7  // days in one payment
	choosing = 12 // claims of which any choice is tried
	chosen   = 4  // claims in such a choice
)

// percent is how far from a day's sum fees or charges may take a line.
const percent = 3

var margin = decimal.NewFromInt(percent)

// reading is one way in which a line is the sum of claims.
type reading struct {
	claims []*claim
	sum    decimal.Decimal
	run    bool // days one after the other
}

// singles finds the claims of exactly such a sum, of any age.
func (m *matcher) singles(l *line) (list []reading) {
	for _, c := range m.byLeft[l.key] {
		if !c.gone && l.may(c) {
			list = append(list, reading{[]*claim{c}, c.Left, true})
		}
	}
	return list
}

// open lists the claims that a line of its day may pay within the wide window.
func (m *matcher) open(l *line) (list []*claim) {
	from := l.Day.Add(-wide)
	first, _ := slices.BinarySearchFunc(m.claims, from, func(c *claim, d shop.Date) int {
		return cmp.Compare(c.Day, d)
	})
	for _, c := range m.claims[first:] {
		if c.Day > l.Day {
			break
		}
		if !c.gone && c.Currency == l.Currency {
			list = append(list, c)
		}
	}
	return list
}

// several finds the sums of days one after the other — of all machines, of one
// shop, of one machine — and of any few claims within the usual delay.
func (m *matcher) several(l *line, open []*claim, fits func(decimal.Decimal) bool) (list []reading) {
	add := func(r reading) {
		if !slices.ContainsFunc(list, func(o reading) bool { return slices.Equal(o.claims, r.claims) }) {
			list = append(list, r)
		}
	}
	for _, part := range groups(open) {
		for i := range part {
			about := part[i].about
			for j := i + 1; j < len(part) && j < i+longest; j++ {
				if about += part[j].about; !m.within(l.about, about) {
					continue
				}
				if sum := left(part[i : j+1]); fits(sum) {
					add(reading{part[i : j+1], sum, true})
				}
			}
		}
	}
	due := slices.DeleteFunc(slices.Clone(open), func(c *claim) bool { return !m.inTime(l.Day, c) })
	if len(due) <= choosing {
		choose(due, func(have []*claim, about int64) {
			if !m.within(l.about, about) {
				return
			}
			if sum := left(have); fits(sum) {
				add(reading{slices.Clone(have), sum, false})
			}
		})
	}
	return list
}

// groups parts claims by shop and by machine, where there are several.
func groups(open []*claim) [][]*claim {
	list := [][]*claim{open}
	shops, machines := map[shop.ID][]*claim{}, map[shop.MachineID][]*claim{}
	for _, c := range open {
		shops[c.Shop] = append(shops[c.Shop], c)
		machines[c.Machine] = append(machines[c.Machine], c)
	}
	for _, c := range open { // in their order, so that the outcome is always the same
		if s := shops[c.Shop]; len(shops) > 1 && s[0] == c {
			list = append(list, s)
		}
		if g := machines[c.Machine]; len(machines) > 1 && g[0] == c {
			list = append(list, g)
		}
	}
	return list
}

// left is what is left of claims together.
func left(claims []*claim) (sum decimal.Decimal) {
	for _, c := range claims {
		sum = sum.Add(c.Left)
	}
	return sum
}

// choose hands over every choice of two to four claims, with about how much it is. It is good
// until the next.
func choose(from []*claim, fn func(have []*claim, about int64)) {
	have := make([]*claim, 0, chosen)
	var walk func(at int, about int64)
	walk = func(at int, about int64) {
		if len(have) > 1 {
			fn(have, about)
		}
		for i := at; i < len(from) && len(have) < chosen; i++ {
			have = append(have, from[i])
			walk(i+1, about+from[i].about)
			have = have[:len(have)-1]
		}
	}
	walk(0, 0)
}

// rough is how much the whole parts of a few amounts are apart from that of their sum at most.
const rough = 12

// within reports whether an amount may be a sum, to the cent or with fees or charges, as far as
// their whole parts say: what is not need not be reckoned to the cent, which nearly all is not.
func (m *matcher) within(amount, sum int64) bool {
	more := sum * percent / 100
	if m.Fee.IsPositive() {
		more = max(more, (sum/10+1)*(m.Fee.IntPart()+1))
	}
	return amount >= sum-sum*percent/100-rough && amount <= sum+more+rough
}

// exact gives every reading of a line that is right to the cent.
func (m *matcher) exact(l *line) []reading {
	return append(m.singles(l), m.several(l, m.open(l), l.value.Equal)...)
}

// close reports whether a line differs from a sum by so little that fees or
// charges may be why. More is only fee income, less only charges.
func (m *matcher) close(l *line, sum decimal.Decimal) bool {
	d := l.value.Sub(sum)
	return !d.IsZero() && d.Abs().Mul(decimal.NewFromInt(100)).LessThanOrEqual(sum.Mul(margin))
}

// cents is to how many digits a fee with its tax is rounded.
const cents = 2

// fees reports whether a line is a sum and a whole number of fees: not more of
// them than one for every ten of money. One with its tax may be of parts of a cent.
func (m *matcher) fees(l *line, sum decimal.Decimal) bool {
	d := l.value.Sub(sum)
	if !m.Fee.IsPositive() || !d.IsPositive() {
		return false
	}
	n := d.DivRound(m.Fee, 0)
	return n.Mul(m.Fee).Round(cents).Equal(d) && n.LessThanOrEqual(sum.Div(decimal.NewFromInt(10)))
}

// explain notes for each claim which lines could pay it to the cent, and decides
// whose payments are the ones for the machine.
func (m *matcher) explain() {
	hits := map[string]int{}
	for _, l := range m.lines {
		if !l.pays() || l.undone != nil {
			continue
		}
		list := m.exact(l)
		hit := false
		for _, r := range list {
			for _, c := range r.claims {
				if m.daysLate(l.Day, c) <= wide {
					c.exact[l] = true
				}
				hit = hit || r.run && m.inTime(l.Day, c)
			}
		}
		switch {
		case hit:
			hits[l.payer] += toTheCent
		case m.likely(l):
			hits[l.payer]++
		}
		if len(list) == 0 {
			for _, c := range m.alike(l) {
				c.near = append(c.near, l)
			}
		}
	}
	m.trusting(hits)
}

// toTheCent is how much more a line says about who pays that fits to the cent
// than one that comes close.
const toTheCent = 4

// trusting trusts whoever paid before; in a first statement the one whose lines
// fit most, if no other comes near.
func (m *matcher) trusting(hits map[string]int) {
	known := slices.ContainsFunc(m.lines, func(l *line) bool { return slices.Contains(m.Payers, l.payer) })
	best, second, who := 0, 0, ""
	for p, n := range hits {
		switch {
		case n > best:
			best, second, who = n, best, p
		case n > second:
			second = n
		}
	}
	for _, l := range m.lines {
		m.trust[l.payer] = known && slices.Contains(m.Payers, l.payer) || !known && l.payer == who &&
			best >= 2*second &&
			best > 0
	}
}

// mentions reports whether a line's words name a claim's day, as people write it.
func (m *matcher) mentions(l *line, d shop.Date) bool {
	if d == l.Day {
		return false // it may be the day of the line itself
	}
	text := " " + strings.ToLower(l.Text) + " "
	words, known := m.words[d]
	if !known {
		words = wordsFor(d)
		m.words[d] = words
	}
	for _, word := range words {
		if stands(text, word) {
			return true
		}
	}
	return false
}

// wordsFor are the ways in which people write a day, in small letters.
func wordsFor(d shop.Date) (list []string) {
	t := d.Time()
	for _, layout := range []string{"2006-01-02", "02.01.2006", "02/01/2006", "01/02/2006", "02.01.06", "020106",
		"20060102", "02012006", "2 Jan", "02 Jan", "Jan 2", "02.01.", "02/01", "0201", "01-02"} {
		list = append(list, strings.ToLower(t.Format(layout)))
	}
	return list
}

// wordIn finds a word that stands for itself.
func wordIn(text, word string) bool {
	return stands(" "+strings.ToLower(text)+" ", strings.ToLower(word))
}

// stands finds it in a text of small letters between blanks.
func stands(text, word string) bool {
	for at := 0; ; {
		i := strings.Index(text[at:], word)
		if i < 0 {
			return false
		}
		before, after := text[at+i-1], text[at+i+len(word)]
		if !alnum(before) && !alnum(after) {
			return true
		}
		at += i + 1
	}
}

func alnum(c byte) bool {
	return c >= '0' && c <= '9' || c >= 'a' && c <= 'z' || c >= 0x80
}
