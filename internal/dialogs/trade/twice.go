package trade

import (
	"slices"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/dialogs/engine"
)

// SlipName names printed figures by when they were typed in and what was paid out.
func SlipName(c *engine.Talk, s books.Slip) string {
	if c.Hidden() {
		return c.Clock(s.Happened)
	}
	return c.V.Say("slip-name", "when", c.Clock(s.Happened), "money", c.V.Money(s.Paid()))
}

func SlipNames(c *engine.Talk, list []books.Slip) []string {
	names := make([]string, len(list))
	for i, s := range list {
		names[i] = SlipName(c, s)
	}
	return names
}

// Twice finds slips entered earlier that the newer figures of a period seem to
// hold once more: it balances, or nearly does, once they are left out, or less
// than nothing should be there with them. None: nothing speaks for it.
func Twice(c *engine.Talk, p *books.Period) []books.Slip {
	word, _ := p.Balances()
	if len(p.Slips) < 2 || word == cashmath.Balanced || p.Has(books.Unsettled) {
		return nil
	}
	var tries [][]books.Slip
	for _, s := range slices.Backward(p.Slips[:len(p.Slips)-1]) {
		tries = append(tries, []books.Slip{s})
	}
	tries = append(tries, p.Slips[:len(p.Slips)-1])
	var best []books.Slip
	far := off(p)
	if !below(p) {
		far = far/nearly + 1
	}
	for _, out := range tries {
		q := withoutSlips(p, out)
		if word, _ := q.Balances(); word == cashmath.Balanced {
			return out
		}
		if d := off(q); !p.TotalOnly() && !below(q) && d < far {
			best, far = out, d
		}
	}
	return best
}

// nearly: leaving a slip out must take away nine tenths of a difference to be
// named as its cause. Common practice, no source.
const nearly = 10

// withoutSlips is a period without some of its printed figures.
func withoutSlips(p *books.Period, out []books.Slip) *books.Period {
	q := *p
	q.Slips = slices.DeleteFunc(slices.Clone(p.Slips), func(s books.Slip) bool {
		return slices.ContainsFunc(out, func(o books.Slip) bool { return o.Seq == s.Seq })
	})
	return &q
}

// off is how many notes differ, missing and too many added up.
func off(p *books.Period) (n int64) {
	for _, l := range cashmath.Reconcile(p.Day()).Lines {
		n += max(l.VarianceNotes, -l.VarianceNotes)
	}
	return n
}

// below reports whether less than nothing should be there of some kind.
func below(p *books.Period) bool {
	return !p.TotalOnly() && slices.ContainsFunc(cashmath.Reconcile(p.Day()).Lines, func(l cashmath.Line) bool {
		return l.Expected < 0
	})
}
