package trade

import (
	"slices"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
)

// correctionWord says which record a correction is about, why it was made, and
// that nothing holds in its place where that is so.
func correctionWord(c *engine.Talk, b books.Brief) string {
	id := "history.instead"
	if len(b.Figures)+len(b.Moves) == 0 && !told(b.Amounts) {
		id = "history.taken-back"
	}
	word := c.V.Say(id, "n", b.Target, "why", c.V.Say("reason."+string(b.Reason)))
	for i, a := range b.Amounts {
		if a.Field == books.Was && i+1 < len(b.Amounts) && !c.Hidden() {
			word += " " + c.V.Say("history.difference", "before", c.V.Money(a.Value), "after",
				c.V.Money(b.Amounts[i+1].Value))
		}
	}
	return word
}

// told reports whether amounts tell more than how a difference changed.
func told(list []books.Amount) bool {
	return slices.ContainsFunc(list, func(a books.Amount) bool {
		return a.Field != books.Was &&
			a.Field != books.Difference
	})
}

// returned is what came back from the till within a period: no top-up, the
// machine had lent it.
func returned(c *engine.Talk, p *books.Period) decimal.Decimal {
	back := books.Notes{}
	if len(p.Added) == 0 || !HasLedger(c) {
		return back.Value()
	}
	for _, e := range books.InForce(c.F.Ask.Entries()) {
		for _, mv := range e.Moves {
			if e.Period == p.No && e.Kind == books.Moved && mv.From == books.Till && mv.To.Inside() {
				back.Plus(mv.Face, mv.Notes)
			}
		}
	}
	return back.Value()
}

// result says in one line how a period ended.
func result(c *engine.Talk, p *books.Period) string {
	switch p.Status {
	case books.Open:
		return c.V.Say("past.still-open")
	case books.Waiting:
		return c.V.Say(engine.Either(len(p.Slips) > 0, "past.not-closed", "past.waiting"))
	}
	word, variance := p.Balances()
	line := Total(c, p, word, variance)
	if (word == "short" || word == "over") && !p.Has(books.Unsettled) {
		line += " " + kindsOff(c, p)
	}
	return strings.TrimSpace(line)
}

// kindsOff words a difference in notes where it is known.
func kindsOff(c *engine.Talk, p *books.Period) string {
	if p.TotalOnly() || len(p.ByFace) == 0 {
		return ""
	}
	var list []string
	for _, f := range p.ByFace.Faces() {
		list = append(list, c.V.Kind(f)+" "+differs(c, p.ByFace[f]))
	}
	return "(" + strings.Join(list, ", ") + ")"
}

// sealed reports whether a record's figures are to stay unseen by the speaker:
// a count that waits for its verdict, so that a second one can be honest.
func sealed(c *engine.Talk, b books.Brief) bool {
	p := c.M.Period(b.Period)
	return p != nil && p.Status == books.Waiting && p.CountedBy != c.F.Person.ID && b.Seq > p.No &&
		(b.Kind == books.Count || b.Kind == books.Settlement || b.Kind == books.Spot)
}

func HistoryLine(c *engine.Talk, b books.Brief) string {
	line := c.V.Say("history.line", "n", b.Seq, "when", c.Clock(b.Happened),
		"what", c.V.Say("kind."+string(b.Kind)), "who", c.Name(b.By))
	if !c.Hidden() && !sealed(c, b) {
		if s := Figures(c, b); s != "" {
			line += ": " + s
		}
	}
	if b.Recorded.Sub(b.Happened) > 5*time.Minute {
		line += " " + c.V.Say("history.later", "when", c.Clock(b.Recorded))
	}
	switch {
	case b.Kind == books.Undo: // of an opening, it is itself of a day that is void, and yet it holds
		line += " " + c.V.Say("history.undoes", "n", b.Target)
	case b.Void:
		line += " " + c.V.Say("history.void")
	case b.Kind == books.Correction:
		line += " " + correctionWord(c, b)
	case b.Corrected != 0:
		line += " " + c.V.Say("history.corrected", "n", b.Corrected)
	}
	for _, m := range b.Marks {
		if m == books.NotBlind && b.Kind != books.Undo || m == books.Early || m == books.Paper {
			line += " " + c.V.Say("mark."+string(m))
		}
	}
	return line
}

// Figures words a record's figures: notes and their value, or amounts.
func Figures(c *engine.Talk, b books.Brief) string {
	switch b.Kind {
	case books.Moved:
		return movedLine(c, b)
	case books.Swap:
		return c.V.Say("history.swap", "out", ask.Notes(c, ask.NotesIn(b.Figures, books.Left)),
			"in", ask.Notes(c, ask.NotesIn(b.Figures, books.Added)))
	}
	n := books.Notes{}
	for _, f := range b.Figures {
		if f.Field != books.Cancelled && f.Field != books.Touched && f.Field != books.Away {
			n.Plus(f.Face, f.Notes)
		}
	}
	if len(n) > 0 {
		return ask.Notes(c, n) + " = " + c.V.Money(n.Value())
	}
	var out []string
	for _, a := range b.Amounts {
		if b.Kind != books.Correction || told([]books.Amount{a}) {
			out = append(out, c.V.Say("field."+string(a.Field))+" "+c.V.Money(a.Value))
		}
	}
	return strings.Join(out, ", ")
}

// movedLine words a move: why, and what left its place; of a swap at equal
// value that is one side.
func movedLine(c *engine.Talk, b books.Brief) string {
	n := books.Notes{}
	for _, m := range b.Moves {
		if b.Reason != books.Exchange || m.From.Inside() == b.Moves[0].From.Inside() {
			n.Plus(m.Face, m.Notes)
		}
	}
	why := "reason." + string(b.Reason)
	if b.Reason == books.FromBank && len(b.Moves) > 0 && b.Moves[0].To == books.Bank {
		why = "reason.to-bank"
	}
	return c.V.Say(why) + ", " + ask.Notes(c, n) + " = " + c.V.Money(n.Value())
}
