package correct

import (
	"slices"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/mending"
	"shopfloat/internal/names"
	"shopfloat/internal/owing"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// correctReasons can be tapped; anything else is typed.
var correctReasons = []books.Reason{books.Mistyped, books.Miscounted, books.Misplaced}

func reasonOptions(c *engine.Talk) (list []ask.Option) {
	for _, r := range correctReasons {
		list = append(list, ask.Option{Label: texts.Upper(c.V.Say("reason." + string(r))), Value: string(r),
			Take: func(c *engine.Talk) { giveReason(c, r, "") }})
	}
	return list
}

// maxReason bounds the words of a reason, in letters.
const maxReason = 200

func answerCorrectReason(c *engine.Talk, s string) bool {
	if r := []rune(s); len(r) > maxReason {
		s = string(r[:maxReason])
	}
	giveReason(c, books.Other, s)
	return true
}

func giveReason(c *engine.Talk, why books.Reason, words string) {
	d := drafted(c)
	d.Reason, d.Words = why, words
	c.GoTo("review")
}

// correction makes the record of the draft; ok is false when there is none.
func correction(c *engine.Talk) (r books.Record, ok bool) {
	e, ok := wrong(c)
	if !ok {
		return r, false
	}
	d := drafted(c)
	r = books.Record{Kind: books.Correction, Period: e.Period, Target: e.Seq, Reason: d.Reason, Words: d.Words}
	if e.Kind == books.Opening {
		r.Period = e.Seq
	}
	if d.Never {
		return r, true
	}
	in := redrawn(c, e)
	if without, err := trade.Corrected(c, r); err == nil && len(d.Values) > 0 && len(e.Parts) > 0 {
		in.Parts = mending.Reshared(in, without) // r has nothing in its place yet
	}
	if d.Date != "" {
		in.Happened = c.OnDate(e.Happened, d.Date)
		if books.Daily(e.Kind) {
			in.Day = d.Date
		}
		if d.Period != 0 {
			in.Period = d.Period
		}
		if e.Kind == books.Settlement {
			in.DueOn = telling.DueOn(c.Teller, in.Happened)
		}
	}
	if e.Kind == books.Count && !slices.Contains(in.Marks, books.NotBlind) {
		in.Marks = append(slices.Clone(in.Marks), books.NotBlind)
	}
	r.Instead = &in
	if e.Kind == books.Moved && len(in.Moves) == 0 {
		r.Instead = nil
	}
	return r, true
}

// effects are the differences that a correction changes.
func effects(c *engine.Talk, r books.Record) []mending.Effect {
	then, since := trade.Back(c, r)
	return mending.Effects(then, since, c.Entry(r, c.M.Seq+1))
}

func readCorrection(c *engine.Talk) []chat.Block {
	e, _ := wrong(c)
	r, ok := correction(c)
	if !ok {
		c.GoTo("which")
		return nil
	}
	after, err := trade.Corrected(c, r)
	if err != nil {
		c.First(c.V.Say("correct.cannot"))
		c.GoTo("how")
		return nil
	}
	lines := []string{c.V.Say("correct.was", "what", telling.EntryLine(c.Teller, e))}
	if r.Instead == nil {
		lines = append(lines, c.V.Say("correct.nothing"))
	} else {
		in := e
		in.Record = *r.Instead
		lines = append(lines, c.V.Say("correct.now", "what", telling.EntryLine(c.Teller, in)))
		if r.Instead.Period != e.Period {
			lines = append(lines, c.V.Say("correct.moved", "day", c.V.Day(drafted(c).Date.Time())))
		}
	}
	for _, x := range effects(c, r) {
		lines = append(lines, c.V.Say("correct.difference", "day", c.V.Day(c.DayOf(x.Of).Time()), "before",
			c.V.Money(x.Before), "after", c.V.Money(x.After)))
	}
	c.OwingOf([]int64{e.Seq})
	lines = append(lines, owing.Corrected(c.Teller, after, e.Seq)...)
	return []chat.Block{chat.Lines(append(lines, c.V.Say("correct.reason", "why", reasonWord(c)))...)}
}

func reasonWord(c *engine.Talk) string {
	if words := names.Words(drafted(c).Words); words != "" {
		return words
	}
	return c.V.Say("reason." + string(drafted(c).Reason))
}

func bookCorrection(c *engine.Talk) {
	e, _ := wrong(c)
	r, ok := correction(c)
	if !ok || ownClosing(c, e) { // on a shared phone who it is, is asked last
		return
	}
	if _, err := trade.Corrected(c, r); err != nil {
		c.First(c.V.Say("correct.cannot"))
		c.GoTo("how")
		return
	}
	for _, x := range effects(c, r) {
		r.Amounts = append(r.Amounts, books.Amount{Field: books.Was, Value: x.Before},
			books.Amount{Field: books.Difference, Value: x.After})
	}
	if err := trade.Correct(c, r); err != nil {
		c.Refuse(err)
		return
	}
	trade.RemindAgain(c)
	trade.TellCorrected(c, r)
	c.Close(chat.Lines(c.V.Say("correct.done", "when", c.Clock(c.In.At)), c.V.Say("correct.stays")))
}
