package dialogs

import (
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
)

// slipName names printed figures by when they were typed in and what was paid out.
func (c *talk) slipName(s books.Slip) string {
	if c.hidden() {
		return c.clock(s.Happened)
	}
	return c.v.Say("slip-name", "when", c.clock(s.Happened), "money", c.v.Money(s.Paid()))
}

// alreadyIn stands above the question for printed figures: who else is
// counting, and what is in already, so that nobody types it twice.
func (c *talk) alreadyIn() string {
	p := c.target()
	if p == nil || c.begunPaid() {
		return ""
	}
	return text(c.counting(), c.slipsIn(p.Slips)).Text
}

// slipsIn names the printed figures that are in already; empty for none.
func (c *talk) slipsIn(list []books.Slip) string {
	if len(list) == 0 {
		return ""
	}
	return c.v.Say("slips-in", "slips", strings.Join(c.slipNames(list), "\n"))
}

func (c *talk) slipNames(list []books.Slip) []string {
	names := make([]string, len(list))
	for i, s := range list {
		names[i] = c.slipName(s)
	}
	return names
}

// begunPaid reports whether part of the printed figures is typed already.
func (c *talk) begunPaid() bool {
	return someAnswered(c.State.Draft.Counts["paid"])
}

// maxSlipButtons bounds the slips that can be left out at the question for the
// next one; the records of more can be corrected.
const maxSlipButtons = 3

// slipButtons offer to leave out printed figures that are in already. During
// another person's count nobody may see what a slip says.
func (c *talk) slipButtons(list []books.Slip) [][]Button {
	if !c.hasLedger() || c.hidden() || c.count().own {
		return nil
	}
	var rows [][]Button
	for _, s := range list[max(len(list)-maxSlipButtons, 0):] {
		rows = append(rows, c.button("slip-out", "slip-"+strconv.FormatInt(s.Seq, 10), "slip", c.slipName(s)))
	}
	return rows
}

// twiceButtons offer to leave out what is probably in twice, all at once.
func (c *talk) twiceButtons(p *books.Period) [][]Button {
	list := c.twice(p)
	if len(list) < 2 || !c.hasLedger() {
		return c.slipButtons(list)
	}
	return [][]Button{c.button("slips-out", "slip-all")}
}

// twice finds slips entered earlier that the newer figures of a period seem to
// hold once more: it balances, or nearly does, once they are left out, or less
// than nothing should be there with them. None: nothing speaks for it.
func (c *talk) twice(p *books.Period) []books.Slip {
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

// twiceLines say that printed figures are probably in twice.
func (c *talk) twiceLines(p *books.Period) []string {
	list := c.twice(p)
	if len(list) == 0 {
		return nil
	}
	what := c.v.Say("cause.slip-twice", "slips", strings.Join(c.slipNames(list), "; "))
	lines := []string{c.v.Say("cause-first", "what", what)}
	if below(p) {
		lines = append([]string{c.v.Say("should-below")}, lines...)
	}
	return lines
}

// tapVerdictLine corrects a figure, or leaves printed figures out.
func tapVerdictLine(c *talk, choice string) bool { return tapTwice(c, choice) || tapFix(c, choice) }

// tapTwice chooses the slips to leave out.
func tapTwice(c *talk, choice string) bool {
	n, found := strings.CutPrefix(choice, "slip-")
	if !found || len(c.slipButtons(c.target().Slips)) == 0 {
		return false
	}
	var seqs []string
	p, err := c.preview()
	if n != "all" {
		seqs = []string{n}
	} else if err == nil {
		for _, s := range c.twice(p) {
			seqs = append(seqs, strconv.FormatInt(s.Seq, 10))
		}
	}
	c.choose("slips-out", strings.Join(seqs, "."))
	if len(c.slipsOut()) == 0 {
		return false
	}
	c.choose("slips-from", c.State.Step)
	c.goTo("slip-out")
	return true
}

// slipsOut are the chosen slips, those that are still in.
func (c *talk) slipsOut() []books.Slip {
	seqs := strings.Split(c.chosen("slips-out"), ".")
	return slices.DeleteFunc(slices.Clone(c.target().Slips), func(s books.Slip) bool {
		return !slices.Contains(seqs, strconv.FormatInt(s.Seq, 10))
	})
}

// slipOutScreen asks before printed figures are taken back.
func slipOutScreen() screen {
	return booking{
		read: readSlipOut, asks: func(c *talk) string { return c.v.Say("slip-out-sure") }, sure: "slip-out-yes",
		book: bookSlipOut, other: instead{"back", "back", slipsFrom}, what: "what.slip-out",
	}.screen()
}

// slipsFrom goes back to where the slips were chosen.
func slipsFrom(c *talk) { c.goTo(c.chosen("slips-from")) }

func readSlipOut(c *talk) []Block {
	list := c.slipsOut()
	if len(list) == 0 || c.hidden() {
		slipsFrom(c)
		return nil
	}
	lines := []string{c.v.Say("slip-out")}
	for _, s := range list {
		lines = append(lines, c.slipName(s))
	}
	return []Block{text(lines...)}
}

// bookSlipOut takes the chosen figures back and goes on where it was asked.
func bookSlipOut(c *talk) {
	slipsFrom(c)
	for _, s := range c.slipsOut() {
		r := books.Record{Kind: books.Correction, Period: c.target().No, Target: s.Seq, Reason: books.Twice}
		if err := c.correct(r); err != nil {
			c.refuse(err)
			return
		}
		c.tellCorrected(r)
	}
	c.remindAgain()
	c.first(c.v.Say("slip-out-done", "when", c.clock(c.in.At)))
	if len(c.target().Slips) == 0 && c.chosen("no-more") != "" {
		c.forget("no-more")
		c.goTo("paid")
	}
}
