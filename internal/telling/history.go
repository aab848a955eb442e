package telling

import (
	"slices"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/mending"
	"shopfloat/internal/texts"
	"shopfloat/internal/trust"
)

// correctionWord says which record a correction is about, why it was made, and
// that nothing holds in its place where that is so.
func correctionWord(t *Teller, b books.Brief) string {
	id := "history.instead"
	if len(b.Figures)+len(b.Moves) == 0 && !told(b.Amounts) {
		id = "history.taken-back"
	}
	word := t.V.Say(id, "n", b.Target, "why", t.V.Say("reason."+string(b.Reason)))
	for i, a := range b.Amounts {
		if a.Field == books.Was && i+1 < len(b.Amounts) && !unseenRecord(t, b) {
			word += " " + t.V.Say("history.difference", "before", t.V.Money(a.Value), "after",
				t.V.Money(b.Amounts[i+1].Value))
		}
	}
	return word
}

// told reports whether amounts tell more than how a difference changed.
func told(list []books.Amount) bool {
	return slices.ContainsFunc(list, func(a books.Amount) bool {
		return a.Field != books.Was && a.Field != books.Difference
	})
}

// returned is what came back from the till within a period, which is no top-up: the
// machine had lent it; and what was swapped for other notes of the same value, which
// neither came nor went.
func returned(t *Teller, p *books.Period) (back, swapped decimal.Decimal) {
	if len(p.Added) == 0 || t.F.Ask.Since == nil {
		return back, swapped
	}
	for _, e := range books.InForce(t.F.Ask.Since(p.No)) {
		if e.Period != p.No || e.Kind != books.Moved {
			continue
		}
		for _, mv := range e.Moves {
			value := cashmath.Value(mv.Face, mv.Notes)
			switch {
			case !mv.To.Inside():
			case e.Reason == books.Exchange:
				swapped = swapped.Add(value)
			case mv.From == books.Till:
				back = back.Add(value)
			}
		}
	}
	return back, swapped
}

// result says in one line how a period ended.
func result(t *Teller, p *books.Period) string {
	switch p.Status {
	case books.Open:
		return t.V.Say("past.still-open")
	case books.Waiting:
		return t.V.Say(texts.Either(len(p.Slips) > 0, "past.not-closed", "past.waiting"))
	}
	word, variance := p.Balances()
	line := Total(t, p, word, variance)
	if word != cashmath.Balanced && !p.Has(books.Unsettled) {
		line += " " + kindsOff(t, p)
	}
	return strings.TrimSpace(line)
}

// kindsOff words a difference in notes where it is known.
func kindsOff(t *Teller, p *books.Period) string {
	switch {
	case p.TotalOnly():
		return t.V.Say("past.kinds-unknown")
	case len(p.ByFace) == 0:
		return ""
	}
	var list []string
	for _, f := range p.ByFace.Faces() {
		list = append(list, t.V.Kind(f)+" "+differs(t, p.ByFace[f]))
	}
	return "(" + strings.Join(list, ", ") + ")"
}

// sealed reports whether a record's figures are to stay unseen by the speaker:
// a count that waits for its verdict, so that a second one can be honest.
func sealed(t *Teller, b books.Brief) bool {
	p := t.M.Period(b.Period)
	return p != nil && p.Status == books.Waiting && p.CountedBy != t.F.Person.ID && b.Seq > p.No &&
		(b.Kind == books.Count || b.Kind == books.Settlement || b.Kind == books.Spot)
}

// HistoryLine words a record: when, what, by whom, its figures unless they are to
// stay unseen, and what became of it.
func HistoryLine(t *Teller, b books.Brief) string {
	line := t.V.Say("history.line", "n", b.Seq, "when", t.Clock(b.Happened),
		"what", t.V.Say("kind."+string(b.Kind)), "who", t.Name(b.By))
	if !unseenRecord(t, b) && !sealed(t, b) {
		if s := Figures(t, b); s != "" {
			line += ": " + s
		}
	}
	if b.Recorded.Sub(b.Happened) > 5*time.Minute {
		line += " " + t.V.Say("history.later", "when", t.Clock(b.Recorded))
	}
	switch {
	case b.Kind == books.Undo: // of an opening, it is itself of a day that is void, and yet it holds
		line += " " + t.V.Say("history.undoes", "n", b.Target)
	case b.Void:
		line += " " + t.V.Say("history.void")
	case b.Kind == books.Correction:
		line += " " + correctionWord(t, b)
	case b.Corrected != 0:
		line += " " + t.V.Say("history.corrected", "n", b.Corrected)
	}
	for _, m := range b.Marks {
		if m == books.NotBlind && b.Kind != books.Undo || m == books.Uncounted && b.Kind == books.TopUp ||
			slices.Contains(toldMarks, m) {
			line += " " + t.V.Say("mark."+string(m))
		}
	}
	return line
}

// toldMarks are those that history tells of any record: what was not as usual about
// it, and how it came by its name on a phone that is not one person's alone.
var toldMarks = []books.Mark{books.Early, books.Paper, trust.SignedCode, trust.SignedFirst,
	books.SharedPhone, trust.InDispute}

// Figures words a record's figures: notes and their value, or amounts.
func Figures(t *Teller, b books.Brief) string {
	switch b.Kind {
	case books.Moved:
		return movedLine(t, b)
	case books.Swap:
		return t.V.Say("history.swap", "out", t.Notes(books.NotesIn(b.Figures, books.Left)),
			"in", t.Notes(books.NotesIn(b.Figures, books.Added)))
	}
	n := books.Notes{}
	for _, f := range b.Figures {
		if f.Field != books.Cancelled && f.Field != books.Touched && f.Field != books.Away {
			n.Plus(f.Face, f.Notes)
		}
	}
	if len(n) > 0 {
		return t.Notes(n) + " = " + t.V.Money(n.Value())
	}
	var out []string
	for _, a := range b.Amounts {
		if b.Kind != books.Correction || told([]books.Amount{a}) {
			out = append(out, t.V.Say("field."+string(a.Field))+" "+t.V.Money(a.Value))
		}
	}
	if b.Kind == books.WriteOff {
		out = append(out, t.V.Say("reason."+string(b.Reason)))
	}
	return strings.Join(out, ", ")
}

// movedLine words a move: why, and what left its place; of a swap at equal
// value that is one side.
func movedLine(t *Teller, b books.Brief) string {
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
	return t.V.Say(why) + ", " + t.Notes(n) + " = " + t.V.Money(n.Value())
}

// EntryLine words a record as history does.
func EntryLine(t *Teller, e books.Entry) string {
	line := t.V.Say("history.line", "n", e.Seq, "when", t.Clock(e.Happened), "what",
		t.V.Say("kind."+string(e.Kind)), "who", t.Name(e.By))
	if s := Figures(t, books.Brief{Kind: e.Kind, Figures: e.Figures, Amounts: e.Amounts,
		Moves: e.Moves, Reason: e.Reason}); s != "" {
		line += ": " + s
	}
	return line
}

// SlotName words what a figure is: 20s, left in the box.
func SlotName(t *Teller, s mending.Slot) string {
	switch {
	case s.Amount > 0:
		return t.V.Say("field." + string(s.Figure.Field))
	case s.Move > 0:
		return t.V.Kind(s.Figure.Face)
	}
	return t.V.Say("slot", "kind", t.V.Kind(s.Figure.Face), "field",
		t.V.Say("told-field."+string(s.Figure.Field)))
}

// SlotValue writes it: notes, or money.
func SlotValue(t *Teller, s mending.Slot, v decimal.Decimal) string {
	if s.Amount > 0 {
		return t.V.Money(v)
	}
	return t.V.Number(v.IntPart())
}
