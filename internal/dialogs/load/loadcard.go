package load

import (
	"slices"
	"strings"

	"shopfloat/internal/advice"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
)

func askLoad(c *engine.Talk) *engine.Card {
	if h := c.F.Shop.Plan.Hold; h != nil { // a number would be taken for leave to load
		return &engine.Card{
			Body: []chat.Block{engine.Text(append(trade.HoldLines(c, *h), c.V.Say("load.held"))...)}}
	}
	_, a, err := advised(c)
	if err != nil {
		return noAdvice(c, err)
	}
	k := &engine.Card{}
	lines, v := ask.KindLines(c), make([]int64, len(a.Lines))
	for i, l := range a.Lines {
		v[i] = l.Notes
	}
	table, _ := ask.CountTable(c, lines, v)
	k.Body = append(k.Body,
		chat.Block{Text: engine.Upper(c.V.Say("load.for", "days", ask.Between(c, a.From, a.To)))}, table)
	said := append(sure(c, a), handLine(c))
	k.Body = append(k.Body, engine.Text(append(said, cuts(c, a)...)...))
	k.Buttons = append(k.Buttons, c.Button("load-why", "why"))
	if a.KnownDays > 0 {
		k.Buttons = append(k.Buttons, c.Button("load-picture", "picture"))
	}
	if hand(c) != nil {
		k.Buttons = append(k.Buttons, c.Button("load-all", "all"))
	}
	if c.F.Person.Role.Manages() {
		k.Buttons = append(k.Buttons, c.Button("load-full", "full"))
	}
	return k
}

// sure says how often that is enough, and on how little it rests. When it was
// cut, how often it would have been enough stands beside the cut.
func sure(c *engine.Talk, a advice.Advice) []string {
	if a.KnownDays == 0 {
		return []string{c.V.Say("load.nothing-known")}
	}
	var out []string
	if !slices.ContainsFunc(a.Lines, func(l advice.Line) bool { return l.Cut != "" }) {
		id := engine.Either(len(a.Days) > 1, "load.enough-span", "load.enough")
		out = append(out, c.V.Say(id, "share", share(a.Share)))
	}
	if a.Thin {
		out = append(out, c.V.Count("load.thin", int64(a.KnownDays)))
	}
	return out
}

// share writes a probability as days in a hundred.
func share(p float64) int { return int(p*100 + 0.5) }

func handLine(c *engine.Talk) string {
	hand := hand(c)
	if hand == nil {
		return ""
	}
	var parts []string
	for _, l := range ask.KindLines(c) {
		parts = append(parts, c.V.Count("notes-of", hand[l.Face], "kind", c.V.Kind(l.Face)))
	}
	return c.V.Say("load.hand", "counts", strings.Join(parts, ", "))
}

// cuts says why less than enough is advised, a line for each reason, and what
// stands in for what.
func cuts(c *engine.Talk, a advice.Advice) []string {
	var out []string
	for _, cut := range []advice.Cut{advice.Capacity, advice.Bundle, advice.Limit, advice.Hand} {
		var parts []string
		for _, l := range a.Lines {
			if l.Cut == cut {
				parts = append(parts, c.V.Count("notes-of", l.Enough, "kind", c.V.Kind(l.Face)))
			}
		}
		if len(parts) > 0 {
			out = append(out, c.V.Say("load.cut-"+string(cut), "limit", c.V.Money(c.F.Shop.Limit),
				"instead", c.V.Say(engine.Either(a.KnownDays > 0, "load.better", "load.usual"),
					"counts", strings.Join(parts, ", "), "share", share(a.Share))))
		}
	}
	for _, l := range a.Lines {
		if l.Instead > 0 {
			out = append(out, c.V.Say("load.instead", "kind", c.V.Kind(l.Face), "n", c.V.Number(l.Instead)))
		}
	}
	return out
}

// beforeOpening is the advice in one line for the opening dialog; empty while
// there is too little to go by.
func beforeOpening(c *engine.Talk) string {
	a, ok := openingAdvice(c)
	if !ok {
		return ""
	}
	var parts []string
	for _, l := range a.Lines {
		parts = append(parts, c.V.Count("notes-of", l.Notes, "kind", c.V.Kind(l.Face)))
	}
	return c.V.Say("load.opening", "counts", strings.Join(parts, ", "))
}

// openingAdvice is the advice for the day an opening now is for. Reading the whole ledger
// takes a moment, so it is not read before it can tell something.
func openingAdvice(c *engine.Talk) (advice.Advice, bool) {
	if len(c.M.Loads) < enoughToAdvise || c.F.Shop.Plan.Hold != nil || !c.State.Draft.Happened.IsZero() {
		return advice.Advice{}, false
	}
	date := loadDate(c)
	o, _, err := outlook(c, date)
	if err != nil {
		return advice.Advice{}, false
	}
	a, err := o.For(advice.Until(c.F.Shop, date), nil)
	return a, err == nil && a.KnownDays >= enoughToAdvise
}

// enoughToAdvise is from how many days on the opening dialog gives advice nobody
// asked for.
const enoughToAdvise = 10

// openingWhy explains the line before an opening.
func openingWhy(c *engine.Talk) {
	if a, ok := openingAdvice(c); ok {
		c.First(strings.Join(reasons(c, a), "\n"))
	}
}

// withWhy offers the reasons below the first question of an opening.
func withWhy(c *engine.Talk) [][]chat.Button {
	if c.Chosen("advised") == "" {
		return nil
	}
	return [][]chat.Button{c.Button("load-why", "why")}
}

// adviseOpening puts the advice before the first question of an opening.
func adviseOpening(c *engine.Talk) {
	if c.Rest != "" {
		return // the counts are here already
	}
	if line := beforeOpening(c); line != "" {
		c.Choose("advised", "yes")
		c.First(line)
	}
}

// LoadMoments are the advice before an opening.
func LoadMoments() engine.Moments {
	return engine.Moments{Advice: &engine.Advising{Advise: adviseOpening, Button: withWhy, Why: openingWhy}}
}
