package dialogs

import (
	"slices"
	"strings"

	"shopfloat/internal/advice"
)

func askLoad(c *talk) *card {
	if h := c.f.Shop.Plan.Hold; h != nil { // a number would be taken for leave to load
		return &card{body: []Block{text(append(c.holdLines(*h), c.v.Say("load.held"))...)}}
	}
	_, a, err := c.advised()
	if err != nil {
		return c.noAdvice(err)
	}
	k := &card{}
	lines, v := kindLines(c), make([]int64, len(a.Lines))
	for i, l := range a.Lines {
		v[i] = l.Notes
	}
	table, _ := c.countTable(lines, v)
	k.body = append(k.body, Block{Text: upper(c.v.Say("load.for", "days", c.between(a.From, a.To)))}, table)
	said := append(c.sure(a), c.handLine())
	k.body = append(k.body, text(append(said, c.cuts(a)...)...))
	k.buttons = append(k.buttons, c.button("load-why", "why"))
	if a.KnownDays > 0 {
		k.buttons = append(k.buttons, c.button("load-picture", "picture"))
	}
	if c.hand() != nil {
		k.buttons = append(k.buttons, c.button("load-all", "all"))
	}
	if c.f.Person.Role.Manages() {
		k.buttons = append(k.buttons, c.button("load-full", "full"))
	}
	return k
}

// sure says how often that is enough, and on how little it rests. When it was
// cut, how often it would have been enough stands beside the cut.
func (c *talk) sure(a advice.Advice) []string {
	if a.KnownDays == 0 {
		return []string{c.v.Say("load.nothing-known")}
	}
	var out []string
	if !slices.ContainsFunc(a.Lines, func(l advice.Line) bool { return l.Cut != "" }) {
		id := either(len(a.Days) > 1, "load.enough-span", "load.enough")
		out = append(out, c.v.Say(id, "share", share(a.Share)))
	}
	if a.Thin {
		out = append(out, c.v.Count("load.thin", int64(a.KnownDays)))
	}
	return out
}

// share writes a probability as days in a hundred.
func share(p float64) int { return int(p*100 + 0.5) }

func (c *talk) handLine() string {
	hand := c.hand()
	if hand == nil {
		return ""
	}
	var parts []string
	for _, l := range kindLines(c) {
		parts = append(parts, c.v.Count("notes-of", hand[l.face], "kind", c.v.Kind(l.face)))
	}
	return c.v.Say("load.hand", "counts", strings.Join(parts, ", "))
}

// cuts says why less than enough is advised, a line for each reason, and what
// stands in for what.
func (c *talk) cuts(a advice.Advice) []string {
	var out []string
	for _, cut := range []advice.Cut{advice.Capacity, advice.Bundle, advice.Limit, advice.Hand} {
		var parts []string
		for _, l := range a.Lines {
			if l.Cut == cut {
				parts = append(parts, c.v.Count("notes-of", l.Enough, "kind", c.v.Kind(l.Face)))
			}
		}
		if len(parts) > 0 {
			out = append(out, c.v.Say("load.cut-"+string(cut), "limit", c.v.Money(c.f.Shop.Limit),
				"instead", c.v.Say(either(a.KnownDays > 0, "load.better", "load.usual"),
					"counts", strings.Join(parts, ", "), "share", share(a.Share))))
		}
	}
	for _, l := range a.Lines {
		if l.Instead > 0 {
			out = append(out, c.v.Say("load.instead", "kind", c.v.Kind(l.Face), "n", c.v.Number(l.Instead)))
		}
	}
	return out
}

// beforeOpening is the advice in one line for the opening dialog; empty while
// there is too little to go by.
func (c *talk) beforeOpening() string {
	a, ok := c.openingAdvice()
	if !ok {
		return ""
	}
	var parts []string
	for _, l := range a.Lines {
		parts = append(parts, c.v.Count("notes-of", l.Notes, "kind", c.v.Kind(l.Face)))
	}
	return c.v.Say("load.opening", "counts", strings.Join(parts, ", "))
}

// openingAdvice is the advice for the day an opening now is for. Reading the whole ledger
// takes a moment, so it is not read before it can tell something.
func (c *talk) openingAdvice() (advice.Advice, bool) {
	if len(c.m.Loads) < enoughToAdvise || c.f.Shop.Plan.Hold != nil || !c.State.Draft.Happened.IsZero() {
		return advice.Advice{}, false
	}
	date := c.loadDate()
	o, _, err := c.outlook(date)
	if err != nil {
		return advice.Advice{}, false
	}
	a, err := o.For(advice.Until(c.f.Shop, date), nil)
	return a, err == nil && a.KnownDays >= enoughToAdvise
}

// enoughToAdvise is from how many days on the opening dialog gives advice nobody
// asked for.
const enoughToAdvise = 10

// openingWhy explains the line before an opening.
func openingWhy(c *talk) {
	if a, ok := c.openingAdvice(); ok {
		c.first(strings.Join(c.reasons(a), "\n"))
	}
}

// withWhy offers the reasons below the first question of an opening.
func withWhy(c *talk) [][]Button {
	if c.chosen("advised") == "" {
		return nil
	}
	return [][]Button{c.button("load-why", "why")}
}

// adviseOpening puts the advice before the first question of an opening.
func (c *talk) adviseOpening() {
	if c.rest != "" {
		return // the counts are here already
	}
	if line := c.beforeOpening(); line != "" {
		c.choose("advised", "yes")
		c.first(line)
	}
}

// loadMoments are the advice before an opening.
func loadMoments() moments {
	return moments{advice: &advising{advise: (*talk).adviseOpening, button: withWhy, why: openingWhy}}
}
